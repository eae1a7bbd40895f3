"""Ready on the plug: cabin and pack at their temperatures, and what it took."""

import numpy as np
import pytest

from service.physics.precondition import pack_on_the_wall_j, warm_on_the_wall_j
from service.physics.tables import central_draw, start_state
from service.specs import Ask, Cabin, Climate, Journey, Start, Weather


@pytest.fixture
def parked(catalogue, rows):
    """Rows of a demo car, its day and its parked state."""

    def make(id_, celsius, humidity=0.7, **fields):
        weather = Weather(celsius + 273.15, relative_humidity=humidity, wind_m_s=0.0, sun_w_m2=0.0)
        ask = Ask(catalogue.vehicles[id_], Journey(cycle="udds"), weather, cabin=Cabin(Climate.AUTO, **fields))
        car, day = rows(ask)
        return car, day, start_state(Start(), car, day)[0]

    return make


def test_preheating_leaves_a_warm_cabin(parked):
    car, day, state = parked("compact-plug-in", -10)  # no pack heater
    drawn_j = warm_on_the_wall_j(car, day, central_draw()[0], state)
    assert state.cabin_air_k == pytest.approx(294.15)
    assert state.cabin_interior_k > 285.0
    assert state.pack_k == 263.15
    # interior warmed by 30 K takes 0.5–1.25 kWh (common practice), and it is lost meanwhile
    assert 0.5 < drawn_j / 3.6e6 < 1.7


def test_seat_heat_is_not_counted_on_the_wall(parked):
    plain, seats = parked("compact-plug-in", -10), parked("compact-plug-in", -10, seat_heat=True)
    draw = central_draw()[0]
    assert seats[1].seat_heat_w > 0
    assert warm_on_the_wall_j(*plain[:2], draw, plain[2]) == warm_on_the_wall_j(*seats[:2], draw, seats[2])


def test_a_heated_pack_reaches_the_temperature_it_is_held_at(parked):
    car, day, state = parked("mid-electric-sedan", -10)
    drawn_j = pack_on_the_wall_j(car, day, state)
    assert state.pack_k == pytest.approx(car.pack_heat_below_k, abs=0.05)
    stored_j = car.pack_j_k * (state.pack_k - 263.15)
    assert stored_j < drawn_j < 1.1 * stored_j  # the rest is lost meanwhile


def test_a_hot_pack_is_chilled(parked):
    car, day, state = parked("mid-electric-sedan", 42)
    drawn_j = pack_on_the_wall_j(car, day, state)
    assert state.pack_k == pytest.approx(car.pack_cool_above_k, abs=0.05)
    assert drawn_j > 0


def test_an_hour_is_the_most(parked):
    car, day, state = parked("mid-electric-sedan", -35)
    car.pack_heater_w = 500.0
    assert pack_on_the_wall_j(car, day, state) == pytest.approx(500.0 * 3600)
    assert state.pack_k < car.pack_heat_below_k


def test_a_mild_pack_is_left_alone(parked):
    car, day, state = parked("mid-electric-sedan", 20)
    assert pack_on_the_wall_j(car, day, state) == 0.0
    assert state.pack_k == 293.15


def test_a_heat_pump_readies_the_cabin_for_less(parked):
    car, day, state = parked("mid-electric-sedan", 0)
    pumped_j = warm_on_the_wall_j(car, day, central_draw()[0], state)
    car, day, state = parked("mid-electric-sedan", 0)
    car.heat_pump_w = 0.0
    assert pumped_j < 0.75 * warm_on_the_wall_j(car, day, central_draw()[0], state)


def test_colder_is_dearer_on_the_wall(parked):
    drawn = []
    for celsius in np.arange(-25, 3, 2.0):
        car, day, state = parked("mid-electric-sedan", celsius, humidity=0.5)
        drawn.append(warm_on_the_wall_j(car, day, central_draw()[0], state))
    assert np.all(np.diff(drawn) < 0)
