"""Specs to rows."""

from dataclasses import replace

import numpy as np
import pytest

from service.physics.battery import health_resistance_factor, open_circuit_v, pack_resistance_ohm
from service.physics.cabin import cabin_step_w, ventilation_kg_s
from service.physics.rows import CAR, DAY, DRAW, OCV_POINTS
from service.physics.tables import central_draw, drives_both_axles, peak_force_n, start_state
from service.physics.tyres import LABEL_SLOPE_PER_K, ROAD_LOAD_SLOPE_PER_K, WARM_RISE_K
from service.specs import Ask, BodyAndTyres, Cabin, CabinAir, Climate, Heating, Journey, Procedure, Start, Weather

ROOM = Weather(298.15, relative_humidity=0.5, wind_m_s=0.0, sun_w_m2=0.0)


@pytest.fixture
def car_row(catalogue, rows):
    """A demo car's row; health and other choices by keyword."""

    def make(id_, health=1.0, **choices):
        ask = Ask(catalogue.vehicles[id_], Journey(cycle="udds"), ROOM, start=Start(state_of_health=health), **choices)
        return rows(ask)[0]

    return make


def discharge_j(car, hours, kelvin=298.15, steps=4000):
    """Terminal energy of a constant-current discharge of the whole window."""
    amps = car.capacity_c / (hours * 3600)
    charge = 1 - (np.arange(steps) + 0.5) / steps
    volt = [
        open_circuit_v(car.ocv_v, c) - amps * pack_resistance_ohm(car.resistance_ohm, car.activation_j_mol, kelvin, c)
        for c in charge
    ]
    return float(np.mean(volt)) * float(car.capacity_c)


@pytest.mark.parametrize(
    "id_",
    ["compact-plug-in", "family-suv-plug-in", "small-electric-hatch", "mid-electric-sedan", "large-electric-suv",
     "electric-delivery-van"],
)  # fmt: skip
def test_a_c_over_3_discharge_at_25_degrees_gives_the_usable_energy(catalogue, car_row, id_):
    # SAE J1634: usable battery energy is terminal energy of a full discharge, here at C/3 and 25 °C
    usable_j = catalogue.vehicles[id_].battery.usable_j
    assert discharge_j(car_row(id_), 3.0) == pytest.approx(usable_j, rel=1e-3)


def test_health_scales_capacity_and_resistance(car_row):
    new, aged = car_row("mid-electric-sedan"), car_row("mid-electric-sedan", health=0.8)
    assert aged.capacity_c == pytest.approx(0.8 * new.capacity_c)
    assert aged.resistance_ohm == pytest.approx(health_resistance_factor(0.8) * new.resistance_ohm)
    assert discharge_j(aged, 3.0) < 0.8 * discharge_j(new, 3.0)  # resistance takes a little more


def test_window_of_voltage_lies_between_the_cell_limits(catalogue, car_row):
    for id_ in catalogue.vehicles:
        car = car_row(id_)
        assert car.ocv_v.shape == (OCV_POINTS,)
        assert np.all(np.diff(car.ocv_v) > 0)
        assert car.min_v < car.ocv_v[0] < car.ocv_v[-1] < car.max_v
        nominal = catalogue.vehicles[id_].battery.nominal_v
        assert np.mean(car.ocv_v) == pytest.approx(nominal, rel=0.05)


def test_efficiency_of_a_round_trip_is_what_handbooks_say(catalogue, car_row):
    # battery round trip at C/3, 25 °C: 95–98 %, from memory (charging and discharging lose alike)
    for id_ in (each for each, car in catalogue.vehicles.items() if car.kind.plugs_in):
        car = car_row(id_)
        stored_j = float(np.trapezoid(car.ocv_v, np.linspace(0, 1, OCV_POINTS))) * car.capacity_c
        lost = 1 - discharge_j(car, 3.0) / stored_j
        assert 0.95 < (1 - lost) / (1 + lost) < 0.99


def test_road_load_forms_keep_their_own_reference(catalogue, car_row):
    fit, parts = car_row("mid-electric-sedan"), car_row("small-electric-hatch")
    assert (fit.tyre_reference_k, fit.tyre_slope_per_k) == (293.15, ROAD_LOAD_SLOPE_PER_K)
    assert (parts.tyre_reference_k, parts.tyre_slope_per_k) == (298.15, LABEL_SLOPE_PER_K)
    assert isinstance(catalogue.vehicles["small-electric-hatch"].road_load, BodyAndTyres)
    assert parts.drag_area_m2 == 0.62
    # coefficients already contain bearing and gear drag: no further no-load drag is put on top
    load = catalogue.vehicles["mid-electric-sedan"].road_load
    assert fit.bearing_n == pytest.approx(0.15 * load.f0_n)
    assert fit.bearing_n_s_m == pytest.approx(load.f1_n_s_m)


def test_heating_that_a_car_has(catalogue, car_row):
    assert car_row("mid-electric-sedan").heat_pump_w > 0
    assert car_row("small-electric-hatch").heat_pump_w == 0.0 < car_row("small-electric-hatch").heater_w
    assert catalogue.vehicles["family-suv-plug-in"].heating is Heating.ENGINE
    assert car_row("family-suv-plug-in").heater_w == car_row("family-suv-plug-in").heat_pump_w == 0.0


def test_payload_weighs_on_tyres_and_slopes(car_row):
    light, laden = car_row("mid-electric-sedan"), car_row("mid-electric-sedan", payload_kg=300.0)
    assert laden.mass_kg - light.mass_kg == pytest.approx(300)
    assert laden.inertia_kg - light.inertia_kg == pytest.approx(300)
    assert laden.tyre_n / light.tyre_n == pytest.approx((laden.mass_kg / light.mass_kg) ** 0.9)
    assert laden.bearing_n == light.bearing_n


def test_rolls_impose_their_own_air(catalogue, rows):
    vehicle = catalogue.vehicles["mid-electric-sedan"]
    cold = Weather(266.15, relative_humidity=0.5, wind_m_s=8.0, sun_w_m2=600.0, altitude_m=2000.0, surface="snow")
    _, rolls = rows(Ask(vehicle, Journey(cycle="udds"), cold, Procedure.DYNAMOMETER))
    _, road = rows(Ask(vehicle, Journey(cycle="udds"), cold))
    assert rolls.air_kg_m3 == pytest.approx(1.1675, abs=1e-4)  # 20 °C, 98.21 kPa, dry: 40 CFR 1066.305
    assert (rolls.wind_m_s, rolls.surface_factor, rolls.lights) == (0, 1, 0)
    assert rolls.sun_w_m2 == 600.0  # stated, so the cell has lamps
    assert road.wind_m_s == pytest.approx(0.65 * 8)
    assert road.surface_factor == 2.0
    assert road.air_kg_m3 < 1.06  # thin air at 2000 m
    assert rolls.ambient_k == road.ambient_k == 266.15


def test_start_state():
    day = np.zeros(1, DAY).view(np.recarray)[0]
    day.ambient_k, day.set_point_k, day.climate = 263.15, 294.15, 1.0
    car = np.zeros(1, CAR).view(np.recarray)[0]
    soaked = start_state(Start(0.7), car, day)[0]
    warm = start_state(Start(soaked=False), car, day)[0]
    assert (soaked.charge, soaked.pack_k, soaked.cabin_air_k, soaked.tyre_rise_k) == (0.7, 263.15, 263.15, 0.0)
    assert (warm.cabin_air_k, warm.cabin_interior_k, warm.tyre_rise_k) == (294.15, 294.15, WARM_RISE_K)
    day.climate = 0.0
    assert start_state(Start(soaked=False), car, day)[0].cabin_air_k == 263.15  # nobody heated it


def test_sun_warms_a_parked_cabin_and_wind_takes_some_of_it(catalogue, rows):
    def stood(sun_w_m2, wind_m_s=0.0, in_sun=True):
        weather = Weather(303.15, 0.4, wind_m_s, sun_w_m2)
        ask = Ask(catalogue.vehicles["mid-electric-sedan"], Journey(cycle="udds"), weather)
        return start_state(Start(in_sun=in_sun), *rows(ask))[0]

    shade, half, full = stood(800.0, in_sun=False), stood(400.0), stood(800.0)
    assert shade.cabin_air_k == shade.cabin_interior_k == 303.15
    assert full.cabin_air_k - 303.15 == pytest.approx(2 * (half.cabin_air_k - 303.15))
    paint_k = 0.6 * 800.0 / 11.0  # by hand, in still air
    assert full.cabin_air_k - 303.15 == pytest.approx((800.0 * 0.9 + 7.5 * paint_k) / 54.0)  # data/bodies.csv: medium
    assert full.cabin_interior_k - full.cabin_air_k == pytest.approx(800.0 * 0.9 / 150.0)
    assert stood(800.0, wind_m_s=8.0).cabin_air_k < full.cabin_air_k
    assert full.pack_k == 303.15
    assert full.tyre_rise_k == 0.0


def test_a_cabin_left_alone_in_the_sun_comes_to_that_temperature(catalogue, rows):
    car, day = rows(Ask(
        catalogue.vehicles["mid-electric-sedan"], Journey(cycle="udds"), Weather(303.15, 0.4, 0.0, 700.0),
        cabin=Cabin(Climate.OFF, air=CabinAir.RECIRCULATE),
    ))  # fmt: skip
    car.roof_w_k = 0.0
    state, aim = start_state(Start(), car, day)[0], start_state(Start(in_sun=True), car, day)[0]
    fresh_w_k = 1006.0 * float(ventilation_kg_s(day, 0.0, 303.15, 0.0))
    for _ in range(6 * 360):
        cabin_step_w(car, day, central_draw()[0], state, 0.0, 10.0, 0.0, 0.0)
    leaving_w = (state.cabin_air_k - 303.15) * (car.ua_still_w_k + fresh_w_k)  # it leaks, a parked one is shut
    assert leaving_w == pytest.approx((aim.cabin_air_k - 303.15) * car.ua_still_w_k, rel=1e-3)
    assert state.cabin_interior_k - state.cabin_air_k == pytest.approx(aim.cabin_interior_k - aim.cabin_air_k, rel=1e-3)


def test_central_draw_is_one_everywhere():
    draw = central_draw(2)
    assert all((draw[name] == 1.0).all() for name in DRAW.names)
    assert set(CAR.names).isdisjoint(DRAW.names)


def test_climate_off_is_off(catalogue, rows):
    vehicle = catalogue.vehicles["mid-electric-sedan"]
    _, on = rows(Ask(vehicle, Journey(cycle="udds"), ROOM))
    _, off = rows(Ask(vehicle, Journey(cycle="udds"), ROOM, cabin=Cabin(Climate.OFF)))
    assert (on.climate, off.climate) == (1.0, 0.0)


def test_own_pack_gaps_do_not_move_its_energy(catalogue, rows):
    # an inline car whose whole-pack energy is unknown still delivers its usable energy
    vehicle = catalogue.vehicles["mid-electric-sedan"]
    bare = replace(vehicle, battery=replace(vehicle.battery, nominal_j=None, nominal_v=None, chemistry=None))
    car, _ = rows(Ask(bare, Journey(cycle="udds"), ROOM))
    assert discharge_j(car, 3.0) == pytest.approx(vehicle.battery.usable_j, rel=1e-3)


def test_a_drive_too_strong_for_one_axle_takes_both(catalogue, car_row, values):
    strong, weak = catalogue.vehicles["large-electric-suv"], catalogue.vehicles["small-electric-hatch"]
    assert drives_both_axles(strong, values)
    assert not drives_both_axles(weak, values)
    assert car_row(strong.id).motor_n == pytest.approx(strong.motor_w / (70 / 3.6), rel=0.01)
    mass_kg = 2000.0
    edge_w = values["two_axle_base_speed_m_s"] * values["grip"] * mass_kg * 9.80665
    one, both, far = (
        peak_force_n(replace(strong, mass_kg=mass_kg, motor_w=factor * edge_w), values) for factor in (1, 1.001, 4)
    )
    assert both == pytest.approx(one, rel=2e-3)  # no jump where the second axle joins
    assert far == pytest.approx(0.9 * mass_kg * 9.80665)
