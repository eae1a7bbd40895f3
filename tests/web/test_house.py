"""One house: a few pages, one set of words, and a question that travels between them."""

from datetime import date
from urllib.parse import parse_qs, parse_qsl, urlsplit

import pytest

from service.catalogue import load_catalogue
from service.reporting.form_layout import LAYOUT
from service.reporting.form_layouts import (
    CHARGING_LAYOUT,
    COMPLAINT_LAYOUT,
    ENVELOPE_LAYOUT,
    ROUTES_LAYOUT,
    SPEEDS_LAYOUT,
)
from service.reporting.year_layout import YEAR_LAYOUT
from service.web import charging_pages, complaint_pages, pages, routes_pages, speeds_pages, year_pages
from service.web.house import PAGES, carried, links_from, stowed

TODAY = date(2026, 11, 25)
PAGE_OF = {
    "/": pages.page_of,
    "/year": year_pages.page_of,
    "/routes": routes_pages.page_of,
    "/complaint": complaint_pages.page_of,
    "/speeds": speeds_pages.page_of,
    "/charging": charging_pages.page_of,
}
QUESTION = {
    "typed_units": "metric",
    "units": "metric",
    "vehicle": "small-electric-hatch",
    "journey": "legs",
    "round_trip": "no",
    "leg1_distance": "17",
    "leg1_speed": "55",
    "temperature": "-12",
    "soaked": "no",
    "odometer": "90000",
}


@pytest.fixture(scope="module")
def catalogue():
    return load_catalogue()


def labels(layout):
    return {each.name: each.label for _, blocks in layout for block in blocks for each in block.inputs}


def followed(page, path):
    """The query of the link to a path, as the next page gets it."""
    href = next(link.href for link in page.links if link.path == path)
    return dict(parse_qsl(urlsplit(href).query))


def followed_query(page, path):
    return next(link.href for link in page.links if link.path == path)


@pytest.mark.parametrize(
    "layout", [ROUTES_LAYOUT, COMPLAINT_LAYOUT, YEAR_LAYOUT, SPEEDS_LAYOUT, ENVELOPE_LAYOUT, CHARGING_LAYOUT]
)
def test_what_two_forms_ask_they_ask_in_the_same_words(layout):
    first, other = labels(LAYOUT), labels(layout)
    differing = {name for name in first.keys() & other.keys() if first[name] != other[name]}
    assert differing <= {"circuit", "health"}  # a depot's, and one that is measured


@pytest.mark.parametrize(
    "layout", [LAYOUT, ROUTES_LAYOUT, COMPLAINT_LAYOUT, YEAR_LAYOUT, SPEEDS_LAYOUT, ENVELOPE_LAYOUT, CHARGING_LAYOUT]
)
def test_no_form_has_an_input_twice(layout):
    names = [each.name for _, blocks in layout for block in blocks for each in block.inputs]
    assert len(set(names)) == len(names)


@pytest.mark.parametrize("here", PAGE_OF)
def test_every_page_links_to_all_in_the_same_words(catalogue, here):
    page = PAGE_OF[here]({}, catalogue, TODAY)
    assert [(link.path, link.words) for link in page.links] == list(PAGES)
    assert [link.path for link in page.links if link.here] == [here]


@pytest.mark.parametrize("here", PAGE_OF)
def test_a_question_typed_on_one_page_is_asked_by_the_others(catalogue, here):
    page = PAGE_OF[here](QUESTION, catalogue, TODAY)
    for there, page_of in PAGE_OF.items():
        arrived = page_of(followed(page, there), catalogue, TODAY)
        if arrived.answer is None:
            assert arrived.asking  # the complaint still wants the distance
            continue
        told = " ".join(f"{row.name} {row.value}" for row in arrived.answer.question)
        assert "Small electric hatchback" in told
        if there not in ("/year", "/speeds"):  # which bring their own months or temperatures, and carry the day on
            assert "\u221212" in told
        assert "temperature=-12" in followed_query(arrived, "/")


def test_where_the_car_was_parked_is_asked_in_two_ways_and_means_one_thing(catalogue):
    for soaked, parked in (("no", "warm"), ("yes", "outside")):
        there = complaint_pages.page_of(QUESTION | {"soaked": soaked, "reported": "90"}, catalogue, TODAY)
        typed = {
            each.name: each.value for group in there.form.groups for block in group.blocks for each in block.inputs
        }
        assert typed["parked"] == parked
        given = {name: text for name, text in QUESTION.items() if name != "soaked"}
        assert pages.read_question(given | {"parked": parked}, catalogue).values["soaked"] == soaked


@pytest.mark.parametrize("here", PAGE_OF)
def test_engine_and_prices_come_back_from_every_page(catalogue, here):
    said = {"drive_mode": "charge_hold", "defrost": "yes", "currency": "EUR", "fuel_price": "1.9", "reported": "40"}
    away = PAGE_OF[here](QUESTION | said | {"vehicle": "compact-plug-in"}, catalogue, TODAY)
    assert away.form.faults == ()
    sent = {each.name for group in away.form.groups for block in group.blocks for each in block.inputs}
    assert set(said) <= sent | {name for name, _ in away.form.hidden}
    home = pages.page_of(followed(away, "/"), catalogue, TODAY)
    told = {row.name: row.value.replace("\xa0", " ") for row in home.answer.question}
    assert (told["Engine"], told["Prices"]) == ("charge-hold mode, windscreen heat on", "1.90 EUR a litre")


def test_what_a_page_does_not_ask_is_kept_for_the_others():
    hidden = dict(stowed(QUESTION, labels(LAYOUT)))
    assert hidden == {"odometer": "90000"}


def test_a_link_carries_known_inputs_only():
    query = carried({"temperature": "5", "wind": "", "evil": "<script>", "table": "x"})
    assert parse_qs(query) == {"temperature": ["5"]}
    assert links_from("/", {})[3].href == "/charging"


def test_a_journey_that_nobody_knows_is_no_journey_elsewhere(catalogue):
    page = complaint_pages.page_of(QUESTION | {"journey": "unknown", "reported": "90"}, catalogue, TODAY)
    assert page.status == 200
    assert pages.page_of(followed(page, "/"), catalogue, TODAY).status == 200
