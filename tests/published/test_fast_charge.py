"""Fast charging and aged packs against closed forms and an independent integration of the same equations."""

import math

import numpy as np
import pytest

from service.charging.onboard import station_row
from service.charging.session import FULL, recorded_session, sessions
from service.physics.climate_machine import cooling_cop
from tests.published.test_charge_time import (
    AH,
    BRISK_K,
    GAS_J_MOL_K,
    OHM,
    SLOPE_V,
    Reference,
    charger,
    pack,
    typical_draw,
)

AGED = {"usable": 0.8, "resistance": 1.5}  # capacity at 80 %, resistance grown by half
FAST = {"activation_j_mol": 25e3, "pack_j_k": 180e3, "pack_w_k": 5.0, "pack_cool_above_k": 308.15, "cooler_w": 5000.0}
HEATED = {"pack_heater_w": 3000.0, "pack_heat_below_k": 273.15}
CASES = (  # name, station W, A, air K, pack K, more of the car
    ("strong station, warm pack", 50e3, None, 293.15, 298.15, {}),
    ("strong station, pack at 0 °C", 50e3, None, 273.15, 273.15, {}),
    ("strong station, heated from −15 °C", 50e3, None, 258.15, 258.15, HEATED),
    ("by current, hot pack chilled", 50e3, 80.0, 308.15, 311.15, {}),
)


def aged_seconds(from_charge, to_charge):
    """Time of a CC-CV charge of the printed cell at 25 A, its capacity at 80 % and its resistance half as much more."""
    cell = pack(AH, 3.4, 3.4 + SLOPE_V, OHM, 3.4 + SLOPE_V, 0.5 * AH)
    draw = typical_draw()
    for name, factor in AGED.items():
        draw[name] = factor
    return sessions(cell, draw, charger(1e4, 1.0, 0.0), from_charge, to_charge, BRISK_K, BRISK_K)[0]


AGED_TAU_S = 1.5 * OHM * 0.8 * AH * 3600 / SLOPE_V  # R/k: 540 s against 450 s when new
AGED_TAPER = 1 - 0.5 * AH * 1.5 * OHM / SLOPE_V  # 0.90625 against 0.9375 when new


def test_age_brings_the_taper_forward_and_draws_it_out():
    tau_s, taper = AGED_TAU_S, AGED_TAPER
    assert tau_s == pytest.approx(540)
    assert taper == pytest.approx(0.90625)
    before = aged_seconds(AGED_TAPER - 0.03, AGED_TAPER)
    assert before.seconds == pytest.approx(0.03 * 0.8 * AH * 3600 / 25, rel=1e-9)
    half = 1 - 0.5 * (1 - AGED_TAPER)
    assert aged_seconds(AGED_TAPER, half).seconds == pytest.approx(540 * math.log(2), rel=1e-3)
    assert aged_seconds(0.5, 1.0).ended == FULL


class DirectReference(Reference):
    """A direct-current station: its current, lithium plating and the chiller besides."""

    def __init__(self, car, station_w, station_a, ambient_k):
        super().__init__(car, 1.0, 200.0, station_w, ambient_k)
        self.station_a = station_a or np.inf
        self.cop = cooling_cop(ambient_k)

    def rates(self, _time_s, state):
        """d/dt of charge, temperature, energy at the plug, loss in the pack, heat of the heater."""
        charge, pack_k = state[:2]
        car = self.car
        ocv = np.interp(charge, self.grid, car.ocv_v)
        warmth = np.exp(car.activation_j_mol / GAS_J_MOL_K * (1 / pack_k - 1 / 298.15))
        ohm = car.resistance_ohm * warmth * (1 + 0.8 * np.exp(-charge / 0.08))
        heater_w = self.heater_w(pack_k)
        chilled_w = np.clip(car.pack_j_k * (pack_k - car.pack_cool_above_k) / 600, 0, car.cooler_w)
        chiller_w = min(chilled_w / self.cop, self.dc_w / 2)
        spare_w = self.dc_w - heater_w - chiller_w
        by_power_a = 2 * spare_w / (ocv + np.sqrt(ocv**2 + 4 * ohm * spare_w))
        accepted = np.interp(pack_k, [263.15, 288.15, 318.15, 328.15], [0.08, 1, 1, 0])
        graphite_v = np.interp(charge, [0.5, 0.65, 0.9, 1], [0.12, 0.085, 0.085, 0.06])
        plating = graphite_v / 0.12 / np.exp(35e3 / GAS_J_MOL_K * (1 / pack_k - 1 / 298.15))
        limits = (by_power_a, self.station_a - (heater_w + chiller_w) / ocv, car.charge_limit_a * accepted)
        amps = min(*limits, car.charge_limit_a * plating, max(car.max_v - ocv, 0) / ohm)
        loss_w = amps**2 * ohm
        heat_w = loss_w + heater_w - chiller_w * self.cop - car.pack_w_k * (pack_k - self.ambient_k)
        plug_w = self.fixed_w + ocv * amps + loss_w + heater_w + chiller_w
        return [amps / car.capacity_c, heat_w / car.pack_j_k, plug_w, loss_w, heater_w]


def fast_pack(fields):
    car = pack(50, 326.0, 403.0, 0.15, 404.5, 100.0, **{**FAST, **fields})
    car.ocv_v = np.interp(np.linspace(0, 1, car.ocv_v.shape[1]), [0, 0.1, 0.6, 1], [300, 335, 365, 403])
    return car


def fast_session(station_w, station_a, ambient_k, pack_k, fields):
    """Ten to eighty per cent: ours, and the reference's time and end state."""
    car = fast_pack(fields)
    row = station_row(station_w, station_a, 200.0)
    ours, _ = recorded_session(car, typical_draw(), row, 0.1, 0.8, ambient_k, pack_k)
    theirs = DirectReference(car[0], station_w, station_a, ambient_k).run(0.1, 0.8, pack_k)
    return ours, theirs


@pytest.mark.parametrize(("station_w", "station_a", "ambient_k", "pack_k", "fields"), [case[1:] for case in CASES])
def test_fast_charge_agrees_with_an_independent_integration(station_w, station_a, ambient_k, pack_k, fields):
    ours, (seconds, (_, end_k, plug_j, pack_j, heater_j)) = fast_session(
        station_w, station_a, ambient_k, pack_k, fields
    )
    assert ours.seconds == pytest.approx(seconds, rel=2e-3)
    assert ours.wall_j == pytest.approx(plug_j, rel=2e-3)
    assert ours.pack_j == pytest.approx(pack_j, rel=4e-3)
    assert ours.heater_j == pytest.approx(heater_j, rel=4e-3, abs=1)
    assert ours.pack_k == pytest.approx(end_k, abs=0.1)
