"""What has to be said beside the numbers: where the model extrapolates, what it leaves out, which limits were met."""

import numpy as np

from service.constants import US_TEST_LOAD_KG
from service.physics.fresh_air import drying_share
from service.physics.laps import DISTANCE_LIMIT
from service.physics.march import COMPLETED, EMPTY, EVENT_KINDS, STUCK
from service.quotes.answer import Band, Event
from service.quotes.band import EXTRAPOLATED_BELOW_K
from service.specs import Ask, Climate, Heating, Journey, Kind, MassBasis, Procedure
from service.units import MILE_M, celsius_from_kelvin, fahrenheit_from_celsius

__all__ = ["ENDED_BY", "LEVEL_M_M", "events_of", "note_on_sun", "notes_for", "notes_on_answer"]

ENDED_BY = {EMPTY: "empty", STUCK: "cannot_hold_speed", DISTANCE_LIMIT: "distance_limit", COMPLETED: "empty"}

SETS_OFF = 0.1  # a span that reaches below this share of its middle needs a word
ABOVE_LABEL = 1.15  # a range so far above the label's needs a word
COLD_START = 1.1  # a first drive that takes so much more than later ones needs a word
LEVEL_M_M = 1e-4  # mean slope of a journey that counts as level
EVENT_SENTENCES = {
    "motor_limit": "The electric motor alone is not strong enough for every acceleration of this journey.",
    "pack_limit": "The battery cannot give all the power asked for: it is cold or nearly empty.",
    "regeneration_limit": "Braking gives back less: the battery is too full or too cold to take it.",
    "cannot_hold_speed": "The battery can no longer hold the speed.",
    "empty": "The battery is empty before the journey ends.",
}
LONG_ENOUGH_S = {"regeneration_limit": 5.0, "motor_limit": 3.0, "pack_limit": 3.0}  # shorter limits go unnoticed


def events_of(first_events: np.recarray) -> tuple[Event, ...]:
    """Limits met on the central row's first journey, in order of their first time."""
    met = [
        Event(kind, float(row.at_s), float(row.at_m), float(row.run_s), EVENT_SENTENCES[kind])
        for kind, row in zip(EVENT_KINDS, first_events, strict=True)
        if row.run_s > LONG_ENOUGH_S.get(kind, 0.0)
    ]
    return tuple(sorted(met, key=lambda each: each.at_s))


def notes_on_answer(
    ended: int, keeps_up: bool, climbs: bool, range_m: Band, first_over_later: float, label_m: float | None = None,
    engine: bool = False,
) -> tuple[str, ...]:  # fmt: skip
    """Sentences that follow from the answer.

    Args:
        keeps_up: whether the motor is strong enough for the journey.
        climbs: whether the journey ends at another height than it began.
        first_over_later: energy of the first journey over that of the drive to empty, both for each metre.
        label_m: range on the car's label; None where it has none.
        engine: whether an engine helps, so that a weak pack ends nothing.
    """
    notes = []
    if not keeps_up:
        notes.append("The electric motor is too weak to keep up with this journey: it was driven more slowly.")
    if range_m.p10 is not None and range_m.p10 < SETS_OFF * range_m.p50 and not engine:
        notes.append("One day in ten or more the battery is too cold or too weak to give the power for this journey.")
    if label_m is not None and range_m.p50 > ABOVE_LABEL * label_m:
        notes.append(
            f"The label says {label_m / 1000:.0f} km ({label_m / MILE_M:.0f} miles): a mean of town, motorway, heat "
            "and cold; a drive easier than that goes farther."
        )
    if ended == STUCK:
        notes.append("The drive ends before the battery is empty: it can no longer give the power for this speed.")
    if ended == DISTANCE_LIMIT and engine:
        notes.append("Its engine keeps the battery charged on drives like this one: there is no distance to empty.")
    elif ended == DISTANCE_LIMIT:
        notes.append(
            "This journey uses no energy or hardly any: there is no distance to empty, and 3 000 km stands for it."
        )
    if climbs:
        notes.append("The journey ends at another height than it began; the distance repeats the same slope.")
    if first_over_later > COLD_START:
        notes.append(
            f"A drive from cold takes {100 * (first_over_later - 1):.0f} % more energy than the same distance "
            "driven in one go, which warms cabin and tyres once."
        )
    return tuple(notes)


def note_on_sun(ask: Ask, cabin_k: float) -> tuple[str, ...]:
    """How warm the sun has made the parked car, K; nothing for one that stood in the shade."""
    if not ask.start.in_sun:
        return ()
    celsius = celsius_from_kelvin(cabin_k)
    told = f"{celsius:.0f} °C ({fahrenheit_from_celsius(celsius):.0f} °F)"
    return (f"The sun has warmed the parked car's cabin to {told}; seats and trim are warmer still.",)


def notes_for(ask: Ask) -> tuple[str, ...]:
    """Sentences that follow from a completed question, the weightiest first."""
    vehicle, notes = ask.vehicle, []
    heats = ask.cabin.climate is Climate.AUTO and ask.weather.ambient_k < ask.cabin.set_point_k
    by_engine = heats and vehicle.heating is Heating.ENGINE
    if vehicle.kind.has_engine and vehicle.engine is None:
        notes.append(
            "The distance is driven on electricity alone: starts of the engine for power, speed, heat or upkeep are "
            "left out here, so a journey that needs the engine uses fuel earlier."
        )
        if by_engine:
            notes.append(
                "This car heats its cabin with the engine: with the heater on the engine will start. The distance "
                "holds with an unheated cabin."
            )
    if by_engine and ask.start.preconditioned:
        notes.append("Readying this car's cabin on the plug does nothing: it has no electric heater.")
    if heats and drying_share(ask.weather.ambient_k) > 0:
        notes.append(
            "Between 3 and 18 °C (37 and 64 °F) the cabin's air is dried and warmed again, which costs energy."
        )
    if vehicle.kind is Kind.HYBRID:
        notes.append("A plain hybrid has no inlet: it refills its small battery while driving.")
    if ask.weather.wind_from_rad is not None and not _is_headed(ask.journey):
        notes.append(
            "The wind's direction counts only where the journey's legs have a heading; here it blows from any."
        )
    if ask.weather.ambient_k < EXTRAPOLATED_BELOW_K:
        notes.append("Below 5 °C (41 °F) the rolling resistance of tyres is extrapolated; the span is wider for it.")
    if ask.procedure is Procedure.DYNAMOMETER:
        notes.append("On rolls: air and mass as the test imposes them, no wind, sun, load, box or trailer of your own.")
    if vehicle.mass_basis is MassBasis.TEST:
        notes.append(f"Kerb mass taken as the test mass less {US_TEST_LOAD_KG:.0f} kg (300 lb).")
    return tuple(notes)


def _is_headed(journey: Journey) -> bool:
    """True where any part of the way has a heading."""
    if journey.track is not None:
        return any(heading == heading for heading in journey.track.heading_rad)
    return any(leg.heading_rad is not None for leg in journey.legs)
