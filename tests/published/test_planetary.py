"""The planetary gear of a power-split car against a published transaxle's tooth counts.

Teeth    sun 30, ring 78; motor reduction sun 22, ring 58; total final 3.267 (owner post quoting the maker's service
         literature, 2010); (55/54)·(77/24) = 3.26775.
"""

import pytest

from service.physics.power_split import (
    carrier_rad_s,
    carrier_shares,
    engine_still_limit_m_s,
    gear_speeds,
    generator_push_n,
    least_engine_rad_s,
    ring_torque_n_m,
    sun_rad_s,
)
from service.specs import PowerSplit
from service.units import KM_H, MPH, RPM

FINAL = 55 / 54 * 77 / 24
SPLIT = PowerSplit(30, 78, FINAL, 0.305, 10_000 * RPM)


def test_the_final_drive_is_the_published_one():
    assert pytest.approx(3.267, abs=1e-3) == FINAL


def test_speeds_at_60_km_h():
    # worked example: ring 1705.2 rpm, engine off: sun −4433.5, engine 1000 rpm: sun −833.5, motor via 58/22 4495.5
    still, turning = gear_speeds(SPLIT, 60 * KM_H), gear_speeds(SPLIT, 60 * KM_H, 1000 * RPM)
    assert still.ring_rad_s / RPM == pytest.approx(1705.2, abs=0.05)
    assert still.sun_rad_s / RPM == pytest.approx(-4433.5, abs=0.05)
    assert turning.sun_rad_s / RPM == pytest.approx(-833.5, abs=0.05)
    motor = sun_rad_s(22.0, 58.0, still.ring_rad_s, 0.0)  # a second planetary whose carrier stands still
    assert abs(motor) / RPM == pytest.approx(4495.5, abs=0.05)


def test_100_n_m_at_the_carrier():
    # worked example: sun 27.78, ring 72.22 N·m
    sun, ring = carrier_shares(SPLIT)
    assert 100 * sun == pytest.approx(27.78, abs=0.005)
    assert 100 * ring == pytest.approx(72.22, abs=0.005)
    assert ring_torque_n_m(100 * sun, 30.0, 78.0) == pytest.approx(100 * ring)


def test_with_the_carrier_held_the_sun_turns_2_6_times_the_ring():
    assert sun_rad_s(30.0, 78.0, 100.0, 0.0) == pytest.approx(-260.0)  # published ratio 2.6


def test_84_mph_without_the_engine_takes_a_generator_of_10_000_rpm():
    # common practice: plug-ins reach about 84 mph on electricity alone; what that implies for the generator motor
    sun = gear_speeds(SPLIT, 84 * MPH).sun_rad_s
    assert sun / RPM == pytest.approx(-9989, abs=1)
    assert engine_still_limit_m_s(SPLIT) / MPH == pytest.approx(84, abs=0.5)


@pytest.mark.parametrize("mph", [10, 50, 84, 100, 120])
def test_the_slowest_engine_keeps_the_generator_within_its_speed(mph):
    engine = least_engine_rad_s(SPLIT, mph * MPH)
    sun = gear_speeds(SPLIT, mph * MPH, engine).sun_rad_s
    assert sun >= -SPLIT.generator_max_rad_s * (1 + 1e-12)
    assert (engine == 0.0) == (mph * MPH <= engine_still_limit_m_s(SPLIT))
    if engine > 0:
        assert sun == pytest.approx(-SPLIT.generator_max_rad_s)


def test_power_is_neither_made_nor_lost_in_the_gear():
    sun, ring = 35.0 * 100 * RPM, 12.0 * 100 * RPM
    carrier = carrier_rad_s(30.0, 78.0, sun, ring)
    assert 30.0 * sun + 78.0 * ring - (30.0 + 78.0) * carrier == pytest.approx(0.0, abs=1e-9)


def test_the_generator_pushes_in_the_tooth_ratio_where_a_clutch_holds_the_engine():
    # T_ring = T_sun·78/30: 40 N·m give 104 N·m at the ring
    push_n = generator_push_n(PowerSplit(30, 78, FINAL, 0.305, 1000.0, one_way_clutch=True, generator_n_m=40.0))
    assert push_n == pytest.approx(104.0 * FINAL / 0.305)
    assert generator_push_n(PowerSplit(30, 78, FINAL, 0.305, 1000.0, generator_n_m=40.0)) == 0.0
    assert generator_push_n(PowerSplit(30, 78, FINAL, 0.305, 1000.0, one_way_clutch=True)) == 0.0
