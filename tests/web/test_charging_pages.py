"""The page of a charging session without a browser: what a query means, what is told, what can be downloaded."""

from datetime import date

import pytest

from service.catalogue import load_catalogue
from service.web.charging_pages import page_of
from service.web.rendering import template_environment

TODAY = date(2026, 11, 25)
DIRECT = {"current_kind": "dc", "from_pct": "10", "temperature": "-5"}
AWKWARD = {
    "vehicle": "large-electric-suv",
    "circuit": "own",
    "circuit_volts": "230",
    "circuit_amps": "16",
    "circuit_phases": "3",
    "phases_live": "2",
    "pilot_amps": "10",
    "run_length": "60",
    "run_section": "1.5",
    "health": "70",
    "to_pct": "100",
}


@pytest.fixture(scope="module")
def catalogue():
    return load_catalogue()


def rendered(page):
    return template_environment().get_template("charging.html").render(page=page)


def inputs(page):
    blocks = [block for group in page.form.groups for block in group.blocks]
    return {each.name: each for block in blocks for each in block.inputs}


def test_an_empty_address_answers_for_the_starting_car(catalogue):
    page = page_of({}, catalogue, TODAY)
    assert page.status == 200
    assert page.answer.headline.startswith("Charging from 20 to 80\u00a0% takes 4\u00a0h")
    assert "own 7.4\u00a0kW charger sets the pace" in page.answer.second
    assert page.answer.clock_rows[0].name == "battery heated"
    assert (page.answer.fast, page.answer.warnings) == ("", ())
    html = rendered(page)
    assert html.count("<svg") == 6  # three drawings in two widths
    assert "licensed electrician" in html


def test_the_table_beside_the_curve_has_its_ends(catalogue):
    rows = page_of({}, catalogue, TODAY).answer.rows
    assert len(rows) <= 13
    assert rows[0][1] == "20\u00a0%"
    assert rows[-1][1:4] == ("80\u00a0%", "0.0", "0.0")


def test_the_hour_of_plugging_in_moves_the_clock_only(catalogue):
    evening, morning = (page_of({"plug_in_hour": hour}, catalogue, TODAY).answer for hour in ("22", "6"))
    assert "plugged in at 22:00" in evening.headline
    assert "the next day" in evening.headline
    assert "the next day" not in morning.headline
    assert evening.losses == morning.losses


def test_us_readers_get_their_units_and_their_circuit(catalogue):
    answer = page_of({"units": "us"}, catalogue, TODAY).answer
    told = {row.name: row.value for row in answer.question}
    assert told["Day"] == "23\u00a0°F outside, battery 23\u00a0°F"
    assert "240\u00a0V" in told["Socket"]
    assert "pm" in answer.headline
    switched = page_of(
        {"units": "us", "typed_units": "metric", "circuit": "eu-wall-unit-32a", "temperature": "-5"}, catalogue, TODAY
    )
    assert inputs(switched)["circuit"].value == "na-wall-unit-30a"
    assert inputs(switched)["temperature"].value == "23"


def test_a_station_tells_cold_against_preheated(catalogue):
    answer = page_of(DIRECT, catalogue, TODAY).answer
    assert "The battery sets the pace, not the 150\u00a0kW station" in answer.second
    assert "preheated to 25\u00a0°C" in answer.fast
    assert answer.total.name == "At the plug"
    warm = page_of(DIRECT | {"pack_temperature": "30"}, catalogue, TODAY).answer
    assert "warm enough" in warm.fast


def test_an_awkward_case_stands_on_its_own(catalogue):
    page = page_of(AWKWARD, catalogue, TODAY)
    told = " ".join(page.answer.warnings)
    for words in ("is worn", "is a fault", "Ask before it is raised", "not leave to use it"):
        assert words in told
    assert "Before you charge like this" in rendered(page)
    assert any("60 m of 1.5 mm²" in note for note in page.answer.notes)
    assert [row.name for row in page.answer.clock_rows][-2:] == ["full", "cells level"]


@pytest.mark.parametrize(
    ("typed", "name", "words"),
    [
        ({"from_pct": "90", "to_pct": "20"}, "from_pct", "not below the 20"),
        ({"pilot_amps": "60"}, "pilot_amps", "may carry for hours"),
        ({"pack_temperature": "99"}, "pack_temperature", "60\u00a0°C"),
        ({"units": "us", "pack_temperature": "200"}, "pack_temperature", "140\u00a0°F"),
        ({"temperature": "99"}, "temperature", "50\u00a0°C"),
        ({"health": "20"}, "health", "50 to 100"),
        ({"circuit": "own"}, "circuit_volts", "missing"),
        ({"run_length": "20"}, "run_length", "neither a section nor a gauge"),
        ({"current_kind": "dc", "station_amps": "1"}, "station_amps", "10 to 1500"),
        ({"phases_live": "2"}, "phases_live", "1 to 1"),
    ],
)
def test_faults_stand_at_their_inputs(catalogue, typed, name, words):
    page = page_of(typed, catalogue, TODAY)
    assert page.status == 422
    errors = {each.name: each.error for each in inputs(page).values() if each.error}
    if name == "run_length":  # the pair is at fault: told at the first of the two
        assert words in " ".join(errors.values())
    else:
        assert words in errors[name]


def test_figures_of_a_station_do_not_count_at_a_circuit(catalogue):
    assert page_of({"station_kw": "1"}, catalogue, TODAY).status == 200
    assert page_of({"run_section": "2.5"}, catalogue, TODAY).status == 200


def test_answer_and_curve_can_be_downloaded(ask):
    answer = ask("GET", "/charging.json?to_pct=90").json()
    assert answer["reached_pct"] == pytest.approx(90)
    reply = ask("GET", "/charging.csv")
    assert "charging-session.csv" in reply.headers["content-disposition"]
    assert reply.text.startswith("t_s,wall_kw,pack_kw,state_of_charge_pct,pack_temperature_c")
    bad = ask("GET", "/charging.csv?from_pct=99")
    assert bad.status_code == 422
    assert bad.json()["errors"][0]["field"] == "from_pct"
