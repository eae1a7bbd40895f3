"""Tyres, their pressure, roof box, trailer, body loads and doors on the rows of a question."""

from dataclasses import replace

import numpy as np
import pytest

from service.constants import STANDARD_GRAVITY_M_S2
from service.physics.tables import inflation_factor
from service.quotes.assume import complete
from service.specs import Ask, Cabin, Climate, Journey, Leg, Outfit, Procedure, Start, Trailer, Weather
from service.trips.legs import legs_trace

DAY = Weather(263.15, relative_humidity=0.8, wind_m_s=0.0, sun_w_m2=0.0)
VAN, SEDAN = "electric-delivery-van", "mid-electric-sedan"


@pytest.fixture
def fitted(catalogue, rows):
    """Car and day rows with an outfit."""

    def make(id_=SEDAN, procedure=Procedure.ROAD, **outfit):
        ask = Ask(catalogue.vehicles[id_], Journey(cycle="wltc_class3b"), DAY, procedure, outfit=Outfit(**outfit))
        return rows(ask)

    return make


def test_gauge_pressure_follows_temperature():
    # handbook arithmetic: 250 kPa gauge at 20 °C is 226 kPa at 0 °C, 214 kPa at −10 °C (ideal gas, 101.3 kPa)
    set_warm = Outfit(placard_pa=250e3, tyres_set_k=293.15)
    for celsius, kpa in ((0, 226), (-10, 214)):
        measured = inflation_factor(Outfit(tyre_pa=kpa * 1e3, placard_pa=250e3), 273.15 + celsius, 101_325)
        assert inflation_factor(set_warm, 273.15 + celsius, 101_325) == pytest.approx(measured, rel=1e-3)
    assert inflation_factor(set_warm, 293.15, 101_325) == 1.0
    assert inflation_factor(Outfit(), 263.15, 101_325) == 1.0
    # SAE J2452 form, α = −0.4: 250 → 200 kPa × 1.0934
    assert inflation_factor(Outfit(tyre_pa=200e3, placard_pa=250e3), 263.15, 101_325) == pytest.approx(1.0934, abs=5e-5)


def test_a_label_class_replaces_the_tyres_and_nothing_else(catalogue, fitted):
    plain, _ = fitted()
    tyres = catalogue.tyre_classes["eu2021-c"]
    car, _ = fitted(tyre_class=tyres)
    assert car.tyre_n == pytest.approx(0.0084 * car.mass_kg * STANDARD_GRAVITY_M_S2)
    assert (car.bearing_n, car.drag_area_m2) == (plain.bearing_n, plain.drag_area_m2)


def test_class_values_lie_in_their_class(catalogue):
    # Regulation (EC) 1222/2009 annex I part A, N/N
    bounds = {"a": (0, 65), "b": (66, 77), "c": (78, 90), "e": (91, 105), "f": (106, 120), "g": (121, 200)}
    for letter, (low, high) in bounds.items():
        assert low <= 1e4 * catalogue.tyre_classes[f"eu2012-{letter}"].crr <= high
    values = [catalogue.tyre_classes[f"eu2021-{letter}"].crr for letter in "abcde"]
    assert values == sorted(values)


def test_box_trailer_and_winter_tyres_add_drag(catalogue, fitted, values):
    plain, _ = fitted()
    boxed, _ = fitted(roof_box=True)
    assert 1.10 <= boxed.drag_area_m2 / plain.drag_area_m2 <= 1.25  # common practice 10–25 %
    assert fitted(winter_tyres=True)[0].tyre_n == pytest.approx(values["winter_tyre_factor"] * plain.tyre_n)
    towing, _ = fitted(trailer=Trailer(750.0, 0.8))
    assert towing.mass_kg == pytest.approx(plain.mass_kg + 750)
    assert towing.inertia_kg == pytest.approx(plain.inertia_kg + 750)
    assert towing.drag_area_m2 == pytest.approx(plain.drag_area_m2 + 0.8)
    own_n = values["trailer_crr"] * 750 * STANDARD_GRAVITY_M_S2
    assert towing.tyre_n == pytest.approx(plain.tyre_n + own_n)  # the car's own tyres carry what they did
    assert fitted(body_load_w=1500.0)[0].base_w == pytest.approx(plain.base_w + 1500)


def test_on_rolls_only_the_tyres_count(fitted):
    plain, plain_day = fitted(procedure=Procedure.DYNAMOMETER)
    car, day = fitted(
        procedure=Procedure.DYNAMOMETER, roof_box=True, trailer=Trailer(750.0), body_load_w=900.0,
        door_openings_per_m=0.01,
    )  # fmt: skip
    assert car == plain
    assert day.door_air_kg_m == 0.0
    _, soft_day = fitted(procedure=Procedure.DYNAMOMETER, tyre_pa=200e3, placard_pa=250e3)
    assert soft_day.surface_factor == pytest.approx(1.0934 * plain_day.surface_factor, rel=1e-4)


def test_doors_cost_heat_in_proportion(fitted, march):
    trace = legs_trace((Leg(4000.0, 8.0, 0.004),))
    cold = Start()
    car, shut = fitted(VAN)
    heat_j = []
    for openings in (0.0, 0.002, 0.004):
        _, day = fitted(VAN, door_openings_per_m=openings)
        heat_j.append(float(march(car, day, trace, cold).ledger.heating_j))
    assert heat_j[0] < heat_j[1] < heat_j[2]
    assert heat_j[0] == float(march(car, shut, trace, cold).ledger.heating_j)


def test_a_headwind_out_is_a_tailwind_back(catalogue, rows, march):
    windy = replace(DAY, wind_m_s=8.0, wind_from_rad=0.0)
    car, day = rows(Ask(catalogue.vehicles[SEDAN], Journey(cycle="udds"), windy, cabin=Cabin(Climate.OFF)))
    air_j = {
        heading: float(march(car, day, legs_trace((Leg(10_000.0, 25.0, heading_rad=heading),))).ledger.air_j)
        for heading in (0.0, np.pi / 2, np.pi, None)
    }
    assert air_j[0.0] > air_j[None] > air_j[np.pi]
    assert air_j[0.0] > air_j[np.pi / 2] > air_j[np.pi]


def test_what_was_assumed_is_listed(catalogue):
    ask = Ask(
        catalogue.vehicles[SEDAN], Journey(cycle="udds"), DAY,
        outfit=Outfit(winter_tyres=True, roof_box=True, trailer=Trailer(500.0), tyres_set_k=293.15),
    )  # fmt: skip
    filled, assumptions = complete(ask, catalogue)
    names = {each.name for each in assumptions}
    assert {"recommended tyre pressure", "drag area that the trailer adds", "drag area added by the roof box"} <= names
    assert filled.outfit.placard_pa == 250e3
    assert filled.outfit.trailer.cd_a_m2 > 0
    bare = {each.name for each in complete(replace(ask, outfit=Outfit()), catalogue)[1]}
    assert "drag area added by the roof box" not in bare
