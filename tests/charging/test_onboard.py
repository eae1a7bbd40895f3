"""The onboard charger: phases and losses."""

from dataclasses import replace

import numpy as np
import pytest

from service.charging.onboard import charger_dc_w, charger_row, charger_rows, socket_w
from service.specs import Battery, BodyAndTyres, Circuit, Kind, MassBasis, Run, Vehicle


def vehicle(charger_w: float, phases: int = 1) -> Vehicle:
    battery, road_load = Battery(60e6), BodyAndTyres(0.65, 0.009)
    car = Vehicle("invented", "an invented car", Kind.BEV, 1600, MassBasis.KERB, road_load, battery)
    return Vehicle(*(getattr(car, name) for name in list(car.__slots__)[:8]), charger_w, phases)


def circuit(volts: float, amps: float, phases: int = 1) -> Circuit:
    return Circuit("own", "", "own", volts, amps, phases)


def row(charger_w, charger_phases, volts, amps, phases):
    return charger_row(vehicle(charger_w, charger_phases), circuit(volts, amps, phases), 0.93, 200.0)


@pytest.mark.parametrize(
    ("charger_w", "charger_phases", "volts", "amps", "phases", "ac_w"),
    [
        (3300, 1, 120, 12, 1, 1440),  # weak outlet
        (3300, 1, 240, 30, 1, 3300),  # strong outlet
        (7400, 1, 230, 16, 3, 3680),  # one of three phases
        (7400, 1, 230, 63, 3, 7400),
        (11_040, 3, 230, 32, 1, 3680),  # three-phase charger on one phase: a third of its rating
        (11_040, 3, 230, 10, 1, 2300),
        (11_040, 3, 230, 16, 3, 11_040),
        (22_000, 3, 230, 16, 3, 11_040),
        (7400, 2, 230, 16, 3, 7360),  # two of three phases
    ],
)
def test_ac_power_follows_phases_and_ratings(charger_w, charger_phases, volts, amps, phases, ac_w):
    assert row(charger_w, charger_phases, volts, amps, phases).ac_w == pytest.approx(ac_w)


# η = η_conv·(P − P_fixed)/P with 0.93 and 0.2 kW: 1.44 kW → 0.80, 3.3 → 0.874, 7.2 → 0.904 (standards.md § 3.8)
@pytest.mark.parametrize(
    ("ac_w", "efficiency", "digit"), [(1440, 0.80, 5e-3), (3300, 0.874, 5e-4), (7200, 0.904, 5e-4)]
)
def test_efficiency_falls_at_low_power(ac_w, efficiency, digit):
    assert charger_dc_w(ac_w, 0.93, 200.0, 1.0) / ac_w == pytest.approx(efficiency, abs=digit)


def test_loss_factor_scales_both_losses():
    lost_w = [3300 - charger_dc_w(3300.0, 0.93, 200.0, factor) for factor in (0.0, 1.0, 2.0)]
    assert lost_w[0] == 0
    assert lost_w[1] == pytest.approx(200 + 0.07 * 3100)
    assert lost_w[2] == pytest.approx(400 + 0.14 * 2900)


@pytest.mark.parametrize(("ac_w", "factor"), [(200.0, 1.0), (150.0, 1.0), (0.0, 1.0), (300.0, 20.0)])
def test_nothing_comes_through_below_the_overhead(ac_w, factor):
    assert charger_dc_w(ac_w, 0.93, 200.0, factor) == 0


def test_socket_power_is_the_inverse():
    for ac_w in (300.0, 1440.0, 22_000.0):
        assert socket_w(charger_dc_w(ac_w, 0.93, 200.0, 1.3), 0.93, 200.0, 1.3) == pytest.approx(ac_w, rel=1e-12)


def test_fixed_amps_follow_the_supply_and_a_rating_holds_until_they_bind():
    volts = np.array([207.0, 230.0, 253.0])
    weak = charger_rows(vehicle(7400), circuit(230, 10), 0.93, 200.0, volts)
    assert weak.ac_w == pytest.approx([2070, 2300, 2530])
    strong = charger_rows(vehicle(3300), circuit(230, 32), 0.93, 200.0, volts)
    assert strong.ac_w == pytest.approx([3300, 3300, 3300])
    between = charger_rows(vehicle(7000), circuit(230, 32), 0.93, 200.0, volts)  # 32 A give 6 624 W at 207 V
    assert between.ac_w == pytest.approx([6624, 7000, 7000])


def test_every_row_is_the_charger_at_that_voltage():
    one = replace(circuit(230, 16, 3), run=Run(30.0, section_mm2=2.5))
    rows = charger_rows(vehicle(11_040, 3), one, 0.93, 200.0, np.array([207.0, 230.0, 253.0]))
    for row, volts in zip(rows, (207.0, 230.0, 253.0), strict=True):
        alone = charger_row(vehicle(11_040, 3), replace(one, volts=volts), 0.93, 200.0)
        assert [row[name] for name in row.dtype.names] == pytest.approx([alone[name] for name in row.dtype.names])
