"""Scenarios side by side: the central question, its sampled draws, and one changed question for each sensitivity.

Shape    cars, days and draws are tables; three index columns join them, so that 256 draws of one car hold the car once.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np

from service.catalogue import Catalogue
from service.charging import CHARGER, charger_row, charger_rows, sessions
from service.constants import US_REFERENCE_AIR_KG_M3, WLTP_REFERENCE_AIR_KG_M3
from service.physics.laps import DISTANCE_LIMIT, FIRST, LEDGER_ROWS, TOTAL, drive_rows, flat_view
from service.physics.march import EVENT_KINDS
from service.physics.precondition import warm_rows_j
from service.physics.rows import DRAW, EVENT, LEDGER, RECORD, START, table
from service.physics.tables import NOTHING_OVERDUE, Loading, car_row, central_draw, day_row, overdue_of, start_state
from service.quotes.assume import elevation_of, speaks_us
from service.quotes.band import ROWS, draws_for
from service.quotes.loading import loading
from service.quotes.supply import supply_volts
from service.specs import Ask, BodyAndTyres, Circuit, Climate, Outfit, Procedure, Vehicle
from service.trips.journey import trace_of
from service.trips.trace import thinned

__all__ = ["Outcome", "Scenarios", "refill", "refill_elsewhere", "run", "scenarios_for"]

FULL_CHARGE = 1.0
DRIVE_LOSSES = ("copper_share", "inverter_share", "inverter_ohmic_share", "gear_share", "ready_share")
MOST_STARTS = 60  # of the engine on one journey that are told one by one


@dataclass(frozen=True, eq=False, slots=True)
class Scenarios:
    """Tables and the columns that join them. Row 0 is the central question, rows 1 to `sampled` its draws."""

    cars: np.recarray
    days: np.recarray
    draws: np.recarray
    car_of: np.ndarray
    day_of: np.ndarray
    draw_of: np.ndarray
    states: np.recarray
    precondition: np.ndarray
    asks: tuple[Ask, ...]  # one a distinct question: the central one, then the changed ones
    sampled: int


@dataclass(frozen=True, eq=False, slots=True)
class Outcome:
    """What the march gave, a row a scenario."""

    first: np.recarray  # ledgers of one journey
    total: np.recarray  # ledgers to empty
    first_charge: np.ndarray  # state of charge after one journey
    first_ended: np.ndarray
    ended: np.ndarray
    states: np.recarray  # at the end
    first_events: np.recarray  # central row, by kind
    starts: np.recarray  # of the engine, central row, first journey: rows of `rows.START`
    first_fuel_m: np.ndarray  # where the drive to empty first burns fuel; inf where it never does
    preheat_j: np.ndarray  # drawn from the wall before leaving, at the pack's terminals
    record: np.recarray  # central row, first journey; empty unless asked for


def rolls_air_kg_m3(ask: Ask, car: np.record) -> float:
    """Air that a dynamometer imposes: the coefficients' own, or the procedure's for a car given by parts."""
    if not isinstance(ask.vehicle.road_load, BodyAndTyres):
        return float(car.reference_air_kg_m3)
    return US_REFERENCE_AIR_KG_M3 if speaks_us(ask) else WLTP_REFERENCE_AIR_KG_M3


def outfit_of(ask: Ask) -> Outfit:
    """How the car goes out; on rolls only its tyres do."""
    if ask.procedure is Procedure.DYNAMOMETER:
        return replace(ask.outfit, roof_box=False, trailer=None, body_load_w=0.0, door_openings_per_m=0.0)
    return ask.outfit


def rows_for(
    ask: Ask,
    catalogue: Catalogue,
    values: Mapping[str, float],
    loaded: Loading | None = None,
    car: np.recarray | None = None,
) -> tuple[np.recarray, np.recarray]:
    """The car's row and the day's row of one completed question.

    Args:
        loaded: what the car weighs where a test says it.
        car: its row, where it is known already.
    """
    vehicle, outfit, use = ask.vehicle, outfit_of(ask), ask.engine_use
    overdue = overdue_of(vehicle.triggers, use) if vehicle.kind.has_engine else NOTHING_OVERDUE
    if car is None:
        chemistry = catalogue.chemistry(vehicle.battery.chemistry)
        body = catalogue.body(vehicle.body)
        own = with_own_losses(vehicle, values)
        aboard = loaded or loading(ask, values)
        car = car_row(vehicle, chemistry, body, aboard, ask.start.state_of_health, own, outfit)
    surface = catalogue.surface(ask.weather.surface)
    clock = ask.weather.clock
    dark = None if clock is None else elevation_of(clock) < 0
    air_kg_m3 = rolls_air_kg_m3(ask, car[0])
    day = day_row(ask.weather, surface, ask.cabin, ask.procedure, air_kg_m3, values, outfit, dark, use, overdue)
    return car, day


def same_car(one: Ask, other: Ask) -> bool:
    """True where two questions have one car row: the same car, as old, going out alike with as much aboard."""
    return (
        one.vehicle == other.vehicle
        and one.start.state_of_health == other.start.state_of_health
        and one.outfit == other.outfit
        and one.procedure == other.procedure
        and (one.cabin.occupants, one.payload_kg) == (other.cabin.occupants, other.payload_kg)
    )


def with_own_losses(vehicle: Vehicle, values: Mapping[str, float]) -> Mapping[str, float]:
    """Typical values, with the drivetrain losses that a label told of this car."""
    if vehicle.drive_loss is None:
        return values
    return {**values, **{name: values[name] * vehicle.drive_loss for name in DRIVE_LOSSES}}


def scenarios_for(
    ask: Ask,
    changes: tuple[tuple[Ask, Mapping[str, float]], ...],
    catalogue: Catalogue,
    values: Mapping[str, float],
    draws: int = ROWS,
) -> Scenarios:
    """Tables for one completed question, its band of so many draws, and changed questions with factors on theirs."""
    sampled = draws_for(ask, values, draws) if ask.band else table(DRAW, 0)
    asks = (ask, *(changed for changed, _ in changes))
    first = rows_for(ask, catalogue, values)
    rest = [rows_for(each, catalogue, values, car=first[0] if same_car(each, ask) else None) for each in asks[1:]]
    pairs = [first, *rest]
    drawn = central_draw(1 + len(sampled) + len(changes))
    drawn[1 : 1 + len(sampled)] = sampled
    for row, (_, factors) in enumerate(changes, 1 + len(sampled)):
        for name, factor in factors.items():
            drawn[name][row] = factor
    question_of = np.concatenate([np.zeros(1 + len(sampled), int), np.arange(1, len(asks))])
    cars, days = (stacked(column) for column in zip(*pairs, strict=True))
    starts = stacked([start_state(each.start, car[0], day[0]) for each, (car, day) in zip(asks, pairs, strict=True)])
    return Scenarios(
        cars=cars,
        days=days,
        draws=drawn,
        car_of=question_of,
        day_of=question_of,
        draw_of=np.arange(len(question_of)),
        states=starts[question_of],
        precondition=np.array([wants_preconditioning(each) for each in asks])[question_of],
        asks=asks,
        sampled=len(sampled),
    )


def stacked(tables: Sequence[np.recarray]) -> np.recarray:
    """Tables of one kind and one row each as one table: `np.concatenate` would work out their common type each time."""
    whole = table(tables[0].dtype, len(tables))
    for row, each in enumerate(tables):
        whole[row] = each[0]
    return whole


def wants_preconditioning(ask: Ask) -> bool:
    """True where the cabin is brought to its set point on the wall."""
    return ask.start.preconditioned and ask.cabin.climate is Climate.AUTO


def run(
    scenarios: Scenarios,
    ask: Ask,
    catalogue: Catalogue,
    recorded: bool = False,
    skip: bool = True,
    thin: bool = False,
) -> Outcome:
    """Drive every scenario to empty on the question's journey.

    Args:
        recorded: keep the central row's states along the first journey.
        thin: the draws drive the `thinned` trace, the central and changed questions the whole one all the same.
        skip: False marches every lap, for tests.
    """
    trace = trace_of(ask.journey, catalogue)
    rows = len(scenarios.draw_of)
    states = scenarios.states.copy()
    preheat_j = np.zeros(rows)
    joined = (scenarios.cars, scenarios.days, scenarios.draws, scenarios.car_of, scenarios.day_of, scenarios.draw_of)
    warm_rows_j(*joined, states, scenarios.precondition, preheat_j)
    ledgers = table(LEDGER, rows * LEDGER_ROWS).reshape(rows, LEDGER_ROWS)
    events = table(EVENT, rows * 2 * len(EVENT_KINDS)).reshape(rows, 2, len(EVENT_KINDS))
    record = table(RECORD, len(trace.step_s) if recorded else 0)
    ends = np.zeros((rows, 3))
    whole_states, starts = states.copy(), table(START, MOST_STARTS)
    changed = 1 + scenarios.sampled
    of_draws = thinned(trace) if thin else trace
    for part, driven in ((slice(0, 1), trace), (slice(1, changed), of_draws), (slice(changed, rows), trace)):
        columns = *joined[:3], *(column[part] for column in joined[3:])
        books, flat = ledgers[part], flat_view(ledgers)[part]
        told, kept = (starts, record) if part.start == 0 else (starts[:0], record[:0])
        both = states[part], whole_states[part]
        drive_rows(*columns, driven.path, *both, books, flat, events[part], told, kept, ends[part], skip)
    return Outcome(
        first=ledgers[:, FIRST],
        total=ledgers[:, TOTAL],
        first_charge=ends[:, 1],
        first_ended=ends[:, 0].astype(int),
        ended=ends[:, 2].astype(int),
        states=states,
        first_events=events[0, 1],
        starts=starts[: int(min(whole_states.starts[0], MOST_STARTS))],
        first_fuel_m=np.where(states.first_fuel_m < 0, np.inf, states.first_fuel_m),
        preheat_j=preheat_j,
        record=record[record.time_s > 0],
    )


def refill_elsewhere(
    scenarios: Scenarios, outcome: Outcome, ask: Ask, circuits: Sequence[Circuit], values: Mapping[str, float]
) -> np.recarray:
    """The central row's refill on each of several circuits, a row of `SESSION` each."""
    fixed = (values["charger_conversion"], values["charger_fixed_w"])
    chargers = table(CHARGER, len(circuits))
    for row, circuit in enumerate(circuits):
        chargers[row] = charger_row(ask.vehicle, circuit, *fixed)
    return sessions(
        scenarios.cars[:1],
        scenarios.draws[:1],
        chargers,
        outcome.states.charge[0],
        FULL_CHARGE,
        ask.weather.ambient_k,
        outcome.states.pack_k[0],
    )


def refill(scenarios: Scenarios, outcome: Outcome, ask: Ask, values: Mapping[str, float]) -> np.recarray:
    """Charging sessions from where each drive ended to full, central row and draws.

    The car is plugged in as it arrives, in the day's air; each draw meets another voltage of the supply. A row of
    `SESSION` each. A charge that an engine would keep for ever is taken as used up all the same.
    """
    rows = slice(0, 1 + scenarios.sampled)
    car = scenarios.cars[0]
    kept = (outcome.ended[rows] == DISTANCE_LIMIT) & (car.engine_w > 0.0)
    charge = np.where(kept, car.low_charge, outcome.states.charge[rows])
    fixed = (values["charger_conversion"], values["charger_fixed_w"])
    return sessions(
        scenarios.cars[:1],
        scenarios.draws[rows],
        charger_rows(ask.vehicle, ask.circuit, *fixed, supply_volts(ask, scenarios.sampled)),
        charge,
        FULL_CHARGE,
        ask.weather.ambient_k,
        outcome.states.pack_k[rows],
    )
