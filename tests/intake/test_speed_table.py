"""The question of a speed table: bounds of its grid, faults by place, and the grids of the two readers."""

import pytest

from service.catalogue import load_catalogue
from service.errors import BadInputs
from service.intake.assumed import assumed
from service.intake.speed_form import GRIDS, speed_table_from_form
from service.intake.speed_table import SPEEDS_KM_H, TEMPERATURES_C, read_speed_table
from service.specs import Climate

CAR = {"vehicle": {"id": "small-electric-hatch"}}


@pytest.fixture(scope="module")
def catalogue():
    return load_catalogue()


def faults(raw, catalogue):
    with pytest.raises(BadInputs) as caught:
        read_speed_table(raw, catalogue)
    return {row.field: row for row in caught.value.rows()}


def test_nothing_but_a_car_is_needed(catalogue):
    question = read_speed_table(CAR, catalogue).question(catalogue)
    assert [round(speed * 3.6) for speed in question.speeds_m_s] == [50, 80, 100, 120, 130]
    assert [round(kelvin - 273.15) for kelvin in question.temperatures_k] == list(range(-20, 41, 5))
    assert [round(metres) for metres in question.trip.distances_m] == [5000, 10_000, 20_000]
    assert question.trip.speed_m_s == pytest.approx(50 / 3.6)


def test_the_rest_of_the_day_start_and_cabin_arrive_in_si(catalogue):
    raw = CAR | {
        "weather": {"wind_km_h": 36, "surface": "wet"},
        "start": {"state_of_charge_pct": 80, "state_of_health_pct": 90},
        "cabin": {"climate": "off"},
        "payload_kg": 120,
        "procedure": "dynamometer",
    }
    ask = read_speed_table(raw, catalogue).question(catalogue).ask
    assert ask.weather.wind_m_s == pytest.approx(10)
    assert (ask.weather.surface, ask.cabin.climate, ask.payload_kg) == ("wet", Climate.OFF, 120)
    assert (ask.start.state_of_charge, ask.start.state_of_health) == (0.8, 0.9)
    assert ask.procedure == "dynamometer"


def test_every_fault_is_told_by_place_with_its_way_out(catalogue):
    raw = {
        "vehicle": {"id": "nothing"},
        "speeds_km_h": [10, "fast", 300],
        "temperatures_c": [5, 5],
        "weather": {"temperature_c": 3, "surface": "lava"},
        "trip": {"distances_km": [], "speed_km_h": 900},
        "colour": "red",
    }
    found = faults(raw, catalogue)
    assert found["speeds_km_h[0]"].message == "10 km/h is outside 20 to 200 km/h"
    assert found["speeds_km_h[2]"].remedy == "give 20 to 200 km/h"
    assert set(found) >= {"speeds_km_h[1]", "trip.distances_km", "trip.speed_km_h", "vehicle.id", "weather.surface"}
    assert "twice" in found["temperatures_c"].message
    assert "temperatures_c" in found["weather.temperature_c"].remedy
    assert "colour" in found


@pytest.mark.parametrize(
    ("part", "values"),
    [("speeds_km_h", list(range(30, 39))), ("temperatures_c", list(range(-10, 16))), ("speeds_km_h", [])],
)
def test_the_grid_is_bounded(catalogue, part, values):
    assert part in faults(CAR | {part: values}, catalogue)


def test_defaults_are_listed_and_what_was_sent_is_not(catalogue):
    names = {one.name for one in assumed(read_speed_table(CAR, catalogue).quote())}
    assert {"battery health", "people in the car", "cabin temperature asked for"} <= names
    told = read_speed_table(CAR | {"cabin": {"occupants": 2}}, catalogue)
    assert "people in the car" not in {one.name for one in assumed(told.quote())}


def test_us_readers_get_round_miles_and_degrees(catalogue):
    speeds, temperatures, distances = GRIDS["us"]
    assert [speed / 1.609344 for speed in speeds] == pytest.approx([30, 50, 60, 70, 80])  # international mile
    assert [celsius * 1.8 + 32 for celsius in temperatures] == pytest.approx(list(range(0, 101, 10)))
    assert [distance / 1.609344 for distance in distances] == pytest.approx([3, 6, 12])
    question, _ = speed_table_from_form({"units": "us", "trip_speed": "30"}, catalogue).question
    assert question.speeds_m_s[0] == pytest.approx(30 * 0.44704)  # 1 mph, exact
    assert question.trip.speed_m_s == pytest.approx(30 * 0.44704)


def test_a_form_without_anything_asks_the_default_grid(catalogue):
    question, request = speed_table_from_form({}, catalogue).question
    assert tuple(request.speeds_km_h) == SPEEDS_KM_H
    assert tuple(request.temperatures_c) == TEMPERATURES_C
    assert question.ask.vehicle.id == next(iter(catalogue.vehicles))


def test_faults_of_a_form_stand_beside_their_inputs(catalogue):
    filled = speed_table_from_form({"units": "us", "trip_speed": "500", "wind": "x", "surface": "lava"}, catalogue)
    assert filled.question is None
    assert set(filled.errors) == {"trip_speed", "wind", "surface"}
    assert "500 mph is outside" in filled.errors["trip_speed"].message


@pytest.mark.parametrize("odd", [float("nan"), None, float("inf"), "lots", True])
def test_a_member_that_is_no_number_is_told_its_range_and_unit(catalogue, odd):
    found = faults(CAR | {"speeds_km_h": [odd], "temperatures_c": [odd], "trip": {"distances_km": [odd]}}, catalogue)
    assert {field: row.remedy for field, row in found.items()} == {
        "speeds_km_h[0]": "give 20 to 200 km/h",
        "temperatures_c[0]": "give -40 to 50 °C",
        "trip.distances_km[0]": "give 1 to 200 km",
    }
