"""What a speed table says in plain sentences. Every number goes through `words`.

Words    the middle of a band is told as what the car goes; "nine days in ten" is its lower end.
"""

from collections.abc import Sequence

from service.quotes.speed_table import InOneGo, ShortTrip, SpeedTable, SteadyCell
from service.reporting.engine_sentences import heater_needs_engine
from service.reporting.words import Units, consumption, distance, joined, plain, speed, temperature
from service.units import KM_H, kelvin_from_celsius

__all__ = ["cannot_hold", "headline", "second", "short_trips"]

FAST_M_S, CALM_M_S = 120 * KM_H, 80 * KM_H  # what the headline speaks of, or what comes nearest
COLD_K, MILD_K = kelvin_from_celsius(-10), kelvin_from_celsius(20)
NOTICED = 1.05  # times the energy: less is not worth a sentence


def headline(found: SpeedTable, units: Units) -> str:
    """Fast in the cold, calm in mild weather."""
    hard, easy = nearest(found.cells, FAST_M_S, COLD_K), nearest(found.cells, CALM_M_S, MILD_K)
    if hard is None and easy is None:
        return "This car holds none of these speeds on electricity."
    if hard is None or easy is None or (hard.speed_m_s, hard.ambient_k) == (easy.speed_m_s, easy.ambient_k):
        one = hard or easy
        return f"{_at(one, units)} this car goes {distance(one.range_m.p50, units)}{_source(found)}."
    far = f"{distance(hard.range_m.p50, units)}{_source(found)}"
    calm = _at(easy, units)
    return f"{_at(hard, units)} this car goes {far}; {calm[:1].lower()}{calm[1:]} {distance(easy.range_m.p50, units)}."


def second(found: SpeedTable, units: Units) -> str:
    """How sure that is, and what it means."""
    told = [nearest(found.cells, FAST_M_S, COLD_K), nearest(found.cells, CALM_M_S, MILD_K)]
    lows = list(dict.fromkeys(distance(cell.range_m.p10, units) for cell in told if cell and cell.range_m.p10))
    if not lows:
        return "Driven at one speed on the level until the battery is empty."
    return (
        f"Half the days it is that or more; nine days in ten at least {joined(lows)}. "
        "Driven at one speed on the level until the battery is empty."
    )


def cannot_hold(found: SpeedTable, units: Units) -> str:
    """Which speeds are beyond the motor or the battery; nothing where all are held."""
    parts = []
    for limit, what in (("motor", "its electric motor is"), ("battery", "its battery is")):
        cells = [cell for cell in found.cells if cell.cannot_hold == limit]
        for m_s in dict.fromkeys(cell.speed_m_s for cell in cells):
            days = [cell.ambient_k for cell in cells if cell.speed_m_s == m_s]
            every = len(days) == len(found.question.temperatures_k)
            when = "" if every else f" at {joined([temperature(kelvin, units) for kelvin in sorted(days)])}"
            parts.append(f"{speed(m_s, units)}{when} ({what} too weak)")
    return f"It cannot hold {joined(parts)}." if parts else ""


def short_trips(found: SpeedTable, units: Units) -> str:
    """What the shortest trip costs in the cold, beside the same driving in one go, and why."""
    kelvin = min(found.question.temperatures_k, key=lambda each: abs(each - COLD_K))
    trips = [trip for trip in found.trips if trip.ambient_k == kelvin]
    whole = next(drive for drive in found.in_one_go if drive.ambient_k == kelvin)
    trip = min(trips, key=lambda each: each.distance_m)
    opening = f"At {temperature(kelvin, units)} a trip of {distance(trip.distance_m, units)}"
    times = trip.battery_j_per_m / whole.battery_j_per_m if whole.battery_j_per_m > 0 else 1.0
    if times < NOTICED:
        return f"{opening} takes hardly more for its length than the same driving in one go."
    return (
        f"{opening} from cold takes {consumption(trip.battery_j_per_m, units)}, {plain(times, 1)} times what the same "
        f"driving takes in one go: {_warmed(trip, whole)} from cold every time, and the trip is over before that "
        f"is made good. {_on_a_charge(trip, units)}"
    )


def _on_a_charge(trip: ShortTrip, units: Units) -> str:
    """How many."""
    count = trip.trips_per_charge
    if count == 0:
        return "A charge does not give one."
    far = distance(count * trip.distance_m, units)
    return f"A charge gives {'one such trip' if count == 1 else f'{count} such trips, {far} in all'}."


def _warmed(trip: ShortTrip, whole: InOneGo) -> str:
    """What is brought to temperature; the verb with it."""
    things = ["the cabin"] if trip.heating_j_per_m > NOTICED * whole.heating_j_per_m else []
    things += ["the battery"] if trip.conditioning_j_per_m > NOTICED * whole.conditioning_j_per_m else []
    return f"{joined([*things, 'the tyres'])} are warmed"


def nearest(cells: Sequence[SteadyCell], m_s: float, kelvin: float) -> SteadyCell | None:
    """The held cell nearest to a temperature, then to a speed; None where nothing is held."""
    held = [cell for cell in cells if not cell.cannot_hold]
    return min(held, key=lambda cell: (abs(cell.ambient_k - kelvin), abs(cell.speed_m_s - m_s)), default=None)


def _at(cell: SteadyCell, units: Units) -> str:
    return f"At {speed(cell.speed_m_s, units)} and {temperature(cell.ambient_k, units)}"


def _source(found: SpeedTable) -> str:
    """What the distance is driven on."""
    if not found.ask.vehicle.kind.has_engine:
        return ""
    return " on electricity, if the heater stays off" if heater_needs_engine(found.ask) else " on electricity"
