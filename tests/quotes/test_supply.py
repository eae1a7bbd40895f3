"""The supply's voltage in a quote's band: what it widens, what it leaves alone, and that it is listed."""

from dataclasses import replace

import numpy as np
import pytest

from service.charging.supply import supply_ends_v
from service.quotes.band import ROWS, draws_for
from service.quotes.build import build_quote
from service.quotes.supply import supply_uniform, supply_volts
from service.specs import Ask, Journey, Procedure, Weather
from service.units import KWH_J


def ask_on(catalogue, circuit, car="compact-plug-in", **more):
    return Ask(
        catalogue.vehicle(car), Journey(cycle="udds"), Weather(293.15), circuit=catalogue.circuit(circuit), **more
    )


def test_the_central_row_is_nominal_and_the_draws_fill_the_ends(catalogue):
    ask = ask_on(catalogue, "uk-household-13a")
    volts, (low_v, nominal_v, high_v) = supply_volts(ask, ROWS), supply_ends_v(ask.circuit)
    assert volts[0] == nominal_v
    assert volts.shape == (1 + ROWS,)
    assert low_v < volts[1:].min() < low_v + 1.5
    assert high_v - 1.5 < volts[1:].max() < high_v
    assert (supply_volts(replace(ask, procedure=Procedure.DYNAMOMETER), ROWS) == nominal_v).all()


def test_the_voltage_follows_no_other_factor(catalogue, values):
    draws = draws_for(ask_on(catalogue, "uk-household-13a"), values)
    uniform = supply_uniform(ROWS)
    assert np.sort(uniform) == pytest.approx((np.arange(ROWS) + 0.5) / ROWS)
    for name in draws.dtype.names:
        assert abs(np.corrcoef(uniform, np.log(draws[name]))[0, 1]) < 0.1


def without_supply(monkeypatch):
    """Every draw at the nominal voltage."""
    monkeypatch.setattr(
        "service.quotes.scenarios.supply_volts", lambda ask, draws: np.full(1 + draws, ask.circuit.volts)
    )


def test_a_weak_outlet_has_a_wider_band_of_hours_and_a_strong_one_the_same(catalogue, monkeypatch):
    asks = [ask_on(catalogue, circuit) for circuit in ("na-household-15a", "uk-wall-unit-32a")]
    weak, strong = (build_quote(each, catalogue).charging for each in asks)
    without_supply(monkeypatch)
    weak_still, strong_still = (build_quote(each, catalogue).charging for each in asks)
    assert weak.seconds.p50 == weak_still.seconds.p50
    assert weak.seconds.p90 - weak.seconds.p10 > 1.2 * (weak_still.seconds.p90 - weak_still.seconds.p10)
    assert strong.seconds == strong_still.seconds  # 3.3 kW, whatever the voltage of a circuit of 32 A
    assert strong.wall_j == strong_still.wall_j
    assert abs(weak.wall_j.p10 - weak_still.wall_j.p10) < 0.1 * KWH_J  # the overhead of a longer charge


def test_the_band_of_hours_is_about_the_root_of_the_sum_of_squares(catalogue):
    # triangle of ±5 %: standard deviation 0.05/√6 = 2.04 %; of the car alone 2.7 % here: together 3.4 %, p10–p90 8.7 %
    seconds = build_quote(ask_on(catalogue, "na-household-15a"), catalogue).charging.seconds
    assert (seconds.p90 - seconds.p10) / seconds.p50 == pytest.approx(0.087, abs=0.01)


def test_it_is_listed_with_its_standard_where_it_is_sampled(catalogue):
    def listed(ask):
        return [each for each in build_quote(ask, catalogue).assumptions if each.name == "voltage of the supply"]

    (found,) = listed(ask_on(catalogue, "na-household-15a"))
    assert found.value == "120 V, steadily 114 to 126 V"
    assert found.source.startswith("ANSI C84.1 range A")
    assert not listed(ask_on(catalogue, "na-household-15a", band=False))
