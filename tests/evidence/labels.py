"""Labels: the rules of the US and WLTP figures, applied by hand to drives of a car that was fitted to its label."""

from service.catalogue import Catalogue, load_catalogue
from service.catalogue.evidence import Check, Mark
from service.quotes.build import build_quote
from service.quotes.procedures import US_ADJUSTMENT
from service.specs import (
    Ask,
    Battery,
    Cabin,
    Climate,
    Journey,
    Kind,
    Label,
    LabelProcedure,
    MassBasis,
    Procedure,
    Vehicle,
    Weather,
)
from service.units import KWH_J, kelvin_from_celsius
from tests.evidence.checks import Source

__all__ = ["rules"]

US_RULE = Source("Labels", "40 CFR 600.210-12: 55/45 of the cycles over the adjustment 0.7", Mark.PUBLISHED)
US_CAR = Source("Labels", "invented US label, by the rule worked by hand", Mark.COMPUTED)
WLTP_CAR = Source("Labels", "invented WLTP label (UN R154: the cycle at 23 °C)", Mark.COMPUTED)
ADJUSTMENT = US_ADJUSTMENT.usual
TO_LABEL = 0.01  # how closely a fitted car must give its label back
LABELS = (  # invented, coherent: mass kg, usable kWh, socket kWh/100 km
    (1500.0, 40.0, "18.0"),
    (1850.0, 75.0, "17.5"),
    (2300.0, 90.0, "22.5"),
)


def wall_kwh_per_100_km(vehicle: Vehicle, cycle: str, celsius: float, catalogue: Catalogue) -> float:
    """Socket energy of a car driven to empty on rolls, climate off."""
    weather, cabin = Weather(kelvin_from_celsius(celsius)), Cabin(climate=Climate.OFF)
    ask = Ask(vehicle, Journey(cycle=cycle), weather, Procedure.DYNAMOMETER, cabin=cabin, band=False)
    return build_quote(ask, catalogue).to_empty.wall_j_per_m.p50 * 1e5 / KWH_J


def labelled(mass_kg: float, usable_kwh: float, label: Label) -> Vehicle:
    """A battery-electric car known by its label only."""
    return Vehicle("own", "own", Kind.BEV, mass_kg, MassBasis.KERB, None, Battery(usable_kwh * KWH_J), label=label)


def rules() -> list[Check]:
    """Worked example 16 for electric cars, and three invented cars through both procedures, US cell at 25 °C."""
    catalogue = load_catalogue()
    rows = [US_RULE.value("two-cycle range of 150 mi: label", "105", 150 * ADJUSTMENT, "mi", 0.0)]
    for mass_kg, usable_kwh, printed in LABELS:
        kwh = float(printed)
        of = f"{mass_kg:g} kg, {usable_kwh:g} kWh"
        car = labelled(mass_kg, usable_kwh, Label(LabelProcedure.US, kwh * KWH_J / 1e5, adjustment=0.7))
        city, highway = (wall_kwh_per_100_km(car, cycle, 25, catalogue) for cycle in ("udds", "hwfet"))
        ours = (0.55 * city + 0.45 * highway) / 0.7
        rows.append(US_CAR.value(f"{of}: US consumption", printed, ours, "kWh/100 km", TO_LABEL * kwh))
        car = labelled(mass_kg, usable_kwh, Label(LabelProcedure.WLTP, kwh * KWH_J / 1e5))
        ours = wall_kwh_per_100_km(car, "wltc_class3b", 23, catalogue)
        rows.append(WLTP_CAR.value(f"{of}: WLTP consumption", printed, ours, "kWh/100 km", TO_LABEL * kwh))
    return rows
