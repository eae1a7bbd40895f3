"""The bench: one complained drive as rows of the tables, to be changed and driven again.

Scope    the car, day and state of a question as `quotes` makes them, with what a workshop knows besides: measured tyre
         pressure, where the car was parked, charge left at the end, health from the odometer.
End      a drive that stops at a charge above empty uses the upper part of the pack only. The rows then hold a smaller
         pack whose empty is that charge: open-circuit voltage of the upper part, and resistance with the mean that it
         has there. Error against stopping the whole pack at that charge: a test (tests/diagnosis/test_bench.py).
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from service.catalogue import Catalogue
from service.diagnosis.ageing import TYPICAL_ODOMETER_M, sampled_health
from service.diagnosis.complaint import Complaint, Parked
from service.physics.battery import LOW_CHARGE_DECAY, LOW_CHARGE_RISE, health_resistance_factor
from service.physics.laps import DISTANCE_LIMIT, FURTHEST_M
from service.physics.rows import DRAW, OCV_POINTS
from service.physics.tables import central_draw, start_state
from service.physics.tyres import WARM_RISE_K, pressure_factor
from service.quotes.band import ROWS, draws_for, hypercube
from service.quotes.parking import GARAGE_AIMS_K
from service.quotes.scenarios import Outcome, Scenarios, rows_for, run, wants_preconditioning
from service.specs import Ask

__all__ = [
    "Bench",
    "age",
    "bench_for",
    "distance_m",
    "drive",
    "health_normals",
    "pressure_share",
    "relative_health",
    "sampled_draws",
    "window_j",
]

DRIVEN_PACK_K = 293.15  # pack of a car driven shortly before, if the day is colder: common practice


@dataclass(frozen=True, eq=False, slots=True)
class Bench:
    """One row each of car, day and state, and the completed question they come from."""

    ask: Ask
    car: np.recarray
    day: np.recarray
    state: np.recarray


def bench_for(complaint: Complaint, catalogue: Catalogue, values: Mapping[str, float]) -> Bench:
    """Rows of a completed complaint: its question under its tyres, parking place and end charge."""
    ask = complaint.ask
    car, day = rows_for(ask, catalogue, values)
    state = start_state(ask.start, car[0], day[0])
    stand(state[0], day[0], complaint.parked)
    car.tyre_n *= pressure_share(complaint)
    cut_window(car[0], state[0], complaint.end_charge)
    return Bench(ask, car, day, state)


def pressure_share(complaint: Complaint) -> float:
    """Rolling resistance at the measured pressure over that at the placard's."""
    return 1.0 if complaint.tyre_pa is None else pressure_factor(complaint.tyre_pa, complaint.placard_pa)


def stand(state: np.record, day: np.record, parked: Parked | None) -> None:
    """Temperatures of the parked car; outside, and where nobody knows, they are as the question made them."""
    if parked in (None, Parked.OUTSIDE):
        return
    rest_k = 0.5 * (day.ambient_k + GARAGE_AIMS_K) if parked is Parked.GARAGE else day.ambient_k
    state.pack_k = state.cabin_air_k = state.cabin_interior_k = rest_k
    state.tyre_rise_k = rest_k - day.ambient_k
    if parked is Parked.WARM:
        state.pack_k = max(day.ambient_k, DRIVEN_PACK_K)
        state.tyre_rise_k = WARM_RISE_K
        if day.climate > 0:
            state.cabin_air_k = state.cabin_interior_k = day.set_point_k


def mean_emptiness(low: float, high: float) -> float:
    """Mean of the factor by which pack resistance rises towards empty, over a span of charge."""
    tail = np.exp(-low / LOW_CHARGE_DECAY) - np.exp(-high / LOW_CHARGE_DECAY)
    return float(1 + LOW_CHARGE_RISE * LOW_CHARGE_DECAY * tail / (high - low))


def cut_window(car: np.record, state: np.record, end_charge: float) -> None:
    """Make the pack's window begin at a charge; nothing changes for empty."""
    if end_charge <= 0:
        return
    left = 1 - end_charge
    grid = np.linspace(0, 1, OCV_POINTS)
    start = (state.charge - end_charge) / left
    car.resistance_ohm *= mean_emptiness(end_charge, state.charge) / mean_emptiness(0.0, start)
    car.ocv_v[:] = np.interp(end_charge + left * grid, grid, car.ocv_v)
    car.capacity_c *= left
    state.charge = start


def window_j(bench: Bench) -> float:
    """What the cells give between the two charges, J: charge times open-circuit voltage, typical car."""
    grid = np.linspace(0, float(bench.state.charge[0]), OCV_POINTS)
    volt = np.interp(grid, np.linspace(0, 1, OCV_POINTS), bench.car.ocv_v[0])
    return float(bench.car.capacity_c[0] * np.trapezoid(volt, grid))


def sampled_draws(complaint: Complaint, values: Mapping[str, float]) -> np.recarray:
    """The quote's draws; where health is not known, each with its own."""
    draws = draws_for(complaint.ask, values)
    age(draws, complaint, relative_health(complaint, health_normals()))
    return draws


def health_normals() -> np.ndarray:
    """One more column of the quote's hypercube, for the health of each draw."""
    return hypercube(ROWS, len(DRAW.names) + 1)[:, -1]


def relative_health(complaint: Complaint, normal: np.ndarray) -> np.ndarray:
    """Health of sampled cars over the central one; ones where it was measured."""
    if complaint.health_stated:
        return np.ones(len(normal))
    odometer_m = TYPICAL_ODOMETER_M if complaint.odometer_m is None else complaint.odometer_m
    return sampled_health(odometer_m, normal) / complaint.ask.start.state_of_health


def age(draws: np.recarray, complaint: Complaint, relative: np.ndarray) -> None:
    """Give every draw its own health, as factors on charge and resistance."""
    central = complaint.ask.start.state_of_health
    draws.usable *= relative
    draws.resistance *= health_resistance_factor(relative * central) / health_resistance_factor(central)


def drive(benches: Sequence[Bench], catalogue: Catalogue, draws: np.recarray | None = None) -> Outcome:
    """Drive rows to empty on one journey: several benches with the typical car's draw, or one bench with many draws."""
    ask = benches[0].ask
    many = len(benches) if draws is None else len(draws)
    own = np.arange(many)
    row_of = own if draws is None else np.zeros(many, int)
    joined = [np.concatenate([getattr(each, name) for each in benches]) for name in ("car", "day", "state")]
    cars, days, states = (each.view(np.recarray) for each in joined)
    scenarios = Scenarios(
        cars=cars,
        days=days,
        draws=central_draw(many) if draws is None else draws,
        car_of=row_of,
        day_of=row_of,
        draw_of=own,
        states=states[row_of].view(np.recarray),
        precondition=np.array([wants_preconditioning(each.ask) for each in benches])[row_of],
        asks=(ask,),
        sampled=0,
    )
    return run(scenarios, ask, catalogue)


def distance_m(outcome: Outcome) -> np.ndarray:
    """Distance to the end charge, m, a row a scenario; a journey that never empties the pack counts 3 000 km."""
    return np.where(outcome.ended == DISTANCE_LIMIT, FURTHEST_M, outcome.total.distance_m)
