"""The cabin's two nodes: heat in is heat out and heat stored."""

import numpy as np
import pytest

from service.physics.air import humidity_ratio
from service.physics.cabin import (
    PERSON_SENSIBLE_W,
    WARM_BAND_K,
    cabin_step_w,
    climate_power_w,
    condensing_w,
    latent_w,
    ventilation_kg_s,
)
from service.physics.climate_machine import RESISTIVE_EFFICIENCY, cooling_cop, heat_pump_cop
from service.physics.fresh_air import AUTO, FRESH, RECIRCULATE, outdoor_air_kg_s, saturated_kg_kg
from service.physics.rows import CAR, DAY, STATE, table
from service.physics.tables import central_draw

AIR_J_KG_K, SEA_PA = 1006.0, 101_325.0


def cabin(celsius, climate=1.0, set_c=21.0, people=2, sun_w_m2=0.0, humidity=0.0, start_c=None, air=AUTO, **machine):
    car, day, state = table(CAR, 1), table(DAY, 1), table(STATE, 1)
    car.ua_still_w_k, car.ua_per_m_s_w_k = 50.0, 0.8
    car.cabin_air_j_k, car.cabin_interior_j_k, car.cabin_coupling_w_k, car.sun_m2 = 15e3, 90e3, 150.0, 0.9
    car.heater_w, car.cooler_w, car.blower_w = 5000.0, 5000.0, 0.0
    for name, value in machine.items():
        car[name] = value
    day.pressure_pa, day.saturated_kg_kg, day.air_setting = SEA_PA, saturated_kg_kg(celsius + 273.15, SEA_PA), air
    day.ambient_k, day.set_point_k, day.climate = celsius + 273.15, set_c + 273.15, climate
    day.occupants, day.sun_w_m2, day.humidity_kg_kg = people, sun_w_m2, humidity
    state.cabin_air_k = state.cabin_interior_k = 273.15 + (celsius if start_c is None else start_c)
    return car[0], day[0], state[0]


def run(car, day, state, seconds, speed_m_s=20.0, step_s=5.0):
    """Joules of electricity for heating and cooling over a while, and the course of air, interior and fresh air."""
    draw = central_draw()[0]
    heating_j = cooling_j = 0.0
    course = []
    for _ in range(round(seconds / step_s)):
        fresh_kg_s = ventilation_kg_s(day, day.occupants, state.cabin_air_k, speed_m_s)
        heating_w, cooling_w = climate_power_w(car, day, draw, state, speed_m_s, step_s)
        heating_j += heating_w * step_s
        cooling_j += cooling_w * step_s
        course.append((state.cabin_air_k, state.cabin_interior_k, fresh_kg_s))
    return heating_j, cooling_j, np.array(course)


def leaving_j(car, day, course, people, sun_w_m2, speed_m_s=20.0, step_s=5.0):
    """Heat lost to the outside less that of people and sun, from the course alone."""
    open_w_k = car.ua_still_w_k + car.ua_per_m_s_w_k * speed_m_s + course[:, 2] * AIR_J_KG_K
    free_w = people * PERSON_SENSIBLE_W + sun_w_m2 * car.sun_m2
    return float(np.sum(open_w_k * (course[:, 0] - day.ambient_k) - free_w) * step_s)


def stored_j(car, day, course, start_k):
    return car.cabin_air_j_k * (course[-1, 0] - start_k) + car.cabin_interior_j_k * (course[-1, 1] - start_k)


@pytest.mark.parametrize(("celsius", "sun_w_m2", "people"), [(-10, 0, 1), (-25, 200, 4), (2, 0, 2)])
def test_heating_balance_closes(celsius, sun_w_m2, people):
    car, day, state = cabin(celsius, people=people, sun_w_m2=sun_w_m2)
    start_k = float(day.ambient_k)
    heating_j, cooling_j, course = run(car, day, state, 1800)
    out_j = leaving_j(car, day, course, people, sun_w_m2)
    assert cooling_j == 0.0
    assert heating_j * RESISTIVE_EFFICIENCY == pytest.approx(out_j + stored_j(car, day, course, start_k), rel=1e-9)


@pytest.mark.parametrize(("celsius", "sun_w_m2"), [(35, 600), (30, 0)])
def test_dry_cooling_balance_closes(celsius, sun_w_m2):
    people = 0  # nobody breathes: no water condenses
    car, day, state = cabin(celsius, people=people, sun_w_m2=sun_w_m2)
    start_k = float(day.ambient_k)
    heating_j, cooling_j, course = run(car, day, state, 1800)
    assert heating_j == 0.0 < cooling_j
    assert course[:, 2] == pytest.approx(0.5 * outdoor_air_kg_s(AUTO, 0.0))  # recirculation halves it while cooling
    heat_j = leaving_j(car, day, course, people, sun_w_m2) + stored_j(car, day, course, start_k)
    assert cooling_j * cooling_cop(float(day.ambient_k)) == pytest.approx(-heat_j, rel=1e-9)


def test_balance_without_climate_closes():
    car, day, state = cabin(30, climate=0.0, people=1, sun_w_m2=800.0)
    heating_j, cooling_j, course = run(car, day, state, 3600)
    assert heating_j == cooling_j == 0.0
    out_j = leaving_j(car, day, course, 1, 800.0)
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
    steady_w = (50 + 0.8 * 15 + outdoor_air_kg_s(AUTO, 2.0) * AIR_J_KG_K) * 31 - 2 * PERSON_SENSIBLE_W
    assert held_w * RESISTIVE_EFFICIENCY == pytest.approx(steady_w, rel=0.02)  # the interior still warms a little


def test_a_weak_heater_leaves_the_cabin_cold():
    car, day, state = cabin(-20, heater_w=1000.0)
    heating_j, _, course = run(car, day, state, 3600)
    assert heating_j == pytest.approx(1000.0 * 3600)
    assert course[-1, 0] < 294.15 - 10
    assert np.all(np.diff(course[:, 0]) > 0)


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
    assert latent_w(0.03, 0.004, 1.0) == 0.0  # 1.4 g/kg under the coil's dew point, a person adds 0.5


def test_a_coil_dries_no_more_than_it_cools():
    whole_w = latent_w(0.02, 0.015, 2.0)
    assert condensing_w(2000.0, 295.15, 0.02, 0.015, 2.0) == whole_w
    keeping_up_w = 0.02 * AIR_J_KG_K * 17.0  # cabin air of 22 °C over a coil of 5 °C
    assert condensing_w(0.25 * keeping_up_w, 295.15, 0.02, 0.015, 2.0) == pytest.approx(0.25 * whole_w)
    assert condensing_w(0.0, 295.15, 0.02, 0.015, 2.0) == 0.0


def test_cooling_holds_the_set_point_on_a_hot_day_and_pays_for_it_all_the_time():
    car, day, state = cabin(33, sun_w_m2=400.0, humidity=0.014, start_c=21)
    run(car, day, state, 3600)
    assert state.cabin_air_k == pytest.approx(294.15)
    spent = [run(car, day, state, 5.0)[1] for _ in range(20)]
    assert min(spent) > 0.999 * max(spent)  # no step without its share of moisture


def test_engine_heat_only_means_no_electric_heating():
    car, day, state = cabin(-10, heater_w=0.0)
    heating_j, _, course = run(car, day, state, 600)
    assert heating_j == 0.0
    assert course[-1, 0] < 275.0


def damp(celsius, **machine):
    """Two people on a damp day, windows clear by drying or by fresh air."""
    return cabin(celsius, humidity=humidity_ratio(celsius + 273.15, SEA_PA, 0.9), start_c=21, **machine)


def test_drying_costs_a_resistive_car_compressor_and_reheat():
    # 10 °C, 90 %: the coil takes 7 K off 100 m³/h and what water is above 4.7 g/kg
    car, day, state = damp(10)
    heating_j, cooling_j, course = run(car, day, state, 1800)
    plain_j = run(*damp(10, cooler_w=0.0), 1800)[0]
    fresh_kg_s = course[-1, 2]
    dry_w = fresh_kg_s * AIR_J_KG_K * 7
    wet_w = fresh_kg_s * (day.humidity_kg_kg - saturated_kg_kg(276.15, SEA_PA)) * 2.501e6
    expected_w = (dry_w + wet_w) / cooling_cop(283.15) + dry_w / RESISTIVE_EFFICIENCY
    assert cooling_j == 0.0  # it is booked as heating
    assert (heating_j - plain_j) / 1800 == pytest.approx(expected_w, rel=1e-3)
    assert dry_w > 200


def test_drying_costs_a_heat_pump_little_more_than_its_work():
    def more_w(heat_pump_w):
        dried, plain = (run(*damp(10, cooler_w=w, heat_pump_w=heat_pump_w), 1800)[0] for w in (5000.0, 0.0))
        return (dried - plain) / 1800

    assert 0 < more_w(6000.0) < 0.5 * more_w(0.0)


def test_a_cabin_kept_warm_by_the_sun_is_not_dried():
    car, day, state = cabin(14, people=1, sun_w_m2=900.0, humidity=0.008, start_c=21)
    run(car, day, state, 3600)  # the sun warms seats and trim first
    assert run(car, day, state, 600)[0] == 0.0


def test_drying_fades_out_on_a_mild_day():
    spent = [run(*damp(celsius), 1800)[0] for celsius in np.arange(13, 20.5, 0.25)]
    assert max(-np.diff(spent)) < 0.12 * spent[0]  # no step anywhere
    assert spent[-1] < spent[0]


def settled_w(celsius, people, air, **machine):
    """Electric power that holds 21 °C in saturated air, W."""
    humid = humidity_ratio(celsius + 273.15, SEA_PA, 1.0)
    car, day, state = cabin(celsius, people=people, humidity=humid, start_c=21, air=air, blower_w=120.0, **machine)
    run(car, day, state, 3600, step_s=60.0)
    return run(car, day, state, 60.0, step_s=60.0)[0] / 60


@pytest.mark.parametrize("people", [1, 4, 9])
@pytest.mark.parametrize("air", [AUTO, FRESH, RECIRCULATE])
@pytest.mark.parametrize("heat_pump_w", [0.0, 4000.0])
def test_colder_air_takes_more_but_for_the_drying_of_a_heat_pump(people, air, heat_pump_w):
    course = np.arange(-24, 15.1, 0.5)
    spent = [settled_w(celsius, people, air, heat_pump_w=heat_pump_w, heater_w=9000.0) for celsius in course]
    rise_w_k = np.diff(spent) / 0.5
    assert max(rise_w_k[course[:-1] < 8]) <= 0
    assert max(rise_w_k) < (60 if heat_pump_w else 5)


def test_fog_makes_a_full_damp_car_dearer_to_heat():
    air = humidity_ratio(268.15, SEA_PA, 0.95)
    many_damp, many_dry = (run(*cabin(-5, people=4, humidity=w), 1800)[2][:, 2].mean() for w in (air, 0.0))
    assert many_damp > 1.2 * many_dry


def test_recirculating_saves_heat_and_outside_air_costs_it():
    dry = {"humidity": 0.0005, "people": 1, "start_c": 21}
    spent = [run(*cabin(-5, air=setting, **dry), 1800)[0] for setting in (RECIRCULATE, AUTO, FRESH)]
    assert spent[0] < spent[1] < spent[2]


def test_recirculating_saves_cooling_too():
    spent = [run(*cabin(35, air=setting, humidity=0.015), 1800)[1] for setting in (RECIRCULATE, AUTO, FRESH)]
    assert spent[0] < spent[1] < spent[2]


def test_seat_heat_ends_up_in_the_cabin():
    # a resistive heater saves its watts elsewhere, but for the heater's own loss; a heat pump does not
    def heating_j(seat_w, **machine):
        car, day, state = cabin(-5, humidity=0.001, start_c=21, **machine)
        day.seat_heat_w = seat_w
        return run(car, day, state, 7200)[0]

    assert heating_j(125.0) == pytest.approx(heating_j(0.0), rel=0.01)
    assert heating_j(125.0, heat_pump_w=5000.0) > 1.01 * heating_j(0.0, heat_pump_w=5000.0)


def test_seats_are_heated_with_the_climate_off():
    car, day, state = cabin(-5, climate=0.0)
    day.seat_heat_w = 125.0
    heating_j, _, course = run(car, day, state, 600)
    assert heating_j == pytest.approx(125.0 * 600)
    assert course[-1, 1] > 268.15


def test_a_drive_is_a_step_with_its_people_and_seats():
    car, day, state = cabin(-5, people=3)
    day.seat_heat_w = 275.0
    _, _, other = cabin(-5)
    draw = central_draw()[0]
    assert climate_power_w(car, day, draw, state, 15.0, 10.0) == cabin_step_w(
        car, day, draw, other, 15.0, 10.0, 3.0, 275.0
    )


def test_heat_pump_carries_the_cabin_at_its_cop():
    car, day, state = cabin(-5, humidity=0.002, people=0, start_c=21, heat_pump_w=9000.0)
    heating_j, _, course = run(car, day, state, 3600)
    heat_j = leaving_j(car, day, course, 0, 0.0) + stored_j(car, day, course, 294.15)
    assert heat_j / heating_j == pytest.approx(heat_pump_cop(268.15, 0.0), rel=1e-9)


def test_on_rolls_the_fan_blows_whatever_the_speed():
    def heating_j(fan_m_s, speed_m_s):
        car, day, state = cabin(-7)
        day.fan_m_s = fan_m_s
        return run(car, day, state, 1800, speed_m_s)[0]

    assert heating_j(3.0, 30.0) == heating_j(3.0, 5.0) == heating_j(0.0, 3.0)
    assert heating_j(0.0, 30.0) > 1.1 * heating_j(0.0, 5.0)


def test_only_rolls_have_a_fan(catalogue, rows):
    from service.specs import Ask, Journey, Procedure, Weather

    ask = Ask(catalogue.vehicles["small-electric-hatch"], Journey(cycle="udds"), Weather(266.0))
    assert rows(ask)[1].fan_m_s == 0.0
    on_rolls = Ask(ask.vehicle, ask.journey, ask.weather, Procedure.DYNAMOMETER)
    assert rows(on_rolls)[1].fan_m_s > 0.0
