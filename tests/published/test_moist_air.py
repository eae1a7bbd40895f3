"""Moist air against CIPM-2007 digits, and live against two independent libraries.

The digits were computed by hand from the formula of Picard et al., Metrologia 45 (2008) 149 (constants from memory,
partly seen); the libraries are CoolProp (Herrmann, Kretzschmar and Gatley) and PsychroLib (ASHRAE Fundamentals 2017).
Below 0 °C both take saturation over ice, CIPM over water.
"""

import itertools

import pytest

from service.physics.air import (
    air_density_kg_m3,
    humidity_ratio,
    moist_air_enthalpy_j_kg,
    saturation_pressure_pa,
)

# °C, Pa, relative humidity → CIPM kg/m³, CoolProp kg/m³, W kg/kg and h kJ/kg of PsychroLib
TABLE = [
    (20, 101325, 0.5, 1.19931, 1.19936, 0.007262, 38.552),
    (20, 100000, 0.0, 1.18880, 1.18885, 0.0, 20.120),
    (20, 100000, 0.5, 1.18356, 1.18360, 0.007359, 38.799),
    (15, 101325, 0.0, 1.22552, 1.22557, 0.0, 15.090),
    (0, 101325, 0.0, 1.29305, 1.29310, 0.0, 0.0),
    (0, 101325, 0.8, 1.29070, 1.29074, 0.003016, 7.542),
    (-10, 101325, 0.8, 1.34123, 1.34138, 0.001279, -6.885),
    (-20, 101325, 0.0, 1.39562, 1.39568, 0.0, -20.120),
    (-20, 101325, 0.7, 1.39517, 1.39530, 0.000444, -19.026),
    (5, 95000, 0.9, 1.18672, 1.18676, 0.005184, 18.042),
    (23, 100000, 0.5, 1.17049, 1.17053, 0.008864, 45.687),
    (25, 101325, 0.5, 1.17732, 1.17736, 0.009881, 50.322),
    (35, 101325, 0.6, 1.13138, 1.13142, 0.021441, 90.230),
    (40, 101325, 0.3, 1.11813, 1.11817, 0.013900, 76.038),
    (20, 98210, 0.0, 1.16751, 1.16756, 0.0, 20.120),
    (20, 83500, 0.3, 0.98944, 0.98948, 0.005270, 33.497),
]


@pytest.mark.parametrize(("celsius", "pa", "humidity", "cipm", "coolprop", "w", "h"), TABLE)
def test_printed_table(celsius, pa, humidity, cipm, coolprop, w, h):
    kelvin = celsius + 273.15
    density = air_density_kg_m3(kelvin, float(pa), humidity)
    assert density == pytest.approx(cipm, abs=6e-6)
    assert density == pytest.approx(coolprop, rel=1.5e-4)
    ours = humidity_ratio(kelvin, float(pa), humidity)
    enthalpy_kj = moist_air_enthalpy_j_kg(kelvin, ours) / 1000
    if celsius >= 0:
        assert ours == pytest.approx(w, rel=1.5e-3, abs=1e-9)  # saturation formulas differ by 0.1 %
        assert enthalpy_kj == pytest.approx(h, abs=0.09)
    else:
        assert w <= ours < 1.25 * w + 1e-12  # water holds up to a fifth more than ice at −20 °C


# ASHRAE Fundamentals saturation pressure over water, PsychroLib's digits
@pytest.mark.parametrize(
    ("celsius", "pa"),
    [(5, 872.49), (10, 1228.00), (20, 2338.80), (25, 3169.22), (30, 4246.03), (40, 7383.46)],
)
def test_saturation_pressure(celsius, pa):
    assert saturation_pressure_pa(celsius + 273.15) == pytest.approx(pa, rel=1e-3)


def test_cfr_examples():
    # 40 CFR 1065.645 (Goff-Gratch): t_dew 9.5 °C at 99.980 kPa, and 50.77 % at 20 °C, both x_H2O = 0.011868
    assert saturation_pressure_pa(282.65) == pytest.approx(1186.581, rel=1e-3)
    assert saturation_pressure_pa(282.65) / 99_980 == pytest.approx(0.011868, rel=1e-3)
    assert 0.5077 * saturation_pressure_pa(293.15) / 99_980 == pytest.approx(0.011868, rel=1e-3)


def test_psychrometric_example():
    # Example 18: 20 °C, 50 %: W 0.007262, h 38.552 kJ/kg; §4.1: the same at 83 500 Pa: 0.008834, 42.542
    w = humidity_ratio(293.15, 101_325.0, 0.5)
    assert w == pytest.approx(0.007262, rel=1.5e-3)
    assert moist_air_enthalpy_j_kg(293.15, 0.007262) / 1000 == pytest.approx(38.552, abs=6e-3)
    assert humidity_ratio(293.15, 83_500.0, 0.5) == pytest.approx(0.008834, rel=1.5e-3)
    assert moist_air_enthalpy_j_kg(293.15, 0.008834) / 1000 == pytest.approx(42.542, abs=6e-3)


def test_damp_air_is_lighter():
    # 100 % at 20 °C: about −0.9 %
    change = air_density_kg_m3(293.15, 101_325.0, 1.0) / air_density_kg_m3(293.15, 101_325.0, 0.0) - 1
    assert change == pytest.approx(-0.009, abs=5e-4)
    assert air_density_kg_m3(293.15, 101_325.0, 0.0) == pytest.approx(1.20458, rel=1e-4)  # CoolProp, dry


GRID = list(itertools.product(range(-20, 41, 10), (70_000.0, 85_000.0, 101_325.0), (0.0, 0.3, 0.6, 1.0)))


def test_density_against_coolprop_live():
    coolprop = pytest.importorskip("CoolProp.HumidAirProp", reason="CoolProp is not installed")
    for celsius, pa, humidity in GRID:
        kelvin = celsius + 273.15
        vda = coolprop.HAPropsSI("Vha", "T", kelvin, "P", pa, "R", humidity)
        assert air_density_kg_m3(kelvin, pa, humidity) == pytest.approx(1 / vda, rel=2e-4), (celsius, pa, humidity)


def test_mixture_against_psychrolib_live():
    psychrolib = pytest.importorskip("psychrolib", reason="PsychroLib is not installed")
    psychrolib.SetUnitSystem(psychrolib.SI)
    for celsius, pa, humidity in GRID:
        if celsius < 0:
            continue  # saturation over ice there
        kelvin = celsius + 273.15
        w = psychrolib.GetHumRatioFromRelHum(celsius, humidity, pa)
        assert humidity_ratio(kelvin, pa, humidity) == pytest.approx(w, rel=2e-3, abs=2e-7)
        theirs = psychrolib.GetMoistAirEnthalpy(celsius, w)
        assert moist_air_enthalpy_j_kg(kelvin, w) == pytest.approx(theirs, rel=1e-4, abs=1.0)
        density = psychrolib.GetMoistAirDensity(celsius, max(w, 1e-7), pa)
        assert air_density_kg_m3(kelvin, pa, humidity) == pytest.approx(density, rel=1.5e-3)  # ideal mixture there
