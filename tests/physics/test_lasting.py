"""How long a charge lasts."""

import numpy as np
import pytest

from service.physics.lasting import LONGEST_S, seconds_at_power, stand_rows
from service.physics.tables import central_draw, start_state
from service.specs import Ask, Cabin, Climate, Journey, Start, Weather

MILD = Weather(294.15, relative_humidity=0.5, wind_m_s=0.0, sun_w_m2=0.0)


@pytest.fixture
def parked(catalogue, rows):
    """A demo car's row, its day, and its state at the start."""

    def make(id_, weather=MILD, start=None, **choices):
        ask = Ask(catalogue.vehicles[id_], Journey(), weather, start=start or Start(), **choices)
        car, day = rows(ask)
        return car, day, start_state(ask.start, car, day)

    return make


def stand(parked, floor=0.0, asked_s=1800.0, **kept):
    car, day, states = parked
    draws = central_draw()
    for name, factor in kept.items():
        draws[name] = factor
    return stand_rows(car, day, draws, states, floor, asked_s)[0]


def test_a_c_over_3_power_lasts_three_hours(catalogue, parked):
    # SAE J1634: usable energy is that of a C/3 discharge at 25 °C
    car = parked("mid-electric-sedan")[0]
    usable_j = catalogue.vehicles["mid-electric-sedan"].battery.usable_j
    seconds = seconds_at_power(car, 298.15, 1.0, 0.0, usable_j / 10_800)
    assert seconds == pytest.approx(10_800, rel=0.01)


def test_a_floor_reached_lasts_no_longer(parked):
    car = parked("compact-plug-in")[0]
    assert seconds_at_power(car, 298.15, 0.2, 0.2, 1000.0) == 0.0
    parts = [seconds_at_power(car, 298.15, high, low, 1000.0) for high, low in ((1.0, 0.5), (0.5, 0.0))]
    assert sum(parts) == pytest.approx(seconds_at_power(car, 298.15, 1.0, 0.0, 1000.0), rel=1e-3)


def test_with_the_climate_off_only_the_12_v_consumers_draw(catalogue, parked):
    result = stand(parked("compact-plug-in", cabin=Cabin(climate=Climate.OFF)))
    base_w = catalogue.vehicles["compact-plug-in"].base_load_w
    assert (result.holding_w, result.climate_w, result.climate_j) == (base_w, 0.0, 0.0)
    assert result.cells_j / result.seconds == pytest.approx(base_w, rel=2e-3)  # the pack's own loss is small


def test_the_march_agrees_with_the_sum_over_charge(parked):
    given = parked("compact-plug-in", cabin=Cabin(climate=Climate.OFF))
    result = stand(given)
    expected_s = seconds_at_power(given[0], 294.15, 1.0, 0.0, result.holding_w)
    assert result.seconds == pytest.approx(expected_s, rel=2e-3)


@pytest.mark.parametrize("factor", ["auxiliary", "heat"])
def test_more_draw_lasts_less(parked, factor):
    cold = Weather(263.15, relative_humidity=0.7, wind_m_s=0.0, sun_w_m2=0.0)
    seconds = [stand(parked("compact-plug-in", cold), **{factor: size}).seconds for size in (0.7, 1.0, 1.4)]
    assert seconds == sorted(seconds, reverse=True)


def test_colder_lasts_less_and_so_does_hotter(parked):
    def seconds(celsius):
        return stand(parked("small-electric-hatch", Weather(celsius + 273.15, 0.7, 0.0, 0.0))).seconds

    assert seconds(-20) < seconds(-5) < seconds(10) < seconds(20)
    assert seconds(40) < seconds(20)


def test_the_charge_asked_about_lies_on_the_way(parked):
    whole = stand(parked("compact-plug-in"))
    half = stand(parked("compact-plug-in"), asked_s=whole.seconds / 2)
    assert half.charge_at == pytest.approx(0.5, abs=0.05)
    assert stand(parked("compact-plug-in"), asked_s=2 * whole.seconds).charge_at == 0.0
    assert stand(parked("compact-plug-in"), floor=0.3, asked_s=2 * whole.seconds).charge_at == pytest.approx(0.3)


def test_a_charge_below_the_floor_is_over_at_once(parked):
    result = stand(parked("compact-plug-in", start=Start(state_of_charge=0.1)), floor=0.2)
    assert (result.seconds, result.cells_j, result.charge_at) == (0.0, 0.0, pytest.approx(0.1))


def test_holding_is_what_the_cabin_takes_at_standstill(parked):
    # shell and 100 m³/h of air at 1.25 kg/m³ (35 W/K) over 26 K, less one person of 70 W, heater 0.95, blower 120 W
    car, day, states = parked("compact-plug-in", Weather(268.15, 0.7, 0.0, 0.0))
    result = stand((car, day, states))
    ua_w_k = float(np.ravel(car.ua_still_w_k)[0]) + 100 / 3600 * 1.25 * 1006
    assert result.climate_w == pytest.approx((ua_w_k * 26 - 70) / 0.95 + 120, rel=0.02)


def test_an_endless_stand_ends(parked):
    car, day, states = parked("large-electric-suv", cabin=Cabin(climate=Climate.OFF))
    car.base_w = 1.0
    result = stand_rows(car, day, central_draw(), states, 0.0, 0.0)[0]
    assert LONGEST_S <= result.seconds < LONGEST_S + 901
    assert np.isfinite(result.cells_j)
