"""Road load against worked examples of the coastdown standards (SAE J2263, 40 CFR 1066), replayed with SciPy.

The numbers were calculated from the standards' formulas; each prints to the digits that set the tolerance.
"""

import math

import pytest
from scipy.integrate import quad

from service.physics.air import air_density_kg_m3
from service.physics.road_load import air_drag_n
from service.physics.rows import CAR, table
from service.physics.tables import Loading, fill_road_load
from service.physics.tyres import LABEL_REFERENCE_K, WARM_RISE_K, rolling_temperature_factor
from service.specs import Battery, BodyAndTyres, Kind, MassBasis, RoadLoad, Vehicle
from service.units import (
    MILE_M,
    MPH,
    POUND_FORCE_N,
    n_s2_m2_from_lbf_per_mph2,
    n_s_m_from_lbf_per_mph,
    newton_from_pound_force,
)

US_REFERENCE_K = 293.15  # 40 CFR 1066.305: 20 °C
KM_H = 1 / 3.6


def car_with(road_load, mass_kg, values):
    """Only the road-load part of a car's row."""
    vehicle = Vehicle("test", "test", Kind.BEV, mass_kg, MassBasis.TEST, road_load, Battery(usable_j=1e8))
    rows = table(CAR, 1)
    fill_road_load(rows[0], vehicle, Loading(mass_kg, mass_kg, mass_kg), values)
    return rows[0]


def resistance_n(car, speed_m_s, ambient_k, air_kg_m3):
    """What holds a car with warmed tyres back on the level without wind: the march's own terms, added up."""
    tyre = rolling_temperature_factor(ambient_k, WARM_RISE_K, car.tyre_reference_k, car.tyre_slope_per_k)
    drag_n = air_drag_n(0.5 * air_kg_m3 * car.drag_area_m2, speed_m_s, 0.0)
    return car.tyre_n * tyre + car.bearing_n + car.bearing_n_s_m * speed_m_s + drag_n


# Example 1: 1600 kg, Crr 0.010, C_d·A 0.65 m², 100 km/h; air density kg/m³ → power kW
@pytest.mark.parametrize(
    ("air_kg_m3", "kw"), [(1.189, 12.641), (1.2250, 12.892), (1.3413, 13.702), (1.0466, 11.649), (1.0065, 11.370)]
)
def test_car_by_parts_at_100_km_h(values, air_kg_m3, kw):
    car = car_with(BodyAndTyres(cd_a_m2=0.65, crr=0.010), 1600.0, {**values, "no_load_n": 0, "no_load_n_s_m": 0})
    force_n = resistance_n(car, 100 * KM_H, LABEL_REFERENCE_K, air_kg_m3)
    assert force_n * 100 * KM_H / 1000 == pytest.approx(kw, abs=6e-4)


def test_parts_of_the_first_example(values):
    # rolling 156.91 N, aero 298.17 N, together 455.07 N, 126.41 Wh/km
    car = car_with(BodyAndTyres(cd_a_m2=0.65, crr=0.010), 1600.0, {**values, "no_load_n": 0, "no_load_n_s_m": 0})
    assert car.tyre_n == pytest.approx(156.91, abs=5e-3)
    assert air_drag_n(0.5 * 1.189 * car.drag_area_m2, 100 * KM_H, 0.0) == pytest.approx(298.17, abs=5e-3)
    force_n = resistance_n(car, 100 * KM_H, LABEL_REFERENCE_K, 1.189)
    assert force_n == pytest.approx(455.07, abs=6e-3)
    assert force_n / 3.6 == pytest.approx(126.41, abs=6e-3)  # J/m to Wh/km


@pytest.fixture(scope="module")
def us_car(values):
    """Example 2: A 30 lbf, B 0.20 lbf/mph, C 0.018 lbf/mph²; 1750 kg as in example 4."""
    load = RoadLoad(newton_from_pound_force(30), n_s_m_from_lbf_per_mph(0.20), n_s2_m2_from_lbf_per_mph2(0.018), 1750.0)
    return car_with(load, 1750.0, values)


def us_force_n(car, speed_m_s):
    return resistance_n(car, speed_m_s, US_REFERENCE_K, car.reference_air_kg_m3)


# Example 2: mph → force lbf, power kW, energy Wh/mi
@pytest.mark.parametrize(
    ("mph", "lbf", "kw", "wh_per_mile"),
    [
        (20, 41.200, 1.6386, None),
        (50, 85.000, 8.4513, 169.03),
        (60, 106.8, 12.7425, 212.38),
        (70, 132.2, 18.4019, None),
    ],
)
def test_coastdown_coefficients_come_back_at_their_reference_air(us_car, mph, lbf, kw, wh_per_mile):
    speed_m_s = mph * MPH
    force_n = us_force_n(us_car, speed_m_s)
    assert force_n / POUND_FORCE_N == pytest.approx(lbf, abs=5e-4)
    assert force_n * speed_m_s / 1000 == pytest.approx(kw, abs=6e-5)
    if wh_per_mile is not None:
        assert force_n * MILE_M / 3600 == pytest.approx(wh_per_mile, abs=5e-3)


def test_second_example_in_si(us_car):
    # 133.447 N, 1.99008 N/(m/s), 0.400651 N/(m/s)²; all of C as aero at 1.16756 kg/m³ is C_d·A 0.6863 m²
    assert us_force_n(us_car, 0.0) == pytest.approx(133.447, abs=5e-4)
    assert us_car.bearing_n_s_m == pytest.approx(1.99008, abs=5e-6)
    assert us_car.drag_area_m2 == pytest.approx(0.6863, abs=6e-5)
    assert us_car.reference_air_kg_m3 == pytest.approx(1.16756, rel=1e-4)


def coastdown_s(car, inertia_kg, from_km_h, to_km_h):
    seconds, error = quad(lambda v: inertia_kg / us_force_n(car, v), to_km_h * KM_H, from_km_h * KM_H, epsrel=1e-10)
    assert error < 1e-6
    return seconds


# Example 4: share of mass that rotates, km/h from, to → s (SciPy quad; the closed form agrees)
@pytest.mark.parametrize(
    ("effective", "start_km_h", "end_km_h", "seconds", "digits"),
    [(1.03, 115, 15, 182.829, 1e-3), (1.015, 115, 15, 180.166, 1e-3), (1.03, 105, 95, 10.0669, 1e-4)],
)
def test_coastdown_time(us_car, effective, start_km_h, end_km_h, seconds, digits):
    assert coastdown_s(us_car, effective * 1750, start_km_h, end_km_h) == pytest.approx(seconds, abs=digits)


def test_coastdown_distance_and_mean_force(us_car):
    # 2705.9 m; M_e·Δv/Δt = 497.37 N over 105 → 95 km/h against F(100 km/h) = 497.87 N
    metres, _ = quad(lambda v: 1802.5 * v / us_force_n(us_car, v), 15 * KM_H, 115 * KM_H)
    assert metres == pytest.approx(2705.9, abs=0.06)
    mean_n = 1802.5 * 10 * KM_H / coastdown_s(us_car, 1802.5, 105, 95)
    assert mean_n == pytest.approx(497.37, abs=6e-3)
    assert us_force_n(us_car, 100 * KM_H) == pytest.approx(497.87, abs=6e-3)


def test_coastdown_closed_form(us_car):
    # t = 2·M_e/D·[atan((2Cv + B)/D)], D = √(4AC − B²)
    a, b, c = newton_from_pound_force(30), n_s_m_from_lbf_per_mph(0.20), n_s2_m2_from_lbf_per_mph2(0.018)
    d = math.sqrt(4 * a * c - b * b)
    closed_s = 2 * 1802.5 / d * (
        math.atan((2 * c * 115 * KM_H + b) / d) - math.atan((2 * c * 15 * KM_H + b) / d)
    )  # fmt: skip
    assert coastdown_s(us_car, 1802.5, 115, 15) == pytest.approx(closed_s, rel=1e-9)


def test_reference_air_of_the_two_procedures():
    # US 20 °C, 98.21 kPa: 40 CFR 1066.310 rounds to 1.17 kg/m³; WLTP 20 °C, 100 kPa: 1.189 kg/m³
    assert air_density_kg_m3(293.15, 98_210.0, 0.0) == pytest.approx(1.17, abs=5e-3)
    assert air_density_kg_m3(293.15, 100_000.0, 0.0) == pytest.approx(1.189, abs=5e-4)
