"""The machine's directions and its balances."""

import numpy as np
import pytest

from service.physics.air import humidity_ratio
from service.physics.climate_machine import (
    CUT_OUT_RAMP_K,
    DRYING_COIL_K,
    RESISTIVE_EFFICIENCY,
    cooling_cop,
    drying_w,
    frost_share,
    heat_pump_capacity_w,
    heat_pump_cop,
    heating_cop,
    heating_electric_w,
    pack_chilled_w,
)

SEA_PA = 101_325.0
CUT_OUT_K = 255.15


def test_colder_air_gives_less_heat_at_a_lower_cop():
    kelvin = np.linspace(256, 290, 69)
    assert np.all(np.diff([heat_pump_cop(k, 0.0) for k in kelvin]) >= 0)
    assert np.all(np.diff([heat_pump_capacity_w(4000.0, CUT_OUT_K, k, 0.0) for k in kelvin]) >= 0)
    assert heat_pump_cop(220.0, 0.0) >= 1.0  # never worse than the heater that drives it


def test_cut_out_is_a_short_ramp():
    below, middle, above = (
        heat_pump_capacity_w(4000.0, CUT_OUT_K, CUT_OUT_K + k, 0.0) for k in (0.0, 0.5 * CUT_OUT_RAMP_K, CUT_OUT_RAMP_K)
    )
    assert below == 0.0 < middle < above
    assert middle == pytest.approx(0.5 * above, rel=0.06)
    assert heat_pump_capacity_w(4000.0, 0.0, 230.0, 0.0) > 0  # a machine that never stops


def test_frost_costs_most_in_damp_air_around_freezing():
    cost = {
        (c, rh): 1 - heat_pump_cop(c + 273.15, frost_share(c + 273.15, humidity_ratio(c + 273.15, SEA_PA, rh), SEA_PA))
        / heat_pump_cop(c + 273.15, 0.0)
        for c in (-15, -2, 2, 9) for rh in (0.3, 0.95)
    }  # fmt: skip
    assert cost[2, 0.95] > cost[-15, 0.95] > 0
    assert cost[2, 0.95] > cost[2, 0.3]
    assert 0.03 < cost[2, 0.95] < 0.1  # seasonal losses by frost of 5–15 % include blocked air, from memory
    assert cost[9, 0.95] == 0.0  # the evaporator stays above freezing
    assert frost_share(265.15, 0.0, SEA_PA) == 0.0


def test_frost_takes_from_capacity_what_it_takes_from_the_cop():
    dry, wet = (heat_pump_capacity_w(4000.0, CUT_OUT_K, 274.15, frost) for frost in (0.0, 0.3))
    assert wet / dry == pytest.approx(heat_pump_cop(274.15, 0.3) / heat_pump_cop(274.15, 0.0))


def test_heat_pump_first_heater_for_the_rest():
    assert heating_electric_w(3000.0, 4000.0, 2.0, 5000.0) == pytest.approx(1500.0)
    assert heating_electric_w(4950.0, 4000.0, 2.0, 5000.0) == pytest.approx(2000.0 + 1000.0)
    assert heating_electric_w(3000.0, 0.0, 1.0, 5000.0) == pytest.approx(3000.0 / RESISTIVE_EFFICIENCY)


def test_drying_pays_the_compressor_and_a_heat_pump_gets_the_heat_back():
    work_w, back_w = drying_w(400.0, 200.0, 2000.0, 283.15, False)
    assert (work_w, back_w) == (pytest.approx(600.0 / cooling_cop(283.15)), 0.0)
    work_w, back_w = drying_w(400.0, 200.0, 2000.0, 283.15, True)
    assert back_w == pytest.approx(600.0 + work_w)  # first law
    assert back_w / work_w == pytest.approx(heating_cop(DRYING_COIL_K))
    work_w, back_w = drying_w(400.0, 200.0, 500.0, 283.15, True)  # more than the cabin can use
    assert back_w == pytest.approx(500.0)
    assert 600.0 / cooling_cop(283.15) < work_w < 600.0 / (heating_cop(DRYING_COIL_K) - 1)


def test_a_hot_pack_is_brought_down_and_held():
    pack = {"hold_k": 308.15, "ambient_k": 313.15, "capacity_j_k": 500e3, "loss_w_k": 10.0, "seconds": 10.0}
    assert pack_chilled_w(pack_k=318.15, own_heat_w=800.0, most_w=3000.0, **pack) == 3000.0
    # held: own heat and what comes in from outside
    assert pack_chilled_w(pack_k=308.15, own_heat_w=800.0, most_w=3000.0, **pack) == pytest.approx(850.0)
    assert pack_chilled_w(pack_k=300.15, own_heat_w=800.0, most_w=3000.0, **pack) == 0.0
    assert pack_chilled_w(pack_k=318.15, own_heat_w=800.0, most_w=0.0, **pack) == 0.0
