"""From reference coefficients to another day, the WLTP correction turned round (UN GTR 15 annex 4 § 4.5).

K0 = 8.6e-3 /K and K2 = T/293·100/P are from memory; the examples below are calculated from them. GTR 15 brings a test
at T back to 20 °C; we predict, and follow the same slope as an exponential: both agree at 20 °C and part by 0.5 % in
10 K. GTR 15 lets f1 follow temperature too; here only the tyre share of f0 does.
"""

import math

import pytest

from service.physics.air import air_density_kg_m3
from service.physics.tyres import ROAD_LOAD_SLOPE_PER_K, WARM_RISE_K, rolling_temperature_factor

REFERENCE_K = 293.15


def rolling(celsius):
    return rolling_temperature_factor(celsius + 273.15, WARM_RISE_K, REFERENCE_K, ROAD_LOAD_SLOPE_PER_K)


def drag(celsius, kpa):
    return air_density_kg_m3(celsius + 273.15, 1000 * kpa, 0.0) / air_density_kg_m3(REFERENCE_K, 100e3, 0.0)


def test_published_example_predicted():
    # Example 5: 10 °C, 98 kPa: f0* 109.680 → f0 120 N, f2* 0.034514 → f2 0.035 N/(km/h)²
    assert 109.680 * rolling(10) == pytest.approx(120.0, rel=5e-3)
    assert 109.680 * rolling(10) < 120.0  # the exponential lies below the inverted line
    assert 0.034514 * drag(10, 98) == pytest.approx(0.035, rel=1e-3)  # 293 K is written for 293.15 K there
    assert 109.680 * rolling(10) + 0.034514 * drag(10, 98) * 100**2 == pytest.approx(120 + 350, rel=2e-3)


# celsius, kPa → aero ratio from K2
@pytest.mark.parametrize(("celsius", "kpa", "ratio"), [(-7, 101.3, 1.1152), (5, 100, 1.0534), (35, 100, 0.9508)])
def test_air_follows_k2(celsius, kpa, ratio):
    assert drag(celsius, kpa) == pytest.approx(ratio, rel=1e-3)


# rolling ratio from K0 turned round, inside the window of 5–40 °C in which it was fitted
@pytest.mark.parametrize(("celsius", "ratio"), [(5, 1.1481), (35, 0.8857)])
def test_rolling_follows_k0_within_one_per_cent(celsius, ratio):
    assert rolling(celsius) == pytest.approx(ratio, rel=1e-2)


def test_slope_at_the_reference_is_k0():
    slope = (rolling(20.001) - rolling(19.999)) / 0.002
    assert slope == pytest.approx(-8.6e-3, rel=1e-6)


# an exponential through the published slope at 20 °C: ×1.26 at −7 °C, ×1.41 at −20 °C; the inverted line says 1.30 and
# 1.52, a straight one 1.23 and 1.34
@pytest.mark.parametrize(
    ("celsius", "exponential", "straight", "inverted"), [(-7, 1.26, 1.23, 1.30), (-20, 1.41, 1.34, 1.52)]
)
def test_cold_road_load_is_the_exponential(celsius, exponential, straight, inverted):
    assert rolling(celsius) == pytest.approx(exponential, abs=5e-3)
    assert straight < rolling(celsius) < inverted
    assert rolling(celsius) == pytest.approx(math.exp(8.6e-3 * (20 - celsius)), rel=1e-12)
