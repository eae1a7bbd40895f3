"""Unit conversions: exact definitions, and SciPy's constants live."""

import pytest
from scipy import constants

from service import units
from service.constants import GAS_CONSTANT_J_MOL_K, STANDARD_GRAVITY_M_S2, US_TEST_LOAD_KG, ZERO_CELSIUS_K


# 1 lbf = 4.4482216152605 N; 1 lbf/mph = 9.950388366 N/(m/s); 1 lbf/mph² = 22.25838486 N/(m/s)²
def test_road_load_units():
    assert units.newton_from_pound_force(1) == pytest.approx(4.4482216152605, rel=1e-13)
    assert units.n_s_m_from_lbf_per_mph(1) == pytest.approx(9.950388366, abs=6e-10)
    assert units.n_s2_m2_from_lbf_per_mph2(1) == pytest.approx(22.25838486, abs=6e-9)


def test_km_h_coefficients():
    # 1 lbf/mph = 2.763996768 N/(km/h); 1 lbf/mph² = 1.717467967 N/(km/h)²
    assert units.n_s_m_from_n_per_km_h(2.763996768) == pytest.approx(9.950388366, rel=1e-9)
    assert units.n_s2_m2_from_n_per_km_h2(1.717467967) == pytest.approx(22.25838486, rel=1e-9)
    # Example 2: 0.20 lbf/mph is f1 0.55280 N/(km/h), 0.018 lbf/mph² is f2 0.030914 N/(km/h)²
    assert units.n_s_m_from_lbf_per_mph(0.20) * units.KM_H == pytest.approx(0.55280, abs=6e-6)
    assert units.n_s2_m2_from_lbf_per_mph2(0.018) * units.KM_H**2 == pytest.approx(0.030914, abs=6e-7)


def test_against_scipy():
    assert units.MILE_M == 1609.344
    assert pytest.approx(constants.mile, rel=1e-15) == units.MILE_M
    assert pytest.approx(constants.mph, rel=1e-15) == units.MPH
    assert pytest.approx(constants.kmh, rel=1e-15) == units.KM_H
    assert pytest.approx(constants.lb, rel=1e-15) == units.POUND_KG
    assert pytest.approx(constants.lbf, rel=1e-15) == units.POUND_FORCE_N
    assert pytest.approx(constants.psi, rel=1e-15) == units.PSI_PA
    assert constants.g == STANDARD_GRAVITY_M_S2
    assert constants.zero_Celsius == ZERO_CELSIUS_K
    assert pytest.approx(constants.R, abs=5e-10) == GAS_CONSTANT_J_MOL_K


def test_energy_per_distance():
    # 1 kWh/100 km = 16.09344 Wh/mi; a kWh is 3.6 MJ
    j_per_m = 10 * units.WH_PER_KM
    assert j_per_m * units.MILE_M / 3600 == pytest.approx(16.09344, rel=1e-12)
    assert units.KWH_J == 3.6e6


def test_us_test_load():
    assert pytest.approx(300 * units.POUND_KG, abs=5e-6) == US_TEST_LOAD_KG  # 300 lb


@pytest.mark.parametrize(("celsius", "fahrenheit"), [(-40, -40), (0, 32), (-6.666666667, 20), (35, 95), (100, 212)])
def test_fahrenheit(celsius, fahrenheit):
    assert units.celsius_from_fahrenheit(fahrenheit) == pytest.approx(celsius, abs=1e-9)
    assert units.fahrenheit_from_celsius(celsius) == pytest.approx(fahrenheit, abs=1e-8)
    assert units.celsius_from_kelvin(units.kelvin_from_celsius(celsius)) == pytest.approx(celsius, abs=1e-12)
