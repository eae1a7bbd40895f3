"""The recorded session: a curve whose energies are the books', a run of cable, balancing, direct-current stations."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from service.charging.onboard import charger_dc_w, charger_row, run_loss_w, station_row
from service.charging.run import run_heat_w
from service.charging.session import FULL, REACHED, recorded_session, sessions
from service.specs import Battery, BodyAndTyres, Circuit, Kind, MassBasis, Run, Vehicle

ROOM_K = 298.15
PLACES = ("cells_j", "pack_j", "charger_j", "overhead_j", "heater_j", "chiller_j", "balancing_j")
HEATED = {"pack_heater_w": 3000.0, "pack_heat_below_k": 278.15}
CHILLED = {"pack_cool_above_k": 308.15, "cooler_w": 5000.0}
LEAD = Circuit("lead", "", "own", 230.0, 16.0, run=Run(25.0, section_mm2=2.5))
steady = settings(deadline=None, derandomize=True, max_examples=60)


def plugged_in(circuit):
    vehicle = Vehicle(
        "own", "own", Kind.BEV, 1500, MassBasis.KERB, BodyAndTyres(0.62, 0.009), Battery(18 * 3.6e6),
        onboard_charger_w=7400, onboard_charger_phases=1,
    )  # fmt: skip
    return charger_row(vehicle, circuit, 0.93, 200.0)


def recorded(build, charger, start=0.0, end=1.0, ambient_k=ROOM_K, pack_k=None, **fields):
    pack_k = ambient_k if pack_k is None else pack_k
    return recorded_session(build.car(**fields), build.draw(), charger, start, end, ambient_k, pack_k)


def balanced(charger, seconds=1200.0, watts=40.0):
    charger.balancing_s, charger.balancing_w = seconds, watts
    return charger


@steady
@given(
    direct=st.booleans(),
    power_w=st.floats(300, 60_000),
    amps=st.sampled_from([None, 40.0, 200.0]),
    charges=st.tuples(st.floats(0, 1), st.floats(0, 1)),
    ambient_k=st.floats(243, 313),
    pack_k=st.floats(243, 328),
    heater_w=st.sampled_from([0.0, 3000.0]),
    balancing_s=st.sampled_from([0.0, 1200.0]),
)
def test_curve_and_books_close(build, direct, power_w, amps, charges, ambient_k, pack_k, heater_w, balancing_s):
    charger = station_row(power_w, amps, 200.0) if direct else plugged_in(LEAD)
    fields = CHILLED | {"pack_heater_w": heater_w, "pack_heat_below_k": 278.15}
    done, curve = recorded(build, balanced(charger, balancing_s), *charges, ambient_k, pack_k, **fields)
    assert sum(done[place] for place in PLACES) == pytest.approx(done.wall_j, rel=1e-9, abs=1e-6)
    assert (curve.meter_w * curve.seconds).sum() == pytest.approx(done.wall_j + done.cable_j, rel=1e-9)
    assert (curve.terminal_w * curve.seconds).sum() == pytest.approx(done.terminals_j, rel=1e-9)
    assert curve.seconds.sum() == pytest.approx(done.seconds, rel=1e-9)
    assert (np.diff(curve.start_s) >= 0).all()
    assert (np.diff(curve.charge) >= 0).all()
    if direct:
        assert (curve.meter_w <= power_w * (1 + 1e-6)).all()


def test_the_recorder_changes_nothing(build):
    plain = sessions(build.car(**HEATED), build.draw(), build.charger(7200.0), 0.1, 0.9, 263.15, 263.15)[0]
    done, curve = recorded(build, build.charger(7200.0)[0], 0.1, 0.9, 263.15, **HEATED)
    assert done.seconds == plain.seconds
    assert done.wall_j == plain.wall_j
    assert len(curve) == done.points > 40
    assert (plain.points, curve.start_s[0], curve.charge[0]) == (0, 0, 0.1)


def test_a_run_of_cable_costs_what_its_current_makes(build):
    # worked example: 16 A through 25 m of 2.5 mm² at 70 °C lose 7.093 V and 113.5 W
    charger = plugged_in(LEAD)
    assert charger.ac_w == pytest.approx((230 - 7.093) * 16, abs=0.02)
    assert run_loss_w(charger.ac_w, 1, 230.0, charger.run_ohm) == pytest.approx(113.5, abs=0.05)
    for share in (0.1, 0.5, 1.0):
        ours = run_loss_w(share * charger.ac_w, charger.in_use, charger.supply_v, charger.run_ohm)
        assert ours == pytest.approx(run_heat_w(LEAD, share * charger.ac_w), rel=1e-9)
    done, _ = recorded(build, charger, end=0.5)
    assert done.cable_j == pytest.approx(113.5 * done.seconds, rel=1e-3)
    short = plugged_in(Circuit("socket", "", "own", 230.0, 16.0))
    assert recorded(build, short, end=0.5)[0].cable_j == 0


def test_one_phase_of_a_three_phase_run_loses_by_the_neutral_too():
    three = Circuit("lead", "", "own", 230.0, 16.0, 3, Run(25.0, section_mm2=2.5))
    assert plugged_in(three).ac_w == pytest.approx(plugged_in(LEAD).ac_w)


def test_a_full_pack_is_balanced_and_the_time_is_booked(build):
    # common practice: the last minutes balance the cells, 10–40 min
    without, _ = recorded(build, build.charger(7200.0)[0])
    done, curve = recorded(build, balanced(build.charger(7200.0)[0]))
    assert done.seconds - without.seconds == pytest.approx(1200)
    assert done.balancing_j == pytest.approx(1200 * 40)
    assert done.overhead_j - without.overhead_j == pytest.approx(1200 * 200)
    assert done.cells_j == without.cells_j
    assert curve.terminal_w[-1] == 0
    assert curve.meter_w[-1] == pytest.approx(200 + 40 / 0.93)
    low = 96 * 4.15
    assert recorded(build, balanced(build.charger(7200.0)[0]), max_v=low)[0].balancing_s == 1200


def test_a_charge_limit_below_full_is_not_balanced(build):
    done, _ = recorded(build, balanced(build.charger(7200.0)[0]), end=0.8)
    assert (done.ended, done.balancing_s, done.balancing_j) == (REACHED, 0, 0)
    assert recorded(build, balanced(build.charger(7200.0)[0]), 1.0, 1.0)[0].seconds == 0


def test_a_station_is_held_by_its_power_or_its_current(build):
    strong = {"charge_limit_a": 400.0, "resistance_ohm": 0.02}
    by_power, curve = recorded(build, station_row(30e3, None, 200.0), 0.1, 0.5, **strong)
    assert curve.meter_w == pytest.approx(30e3, rel=1e-3)
    assert by_power.charger_j == 0
    _, curve = recorded(build, station_row(30e3, 60.0, 200.0), 0.1, 0.5, **strong)
    volts = 96 * np.array([3.4 + 0.8 * 0.1, 3.4 + 0.8 * 0.5])
    assert curve.terminal_w[[0, -1]] == pytest.approx(60 * (volts + 60 * 0.02), rel=0.02)
    assert charger_dc_w(30e3, 1.0, 200.0, 1.0) == 29_800


def test_plating_holds_a_fast_charge_back_in_the_cold_and_near_full(build):
    station = station_row(200e3, None, 200.0)
    fields = {"charge_limit_a": 75.0, "pack_j_k": 1e9}  # stays at its temperature
    for kelvin, charge, share in ((298.15, 0.3, 1.0), (298.15, 0.8, 0.708), (273.15, 0.3, 0.275)):
        _, curve = recorded(build, station, charge, charge + 0.01, kelvin, **fields)
        volts = 96 * (3.4 + 0.8 * charge)
        assert curve.terminal_w[0] / volts == pytest.approx(share * 75, rel=0.06)


@pytest.mark.parametrize("kelvin", [253.15, 258.15, 268.15, 273.15, 288.15, 298.15])
@pytest.mark.parametrize("charge", [0.1, 0.5, 0.8, 0.95])
def test_an_outlet_never_gives_cells_more_than_a_station(build, kelvin, charge):
    fields = {"charge_limit_a": 75.0, "pack_j_k": 1e9}  # without a heater, and stays at its temperature
    station, wall = station_row(200e3, None, 200.0), build.charger(200e3)[0]
    fast, slow, weak = (
        recorded(build, each, charge, charge + 0.01, kelvin, **fields)[0]
        for each in (station, wall, build.charger(3300.0)[0])
    )
    assert slow.seconds == pytest.approx(fast.seconds, rel=2e-3)  # the same but for the length of steps
    assert weak.seconds >= fast.seconds * (1 - 2e-3)


def test_a_preheated_pack_charges_faster_at_a_station_and_a_chiller_holds_it(build):
    station, fields = station_row(60e3, None, 200.0), CHILLED | {"charge_limit_a": 150.0}
    cold, _ = recorded(build, station, 0.1, 0.8, 268.15, 268.15, **fields)
    warm, curve = recorded(build, station, 0.1, 0.8, 268.15, 298.15, **fields)
    assert warm.seconds < 0.6 * cold.seconds
    hot, _ = recorded(build, station, 0.1, 0.8, 303.15, 316.15, **fields)
    unchilled, _ = recorded(build, station, 0.1, 0.8, 303.15, 316.15, charge_limit_a=150.0)
    assert hot.pack_k < unchilled.pack_k - 4
    assert hot.chiller_j > 0 == unchilled.chiller_j
    assert curve.pack_k.max() < 318.15


@steady
@given(
    power_w=st.floats(2000, 150_000),
    more=st.floats(1.01, 4),
    amps=st.floats(20, 400),
    charges=st.tuples(st.floats(0, 0.9), st.floats(0.05, 1)).filter(lambda pair: pair[0] < pair[1]),
    kelvin=st.floats(243, 297),
    warmer=st.floats(0.1, 30),
)
def test_a_stronger_station_or_a_warmer_pack_is_never_slower(build, power_w, more, amps, charges, kelvin, warmer):
    # a pack that its own losses carry over 35 °C is cooled for it; below that, warmth only helps
    warm_k = min(kelvin + warmer, ROOM_K)
    fields = CHILLED | {"pack_j_k": 1e6}
    times = [
        recorded(build, station_row(watts, limit_a, 200.0), *charges, 283.15, pack_k, **fields)[0].seconds
        for watts, limit_a, pack_k in (
            (power_w, amps, kelvin), (power_w * more, amps, kelvin), (power_w, amps * more, kelvin),
            (power_w, amps, warm_k),
        )
    ]  # fmt: skip
    assert max(times[1:]) <= times[0] * (1 + 2e-3)


def test_a_full_pack_ends_full(build):
    done, _ = recorded(build, station_row(50e3, 125.0, 200.0), max_v=96 * 4.15)
    assert done.ended == FULL
