"""A run of cable on a circuit: the books of voltage and heat, what a car finds at its end, advice and refusals."""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from service.charging.circuit import offered_at_w, offered_power_w
from service.charging.conductor import AWG_OHM_KFT, SECTION_OHM_KM
from service.charging.run import check_run, current_for_a, delivered, run_advice, run_heat_w, run_name, run_ohm_m
from service.charging.supply import SUPPLY_TOLERANCE, sampled_volts, supply_ends_v
from service.errors import BadInput
from service.specs import Circuit, Metal, Run

steady = settings(deadline=None, derandomize=True, max_examples=80)


def circuit(volts=230.0, amps=16.0, phases=1, region="own", **run):
    return Circuit("own", "", region, volts, amps, phases, Run(**run) if run else None)


RUNS = st.builds(
    lambda size, length, kelvin: Run(length, conductor_k=kelvin, **size),
    st.one_of(
        st.sampled_from([{"section_mm2": each} for each in SECTION_OHM_KM[Metal.COPPER, True]]),
        st.sampled_from([{"awg": each} for each in AWG_OHM_KFT[Metal.COPPER]]),
    ),
    st.floats(0.1, 60),
    st.one_of(st.none(), st.floats(253, 363)),
)
CIRCUITS = st.builds(
    lambda volts, amps, phases, run: Circuit("own", "", "own", volts, amps, phases, run),
    st.floats(100, 277), st.floats(6, 32), st.integers(1, 3), RUNS,
)  # fmt: skip


@steady
@given(CIRCUITS, st.integers(1, 3))
def test_what_leaves_the_meter_is_socket_and_heat(one, in_use):
    found = delivered(one, in_use)
    loaded = min(in_use, one.phases)
    assert found.power_w + found.heat_w == pytest.approx(loaded * one.volts * found.current_a, rel=1e-12)
    assert 0.5 * one.volts - 1e-9 <= found.volts <= one.volts
    assert found.heat_w_m * one.run.length_m == pytest.approx(found.heat_w)


@steady
@given(CIRCUITS, st.integers(1, 3), st.floats(0.01, 1))
def test_current_for_a_power_is_the_way_back(one, in_use, share):
    socket_w = share * delivered(one, in_use).power_w
    amps = current_for_a(one, socket_w, in_use)
    assert amps <= delivered(one, in_use).current_a * (1 + 1e-6)
    assert delivered(one, in_use, amps).power_w == pytest.approx(socket_w, rel=1e-6)
    assert run_heat_w(one, socket_w, in_use) == pytest.approx(delivered(one, in_use, amps).heat_w)


@steady
@given(CIRCUITS, st.floats(1.01, 3))
def test_longer_hotter_or_more_current_never_loses_less(one, more):
    before = delivered(one)
    longer = delivered(replace(one, run=replace(one.run, length_m=more * one.run.length_m)))
    hot, hotter = (delivered(replace(one, run=replace(one.run, conductor_k=each))) for each in (300, 300 + 20 * more))
    assert longer.drop_share >= before.drop_share
    assert longer.power_w <= before.power_w * (1 + 1e-12)
    assert hotter.drop_share >= hot.drop_share
    assert delivered(replace(one, continuous_a=more * one.continuous_a)).power_w >= before.power_w * (1 - 1e-12)


def test_without_a_run_nothing_is_lost():
    found = delivered(circuit())
    assert (found.volts, found.power_w, found.drop_v, found.heat_w) == (230, 3680, 0, 0)
    assert run_heat_w(circuit(), 3000.0) == 0
    assert run_advice(circuit()) == ()
    assert current_for_a(circuit(phases=3), 6900.0) == pytest.approx(10)


def test_offered_power_is_what_arrives():
    # worked: 2.5 mm², 16 A, 25 m, 70 °C: 7.093 V and 113.5 W lost of 3 680 W
    one = circuit(length_m=25.0, section_mm2=2.5)
    assert offered_power_w(one) == pytest.approx(3680 - 113.5, abs=0.1)
    assert delivered(one).volts == pytest.approx(230 - 7.093, abs=1e-3)
    # 114 V at a 5-15 is 5 % less, 1.368 kW: 76 ft of AWG 14 at 75 °C lose 4.8 %
    long = circuit(120.0, 12.0, length_m=76 * 0.3048, awg=14)
    assert offered_power_w(long) == pytest.approx(1368, rel=3e-3)


def test_one_phase_of_three_loses_twice_as_much():
    one = circuit(phases=3, length_m=25.0, section_mm2=2.5)
    assert delivered(one, 1).drop_v == pytest.approx(2 * delivered(one, 3).drop_v)
    assert offered_power_w(one, 1) < offered_power_w(one, 3) / 3


def test_a_hopeless_run_gives_no_more_than_half_its_voltage_allows():
    # maximum power transfer: V²/(4R) whatever the fuse allows
    one = circuit(230.0, 100.0, length_m=1000.0, section_mm2=1.5, conductor_k=293.15)
    ohm = 2 * 12.1e-3 * 1000
    assert offered_power_w(one) == pytest.approx(230**2 / (4 * ohm))


def test_unstated_temperature_is_the_tables_own():
    assert run_ohm_m(Run(1.0, awg=10)) == pytest.approx(1.24 / 304.8)
    assert run_ohm_m(Run(1.0, section_mm2=10)) == pytest.approx(1.83e-3 * (1 + 0.00393 * 50))


@pytest.mark.parametrize(("size", "words"), [({}, "neither"), ({"section_mm2": 2.5, "awg": 14}, "both")])
def test_a_run_has_one_size(size, words):
    with pytest.raises(BadInput, match=f"the run has {words}"):
        run_ohm_m(Run(10.0, **size))


@pytest.mark.parametrize(
    ("run", "name"),
    [
        (Run(25.0, section_mm2=2.5), "25 m of 2.5 mm² copper"),
        (Run(30.5, awg=0, metal=Metal.ALUMINIUM), "30.5 m of AWG 1/0 aluminium"),
        (Run(20.0, section_mm2=1.5, flexible=True), "20 m of 1.5 mm² flexible copper"),
    ],
)
def test_names_of_runs(run, name):
    assert run_name(run) == name


# 3 % advised in North America, 5 % in Europe: AWG 12, 16 A, 75 ft at 120 V loses 3.96 % (worked)
@pytest.mark.parametrize(("region", "lines"), [("north_america", 2), ("own", 2), ("united_kingdom", 1)])
def test_advice_is_given_where_the_drop_is_over_the_usual(region, lines):
    advice = run_advice(circuit(120.0, 16.0, region=region, length_m=75 * 0.3048, awg=12))
    assert len(advice) == lines
    assert "4 % of the voltage" in advice[0]
    if lines > 1:
        assert "over the 3 % usually advised" in advice[1]
        assert "licensed electrician" in advice[1]


def test_a_run_that_leaves_too_little_is_refused_with_a_length_that_would_do():
    one = circuit(230.0, 32.0, length_m=100.0, section_mm2=2.5)
    with pytest.raises(BadInput, match=r"circuit\.run\.length_m.*2\.5 mm² copper would lose 25 % of 230 V") as caught:
        check_run(one)
    metres = float(caught.value.row.remedy.split()[3])
    check_run(replace(one, run=replace(one.run, length_m=metres)))
    with pytest.raises(BadInput):
        check_run(replace(one, run=replace(one.run, length_m=metres + 0.2)))
    check_run(circuit())


# ANSI C84.1 range A: 114 to 126 V, 228 to 252 V; EN 50160: 207 to 253 V; Britain: 216.2 to 253 V
@pytest.mark.parametrize(
    ("region", "nominal", "low", "high"),
    [
        ("north_america", 120, 114, 126), ("north_america", 240, 228, 252), ("north_america", 208, 197.6, 218.4),
        ("continental_europe", 230, 207, 253), ("united_kingdom", 230, 216.2, 253),
    ],
)  # fmt: skip
def test_ends_of_the_supply(region, nominal, low, high):
    assert supply_ends_v(circuit(nominal, region=region)) == pytest.approx((low, nominal, high))


@pytest.mark.parametrize("region", list(SUPPLY_TOLERANCE))
def test_sampled_volts_lie_in_a_triangle(region):
    one = circuit(region=region)
    low, peak, high = supply_ends_v(one)
    volts = sampled_volts(one, (np.arange(200_000) + 0.5) / 200_000)
    assert (np.diff(volts) > 0).all()
    assert volts.mean() == pytest.approx((low + peak + high) / 3, rel=1e-6)  # mean of a triangle
    variance = (low**2 + peak**2 + high**2 - low * peak - low * high - peak * high) / 18
    assert volts.std() == pytest.approx(variance**0.5, rel=1e-4)
    assert sampled_volts(one, np.array([0.0, 1.0])) == pytest.approx([low, high])


@steady
@given(CIRCUITS, st.integers(1, 3), st.floats(0.8, 1.2))
def test_another_voltage_of_the_supply_is_the_circuit_at_that_voltage(one, in_use, share):
    loaded = min(in_use, one.phases)
    for each in (one, replace(one, run=None)):
        at = offered_at_w(each, loaded, np.array([each.volts, share * each.volts]))
        other = replace(each, volts=share * each.volts)
        assert at == pytest.approx([offered_power_w(each, loaded), offered_power_w(other, loaded)], rel=1e-12)
