"""Speed and weather as programs and people get it."""

from datetime import date

import pytest

from service.catalogue import load_catalogue
from service.web.rendering import template_environment
from service.web.speeds_pages import page_of

TODAY = date(2026, 11, 25)
QUESTION = {"vehicle": {"id": "compact-plug-in"}, "speeds_km_h": [80, 120], "temperatures_c": [-10, 20]}


@pytest.fixture(scope="module")
def catalogue():
    return load_catalogue()


def test_a_table_is_answered_with_the_contracts_names(ask):
    reply = ask("POST", "/api/speed-tables", json=QUESTION)
    assert reply.status_code == 200
    answer = reply.json()
    assert [(cell["temperature_c"], cell["speed_km_h"]) for cell in answer["range_km"]] == [
        (-10, 80), (-10, 120), (20, 80), (20, 120),
    ]  # fmt: skip
    for cell in answer["range_km"]:
        assert cell["range_km"]["p10"] <= cell["range_km"]["p50"] <= cell["range_km"]["p90"]
        assert cell["ended_by"] == "empty"
    assert answer["cannot_hold"] == []
    assert len(answer["short_trips"]) == 2 * 3
    assert len(answer["in_one_go"]) == 2
    assert {"wind", "battery health"} <= {one["name"] for one in answer["assumptions"]}
    assert "outside temperature" not in {one["name"] for one in answer["assumptions"]}


def test_a_cell_is_what_the_single_quote_says(ask):
    # of a car without an engine; one with an engine is told by what electricity alone does, as its notes say
    car = {"id": "small-electric-hatch"}
    cell = ask("POST", "/api/speed-tables", json=QUESTION | {"vehicle": car}).json()["range_km"][1]
    single = {
        "vehicle": car,
        "journey": {"legs": [{"distance_km": 50, "speed_km_h": 120}]},
        "weather": {"temperature_c": -10},
    }
    quote = ask("POST", "/api/quotes", json=single).json()
    assert quote["range_km"]["p50"] == cell["range_km"]["p50"]
    assert quote["to_empty"]["battery_wh_per_km"]["p50"] == cell["battery_wh_per_km"]


@pytest.mark.parametrize(("path", "headers"), [("?format=csv", {}), ("", {"accept": "text/csv"})])
def test_the_same_comes_as_csv(ask, path, headers):
    reply = ask("POST", f"/api/speed-tables{path}", json=QUESTION, headers=headers)
    assert reply.headers["content-type"].startswith("text/csv")
    assert reply.text.splitlines()[0].startswith("drive,speed_km_h,distance_km,temperature_c,range_km_p10")
    assert len(reply.text.splitlines()) == 1 + 4 + 6 + 2


def test_faults_are_told_all_at_once(ask):
    bad = {"vehicle": {"id": "nothing"}, "speeds_km_h": [1], "weather": {"temperature_c": 3}}
    reply = ask("POST", "/api/speed-tables", json=bad)
    assert reply.status_code == 422
    fields = {row["field"] for row in reply.json()["errors"]}
    assert fields == {"vehicle.id", "speeds_km_h[0]", "weather.temperature_c"}


def test_an_empty_address_answers_for_a_demo_car(catalogue):
    page = page_of({}, catalogue, TODAY)
    assert page.status == 200
    assert page.answer.headline.startswith("At 120\u00a0km/h and \u221210\u00a0°C this car goes ")
    assert len(page.answer.ranges) == 13


def test_us_readers_get_miles_and_fahrenheit(catalogue):
    page = page_of({"units": "us"}, catalogue, TODAY)
    assert page.answer.headline.startswith("At 70\u00a0mph and 10\u00a0°F this car goes ")
    assert [figure for figure, _ in page.answer.speeds] == ["30", "50", "60", "70", "80"]
    assert "a stop every mile" in page.answer.trip


def test_a_bad_entry_is_told_beside_its_input(catalogue):
    page = page_of({"typed_units": "metric", "units": "metric", "trip_speed": "900", "wind": "x"}, catalogue, TODAY)
    assert page.status == 422
    assert {fault.target for fault in page.form.faults} == {"trip_speed", "wind"}


def test_a_label_that_contradicts_the_rest_is_told_beside_it(catalogue):
    own = {"vehicle": "own", "own_mass": "1500", "own_usable": "40", "own_label": "wltp", "own_consumption": "90"}
    page = page_of(own, catalogue, TODAY)
    assert page.answer is None
    assert [fault.target for fault in page.form.faults] == ["own_consumption"]


def test_what_is_typed_cannot_become_markup(catalogue):
    own = {"vehicle": "own", "own_mass": "1500", "own_usable": "40", "own_road_load": "parts", "own_cd_a": "0.6"}
    page = page_of(own | {"own_crr": "0.009", "own_name": "<script>alert(1)</script>"}, catalogue, TODAY)
    assert page.status == 200
    html = template_environment().get_template("speeds.html").render(page=page)
    assert "<script>alert" not in html


def test_page_part_and_table_are_served(ask):
    assert "<html" in ask("GET", "/speeds").text
    part = ask("GET", "/speeds-part?climate=off")
    assert "<html" not in part.text
    assert "heating and cooling off" in part.text
    table = ask("GET", "/speeds.csv?units=us")
    assert table.headers["content-type"].startswith("text/csv")
    assert len(table.text.splitlines()) == 1 + 5 * 11 + 3 * 11 + 11
    assert ask("GET", "/speeds.csv?payload=-5").status_code == 422


def test_where_the_car_stood_is_carried_from_a_complaint(catalogue):
    told = {row.name: row.value for row in page_of({"parked": "warm"}, catalogue, TODAY).answer.question}
    assert "still warm" in told["Start"]
