"""The car behind a label: run a typical body of that mass through the label's own procedure and scale its drag.

Method   drag area and rolling resistance of a typical body are scaled together until the modelled socket consumption
         equals the label's; secant steps on the central row. What else is unknown stays as assumed.
US       city (UDDS) and highway (HWFET) at 20 °C on rolls, climate off, harmonic 55/45 of fuel economy, which is the
         arithmetic 55/45 of consumption; label consumption times the adjustment is the test's (40 CFR 600.210-12).
WLTP     one class 3b cycle at 23 °C on rolls, climate off (UN R154).
Limits   a scale outside 0.5…2 contradicts the rest of what was stated, and is refused by name.
"""

from collections.abc import Mapping
from dataclasses import replace

from service.catalogue import Catalogue
from service.constants import ZERO_CELSIUS_K
from service.errors import BadInput
from service.quotes.answer import Assumption
from service.quotes.assume import body_for, complete
from service.quotes.loading import kerb_mass_kg
from service.quotes.scenarios import refill, run, scenarios_for
from service.specs import (
    Ask,
    BodyAndTyres,
    Cabin,
    Climate,
    Journey,
    Label,
    LabelProcedure,
    Procedure,
    Start,
    Vehicle,
    Weather,
)
from service.units import KWH_J

__all__ = ["anchored", "label_consumption_j_m"]

RECIPES = {  # cycle, share in the combined consumption, cell temperature
    LabelProcedure.US: (("udds", 0.55, 20.0), ("hwfet", 0.45, 20.0)),  # 40 CFR 600.210-12(c); 20–30 °C allowed
    LabelProcedure.WLTP: (("wltc_class3b", 1.0, 23.0),),  # UN R154
}
LEAST_SCALE, MOST_SCALE = 0.5, 2.0
AGREES = 1e-3  # of the consumption
STEPS = 12


def anchored(ask: Ask, catalogue: Catalogue) -> tuple[Ask, tuple[Assumption, ...]]:
    """The question with a road load in place of a label, and what was moved; unchanged where there is no label.

    Errors: `BadInput` where no plausible body gives the label's consumption with this mass and battery.
    """
    label = ask.vehicle.road_load
    if not isinstance(label, Label):
        return ask, ()
    start = typical_body(ask.vehicle, catalogue)
    scale = fitted_scale(ask.vehicle, label, start, catalogue)
    found = BodyAndTyres(start.cd_a_m2 * scale, start.crr * scale)
    source = f"fitted to the label; {scale:.2f} times a typical body of this mass"
    moved = (
        Assumption("drag area", round(found.cd_a_m2, 3), "m2", source),
        Assumption("rolling resistance at 25 °C", round(found.crr, 5), "1", source),
    )
    return replace(ask, vehicle=replace(ask.vehicle, road_load=found)), moved


def typical_body(vehicle: Vehicle, catalogue: Catalogue) -> BodyAndTyres:
    """Where the fit starts."""
    body = vehicle.body or body_for(kerb_mass_kg(vehicle))
    return BodyAndTyres(catalogue.typical_entry(f"cd_a_{body}_m2").value, catalogue.typical_entry("crr").value)


def fitted_scale(vehicle: Vehicle, label: Label, start: BodyAndTyres, catalogue: Catalogue) -> float:
    """Factor on a typical body's drag that reproduces the label."""

    def excess(scale: float) -> float:
        body = BodyAndTyres(start.cd_a_m2 * scale, start.crr * scale)
        return label_consumption_j_m(replace(vehicle, road_load=body), label, catalogue) / label.consumption_j_m - 1

    low, high = LEAST_SCALE, MOST_SCALE
    at_low, at_high = excess(low), excess(high)
    if at_low > 0 or at_high < 0:
        raise contradiction(label, 1 + at_low, 1 + at_high)
    scale = low
    for _ in range(STEPS):  # false position: consumption is nearly straight in the scale
        scale = low - at_low * (high - low) / (at_high - at_low)
        at = excess(scale)
        if abs(at) < AGREES:
            break
        low, at_low, high, at_high = (scale, at, high, at_high) if at < 0 else (low, at_low, scale, at)
    return scale


def contradiction(label: Label, lowest: float, highest: float) -> BadInput:
    """No plausible car of this mass and battery has that label."""
    kwh = label.consumption_j_m * 1e5 / KWH_J
    return BadInput(
        "vehicle.spec.label.consumption_kwh_per_100_km",
        round(kwh, 2),
        f"{kwh:.1f} kWh/100 km does not go with this mass, battery and charger: "
        f"plausible bodies give {kwh * lowest:.1f} to {kwh * highest:.1f}",
        "check the label's unit, the mass and whose procedure it is",
    )


def label_consumption_j_m(vehicle: Vehicle, label: Label, catalogue: Catalogue) -> float:
    """Consumption at the socket as this label would state it, J/m."""
    values = {name: typical.value for name, typical in catalogue.typical.items()}
    total = sum(
        share * recipe_consumption_j_m(vehicle, cycle, celsius, catalogue, values)
        for cycle, share, celsius in RECIPES[label.procedure]
    )
    return total / (label.adjustment if label.procedure is LabelProcedure.US else 1.0)


def recipe_consumption_j_m(
    vehicle: Vehicle, cycle: str, celsius: float, catalogue: Catalogue, values: Mapping[str, float]
) -> float:
    """Socket energy over distance of one cycle driven from full to empty, J/m."""
    ask = Ask(
        vehicle,
        Journey(cycle=cycle),
        Weather(ambient_k=celsius + ZERO_CELSIUS_K),
        Procedure.DYNAMOMETER,
        Start(),
        Cabin(climate=Climate.OFF),
        band=False,
    )
    ask, _ = complete(ask, catalogue)
    scenarios = scenarios_for(ask, (), catalogue, values)
    outcome = run(scenarios, ask, catalogue)
    filling = refill(scenarios, outcome, ask, values)
    return float(filling.wall_j[0] / outcome.total.distance_m[0])
