"""Routes compared as programs see them."""

import csv
import io

import pytest

from service.intake.routes_csv import LARGEST_TABLE
from service.web.files import WORKBOOK

TABLE = {"content-type": "text/csv"}
CELL = {
    "vehicle", "route", "month", "verdict", "margin_km", "reason", "needed_km", "range_km", "low_km", "wh_per_km",
    "charging_hours", "wall_kwh",
}  # fmt: skip
QUESTION = {
    "vehicles": [{"id": "electric-delivery-van"}, {"id": "compact-plug-in"}],
    "routes": [
        {"name": "town", "journey": {"legs": [{"distance_km": 15, "speed_km_h": 40, "stops_per_km": 1}]}},
        {"name": "=long", "journey": {"legs": [{"distance_km": 60, "speed_km_h": 80}]}, "trips_per_day": 4},
    ],
    "months": [{"name": "January", "temperature_c": -5}, {"name": "July", "temperature_c": 24}],
    "reserve_km": 10,
    "circuit": {"id": "eu-household-10a"},
}


@pytest.fixture(scope="module")
def answer(ask):
    response = ask("POST", "/api/comparisons", json=QUESTION)
    assert response.status_code == 200
    return response.json()


def test_a_comparison_is_answered_with_the_contracts_names(answer):
    assert len(answer["cells"]) == 2 * 2 * 2
    for cell in answer["cells"]:
        assert set(cell) >= CELL
        assert cell["verdict"] in {"pass", "margin", "fail"}
        assert cell["margin_km"] == pytest.approx(cell["range_km"] - cell["needed_km"], abs=0.02)
        assert cell["low_km"] <= cell["range_km"]
        assert cell["reason"].endswith(".")
        assert "\u00a0" not in cell["reason"]
    assert {round(cell["needed_km"]) for cell in answer["cells"]} == {25, 250}
    assert [month["month"] for month in answer["months"]] == ["January", "July"]
    assert all(each["circuit"]["id"] == "eu-household-10a" for each in answer["vehicles"])
    assert {each["name"] for each in answer["assumptions"]} >= {"wind", "trips of a day", "climate control"}


def test_lines_are_sorted_by_shortfall(answer):
    lines = answer["routes"]
    rank = {"fail": 0, "margin": 1, "pass": 2}
    keys = [(rank[line["verdict"]], line["margin_km"]) for line in lines]
    assert keys == sorted(keys)
    assert lines[0]["vehicle"] == "compact-plug-in"  # 8.8 kWh do not drive 240 km
    assert lines[0]["fail_months"] == ["January", "July"]
    assert lines[0]["reason"].startswith("It uses fuel")
    for line in lines:
        assert (line["shortfall_km"] > 0) == (line["verdict"] != "pass")


def test_ranges_are_those_of_the_single_quotes(ask, answer):
    # of a car without an engine; one with an engine is compared by what electricity alone does, as its notes say
    for cell in (each for each in answer["cells"] if each["vehicle"] == "electric-delivery-van"):
        route = next(each for each in QUESTION["routes"] if each["name"] == cell["route"])
        month = next(each for each in QUESTION["months"] if each["name"] == cell["month"])
        quote = ask(
            "POST",
            "/api/quotes",
            json={
                "vehicle": {"id": cell["vehicle"]},
                "journey": route["journey"],
                "weather": {"temperature_c": month["temperature_c"]},
                "circuit": QUESTION["circuit"],
                "band": False,
            },
        ).json()
        assert cell["range_km"] == quote["range_km"]["p50"]


@pytest.mark.parametrize("way", [{"params": {"format": "csv"}}, {"headers": {"accept": "text/csv"}}])
def test_a_table_holds_the_same_cells_and_no_formula(ask, answer, way):
    response = ask("POST", "/api/comparisons", json=QUESTION, **way)
    assert response.headers["content-type"] == "text/csv; charset=utf-8"
    assert "attachment" in response.headers["content-disposition"]
    rows = list(csv.DictReader(io.StringIO(response.text)))
    assert len(rows) == len(answer["cells"])
    for row, cell in zip(rows, answer["cells"], strict=True):
        assert row["route"] == {"town": "town", "=long": "'=long"}[cell["route"]]
        for name in ("margin_km", "needed_km", "range_km", "low_km", "wh_per_km", "charging_hours", "wall_kwh"):
            assert float(row[name]) == cell[name]
        assert (row["verdict"], row["month"], row["reason"]) == (cell["verdict"], cell["month"], cell["reason"])


def test_json_may_be_asked_for_by_name(ask):
    response = ask("POST", "/api/comparisons?format=json", json=QUESTION, headers={"accept": "text/csv"})
    assert response.json()["cells"]
    (row,) = ask("POST", "/api/comparisons?format=xml", json=QUESTION).json()["errors"]
    assert row["field"] == "query.format"


def test_faults_in_lists_are_told_together(ask):
    bad = QUESTION | {
        "vehicles": [{"id": "van"}],
        "routes": [{"name": "a", "journey": {"legs": [{"distance_km": 1, "speed_km_h": 900}]}}],
    }
    response = ask("POST", "/api/comparisons", json=bad)
    assert response.status_code == 422
    assert {row["field"] for row in response.json()["errors"]} == {
        "vehicles[0].id", "routes[0].journey.legs[0].speed_km_h",
    }  # fmt: skip


@pytest.mark.parametrize(("body", "status"), [(b"{", 400), (b"null", 422), (b"[]", 422)])
def test_bodies_that_are_no_comparison(ask, body, status):
    response = ask("POST", "/api/comparisons", content=body, headers={"content-type": "application/json"})
    assert response.status_code == status
    assert response.json()["errors"][0]["field"] == "body"


def test_other_types_are_refused(ask):
    assert ask("POST", "/api/comparisons", content=b"{}", headers=TABLE).status_code == 415


def test_routes_of_a_table_can_be_compared_as_they_come(ask):
    text = "route;trips_per_day;distance_km;speed_km_h\nZürich;2;12,5;50\nbad;1;x;50\n".encode("latin-1")
    response = ask(
        "POST", "/api/comparisons/routes", content=text, headers={"content-type": "text/csv; charset=latin-1"}
    )
    assert response.status_code == 200
    found = response.json()
    assert [row["field"] for row in found["errors"]] == ["row 3, distance_km"]
    assert found["left_out"] == ["bad"]
    compared = ask("POST", "/api/comparisons", json=QUESTION | {"routes": found["routes"]})
    assert {cell["route"] for cell in compared.json()["cells"]} == {"Zürich"}


@pytest.mark.parametrize(
    ("content", "headers", "status", "field"),
    [
        (b"", TABLE, 422, "table"),
        (b"route,distance_km\nA,1\n", TABLE, 422, "row 1, speed_km_h"),
        (b"x" * (LARGEST_TABLE + 1), TABLE, 413, "body"),
        (b"route", {"content-type": "application/json"}, 415, "header.content-type"),
        (b"route", {}, 415, "header.content-type"),
    ],
)
def test_what_is_no_table_is_told(ask, content, headers, status, field):
    response = ask("POST", "/api/comparisons/routes", content=content, headers=headers)
    assert response.status_code == status
    assert response.json()["errors"][0]["field"] == field


def test_the_description_covers_both(ask):
    description = ask("GET", "/openapi.json").json()
    compared = description["paths"]["/api/comparisons"]["post"]
    assert set(compared["responses"]) == {"200", "400", "413", "415", "422", "503"}
    assert set(compared["responses"]["200"]["content"]) == {"application/json", "text/csv", WORKBOOK}
    assert "text/csv" in description["paths"]["/api/comparisons/routes"]["post"]["requestBody"]["content"]
    for example in compared["requestBody"]["content"]["application/json"]["examples"].values():
        assert ask("POST", "/api/comparisons", json=example["value"]).status_code == 200
    assert "HTTPValidationError" not in description["components"]["schemas"]
