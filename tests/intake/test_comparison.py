"""A comparison arrives in SI, and everything wrong with it is told at once, each at its place."""

from copy import deepcopy

import pytest

from service.errors import BadInputs
from service.fleet.compare import compare
from service.intake.comparison import (
    MOST_MONTHS,
    MOST_ROUTES,
    MOST_VEHICLES,
    ComparisonRequest,
    read_comparison,
    with_defaults,
)

SPEC = {"kind": "bev", "mass_kg": 1500, "road_load": {"cd_a_m2": 0.62, "crr": 0.009}, "battery": {"usable_kwh": 45}}
WHOLE = {
    "vehicles": [{"id": "electric-delivery-van"}, {"spec": SPEC | {"name": "our hatch"}}],
    "routes": [
        {
            "name": "A",
            "journey": {"legs": [{"distance_km": 10, "speed_km_h": 60}]},
            "trips_per_day": 3,
            "payload_kg": 90,
        },
        {"name": "B", "journey": {"cycle": "udds"}},
    ],
    "months": [{"name": "January", "temperature_c": -5, "wind_km_h": 18}, {"name": "July", "temperature_c": 25}],
    "reserve_km": 20,
}


@pytest.fixture
def whole():
    return deepcopy(WHOLE)


def fields(raw, catalogue):
    with pytest.raises(BadInputs) as caught:
        read_comparison(raw, catalogue)
    return [row.field for row in caught.value.rows()]


def test_a_whole_comparison_arrives_in_si(catalogue, whole):
    whole |= {
        "circuit": {"id": "eu-household-10a"},
        "surface": "wet",
        "charge_at_depot_between_trips": True,
        "start": {"state_of_health_pct": 90},
        "cabin": {"set_point_c": 20},
    }
    whole["months"][1]["surface"] = "dry"
    ask = read_comparison(whole, catalogue)
    assert ask.vehicles[0] is catalogue.vehicles["electric-delivery-van"]
    assert (ask.vehicles[1].id, ask.vehicles[1].name) == ("own", "our hatch")
    assert (ask.routes[0].trips_per_day, ask.routes[0].payload_kg, ask.routes[0].journey.legs[0].distance_m) == (
        3, 90, 10_000,
    )  # fmt: skip
    assert (ask.routes[1].journey.cycle, ask.routes[1].trips_per_day) == ("udds", 1)
    assert ask.months[0].weather.ambient_k == pytest.approx(268.15)
    assert ask.months[0].weather.wind_m_s == pytest.approx(5)
    assert ask.months[0].weather.relative_humidity is None
    assert [month.weather.surface for month in ask.months] == ["wet", "dry"]
    assert (ask.reserve_m, ask.between_trips, ask.start.state_of_health) == (20_000, True, 0.9)
    assert ask.circuit is catalogue.circuits["eu-household-10a"]
    assert ask.cabin.set_point_k == pytest.approx(293.15)


def test_a_place_gives_twelve_months(catalogue, whole):
    del whole["months"]
    ask = read_comparison(whole | {"place": "oslo", "surface": "snow"}, catalogue)
    assert len(ask.months) == 12
    assert ask.place is catalogue.places["oslo"]
    assert {month.weather.surface for month in ask.months} == {"snow"}


def test_every_fault_is_told_at_its_place(catalogue, whole):
    whole["vehicles"][0]["id"] = "van"
    whole["vehicles"][1]["spec"]["mass_kg"] = 3
    whole["vehicles"][1]["spec"]["body"] = "huge"
    whole["routes"][0]["journey"]["legs"][0]["speed_km_h"] = 400
    whole["routes"][0]["trips_per_day"] = 2.5
    whole["routes"][1] = {"name": "A", "journey": {"cycle": "none"}, "payload_kg": -1}
    whole["months"][0]["surface"] = "ice"
    whole["months"][1] = {"name": "January"}
    whole |= {"reserve_km": "far", "surface": "mud", "circuit": {"id": "plug"}, "depot": 1}
    assert set(fields(whole, catalogue)) == {
        "vehicles[0].id",
        "vehicles[1].spec.mass_kg",
        "vehicles[1].spec.body",
        "routes[0].journey.legs[0].speed_km_h",
        "routes[0].trips_per_day",
        "routes[1].journey.cycle",
        "routes[1].payload_kg",
        "routes[1].name",
        "months[0].surface",
        "months[1].temperature_c",
        "months[1].name",
        "reserve_km",
        "surface",
        "circuit.id",
        "depot",
    }


@pytest.mark.parametrize("both", [{}, {"place": "oslo", "months": WHOLE["months"]}])
def test_place_or_months(catalogue, whole, both):
    del whole["months"]
    assert fields(whole | both, catalogue) == ["months"]


def test_an_unknown_place_is_told(catalogue, whole):
    del whole["months"]
    assert fields(whole | {"place": "atlantis"}, catalogue) == ["place"]


@pytest.mark.parametrize("raw", [None, [], "x", {}])
def test_what_is_no_comparison_is_told(catalogue, raw):
    assert fields(raw, catalogue)


def test_vehicles_of_one_name_are_told(catalogue, whole):
    whole["vehicles"] = [
        {"spec": SPEC},
        {"id": "electric-delivery-van"},
        {"spec": SPEC},
        {"id": "electric-delivery-van"},
    ]
    assert fields(whole, catalogue) == ["vehicles[2].spec.name", "vehicles[3].id"]


@pytest.mark.parametrize(
    ("part", "most"), [("vehicles", MOST_VEHICLES), ("routes", MOST_ROUTES), ("months", MOST_MONTHS)]
)
def test_each_list_is_bounded(catalogue, whole, part, most):
    one = whole[part][1]

    def called(name):
        return {"spec": SPEC | {"name": name}} if part == "vehicles" else one | {"name": name}

    whole[part] = [called(f"no. {k}") for k in range(most)]
    assert len(getattr(read_comparison(whole, catalogue), part)) == most
    whole[part].append(called("one too many"))
    assert fields(whole, catalogue) == [part]
    assert fields(whole | {part: []}, catalogue) == [part]


def test_defaults_are_listed_before_what_the_comparison_assumes(catalogue, whole):
    request = ComparisonRequest.model_validate(whole | {"cabin": {"set_point_c": 20}})
    names = [each.name for each in with_defaults(compare(request.ask(catalogue), catalogue), request).assumptions]
    assert names[0] == "charge at the start"
    assert "cabin temperature asked for" not in names
    assert {"wind", "relative humidity", "sunshine on level ground", "trips of a day"} <= set(names)
    assert "temperature of a month" not in names  # it was given
    assert len(names) == len(set(names))
