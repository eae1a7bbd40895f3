"""The page of routes compared without a browser: links, forms, tables, and what is refused."""

import csv
import io
import re
from datetime import date

import pytest

from service.catalogue import load_catalogue
from service.web.files import WORKBOOK
from service.web.rendering import template_environment
from service.web.routes_asked import CARRIED_ROUTE, ROWS_TOLD
from service.web.routes_pages import page_of
from tests.intake.workbooks import workbook

TODAY = date(2026, 11, 25)
HEAD = "route,distance_km,speed_km_h\n"
FORM = {
    "typed_units": "metric",
    "vehicles": "electric-delivery-van",
    "months_by": "temperatures",
    "cold": "-10",
    "table": HEAD + "North,40,60\nSouth,70,90\n",
}


@pytest.fixture(scope="module")
def catalogue():
    return load_catalogue()


def typed(page):
    return {each.name: each for group in page.form.groups for block in group.blocks for each in block.inputs}


def test_an_empty_address_compares_the_invented_routes(catalogue):
    page = page_of({}, catalogue, TODAY)
    assert page.status == 200
    assert {line.route for line in page.answer.lines} >= {"Town parcels", "Night post by motorway"}
    assert typed(page)["table"].value.startswith("route,trips_per_day,payload_kg,distance_km")
    assert len(page.answer.months) == 12


def test_the_table_shown_is_one_that_can_be_sent_back(catalogue):
    for units in ("metric", "us"):
        first = page_of({"units": units}, catalogue, TODAY)
        sent = {name: each.value for name, each in typed(first).items()} | {"typed_units": units}
        again = page_of(sent, catalogue, TODAY)
        assert again.form.faults == ()
        assert [line.margin for line in again.answer.lines] == [line.margin for line in first.answer.lines]


def test_a_link_may_hold_a_table_and_leave_the_rest_to_the_start(catalogue):
    page = page_of({"table": FORM["table"]}, catalogue, TODAY)
    assert page.form.faults == ()
    assert {line.route for line in page.answer.lines} == {"North", "South"}
    assert len(page.answer.months) == 12


def test_good_routes_are_compared_and_every_bad_row_is_told(catalogue):
    bad = HEAD + "North,40,60\nSouth,seventy,90\nEast,30,900\nEast,,\n"
    page = page_of(FORM | {"table": bad}, catalogue, TODAY)
    assert page.status == 200
    assert {line.route for line in page.answer.lines} == {"North"}
    rows = typed(page)["table"].rows
    assert any(row.startswith("row 3, distance_km:") for row in rows)
    assert any(row.startswith("row 4, speed_km_h:") for row in rows)
    assert "South, East are left out" in typed(page)["table"].error
    assert typed(page)["table"].value == bad
    assert [fault.target for fault in page.form.faults] == ["table"]


def test_a_table_without_a_good_route_has_no_answer(catalogue):
    page = page_of(FORM | {"table": "route\n"}, catalogue, TODAY)
    assert page.status == 422
    assert page.answer is None
    assert typed(page)["table"].rows


def test_a_long_report_is_cut_and_counted(catalogue):
    table = HEAD + "".join(f"R{number},x,60\n" for number in range(ROWS_TOLD + 7))
    rows = typed(page_of(FORM | {"table": table}, catalogue, TODAY))["table"].rows
    assert len(rows) == ROWS_TOLD + 1
    assert rows[-1] == "And 7 more."


def test_faults_beside_the_table_are_told_too(catalogue):
    given = FORM | {"cold": "-90", "vehicles": "", "reserve": "-1"}
    page = page_of(given, catalogue, TODAY)
    assert {fault.target for fault in page.form.faults} == {"cold", "vehicles", "reserve"}


def test_a_vehicle_of_ones_own_stands_beside_those_of_the_catalogue(catalogue):
    own = {"own_kind": "bev", "own_mass": "1500", "own_usable": "20", "own_road_load": "parts"}
    own |= {"own_cd_a": "0.65", "own_crr": "0.009", "own_name": "Pool car"}
    page = page_of(FORM | own | {"vehicles": "electric-delivery-van,own"}, catalogue, TODAY)
    assert {line.vehicle for line in page.answer.lines} == {"Electric delivery van", "Pool car"}
    faulty = page_of(FORM | own | {"vehicles": "own", "own_mass": "1"}, catalogue, TODAY)
    assert [fault.target for fault in faulty.form.faults] == ["own_mass"]


def test_a_carried_journey_is_a_route_on_a_carried_day(catalogue):
    given = {"typed_units": "metric", "units": "metric", "vehicle": "compact-plug-in", "temperature": "-12"}
    page = page_of(given | {"journey": "legs", "leg1_distance": "25", "leg1_speed": "70"}, catalogue, TODAY)
    assert {line.route for line in page.answer.lines} == {CARRIED_ROUTE}
    assert typed(page)["vehicles"].ticked == ("compact-plug-in",)
    assert typed(page)["cold"].value == "-12"
    assert "\u221212°" in {month.value for month in page.answer.months}


def test_what_is_typed_cannot_become_markup(catalogue):
    table = HEAD + '"<script>alert(1)</script>",40,60\n"</textarea>",x,y\n'
    page = page_of(FORM | {"table": table}, catalogue, TODAY)
    html = template_environment().get_template("routes.html").render(page=page)
    assert "<script>alert" not in html
    assert html.count("</textarea>") == 1


def test_ticks_and_table_arrive_from_a_form(ask):
    data = FORM | {"vehicles": ["electric-delivery-van", "small-electric-hatch"]}
    reply = ask("POST", "/routes", data=data)
    assert reply.status_code == 200
    assert "North" in reply.text
    assert "Small electric hatchback" in reply.text


def test_a_file_takes_the_place_of_what_was_typed(ask):
    file = {"file": ("routes.csv", (HEAD + "Harbour,12,40\n").encode("utf-8-sig"), "text/csv")}
    reply = ask("POST", "/routes", data=FORM, files=file)
    assert reply.status_code == 200
    assert "Harbour" in reply.text
    assert ">North<" not in reply.text


def test_a_workbook_is_shown_as_the_table_that_was_read(ask):
    rows = [("route", "distance_km", "speed_km_h"), (), ("Harbour", 12.5, 40), ("Hills", "far", 50)]
    reply = ask("POST", "/routes", data=FORM, files={"file": ("routes.xlsx", workbook(*rows), WORKBOOK)})
    assert reply.status_code == 200
    assert "route,distance_km,speed_km_h\n\nHarbour,12.5,40\nHills,far,50" in reply.text
    assert "row 4, distance_km" in reply.text.replace("\u00a0", " ")


def test_a_workbook_that_cannot_be_read_leaves_what_was_typed(ask):
    old = b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1" + b"\0" * 1000
    reply = ask("POST", "/routes", data=FORM, files={"file": ("routes.xls", old, WORKBOOK)})
    assert reply.status_code == 422
    fault = re.search(r'id="file-error">([^<]*)', reply.text)[1].replace("\u00a0", " ")
    assert "save it as .xlsx or CSV" in fault
    assert "North,40,60" in reply.text


def test_all_cells_come_as_csv(ask):
    reply = ask("POST", "/routes.csv", data=FORM)
    assert reply.headers["content-type"].startswith("text/csv")
    assert "attachment" in reply.headers["content-disposition"]
    rows = list(csv.DictReader(io.StringIO(reply.text)))
    assert {(row["route"], row["month"]) for row in rows} == {
        (route, day) for route in ("North", "South") for day in ("cold weather", "mild weather", "hot weather")
    }


def test_no_csv_hides_a_fault(ask):
    reply = ask("POST", "/routes.csv", data=FORM | {"reserve": "far"})
    assert reply.status_code == 422
    assert "reserve-error" in reply.text


def test_forms_of_other_sites_and_huge_ones_are_refused(ask):
    assert ask("POST", "/routes", data=FORM, headers={"sec-fetch-site": "cross-site"}).status_code == 403
    assert ask("POST", "/routes", data=FORM, headers={"sec-fetch-site": "same-origin"}).status_code == 200
    assert ask("POST", "/routes", content=b"a=" + b"x" * (3 * 1024 * 1024)).status_code == 413


@pytest.mark.parametrize("body", [b"", b"\xff\xfe", b"--nothing"])
def test_a_body_that_is_no_form_is_answered_in_the_one_shape_or_with_the_start(ask, body):
    reply = ask("POST", "/routes", content=body, headers={"content-type": "multipart/form-data; boundary=x"})
    assert reply.status_code in (200, 400)


def test_the_page_stays_light_with_many_lines(ask):
    routes = HEAD + "".join(f"Route number {number},{20 + number},70\n" for number in range(50))
    vehicles = ["electric-delivery-van", "small-electric-hatch", "compact-plug-in", "family-suv-plug-in"]
    reply = ask(
        "POST", "/routes", data=FORM | {"table": routes, "vehicles": vehicles, "months_by": "place", "place": "oslo"}
    )
    assert reply.status_code == 200
    assert len(reply.content) <= 90_000  # style sheet and script take 20 kB more
    assert "more lines are in the table as CSV" in reply.text
