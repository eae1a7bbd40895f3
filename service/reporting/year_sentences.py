"""What a year says in plain sentences, for someone at a sales desk. Every number goes through `words`.

Words    "working days" are those that are driven; "without the engine" and, of a car that has none, "without a charge
         on the way" are what a day may be; days are told whole, so "about".
"""

import math

from service.quotes.own_share import own_share_of_year
from service.quotes.year_answer import Change, Commute, CommuteMonth, HardestDay, Tally
from service.reporting.sentences import CAUSE_NAMES
from service.reporting.share_sentences import beside_averages
from service.reporting.words import (
    Units,
    bound,
    consumption,
    distance,
    duration,
    energy,
    fuel,
    given_off,
    grouped,
    money,
    odometer,
    per_cent,
    temperature,
)
from service.units import KWH_J

__all__ = ["days_of", "hardest", "headline", "heat", "help_words", "night", "second", "shares", "wholly_on_fuel", "why"]

HALF = 0.5  # of a day: what rounds away
MISSED_CHARGE = 0.03  # below what was wanted in the morning, that is worth a word
LEAST_FUEL_M3 = 5e-5  # rounds to nothing
WORTH_MONEY = 0.005  # of the year's cost


def how(commute: Commute) -> str:
    """How an electric day is driven."""
    return "without the engine" if commute.ask.vehicle.kind.has_engine else "without a charge on the way"


def worst_month(commute: Commute) -> CommuteMonth:
    """The month with the smallest share of electric days; where all are alike, that of the shortest range."""
    return min(commute.months, key=lambda month: (month.tally.electric_days.p50 / month.tally.days, month.range_m.p50))


def headline(commute: Commute) -> str:
    """The answer in one sentence."""
    year, worst = commute.year, worst_month(commute)
    if_ = ", if the heater stays off" if needs_engine_for_heat(commute) else ""
    engine = commute.ask.vehicle.kind.has_engine
    drive = f"{'you drive' if engine else 'the car gets'} there and back {how(commute)}{if_}"
    all_days = grouped(year.days)
    if year.electric_days.p50 >= year.days - HALF:
        return f"On all {all_days} working days of a year {drive}."
    if year.electric_days.p50 < HALF:
        never = drive.replace("you drive", "do you drive").replace("the car gets", "does the car get")
        return f"On none of the {all_days} working days of a year {never}."
    least = worst.tally
    in_worst = f"{grouped(least.electric_days.p50)} of {grouped(least.days)}"
    if least.electric_days.p50 < HALF:
        in_worst = "none"
    return f"On about {days_of(year)} working days {drive}; in {worst.name} on {in_worst}."


def days_of(tally: Tally) -> str:
    """So many of so many.

    A month's half days round like anyone's; what falls short of all is never told as all.
    """
    electric, days = round(tally.electric_days.p50), round(tally.days)
    if electric == days and tally.electric_days.p50 < tally.days - HALF:
        electric -= 1
    return f"{grouped(electric)} of {grouped(days)}"


def needs_engine_for_heat(commute: Commute) -> bool:
    """True where the cabin asks for heat that only the engine gives."""
    return any(month.heat_days > HALF for month in commute.months)


def heat(commute: Commute) -> str:
    """What the heater does to a car that only its engine heats; nothing for others."""
    if not needs_engine_for_heat(commute):
        return ""
    days = sum(month.heat_days for month in commute.months)
    return (
        f"This car has no electric cabin heater: with the heater on, the engine starts on about {grouped(days)} of the "
        f"{grouped(commute.year.days)} mornings, and fuel is used that is not counted here."
    )


def second(commute: Commute, units: Units) -> str:
    """How sure that is, and what the year takes."""
    year, currency = commute.year, commute.money.currency
    parts = []
    low = year.electric_days.p10
    if low is not None and round(low) < round(year.electric_days.p50):
        parts.append(f"Nine cars and drivers in ten manage {grouped(low)} or more.")
    litres = ""
    if commute.fuel_only:
        litres = f" and {fuel(year.fuel_m3.p50, units)} of fuel" if year.fuel_m3.p50 > LEAST_FUEL_M3 else " and no fuel"
    socket = f"{grouped(year.wall_j.p50 / KWH_J)}\u00a0kWh"
    parts.append(f"The year takes {socket} from the socket{litres}: about {money(year.cost.p50, currency)}.")
    if socket_falls_short(commute):
        parts.append("It is the socket at home that falls short: a night does not refill what a day takes.")
    return " ".join(parts)


def socket_falls_short(commute: Commute) -> bool:
    """True where the worst month's hardest day began with less than was wanted."""
    missing = commute.ask.start.state_of_charge - worst_month(commute).hardest.morning_charge
    return missing > MISSED_CHARGE and commute.year.electric_days.p50 < commute.year.days - HALF


def wholly_on_fuel(commute: Commute, units: Units) -> str:
    """The same year never plugged in, and CO2 of both; of a battery-electric car only its own."""
    year, only, currency = commute.year, commute.fuel_only, commute.money.currency
    own = f"Making this electricity gives off about {given_off(year.co2_kg.p50, units)} of CO\u2082 a year."
    if only is None:
        return own
    return (
        f"Never plugged in, the same car takes {fuel(only.fuel_m3, units)} a year, about "
        f"{money(only.cost, currency)}, and gives off {given_off(only.co2_kg, units)} of CO\u2082; driven as here, "
        f"electricity included, {given_off(year.co2_kg.p50, units)}."
    )


def shares(commute: Commute, units: Units) -> str:
    """The year's electric share beside the official averages; nothing without plug or engine."""
    found = own_share_of_year(commute)
    if found is None:
        return ""
    heater = ", with the heater off" if needs_engine_for_heat(commute) else ""
    return beside_averages(
        found, f"the {odometer(commute.year.distance_m, units)} of these working days{heater}", units
    )


def hardest(day: HardestDay, wanted_charge: float, units: Units) -> str:
    """The hardest day of a month, and how it ends."""
    when = f"Hardest day {temperature(day.out_k, units)}, {temperature(day.back_k, units)} back"
    left_with = ""
    if day.morning_charge < wanted_charge - MISSED_CHARGE:
        left_with = f" (left at {per_cent(day.morning_charge)})"
    if day.electric:
        return f"{when}: home with {per_cent(max(day.charge_left, 0.0))} left{left_with}."
    if day.too_weak:
        return f"{when}: motor and battery cannot keep up{left_with}."
    return f"{when}: {distance(day.short_m, units)} short{left_with}."


def why(commute: Commute, units: Units) -> str:
    """Where the energy of the worst month's hardest day goes; nothing where every day is electric."""
    worst = worst_month(commute)
    day = worst.hardest
    if day.electric or not day.cause or socket_falls_short(commute):
        return ""
    more = consumption(day.cause_j_per_m, units)
    return (
        f"Against the mildest day of the year, the largest part of the extra energy on the hardest day in {worst.name} "
        f"goes into {CAUSE_NAMES[day.cause]}: {more}."
    )


def help_words(change: Change, commute: Commute) -> str:
    """What one change does to the year."""
    year, parts = commute.year, []
    if abs(change.electric_days) >= HALF:
        count, way = abs(change.electric_days), "more" if change.electric_days > 0 else "fewer"
        parts.append(f"about {grouped(count)} {way} {'day' if round(count) == 1 else 'days'} {how(commute)}")
    if abs(change.cost) >= WORTH_MONEY * year.cost.p50:
        sum_ = money(abs(change.cost), commute.money.currency)
        parts.append(f"about {sum_} {'more' if change.cost > 0 else 'less'} a year")
    if not parts:
        more = "more" if change.wall_j > 0 else "less"
        parts.append(f"{energy(abs(change.wall_j))} {more} from the socket a year")
    return f"{bound(change.sentence)}: {', '.join(parts)}."


def night(commute: Commute) -> str:
    """The home socket against the night."""
    found, circuit = commute.night, bound(commute.ask.circuit.name)
    stands = f"the car stands {duration(found.parked_s)} a night"
    if not math.isfinite(found.seconds):
        return f"{circuit}: it only just feeds the charger itself, and nothing is charged."
    takes = f"{circuit}: the longest refill takes about {duration(found.seconds)} ({found.month})"
    if found.too_short_share <= 0:
        return f"{takes}; {stands}, so every night is long enough."
    short = grouped(max(found.too_short_share * commute.year.days, 1))
    return (
        f"{takes}, but {stands}. On about {short} nights of the year the battery is not full in the morning; days off "
        "make up for it."
    )
