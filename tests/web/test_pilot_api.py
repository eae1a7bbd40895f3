"""The control pilot as programs ask it: SAE J1772 / IEC 61851-1 annex A."""

import pytest


# the printed table, both ways
@pytest.mark.parametrize(
    ("duty_pct", "amps"), [(10, 6), (50, 30), (53.3333, 32), (85, 51), (86, 55), (90, 65), (96, 80)]
)
def test_duty_and_current_are_each_others_answer(ask, duty_pct, amps):
    by_duty = ask("GET", f"/api/pilot?duty_pct={duty_pct}").json()
    by_amps = ask("GET", f"/api/pilot?amps={amps}").json()
    for answer in (by_duty, by_amps):
        assert answer["amps"] == pytest.approx(amps, abs=1e-3)
        assert answer["duty_pct"] == pytest.approx(duty_pct, abs=1e-3)
        assert answer["meaning"] == "current"
        assert "SAE J1772" in answer["source"]


@pytest.mark.parametrize(
    ("duty_pct", "meaning", "words"),
    [
        (0, "not_allowed", "must not charge"), (5, "digital", "digital communication"),
        (7.5, "error", "must not charge"), (99, "error", "must not charge"), (100, "off", "no charging"),
    ],
)  # fmt: skip
def test_a_duty_cycle_without_a_current_says_what_it_means(ask, duty_pct, meaning, words):
    answer = ask("GET", "/api/pilot", params={"duty_pct": duty_pct}).json()
    assert (answer["amps"], answer["meaning"]) == (None, meaning)
    assert words in answer["sentence"]


def test_a_current_in_the_step_gets_the_duty_cycle_below_it(ask):
    answer = ask("GET", "/api/pilot?amps=52").json()
    assert (answer["duty_pct"], answer["amps"]) == (85, 51)
    assert "no duty cycle says 52 A" in answer["sentence"]


@pytest.mark.parametrize(
    ("query", "field", "message", "remedy"),
    [
        ("", "duty_pct", "neither duty_pct nor amps", "exactly one"),
        ("duty_pct=50&amps=30", "duty_pct", "both duty_pct and amps", "exactly one"),
        ("duty_pct=101", "duty_pct", "101 % is outside 0 to 100 %", "0 to 100 %"),
        ("duty_pct=-1", "duty_pct", "-1 % is outside", "0 to 100 %"),
        ("duty_pct=half", "duty_pct", "'half' is not a number", "digits"),
        ("duty_pct=", "duty_pct", "'' is not a number", "digits"),
        ("amps=nan", "amps", "'nan' is not a number", "digits"),
        ("amps=1e999", "amps", "'1e999' is not a number", "digits"),
        ("amps=5.9", "amps", "5.9 A is outside what a pilot can say", "6 to 80 A"),
        ("amps=81", "amps", "81 A is outside", "6 to 80 A"),
        ("amps=16&volts=230", "volts", "no such field", "leave it out"),
    ],
)
def test_faults_name_their_field_and_a_way_out(ask, query, field, message, remedy):
    response = ask("GET", f"/api/pilot?{query}")
    assert response.status_code == 422
    (fault,) = response.json()["errors"]
    assert fault["field"] == field
    assert message in fault["message"]
    assert remedy in fault["remedy"]


def test_every_fault_is_told_at_once(ask):
    faults = ask("GET", "/api/pilot?duty_pct=x&amps=y").json()["errors"]
    assert [fault["field"] for fault in faults] == ["duty_pct", "amps"]
    assert [fault["value"] for fault in faults] == ["x", "y"]


def test_the_description_names_both_questions_and_every_field_of_the_answer(ask):
    described = ask("GET", "/openapi.json").json()
    get = described["paths"]["/api/pilot"]["get"]
    assert {each["name"]: each["required"] for each in get["parameters"]} == {"duty_pct": False, "amps": False}
    answer = described["components"]["schemas"]["PilotOut"]["properties"]
    assert {"duty_pct", "amps", "meaning", "sentence", "source", "cautions"} == set(answer)
    assert "422" in get["responses"]
