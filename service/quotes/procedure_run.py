"""What a car gets in a test: any recipe of `procedures`, for one car or for many variants of it at once.

Method   each part is driven from full to empty, and once more from warm at half charge; whole cycles count: range is
         energy of the drive, less the first cycle's, over a later cycle's, and one more. That is how SAE J1634 weighs
         its cycles, and it makes the figures smooth where a drive to empty ends somewhere within a cycle.
Meters   battery  DC at the terminals     socket  AC, recharging what left the cells by the rates of the whole refill
Error    against driving to empty within 0.2 %, and what the unfinished last cycle of that drive is worth (tested).
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace

import numpy as np

from service.catalogue import Catalogue
from service.charging import CHARGER, charger_row, sessions
from service.physics.march import EMPTY
from service.physics.rows import STATE, table
from service.physics.tables import central_draw, start_state
from service.quotes.assume import complete
from service.quotes.loading import rolls_loading
from service.quotes.procedures import Part, Recipe
from service.quotes.scenarios import FULL_CHARGE, Outcome, Scenarios, rows_for, run, wants_preconditioning
from service.specs import Ask, BodyAndTyres, Cabin, Circuit, Procedure, Start, Vehicle, Weather

__all__ = ["Measured", "Trial", "ask_for", "impose", "measure", "scenarios_of"]

HALF = 0.5  # charge at which a later cycle is looked at
CELL_HUMIDITY = 0.5  # UN R154 asks for 5.5–12.2 g of water a kg of air, from memory; 50 % at 23 °C is 8.8


@dataclass(frozen=True, slots=True)
class Trial:
    """One car through the test, with factors of `rows.DRAW` on what is not known of it."""

    vehicle: Vehicle
    factors: Mapping[str, float] = field(default_factory=dict)


@dataclass(frozen=True, eq=False, slots=True)
class Measured:
    """A row a trial. Parts and phases in the recipe's order; NaN at the socket for a car without an inlet."""

    recipe: Recipe
    vehicle: Vehicle  # first trial's, completed
    socket_j_m: np.ndarray  # (rows, parts)
    battery_j_m: np.ndarray
    range_m: np.ndarray
    recharge_j: np.ndarray  # at the socket, empty to full
    recharge_s: np.ndarray
    phase_share: np.ndarray  # consumption of each phase over the whole cycle's, (rows, phases)

    @property
    def shares(self) -> np.ndarray:
        """Weight of each part."""
        return np.array([part.share for part in self.recipe.parts])

    @property
    def socket(self) -> np.ndarray:
        """Combined consumption at the socket, J/m: arithmetic, which is harmonic for distance on energy."""
        return self.socket_j_m @ self.shares

    @property
    def battery(self) -> np.ndarray:
        """The same at the pack's terminals."""
        return self.battery_j_m @ self.shares

    @property
    def range(self) -> np.ndarray:
        """Combined range, m: arithmetic, 40 CFR 600.311-12(j)."""
        return self.range_m @ self.shares


def measure(trials: Sequence[Trial], recipe: Recipe, catalogue: Catalogue, phases: bool = False) -> Measured:
    """Run the test.

    Args:
        trials: variants of one car: the same kind, pack chemistry and size.
        phases: look at the phases of the cycle, too; takes a run for each trial.
    """
    values = {name: typical.value for name, typical in catalogue.typical.items()}
    found = [part_of(trials, part, recipe, catalogue, values) for part in recipe.parts]
    cut = recipe.parts[0].phases if phases else ()
    share = [phase_shares(trial, recipe, catalogue, values) for trial in trials] if cut else np.zeros((len(trials), 0))
    return Measured(
        recipe,
        found[0].vehicle,
        *(
            np.stack([getattr(each, name) for each in found], axis=1)
            for name in ("socket_j_m", "battery_j_m", "range_m")
        ),
        recharge_j=np.mean([each.wall_j for each in found], axis=0),
        recharge_s=np.mean([each.recharge_s for each in found], axis=0),
        phase_share=np.array(share),
    )


@dataclass(frozen=True, eq=False, slots=True)
class _PartRun:
    """One part, a row a trial."""

    vehicle: Vehicle
    socket_j_m: np.ndarray
    battery_j_m: np.ndarray
    range_m: np.ndarray
    wall_j: np.ndarray
    recharge_s: np.ndarray


def ask_for(vehicle: Vehicle, part: Part, recipe: Recipe, catalogue: Catalogue) -> Ask:
    """The test as a completed question, recharged at a supply that the car's charger just loads fully."""
    ask = Ask(
        replace(vehicle, anchor=None),
        part.journey,
        Weather(recipe.cell_k, CELL_HUMIDITY),
        Procedure.DYNAMOMETER,
        Start(soaked=recipe.soaked),
        Cabin(recipe.climate, recipe.set_point_k),
        band=False,
    )
    ask, _ = complete(ask, catalogue, with_engine=False)
    car = ask.vehicle
    if not car.kind.plugs_in:
        return ask
    amps = car.onboard_charger_w / (recipe.supply_volts * car.onboard_charger_phases)
    supply = Circuit("test", "the test's supply", "own", recipe.supply_volts, amps, car.onboard_charger_phases)
    return replace(ask, circuit=supply)


def scenarios_of(
    trials: Sequence[Trial], asks: Sequence[Ask], recipe: Recipe, catalogue: Catalogue, values: Mapping[str, float]
) -> Scenarios:
    """A row a trial, each with its own car, on the test's day."""
    pairs = [rows_for(ask, catalogue, values, rolls_loading(ask.vehicle, recipe.mass_rule)) for ask in asks]
    cars = np.concatenate([car for car, _ in pairs]).view(np.recarray)
    day = pairs[0][1]
    if isinstance(asks[0].vehicle.road_load, BodyAndTyres):
        day.air_kg_m3 = recipe.air_kg_m3
    impose(cars, recipe)
    draws = central_draw(len(trials))
    for row, trial in enumerate(trials):
        for name, factor in trial.factors.items():
            draws[name][row] = factor
    own, only = np.arange(len(trials)), np.zeros(len(trials), int)
    states = start_state(asks[0].start, cars[0], day[0], len(trials))
    ready = np.full(len(trials), wants_preconditioning(asks[0]))
    return Scenarios(cars, day, draws, own, only, own, states, ready, tuple(asks), len(trials) - 1)


def impose(cars: np.recarray, recipe: Recipe) -> None:
    """What the rolls do in a cold test: the changed coefficients stand for cold air and warmed tyres in it."""
    if recipe.coefficient_factor == 1.0:
        return
    for name in ("tyre_n", "bearing_n", "bearing_n_s_m", "drag_area_m2"):
        cars[name] *= recipe.coefficient_factor
    cars.tyre_reference_k = recipe.cell_k


def part_of(
    trials: Sequence[Trial], part: Part, recipe: Recipe, catalogue: Catalogue, values: Mapping[str, float]
) -> _PartRun:
    """One part of the test for every trial."""
    asks = [ask_for(trial.vehicle, part, recipe, catalogue) for trial in trials]
    scenarios = scenarios_of(trials, asks, recipe, catalogue, values)
    cold = run(scenarios, asks[0], catalogue)
    warm = run(replace(scenarios, states=warmed(cold)), asks[0], catalogue)
    range_m, battery_j = whole_cycles(cold, warm)
    wall_j, recharge_s = recharged(scenarios, asks, cold, values)
    return _PartRun(asks[0].vehicle, wall_j / range_m, battery_j / range_m, range_m, wall_j, recharge_s)


def warmed(outcome: Outcome) -> np.recarray:
    """Before a later cycle: as at the end of the drive, half full."""
    states = table(STATE, len(outcome.states))
    states[:] = outcome.states
    states.charge, states.behind_s = HALF, 0.0
    return states


def cycles_driven(cold: Outcome, warm: Outcome) -> np.ndarray:
    """Cycles on one charge, the first included; NaN where it does not last for one, or a limit ends the drive.

    A later cycle takes the terminal energy of the warm one; what the pack loses on top is the mean of the whole drive,
    for it rises towards empty.
    """
    whole = (cold.ended == EMPTY) & (cold.first_ended != EMPTY) & (warm.first.terminals_j > 0)
    later_j = np.where(whole, cold.total.terminals_j - cold.first.terminals_j, np.nan)
    return 1 + later_j / np.where(whole, warm.first.terminals_j, np.nan)


def whole_cycles(cold: Outcome, warm: Outcome) -> tuple[np.ndarray, np.ndarray]:
    """Range, m, and energy at the terminals over it, J; a car that does not last a cycle counts what it drove."""
    cycles = cycles_driven(cold, warm)
    range_m = cold.first.distance_m + (cycles - 1) * warm.first.distance_m
    battery_j = cold.first.terminals_j + (cycles - 1) * warm.first.terminals_j
    short = np.isnan(cycles)
    range_m = np.where(short, cold.total.distance_m, range_m)
    return np.maximum(range_m, 1.0), np.where(short, cold.total.terminals_j, battery_j)


def recharged(
    scenarios: Scenarios, asks: Sequence[Ask], outcome: Outcome, values: Mapping[str, float]
) -> tuple[np.ndarray, np.ndarray]:
    """Socket energy that puts back what left the cells, J, and the time of the whole refill, s; NaN: no inlet."""
    if asks[0].circuit is None:
        nothing = np.full(len(asks), np.nan)
        return nothing, nothing
    chargers = table(CHARGER, len(asks))
    for row, ask in enumerate(asks):
        chargers[row] = charger_row(ask.vehicle, ask.circuit, values["charger_conversion"], values["charger_fixed_w"])
    ambient_k = asks[0].weather.ambient_k
    filled = sessions(
        scenarios.cars, scenarios.draws, chargers, outcome.states.charge, FULL_CHARGE, ambient_k, outcome.states.pack_k
    )
    into = np.where(filled.cells_j > 0, filled.cells_j, np.nan)
    return outcome.total.cells_j * filled.wall_j / into, filled.seconds


def phase_shares(trial: Trial, recipe: Recipe, catalogue: Catalogue, values: Mapping[str, float]) -> np.ndarray:
    """Consumption of each phase over that of the whole cycle, first and later cycles weighed as driven."""
    part = recipe.parts[0]
    ask = ask_for(trial.vehicle, part, recipe, catalogue)
    scenarios = scenarios_of([trial], [ask], recipe, catalogue, values)
    cold = run(scenarios, ask, catalogue, recorded=True)
    starts = warmed(cold)
    warm = run(replace(scenarios, states=starts), ask, catalogue, recorded=True)
    cycles = float(np.nan_to_num(cycles_driven(cold, warm)[0], nan=1.0))
    car = scenarios.cars[0]
    first_j, metres = metered(cold.record, car, FULL_CHARGE, part)
    later_j, _ = metered(warm.record, car, HALF, part)
    phase_j, metres = first_j + (cycles - 1) * later_j, np.maximum(metres, 1.0)
    return (phase_j / metres) / (phase_j.sum() / metres.sum())


def metered(record: np.recarray, car: np.record, charge: float, part: Part) -> tuple[np.ndarray, np.ndarray]:
    """Energy leaving the cells, J (for a pack as large as the table says), and metres, of each phase of one cycle."""
    edges = [part.phases[0].from_s, *(phase.to_s for phase in part.phases)]
    time_s = np.concatenate([[0.0], record.time_s])
    grid = np.linspace(0, 1, len(car.ocv_v))
    stored = np.concatenate([[0.0], np.cumsum(0.5 * (car.ocv_v[1:] + car.ocv_v[:-1]) * np.diff(grid))])
    left = np.interp(np.concatenate([[charge], record.charge]), grid, stored) * car.capacity_c
    metres = np.interp(edges, time_s, np.concatenate([[0.0], record.distance_m]))
    return -np.diff(np.interp(edges, time_s, left)), np.diff(metres)
