"""The engine in plain words: whether, where and why it starts, what the driver can do, what it burns.

Scope    cars with an engine; nothing here works anything out that `service.quotes.engine_side` has not.
"""

from service.physics.triggers import TRIGGERS
from service.quotes.answer import EngineStart, Quote
from service.quotes.own_share import own_share_of_drive
from service.reporting.share_sentences import beside_averages
from service.reporting.words import (
    WHOLE_FROM,
    Units,
    bound,
    distance,
    duration,
    energy,
    fuel,
    fuel_consumption,
    joined,
    money,
    per_cent,
    temperature,
)
from service.specs import Ask, Climate, Heating
from service.units import KWH_J

__all__ = [
    "BRIEFLY",
    "closing",
    "early_start",
    "engine_answers",
    "engine_headline",
    "first_start",
    "heater_needs_engine",
    "why_it_starts",
]

FULL = 0.995  # charge that is told as a full battery
AT_ONCE_M = 50.0  # nobody notices so little
NEVER = 0.005  # share of the way told as none
LITTLE_J = 0.05 * KWH_J  # energy told as none
EARLY = 0.5  # first fuel within this share of what the battery lasts: the engine is the news, not the distance
WHY = {
    "charge_mode": "it was asked to hold or make charge",
    "fuel_age": "its fuel has grown too old",
    "upkeep": "it has stood unused for too long",
    "low_charge": "the battery is used up",
    "cold_pack": "the battery is too cold",
    "hot_pack": "the battery is too hot",
    "cabin_heat": "the cabin takes its heat from it",
    "defrost": "the windscreen takes its heat from it",
    "speed": "the car goes faster than electricity alone allows",
    "power": "more power is asked for than electricity alone gives",
    "full_pack": "braking finds the battery full, and it turns without fuel",
}
BRIEFLY = {  # beside a mark on the ruler
    "charge_mode": "mode",
    "fuel_age": "old fuel",
    "upkeep": "upkeep",
    "low_charge": "battery empty",
    "cold_pack": "cold battery",
    "hot_pack": "hot battery",
    "cabin_heat": "heat",
    "defrost": "windscreen",
    "speed": "speed",
    "power": "power",
    "full_pack": "full battery",
}
UNKNOWN = {  # thresholds that a car may have without anybody here knowing them
    "cabin_heat_below_k": "cold weather with the heater on",
    "defrost_below_k": "windscreen heat",
    "cold_pack_k": "a cold battery",
    "hot_pack_k": "a hot battery",
    "speed_m_s": "a speed limit of its own",
    "upkeep_after_s": "weeks without running",
    "fuel_age_s": "old fuel",
}


def first_start(quote: Quote) -> EngineStart | None:
    """Where the central car first burns fuel on its journey."""
    starts = quote.engine.starts if quote.engine else ()
    return next((each for each in starts if each.fuel_m3 > 0), None)


def early_start(quote: Quote) -> EngineStart | None:
    """The first start, if it comes long before the battery is used up."""
    start = first_start(quote)
    lasts = quote.engine.distances.actual_charge_depleting if quote.engine else None
    early = lasts is None or quote.range_m.p50 < EARLY * lasts.p50
    return start if start and early else None


def heater_needs_engine(ask: Ask) -> bool:
    """True where the day asks for heat that only the engine can give."""
    wanted = ask.cabin.climate is Climate.AUTO and ask.weather.ambient_k < ask.cabin.set_point_k
    return wanted and ask.vehicle.heating is Heating.ENGINE


def why_it_starts(start: EngineStart) -> str:
    """The reason, as part of a sentence."""
    return WHY[start.trigger]


def where(start: EngineStart, units: Units) -> str:
    """At once, or after so far."""
    return "at once" if start.at_m < AT_ONCE_M else f"after {distance(start.at_m, units)}"


def engine_headline(quote: Quote, units: Units) -> str:
    """The answer where the engine is the news."""
    start = early_start(quote)
    at = f"At {temperature(quote.ask.weather.ambient_k, units)}"
    return f"{at} the engine starts {where(start, units)}: {why_it_starts(start)}."


def engine_answers(quote: Quote, units: Units) -> list[tuple[str, str]]:
    """Does it stay electric, what starts the engine, what to do about it, what it costs; none without an engine."""
    if quote.engine is None:
        return []
    shares = _shares(quote, units)
    how_far = "How far on one charge?" if quote.ask.vehicle.kind.plugs_in else "How far on its battery?"
    return [
        ("Does this drive stay electric?", bound(_stays(quote, units))),
        (how_far, bound(_distances(quote, units))),
        *([("How much of your driving is electric?", shares)] if shares else []),
        ("What does the heater do?", bound(_heater(quote, units))),
        ("What can the driver do?", bound(_advice(quote))),
        ("What does it take?", bound(_takes(quote, units))),
        ("What is not known?", bound(_not_known(quote))),
    ]


def _stays(quote: Quote, units: Units) -> str:
    """Yes, or how often, where first, why and how long the engine runs."""
    burning = [each for each in quote.engine.starts if each.fuel_m3 > 0]
    lasts = quote.engine.distances.actual_charge_depleting
    battery = f" The battery lasts {distance(lasts.p50, units)} half the days." if lasts else ""
    if not burning:
        turns = " It turns without fuel where braking finds the battery full." if quote.engine.starts else ""
        return f"Yes, on a middling day: nothing that is known starts the engine on it.{turns}{battery}"
    times = "" if len(burning) == 1 else f"{len(burning)} times, first "
    reasons = joined(list(dict.fromkeys(WHY[each.trigger] for each in burning)))
    run_s, share = sum(each.run_s for each in burning), quote.engine.electric_share.p50
    runs = f"for {duration(run_s)} and stands for {per_cent(share)} of the way" if share > NEVER else "all the way"
    return f"No. The engine starts {times}{where(burning[0], units)}, because {reasons}. It runs {runs}.{battery}"


def _distances(quote: Quote, units: Units) -> str:
    """The four distances, as far as they are defined."""
    known = quote.engine.distances
    if not known.actual_charge_depleting:
        return "The battery is never used up on drives like this one: the engine keeps it charged."
    named = (
        ("to the first fuel", known.all_electric),
        ("until the battery is used up", known.actual_charge_depleting),
        ("in whole drives", known.charge_depleting_cycle),
        ("by the fuel it saves", known.equivalent_all_electric),
    )
    alike: dict[str, list[str]] = {}
    for name, band in named:
        if band and band.p50 >= AT_ONCE_M:
            alike.setdefault(distance(band.p50, units), []).append(name)
    told = "; ".join(far + _counted(names) for far, names in alike.items())
    return f"Half the days at least {told}."


def _counted(ways: list[str]) -> str:
    """How a distance was counted, where several ways come to the same.

    >>> _counted(["in whole drives"]), _counted(["to the first fuel", "in whole drives"])
    (' in whole drives', ', counted to the first fuel or in whole drives')
    """
    return f" {ways[0]}" if len(ways) == 1 else f", counted {', '.join(ways[:-1])} or {ways[-1]}"


def _shares(quote: Quote, units: Units) -> str:
    """The electric share of this drive once a day, beside the official averages; nothing without a plug."""
    found, charge = own_share_of_drive(quote), quote.ask.start.state_of_charge
    if found is None:
        return ""
    to = "" if charge >= FULL else f" to {per_cent(charge)}"
    return beside_averages(found, f"{distance(quote.journey.distance_m, units)} a day, charged once a day{to},", units)


def closing(quote: Quote, units: Units) -> str:
    """The end of every answer of a car with an engine: how far, what starts it, what helps, what it takes and costs."""
    start = first_start(quote)
    far = f"On electricity about {distance(quote.range_m.p50, units)}."
    if quote.range_m.p50 < AT_ONCE_M:
        far = "Electricity alone does not begin this drive."
    what = "Nothing that is known starts the engine on this drive"
    if start:
        what = f"The engine starts {where(start, units)}, because {why_it_starts(start)}"
    return bound(f"{far} {what}. {_advice(quote)} {_takes(quote, units)}")


def _heater(quote: Quote, units: Units) -> str:
    ask, triggers = quote.ask, quote.ask.vehicle.triggers
    if ask.cabin.climate is Climate.OFF:
        return "Nothing here: heating and cooling are switched off in this estimate."
    if ask.vehicle.heating is Heating.ENGINE:
        if ask.weather.ambient_k >= ask.cabin.set_point_k:
            return "Nothing today: a day this warm asks for no heat. On colder days heat means the engine."
        return "It starts the engine: this car has no electric cabin heater, so a call for heat is one for the engine."
    below_k = triggers.cabin_heat_below_k if triggers else None
    if below_k is None:
        return "It takes its power from the battery, and the distance already pays for it."
    if ask.weather.ambient_k < below_k:
        return f"Below {temperature(below_k, units)} this car heats with its engine, so it starts today."
    return f"It takes its power from the battery down to {temperature(below_k, units)}; colder, it starts the engine."


def _advice(quote: Quote) -> str:
    burning = [each for each in quote.engine.starts if each.fuel_m3 > 0]
    if not burning and not quote.ask.vehicle.kind.plugs_in:
        return "Nothing needs to be done; the car makes its own charge."
    if not burning and quote.ask.vehicle.heating is Heating.ENGINE:
        return "Leave with a full battery; on colder days keep the heater off as long as you can."
    if not burning:
        return "Leave with a full battery; readying the cabin on the plug stretches the distance in cold and heat."
    return " ".join(dict.fromkeys(each.advice for each in burning))


def _takes(quote: Quote, units: Units) -> str:
    """Fuel and electricity of the journey, beside what the same journey takes with the battery used up."""
    journey, engine = quote.journey, quote.engine
    burnt_m3 = engine.fuel_m3_m.p50 * journey.distance_m
    socket = ""
    if journey.wall_j_per_m is not None and journey.wall_j_per_m.p50 * journey.distance_m > LITTLE_J:
        socket = f" and {energy(journey.wall_j_per_m.p50 * journey.distance_m)} from the socket"
    burnt = (
        f"{fuel(burnt_m3, units)} of fuel ({fuel_consumption(engine.fuel_m3_m.p50, units)})"
        if burnt_m3 > 0
        else "No fuel"
    )
    sustained = fuel_consumption(engine.sustaining_m3_m, units)
    when = "With the battery used up" if quote.ask.vehicle.kind.plugs_in else "Over many such drives"
    cost = quote.journey_cost
    paid = f", {money(cost, quote.ask.prices.currency, WHOLE_FROM)} at the stated prices" if cost is not None else ""
    return f"{burnt}{socket} on this drive{paid}. {when} it is about {sustained}."


def _not_known(quote: Quote) -> str:
    triggers = quote.ask.vehicle.triggers
    unknown = [words for name, words in UNKNOWN.items() if getattr(triggers, name) is None]
    if quote.ask.vehicle.heating is Heating.ENGINE and UNKNOWN["cabin_heat_below_k"] in unknown:
        unknown.remove(UNKNOWN["cabin_heat_below_k"])
    if not unknown:
        return "Nothing that is commonly known to start an engine; the handbook rules."
    return f"Whether and where this car's engine also starts for {joined(unknown)}: its handbook says."


assert set(WHY) == set(BRIEFLY) == set(TRIGGERS)
