"""The pack: current, limits, voltage, heat."""

import math

import numpy as np
import pytest

from service.physics.battery import (
    charge_acceptance,
    charge_current_limit_a,
    drive_power_limit_w,
    health_resistance_factor,
    open_circuit_v,
    pack_current_a,
    pack_resistance_ohm,
    pack_temperature_after_k,
)

GRID = np.linspace(300.0, 400.0, 41)


@pytest.mark.parametrize("terminal_w", [-50e3, -1.0, 0.0, 1.0, 20e3, 90e3])
def test_current_gives_the_power(terminal_w):
    amps = pack_current_a(380.0, 0.12, terminal_w)
    assert (380.0 - 0.12 * amps) * amps == pytest.approx(terminal_w, rel=1e-9, abs=1e-6)
    assert math.copysign(1, amps) == math.copysign(1, terminal_w) or terminal_w == 0


def test_current_beyond_the_most_power_is_that_of_the_most():
    most_w = 380.0**2 / (4 * 0.12)
    assert pack_current_a(380.0, 0.12, 2 * most_w) == pytest.approx(380.0 / (2 * 0.12))


def test_voltage_is_read_between_grid_points_and_held_at_the_ends():
    assert open_circuit_v(GRID, 0.5) == pytest.approx(350.0)
    assert open_circuit_v(GRID, 0.0125) == pytest.approx(301.25)
    assert open_circuit_v(GRID, -0.2) == 300.0
    assert open_circuit_v(GRID, 1.2) == 400.0


def test_resistance_rises_when_cold_and_when_empty():
    warm = pack_resistance_ohm(0.1, 25e3, 298.15, 0.6)
    assert warm == pytest.approx(0.1, rel=1e-3)
    assert pack_resistance_ohm(0.1, 25e3, 263.15, 0.6) == pytest.approx(0.3824, rel=1e-3)  # 3.824 at −10 °C, Arrhenius
    assert pack_resistance_ohm(0.1, 25e3, 298.15, 0.0) == pytest.approx(0.18, rel=1e-12)
    assert health_resistance_factor(1.0) == 1.0


def test_drive_limit_by_current_and_voltage():
    assert drive_power_limit_w(380.0, 0.1, 280.0, 200.0) == pytest.approx((380 - 20) * 200)
    assert drive_power_limit_w(300.0, 0.4, 280.0, 200.0) == pytest.approx(280 * 50)  # the voltage floor gives 50 A
    assert drive_power_limit_w(270.0, 0.1, 280.0, 200.0) == 0.0  # below the floor already
    most_w = 380**2 / (4 * 2.0)  # OCV²/4R: no resistance lets more through
    assert 0.95 * most_w < drive_power_limit_w(380.0, 2.0, 0.0, 1e6) < most_w


def test_charging_is_held_back_by_cold_heat_and_ceiling():
    assert charge_acceptance(298.15) == charge_acceptance(288.15) == charge_acceptance(318.15) == 1.0
    assert charge_acceptance(263.15) == charge_acceptance(240.0) == pytest.approx(0.08)
    assert charge_acceptance(328.15) == 0.0
    assert 0.08 < charge_acceptance(275.0) < 1.0
    assert charge_current_limit_a(390.0, 0.1, 400.0, 60.0, 298.15) == 60.0
    assert charge_current_limit_a(398.0, 0.1, 400.0, 60.0, 298.15) == pytest.approx(20.0)
    assert charge_current_limit_a(401.0, 0.1, 400.0, 60.0, 298.15) == 0.0


def test_pack_warms_towards_its_balance():
    kelvin = 263.15
    for _ in range(20_000):
        kelvin = pack_temperature_after_k(kelvin, 263.15, 500.0, 100e3, 10.0, 5.0)
    assert kelvin == pytest.approx(263.15 + 50, abs=0.01)  # heat over loss coefficient
    one_step = pack_temperature_after_k(263.15, 263.15, 500.0, 100e3, 10.0, 5.0)
    assert one_step == pytest.approx(263.15 + 500 * 5 / 100e3, rel=1e-3)
