"""A charging plan as a finished page: sentences, the drawing on the tariff, three ways compared, the timetable."""

from dataclasses import dataclass
from datetime import date, datetime, timedelta
from itertools import pairwise
from math import isfinite
from zoneinfo import ZoneInfo

from service.charging.plan import PlanLine
from service.quotes.answer import Assumption
from service.quotes.charging_plan import ChargingPlan, PlanAsk
from service.reporting.answers import MODEL_VERSION
from service.reporting.plan_chart import Block, PlanPicture, Step, Tick, drawn_plan
from service.reporting.view_parts import Drawing, Row
from service.reporting.words import (
    NBSP,
    SMALL_NUMBERS,
    Units,
    assumed,
    bound,
    clock,
    duration,
    energy,
    per_cent,
    plain,
    power,
    temperature,
    unit_price,
)
from service.specs import Climate, Tariff
from service.units import KWH_J

__all__ = ["CompareRow", "PlanView", "plan_view"]

DAY_S = 86_400
LATE_S = 120.0  # less is not told as late
SAME = 0.005  # of a currency: no difference that is told
EVEN = 0.02  # of a power: one line of the timetable
NAMES = (("at_once", "At once"), ("as_late", "As late as possible"), ("cheapest", "Cheapest"))
WEEKDAYS = ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun")


@dataclass(frozen=True, slots=True)
class CompareRow:
    """One way to charge."""

    name: str
    starts: str
    ready: str
    cost: str
    best: bool


@dataclass(frozen=True, slots=True)
class PlanView:
    """Everything the page or the sheet prints."""

    title: str
    question: tuple[Row, ...]
    headline: str
    second: str
    drawing: Drawing
    compared: tuple[CompareRow, ...]
    timetable: tuple[tuple[str, ...], ...]
    cost: tuple[str, ...]
    notes: tuple[str, ...]
    assumptions: tuple[Row, ...]
    made_on: str
    version: str


def plan_view(found: ChargingPlan, units: Units, made_on: date) -> PlanView:
    """The page of a plan. `found` has the request's defaults among its assumptions."""
    told = headline(found, units)
    return PlanView(
        title=told.rstrip("."),
        question=_question(found, units),
        headline=told,
        second=second(found, units),
        drawing=drawn_plan(_picture(found, units)),
        compared=_compared(found, units),
        timetable=_timetable(found, units),
        cost=_cost(found),
        notes=tuple(bound(note) for note in found.notes),
        assumptions=tuple(_assumption(one, units) for one in found.assumptions),
        made_on=f"{made_on.day} {made_on:%B %Y}",
        version=MODEL_VERSION,
    )


def money(value: float, currency: str) -> str:
    """A sum to the cent, whole from a hundred on.

    >>> money(1.924, "EUR"), money(3.4, "$"), money(12.5, "")
    ('1.92\\xa0EUR', '$3.40', '12.50')
    """
    figure = plain(value, 0 if abs(value) >= 100 else 2)
    if len(currency) == 1 and not currency.isalnum():
        return f"{currency}{figure}"
    return f"{figure}{NBSP}{currency}" if currency else figure


def headline(found: ChargingPlan, units: Units) -> str:
    """The answer in one sentence."""
    plans, asked = found.plans, found.question
    best, once, currency = plans.cheapest, plans.at_once, found.question.tariff.currency
    leaves = at_clock(asked.departs_s, asked, units)
    if not plans.feasible:
        return f"Not ready by {leaves}: {energy(plans.short_j)} short of {per_cent(asked.to_charge)}."
    plugged, ready = when(asked.arrives_s, asked, units), when(best.ready_s, asked, units)
    cost = money(best.cost.total, currency)
    saved = once.cost.total - best.cost.total
    instead = f" instead of {money(once.cost.total, currency)}" if saved >= SAME else ""
    if best.starts_s - asked.arrives_s >= 60:
        starts = when(best.starts_s, asked, units)
        return f"Plug in {plugged}, start {starts}: ready {ready}, {cost}{instead}."
    how = "at once" if not instead else "in parts" if _goes(best) > 1 else "slowly"
    return f"Plug in {plugged} and charge {how}: ready {ready}, {cost}{instead}."


def second(found: ChargingPlan, units: Units) -> str:
    """What stands behind it."""
    plans, asked = found.plans, found.question
    best = plans.cheapest
    pace = bound(found.limited_by_sentence)
    if not plans.feasible:
        if not isfinite(plans.late_s):
            return f"On this outlet it would never be. {pace}"
        late = duration(plans.late_s)
        return f"Charging from {at_clock(asked.arrives_s, asked, units)} on, it would be ready {late} too late. {pace}"
    goes = _goes(best)
    broken = f", in {SMALL_NUMBERS[goes]} goes" if goes > 1 else ""
    ready = ""
    if best.readying:
        ready = f" The cabin is readied from {at_clock(best.readying[0].starts_s, asked, units)}."
    return f"{energy(best.wall_j)} at the meter{broken}; {_spare(found)}.{_sure(found, units)}{ready} {pace}"


def _sure(found: ChargingPlan, units: Units) -> str:
    """When nine cars in ten like this one are ready, and what they pay."""
    band, asked = found.band, found.question
    if band is None:
        return ""
    paid = f"{money(band.cost.p10, asked.tariff.currency)} to {money(band.cost.p90, asked.tariff.currency)}"
    readying = found.plans.cheapest.readying
    late_s = band.ready_s.p90 - (readying[0].starts_s if readying else asked.departs_s)
    by = f" Nine in ten such cars are ready by {at_clock(band.ready_s.p90, asked, units)}"
    if late_s > LATE_S:
        return f"{by}, {duration(late_s)} late: plug in earlier, or leave later, to be sure; eight in ten pay {paid}."
    return f"{by}; eight in ten pay {paid}."


def _spare(found: ChargingPlan) -> str:
    """How much time is left before leaving."""
    spare_s = found.question.departs_s - found.plans.cheapest.ready_s
    return "done just as it leaves" if spare_s < 120 else f"done {duration(spare_s)} before it leaves"


def _goes(line: PlanLine) -> int:
    """How often charging begins; at most as often as the search for the cheapest allows."""
    return 1 + sum(b.starts_s - a.ends_s > 60 for a, b in pairwise(line.pieces))


def _local(instant_s: float, tariff: Tariff) -> datetime:
    return datetime.fromtimestamp(round(instant_s / 60) * 60, ZoneInfo(tariff.zone))


def at_clock(instant_s: float, asked: PlanAsk, units: Units) -> str:
    """Time of the tariff's clock to the minute; with the day of the week where a day or more lies in between."""
    local = _local(instant_s, asked.tariff)
    words = clock(local.hour + local.minute / 60, units)
    return f"{WEEKDAYS[local.weekday()]} {words}" if _long(asked) else words


def when(instant_s: float, asked: PlanAsk, units: Units) -> str:
    """The same within a sentence."""
    words = at_clock(instant_s, asked, units)
    return f"on {words}" if _long(asked) else f"at {words}"


def _long(asked: PlanAsk) -> bool:
    """Times of the clock alone would not tell the day."""
    return asked.departs_s - asked.arrives_s > DAY_S


def _compared(found: ChargingPlan, units: Units) -> tuple[CompareRow, ...]:
    asked, currency = found.question, found.question.tariff.currency
    rows = []
    for attribute, name in NAMES if found.plans.feasible else NAMES[:1]:
        line: PlanLine = getattr(found.plans, attribute)
        starts = "–" if line.starts_s is None else at_clock(line.starts_s, asked, units)
        ready = "not in time" if line.ready_s is None else at_clock(line.ready_s, asked, units)
        rows.append(CompareRow(name, starts, ready, money(line.cost.total, currency), attribute == "cheapest"))
    return tuple(rows)


def _timetable(found: ChargingPlan, units: Units) -> tuple[tuple[str, ...], ...]:
    """From, to, power, price, charge at the end: quarters of an hour of one price and power as one line."""
    asked, steps = found.question, found.plans.steps
    lines: list[list] = []
    for piece in found.plans.cheapest.pieces:
        price = float(steps.at(0.5 * (piece.starts_s + piece.ends_s)))
        last = lines[-1] if lines else None
        joins = last and piece.starts_s - last[1] < 1 and price == last[3]
        if joins and abs(piece.wall_w - last[2]) <= EVEN * max(piece.wall_w, last[2]):
            last[1], last[4] = piece.ends_s, piece.charge
        else:
            lines.append([piece.starts_s, piece.ends_s, piece.wall_w, price, piece.charge])
    charge = found.plans.cheapest.pieces[-1].charge if lines else asked.ask.start.state_of_charge
    lines += [[each.starts_s, each.ends_s, each.wall_w, float(steps.at(each.starts_s)), charge]
              for each in found.plans.cheapest.readying]  # fmt: skip
    return tuple(
        (at_clock(low, asked, units), at_clock(high, asked, units), power(watts),
         unit_price(price * KWH_J, asked.tariff.currency), per_cent(held))
        for low, high, watts, price, held in lines
    )  # fmt: skip


def _cost(found: ChargingPlan) -> tuple[str, ...]:
    """Parts of the cost, where there is more than energy."""
    cost, currency = found.plans.cheapest.cost, found.question.tariff.currency
    lines = []
    if cost.demand or cost.tiers:
        lines.append(f"Energy by the clock: {money(cost.energy, currency)}.")
    if cost.tiers:
        lines.append(f"Blocks of the month add {money(cost.tiers, currency)}.")
    if cost.demand:
        peak = money(found.question.tariff.demand_per_w * 1000, currency)
        lines.append(f"The month’s highest quarter of an hour adds {money(cost.demand, currency)} ({peak} a kW).")
    if cost.daily:
        fixed = money(found.question.tariff.daily, currency)
        lines.append(f"The fixed charge of {fixed} a day is owed anyway and not in the cost.")
    return tuple(bound(line) for line in lines)


def _picture(found: ChargingPlan, units: Units) -> PlanPicture:
    asked, best = found.question, found.plans.cheapest
    span_s = asked.departs_s - asked.arrives_s

    def place(instant_s: float) -> float:
        return min(max((instant_s - asked.arrives_s) / span_s, 0.0), 1.0)

    blocks = [Block(place(each.starts_s), place(each.ends_s), each.wall_w / 1000) for each in best.pieces]
    blocks += [Block(place(each.starts_s), place(each.ends_s), each.wall_w / 1000, True) for each in best.readying]
    currency = asked.tariff.currency
    edges, prices = found.plans.steps.edges_s, found.plans.steps.price_per_j
    steps = tuple(
        Step(place(edges[at]), place(edges[at + 1]), float(price), unit_price(float(price) * KWH_J, currency))
        for at, price in enumerate(prices)
    )
    most_w = max((each.wall_w for each in (*best.pieces, *best.readying)), default=0.0)
    readied = " (grey: cabin)" if best.readying else ""
    return PlanPicture(
        title="Power at the socket and price of electricity over the time plugged in",
        description=headline(found, units),
        blocks=tuple(blocks),
        steps=steps,
        ticks=_ticks(asked, place, units),
        power_words=f"Power at the socket, {power(most_w)} at most{readied}",
        price_words="Price a kWh",
    )


def _ticks(asked: PlanAsk, place, units: Units) -> tuple[Tick, ...]:
    """Every full hour of the clock that passes, whatever the clock does meanwhile."""
    ticks, zone = [], ZoneInfo(asked.tariff.zone)
    first = datetime.fromtimestamp(asked.arrives_s, zone).replace(minute=0, second=0, microsecond=0).timestamp()
    long = _long(asked)
    for step in range(int((asked.departs_s - first) // 3600) + 1):
        instant_s = first + step * 3600
        if instant_s < asked.arrives_s:
            continue
        local = datetime.fromtimestamp(instant_s, zone)
        rank = 0 if local.hour % 12 == 0 else 1 if local.hour % 6 == 0 else 2 if local.hour % 3 == 0 else 3
        words = clock(local.hour + local.minute / 60, units)
        if long and local.hour == 0:
            words = f"{WEEKDAYS[local.weekday()]} {words}"
        ticks.append(Tick(place(instant_s), words, rank))
    return tuple(ticks)


def _question(found: ChargingPlan, units: Units) -> tuple[Row, ...]:
    """What was asked, a row for each group of the form."""
    asked, ask = found.question, found.question.ask
    health = ask.start.state_of_health
    worn = "" if health >= 1 else f", battery at {per_cent(health)} of its capacity"
    arrives, departs = _local(asked.arrives_s, asked.tariff), _local(asked.departs_s, asked.tariff)
    days = (departs.date() - arrives.date()) // timedelta(days=1)
    later = " the next day" if days == 1 and not _long(asked) else ""
    readied = ", cabin readied" if ask.start.preconditioned and ask.cabin.climate is Climate.AUTO else ""
    when = (
        f"{arrives.day} {arrives:%B}, {at_clock(asked.arrives_s, asked, units)} to "
        f"{at_clock(asked.departs_s, asked, units)}{later}, {temperature(ask.weather.ambient_k, units)}{readied}"
    )
    return (
        Row("Car", ask.vehicle.name),
        Row("Charge", f"{per_cent(ask.start.state_of_charge)} to {per_cent(asked.to_charge)}{worn}"),
        Row("Night", when),
        Row("Socket", bound(ask.circuit.name)),
        Row("Tariff", asked.tariff.name),
        Row("Units", "miles, °F" if units is Units.US else "kilometres, °C"),
    )


def _assumption(one: Assumption, units: Units) -> Row:
    return Row(one.name[:1].upper() + one.name[1:], assumed(one.value, one.unit, units), bound(one.source))
