"""The car behind a label: what is unknown of it is moved until the model, run through the label's test, gives it.

Moved    drag     air and rolling together, for the combined consumption
         air, and rolling with drivetrain losses    apart, where the label has parts (city and highway, or phases) that
                  the common scale leaves more than `PARTS_AGREE` off: least squares in sigmas of the priors. Of a US
                  label no farther than drivetrain losses go (`LOSS_SIGMAS`); the rest is `tilt`
         tilt     adjustment of city over that of highway: many US labels come from five test cycles, and then the two
                  are adjusted by different factors between 0.66 and 0.77 (40 CFR 600.210-12(d)(3), from memory)
         energy   of a recharge, where the label has a range: consumption × range. It is usable energy × charging
                  efficiency, so an unknown pack is solved for; of a known one the charger's losses are moved between
                  `LEAST_LOSS` and `MOST_LOSS`, and only what is left moves the pack
         rating   of the onboard charger, where only the recharge time is known
Method   fixed-point steps with slopes found once at the start; each is a run of whole cycles (`procedure_run`).
Source   priors: scatter_* of data/typical.csv; charger losses: chargers alone 86–95 %, 150–400 W (from memory).
"""

import math
from dataclasses import dataclass, replace

import numpy as np

from service.catalogue import Catalogue
from service.quotes.label_checks import (
    CITY_SHARE,
    agreeing_parts,
    beyond_drag,
    check_body,
    check_energy,
    check_parts,
    check_recharge,
    not_drivable,
    part_weights,
)
from service.quotes.procedure_run import Measured, Trial, measure
from service.quotes.procedures import LABEL_RECIPES
from service.specs import BodyAndTyres, Label, LabelProcedure, Meter, RoadLoad, Vehicle

__all__ = ["LEAST_LOSS", "MOST_LOSS", "Fit", "Moves", "fit_label", "label_figures", "priors", "tilted"]

LEAST_SCALE, MOST_SCALE = 0.5, 2.0  # of drag: what no car is outside of
LEAST_LOSS, MOST_LOSS = 0.5, 2.0  # of the charger's typical losses
PARTS_AGREE = 0.008  # of a part's consumption: within it, two rounded figures say nothing more of the car
CLOSE = 2e-4  # of a figure: far inside the label's own rounding; a fitted car fits at once
STILL = 5e-3  # sigmas: parts that no plausible car brings nearer are left where they are
STEPS = 15
PART_STEPS = 8  # afterwards parts that cannot all be met are left as near as they came
SLOPE_STEP = 0.1
US_STEP_J_M = 3.6e6 / 160_934.4  # a US label rounds to whole kWh/100 miles
WLTP_STEP_J_M = 3.6e6 / 1e6  # a WLTP figure has one decimal of kWh/100 km
HALVINGS = 40
LOSS_SIGMAS = 2.0  # of drivetrain losses that city and highway may ask for: 19 cars in 20
FARTHEST = math.log(3)  # that anything but drag may move
LEAST_DRIVE_LOSS, MOST_DRIVE_LOSS = 0.3, 3.0  # of typical losses: what a question may state


@dataclass(frozen=True, slots=True)
class Moves:
    """Natural logarithms of what is moved."""

    drag: float = 0.0
    air: float = 0.0
    rolling: float = 0.0
    loss: float = 0.0
    charger: float = 0.0
    usable: float = 0.0
    rating: float = 0.0
    tilt: float = 0.0  # adjustment of city over that of highway; no figure of the car


@dataclass(frozen=True, eq=False, slots=True)
class Fit:
    """The car found, what was moved from the start, and the test of the found car."""

    vehicle: Vehicle
    moves: Moves
    measured: Measured


def label_figures(measured: Measured, label: Label) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """Consumption, J/m, that of each part, and range, m, as the label states them; a row a trial."""
    adjustment = adjustment_of(label)
    parts = measured.socket_j_m if label.basis is Meter.SOCKET else measured.battery_j_m
    combined = parts @ measured.shares
    if measured.phase_share.shape[1]:
        parts = measured.phase_share * combined[:, None]
    return combined / adjustment, parts / adjustment, measured.range * adjustment


def tilted(parts_j_m: np.ndarray, tilt: float) -> np.ndarray:
    """City and highway, J/m, with adjustments as far apart as `Moves.tilt`; their combined figure stays."""
    if not tilt:
        return parts_j_m
    weights = np.array([CITY_SHARE, 1 - CITY_SHARE])
    apart = parts_j_m * np.array([1.0, math.exp(tilt)])
    return apart * ((parts_j_m @ weights) / (apart @ weights))[:, None]


def adjustment_of(label: Label) -> float:
    """Label over test distance; the usual one where it is not known, 1 where the procedure has none."""
    usual = LABEL_RECIPES[label.procedure].adjustment
    if usual is None:
        return 1.0
    return usual.usual if label.adjustment is None else label.adjustment


def rounding_step_j_m(label: Label) -> float:
    """What the last digit of such a label is worth, J/m."""
    return US_STEP_J_M if LABEL_RECIPES[label.procedure].adjustment else WLTP_STEP_J_M


def priors(vehicle: Vehicle, catalogue: Catalogue, drag_known: bool) -> dict[str, float]:
    """One sigma of air, rolling and losses before the label is looked at.

    Args:
        drag_known: road load or drag area and tyres were stated, not taken from the size of the car.
    """
    known = "parts" if isinstance(vehicle.road_load, BodyAndTyres) else "measured"
    air = f"scatter_air_{known}" if drag_known else "scatter_air_label"
    names = {"air": air, "rolling": f"scatter_tyre_{known}", "loss": "scatter_loss"}
    return {name: catalogue.typical_entry(entry).value for name, entry in names.items()}


def moved(start: Vehicle, moves: Moves) -> Vehicle:
    """The car with everything moved."""
    air, rolling = math.exp(moves.drag + moves.air), math.exp(moves.drag + moves.rolling)
    load = start.road_load
    if isinstance(load, BodyAndTyres):
        load = BodyAndTyres(load.cd_a_m2 * air, load.crr * rolling)
    else:
        assert isinstance(load, RoadLoad)
        load = replace(
            load, f0_n=load.f0_n * rolling, f1_n_s_m=load.f1_n_s_m * rolling, f2_n_s2_m2=load.f2_n_s2_m2 * air
        )
    usable_j, nominal_j = start.battery.usable_j * math.exp(moves.usable), start.battery.nominal_j
    if nominal_j is not None:
        nominal_j = max(nominal_j, usable_j)
    return replace(
        start,
        road_load=load,
        battery=replace(start.battery, usable_j=usable_j, nominal_j=nominal_j),
        drive_loss=held_loss(scaled(start.drive_loss, moves.loss)),
        charger_loss=scaled(start.charger_loss, moves.charger),
        onboard_charger_w=scaled(start.onboard_charger_w, moves.rating),
    )


def held(move: float) -> float:
    """A move no farther than any makes sense."""
    return min(max(move, -FARTHEST), FARTHEST)


def held_loss(loss: float | None) -> float | None:
    """Drivetrain losses within what a question may state."""
    return None if loss is None else min(max(loss, LEAST_DRIVE_LOSS), MOST_DRIVE_LOSS)


def scaled(value: float | None, move: float) -> float | None:
    """A value moved; an unknown factor is one, and stays unknown where nothing moves it."""
    if move == 0.0:
        return value
    return (1.0 if value is None else value) * math.exp(move)


def fit_label(
    start: Vehicle, label: Label, catalogue: Catalogue, usable_known: bool, rating_known: bool, drag_known: bool
) -> Fit:
    """Move what is unknown until the test gives the label.

    Args:
        start: nothing that the test needs is None in it; where the fit begins.
        usable_known, rating_known, drag_known: stated, not a first guess.
    Errors: `BadInput` by name where the label contradicts itself or the rest of what was stated.
    """
    return _Fitting(start, label, catalogue, usable_known, rating_known, drag_known).run()


class _Fitting:
    """One fit in progress: slopes at the start, and steps."""

    def __init__(
        self, start: Vehicle, label: Label, catalogue: Catalogue, usable_known: bool, rating_known: bool,
        drag_known: bool,
    ):  # fmt: skip
        self.start, self.label, self.catalogue = start, label, catalogue
        self.usable_known, self.rating_known, self.drag_known = usable_known, rating_known, drag_known
        self.recipe = LABEL_RECIPES[label.procedure]
        self.names = [name for name, _ in label.parts_j_m]
        self.goal = agreeing_parts(label)
        tau = priors(start, catalogue, drag_known)
        self.tau = np.array([tau["air"], tau["rolling"]])
        us = label.procedure is LabelProcedure.US
        self.farthest_loss = LOSS_SIGMAS * tau["loss"] if us else math.inf
        self.loss_share = 1.0  # move of losses for one of rolling: as their priors
        self.energy = 0.0  # logarithm of what a recharge takes over that of the start

    def measured(self, vehicles: list[Vehicle]) -> Measured:
        phased = bool(self.recipe.parts[0].phases) and bool(self.names)
        return measure([Trial(each) for each in vehicles], self.recipe, self.catalogue, phased)

    def run(self) -> Fit:
        """To the end, or to a contradiction."""
        moves = Moves()
        self.find_slopes()
        for step in range(STEPS):
            car = moved(self.start, moves)
            measured = self.measured([car])
            combined, parts, range_m = label_figures(measured, self.label)
            told = (combined[0], range_m[0], measured.recharge_s[0], *parts[0])
            if not np.isfinite(told).all() or min(told) <= 0:
                raise not_drivable(self.label)
            consumption_miss = math.log(self.label.consumption_j_m / combined[0])
            energy_miss = self.energy_miss(measured, combined[0], range_m[0])
            rating_miss = self.rating_miss(measured)
            parts_miss = self.parts_miss(parts[0])
            wanted = self.parts_step(parts_miss) if step < PART_STEPS else np.zeros(2)
            apart = self.within_losses(moves, wanted)
            misses = (consumption_miss, energy_miss, rating_miss)
            if max(abs(each) for each in misses) < CLOSE and np.abs(apart / self.tau).max() < STILL:
                break
            moves = self.stepped(moves, consumption_miss, energy_miss, rating_miss, apart)
        if abs(consumption_miss) > 10 * CLOSE:
            raise beyond_drag(self.label, *self.drag_span(moves))
        check_body(self.label, car.road_load)
        check_recharge(self.label, measured, car, self.rating_known)
        return Fit(car, replace(moves, tilt=self.tilt(moves, parts_miss)), measured)

    def find_slopes(self) -> None:
        """How the label's figures answer to drag and, where it has parts, to air, rolling and losses."""
        single = [Moves(drag=SLOPE_STEP)]
        if self.names:
            single += [Moves(air=SLOPE_STEP), Moves(rolling=SLOPE_STEP), Moves(loss=SLOPE_STEP)]
        measured = self.measured([self.start, *(moved(self.start, each) for each in single)])
        combined, parts, _ = label_figures(measured, self.label)
        if not np.isfinite(combined).all() or combined.min() <= 0 or combined[0] == combined[1]:
            raise not_drivable(self.label)
        self.drag_slope = math.log(combined[1] / combined[0]) / SLOPE_STEP
        if self.names:
            sigma = np.array([*self.tau, self.catalogue.typical_entry("scatter_loss").value])
            apart = np.log(parts[2:] / parts[0]).T / SLOPE_STEP
            if not self.drag_known:
                check_parts(self.label, parts[0], combined[0], apart * sigma)
            self.loss_share = sigma[2] / sigma[1]
            self.part_slopes = np.stack([apart[:, 0], apart[:, 1] + self.loss_share * apart[:, 2]], axis=1)
        self.check_energy(measured, combined[0])

    def check_energy(self, measured: Measured, combined_j_m: float) -> None:
        """A stated battery must go with consumption and range."""
        if self.label.electric_range_m is None or not self.usable_known:
            return
        _, _, range_m = label_figures(measured, self.label)
        span = (0.0, 0.0)
        if self.label.basis is Meter.SOCKET:
            less, more = self.loss_bounds()
            span = (-self.loss_answer(less), -self.loss_answer(more))
        check_energy(self.label, self.start.battery.usable_j, float(combined_j_m * range_m[0]), span)

    def energy_miss(self, measured: Measured, combined_j_m: float, range_m: float) -> float:
        """Logarithm of the recharge energy that the label tells over the model's; 0 where it tells none."""
        if self.label.electric_range_m is None:
            return 0.0
        return math.log(self.label.consumption_j_m * self.label.electric_range_m / (combined_j_m * range_m))

    def rating_miss(self, measured: Measured) -> float:
        """The same of the recharge time, where it is what tells the charger's rating."""
        if self.label.recharge_s is None or self.rating_known:
            return 0.0
        return math.log(measured.recharge_s[0] / self.label.recharge_s)

    def parts_miss(self, parts_j_m: np.ndarray) -> np.ndarray:
        """How far each part is off, logarithm; nothing where all agree."""
        if not self.names:
            return np.zeros(0)
        miss = np.log(self.goal / parts_j_m)
        return miss if np.abs(miss).max() > PARTS_AGREE else np.zeros(len(miss))

    def parts_step(self, miss: np.ndarray) -> np.ndarray:
        """Move of air, and of rolling with losses, that takes the parts where they belong: least squares in sigmas."""
        if not miss.any():
            return np.zeros(2)
        return self.tau * (np.linalg.pinv(self.part_slopes * self.tau, rcond=1e-3) @ miss)

    def within_losses(self, moves: Moves, apart: np.ndarray) -> np.ndarray:
        """As much of a move apart as drivetrain losses allow, from wherever they stand."""
        now, step = math.log(self.start.drive_loss or 1.0) + moves.loss, self.loss_share * float(apart[1])
        if step == 0.0 or abs(now + step) <= self.farthest_loss:
            return apart
        room = math.copysign(self.farthest_loss, step) - now
        return apart * min(max(room / step, 0.0), 1.0)

    def tilt(self, moves: Moves, miss: np.ndarray) -> float:
        """What is left between city and highway where drivetrain losses have gone as far as they may."""
        apart = self.parts_step(miss)
        if not apart.any() or np.array_equal(self.within_losses(moves, apart), apart):
            return 0.0
        return float(miss[1] - miss[0])

    def stepped(
        self, moves: Moves, consumption_miss: float, energy_miss: float, rating_miss: float, apart: np.ndarray
    ) -> Moves:
        """The next try."""
        self.energy += energy_miss
        charger, usable = self.split_energy()
        answered = self.loss_answer(moves.charger) - self.loss_answer(charger)  # what the charger does to consumption
        if self.names:
            weights = part_weights(self.label) * self.goal
            answered += float(weights / weights.sum() @ self.part_slopes @ apart)
        drag = moves.drag + (consumption_miss - answered) / self.drag_slope
        return Moves(
            drag=min(max(drag, math.log(LEAST_SCALE)), math.log(MOST_SCALE)),
            air=held(moves.air + float(apart[0])),
            rolling=held(moves.rolling + float(apart[1])),
            loss=held(moves.loss + self.loss_share * float(apart[1])),
            charger=charger,
            usable=usable,
            rating=held(moves.rating + rating_miss),
        )

    def split_energy(self) -> tuple[float, float]:
        """Moves of charger losses and usable energy that together make a recharge take what it should."""
        if self.label.electric_range_m is None or self.label.basis is Meter.BATTERY or not self.usable_known:
            return 0.0, held(self.energy)
        low, high = self.loss_bounds()
        for _ in range(HALVINGS):
            middle = 0.5 * (low + high)
            if -self.loss_answer(middle) < self.energy:
                low = middle
            else:
                high = middle
        left = self.energy + self.loss_answer(low)
        return low, left if abs(left) > CLOSE else 0.0

    def loss_bounds(self) -> tuple[float, float]:
        """Least and largest plausible move of the charger's losses."""
        already = math.log(self.start.charger_loss or 1.0)
        return math.log(LEAST_LOSS) - already, math.log(MOST_LOSS) - already

    def loss_answer(self, move: float) -> float:
        """Logarithm of the charger's efficiency with its losses moved, over that at the start: negative for more."""
        return math.log(self.charger_efficiency(move) / self.charger_efficiency(0.0))

    def charger_efficiency(self, move: float) -> float:
        """Power behind the charger over power at the socket, losses moved."""
        loss = (self.start.charger_loss or 1.0) * math.exp(move)
        fixed_w = self.catalogue.typical_entry("charger_fixed_w").value
        lost = 1 - self.catalogue.typical_entry("charger_conversion").value
        return (1 - lost * loss) * (1 - fixed_w * loss / self.start.onboard_charger_w)

    def drag_span(self, moves: Moves) -> tuple[float, float]:
        """Consumption that the least and the most plausible drag give, J/m."""
        ends = [replace(moves, drag=math.log(scale)) for scale in (LEAST_SCALE, MOST_SCALE)]
        combined, _, _ = label_figures(self.measured([moved(self.start, each) for each in ends]), self.label)
        return float(combined[0]), float(combined[1])
