"""The car behind a label, ready for any question: fitted once, listed, and with what the label leaves open.

Path     fill what the fit needs → `label_fit` → what was moved, with its typical value and whether it is plausible →
         `Anchor`: first-order answers of the label's figures to each factor of a draw (`label_draws` uses them).
Cache    cars are frozen, so each label is fitted once; the latest `KEPT` are kept.
Source   size class and mass where nobody gave them: rows mass_* and cd_a_* of data/typical.csv.
"""

import math
from dataclasses import dataclass, replace
from functools import lru_cache

import numpy as np

from service.catalogue import Catalogue
from service.quotes.answer import Assumption
from service.quotes.assume import body_for
from service.quotes.label_checks import ADJUSTED_APART, LABEL_PARTS, check_pack, check_ranges, check_rating, check_whole
from service.quotes.label_fit import Fit, adjustment_of, fit_label, label_figures, priors, rounding_step_j_m, tilted
from service.quotes.loading import kerb_mass_kg
from service.quotes.procedure_run import Measured, Trial, measure
from service.quotes.procedures import LABEL_RECIPES
from service.specs import Anchor, Ask, BodyAndTyres, Label, LabelProcedure, MassBasis, Meter, RoadLoad, Vehicle
from service.units import KWH_J, MILE_M

__all__ = [
    "ANCHOR_FACTORS",
    "CHARGER_LOSSES",
    "FittedLabel",
    "Moved",
    "adjustment_note",
    "anchored",
    "behind_label",
    "fitted",
    "reproduced",
]

KEPT = 256  # cars in the cache
VISIBLE = 0.05  # smaller moves lie within what coefficients and chargers are known to
ANCHOR_FACTORS = ("tyre", "air", "loss", "resistance", "auxiliary", "charger", "usable")
FACTOR_STEP = 0.1
REPEATABILITY = 0.015  # one sigma of a consumption: SAE J1634 repeats within 1–2 %, from memory
WITHIN_A_TEST = 0.01  # the same of the parts of one test against each other: driven on one day, from memory
USABLE_UNKNOWN = 0.3  # one sigma of a pack that only the label tells of: wide, so that the label decides
SURE = 2.5  # standard deviations within which a move counts as plausible
SOCKET_TO_BATTERY = 0.88  # first guess of a recharge's efficiency: 0.85–0.90, from memory
HEAVIEST_PACK = 0.4  # of the kerb mass: packs of long-range cars are about a quarter, from memory
CHARGER_LOSSES = "losses of the onboard charger over typical ones"
# one sigma of a drag area told apart from rolling, its size class known by mass alone: half of ln(0.97/0.74), typical
# large over mid-size car
SIZE_UNKNOWN = 0.13
ADJUSTMENTS = "adjustment of city over highway"
CHARGER_SIGMAS = 2.0  # of scatter_charger


@dataclass(frozen=True, slots=True)
class Moved:
    """One figure of the car that the label told."""

    parameter: str
    value: float
    unit: str
    typical: float | None  # where the fit began: a typical car's, or the stated coefficients'; None where none is usual
    plausible: bool

    @property
    def visible(self) -> bool:
        """Unlike where the fit began."""
        return not self.plausible or self.typical is None or abs(self.value / self.typical - 1) > VISIBLE

    def assumption(self) -> Assumption:
        """As an answer lists it."""
        usual = "" if self.typical is None else f", from {self.typical:.3g}"
        verdict = "plausible" if self.plausible else "unusual: check the label"
        return Assumption(self.parameter, self.value, self.unit, f"fitted to the label{usual}; {verdict}")


@dataclass(frozen=True, eq=False, slots=True)
class FittedLabel:
    """The car, what was moved, what was assumed on the way, and the test of the car."""

    vehicle: Vehicle
    moved: tuple[Moved, ...]
    assumed: tuple[Assumption, ...]
    measured: Measured
    known_besides: bool  # a road load stood beside the label
    tilt: float = 0.0  # logarithm of the adjustment of city over that of highway

    @property
    def notes(self) -> tuple[str, ...]:
        """What has to be said where the label asks for an unusual car."""
        odd = [each.parameter for each in self.moved if not each.plausible]
        if not odd:
            return ()
        return (f"The label asks for an unusual car ({', '.join(odd)}): check its figures.",)

    @property
    def assumptions(self) -> tuple[Assumption, ...]:
        """All of it, as an answer lists it; of a car given by more than its label only what moved visibly."""
        told = tuple(each.assumption() for each in self.moved if not self.known_besides or each.visible)
        if not told:
            told = (Assumption("label", "reproduced", "", f"by moving no figure by more than {VISIBLE:.0%}"),)
        return told + self.assumed


def anchored(ask: Ask, catalogue: Catalogue) -> tuple[Ask, tuple[Assumption, ...]]:
    """The question with the car behind its label, and what was found; unchanged where there is no label.

    Errors: `BadInput` by name where the label contradicts itself or the rest of what was stated.
    """
    found = behind_label(ask.vehicle, catalogue)
    return (ask, ()) if found is None else (replace(ask, vehicle=found.vehicle), found.assumptions)


def behind_label(vehicle: Vehicle, catalogue: Catalogue) -> FittedLabel | None:
    """The car behind its label; None where there is none, or none at a socket, or it has been found already."""
    if vehicle.label is None or vehicle.anchor is not None or not vehicle.kind.plugs_in:
        return None
    return fitted(vehicle, catalogue)


@lru_cache(maxsize=KEPT)
def fitted(vehicle: Vehicle, catalogue: Catalogue) -> FittedLabel:
    """Fit a car with a label. Errors as `anchored`."""
    label = vehicle.label
    check_ranges(label)
    check_whole(label, vehicle)
    start, assumed = begun(vehicle, catalogue)
    rating_told = vehicle.onboard_charger_w is None and label.recharge_s is not None
    if vehicle.battery.usable_j is None:
        wh_per_kg = catalogue.typical_entry("pack_wh_per_kg").value
        check_pack(label, start.battery.usable_j, kerb_mass_kg(start), wh_per_kg)
    if rating_told:
        check_rating(label, start.onboard_charger_w)
    usable_known, drag_known = vehicle.battery.usable_j is not None, vehicle.road_load is not None
    fit = fit_label(start, label, catalogue, usable_known, not rating_told, drag_known)
    found = fit.vehicle
    if vehicle.onboard_charger_w is None and not rating_told:
        found = replace(found, onboard_charger_w=None)  # left to be assumed, and listed
    found = replace(found, anchor=anchor_of(fit, vehicle, catalogue))
    moved = moved_of(fit, start, vehicle, catalogue)
    return FittedLabel(found, moved, (*assumed, *adjustment_note(label)), fit.measured, drag_known, fit.moves.tilt)


def begun(vehicle: Vehicle, catalogue: Catalogue) -> tuple[Vehicle, tuple[Assumption, ...]]:
    """The car where the fit starts, and what nobody gave: size, mass, road load, first guesses of pack and charger."""
    assumed = []
    body = vehicle.body
    if body is None:
        body = "medium" if vehicle.mass_kg is None else body_for(kerb_mass_kg(vehicle))
        if vehicle.mass_kg is None:
            assumed.append(Assumption("size of car", body, "", "neither size nor mass was given: common practice"))
    if vehicle.mass_kg is None:
        typical = catalogue.typical_entry(f"mass_{body}_{'engine' if vehicle.kind.has_engine else 'bev'}_kg")
        vehicle = replace(vehicle, mass_kg=typical.value, mass_basis=MassBasis.KERB, body=body)
        assumed.append(Assumption("kerb mass", typical.value, "kg", f"from the size of the car: {typical.source}"))
    if vehicle.road_load is None:
        drag_m2 = catalogue.typical_entry(f"cd_a_{body}_m2").value
        vehicle = replace(vehicle, road_load=BodyAndTyres(drag_m2, catalogue.typical_entry("crr").value))
    return replace(vehicle, **first_guesses(vehicle, catalogue)), tuple(assumed)


def first_guesses(vehicle: Vehicle, catalogue: Catalogue) -> dict[str, object]:
    """Usable energy and the charger's rating, where nobody gave them."""
    label, battery, rating_w = vehicle.label, vehicle.battery, vehicle.onboard_charger_w
    told_j = label.consumption_j_m * (label.electric_range_m or 0.0)
    if battery.usable_j is None:
        share = SOCKET_TO_BATTERY if label.basis is Meter.SOCKET else 1.0
        battery = replace(battery, usable_j=told_j * share)
    if rating_w is None:
        usual = catalogue.typical_entry(f"onboard_charger_w_{'phev' if vehicle.kind.has_engine else 'bev'}").value
        taken_j = battery.usable_j / SOCKET_TO_BATTERY
        rating_w = usual if label.recharge_s is None else taken_j / label.recharge_s
    return {"battery": battery, "onboard_charger_w": rating_w}


def adjustment_note(label: Label) -> tuple[Assumption, ...]:
    """The rule that stands for an unknown adjustment."""
    span = LABEL_RECIPES[label.procedure].adjustment
    if span is None or label.adjustment is not None:
        return ()
    source = (
        f"40 CFR 600.210-12(d)(3): 0.7 of the test's figure where nothing else is known; {span.least} to {span.most}"
    )
    return (Assumption("label adjustment", span.usual, "1", f"{source} sampled, from memory"),)


def anchor_of(fit: Fit, given: Vehicle, catalogue: Catalogue) -> Anchor:
    """What each factor of a draw does to the label's figures, and how sharp the label is."""
    label = given.label
    recipe, phased = LABEL_RECIPES[label.procedure], bool(label.parts_j_m) and label.procedure is LabelProcedure.WLTP
    trials = [Trial(fit.vehicle), *(Trial(fit.vehicle, {name: 1 + FACTOR_STEP}) for name in ANCHOR_FACTORS)]
    measured = measure(trials, recipe, catalogue, phased)
    combined, parts, range_m = label_figures(measured, label)
    step = rounding_step_j_m(label) / math.sqrt(12)
    range_step_m = (MILE_M if recipe.adjustment else 1000.0) / math.sqrt(12)
    reach_m = label.electric_range_m
    usable_told = given.battery.usable_j is None or label.basis is Meter.BATTERY
    return Anchor(
        factors=ANCHOR_FACTORS,
        combined=answers(combined),
        parts=tuple(answers(column) for column in parts.T) if label.parts_j_m and not fit.moves.tilt else (),
        energy=answers(combined * range_m) if reach_m else (),
        combined_noise=math.hypot(step / label.consumption_j_m, REPEATABILITY),
        parts_noise=tuple(math.hypot(step / value, WITHIN_A_TEST) for _, value in label.parts_j_m),
        parts_common=math.sqrt(REPEATABILITY**2 - WITHIN_A_TEST**2),
        energy_noise=math.hypot(step / label.consumption_j_m, REPEATABILITY, range_step_m / reach_m if reach_m else 0),
        energy_told="usable" if usable_told else "charger",
        usable_spread=USABLE_UNKNOWN
        if given.battery.usable_j is None
        else catalogue.typical_entry("scatter_usable_new").value,
        drag_known=isinstance(given.road_load, RoadLoad),
        drag_guessed=given.road_load is None,
        adjustment_open=recipe.adjustment is not None and label.adjustment is None,
    )


def answers(figures: np.ndarray) -> tuple[float, ...]:
    """Share by which a figure changes for a doubled factor, one after the other; the first row is the car itself."""
    return tuple(float(each) for each in (figures[1:] / figures[0] - 1) / FACTOR_STEP)


def moved_of(fit: Fit, start: Vehicle, given: Vehicle, catalogue: Catalogue) -> tuple[Moved, ...]:
    """What the label told, in people's units."""
    return (*drag_moved(fit, start, given, catalogue), *pack_moved(fit, given, catalogue), *adjustments_moved(fit))


def adjustments_moved(fit: Fit) -> list[Moved]:
    """How far apart the two adjustments of a US label are, where no usual car has its city and highway otherwise."""
    tilt = fit.moves.tilt
    return [Moved(ADJUSTMENTS, math.exp(tilt), "1", 1.0, abs(tilt) <= ADJUSTED_APART)] if tilt else []


def drag_moved(fit: Fit, start: Vehicle, given: Vehicle, catalogue: Catalogue) -> list[Moved]:
    """Air, rolling and drivetrain."""
    moves, tau = fit.moves, priors(start, catalogue, given.road_load is not None)
    air, rolling = moves.drag + moves.air, moves.drag + moves.rolling
    load, old = fit.vehicle.road_load, start.road_load
    found = []
    if isinstance(load, BodyAndTyres):
        body = SIZE_UNKNOWN if air != rolling and start.body is None else 0.0
        if given.road_load is not None:  # what was stated may be a wind tunnel's, and the label's is a coastdown's
            body = math.hypot(body, catalogue.typical_entry("cd_a_medium_m2").spread)
        tyre = catalogue.typical_entry("crr").spread
        sure_air, sure_roll = (SURE * math.hypot(tau[name], own) for name, own in (("air", body), ("rolling", tyre)))
        if air == rolling:  # one scale: judged once
            sure_air = sure_roll = math.sqrt(sure_air * sure_roll)
        found = [
            Moved("drag area", round(load.cd_a_m2, 4), "m2", old.cd_a_m2, abs(air) <= sure_air),
            Moved("rolling resistance at 25 °C", round(load.crr, 6), "1", old.crr, abs(rolling) <= sure_roll),
        ]
    else:
        found = [
            Moved("air drag over its coefficient", math.exp(air), "1", 1.0, abs(air) <= SURE * tau["air"]),
            Moved(
                "rolling drag over its coefficient", math.exp(rolling), "1", 1.0, abs(rolling) <= SURE * tau["rolling"]
            ),
        ]
    if moves.loss:
        loss = fit.vehicle.drive_loss
        found.append(
            Moved("drivetrain losses over typical ones", loss, "1", 1.0, abs(math.log(loss)) <= SURE * tau["loss"])
        )
    return found


def pack_moved(fit: Fit, given: Vehicle, catalogue: Catalogue) -> list[Moved]:
    """Usable energy, charging and charger, where the label told them."""
    found, car = [], fit.vehicle
    usable_kwh = car.battery.usable_j / KWH_J
    if given.battery.usable_j is None:
        share = usable_kwh * 1000 / catalogue.typical_entry("pack_wh_per_kg").value / kerb_mass_kg(car)
        found.append(Moved("usable energy of the battery", usable_kwh, "kWh", None, share <= HEAVIEST_PACK))
    elif fit.moves.usable:
        sure = abs(fit.moves.usable) <= SURE * catalogue.typical_entry("scatter_usable_new").value
        found.append(Moved("usable energy of the battery", usable_kwh, "kWh", given.battery.usable_j / KWH_J, sure))
    if fit.moves.charger:
        loss = car.charger_loss
        sure = abs(math.log(loss)) <= CHARGER_SIGMAS * catalogue.typical_entry("scatter_charger").value
        found.append(Moved(CHARGER_LOSSES, loss, "1", 1.0, sure))
    if fit.moves.rating:
        rating_kw = car.onboard_charger_w / 1000
        found.append(Moved("onboard charger", rating_kw, "kW", None, 1.0 <= rating_kw <= 22.0))
    return found


def reproduced(found: FittedLabel, measured: Measured | None = None) -> Label:
    """The label as the car gives it: every figure that such a label has, and its parts where the test looked at them.

    Args:
        measured: a test of the same car that looked at more than the fit's.
    """
    label, measured = found.vehicle.label, measured or found.measured
    combined, parts, range_m = label_figures(measured, label)
    parts, names = tilted(parts, found.tilt), LABEL_PARTS[label.procedure]
    known = tuple(zip(names, (float(each) for each in parts[0]), strict=True)) if parts.shape[1] == len(names) else ()
    return replace(
        label,
        consumption_j_m=float(combined[0]),
        adjustment=adjustment_of(label) if LABEL_RECIPES[label.procedure].adjustment else None,
        parts_j_m=known,
        range_m=float(range_m[0]),
        all_electric_range_m=float(range_m[0]) if found.vehicle.kind.has_engine else None,
        recharge_s=float(measured.recharge_s[0]),
    )
