"""The filled form: both systems of units, nothing typed is lost, faults beside the inputs."""

import dataclasses
import math

import pytest

from service.intake.form import FIELDS, ask_from_form, default_of, limits_of, unit_of
from service.reporting.form_layout import LAYOUT
from service.reporting.form_layouts import names_in
from service.specs import Ask, BodyAndTyres, CabinAir, Clock, Heating, Label, Outfit, RoadLoad

METRIC = {
    "units": "metric",
    "vehicle": "own",
    "own_mass": "1500",
    "own_road_load": "parts",
    "own_cd_a": "0,62",
    "own_crr": "0.009",
    "own_usable": "45",
    "own_heating": "heat_pump",
    "journey": "legs",
    "leg1_distance": "16.09344",
    "leg1_speed": "48.28032",
    "leg1_stops": "1",
    "leg1_grade": "2",
    "leg3_distance": "8.04672",
    "leg3_speed": "96.56064",
    "temperature": "-10",
    "wind": "16.09344",
    "altitude": "304.8",
    "set_point": "20",
    "payload": "45.359237",
}
US = METRIC | {  # the same by the exact mile, pound and foot
    "units": "us",
    "own_mass": "3306.933932773163",
    "leg1_distance": "10",
    "leg1_speed": "30",
    "leg1_stops": "1.609344",
    "leg3_distance": "5",
    "leg3_speed": "60",
    "temperature": "14",
    "wind": "10",
    "altitude": "1000",
    "set_point": "68",
    "payload": "100",
}


def numbers_of(ask: Ask) -> list:
    """Every leaf of the question, in order."""

    def leaves(node):
        if dataclasses.is_dataclass(node):
            node = [getattr(node, each.name) for each in dataclasses.fields(node)]
        if isinstance(node, list | tuple):
            return [leaf for each in node for leaf in leaves(each)]
        return [node]

    return leaves(ask)


def test_us_units_ask_the_same_question(catalogue):
    metric, us = ask_from_form(METRIC, catalogue), ask_from_form(US, catalogue)
    assert not metric.errors
    assert not us.errors
    assert metric.ask.weather.altitude_m == pytest.approx(304.8)
    for a, b in zip(numbers_of(metric.ask), numbers_of(us.ask), strict=True):
        assert a == (pytest.approx(b, rel=1e-9) if isinstance(b, float) else b)


def test_an_empty_form_asks_about_the_first_car(catalogue):
    result = ask_from_form({}, catalogue)
    assert result.ask.vehicle is next(iter(catalogue.vehicles.values()))
    assert result.ask.journey.cycle == "wltc_class3b"
    assert result.ask.weather.ambient_k == pytest.approx(293.15)
    assert result.ask.weather.wind_m_s is None
    assert set(result.values) == set(FIELDS)


def test_a_round_trip_comes_back_the_same_way(catalogue):
    there = ask_from_form(METRIC | {"round_trip": "no"}, catalogue).ask.journey.legs
    both = ask_from_form(METRIC, catalogue).ask.journey.legs
    assert both[:2] == there
    assert [leg.distance_m for leg in both[2:]] == [leg.distance_m for leg in reversed(there)]
    assert [leg.grade for leg in both[2:]] == [-leg.grade for leg in reversed(there)]
    assert there[0].grade == 0.02


def test_everything_typed_comes_back_when_something_is_wrong(catalogue):
    typed = US | {"temperature": "minus ten", "own_usable": "45 kWh", "leg3_speed": "200", "occupants": "1.5"}
    result = ask_from_form(typed, catalogue)
    assert result.ask is None
    assert {name: result.values[name] for name in typed} == typed
    assert set(result.errors) == {"temperature", "own_usable", "leg3_speed", "occupants"}
    for name, row in result.errors.items():
        assert (row.field, row.value) == (name, typed[name])


def test_faults_speak_the_units_of_the_reader(catalogue):
    row = ask_from_form({"units": "us", "temperature": "200"}, catalogue).errors["temperature"]
    assert row.message == "200 °F is outside -40 to 122 °F"
    row = ask_from_form({"units": "us", "journey": "legs", "leg1_distance": "3", "leg1_speed": "150"}, catalogue)
    assert row.errors["leg1_speed"].remedy == "give 3.107 to 124.2 mph"


@pytest.mark.parametrize(
    ("given", "missing"),
    [
        ({"vehicle": "own"}, {"own_consumption", "own_usable"}),
        ({"vehicle": "own", "own_range": "300"}, {"own_consumption"}),
        (
            {"vehicle": "own", "own_electric": "50"},
            {"own_consumption", "own_usable"},
        ),  # a battery-electric car has none
        ({"vehicle": "own", "own_kind": "phev", "own_electric": "50"}, {"own_consumption"}),
        ({"vehicle": "own", "own_usable": "60", "own_city": "15"}, {"own_highway"}),
        (
            {"vehicle": "own", "own_usable": "60", "own_label": "wltp", "own_consumption": "16", "own_low": "12"},
            {"own_medium", "own_high", "own_extra_high"},
        ),
        ({"vehicle": "own", "own_road_load": "parts"}, {"own_mass", "own_cd_a", "own_crr", "own_usable"}),
        ({"vehicle": "own", "own_road_load": "newton"}, {"own_mass", "own_f0", "own_f1", "own_f2", "own_usable"}),
        ({"vehicle": "own", "own_road_load": "pound_force"}, {"own_mass", "own_a", "own_b", "own_c", "own_usable"}),
        ({"circuit": "own"}, {"circuit_volts", "circuit_amps"}),
        ({"journey": "legs"}, {"leg1_distance", "leg1_speed"}),
        ({"journey": "legs", "leg2_distance": "5"}, {"leg2_speed"}),
    ],
)
def test_what_is_needed_and_empty_is_told_at_its_input(catalogue, given, missing):
    errors = ask_from_form(given, catalogue).errors
    assert set(errors) == missing
    assert all(row.message == "it is missing" and row.remedy.startswith("give ") for row in errors.values())


@pytest.mark.parametrize(
    ("name", "text", "remedy"),
    [
        ("vehicle", "rocket", "choose one of"),
        ("journey", "wltc", "wltc"),
        ("surface", "lava", "dry"),
        ("circuit", "nowhere", "choose one of"),
        ("soaked", "maybe", "choose yes or no"),
        ("round_trip", "maybe", "yes, no"),
        ("units", "imperial", "metric, us"),
        ("climate", "tropical", "auto, off"),
        ("procedure", "moon", "road, dynamometer"),
    ],
)
def test_a_choice_that_does_not_exist_is_told_at_its_input(catalogue, name, text, remedy):
    result = ask_from_form({name: text}, catalogue)
    assert result.ask is None
    assert remedy in result.errors[name].remedy
    assert result.errors[name].value == text


def test_faults_that_span_inputs_stand_at_the_one_to_mend(catalogue):
    push = {"vehicle": "own", "own_mass": "1500", "own_usable": "45", "own_road_load": "newton"}
    push |= {"own_f0": "10", "own_f1": "-3", "own_f2": "0.01"}
    assert set(ask_from_form(push, catalogue).errors) == {"own_f1"}
    burn = METRIC | {"own_kind": "bev", "own_heating": "engine"}
    assert set(ask_from_form(burn, catalogue).errors) == {"own_heating"}
    far = METRIC | {"leg1_distance": "900"}  # twice, there and back, is more than a day's driving
    assert set(ask_from_form(far, catalogue).errors) == {"leg1_distance"}


@pytest.mark.parametrize(
    ("shape", "given", "kind"),
    [
        ("label", {"own_label": "wltp", "own_consumption": "16,5"}, Label),
        ("parts", {"own_cd_a": "0.6", "own_crr": "0.01"}, BodyAndTyres),
        ("newton", {"own_f0": "100", "own_f1": "0,5", "own_f2": "0,03"}, RoadLoad),
        ("pound_force", {"own_a": "30", "own_b": "-0.1", "own_c": "0.02"}, RoadLoad),
    ],
)
def test_each_shape_of_road_load_can_be_typed(catalogue, shape, given, kind):
    form = {"vehicle": "own", "own_mass": "1500", "own_usable": "45", "own_road_load": shape, **given}
    result = ask_from_form(form, catalogue)
    assert not result.errors
    known = result.ask.vehicle.road_load or result.ask.vehicle.label
    assert isinstance(known, kind)
    assert result.ask.vehicle.heating is None


@pytest.mark.parametrize(("typed", "celsius"), [("3,5", 3.5), (" -7.25 ", -7.25), ("−4", -4), ("+2", 2), (".5", 0.5)])
def test_decimal_commas_and_signs_are_read(catalogue, typed, celsius):
    assert ask_from_form({"temperature": typed}, catalogue).ask.weather.ambient_k == pytest.approx(celsius + 273.15)


@pytest.mark.parametrize("typed", ["1e2", "nan", "inf", "1,000.5", "5 °C", "--5", "0x10", "1_0", "٣", "."])
def test_anything_else_is_no_number(catalogue, typed):
    assert "not a number" in ask_from_form({"temperature": typed}, catalogue).errors["temperature"].message


def test_switching_units_rewrites_the_numbers(catalogue):
    result = ask_from_form({"units": "us", "typed_units": "metric", "temperature": "-5", "wind": "windy"}, catalogue)
    assert (result.values["temperature"], result.values["wind"]) == ("23", "windy")
    assert result.values["typed_units"] == "us"
    again = ask_from_form({"units": "us", "typed_units": "us", "temperature": "23"}, catalogue)
    assert again.ask.weather.ambient_k == pytest.approx(268.15)


def test_own_heating_reaches_the_car(catalogue):
    assert ask_from_form(METRIC, catalogue).ask.vehicle.heating is Heating.HEAT_PUMP


def test_units_defaults_and_limits_are_there_for_the_page():
    assert (unit_of("leg1_stops", "us"), unit_of("own_mass", "us"), unit_of("vehicle", "us")) == (
        "stops per mile",
        "lb",
        "",
    )
    assert (default_of("temperature", "us"), default_of("own_mass", "us")) == ("68", "")
    assert limits_of("altitude", "us") == (-1410, 14760)  # −430 m = −1 410.76 ft, 4 500 m = 14 763.8 ft, inwards
    assert limits_of("vehicle", "us") is None


def test_a_us_label_is_typed_per_hundred_miles(catalogue):
    form = {"units": "us", "vehicle": "own", "own_mass": "4000", "own_usable": "60", "own_consumption": "28"}
    label = ask_from_form(form, catalogue).ask.vehicle.label
    assert label.consumption_j_m == pytest.approx(28 * 3.6e6 / 160_934.4)


def test_outfit_and_wind_come_through_the_form(catalogue):
    typed = {
        "units": "us", "journey": "legs", "leg1_distance": "10", "leg1_speed": "50", "round_trip": "yes",
        "wind": "20", "wind_from": "0", "winter_tyres": "yes", "tyre_class": "eu2021-d", "tyres_set_at": "68",
        "roof_box": "yes", "trailer": "1000", "body_load": "800", "doors": "1.609344",
    }  # fmt: skip
    ask = ask_from_form(typed, catalogue).ask
    outfit = ask.outfit
    assert (outfit.winter_tyres, outfit.roof_box, outfit.body_load_w) == (True, True, 800.0)
    assert outfit.tyre_class.id == "eu2021-d"
    assert outfit.tyres_set_k == pytest.approx(293.15)
    assert outfit.trailer.mass_kg == pytest.approx(453.6, abs=0.1)
    assert outfit.door_openings_per_m == pytest.approx(0.001)
    assert [leg.heading_rad for leg in ask.journey.legs] == pytest.approx([0.0, math.pi])
    assert ask.weather.wind_from_rad == 0.0


def test_an_outfit_left_empty_is_the_car_as_it_came(catalogue):
    ask = ask_from_form({}, catalogue).ask
    assert ask.outfit == Outfit()
    assert ask.weather.wind_from_rad is None


@pytest.mark.parametrize(
    ("name", "text"), [("trailer", "20"), ("doors", "-1"), ("tyre_class", "x"), ("wind_from", "7")]
)
def test_a_bad_outfit_is_said_beside_its_input(catalogue, name, text):
    result = ask_from_form({name: text}, catalogue)
    assert list(result.errors) == [name]
    assert result.errors[name].remedy


def test_air_and_seats(catalogue):
    plain = ask_from_form({}, catalogue).ask.cabin
    assert (plain.air, plain.seat_heat) == (CabinAir.AUTO, False)
    asked = ask_from_form({"cabin_air": "recirculate", "seat_heat": "yes"}, catalogue).ask.cabin
    assert (asked.air, asked.seat_heat) == (CabinAir.RECIRCULATE, True)
    errors = ask_from_form({"cabin_air": "open window"}, catalogue).errors
    assert errors["cabin_air"].remedy == "choose one of: auto, fresh, recirculate"


def test_the_clock_comes_through_whole_or_not_at_all(catalogue):
    ask = ask_from_form({"clock_month": "1", "clock_hour": "7,5", "clock_latitude": "52"}, catalogue).ask
    assert ask.weather.clock == Clock(1, 7.5, 52.0)
    partly = ask_from_form({"clock_month": "1"}, catalogue)
    assert set(partly.errors) == {"clock_hour", "clock_latitude"}


@pytest.mark.parametrize(
    ("name", "typed", "metric"),
    [
        ("own_mass", "4,200", 4200 * 0.45359237),
        ("payload", "1,000.5", 1000.5 * 0.45359237),
        ("altitude", "5,280", 1609.344),  # a mile of feet
        ("altitude", "5 280", 1609.344),
        ("temperature", "68,5", (68.5 - 32) / 1.8),
        ("own_cd_a", "0,625", 0.625),
    ],
)
def test_us_readers_type_thousands_with_commas(catalogue, name, typed, metric):
    result = ask_from_form(US | {name: typed}, catalogue)
    assert not result.errors
    vehicle, weather = result.request.vehicle.spec, result.request.weather
    read = {"own_mass": vehicle.mass_kg, "payload": result.request.payload_kg, "altitude": weather.altitude_m}
    read |= {"temperature": weather.temperature_c, "own_cd_a": vehicle.road_load.cd_a_m2}
    assert read[name] == pytest.approx(metric)


def test_metric_readers_type_thousands_with_spaces_and_fractions_with_commas(catalogue):
    for space in " \u00a0\u2009\u202f":
        assert ask_from_form(METRIC | {"own_mass": f"1{space}700"}, catalogue).request.vehicle.spec.mass_kg == 1700
    assert "1.7 kg is outside" in ask_from_form(METRIC | {"own_mass": "1,700"}, catalogue).errors["own_mass"].message


@pytest.mark.parametrize("typed", ["1.000,5", "1,00,000.5", "1,234.567,8", "12 34", "1  000", "0 700"])
def test_mixed_marks_are_no_number_for_us_readers(catalogue, typed):
    assert "not a number" in ask_from_form(US | {"altitude": typed}, catalogue).errors["altitude"].message


def test_a_switch_of_units_keeps_thousands(catalogue):
    to_metric = US | {"typed_units": "us", "units": "metric", "own_mass": "4,200", "body_load": "1,250"}
    values = ask_from_form(to_metric, catalogue).values
    assert (values["own_mass"], values["body_load"]) == ("1905", "1250")
    to_us = METRIC | {"typed_units": "metric", "units": "us", "own_usable": "45,125", "odometer": "200 000"}
    values = ask_from_form(to_us, catalogue).values
    assert (values["own_usable"], values["odometer"]) == ("45.125", "124300")  # 200 000 km / 1.609344 = 124 274 miles


LABELLED = {
    "units": "us", "vehicle": "own", "own_mass": "4,000", "own_usable": "60", "own_city": "24", "own_highway": "30",
}  # fmt: skip


@pytest.mark.parametrize("combined", ["", "27", "26.0"])  # 0.55 × 24 + 0.45 × 30 = 26.7
def test_a_combined_figure_may_stand_beside_city_and_highway(catalogue, combined):
    result = ask_from_form(LABELLED | {"own_consumption": combined}, catalogue)
    assert not result.errors
    assert result.ask.vehicle.label.consumption_j_m == pytest.approx(26.7 * 3.6e6 / 160_934.4)


@pytest.mark.parametrize("combined", ["40", "25.8", "27.6"])
def test_a_combined_figure_that_its_parts_contradict_is_refused(catalogue, combined):
    errors = ask_from_form(LABELLED | {"own_consumption": combined}, catalogue).errors
    assert list(errors) == ["own_consumption"]
    row = errors["own_consumption"]
    assert row.value == combined
    assert f"{combined} kWh/100 miles combined" in row.message
    assert "26.7 kWh/100 miles" in row.message
    assert "leave the combined figure empty" in row.remedy


def test_every_question_of_yes_or_no_on_the_page_is_read(catalogue):
    shown = [
        name for name in names_in(LAYOUT) if name in FIELDS and FIELDS[name].yes_no and not name.startswith("own_")
    ]
    assert {"in_sun", "soaked", "preconditioned", "defrost"} <= set(shown)
    given = {"vehicle": "compact-plug-in", **dict.fromkeys(shown, "maybe")}
    assert set(ask_from_form(given, catalogue).errors) == set(shown)
