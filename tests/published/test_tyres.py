"""Tyre rolling resistance: UN R117 annex 6 (ISO 28580), SAE J2452 form."""

import pytest

from service.physics.tyres import (
    LABEL_REFERENCE_K,
    LABEL_SLOPE_PER_K,
    WARM_RISE_K,
    load_factor,
    pressure_factor,
    rolling_temperature_factor,
)


def label_factor(celsius):
    return rolling_temperature_factor(celsius + 273.15, WARM_RISE_K, LABEL_REFERENCE_K, LABEL_SLOPE_PER_K)


# UN R117 annex 6 § 6.2: F25 = F·[1 + 0.008·(t − 25)], valid 20–30 °C: 22 °C → ×0.976, 28 °C → ×1.024.
# We predict F from F25, so divide; the exponential stays within the printed digits.
@pytest.mark.parametrize(("celsius", "correction"), [(22, 0.976), (28, 1.024)])
def test_label_temperature_correction(celsius, correction):
    assert 1 / label_factor(celsius) == pytest.approx(correction, abs=5e-4)


def test_label_example():
    # Example 29: 7.5 N/kN at 22 °C, class C1 → 7.32 N/kN at 25 °C
    assert 7.5 / label_factor(22) == pytest.approx(7.32, abs=5e-3)
    assert label_factor(25) == 1.0


@pytest.mark.parametrize("celsius", range(20, 31))
def test_exponential_and_published_line_over_the_valid_range(celsius):
    assert label_factor(celsius) == pytest.approx(1 / (1 + 0.008 * (celsius - 25)), rel=1e-3)


# SAE J2452 with α = −0.4 (−0.3 to −0.5, from memory): 210 → 250 kPa ×0.9326; 250 → 200 kPa ×1.0934
@pytest.mark.parametrize(("from_kpa", "to_kpa", "factor"), [(210, 250, 0.9326), (250, 200, 1.0934)])
def test_pressure(from_kpa, to_kpa, factor):
    assert pressure_factor(1000.0 * to_kpa, 1000.0 * from_kpa) == pytest.approx(factor, abs=6e-5)


def test_load():
    # RRC = RRC_ISO·(F/F_ISO)^(β−1), β = 0.9 (0.8 to 1.0, from memory): at 0.8 of the load ×1.0226
    assert load_factor(0.8, 1.0) / 0.8 == pytest.approx(1.0226, abs=6e-5)


def test_one_psi_low_costs_about_one_per_cent():
    # TRB SR 286, from memory: 1 psi low ≈ +1.4 % rolling resistance, at about 33 psi
    assert pressure_factor(32.0, 33.0) == pytest.approx(1.014, abs=3e-3)
