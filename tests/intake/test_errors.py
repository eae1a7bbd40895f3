"""Bad input by bad input: the field, the value as sent, and a way out that names the unit."""

import json
import math

import pytest

from service.errors import BadInputs
from service.intake.errors import Scale, dotted, plain_value, range_text
from service.intake.fields import LIMITS, Limit
from service.intake.quote import read_ask

LOAD = "vehicle.spec.road_load"
BAD = [  # where, what is sent, the value told, words of the message, words of the remedy
    ("weather.temperature_c", -41, -41, "-41 °C is outside -40 to 50 °C", "-40 to 50 °C"),
    ("weather.temperature_c", "cold", "cold", '"cold" is not a number', "-40 to 50 °C"),
    ("weather.humidity_pct", 101, 101, "101 % is outside", "0 to 100 %"),
    ("weather.wind_km_h", True, True, "true is not a number", "0 to 120 km/h"),
    ("weather.sun_w_m2", math.nan, "nan", "not a finite number", "0 to 1400 W/m²"),
    ("weather.altitude_m", math.inf, "inf", "not a finite number", "-430 to 4500 m"),
    ("weather.surface", "lava", "lava", "no entry 'lava'", "dry"),
    ("weather.sky", "blue", "blue", "no such field", "correct its name"),
    ("journey.legs[0].speed_km_h", 201, 201, "201 km/h is outside", "5 to 200 km/h"),
    ("journey.legs[1].distance_km", 0, 0, "0 km is outside", "0.01 to 1000 km"),
    ("journey.legs[1].stops_per_km", -1, -1, "-1 stops per km", "0 to 10 stops per km"),
    ("journey.legs[0].grade_pct", [3], [3], "[3] is not a number", "-15 to 15 %"),
    ("journey.legs", [], [], "there is none", "at least 1"),
    ("journey", {"cycle": "wltc_class3c"}, "wltc_class3c", "no entry", "'wltc_class3b'"),
    ("vehicle", {"id": "compact-plugin"}, "compact-plugin", "no entry", "'compact-plug-in'"),
    ("vehicle", {}, None, "neither of id and spec", "exactly one"),
    ("vehicle.spec.kind", "tank", "tank", "not one of the choices", "bev, phev, hybrid"),
    ("vehicle.spec.mass_kg", None, None, "missing", "300 to 7500 kg"),
    ("vehicle.spec.mass_kg", 10**400, None, "not a finite number", "300 to 7500 kg"),
    ("vehicle.spec.battery.usable_kwh", 0, 0, "0 kWh is outside", "0.3 to 300 kWh"),
    ("vehicle.spec.battery.nominal_kwh", 44, 44, "less than 45 kWh usable", "at least 45 kWh"),
    ("vehicle.spec.battery.chemistry", "lead", "lead", "no entry 'lead'", "nmc"),
    ("vehicle.spec.climate_system", {"heating": "engine"}, "engine", "no engine", "heat_pump, resistive"),
    (LOAD, {}, {}, "none of the three known shapes", "a_lbf, b_lbf_per_mph"),
    (LOAD, {"cd_a_m2": 0.6}, None, "missing", "0.003 to 0.04"),
    (
        LOAD,
        {"f0_n": 10, "f1_n_per_km_h": -3, "f2_n_per_km_h2": 0.01},
        -3,
        "push the car",
        "positive from 5 to 150 km/h",
    ),
    ("start.soaked", 1, 1, "neither true nor false", "true or false"),
    ("start.state_of_charge_pct", 0.5, 0.5, "0.5 % is outside", "1 to 100 %"),
    ("cabin.occupants", 1.5, 1.5, "not a whole number", "without a fraction"),
    ("cabin.climate", False, False, "not one of the choices", "auto, off"),
    ("circuit", {"volts": 230}, None, "missing", "amps together"),
    ("circuit", {"volts": 230, "amps": 16, "phases": 4}, 4, "4 phases is outside", "1 to 3 phases"),
    ("payload_kg", "1e3", "1e3", "not a number", "0 to 2000 kg"),
    ("procedure", "moon", "moon", "not one of the choices", "road, dynamometer"),
]
DEEPER = {  # where the fault is told when it lies inside of what was sent
    '{"cycle": "wltc_class3c"}': ".cycle",
    '{"id": "compact-plugin"}': ".id",
    '{"heating": "engine"}': ".heating",
    '{"cd_a_m2": 0.6}': ".crr",
    '{"f0_n": 10, "f1_n_per_km_h": -3, "f2_n_per_km_h2": 0.01}': ".f1_n_per_km_h",
    '{"volts": 230}': ".amps",
    '{"volts": 230, "amps": 16, "phases": 4}': ".phases",
}


@pytest.mark.parametrize(("path", "sent", "told", "message", "remedy"), BAD)
def test_a_bad_value_is_named_with_its_way_out(catalogue, question, path, sent, told, message, remedy):
    with pytest.raises(BadInputs) as caught:
        read_ask(question({path: sent}), catalogue)
    (row,) = caught.value.rows()
    assert row.field == path + (DEEPER.get(json.dumps(sent), "") if isinstance(sent, dict) else "")
    assert message in row.message
    assert remedy in row.remedy
    if sent != 10**400:  # its digits are cut
        assert row.value == told


def test_every_fault_is_told_at_once_unknown_ids_included(catalogue, question):
    bad = {
        "weather.temperature_c": 99,
        "weather.surface": "lava",
        "journey.legs[1].speed_km_h": 1,
        "vehicle.spec.mass_kg": "heavy",
        "vehicle.spec.battery.chemistry": "lead",
        "circuit.id": "nowhere",
        "band": "yes",
    }
    with pytest.raises(BadInputs) as caught:
        read_ask(question(bad), catalogue)
    assert {row.field for row in caught.value.rows()} == set(bad)


@pytest.mark.parametrize("whole", [None, [], "text", 3, True])
def test_a_body_that_is_no_object_is_told_as_such(catalogue, whole):
    with pytest.raises(BadInputs) as caught:
        read_ask(whole, catalogue)
    (row,) = caught.value.rows()
    assert row.field == "body"
    assert "object" in row.message


def test_legs_beyond_one_day_are_refused_together(catalogue, question):
    legs = [{"distance_km": 1000, "speed_km_h": 50}, {"distance_km": 501, "speed_km_h": 50}]
    with pytest.raises(BadInputs) as caught:
        read_ask(question({"journey.legs": legs}), catalogue)
    (row,) = caught.value.rows()
    assert (row.field, row.value) == ("journey.legs", 1501)
    assert "1500 km" in row.remedy


def test_a_mixture_of_road_loads_is_told_by_field_not_by_shape(catalogue, question):
    mixed = {"f0_n": 100, "f1_n_per_km_h": "x", "cd_a_m2": 0.6}
    with pytest.raises(BadInputs) as caught:
        read_ask(question({LOAD: mixed}), catalogue)
    assert {row.field for row in caught.value.rows()} == {
        f"{LOAD}.f1_n_per_km_h",
        f"{LOAD}.f2_n_per_km_h2",
        f"{LOAD}.cd_a_m2",
    }


@pytest.mark.parametrize(
    "value",
    [
        math.nan,
        -math.inf,
        10**500,
        "x" * 10_000,
        "half \ud800",
        b"\xff" * 999,
        {"deep": [math.nan]},
        object(),
        {1: {2}},
    ],
)
def test_a_value_given_back_is_short_and_plain_json(value):
    text = json.dumps(plain_value(value), allow_nan=False)
    assert len(text.encode()) < 1500


def test_paths_read_as_people_write_them():
    assert dotted(("body", "journey", "legs", 12, "grade_pct")) == "journey.legs[12].grade_pct"
    assert dotted(("vehicle", "spec", "road_load", "parts", "crr")) == "vehicle.spec.road_load.crr"
    assert dotted(("body",)) == "body"


def test_a_printed_range_is_never_wider_than_the_true_one():
    # 200 km/h = 124.274 mph: printing 124.3 would invite a value that is then refused
    assert range_text(Limit(5, 200, "km/h"), Scale("mph", lambda x: x / 1.609344)) == "3.107 to 124.2 mph"


@pytest.mark.parametrize("name", [name for name in LIMITS if name not in {"phases", "onboard_charger_phases"}])
def test_every_range_prints_its_unit(name):
    limit = LIMITS[name]
    assert limit.low < limit.high
    assert range_text(limit, Scale(limit.unit)).endswith(limit.unit)
