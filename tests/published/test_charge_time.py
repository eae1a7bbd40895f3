"""Charging sessions against printed examples, closed form, and an independent integration of the same equations."""

import math

import numpy as np
import pytest
from scipy.integrate import solve_ivp

from service.charging.onboard import CHARGER
from service.charging.session import ENDED, FULL, REACHED, sessions
from service.physics.rows import CAR, DRAW, OCV_POINTS, table

ROOM_K = 298.15
BRISK_K = 316.15  # so warm that plating holds nothing back, up to the full cell: constant current is the limit alone
AH, OHM, SLOPE_V = 50.0, 2e-3, 0.8  # cell of the printed CC-CV example


def typical_draw():
    draw = table(DRAW, 1)
    for name in DRAW.names:
        draw[name] = 1.0
    return draw


def charger(ac_w, conversion, fixed_w):
    row = table(CHARGER, 1)
    row.ac_w, row.conversion, row.fixed_w = ac_w, conversion, fixed_w
    return row


def pack(capacity_ah, low_v, high_v, ohm, max_v, limit_a, **fields):
    """A pack with a straight open-circuit voltage that stays at its temperature unless told else."""
    car = table(CAR, 1)
    car.capacity_c, car.ocv_v = capacity_ah * 3600, np.linspace(low_v, high_v, OCV_POINTS)
    car.resistance_ohm, car.max_v, car.charge_limit_a = ohm, max_v, limit_a
    car.pack_j_k, car.pack_w_k = 1e12, 1.0
    for name, value in fields.items():
        car[name] = value
    return car


# worked example: energy into the battery kWh, socket kW, efficiency → socket kWh, hours
@pytest.mark.parametrize(
    ("kwh", "kw", "efficiency", "wall_kwh", "hours"),
    [(10, 1.44, 0.83, 12.048, 8.367), (10, 3.3, 0.88, 11.364, 3.444), (17, 3.3, 0.88, None, 5.854),
     (60, 7.2, 0.90, None, 9.259)],
)  # fmt: skip
def test_charge_time_examples(kwh, kw, efficiency, wall_kwh, hours):
    car = pack(kwh * 1000 / 360, 340.0, 380.0, 1e-6, 400.0, 1e4)  # mean 360 V, next to no resistance
    done = sessions(car, typical_draw(), charger(1000 * kw, efficiency, 0.0), 0, 1, ROOM_K, ROOM_K)[0]
    assert done.cells_j / 3.6e6 == pytest.approx(kwh, rel=1e-6)
    assert done.seconds / 3600 == pytest.approx(hours, abs=6e-4)
    if wall_kwh is not None:
        assert done.wall_j / 3.6e6 == pytest.approx(wall_kwh, abs=6e-4)


def cell_seconds(rate_c, from_charge, to_charge):
    """Time of a CC-CV charge of the printed cell: the current limit is `rate_c`, the power is ample."""
    cell = pack(AH, 3.4, 3.4 + SLOPE_V, OHM, 3.4 + SLOPE_V, rate_c * AH)
    return sessions(cell, typical_draw(), charger(1e4, 1.0, 0.0), from_charge, to_charge, BRISK_K, BRISK_K)[0]


# CC-CV example: 50 Ah, 2 mΩ, 0.8 V a window: at 0.5 C taper starts at 0.9375, at 0.07 C at 0.991; τ = 450 s
@pytest.mark.parametrize(("rate_c", "taper"), [(0.5, 0.9375), (0.07, 0.99125)])
def test_taper_starts_where_the_ceiling_is_met(rate_c, taper):
    constant_s = cell_seconds(rate_c, taper - 0.03, taper).seconds
    assert constant_s == pytest.approx(0.03 * 3600 / rate_c, rel=1e-9)
    after_s = cell_seconds(rate_c, taper, taper + 0.001).seconds
    assert after_s == pytest.approx(450 * math.log((1 - taper) / (1 - taper - 0.001)), rel=1e-3)


@pytest.mark.parametrize("share", [0.75, 0.5, 0.25])
def test_taper_decays_with_the_closed_form_time_constant(share):
    tau_s = OHM / (SLOPE_V / (AH * 3600))
    assert tau_s == pytest.approx(450)
    end = 1 - share * (1 - 0.9375)  # where the current has fallen to that share
    assert cell_seconds(0.5, 0.9375, end).seconds == pytest.approx(tau_s * math.log(1 / share), rel=1e-3)


def test_charge_counts_as_full_at_a_twentieth_of_one_c():
    done = cell_seconds(0.5, 0.5, 1.0)
    assert done.ended == FULL
    assert done.charge == pytest.approx(1 - 0.05 * AH * OHM / SLOPE_V, abs=1e-6)
    seconds = 0.4375 * 7200 + 450 * math.log(0.5 / 0.05)
    assert done.seconds == pytest.approx(seconds, rel=1e-3)


GAS_J_MOL_K = 8.314462618


class Reference:
    """The same equations written again, integrated in time by SciPy."""

    def __init__(self, car, conversion, fixed_w, ac_w, ambient_k):
        self.car, self.ambient_k = car, ambient_k
        self.conversion, self.fixed_w = conversion, fixed_w
        self.dc_w = conversion * (ac_w - fixed_w)
        self.grid = np.linspace(0, 1, OCV_POINTS)

    def heater_w(self, pack_k):
        threshold_k = self.car.pack_heat_below_k
        loss_w = self.car.pack_w_k * (threshold_k - self.ambient_k)
        catch_up_w = self.car.pack_j_k * (threshold_k - pack_k) / 1800
        return float(np.clip(loss_w + catch_up_w, 0, min(self.car.pack_heater_w, self.dc_w / 2)))

    def rates(self, _time_s, state):
        """d/dt of charge, temperature, socket energy, loss in the pack, heat of the heater."""
        charge, pack_k = state[:2]
        car = self.car
        ocv = np.interp(charge, self.grid, car.ocv_v)
        warmth = np.exp(car.activation_j_mol / GAS_J_MOL_K * (1 / pack_k - 1 / 298.15))
        ohm = car.resistance_ohm * warmth * (1 + 0.8 * np.exp(-charge / 0.08))
        heater_w = self.heater_w(pack_k)
        spare_w = self.dc_w - heater_w
        by_power_a = 2 * spare_w / (ocv + np.sqrt(ocv**2 + 4 * ohm * spare_w))
        accepted = np.interp(pack_k, [263.15, 288.15, 318.15, 328.15], [0.08, 1, 1, 0])
        graphite_v = np.interp(charge, [0.5, 0.65, 0.9, 1], [0.12, 0.085, 0.085, 0.06])
        plating = graphite_v / 0.12 / np.exp(35e3 / GAS_J_MOL_K * (1 / pack_k - 1 / 298.15))
        amps = min(by_power_a, car.charge_limit_a * min(accepted, plating), max(car.max_v - ocv, 0) / ohm)
        loss_w = amps**2 * ohm
        heat_w = loss_w + heater_w - car.pack_w_k * (pack_k - self.ambient_k)
        socket_w = self.fixed_w + (ocv * amps + loss_w + heater_w) / self.conversion
        return [amps / car.capacity_c, heat_w / car.pack_j_k, socket_w, loss_w, heater_w]

    def heating(self, _time_s, state):
        heat_w = min(self.car.pack_heater_w, self.dc_w)
        lost_w = self.car.pack_w_k * (state[1] - self.ambient_k)
        return [0, (heat_w - lost_w) / self.car.pack_j_k, self.fixed_w + heat_w / self.conversion, 0, heat_w]

    def run(self, from_charge, to_charge, pack_k):
        state, start_s = np.array([from_charge, pack_k, 0.0, 0.0, 0.0]), 0.0
        if self.car.pack_heater_w > 0 and pack_k < self.car.pack_heat_below_k:
            start_s, state = self.until(self.heating, lambda _t, y: y[1] - self.car.pack_heat_below_k, 0.0, state)
        return self.until(self.rates, lambda _t, y: y[0] - to_charge, start_s, state)

    def until(self, rates, event, start_s, state):
        event.terminal = True
        span_s = (start_s, start_s + 864_000)
        done = solve_ivp(rates, span_s, state, events=event, rtol=1e-8, atol=1e-8, max_step=60)
        assert done.status == 1
        return done.t[-1], done.y[:, -1]


HEATED = {"pack_heater_w": 3000.0, "pack_heat_below_k": 278.15}


@pytest.mark.parametrize(
    ("ac_w", "ambient_k", "pack_k", "fields"),
    [
        pytest.param(1440.0, 298.15, 298.15, {}, id="weak outlet, warm"),
        pytest.param(7200.0, 278.15, 278.15, {}, id="wall unit, cool"),
        pytest.param(22_000.0, 253.15, 253.15, {}, id="strong, very cold, no heater: self-heating"),
        pytest.param(7200.0, 258.15, 258.15, HEATED, id="cold, heated first and kept warm"),
        pytest.param(22_000.0, 308.15, 316.15, {"pack_w_k": 1.0}, id="strong, hot pack held back"),
    ],
)
def test_session_agrees_with_an_independent_integration(ac_w, ambient_k, pack_k, fields):
    plain = {"activation_j_mol": 25e3, "pack_j_k": 180e3, "pack_w_k": 5.0}
    car = pack(50, 326.0, 403.0, 0.15, 404.5, 60.0, **{**plain, **fields})
    knees = np.interp(np.linspace(0, 1, OCV_POINTS), [0, 0.1, 0.6, 1], [300, 335, 365, 403])
    car.ocv_v = knees
    ours = sessions(car, typical_draw(), charger(ac_w, 0.93, 200.0), 0.05, 0.99, ambient_k, pack_k)[0]
    assert ENDED[ours.ended] == "reached"
    seconds, (_charge, end_k, wall_j, pack_j, heater_j) = Reference(car[0], 0.93, 200.0, ac_w, ambient_k).run(
        0.05, 0.99, pack_k
    )
    assert ours.seconds == pytest.approx(seconds, rel=1e-3)
    assert ours.wall_j == pytest.approx(wall_j, rel=1e-3)
    assert ours.pack_j == pytest.approx(pack_j, rel=2e-3)
    assert ours.heater_j == pytest.approx(heater_j, rel=2e-3, abs=1)
    assert ours.pack_k == pytest.approx(end_k, abs=0.02)


def test_weaker_outlets_waste_more():
    # a logged study of 1 008 sessions: 240 V charged 3 % better than 120 V on average (84 % and 86–87 % from memory)
    car = pack(50, 326.0, 403.0, 0.1, 405.0, 75.0)
    chargers = np.concatenate([charger(watts, 0.93, 200.0) for watts in (1440.0, 3300.0, 7200.0)])
    done = sessions(car, typical_draw(), chargers, 0, 1, ROOM_K, ROOM_K)
    efficiency = done.terminals_j / done.wall_j
    assert (np.diff(efficiency) > 0).all()
    assert (done.ended == REACHED).all()
    # the printed model alone: 0.80, 0.874, 0.904; the taper costs a little more overhead
    assert efficiency == pytest.approx([0.80, 0.874, 0.904], abs=5e-3)
