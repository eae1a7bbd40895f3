"""The electric side's page without a browser: what a query means, what is told."""

from datetime import date
from urllib.parse import parse_qsl, urlsplit

import pytest

from service.catalogue import load_catalogue
from service.web import pages
from service.web.envelope_pages import page_of
from service.web.rendering import template_environment

TODAY = date(2026, 11, 25)
OWN = {
    "vehicle": "own",
    "own_kind": "phev",
    "own_mass": "1500",
    "own_usable": "9",
    "own_road_load": "parts",
    "own_cd_a": "0.6",
    "own_crr": "0.009",
    "own_layout": "power_split",
    "own_sun": "30",
    "own_ring": "78",
    "own_final_drive": "3.27",
    "own_wheel_radius": "0.305",
    "own_generator_rpm": "10000",
    "temperature": "20",
}


@pytest.fixture(scope="module")
def catalogue():
    return load_catalogue()


def rendered(page):
    return template_environment().get_template("envelope.html").render(page=page)


def test_an_empty_address_answers_for_the_starting_car(catalogue):
    page = page_of({}, catalogue, TODAY)
    assert page.status == 200
    assert page.answer.headline == "On electricity alone this car holds 135\u00a0km/h on the level."
    assert "generator motor in its gear is at its highest speed" in page.answer.second
    assert page.answer.gear is not None
    assert [row.own for row in page.answer.packs].count(True) == 1
    assert "in neutral" in page.answer.cautions[0]


def test_us_readers_get_their_units(catalogue):
    answer = page_of({"units": "us"}, catalogue, TODAY).answer
    assert "84\u00a0mph" in answer.headline
    assert "lbf" in answer.columns[1]
    assert answer.packs[0].cells[1].endswith("lb")


def test_a_car_without_an_engine_has_no_gear(catalogue):
    page = page_of({"vehicle": "mid-electric-sedan"}, catalogue, TODAY)
    assert page.answer.headline.startswith("This car holds")
    assert page.answer.gear is None
    assert "The planetary gear" not in rendered(page)
    assert "garage" not in " ".join(page.answer.cautions)


def test_a_car_of_ones_own_brings_its_gear(catalogue):
    page = page_of(OWN, catalogue, TODAY)
    assert page.status == 200
    assert page.answer.gear.columns[2:] == ("engine still", *(f"engine at {k}\u00a0000" for k in (1, 2, 4)))
    assert "power split" in next(row.value for row in page.answer.question if row.name == "Car")


@pytest.mark.parametrize(
    ("changes", "target", "words"),
    [
        ({"own_ring": "28"}, "own_ring", "does not surround a sun of 30"),
        ({"own_sun": "3"}, "own_sun", "outside 10 to 100"),
        ({"own_generator_rpm": ""}, "own_generator_rpm", "It is missing"),
        ({"own_layout": "series"}, "own_sun", "no planetary gear"),
        ({"own_kind": "bev"}, "own_layout", "has no engine"),
    ],
)
def test_a_bad_gear_is_told_beside_its_input(catalogue, changes, target, words):
    page = page_of(OWN | changes, catalogue, TODAY)
    assert page.status == 422
    assert page.answer is None
    faults = {fault.target: fault.text for fault in page.form.faults}
    assert words in faults[target]
    assert f'id="{target}-error"' in rendered(page)


def test_a_typed_gear_is_kept_on_the_other_pages(catalogue):
    page = page_of(OWN | {"typed_units": "metric", "units": "metric"}, catalogue, TODAY)
    there = next(link.href for link in page.links if link.path == "/")
    carried = dict(parse_qsl(urlsplit(there).query))
    assert carried["own_ring"] == "78"
    first = pages.page_of(carried, catalogue, TODAY)
    assert first.status == 200
    assert dict(first.form.hidden)["own_ring"] == "78"


def test_every_page_leads_here_with_its_question(catalogue):
    page = pages.page_of({"temperature": "7"}, catalogue, TODAY)
    html = template_environment().get_template("page.html").render(page=page)
    assert 'href="/envelope?temperature=7" data-carry="/envelope"' in html
    bare = template_environment().get_template("page.html").render(page=pages.page_of({}, catalogue, TODAY))
    assert 'href="/envelope" data-carry="/envelope"' in bare


def test_curves_stand_beside_as_a_table(catalogue):
    answer = page_of({"temperature": "20"}, catalogue, TODAY).answer
    assert [row[0] for row in answer.rows][:3] == ["0\u00a0km/h", "20\u00a0km/h", "40\u00a0km/h"]
    html = rendered(page_of({"temperature": "20"}, catalogue, TODAY))
    assert html.count("<svg") == 4
    assert "<caption" in html


def test_pages_stay_small(ask):
    for query in ("", "?journey=us06&temperature=20", "?vehicle=large-electric-suv"):
        assert len(ask("GET", f"/envelope{query}").content) < 100_000
    assert ask("GET", "/envelope-part?temperature=x").status_code == 422
