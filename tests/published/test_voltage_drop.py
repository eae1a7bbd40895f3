"""Conductors against printed resistances (IEC 60228, NEC chapter 9 table 8) and voltage drops worked by hand."""

import pytest

from service.charging.conductor import (
    AWG_OHM_KFT,
    SECTION_OHM_KM,
    drop_v,
    gauge_name,
    gauge_ohm_m,
    heat_w,
    heat_w_m,
    line_drop_v,
    paths,
    section_ohm_m,
)
from service.errors import BadInput
from service.specs import Metal

COPPER, ALUMINIUM = Metal.COPPER, Metal.ALUMINIUM
FOOT_M = 0.3048
AT_20_C, AT_70_C, AT_75_C = 293.15, 343.15, 348.15

# worked by hand, 2·I·R·L in copper at 230 V: mm², A, m, K, V, %, W or None
METRIC = [
    (2.5, 10, 25, AT_20_C, 3.705, 1.611, None),
    (2.5, 16, 25, AT_70_C, 7.093, 3.084, 113.5),
    (4, 32, 20, AT_20_C, 5.901, 2.566, 188.8),
    (6, 32, 30, AT_70_C, 7.076, 3.076, None),
    (10, 32, 50, AT_70_C, 7.007, 3.046, None),
]
# the same by gauge, stranded copper at 75 °C: AWG, A, ft, volts, V, %
GAUGES = [
    (14, 12, 50, 120, 3.768, 3.140),
    (12, 16, 75, 120, 4.752, 3.960),
    (10, 24, 100, 240, 5.952, 2.480),
    (8, 32, 100, 240, 4.979, 2.075),
    (6, 40, 100, 240, 3.928, 1.637),
    (6, 48, 150, 240, 7.070, 2.946),
]


@pytest.mark.parametrize(("mm2", "amps", "metres", "kelvin", "volts", "pct", "watts"), METRIC)
def test_metric_drop_is_as_worked(mm2, amps, metres, kelvin, volts, pct, watts):
    ohm_m = section_ohm_m(mm2, COPPER, kelvin)
    lost_v = drop_v(amps, ohm_m, metres)
    assert lost_v == pytest.approx(volts, abs=6e-4)
    assert 100 * lost_v / 230 == pytest.approx(pct, abs=6e-4)
    if watts is not None:
        assert heat_w(amps, ohm_m, metres) == pytest.approx(watts, abs=0.06)


@pytest.mark.parametrize(("awg", "amps", "feet", "supply_v", "volts", "pct"), GAUGES)
def test_drop_by_gauge_is_as_worked(awg, amps, feet, supply_v, volts, pct):
    lost_v = drop_v(amps, gauge_ohm_m(awg, COPPER, AT_75_C), feet * FOOT_M)
    assert lost_v == pytest.approx(volts, abs=6e-4)
    assert 100 * lost_v / supply_v == pytest.approx(pct, abs=6e-4)


# stranded at 75 °C in Ω/km, from the table's Ω/kft
@pytest.mark.parametrize(("awg", "ohm_km"), [(14, 10.302), (12, 6.496), (10, 4.068), (8, 2.552), (6, 1.611)])
def test_gauges_in_metric_units(awg, ohm_km):
    assert 1000 * gauge_ohm_m(awg, COPPER, AT_75_C) == pytest.approx(ohm_km, abs=6e-4)


def test_the_gauge_table_is_at_75_celsius_not_at_20_nor_at_75_fahrenheit():
    # AWG 14 solid: 2.525 Ω/kft at 20 °C from 100 % IACS, times 1 + 0.00393·55 = 1.2162 is 3.071; the table prints 3.07
    solid_20_c = 2.525
    assert solid_20_c * (1 + 0.00393 * 55) == pytest.approx(3.07, abs=5e-3)
    # the table's own slope leads back: stranded is 2 % longer wire than solid
    ratio = gauge_ohm_m(14, COPPER, AT_20_C) * 304.8 / solid_20_c
    assert ratio == pytest.approx(1.02, abs=0.005)


@pytest.mark.parametrize("awg", [14, 12, 10, 8, 6])
def test_both_families_are_the_same_copper(awg):
    # ASTM B258: AWG 0000 (−3) is 107.22 mm², and 39 gauges thinner the diameter is a 92nd
    section_mm2 = 107.22 * 92 ** (-2 * (awg + 3) / 39)
    # resistivity of copper, 0.017241 Ω·mm²/m at 20 °C (100 % IACS); strands lie 2 % longer
    assert gauge_ohm_m(awg, COPPER, AT_20_C) * section_mm2 == pytest.approx(1.02 * 0.017241, rel=0.006)


def test_standard_sections_stay_within_their_resistivity():
    # IEC 60228 prints the largest resistance allowed: never below copper's and aluminium's own
    own = {COPPER: 0.017241, ALUMINIUM: 0.028264}
    for (metal, _flexible), table in SECTION_OHM_KM.items():
        for mm2, ohm_km in table.items():
            assert 1.0 < ohm_km / 1000 * mm2 / own[metal] < 1.17


def test_aluminium_by_gauge_resists_as_61_per_cent_iacs():
    for awg, ohm_kft in AWG_OHM_KFT[ALUMINIUM].items():
        # 1/0.61 at 20 °C; at 75 °C with 0.00403 and 0.00393: 1.6473
        assert ohm_kft / AWG_OHM_KFT[COPPER][awg] == pytest.approx(1.6473, rel=0.006)


# makers' inverse factors: 40 °C 0.926, 70 °C 0.833, 90 °C 0.781 (they use 0.004/K)
@pytest.mark.parametrize(("celsius", "inverse"), [(40, 0.926), (70, 0.833), (90, 0.781)])
def test_temperature_factor_is_the_makers(celsius, inverse):
    cold, hot = (section_ohm_m(6, COPPER, 273.15 + each) for each in (20, celsius))
    assert cold / hot == pytest.approx(inverse, abs=0.004)


# BS 7671 appendix 4, 70 °C: mV for each ampere and metre, out and back (from memory, two digits)
@pytest.mark.parametrize(("mm2", "mv"), [(1.5, 29), (2.5, 18), (4, 11), (6, 7.3), (10, 4.4), (16, 2.8)])
def test_drop_of_installation_tables(mm2, mv):
    assert 1000 * drop_v(1, section_ohm_m(mm2, COPPER, AT_70_C), 1) == pytest.approx(mv, rel=0.02)


def test_three_phases_lose_half_as_much_and_a_lost_phase_half_as_much_again():
    assert [paths(in_use) for in_use in (1, 2, 3)] == [2, 1.5, 1]
    ohm_m = section_ohm_m(2.5, COPPER, AT_70_C)
    one, two, three = (drop_v(16, ohm_m, 25, in_use) for in_use in (1, 2, 3))
    assert (two / one, three / one) == (0.75, 0.5)
    # between phases √3 as much, of 400 V instead of 230: the same share
    assert line_drop_v(16, ohm_m, 25) / (230 * 3**0.5) == pytest.approx(three / 230)


def test_heat_counts_every_conductor():
    # by Kirchhoff: n phase conductors carry I each; the neutral of two phases 120° apart carries I, of three none
    i, ohm_m, metres = 16, 0.00741, 30
    for in_use, loaded in ((1, 2), (2, 3), (3, 3)):
        assert heat_w(i, ohm_m, metres, in_use) == pytest.approx(loaded * i * i * ohm_m * metres)
        assert heat_w_m(i, ohm_m, in_use) * metres == pytest.approx(heat_w(i, ohm_m, metres, in_use))


def test_conductors_that_are_not_made_are_refused_with_those_that_are():
    with pytest.raises(BadInput, match=r"give one of 1\.5, 2\.5, 4, 6"):
        section_ohm_m(3, COPPER, AT_20_C)
    with pytest.raises(BadInput, match="there is no aluminium gauge 14; give one of 12, 10"):
        gauge_ohm_m(14, ALUMINIUM, AT_75_C)
    with pytest.raises(BadInput, match="no flexible leads of aluminium"):
        section_ohm_m(16, ALUMINIUM, AT_20_C, flexible=True)


def test_flexible_leads_resist_more_than_walls():
    for mm2 in (1.5, 2.5, 4, 6, 10, 16):
        assert section_ohm_m(mm2, COPPER, AT_20_C, flexible=True) > section_ohm_m(mm2, COPPER, AT_20_C)


def test_gauges_are_written_as_people_write_them():
    assert [gauge_name(awg) for awg in (14, 1, 0)] == ["AWG 14", "AWG 1", "AWG 1/0"]
