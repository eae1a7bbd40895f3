"""Road: resistance, coastdown, corrections, tyres, masses, grade."""

import math

from scipy.integrate import quad

from service.catalogue import load_catalogue
from service.catalogue.evidence import Check, Mark
from service.constants import STANDARD_GRAVITY_M_S2
from service.physics.air import air_density_kg_m3
from service.physics.road_load import air_drag_n, climbing_n, inertia_n
from service.physics.rows import CAR, table
from service.physics.tables import Loading, fill_road_load
from service.physics.tyres import (
    LABEL_REFERENCE_K,
    LABEL_SLOPE_PER_K,
    ROAD_LOAD_SLOPE_PER_K,
    WARM_RISE_K,
    load_factor,
    pressure_factor,
    rolling_temperature_factor,
)
from service.quotes.loading import equivalent_test_mass_kg
from service.specs import Battery, BodyAndTyres, Kind, MassBasis, Procedure, RoadLoad, Vehicle
from service.units import (
    KM_H,
    MILE_M,
    MPH,
    POUND_FORCE_N,
    POUND_KG,
    kelvin_from_celsius,
    n_s2_m2_from_lbf_per_mph2,
    n_s_m_from_lbf_per_mph,
    newton_from_pound_force,
)
from tests.evidence.checks import Source
from tests.published.test_rotating_mass import car as massive_car
from tests.published.test_rotating_mass import loaded

__all__ = ["coastdown", "corrections", "grade", "masses", "road_load", "tyres"]

PARTS = Source("Road load", "rolling and air resistance of a car by its parts, worked by hand", Mark.COMPUTED)
CFR_1066 = Source("Road load", "40 CFR 1066.210 equation, worked by hand", Mark.COMPUTED)
COASTDOWN = Source("Coastdown", "SAE J2263 / 40 CFR 1066.305, integral and closed form", Mark.COMPUTED)
GTR_15 = Source("Corrections of road load", "UN GTR 15 annex 4 § 4.5 turned round, K0 and K2", Mark.MEMORY)
GTR_15_F1 = Source(
    GTR_15.subject, GTR_15.source, Mark.MEMORY, "there f1 follows temperature, too; here only the tyre share of f0 does"
)  # fmt: skip
SHORTCUT = Source("Corrections of road load", "40 CFR 1066.305(b)(2): coefficients × 1.1 at −7 °C", Mark.PUBLISHED)
R117 = Source("Tyres", "UN R117 annex 6 § 6.2 (ISO 28580), class C1", Mark.PUBLISHED)
J2452 = Source("Tyres", "SAE J2452 form, exponents −0.4 and 0.9", Mark.MEMORY)
SR_286 = Source("Tyres", "TRB SR 286: 1 psi low is about +1.4 %", Mark.MEMORY)
CFR_86 = Source("Test masses", "40 CFR 86.129-94(a), classes", Mark.PUBLISHED)
ROLLS = Source("Test masses", "dynamometer practice, 1.5 % for the turning axle", Mark.MEMORY)
EU_1151 = Source("Test masses", "Regulation (EU) 2017/1151 § 2.5.1: 3 % of running order and 25 kg", Mark.PUBLISHED)
SLOPE = Source("Grade and gravity", "weight along a slope, standard gravity", Mark.COMPUTED)
CFR_1065 = Source("Grade and gravity", "40 CFR 1065.630, printed example at latitude 45°", Mark.PUBLISHED)
KINETIC = Source("Grade and gravity", "½·m·v², worked by hand", Mark.COMPUTED)
US_FIT = RoadLoad(newton_from_pound_force(30), n_s_m_from_lbf_per_mph(0.20), n_s2_m2_from_lbf_per_mph2(0.018), 1750.0)
REPEATABLE = 0.03  # of a force: coastdown repeatability per point, UN GTR 15, from memory


def car_with(load: RoadLoad | BodyAndTyres, mass_kg: float, **changed: float):
    """The road-load part of a car's row."""
    values = {name: each.value for name, each in load_catalogue().typical.items()} | changed
    vehicle = Vehicle("test", "test", Kind.BEV, mass_kg, MassBasis.TEST, load, Battery(usable_j=1e8))
    rows = table(CAR, 1)
    fill_road_load(rows[0], vehicle, Loading(mass_kg, mass_kg, mass_kg), values)
    return rows[0]


def force_n(car, speed_m_s: float, kelvin: float, air_kg_m3: float) -> float:
    """What holds a car with warmed tyres back on the level, without wind: the march's own terms."""
    tyre = rolling_temperature_factor(kelvin, WARM_RISE_K, car.tyre_reference_k, car.tyre_slope_per_k)
    drag_n = air_drag_n(0.5 * air_kg_m3 * car.drag_area_m2, speed_m_s, 0.0)
    return car.tyre_n * tyre + car.bearing_n + car.bearing_n_s_m * speed_m_s + drag_n


def us_force_n(car, speed_m_s: float) -> float:
    """The fit at its own reference state."""
    return force_n(car, speed_m_s, 293.15, car.reference_air_kg_m3)


def road_load() -> list[Check]:
    """Worked examples 1 and 2."""
    parts = car_with(BodyAndTyres(cd_a_m2=0.65, crr=0.010), 1600.0, no_load_n=0.0, no_load_n_s_m=0.0)
    speed = 100 * KM_H
    at = {rho: force_n(parts, speed, LABEL_REFERENCE_K, rho) for rho in (1.189, 1.2250, 1.3413, 1.0466, 1.0065)}
    drag_n = air_drag_n(0.5 * 1.189 * parts.drag_area_m2, speed, 0.0)
    rows = [
        PARTS.value("1600 kg, Crr 0.010, Cd·A 0.65 m², 100 km/h: rolling", "156.91", parts.tyre_n, "N"),
        PARTS.value("the same: air, 1.189 kg/m³", "298.17", drag_n, "N"),
        PARTS.value("the same: together", "455.07", at[1.189], "N"),
        PARTS.value("the same: energy", "126.41", at[1.189] / 3.6, "Wh/km"),
    ]
    for (rho, newton), kw in zip(at.items(), ("12.641", "12.892", "13.702", "11.649", "11.370"), strict=True):
        rows.append(PARTS.value(f"the same: power in air of {rho:g} kg/m³", kw, newton * speed / 1000, "kW"))
    car = car_with(US_FIT, 1750.0)
    for mph, lbf, kw, wh in (
        (20, "41.200", "1.6386", None),
        (50, "85.000", "8.4513", "169.03"),
        (60, "106.8", "12.7425", "212.38"),
        (70, "132.2", "18.4019", None),
    ):
        newton = us_force_n(car, mph * MPH)
        fit = f"A 30, B 0.20, C 0.018 at {mph} mph"
        rows.append(CFR_1066.value(f"{fit}: force", lbf, newton / POUND_FORCE_N, "lbf"))
        rows.append(CFR_1066.value(f"{fit}: power", kw, newton * mph * MPH / 1000, "kW"))
        if wh:
            rows.append(CFR_1066.value(f"{fit}: energy", wh, newton * MILE_M / 3600, "Wh/mi"))
    rows.append(CFR_1066.value("the same, C all air: drag area", "0.6863", car.drag_area_m2, "m2"))
    return rows


def coastdown() -> list[Check]:
    """Worked example 4."""
    car = car_with(US_FIT, 1750.0)

    def seconds(inertia_kg: float, start_km_h: float, end_km_h: float) -> float:
        return quad(lambda v: inertia_kg / us_force_n(car, v), end_km_h * KM_H, start_km_h * KM_H, epsrel=1e-10)[0]

    metres = quad(lambda v: 1802.5 * v / us_force_n(car, v), 15 * KM_H, 115 * KM_H)[0]
    interval_s = seconds(1802.5, 105, 95)
    return [
        COASTDOWN.value("115 → 15 km/h, 1750 kg × 1.03: time", "182.829", seconds(1802.5, 115, 15), "s"),
        COASTDOWN.value("115 → 15 km/h, 1750 kg × 1.015: time", "180.166", seconds(1.015 * 1750, 115, 15), "s"),
        COASTDOWN.value("115 → 15 km/h: distance", "2705.9", metres, "m"),
        COASTDOWN.value("105 → 95 km/h: time", "10.0669", interval_s, "s"),
        COASTDOWN.value("105 → 95 km/h: mean force", "497.37", 1802.5 * 10 * KM_H / interval_s, "N"),
        COASTDOWN.value("force at 100 km/h", "497.87", us_force_n(car, 100 * KM_H), "N"),
    ]


def corrections() -> list[Check]:
    """Worked examples 3 and 5: another day's temperature and pressure."""

    def rolling(celsius: float) -> float:
        return rolling_temperature_factor(
            kelvin_from_celsius(celsius), WARM_RISE_K, 293.15, ROAD_LOAD_SLOPE_PER_K
        )  # fmt: skip

    def drag(celsius: float, kpa: float) -> float:
        ours = air_density_kg_m3(kelvin_from_celsius(celsius), 1000 * kpa, 0.0)
        return ours / air_density_kg_m3(293.15, 100e3, 0.0)

    f100 = 109.680 * rolling(10) + 54.84 + 0.034514 * 1e4 * drag(10, 98)
    rows = [
        GTR_15.value("10 °C, 98 kPa: f0 from 109.68 N", "120", 109.680 * rolling(10), "N", 0.005 * 120),
        GTR_15.value("10 °C, 98 kPa: f2 from 0.034514", "0.035000", 0.034514 * drag(10, 98), "N/(km/h)2", 3.5e-5),
        GTR_15_F1.value("10 °C, 98 kPa: force at 100 km/h from 509.66 N", "530.00", f100, "N", 0.01 * 530),
    ]
    for celsius, kpa, ratio in ((-7, 101.3, "1.1152"), (5, 100, "1.0534"), (35, 100, "0.9508")):
        ours = drag(celsius, kpa)
        rows.append(GTR_15.value(f"air term, {celsius} °C, {kpa:g} kPa", ratio, ours, "1", 1e-3))
    for celsius, ratio in ((5, "1.1481"), (35, "0.8857")):
        ours = rolling(celsius)
        rows.append(GTR_15.value(f"rolling term, {celsius} °C", ratio, ours, "1", 1e-2 * float(ratio)))
    for celsius, straight, inverted in ((-7, 1.23, 1.30), (-20, 1.34, 1.52)):
        condition = f"rolling term, {celsius} °C: between a straight line and the line inverted"
        rows.append(GTR_15.span(condition, straight, inverted, rolling(celsius), "1"))
    car = car_with(US_FIT, 1750.0)
    cold_lbf = force_n(car, 50 * MPH, kelvin_from_celsius(-7), car.reference_air_kg_m3) / POUND_FORCE_N
    condition = "force imposed at 50 mph in a −7 °C cell, tyres warmed, within coastdown repeatability"
    rows.append(SHORTCUT.value(condition, "93.5", cold_lbf, "lbf", REPEATABLE * 93.5))
    return rows


def tyres() -> list[Check]:
    """Temperature, pressure, load; worked example 29."""

    def label(celsius: float) -> float:
        return rolling_temperature_factor(
            kelvin_from_celsius(celsius), WARM_RISE_K, LABEL_REFERENCE_K, LABEL_SLOPE_PER_K
        )  # fmt: skip

    return [
        R117.value("correction at 22 °C to 25 °C", "0.976", 1 / label(22), "1"),
        R117.value("correction at 28 °C to 25 °C", "1.024", 1 / label(28), "1"),
        R117.value("7.5 N/kN at 22 °C brought to 25 °C", "7.32", 7.5 / label(22), "N/kN"),
        J2452.value("210 → 250 kPa", "0.9326", pressure_factor(250e3, 210e3), "1"),
        J2452.value("250 → 200 kPa", "1.0934", pressure_factor(200e3, 250e3), "1"),
        J2452.value("coefficient at 0.8 of the reference load", "1.0226", load_factor(0.8, 1.0) / 0.8, "1"),
        SR_286.value("1 psi low of 33", "1.014", pressure_factor(32.0, 33.0), "1", 3e-3),
    ]


def masses() -> list[Check]:
    """Worked example 6 and the classes of the US test."""
    catalogue = load_catalogue()
    values = {name: each.value for name, each in catalogue.typical.items()}
    rows = []
    for loaded_lb, printed in ((3438, "3500"), (3562, "3500"), (3938, "4000"), (4125, "4000")):
        ours = equivalent_test_mass_kg((loaded_lb - 300) * POUND_KG) / POUND_KG
        rows.append(CFR_86.value(f"loaded {loaded_lb} lb: class", printed, ours, "lb"))
    us = loaded(massive_car(3200 * POUND_KG), catalogue, values)
    wltp = massive_car(1600.0, MassBasis.RUNNING_ORDER, reference_pa=100e3)
    eu = loaded(wltp, catalogue, values, "wltc_class3b", Procedure.DYNAMOMETER)
    return [
        *rows,
        CFR_86.value("3500 lb class on rolls: mass", "1587.573", us.mass_kg, "kg"),
        ROLLS.value("3500 lb class on rolls: mass that accelerates", "1611.387", us.inertia_kg, "kg"),
        EU_1151.value("running order 1600 kg: rotating mass", "48.75", eu.inertia_kg - eu.mass_kg, "kg"),
    ]


def grade() -> list[Check]:
    """Worked examples 7, 19 and 22."""
    rows = [
        SLOPE.value(f"1600 kg on {per_cent} %", printed, climbing_n(1600.0, per_cent / 100), "N")
        for per_cent, printed in ((1, "156.899"), (3, "470.508"), (5, "783.553"), (6, "939.748"), (10, "1561.277"))
    ]
    on_five = climbing_n(1600.0, 0.05)
    metres = 100 * math.hypot(1, 0.05) / 0.05
    braking_j = quad(lambda v: inertia_n(1600.0, 2.0) * v / 2.0, 0, 50 * KM_H)[0]  # at 2 m/s²: any will do
    return [
        *rows,
        SLOPE.value("5 % at 80 km/h: power", "17.412", on_five * 80 * KM_H / 1000, "kW"),
        SLOPE.value("100 m of climb on 5 %: energy", "435.85", on_five * metres / 3600, "Wh"),
        CFR_1065.value("standard gravity beside that at 45°", "9.8061992", STANDARD_GRAVITY_M_S2, "m/s2", 9.8e-3),
        KINETIC.value("1600 kg from 50 km/h", "42.867", braking_j / 3600, "Wh"),
    ]
