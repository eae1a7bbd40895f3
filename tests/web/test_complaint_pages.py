"""The complaint's page without a browser: what a query means, what is asked for, what is told."""

from datetime import date

import pytest

from service.catalogue import load_catalogue
from service.web.complaint_pages import START, page_of
from service.web.rendering import template_environment

TODAY = date(2026, 11, 25)


@pytest.fixture(scope="module")
def catalogue():
    return load_catalogue()


def typed(page):
    return {each.name: each for group in page.form.groups for block in group.blocks for each in block.inputs}


def test_an_empty_address_checks_the_starting_complaint(catalogue):
    page = page_of({}, catalogue, TODAY)
    assert page.status == 200
    assert page.answer.headline.startswith(
        f"Reported {START['reported']}\u00a0km; in these conditions 19 cars in 20 get"
    )
    assert page.answer.words == START["words"]


def test_us_readers_get_miles_and_psi(catalogue):
    page = page_of({"units": "us"}, catalogue, TODAY)
    assert page.answer.headline.startswith("Reported 19\u00a0mi;")
    assert typed(page)["tyre_pressure"].unit == "psi"
    condition = next(row.value for row in page.answer.question if row.name == "Condition")
    assert condition == "tyres at 31\u00a0psi, 39\u00a0000\u00a0mi on the odometer"


def test_a_carried_question_asks_for_the_distance_and_blames_nobody(catalogue):
    page = page_of({"typed_units": "metric", "vehicle": "compact-plug-in", "temperature": "3"}, catalogue, TODAY)
    assert page.asking
    assert page.status == 200
    assert page.form.faults == ()
    assert next(group for group in page.form.groups if group.id == "complaint").open
    assert {group.id: group.summary for group in page.form.groups}["car"] == "Compact plug-in hybrid"


def test_a_distance_left_empty_in_the_form_is_a_fault(catalogue):
    page = page_of({"typed_units": "metric", "vehicle": "compact-plug-in", "reported": ""}, catalogue, TODAY)
    assert page.status == 422
    assert [fault.target for fault in page.form.faults] == ["reported"]


def test_faults_stand_beside_their_inputs_and_nothing_typed_is_lost(catalogue):
    page = page_of({"reported": "far", "tyre_pressure": "2.2", "end_charge": "100", "words": "<b>"}, catalogue, TODAY)
    assert page.answer is None
    assert {"reported", "tyre_pressure"} <= {fault.target for fault in page.form.faults}
    assert typed(page)["reported"].value == "far"
    html = template_environment().get_template("complaint.html").render(page=page)
    assert "<b></textarea>" not in html


@pytest.mark.parametrize(("end", "told"), [("100", "less than 100"), ("-1", "outside 0 to 99")])
def test_a_charge_left_that_cannot_be_is_told_beside_its_input(catalogue, end, told):
    page = page_of({"end_charge": end}, catalogue, TODAY)
    assert [fault.target for fault in page.form.faults] == ["end_charge"]
    assert told in page.form.faults[0].text.replace("\u00a0", " ") or end == "100"


def test_what_is_left_open_is_asked_for(catalogue):
    open_ = page_of({"climate": "", "temperature": "", "odometer": "", "parked": ""}, catalogue, TODAY)
    known = page_of({}, catalogue, TODAY)
    assert len(open_.answer.missing) > len(known.answer.missing)
    assert any("cold or warm" in row.name for row in open_.answer.missing)
    day = {row.name: row.value for row in open_.answer.question}
    assert day["Day"].endswith("assumed")
    assert day["Cabin"].startswith("not known")


def test_a_complaint_of_any_length_is_kept_or_refused(catalogue):
    assert page_of({"words": "a" * 500}, catalogue, TODAY).status == 200
    refused = page_of({"words": "a" * 501}, catalogue, TODAY)
    assert [fault.target for fault in refused.form.faults] == ["words"]


def test_the_part_is_the_page_without_its_frame(ask):
    page, part = ask("GET", "/complaint"), ask("GET", "/complaint-part")
    assert page.status_code == part.status_code == 200
    assert "<html" not in part.text
    assert part.text.strip() in page.text


def test_every_car_and_every_cycle_has_a_finding(catalogue):
    for vehicle in catalogue.vehicles:
        page = page_of({"vehicle": vehicle, "journey": "udds", "reported": "60"}, catalogue, TODAY)
        assert page.status == 200, page.form.faults
