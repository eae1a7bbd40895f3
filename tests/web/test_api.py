"""The JSON side as programs see it."""

import re

import pytest

from service.quotes.answer import CAUSES

BAND = {"p10", "p50", "p90"}


def test_a_question_is_answered_with_the_contracts_names(ask, question):
    response = ask("POST", "/api/quotes", json=question)
    assert response.status_code == 200
    answer = response.json()
    assert {"range_km", "journey", "to_empty", "charging", "sensitivities", "assumptions", "notes"} <= set(answer)
    for band in (
        answer["range_km"],
        answer["journey"]["battery_wh_per_km"],
        answer["journey"]["wall_wh_per_km"],
        answer["journey"]["arrives_with_pct"],
        answer["to_empty"]["distance_km"],
        answer["charging"]["hours"],
        answer["charging"]["wall_kwh"],
    ):
        assert set(band) == BAND
        assert band["p10"] <= band["p50"] <= band["p90"]
    assert set(answer["journey"]["ledger_wh_per_km"]) == set(CAUSES)
    assert answer["journey"]["distance_km"] == pytest.approx(5, rel=0.01)
    assert 0 < answer["charging"]["efficiency"] < 1
    assert answer["charging"]["limited_by"] in {"onboard_charger", "circuit", "pack"}


def test_the_ledger_adds_up_to_the_draw(ask, question):
    answer = ask("POST", "/api/quotes", json=question | {"band": False}).json()
    for part in (answer["journey"], answer["to_empty"]):
        assert sum(part["ledger_wh_per_km"].values()) == pytest.approx(part["battery_wh_per_km"]["p50"], rel=1e-3)


def test_without_a_band_the_outer_values_are_null(ask, question):
    answer = ask("POST", "/api/quotes", json=question | {"band": False}).json()
    assert answer["range_km"]["p10"] is None
    assert answer["range_km"]["p90"] is None
    assert answer["range_km"]["p50"] > 0


def test_a_plain_hybrid_has_no_charging(ask, question):
    spec = {
        "kind": "hybrid",
        "mass_kg": 1400,
        "road_load": {"cd_a_m2": 0.6, "crr": 0.009},
        "battery": {"usable_kwh": 1.0},
    }
    response = ask("POST", "/api/quotes", json=question | {"vehicle": {"spec": spec}})
    assert response.status_code == 200
    assert response.json()["charging"] is None


def test_colder_goes_less_far(ask, question):
    ranges = [
        ask("POST", "/api/quotes", json=question | {"weather": {"temperature_c": c}, "band": False}).json()["range_km"]
        for c in (-15, 20)
    ]
    assert ranges[0]["p50"] < ranges[1]["p50"]


def test_defaults_are_among_the_assumptions(ask, question):
    names = [each["name"] for each in ask("POST", "/api/quotes", json=question).json()["assumptions"]]
    assert "cabin temperature asked for" in names
    assert "outside temperature" not in names  # it was given


@pytest.mark.parametrize(
    ("what", "more"),
    [
        ("vehicles", {"spec"}),
        ("cycles", {"distance_km", "duration_s"}),
        ("circuits", {"volts", "amps", "phases", "region"}),
        ("places", {"country", "coldest_c", "warmest_c"}),
    ],
)
def test_the_catalogue_is_listed_as_plain_arrays(ask, what, more):
    entries = ask("GET", f"/api/{what}").json()
    assert isinstance(entries, list)
    assert entries
    for entry in entries:
        assert {"id", "name", "kind"} | more <= set(entry)
    assert len({entry["id"] for entry in entries}) == len(entries)


def test_health_is_told(ask):
    assert ask("GET", "/healthz").json() == {"status": "ok"}


def test_the_description_covers_every_answer(ask):
    description = ask("GET", "/openapi.json").json()
    quotes = description["paths"]["/api/quotes"]["post"]
    assert set(quotes["responses"]) == {"200", "400", "413", "415", "422", "503"}
    for status in ("400", "413", "415", "422"):
        schema = quotes["responses"][status]["content"]["application/json"]["schema"]
        assert schema == {"$ref": "#/components/schemas/ErrorsOut"}
    assert "HTTPValidationError" not in description["components"]["schemas"]
    for example in quotes["requestBody"]["content"]["application/json"]["examples"].values():
        assert ask("POST", "/api/quotes", json=example["value"]).status_code == 200


def test_the_closing_sentence_speaks_the_readers_units(ask, question):
    def end(**more):
        return ask("POST", "/api/quotes", json=question | {"band": False} | more).json()["notes"][-1]

    assert re.search(r"^On electricity about \d+ km\..* L/100 km\.$", end())
    assert re.search(r"^On electricity about \d+ mi\..* mpg\.$", end(units="us"))
    assert " km" not in end(units="us")
    page = ask("GET", "/quote.json?units=us").json()["notes"][-1]
    assert re.search(r" mi\..* mpg\.$", page)
    refused = ask("POST", "/api/quotes", json=question | {"units": "nautical"})
    assert refused.json()["errors"][0]["field"] == "units"
