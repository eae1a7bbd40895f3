"""The programs' side of a complaint."""

import json

import pytest

from service.quotes.answer import CAUSES

COMPLAINT = {
    "vehicle": {"id": "compact-plug-in"},
    "journey": {"legs": [{"distance_km": 10, "speed_km_h": 60, "stops_per_km": 0.5}]},
    "weather": {"temperature_c": 20, "surface": "dry"},
    "start": {"state_of_charge_pct": 100, "preconditioned": False},
    "cabin": {"climate": "auto", "set_point_c": 21},
    "parked": "outside",
    "payload_kg": 0,
    "tyre_pressure_kpa": 230,
    "odometer_km": 60000,
    "reported_km": 60,
    "complaint": "It used to do <more>.",
}
FAMILIES = {"constant_force", "speed_squared", "standing_load", "regeneration", "capacity"}
MARKS = {"standard", "common practice", "maker's figure", "from memory"}


@pytest.fixture
def complain(ask):
    def send(**changes):
        return ask("POST", "/api/complaints", json=COMPLAINT | changes)

    return send


def test_a_complaint_is_answered_with_the_contracts_names(complain):
    response = complain()
    assert response.status_code == 200
    answer = response.json()
    band = answer["expected_km"]
    assert band["p2_5"] < band["p10"] < band["p50"] < band["p90"] < band["p97_5"]
    assert answer["verdict"] == "outside"
    assert answer["percentile"] < 2.5
    assert answer["verdict_sentence"].startswith("60 km (37.3 mi) is less than expected")
    assert answer["complaint"] == "It used to do <more>."
    assert set(answer["expected_ledger_wh_per_km"]) == set(CAUSES)
    assert answer["measured_wh_per_km"] > sum(answer["expected_ledger_wh_per_km"].values())
    assert answer["expected_at_placard_km"] > band["p50"]
    assert answer["cautions"]
    assert answer["notes"]
    for each in answer["causes"]:
        assert each["family"] in FAMILIES
        assert each["limit_mark"] in MARKS
        assert all(each[name] for name in ("name", "typical", "test", "limit", "limit_source", "size_source"))
        assert each["km"] > 0
        assert each["wh_per_km"] > 0
        assert (each["needed"] is None) == (each["needed_size"] is None)
    brakes = next(each for each in answer["causes"] if each["cause"] == "dragging_brakes")
    assert brakes["needed"].endswith("N·m on each wheel")


def test_the_normal_distance_is_normal(complain):
    middle = complain().json()["expected_km"]["p50"]
    answer = complain(reported_km=middle).json()
    assert answer["verdict"] == "normal"
    assert 30 < answer["percentile"] < 70
    assert not any(each["decides"] for each in answer["missing"])


def test_what_is_missing_is_asked_for(ask, complain):
    low = complain().json()["expected_km"]["p2_5"]
    body = {name: COMPLAINT[name] for name in ("vehicle", "journey")} | {"reported_km": low}
    answer = ask("POST", "/api/complaints", json=body).json()
    assert answer["verdict"] == "insufficient"
    deciding = [each for each in answer["missing"] if each["decides"]]
    assert "weather.temperature_c" in {each["input"] for each in deciding}
    assert all(each["question"] in answer["verdict_sentence"] for each in deciding)
    assert all(each["narrows_km"] >= 0 and each["why"] for each in answer["missing"])


def test_half_a_drive_goes_about_half_as_far(complain):
    whole = complain().json()["expected_km"]["p50"]
    half = complain(end={"state_of_charge_pct": 50}).json()["expected_km"]["p50"]
    assert half == pytest.approx(0.5 * whole, rel=0.08)


def test_every_bad_field_is_named_at_once(complain):
    response = complain(
        vehicle={"id": "compact-plugin"},
        journey={"cycle": "uds"},
        weather={"temperature_c": 99},
        reported_km=-1,
        odometer_km="many",
        parked="shed",
    )
    assert response.status_code == 422
    rows = {row["field"]: row for row in response.json()["errors"]}
    assert set(rows) == {
        "vehicle.id",
        "journey.cycle",
        "weather.temperature_c",
        "reported_km",
        "odometer_km",
        "parked",
    }
    assert rows["vehicle.id"]["remedy"] == "did you mean 'compact-plug-in'?"


def test_half_a_character_is_a_fault_of_the_request(ask):
    body = json.dumps(COMPLAINT | {"complaint": "\ud800"})
    response = ask("POST", "/api/complaints", content=body, headers={"content-type": "application/json"})
    assert response.status_code == 422
    assert [row["field"] for row in response.json()["errors"]] == ["complaint"]


def test_an_empty_body_names_what_it_needs(ask):
    rows = ask("POST", "/api/complaints", json={}).json()["errors"]
    assert {row["field"] for row in rows} == {"vehicle", "reported_km"}


def test_the_description_covers_every_answer(ask):
    post = ask("GET", "/openapi.json").json()["paths"]["/api/complaints"]["post"]
    assert set(post["responses"]) == {"200", "400", "413", "415", "422", "503"}
