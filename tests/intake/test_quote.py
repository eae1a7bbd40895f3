"""The contract's names arrive in SI, by definitions of the units."""

import math

import pytest
from pydantic import TypeAdapter

from service.errors import BadInputs
from service.intake.assumed import assumed
from service.intake.fields import LIMITS, Number, Whole
from service.intake.quote import QuoteRequest, read_ask, read_request
from service.specs import BodyAndTyres, CabinAir, Climate, Heating, Kind, MassBasis, Procedure, RoadLoad


def test_a_whole_question_arrives_in_si(catalogue, question):
    ask = read_ask(
        question(
            {
                "vehicle.spec.kind": "phev",
                "vehicle.spec.mass_basis": "running_order",
                "vehicle.spec.motor_kw": 80,
                "vehicle.spec.onboard_charger_kw": 3.7,
                "vehicle.spec.climate_system": {"heating": "engine"},
                "vehicle.spec.battery": {"usable_kwh": 10, "nominal_kwh": 12, "nominal_v": 350, "chemistry": "nmc"},
                "journey.legs[0].stops_per_km": 2,
                "journey.legs[0].grade_pct": -3,
                "procedure": "dynamometer",
                "weather": {"temperature_c": -5, "humidity_pct": 80, "wind_km_h": 18, "sun_w_m2": 0, "altitude_m": 500},
                "start": {
                    "state_of_charge_pct": 90,
                    "soaked": False,
                    "preconditioned": True,
                    "state_of_health_pct": 85,
                },
                "cabin": {"climate": "off", "set_point_c": 20, "occupants": 3, "air": "recirculate", "seat_heat": True},
                "circuit": {"volts": 230, "amps": 16, "phases": 3},
                "payload_kg": 120,
                "band": False,
            }
        ),
        catalogue,
    )
    car = ask.vehicle
    assert (car.kind, car.mass_kg, car.mass_basis) == (Kind.PHEV, 1500, MassBasis.RUNNING_ORDER)
    assert (car.motor_w, car.onboard_charger_w, car.heating) == (80e3, 3700, Heating.ENGINE)
    assert (car.battery.usable_j, car.battery.nominal_j) == (36e6, 43.2e6)  # 1 kWh = 3.6 MJ
    assert car.road_load == BodyAndTyres(0.62, 0.009)
    leg = ask.journey.legs[0]
    assert (leg.distance_m, leg.stops_per_m, leg.grade) == (10_000, 0.002, -0.03)
    assert leg.speed_m_s == pytest.approx(60 / 3.6)
    assert ask.procedure is Procedure.DYNAMOMETER
    assert ask.weather.ambient_k == pytest.approx(268.15)
    assert (ask.weather.relative_humidity, ask.weather.wind_m_s) == (0.8, pytest.approx(5))
    assert (ask.start.state_of_charge, ask.start.soaked, ask.start.state_of_health) == (0.9, False, 0.85)
    assert (ask.cabin.climate, ask.cabin.set_point_k, ask.cabin.occupants) == (Climate.OFF, pytest.approx(293.15), 3)
    assert (ask.cabin.air, ask.cabin.seat_heat) == (CabinAir.RECIRCULATE, True)
    assert (ask.circuit.volts, ask.circuit.continuous_a, ask.circuit.phases) == (230, 16, 3)
    assert (ask.payload_kg, ask.band) == (120, False)


def test_unknown_stays_unknown(catalogue, question):
    ask = read_ask(question({"weather.wind_km_h": None}), catalogue)
    assert ask.circuit is None
    assert (ask.weather.wind_m_s, ask.weather.relative_humidity, ask.weather.sun_w_m2) == (None, None, None)
    assert (ask.vehicle.motor_w, ask.vehicle.heating, ask.vehicle.battery.chemistry) == (None, None, None)


def test_coefficients_of_both_conventions_are_the_same_car(catalogue, question):
    # 1 lbf = 4.4482216 N, 1 mph = 1.609344 km/h (exact by definition)
    pounds = {"a_lbf": 30, "b_lbf_per_mph": 0.2, "c_lbf_per_mph2": 0.018}
    newtons = {
        "f0_n": 30 * 4.4482216,
        "f1_n_per_km_h": 0.2 * 4.4482216 / 1.609344,
        "f2_n_per_km_h2": 0.018 * 4.4482216 / 1.609344**2,
    }
    loads = [
        read_ask(question({"vehicle.spec.road_load": each}), catalogue).vehicle.road_load for each in (pounds, newtons)
    ]
    assert loads[0].f0_n == pytest.approx(loads[1].f0_n)
    assert loads[0].f1_n_s_m == pytest.approx(loads[1].f1_n_s_m)
    assert loads[0].f2_n_s2_m2 == pytest.approx(loads[1].f2_n_s2_m2)
    assert (loads[0].reference_pa, loads[1].reference_pa) == (98_210, 100_000)  # 40 CFR 1066.305; UN GTR 15 annex 4


def test_stated_references_are_kept(catalogue, question):
    load = {
        "f0_n": 100,
        "f1_n_per_km_h": 0.5,
        "f2_n_per_km_h2": 0.03,
        "reference_c": 23,
        "reference_kpa": 101.325,
        "reference_mass_kg": 1650,
    }
    made = read_ask(question({"vehicle.spec.road_load": load}), catalogue).vehicle.road_load
    assert isinstance(made, RoadLoad)
    assert made.reference_k == pytest.approx(296.15)
    assert (made.reference_pa, made.reference_mass_kg) == (pytest.approx(101_325), 1650)


def test_catalogue_entries_are_taken_by_id(catalogue, question):
    ask = read_ask(
        question(
            {"vehicle": {"id": "compact-plug-in"}, "journey": {"cycle": "udds"}, "circuit": {"id": "uk-wall-unit-32a"}}
        ),
        catalogue,
    )
    assert ask.vehicle is catalogue.vehicles["compact-plug-in"]
    assert ask.circuit is catalogue.circuits["uk-wall-unit-32a"]
    assert (ask.journey.cycle, ask.journey.legs) == ("udds", ())


@pytest.mark.parametrize(("name", "path"), [("temperature_c", "weather"), ("occupants", "cabin"), ("payload_kg", "")])
def test_both_ends_of_a_range_are_legal(catalogue, question, name, path):
    place = f"{path}.{name}" if path else name
    for end in (LIMITS[name].low, LIMITS[name].high):
        assert read_ask(question({place: end}), catalogue)


@pytest.mark.parametrize("value", [True, False, "1", None, [1], {}])
def test_numbers_are_numbers_only(value):
    for kind in (Number, Whole):
        with pytest.raises(ValueError, match="not a number"):
            TypeAdapter(kind).validate_python(value)


def test_a_whole_number_may_be_written_with_a_point():
    assert TypeAdapter(Whole).validate_json("2.0") == 2  # JSON knows one kind of number


def test_defaults_are_listed_and_given_values_are_not(catalogue, question):
    names = {each.name: each for each in assumed(read_request(question({"weather.temperature_c": 20}), catalogue))}
    assert "outside temperature" not in names  # given, though equal to the default
    assert (names["cabin temperature asked for"].value, names["cabin temperature asked for"].unit) == (21, "°C")
    assert (names["climate control"].value, names["what the mass includes"].value) == ("auto", "kerb")
    assert all(each.source for each in names.values())
    by_id = read_request({"vehicle": {"id": "compact-plug-in"}, "journey": {"cycle": "udds"}}, catalogue)
    assert not any(each.name == "what the mass includes" for each in assumed(by_id))


def test_a_question_cannot_be_changed_after_reading(catalogue, question):
    request = QuoteRequest.model_validate(question())
    with pytest.raises(ValueError, match="frozen"):
        request.payload_kg = 5


def test_a_label_stands_in_place_of_a_road_load(catalogue):
    body = {
        "vehicle": {
            "spec": {
                "kind": "bev",
                "mass_kg": 1700,
                "road_load": None,
                "label": {"procedure": "us", "consumption_kwh_per_100_km": 18},
                "battery": {"usable_kwh": 60},
            }
        },
        "journey": {"cycle": "udds"},
    }
    label = QuoteRequest.model_validate(body).ask(catalogue).vehicle.label
    assert label.consumption_j_m == pytest.approx(648)
    assert label.adjustment is None  # nobody said: 0.7 is assumed, listed and sampled


def test_a_plain_hybrid_has_no_label_at_the_socket(catalogue):
    spec = {"kind": "hybrid", "mass_kg": 1400, "label": {"procedure": "us", "consumption_kwh_per_100_km": 16}}
    body = {"vehicle": {"spec": spec | {"battery": {"usable_kwh": 0.8}}}, "journey": {"cycle": "udds"}}
    with pytest.raises(BadInputs) as refused:
        read_request(body, catalogue)
    (row,) = refused.value.rows()
    assert row.field == "vehicle.spec.label.consumption_kwh_per_100_km"
    assert row.value == 16


def test_an_outfit_arrives_in_si(catalogue):
    raw = {
        "vehicle": {"id": next(iter(catalogue.vehicles))},
        "journey": {"legs": [{"distance_km": 5, "speed_km_h": 50, "heading_deg": 90}]},
        "weather": {"wind_from_deg": 270},
        "outfit": {
            "tyres": {"label_class": "eu2021-b", "winter": True, "tyre_pressure_kpa": 210, "placard_pressure_kpa": 250},
            "trailer": {"laden_kg": 600, "added_cd_a_m2": 0.9},
            "door_openings_per_km": 2,
        },
    }
    ask = read_ask(raw, catalogue)
    assert ask.outfit.tyre_class.crr == 0.0071
    assert (ask.outfit.tyre_pa, ask.outfit.placard_pa) == (210e3, 250e3)
    assert (ask.outfit.trailer.mass_kg, ask.outfit.trailer.cd_a_m2) == (600, 0.9)
    assert ask.outfit.door_openings_per_m == 0.002
    assert ask.journey.legs[0].heading_rad == pytest.approx(math.pi / 2)
    assert ask.weather.wind_from_rad == pytest.approx(1.5 * math.pi)


@pytest.mark.parametrize(
    ("outfit", "field"),
    [
        ({"tyres": {"label_class": "z"}}, "outfit.tyres.label_class"),
        ({"tyres": {"tyre_pressure_kpa": 210, "set_at_c": 5}}, "outfit.tyres.set_at_c"),
        ({"trailer": {"laden_kg": 5}}, "outfit.trailer.laden_kg"),
        ({"trailer": {}}, "outfit.trailer.laden_kg"),
        ({"body_load_w": -1}, "outfit.body_load_w"),
        ({"box": True}, "outfit.box"),
    ],
)
def test_a_wrong_outfit_is_named(catalogue, outfit, field):
    raw = {"vehicle": {"id": next(iter(catalogue.vehicles))}, "journey": {"cycle": "udds"}, "outfit": outfit}
    with pytest.raises(BadInputs) as caught:
        read_ask(raw, catalogue)
    assert [row.field for row in caught.value.rows()] == [field]
