"""Charging sessions: books that close, endings, cold, age, and what must always hold."""

import os
import subprocess
import sys

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from service.charging.session import FULL, NO_POWER, REACHED, SESSION, TOO_LONG, sessions

ROOM_K = 298.15
PLACES = ("cells_j", "pack_j", "charger_j", "overhead_j", "heater_j")
HEATED = {"pack_heater_w": 3000.0, "pack_heat_below_k": 278.15}
steady = settings(deadline=None, derandomize=True, max_examples=60)


def one(build, ac_w=7200.0, start=0.0, end=1.0, ambient_k=ROOM_K, pack_k=None, draw=None, **fields):
    """A single session of the test car."""
    pack_k = ambient_k if pack_k is None else pack_k
    return sessions(build.car(**fields), draw or build.draw(), build.charger(ac_w), start, end, ambient_k, pack_k)[0]


def assert_closes(done):
    assert sum(done[place] for place in PLACES) == pytest.approx(done.wall_j, rel=1e-9, abs=1e-6)
    assert done.cells_j + done.pack_j == pytest.approx(done.terminals_j, rel=1e-9, abs=1e-6)


@steady
@given(
    ac_w=st.floats(201, 50_000),
    start=st.floats(0, 1),
    end=st.floats(0, 1),
    ambient_k=st.floats(233, 328),
    pack_k=st.floats(233, 333),
    losses=st.floats(0.3, 3),
    heater_w=st.sampled_from([0.0, 1500.0, 6000.0]),
)
def test_books_close_whatever_happens(build, ac_w, start, end, ambient_k, pack_k, losses, heater_w):
    heated = {"pack_heater_w": heater_w, "pack_heat_below_k": 278.15}
    done = one(build, ac_w, start, end, ambient_k, pack_k, build.draw(charger=losses), **heated)
    assert_closes(done)
    values = np.array([float(done[name]) for name in SESSION.names])
    assert np.isfinite(values).all()
    assert (values >= 0).all()
    assert start <= done.charge <= max(start, end)
    if done.ended == REACHED:
        assert done.charge == pytest.approx(max(start, end), abs=1e-9)


def test_stored_energy_is_the_area_under_the_open_circuit_voltage(build):
    # straight from 96·3.4 to 96·4.2 V: between 20 and 90 % the mean is 96·3.84 V
    done = one(build, start=0.2, end=0.9)
    assert done.cells_j == pytest.approx(0.7 * 50 * 3600 * 96 * 3.84, rel=1e-9)


def test_first_and_second_half_add_up(build):
    whole, first = one(build), one(build, end=0.47)
    second = one(build, start=0.47, pack_k=first.pack_k)
    assert first.seconds + second.seconds == pytest.approx(whole.seconds, rel=1e-4)
    assert first.wall_j + second.wall_j == pytest.approx(whole.wall_j, rel=1e-4)


def test_nothing_happens_from_the_target_upwards(build):
    for start, end in ((0.8, 0.8), (0.9, 0.5), (1.0, 1.0)):
        done = one(build, start=start, end=end)
        assert (done.seconds, done.wall_j, done.charge, done.ended) == (0, 0, start, REACHED)


@pytest.mark.parametrize("ac_w", [0.0, 150.0, 200.0])
def test_socket_that_only_feeds_the_overhead_charges_nothing(build, ac_w):
    done = one(build, ac_w)
    assert (done.ended, done.seconds, done.wall_j, done.charge) == (NO_POWER, 0, 0, 0)


def test_session_that_would_take_weeks_is_given_up(build):
    done = one(build, 210.0)
    assert done.ended == TOO_LONG
    assert done.seconds >= 864_000
    assert 0 < done.charge < 0.5
    assert_closes(done)


def test_pack_too_hot_to_charge_waits_until_it_has_cooled(build):
    hot, warm = one(build, ambient_k=308.15, pack_k=331.15), one(build, ambient_k=308.15, pack_k=313.15)
    assert hot.ended == REACHED
    assert hot.seconds > warm.seconds + 3600  # 36 000 s to lose 1/e of the difference: 180 kJ/K over 5 W/K
    never = one(build, ambient_k=331.15)
    assert (never.ended, never.cells_j) == (TOO_LONG, 0)


def test_low_ceiling_ends_the_session_full(build):
    done = one(build, max_v=96 * 4.15)
    assert done.ended == FULL
    # OCV at the end plus C/20 through the resistance is the ceiling
    assert 96 * (3.4 + 0.8 * done.charge) + 0.05 * 50 * 0.1 == pytest.approx(96 * 4.15, abs=1e-3)
    assert one(build, end=0.9, max_v=96 * 4.15).ended == REACHED
    again = one(build, start=done.charge + 0.01, max_v=96 * 4.15)
    assert (again.ended, again.seconds) == (FULL, 0)


def test_cold_pack_is_heated_first_and_the_heat_is_booked(build):
    cold_k = 258.15
    done, unheated = one(build, ambient_k=cold_k, **HEATED), one(build, ambient_k=cold_k)
    # 20 K of 180 kJ/K at 3 kW, less what leaks (at most 100 W): a little over 1 200 s
    assert 1200 < done.heating_s < 1200 * 3000 / 2900
    assert done.heater_j >= 3000 * done.heating_s
    assert unheated.heating_s == unheated.heater_j == 0
    assert done.pack_k > 277.5
    assert done.seconds < unheated.seconds
    warm = one(build, ambient_k=cold_k, pack_k=ROOM_K, **HEATED)
    assert warm.heating_s == 0
    assert warm.wall_j < done.wall_j


def test_heater_that_cannot_win_does_not_block_charging(build):
    done = one(build, 700.0, 0.5, 0.6, 233.15, pack_w_k=50.0, **HEATED)
    assert done.ended == REACHED
    assert done.heating_s == 4 * 3600


def test_cold_pack_without_heater_warms_itself(build):
    done = one(build, 22_000.0, ambient_k=253.15)
    assert done.pack_k > 255
    assert done.pack_limited_s == pytest.approx(done.seconds)


def test_worn_pack_is_done_sooner_but_wastes_more(build):
    fresh = one(build, 22_000.0)
    worn = one(build, 22_000.0, draw=build.draw(usable=0.8, resistance=1.5))
    assert worn.cells_j == pytest.approx(0.8 * fresh.cells_j, rel=1e-6)
    assert worn.seconds < fresh.seconds
    assert worn.pack_j / worn.cells_j > 1.4 * fresh.pack_j / fresh.cells_j
    assert worn.terminals_j / worn.wall_j <= fresh.terminals_j / fresh.wall_j
    assert worn.pack_limited_s / worn.seconds > fresh.pack_limited_s / fresh.seconds


def test_lossy_charger_takes_longer(build):
    good, bad = (one(build, draw=build.draw(charger=factor)) for factor in (0.7, 1.4))
    assert good.seconds < bad.seconds
    assert good.wall_j < bad.wall_j
    assert good.cells_j == pytest.approx(bad.cells_j, rel=1e-9)


CHARGES = st.tuples(st.floats(0, 0.9), st.floats(0.05, 1)).filter(lambda pair: pair[0] < pair[1])


@steady
@given(
    low_w=st.floats(500, 20_000),
    more=st.floats(1.01, 4),
    charges=CHARGES,
    kelvin=st.floats(243, 308),
    heater_w=st.sampled_from([0.0, 3000.0]),
)
def test_more_current_is_never_slower(build, low_w, more, charges, kelvin, heater_w):
    heated = {"pack_heater_w": heater_w, "pack_heat_below_k": 278.15}
    slow, fast = (one(build, ac_w, *charges, kelvin, **heated) for ac_w in (low_w, low_w * more))
    assert fast.seconds <= slow.seconds * (1 + 1e-3)


@steady
@given(
    ac_w=st.floats(1000, 22_000),
    charges=CHARGES,
    warm_k=st.floats(243, 308),
    colder=st.floats(1, 30),
    heater_w=st.sampled_from([0.0, 3000.0]),
)
def test_colder_is_never_faster(build, ac_w, charges, warm_k, colder, heater_w):
    # only time: a colder pack that must charge more slowly may waste less in its resistance
    heated = {"pack_heater_w": heater_w, "pack_heat_below_k": 278.15}
    warm, cold = (one(build, ac_w, *charges, kelvin, **heated) for kelvin in (warm_k, warm_k - colder))
    assert cold.seconds >= warm.seconds * (1 - 1e-3)


def test_tables_are_joined_by_index(build):
    chargers = np.concatenate([build.charger(watts) for watts in (1440.0, 3300.0, 7200.0)])
    starts = np.array([0.1, 0.2, 0.3])
    many = sessions(build.car(), build.draw(), chargers, starts, 1.0, 283.15, 283.15)
    assert many.shape == (3,)
    for row, (watts, start) in enumerate(zip((1440.0, 3300.0, 7200.0), starts, strict=True)):
        assert many[row] == one(build, watts, start, ambient_k=283.15)


def test_tables_that_do_not_match_are_refused(build):
    with pytest.raises(ValueError, match="joined by index"):
        sessions(build.car(), build.draw(), build.charger(3300.0), [0.1, 0.2], [0.9, 0.9, 0.9], ROOM_K, ROOM_K)


INTERPRETED = """
import numpy as np
from service.charging.onboard import CHARGER
from service.charging.session import sessions
from service.physics.rows import CAR, DRAW
car, draw, charger = (np.frombuffer(bytes.fromhex(text), kind) for text, kind in {tables})
print(sessions(car, draw, charger, 0.6, 0.999, 263.15, 263.15).tobytes().hex())
"""


def test_interpreted_session_is_the_compiled_one(build, pytestconfig):
    car, draw, charger = build.car(**HEATED), build.draw(), build.charger(7200.0)
    tables = ", ".join(
        f"({rows.tobytes().hex()!r}, {kind})"
        for rows, kind in ((car, "CAR"), (draw, "DRAW"), (charger, "CHARGER"))
    )  # fmt: skip
    run = subprocess.run(
        [sys.executable, "-c", INTERPRETED.format(tables=f"({tables})")],
        env={**os.environ, "NUMBA_DISABLE_JIT": "1"},
        cwd=pytestconfig.rootpath,
        capture_output=True,
        text=True,
        check=True,
    )
    interpreted = np.frombuffer(bytes.fromhex(run.stdout.strip()), SESSION)[0]
    compiled = sessions(car, draw, charger, 0.6, 0.999, 263.15, 263.15)[0]
    for name in SESSION.names:
        assert interpreted[name] == pytest.approx(compiled[name], rel=1e-9), name
