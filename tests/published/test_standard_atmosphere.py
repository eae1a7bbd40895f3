"""Pressure at altitude: ISO 2533 / US Standard Atmosphere 1976, troposphere.

Closed form over geopotential height, from memory; the table over geometric height was computed with
two independent libraries, which agree to 1e-5.
"""

import pytest

from service.physics.air import air_density_kg_m3, pressure_at_altitude_pa

LAPSE_K_M, SEA_K, DRY_AIR = 0.0065, 288.15, 287.05287  # ISO 2533

# height m → geometric T K, p Pa, ρ kg/m³; geopotential p Pa, ρ
TABLE = [
    (0, 288.150, 101325.0, 1.22500, 101325.0, 1.22500),
    (500, 284.900, 95461.3, 1.16727, 95460.8, 1.16727),
    (1000, 281.651, 89876.3, 1.11166, 89874.6, 1.11164),
    (1500, 278.402, 84559.7, 1.05810, 84556.0, 1.05807),
    (1609.344, 277.692, 83431.8, 1.04666, 83427.6, 1.04662),
    (2000, 275.154, 79501.4, 1.00655, 79495.2, 1.00649),
    (2500, 271.906, 74691.7, 0.95695, 74682.5, 0.95686),
    (3000, 268.659, 70121.1, 0.90925, 70108.5, 0.90912),
]


@pytest.mark.parametrize(("height_m", "_t", "geometric_pa", "_rho", "pa", "rho"), TABLE)
def test_pressure(height_m, _t, geometric_pa, _rho, pa, rho):
    ours_pa = pressure_at_altitude_pa(float(height_m))
    assert ours_pa == pytest.approx(pa, abs=0.06)
    assert ours_pa == pytest.approx(geometric_pa, rel=2e-4)  # what geometric height may differ by up to 3000 m
    assert ours_pa / (DRY_AIR * (SEA_K - LAPSE_K_M * height_m)) == pytest.approx(rho, abs=6e-6)


@pytest.mark.parametrize(("_h", "kelvin", "pa", "rho", "_p", "_r"), TABLE)
def test_density_of_dry_air_there(_h, kelvin, pa, rho, _p, _r):
    # ISO 2533 takes air as an ideal gas of its own mean mass; real air is 0.03–0.05 % denser
    assert air_density_kg_m3(kelvin, pa, 0.0) == pytest.approx(rho, rel=6e-4)


def test_one_mile_up():
    # Example 17: 1609.344 m, 277.69 K, 83 430 Pa ± 5, 1.0466 kg/m³
    pa = pressure_at_altitude_pa(1609.344)
    assert pa == pytest.approx(83_430, abs=5)
    assert pa / (DRY_AIR * 277.69) == pytest.approx(1.0466, abs=6e-5)
