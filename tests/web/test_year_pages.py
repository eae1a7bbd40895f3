"""The page of a year without a browser: links, the form, switches of units, what is refused."""

from datetime import date

import pytest

from service.catalogue import load_catalogue
from service.web.rendering import template_environment
from service.web.year_pages import START, START_US, page_of

TODAY = date(2026, 11, 25)


@pytest.fixture(scope="module")
def catalogue():
    return load_catalogue()


@pytest.fixture(scope="module")
def first(catalogue):
    return page_of({}, catalogue, TODAY)


def typed(page):
    return {each.name: each for group in page.form.groups for block in group.blocks for each in block.inputs}


def sent(page, **changes):
    """The form as it would be sent."""
    values = {name: each.value for name, each in typed(page).items()} | dict(page.form.hidden)
    return values | changes


def told(page):
    return {row.name: row.value.replace("\xa0", " ") for row in page.answer.question}


def test_an_empty_address_answers_the_starting_question(first):
    assert first.status == 200
    assert first.answer.headline.startswith("On about")
    assert len(first.answer.lines) == len(first.answer.table) == 12
    assert told(first)["Place"] == "Helsinki"
    assert typed(first)["electricity_price"].placeholder == "0.3"
    assert typed(first)["fuel_use"].placeholder == "6.5"
    assert typed(first)["leaves_home"].unit == ""


def test_the_form_sent_back_gives_the_same_answer(catalogue, first):
    again = page_of(sent(first), catalogue, TODAY)
    assert again.form.faults == ()
    assert again.answer.headline == first.answer.headline
    assert again.answer.total == first.answer.total


def test_a_switch_of_an_untouched_form_goes_to_where_the_other_readers_live(catalogue, first):
    us = page_of(sent(first, units="us"), catalogue, TODAY)
    assert told(us)["Place"] == "Minneapolis"
    assert told(us)["Prices"] == "0.17 USD a kWh, 3.40 USD a gallon"
    assert typed(us)["circuit"].value == START_US["circuit"]
    back = page_of(sent(us, units="metric"), catalogue, TODAY)
    assert told(back)["Place"] == "Helsinki"
    assert typed(back)["circuit"].value == START["circuit"]
    assert typed(back)["fuel_price"].value == ""


def test_a_switch_of_a_changed_form_keeps_the_place(catalogue, first):
    us = page_of(sent(first, units="us", place="oslo", fuel_price="2"), catalogue, TODAY)
    assert told(us)["Place"] == "Oslo"
    assert typed(us)["fuel_price"].value == "7.571"  # 2 a litre, 3.785412 l a gallon
    assert told(us)["Prices"] == "0.30 EUR a kWh, 7.57 EUR a gallon"


def test_a_link_from_another_page_brings_car_journey_and_circuit(catalogue):
    given = {"typed_units": "metric", "units": "metric", "vehicle": "small-electric-hatch", "journey": "legs"}
    given |= {"leg1_distance": "40", "leg1_speed": "90", "round_trip": "yes", "temperature": "-12", "parked": "garage"}
    page = page_of(given, catalogue, TODAY)
    assert page.status == 200
    assert told(page)["Car"] == "Small electric hatchback"
    assert told(page)["Journey"].startswith("40")
    assert told(page)["Night"].startswith("in an unheated garage")
    hidden = dict(page.form.hidden)
    assert hidden["temperature"] == "-12"
    assert hidden["round_trip"] == "yes"


def test_a_plug_at_work_is_named(catalogue, first):
    same = page_of(sent(first, work_charging="yes"), catalogue, TODAY)
    assert told(same)["Work"] == "charged, a circuit like that at home"
    other = page_of(sent(first, work_charging="yes", work_circuit="eu-three-phase-16a"), catalogue, TODAY)
    assert "Three-phase" in told(other)["Work"]


def test_every_fault_stands_beside_its_input(catalogue, first):
    page = page_of(sent(first, weeks="x", leaves_work="99", place="atlantis", grid="-1"), catalogue, TODAY)
    assert page.status == 422
    assert page.answer is None
    assert {fault.target for fault in page.form.faults} == {"weeks", "leaves_work", "place", "grid"}


def test_what_only_the_year_shows_stands_beside_its_input_too(catalogue, first):
    late = page_of(sent(first, leaves_work="7.5"), catalogue, TODAY)
    assert [fault.target for fault in late.form.faults] == ["leaves_work"]
    far = page_of(sent(first, leg2_distance="600"), catalogue, TODAY)
    assert [fault.target for fault in far.form.faults] == ["journey"]
    own = {"vehicle": "own", "own_kind": "hybrid", "own_mass": "1500", "own_usable": "1", "own_road_load": "parts"}
    plain = page_of(sent(first, **own, own_cd_a="0.6", own_crr="0.009"), catalogue, TODAY)
    assert [fault.target for fault in plain.form.faults] == ["own_kind"]
    assert "no plug" in plain.form.faults[0].text


def test_an_odd_hour_stands_in_its_list(catalogue, first):
    page = page_of(sent(first, leaves_home="6.75"), catalogue, TODAY)
    assert ("6.75", "06:45") in typed(page)["leaves_home"].choices
    assert "06:45" in told(page)["Days"]


def test_what_is_typed_cannot_become_markup(catalogue, first):
    evil = '<b>"x"'
    page = page_of(sent(first, currency=evil, lows="</textarea><script>"), catalogue, TODAY)
    html = template_environment().get_template("year.html").render(page=page)
    assert evil not in html
    assert "<script>" not in html.replace('<script type="module" src="/static/refresh.js"></script>', "")


def test_part_and_page_are_served(ask):
    assert ask("GET", "/year").status_code == 200
    part = ask("GET", "/year-part", params={"place": "atlantis"})
    assert part.status_code == 422
    assert "place-error" in part.text


@pytest.mark.parametrize(
    ("given", "electricity", "fuel"),
    [
        ({"place": "chicago"}, "0.17 USD a kWh", "0.898 USD a litre"),  # by the place, whatever the units
        ({"units": "us", "place": "tokyo"}, "0.30 EUR a kWh", "6.44 EUR a gallon"),  # 1.70 a litre, 3.785412 l a gallon
        ({"place": "helsinki", "currency": "$"}, "0.17 USD a kWh", "0.898 USD a litre"),
    ],
)
def test_prices_that_nobody_gave_are_usual_in_the_currency_or_at_the_place(catalogue, given, electricity, fuel):
    page = page_of(given, catalogue, TODAY)
    listed = {row.name: row.value.replace("\xa0", " ") for row in page.answer.assumptions}
    assert (listed["Price of electricity"], listed["Price of fuel"]) == (electricity, fuel)
    assert typed(page)["currency"].placeholder == electricity.split()[1]
    assert typed(page)["electricity_price"].placeholder == electricity.split()[0].rstrip("0")


def test_a_currency_whose_prices_are_not_known_asks_for_them(catalogue):
    page = page_of({"currency": "CHF", "place": "zurich"}, catalogue, TODAY)
    assert {fault.target for fault in page.form.faults} == {"electricity_price", "fuel_price"}
    assert page.form.faults[0].text.startswith("No usual price in CHF is known here; give it")
    priced = page_of({"currency": "CHF", "electricity_price": "0.27", "fuel_price": "1.8"}, catalogue, TODAY)
    assert told(priced)["Prices"] == "0.27 CHF a kWh, 1.80 CHF a litre"
    electric = {"currency": "CHF", "electricity_price": "0.27", "vehicle": "small-electric-hatch"}
    assert told(page_of(electric, catalogue, TODAY))["Prices"] == "0.27 CHF a kWh"
