"""Range at steady speeds over a year's temperatures, and short trips that start cold beside the same driving in one go.

Scope    one car; every cell is the quote of one leg at that speed on a day of that temperature, driven to empty. Its
         middle is the single quote's exactly; its ends come from fewer draws, the same ones in every cell.
Ends     a log-normal spread by mean and variance of the draws: 32 of them then give the tenth and ninetieth per cent of
         1 024 within 3 %, where their own quantiles miss by up to 6 %. Where a draw hardly drives, quantiles after all.
Steady   level road, `LAP_M` between two stops: what starting and braking take is then below 1 %.
Trips    soaked before each start, not plugged in between; a stop at the end counts among the stops for each kilometre,
         so trips of different lengths differ by their cold start alone.
Holding  a car that never comes within `REACHED` of the speed cannot hold it; nor can one whose pack gives out with more
         than `LEFT_OVER` of its charge. Its distance is then that of a slower drive.
"""

from collections.abc import Sequence
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass, replace

import numpy as np

from service.catalogue import Catalogue
from service.physics.laps import DISTANCE_LIMIT, FURTHEST_M, flat_view
from service.physics.march import EVENT_KINDS, STUCK
from service.physics.rows import EVENT, LEDGER, RECORD, START, table
from service.physics.soaks import SOAKED, SOAKED_ROWS, drive_soaked_trips, state_view
from service.quotes.answer import Assumption, Band
from service.quotes.assume import complete
from service.quotes.band import band_of
from service.quotes.label import anchored
from service.quotes.notes import ENDED_BY, notes_for
from service.quotes.scenarios import Outcome, Scenarios, run, scenarios_for
from service.specs import Ask, Journey, Leg
from service.trips.journey import trace_of
from service.trips.trace import Trace

__all__ = ["InOneGo", "ShortTrip", "SpeedAsk", "SpeedTable", "SteadyCell", "TripKind", "speed_table", "steady_journey"]

LAP_M = 50e3
DRAWS = 32
TENTH = 1.2816  # standard deviations from the middle to a tenth of a normal spread
HARDLY = 0.1  # of the middle: a draw that drives less far is another kind of drive
WORKERS = 2  # the march lets go of the interpreter
REACHED = 0.98  # of the speed: a regulatory test allows a car less lag, common practice
LEFT_OVER = 0.1  # charge; a pack emptier than this is weak in any car
MOTOR, PACK = EVENT_KINDS.index("motor_limit"), EVENT_KINDS.index("pack_limit")
CHARGING_ONLY = frozenset(  # assumed of every question, and without effect on a distance
    {
        "charging circuit",
        "onboard charger",
        "onboard charger phases",
        "efficiency of the onboard charger alone",
        "drawn by the car while charging",
    }
)


@dataclass(frozen=True, slots=True)
class TripKind:
    """What a short trip is like."""

    distances_m: tuple[float, ...]
    speed_m_s: float
    stops_per_m: float  # the one at the end included

    def journey(self, distance_m: float) -> Journey:
        """One trip of this length."""
        stops = max(self.stops_per_m * distance_m - 1, 0.0)  # the last is the end of the leg
        return Journey(legs=(Leg(distance_m, self.speed_m_s, stops / distance_m),))


@dataclass(frozen=True, slots=True)
class SpeedAsk:
    """The question. `ask` holds everything but temperature and journey, which are gone through here."""

    ask: Ask
    speeds_m_s: tuple[float, ...]
    temperatures_k: tuple[float, ...]
    trip: TripKind


@dataclass(frozen=True, slots=True)
class SteadyCell:
    """One speed at one temperature. `cannot_hold`: "motor" or "battery" where the car cannot drive so fast, else ""."""

    speed_m_s: float
    ambient_k: float
    range_m: Band
    battery_j_per_m: float  # at the cells, central row
    ended_by: str
    cannot_hold: str


@dataclass(frozen=True, slots=True)
class ShortTrip:
    """One length at one temperature, central row, mean of all trips of one charge; energies at the cells."""

    distance_m: float
    ambient_k: float
    battery_j_per_m: float
    heating_j_per_m: float
    cooling_j_per_m: float
    conditioning_j_per_m: float  # the pack's own heater
    trips_per_charge: int


@dataclass(frozen=True, slots=True)
class InOneGo:
    """The longest of the trips again and again without a pause, soaked before the first start, central row."""

    ambient_k: float
    range_m: float
    battery_j_per_m: float
    heating_j_per_m: float
    cooling_j_per_m: float
    conditioning_j_per_m: float


@dataclass(frozen=True, slots=True)
class SpeedTable:
    """The answer. `ask` is the question with every gap filled, on its coldest day."""

    question: SpeedAsk
    ask: Ask
    cells: tuple[SteadyCell, ...]  # by temperature, then speed, as asked
    trips: tuple[ShortTrip, ...]  # by temperature, then distance, as asked
    in_one_go: tuple[InOneGo, ...]
    assumptions: tuple[Assumption, ...]
    notes: tuple[str, ...]


def steady_journey(speed_m_s: float) -> Journey:
    """The journey behind a cell."""
    return Journey(legs=(Leg(LAP_M, speed_m_s),))


def speed_table(question: SpeedAsk, catalogue: Catalogue) -> SpeedTable:
    """Every cell and every trip.

    Args:
        question: gaps of vehicle and weather allowed; what fills them is listed.
    Errors: `BadInput` for an id that does not exist, or a label that contradicts the rest.
    """
    ask, moved = anchored(replace(question.ask, journey=steady_journey(question.speeds_m_s[0])), catalogue)
    days = [replace(ask, weather=replace(ask.weather, ambient_k=kelvin)) for kelvin in question.temperatures_k]
    filled = [complete(each, catalogue, with_engine=False) for each in days]
    asks = [each for each, _ in filled]
    with ThreadPoolExecutor(WORKERS) as pool:
        cells = pool.map(lambda each: steady_cells(each, question.speeds_m_s, catalogue), asks)
        traces = [trace_of(question.trip.journey(distance_m), catalogue) for distance_m in question.trip.distances_m]
        trips = pool.map(lambda each: short_trips(each, question.trip, traces, catalogue), asks)
        found = list(trips)
        return SpeedTable(
            question=question,
            ask=min(asks, key=lambda each: each.weather.ambient_k),
            cells=tuple(cell for row in cells for cell in row),
            trips=tuple(trip for row, _ in found for trip in row),
            in_one_go=tuple(whole for _, whole in found),
            assumptions=moved + that_matter([one for _, listed in filled for one in listed], bool(moved)),
            notes=tuple(dict.fromkeys(note for each in asks for note in notes_for(each))),
        )


def that_matter(listed: Sequence[Assumption], by_label: bool) -> tuple[Assumption, ...]:
    """Each assumption once; those about charging only where a label, which is taken at the socket, needs them."""
    return tuple(one for one in dict.fromkeys(listed) if by_label or one.name not in CHARGING_ONLY)


def values_of(catalogue: Catalogue) -> dict[str, float]:
    """Middles of the typical values."""
    return {name: typical.value for name, typical in catalogue.typical.items()}


def steady_cells(ask: Ask, speeds_m_s: Sequence[float], catalogue: Catalogue) -> list[SteadyCell]:
    """One day's cells: the same car, day and draws at every speed."""
    scenarios = scenarios_for(ask, (), catalogue, values_of(catalogue), DRAWS)
    return [steady_cell(ask, scenarios, speed, catalogue) for speed in speeds_m_s]


def steady_cell(ask: Ask, scenarios: Scenarios, speed_m_s: float, catalogue: Catalogue) -> SteadyCell:
    """One cell."""
    outcome = run(scenarios, replace(ask, journey=steady_journey(speed_m_s)), catalogue, recorded=True)
    range_m = np.where(outcome.ended == DISTANCE_LIMIT, FURTHEST_M, outcome.total.distance_m)
    return SteadyCell(
        speed_m_s=speed_m_s,
        ambient_k=ask.weather.ambient_k,
        range_m=spread_of(range_m[0], range_m[1:]),
        battery_j_per_m=per_metre(outcome.total[0], "cells_j"),
        ended_by=ENDED_BY[int(outcome.ended[0])],
        cannot_hold=what_fails(outcome, speed_m_s),
    )


def spread_of(central_m: float, sampled_m: np.ndarray) -> Band:
    """The band around the central row from few draws, by the mean and variance of their logarithms."""
    if len(sampled_m) < 2 or sampled_m.min() <= HARDLY * central_m:
        return band_of(central_m, sampled_m)
    logs = np.log(sampled_m)
    low_m, high_m = np.exp(logs.mean() + logs.std(ddof=1) * np.array([-TENTH, TENTH]))
    return Band(float(min(low_m, central_m)), float(central_m), float(max(high_m, central_m)))


def what_fails(outcome: Outcome, speed_m_s: float) -> str:
    """Why the central car cannot drive at this speed; "" where it can."""
    if outcome.record.speed_m_s.max(initial=0.0) < REACHED * speed_m_s:
        motor_s, pack_s = outcome.first_events.run_s[[MOTOR, PACK]]
        return "motor" if motor_s >= pack_s else "battery"
    gave_out = outcome.ended[0] == STUCK and outcome.states.charge[0] > LEFT_OVER
    return "battery" if gave_out else ""


def short_trips(
    ask: Ask, kind: TripKind, traces: Sequence[Trace], catalogue: Catalogue
) -> tuple[list[ShortTrip], InOneGo]:
    """One day's trips, and the same driving in one go."""
    cold = replace(ask, start=replace(ask.start, soaked=True, preconditioned=False), band=False)
    scenarios = scenarios_for(cold, (), catalogue, values_of(catalogue))
    trips = [
        soaked_trip(scenarios, distance_m, trace) for distance_m, trace in zip(kind.distances_m, traces, strict=True)
    ]
    outcome = run(scenarios, replace(cold, journey=kind.journey(max(kind.distances_m))), catalogue)
    whole = outcome.total[0]
    endless = outcome.ended[0] == DISTANCE_LIMIT
    return trips, InOneGo(
        ambient_k=ask.weather.ambient_k,
        range_m=FURTHEST_M if endless else float(whole.distance_m),
        battery_j_per_m=per_metre(whole, "cells_j"),
        heating_j_per_m=per_metre(whole, "heating_j"),
        cooling_j_per_m=per_metre(whole, "cooling_j"),
        conditioning_j_per_m=per_metre(whole, "pack_conditioning_j"),
    )


def soaked_trip(scenarios: Scenarios, distance_m: float, trace: Trace) -> ShortTrip:
    """Trips of one length on one charge."""
    states, ledgers = scenarios.states.copy(), table(LEDGER, SOAKED_ROWS)
    flat_states = state_view(states)
    trips = drive_soaked_trips(
        scenarios.cars[0], scenarios.days[0], scenarios.draws[0], trace.path,
        states[0], flat_states[0], flat_states[0].copy(), ledgers, flat_view(ledgers),
        table(EVENT, len(EVENT_KINDS)), table(START, 0), table(RECORD, 0),
    )  # fmt: skip
    driven = ledgers[SOAKED]
    return ShortTrip(
        distance_m=distance_m,
        ambient_k=float(scenarios.days[0].ambient_k),
        battery_j_per_m=per_metre(driven, "cells_j"),
        heating_j_per_m=per_metre(driven, "heating_j"),
        cooling_j_per_m=per_metre(driven, "cooling_j"),
        conditioning_j_per_m=per_metre(driven, "pack_conditioning_j"),
        trips_per_charge=int(trips),
    )


def per_metre(ledger: np.record, name: str) -> float:
    """A sum of a ledger over the distance driven, J/m."""
    return float(ledger[name]) / max(float(ledger.distance_m), 1.0)
