"""The cabin's two nodes: heat in is heat out and heat stored."""

import numpy as np
import pytest

from service.physics.cabin import (
    PERSON_SENSIBLE_W,
    RESISTIVE_EFFICIENCY,
    WARM_BAND_K,
    climate_power_w,
    cooling_cop,
    fresh_air_kg_s,
    heat_pump_capacity_w,
    heat_pump_cop,
    heating_electric_w,
    latent_w,
    warm_on_the_wall_j,
)
from service.physics.rows import CAR, DAY, STATE, table
from service.physics.tables import central_draw

AIR_J_KG_K = 1006.0


def cabin(celsius, climate=1.0, set_c=21.0, people=2, sun_w_m2=0.0, humidity=0.0, start_c=None, **machine):
    car, day, state = table(CAR, 1), table(DAY, 1), table(STATE, 1)
    car.ua_still_w_k, car.ua_per_m_s_w_k = 50.0, 0.8
    car.cabin_air_j_k, car.cabin_interior_j_k, car.cabin_coupling_w_k, car.sun_m2 = 15e3, 90e3, 150.0, 0.9
    car.heater_w, car.cooler_w, car.blower_w = 5000.0, 5000.0, 0.0
    for name, value in machine.items():
        car[name] = value
    day.ambient_k, day.set_point_k, day.climate = celsius + 273.15, set_c + 273.15, climate
    day.occupants, day.sun_w_m2, day.humidity_kg_kg = people, sun_w_m2, humidity
    state.cabin_air_k = state.cabin_interior_k = 273.15 + (celsius if start_c is None else start_c)
    return car[0], day[0], state[0]


def run(car, day, state, seconds, speed_m_s=20.0, step_s=5.0):
    """Joules of electricity for heating and cooling over a while, and the course of the cabin's air."""
    draw = central_draw()[0]
    heating_j = cooling_j = 0.0
    course = []
    for _ in range(round(seconds / step_s)):
        heating_w, cooling_w = climate_power_w(car, day, draw, state, speed_m_s, step_s)
        heating_j += heating_w * step_s
        cooling_j += cooling_w * step_s
        course.append((state.cabin_air_k, state.cabin_interior_k))
    return heating_j, cooling_j, np.array(course)


def leaving_j(car, day, course, people, sun_w_m2, fresh_kg_s, speed_m_s=20.0, step_s=5.0):
    """Heat lost to the outside less that of people and sun, from the course alone."""
    open_w_k = car.ua_still_w_k + car.ua_per_m_s_w_k * speed_m_s + fresh_kg_s * AIR_J_KG_K
    free_w = people * PERSON_SENSIBLE_W + sun_w_m2 * car.sun_m2
    return float(np.sum(open_w_k * (course[:, 0] - day.ambient_k) - free_w) * step_s)


def stored_j(car, day, course, start_k):
    return car.cabin_air_j_k * (course[-1, 0] - start_k) + car.cabin_interior_j_k * (course[-1, 1] - start_k)


@pytest.mark.parametrize(("celsius", "sun_w_m2", "people"), [(-10, 0, 1), (-25, 200, 4), (5, 0, 2)])
def test_heating_balance_closes(celsius, sun_w_m2, people):
    car, day, state = cabin(celsius, people=people, sun_w_m2=sun_w_m2)
    start_k = float(day.ambient_k)
    heating_j, cooling_j, course = run(car, day, state, 1800)
    out_j = leaving_j(car, day, course, people, sun_w_m2, fresh_air_kg_s(float(people)))
    assert cooling_j == 0.0
    assert heating_j * RESISTIVE_EFFICIENCY == pytest.approx(out_j + stored_j(car, day, course, start_k), rel=1e-9)


@pytest.mark.parametrize(("celsius", "sun_w_m2"), [(35, 600), (30, 0)])
def test_dry_cooling_balance_closes(celsius, sun_w_m2):
    people = 0  # nobody breathes: no water condenses
    car, day, state = cabin(celsius, people=people, sun_w_m2=sun_w_m2)
    start_k = float(day.ambient_k)
    heating_j, cooling_j, course = run(car, day, state, 1800)
    assert heating_j == 0.0 < cooling_j
    fresh = 0.5 * fresh_air_kg_s(0.0)  # recirculation halves it while cooling
    heat_j = leaving_j(car, day, course, people, sun_w_m2, fresh) + stored_j(car, day, course, start_k)
    assert cooling_j * cooling_cop(float(day.ambient_k)) == pytest.approx(-heat_j, rel=1e-9)


def test_balance_without_climate_closes():
    car, day, state = cabin(30, climate=0.0, people=1, sun_w_m2=800.0)
    heating_j, cooling_j, course = run(car, day, state, 3600)
    assert heating_j == cooling_j == 0.0
    out_j = leaving_j(car, day, course, 1, 800.0, fresh_air_kg_s(1.0))
    assert stored_j(car, day, course, 303.15) == pytest.approx(-out_j, rel=1e-9)
    assert course[-1, 0] > 303.15  # sun and a person warm it


def test_warm_up_takes_all_there_is_then_holds():
    car, day, state = cabin(-10)
    draw = central_draw()[0]
    first_w, _ = climate_power_w(car, day, draw, state, 15.0, 5.0)
    assert first_w == pytest.approx(5000.0)
    run(car, day, state, 3600)
    assert state.cabin_air_k == pytest.approx(294.15)
    held_w, _ = climate_power_w(car, day, draw, state, 15.0, 5.0)
    steady_w = (50 + 0.8 * 15 + fresh_air_kg_s(2.0) * AIR_J_KG_K) * 31 - 2 * PERSON_SENSIBLE_W
    assert held_w * RESISTIVE_EFFICIENCY == pytest.approx(steady_w, rel=0.02)  # the interior still warms a little


def test_a_weak_heater_leaves_the_cabin_cold():
    car, day, state = cabin(-20, heater_w=1000.0)
    heating_j, _, course = run(car, day, state, 3600)
    assert heating_j == pytest.approx(1000.0 * 3600)
    assert course[-1, 0] < 294.15 - 10
    assert np.all(np.diff(course[:, 0]) > 0)


def test_heat_pump_first_heater_for_the_rest():
    pump_w = heat_pump_capacity_w(4000.0, 273.15)
    assert heating_electric_w(3000.0, 273.15, 5000.0, 4000.0) == pytest.approx(3000 / heat_pump_cop(273.15))
    both_w = heating_electric_w(pump_w + 950.0, 273.15, 5000.0, 4000.0)
    assert both_w == pytest.approx(pump_w / heat_pump_cop(273.15) + 1000.0)
    assert heating_electric_w(3000.0, 250.0, 5000.0, 4000.0) == pytest.approx(3000 / RESISTIVE_EFFICIENCY)  # cut out


def test_sunny_spring_needs_no_machine():
    # warm inside from the sun but cool outside: opened vents do it
    car, day, state = cabin(12, people=1, sun_w_m2=700.0, start_c=21)
    _, cooling_j, course = run(car, day, state, 1800)
    assert cooling_j == 0.0
    assert course[-1, 0] <= 294.15 + WARM_BAND_K + 1e-9


def test_damp_air_costs_more_to_cool():
    spent = [run(*cabin(32, humidity=w), 1800)[1] for w in (0.004, 0.010, 0.020)]
    assert spent[0] < spent[1] < spent[2]
    assert latent_w(0.03, 0.0154, 0.0) == pytest.approx(0.03 * 0.010 * 2.501e6)  # 10 g/kg over the coil's dew point
    assert latent_w(0.03, 0.001, 0.0) == 0.0


def test_engine_heat_only_means_no_electric_heating():
    car, day, state = cabin(-10, heater_w=0.0)
    heating_j, _, course = run(car, day, state, 600)
    assert heating_j == 0.0
    assert course[-1, 0] < 275.0


def test_preheating_on_the_wall_leaves_a_warm_cabin():
    car, day, state = cabin(-10)
    drawn_j = warm_on_the_wall_j(car, day, central_draw()[0], state)
    assert state.cabin_air_k == pytest.approx(294.15)
    assert state.cabin_interior_k > 285.0
    # interior warmed by 30 K takes 0.5–1.25 kWh (common practice), and it is lost meanwhile
    assert 0.5 < drawn_j / 3.6e6 < 1.7
