"""What a quote says in plain sentences, for someone at a sales desk. No statistics words.

Scope    headline, the middle value and why, whether the journey fits, charging, what starts an engine. Every number
         goes through `words`.
Words    "nine days in ten" is the lower end of a band, "half the days" its middle, "one day in ten" its upper end.
"""

from service.quotes.answer import CAUSES, Band, ChargingAnswer, Quote, Sensitivity
from service.reporting.engine_sentences import FULL, NEVER, early_start, engine_headline
from service.reporting.words import (
    WHOLE_FROM,
    Units,
    bound,
    clock,
    consumption,
    consumption_number,
    days_later,
    distance,
    distance_number,
    distance_unit,
    duration,
    energy,
    fuel,
    joined,
    money,
    per_cent,
    plain,
    rounded_duration_s,
    temperature,
)
from service.specs import Prices

__all__ = [
    "CAUSE_NAMES",
    "charging_headline",
    "compared",
    "energy_at_socket",
    "fits",
    "full_at",
    "headline",
    "middle",
    "moved",
    "until",
]

CAUSE_NAMES = {
    "air": "pushing the air aside",
    "rolling": "rolling the tyres",
    "climbing": "climbing",
    "brakes": "friction brakes",
    "drivetrain": "motor and gears",
    "pack": "losses inside the battery",
    "heating": "heating the cabin",
    "cooling": "cooling the cabin",
    "pack_conditioning": "keeping the battery at temperature",
    "electronics": "lights, fans and electronics",
}
EXTRA_NAMES = CAUSE_NAMES | {
    "air": "thicker air",
    "rolling": "stiffer tyres",
    "brakes": "braking that is not recovered",
}
NOTICED_SHARE = 0.03  # a difference in energy below this is not worth a sentence
MUCH_LESS = 0.3  # nine days in ten below this share of the middle: the lower end is another story
SPARE = 0.02  # charge at the end below which no figure is promised
ALL, MOST, ALSO = 0.95, 0.5, 0.15  # shares of the extra energy: as good as all, called "most", worth a name


def _source(quote: Quote) -> str:
    """What the distance is driven on, and on what it hangs."""
    charge = quote.ask.start.state_of_charge
    part = "" if charge > FULL else f" from {per_cent(charge)} charge"
    if not quote.ask.vehicle.kind.has_engine:
        return part.lstrip() or "on one charge"
    return f"on electricity{part}"


def headline(quote: Quote, units: Units) -> str:
    """The answer in one sentence."""
    at, far = f"At {temperature(quote.ask.weather.ambient_k, units)}", quote.range_m
    if early_start(quote):
        return engine_headline(quote, units)
    if far.p10 is not None and far.p10 < MUCH_LESS * far.p50:
        return f"{at}, half the days you get at least {distance(far.p50, units)} {_source(quote)}, on some far less."
    if far.p10 is None:
        return f"{at} you get about {distance(far.p50, units)} {_source(quote)}."
    return f"{at}, nine days in ten you get at least {distance(far.p10, units)} {_source(quote)}."


def middle(quote: Quote, units: Units) -> str:
    """The middle and the upper end."""
    far = quote.range_m
    if early_start(quote):
        return _beside_the_engine(quote, units)
    if far.p90 is None:
        return "One car, one driver, one day: no span was asked for."
    if far.p10 is not None and far.p10 < MUCH_LESS * far.p50:  # the headline tells the middle
        often, seldom = distance(far.p10, units), distance(far.p90, units)
        return f"Nine days in ten it is only {often} or more, one day in ten {seldom}."
    return f"Half the days it is {distance(far.p50, units)} or more, one day in ten {distance(far.p90, units)}."


def _beside_the_engine(quote: Quote, units: Units) -> str:
    """What remains to be said of the battery where the engine starts early."""
    lasts, share = quote.engine.distances.actual_charge_depleting, quote.engine.electric_share.p50
    off = next((each for each in quote.sensitivities if each.input == "climate"), None)
    stands = f"stands still for {per_cent(share)} of the way" if share > NEVER else "runs all the way"
    words = [f"On this drive the engine {stands}."]
    if off and off.effect_m > 0 and quote.range_m.p50 + off.effect_m > quote.journey.distance_m / 10:
        reached = distance(quote.range_m.p50 + off.effect_m, units)
        words.append(f"With heating and cooling off you get about {reached} on electricity.")
    if lasts:
        words.append(f"The battery lasts about {distance(lasts.p50, units)}, engine and all.")
    return " ".join(words)


def compared(quote: Quote, other: Quote, units: Units) -> str:
    """Why it is not the distance of another temperature: both middles, and where the extra energy goes."""
    if early_start(quote):
        return ""  # the engine is the news; distances are told apart above
    if early_start(other):
        return engine_headline(other, units)
    here, there = quote.to_empty.ledger_j_per_m, other.to_empty.ledger_j_per_m
    at = temperature(other.ask.weather.ambient_k, units)
    opening = f"At {at} the same drive would reach {distance(other.range_m.p50, units)}"
    more, less = (here, there) if sum(here.values()) >= sum(there.values()) else (there, here)
    extra = sum(more.values()) - sum(less.values())
    if extra < NOTICED_SHARE * sum(less.values()):
        return f"{opening}; the temperature changes little."
    when = "extra energy here" if more is here else f"extra energy at {at}"
    return f"{opening}. {_extra(more, less, when, units)}"


def _extra(more: dict[str, float], less: dict[str, float], when: str, units: Units) -> str:
    """Where the extra energy goes; what other causes save is told apart, so that a part never exceeds its whole."""
    changes = {cause: more[cause] - less[cause] for cause in CAUSES}
    extra = sum(change for change in changes.values() if change > 0)
    saved = extra - sum(changes.values())
    first, *others = sorted(CAUSES, key=lambda cause: -changes[cause])
    share = changes[first] / extra
    size = consumption(extra, units)
    if share < ALL:
        size = f"{plain(consumption_number(changes[first], units))} of {size}"
    also = [EXTRA_NAMES[cause] for cause in others[:2] if changes[cause] >= ALSO * extra]
    lead = "Most" if share >= MOST else "The largest part"
    then = f", then into {joined(also)}" if also else ""
    back = f"; other losses shrink by {consumption(saved, units)}" if saved >= ALSO * extra else ""
    return f"{lead} of the {when} goes into {EXTRA_NAMES[first]} ({size}){then}{back}."


def fits(quote: Quote, journey_name: str, units: Units) -> str:
    """Whether the journey is done on electricity, and what is left at its end."""
    need, far = quote.journey.distance_m, quote.range_m
    if early_start(quote):
        burnt = fuel(quote.engine.fuel_m3_m.p50 * need, units)
        return f"The {distance(need, units)} {journey_name} takes about {burnt} of fuel."
    what = f"The {distance(need, units)} {journey_name}"
    low = far.p50 if far.p10 is None else far.p10
    high = far.p50 if far.p90 is None else far.p90
    if need <= low:
        trips = _drives(quote)
        more = f" That is {trips} such drives before plugging in." if trips >= 2 else ""
        return f"{what} fits, {_left(quote.journey.arrives_with)}.{more}"
    beyond = "the engine does the rest" if quote.ask.vehicle.kind.has_engine else "it needs a charge on the way"
    if need <= far.p50:
        return f"{what} fits on most such days, but not on nine in ten; on the others {beyond}."
    if need <= high:
        return f"{what} fits on fewer than half of such days; on the others {beyond}."
    return f"{what} is longer than that; {beyond}."


def _drives(quote: Quote) -> int:
    """Such drives on the charge at the start, each from a cold car as the first one, nine days in ten."""
    start, arrives = quote.ask.start.state_of_charge, quote.journey.arrives_with
    left = arrives.p50 if arrives.p10 is None else arrives.p10
    used = start - left
    return int(start / used) if used > 0 else 0


def _left(arrives: Band) -> str:
    if arrives.p10 is None:
        return f"with {per_cent(arrives.p50)} of the charge left"
    if arrives.p10 < SPARE:
        return "with little to spare"
    return f"with {per_cent(arrives.p10)} or more of the charge left"


def full_at(plug_in_hour: float, seconds: float) -> float:
    """Hour at which a charge ends, at the precision it is told with, counted from the midnight before plugging in."""
    return plug_in_hour + rounded_duration_s(seconds) / 3600


def until(plug_in_hour: float, seconds: float, units: Units) -> str:
    """When it is full: time of day, and which day if not the same."""
    end = full_at(plug_in_hour, seconds)
    return f"{clock(end, units)} {days_later(end)}".rstrip()


def charging_headline(charging: ChargingAnswer, plug_in_hour: float, units: Units) -> str:
    """How long it takes, and by when it is charged."""
    seconds, plugged = charging.seconds, f"plugged in at {clock(plug_in_hour, units)}, charged by"
    if seconds.p10 is None or seconds.p90 is None:
        return (
            f"From empty it takes about {duration(seconds.p50)}: {plugged} {until(plug_in_hour, seconds.p50, units)}."
        )
    late_s = max(seconds.p10, seconds.p90)
    return (
        f"From empty, nine days in ten it takes {duration(late_s)} or less, half the days {duration(seconds.p50)}: "
        f"{plugged} {until(plug_in_hour, late_s, units)}."
    )


def energy_at_socket(charging: ChargingAnswer, prices: Prices) -> str:
    """What the meter counts and what that costs, and why it is more than the battery holds."""
    kept, counted = per_cent(charging.efficiency), energy(charging.wall_j.p50)
    if prices.electricity_per_j is not None:
        counted += f", about {money(charging.wall_j.p50 * prices.electricity_per_j, prices.currency, WHOLE_FROM)}"
    return f"The meter counts {counted}; {kept} of it reaches the battery, the rest is lost as heat."


def moved(sensitivity: Sensitivity, units: Units) -> str:
    """One thing that would help or hurt, its effect in whole kilometres or miles."""
    if sensitivity.starts_engine:
        return f"{bound(sensitivity.sentence)}: the engine starts at once."
    size = abs(distance_number(sensitivity.effect_m, units))
    told = f"about {plain(size)}" if size >= 1 else "less than 1"
    way = "farther" if sensitivity.effect_m > 0 else "less"
    return f"{bound(sensitivity.sentence)}: {told}\u00a0{distance_unit(units)} {way}."
