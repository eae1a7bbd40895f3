"""Charging against the clock."""

from itertools import pairwise

import numpy as np
import pytest

from service.charging import charger_row, sessions
from service.physics.tables import central_draw
from service.quotes.assume import complete
from service.quotes.parking import Overnight, charged_within, rest_k
from service.quotes.scenarios import rows_for
from service.specs import Ask, Circuit, Journey, Leg, Weather

START = np.array([0.0, 0.3, 0.6, 0.95])


@pytest.fixture(scope="module")
def plugged(catalogue, values):
    ask = Ask(catalogue.vehicle("small-electric-hatch"), Journey(legs=(Leg(1000.0, 10.0),)), Weather(278.15))
    ask, _ = complete(ask, catalogue)
    car, _ = rows_for(ask, catalogue, values)

    def charge(within_s, circuit="na-household-15a", kelvin=278.15):
        outlet = catalogue.circuit(circuit) if isinstance(circuit, str) else circuit
        charger = charger_row(ask.vehicle, outlet, values["charger_conversion"], values["charger_fixed_w"])
        around = np.full(len(START), kelvin)
        arguments = (car, central_draw(len(START)), charger, START)
        return charged_within(*arguments, 1.0, around, around, within_s), (arguments, around)

    return charge


@pytest.mark.parametrize("kelvin", [263.15, 278.15])
@pytest.mark.parametrize("hours", [1, 6, 12])
def test_the_charge_found_takes_the_time_there_is(plugged, hours, kelvin):
    found, ((car, draws, charger, start), around) = plugged(hours * 3600, kelvin=kelvin)
    again = sessions(car, draws, charger, start, found.charge, around, around)
    short = found.seconds > hours * 3600
    assert short[0]
    assert again.seconds[short] == pytest.approx(hours * 3600, rel=0.011)
    assert found.wall_j[short] == pytest.approx(again.wall_j[short], rel=0.011)


def test_a_long_night_fills_it_whole(plugged):
    found, _ = plugged(14 * 24 * 3600, "na-wall-unit-30a")
    assert np.all(found.charge == 1)


def test_more_time_never_charges_less(plugged):
    charges = [plugged(hours * 3600)[0].charge for hours in (0.01, 0.5, 2, 8, 24)]
    assert all(np.all(less <= more + 1e-9) for less, more in pairwise(charges))


def test_a_socket_that_only_feeds_the_overhead_gives_nothing(plugged):
    found, _ = plugged(3600, Circuit("own", "own", "own", 20.0, 5.0))
    assert np.all(found.charge == START)
    assert np.all(found.wall_j == 0)
    assert np.all(np.isinf(found.seconds))


def test_a_garage_is_half_way_to_fifteen_degrees():
    assert rest_k(258.15, Overnight.GARAGE) == pytest.approx(273.15)
    assert rest_k(258.15, Overnight.OUTSIDE) == 258.15


def test_an_hour_in_the_frost_goes_into_heating_the_pack(plugged):
    found, _ = plugged(1800, kelvin=253.15)  # this car heats its pack before it charges
    assert np.all(found.charge == START)
    assert np.all(found.wall_j > 0)
