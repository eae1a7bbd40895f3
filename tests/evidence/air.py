"""Air: density, pressure at altitude, psychrometrics, wind."""

from service.catalogue.evidence import Check, Mark
from service.physics.air import (
    air_density_kg_m3,
    humidity_ratio,
    moist_air_enthalpy_j_kg,
    pressure_at_altitude_pa,
    saturation_pressure_pa,
    wind_at_car_m_s,
)
from service.physics.road_load import air_drag_n
from service.units import kelvin_from_celsius
from tests.evidence.checks import Source
from tests.published.test_moist_air import TABLE
from tests.published.test_standard_atmosphere import TABLE as ATMOSPHERE

__all__ = ["atmosphere", "density", "psychrometrics", "wind"]

DENSITY = "Air density"
CIPM = Source(DENSITY, "CIPM-2007 (Metrologia 45 (2008) 149), worked by hand", Mark.COMPUTED)
COOLPROP = Source(DENSITY, "CoolProp 8.0.0, moist air", Mark.COMPUTED)
ISO_2533 = Source("Standard atmosphere", "ISO 2533 / US Standard Atmosphere 1976, closed form", Mark.COMPUTED)
GEOMETRIC = Source("Standard atmosphere", "two independent libraries, geometric height", Mark.COMPUTED)
PSYCHROLIB = Source("Moist air", "PsychroLib 2.5.0 (ASHRAE Fundamentals 2017)", Mark.COMPUTED)
CFR_1065 = Source("Moist air", "40 CFR 1065.645, printed examples", Mark.PUBLISHED)
WIND = Source("Wind", "squared relative speed, worked by hand", Mark.COMPUTED)
WIND_HEIGHT = Source("Wind", "power law, exponent 1/7, and values in use", Mark.PRACTICE)

SATURATION = ((5, "872.49"), (10, "1228.00"), (20, "2338.80"), (25, "3169.22"), (30, "4246.03"), (40, "7383.46"))
MIXTURES = (  # °C, relative humidity, Pa, W, h kJ/kg: rows above 0 °C, where both take saturation over water
    (20, 0.5, 101_325, "0.007262", "38.552"),
    (25, 0.5, 101_325, "0.009881", "50.322"),
    (22, 0.4, 101_325, "0.006562", "38.812"),
    (30, 0.4, 101_325, "0.010603", "57.289"),
    (35, 0.4, 101_325, "0.014132", "71.473"),
    (5, 0.9, 101_325, "0.004858", "17.224"),
    (0, 1.0, 101_325, "0.003774", "9.439"),
    (20, 0.5, 83_500, "0.008834", "42.542"),
)


def density() -> list[Check]:
    """The printed digits of CIPM-2007, and CoolProp within 0.015 %."""
    rows = []
    for celsius, pa, humidity, cipm, coolprop, _, _ in TABLE:
        ours = air_density_kg_m3(kelvin_from_celsius(celsius), float(pa), humidity)
        state = f"{celsius} °C, {pa / 1000:g} kPa, {100 * humidity:g} % humidity"
        rows.append(CIPM.value(state, f"{cipm:.5f}", ours, "kg/m3"))
        rows.append(COOLPROP.value(f"{state}, library", f"{coolprop:.5f}", ours, "kg/m3", 1.5e-4 * coolprop))
    dry = air_density_kg_m3(293.15, 101_325.0, 0.0)
    rows.append(COOLPROP.value("20 °C, 101.325 kPa, dry", "1.20458", dry, "kg/m3", 1.5e-4))
    damp = air_density_kg_m3(293.15, 101_325.0, 1.0)
    rows.append(COOLPROP.value("saturated against dry air at 20 °C", "-0.9", 100 * (damp / dry - 1), "%"))
    return rows


def atmosphere() -> list[Check]:
    """Pressure at altitude; geometric height within 0.02 %."""
    rows = []
    for height_m, _, geometric_pa, _, pa, _ in ATMOSPHERE:
        ours = pressure_at_altitude_pa(float(height_m))
        rows.append(ISO_2533.value(f"pressure at {height_m:g} m", f"{pa:.1f}", ours, "Pa"))
        if height_m:
            condition = f"pressure at {height_m:g} m, geometric"
            rows.append(GEOMETRIC.value(condition, f"{geometric_pa:.1f}", ours, "Pa", 2e-4 * geometric_pa))
    dry = pressure_at_altitude_pa(1609.344) / (287.05287 * 277.69)
    rows.append(ISO_2533.value("density one mile up, 277.69 K", "1.0466", dry, "kg/m3"))
    return rows


def psychrometrics() -> list[Check]:
    """Saturation within 0.1 %, mixtures within 0.15 %: the formulas of saturation differ by so much."""
    rows = []
    for celsius, printed in SATURATION:
        ours = saturation_pressure_pa(kelvin_from_celsius(celsius))
        condition = f"saturation pressure at {celsius} °C"
        rows.append(PSYCHROLIB.value(condition, printed, ours, "Pa", 1e-3 * float(printed)))
    for celsius, humidity, pa, w, h in MIXTURES:
        state = f"{celsius} °C, {100 * humidity:g} % humidity, {pa / 1000:g} kPa"
        ours = humidity_ratio(kelvin_from_celsius(celsius), float(pa), humidity)
        rows.append(PSYCHROLIB.value(f"water in air, {state}", w, ours, "kg/kg", 1.5e-3 * float(w)))
        enthalpy = moist_air_enthalpy_j_kg(kelvin_from_celsius(celsius), ours) / 1000
        rows.append(PSYCHROLIB.value(f"enthalpy, {state}", h, enthalpy, "kJ/kg", 0.09))
    dew_pa = saturation_pressure_pa(282.65)
    rows += [
        CFR_1065.value("vapour pressure at a dew point of 9.5 °C", "1186.581", dew_pa, "Pa", 1.2),
        CFR_1065.value("water share, dew point 9.5 °C, 99.98 kPa", "0.011868", dew_pa / 99_980, "1", 1.2e-5),
        CFR_1065.value(
            "water share, 50.77 % at 20 °C", "0.011868", 0.5077 * saturation_pressure_pa(293.15) / 99_980, "1", 1.2e-5
        ),
    ]
    return rows


def wind() -> list[Check]:
    """Mean of out and back, worked example; our average lies above the mean for constant area (1.02425) by design."""
    speed, wind_m_s = 100 / 3.6, 5.0
    factor = air_drag_n(0.4, speed, wind_m_s) / air_drag_n(0.4, speed, 0.0)
    return [
        WIND.value("drag, 5 m/s at 100 km/h, out and back", "1.0324", factor, "1"),
        WIND.span("drag, 5 m/s from any direction, at least the mean for constant area", 1.02425, None, factor, "1"),
        WIND_HEIGHT.span("wind at the car over wind at 10 m", 0.6, 0.75, wind_at_car_m_s(1.0), "1"),
    ]
