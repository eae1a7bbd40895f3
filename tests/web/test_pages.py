"""The page without a browser: what a query string means, and what stands in the reply."""

from datetime import date

import pytest

from service.catalogue import load_catalogue
from service.specs import DriveMode
from service.units import KWH_J
from service.web.pages import START, page_of, read_question
from service.web.rendering import template_environment

TODAY = date(2026, 11, 25)


@pytest.fixture(scope="module")
def catalogue():
    return load_catalogue()


def test_an_empty_address_asks_the_starting_question(catalogue):
    result = read_question({}, catalogue)
    assert result.errors == {}
    assert result.ask.vehicle.id == START["vehicle"]
    assert result.ask.weather.ambient_k == pytest.approx(268.15)  # −5 °C
    assert sum(leg.distance_m for leg in result.ask.journey.legs) == pytest.approx(26_000)  # (3 + 10) km and back
    assert result.ask.circuit.id == START["circuit"]


def test_a_short_link_changes_only_what_it_names(catalogue):
    result = read_question({"temperature": "10"}, catalogue)
    assert result.ask.weather.ambient_k == pytest.approx(283.15)
    assert result.ask.vehicle.id == START["vehicle"]


def test_us_readers_start_with_us_figures(catalogue):
    result = read_question({"units": "us"}, catalogue)
    assert result.errors == {}
    assert result.values["temperature"] == "23"  # −5 °C
    assert result.ask.circuit.region == "north_america"


def test_a_form_as_sent_is_taken_whole(catalogue):
    # left empty is not the same as not sent: the service's own defaults count, 20 °C here
    result = read_question({"typed_units": "metric", "vehicle": "compact-plug-in", "temperature": ""}, catalogue)
    assert result.ask.weather.ambient_k == pytest.approx(293.15)


@pytest.mark.parametrize("hour", ["", "24", "-1", "seven", "7.5", "٣"])
def test_an_hour_that_is_none_falls_back_to_the_evening(catalogue, hour):
    page = page_of({"plug_in_hour": hour}, catalogue, TODAY)
    assert "plugged in at 18:00" in page.answer.charging.headline


def test_faults_are_told_and_nothing_typed_is_lost(catalogue):
    page = page_of({"temperature": "300", "leg1_speed": "fast"}, catalogue, TODAY)
    assert page.status == 422
    assert page.answer is None
    assert {fault.target for fault in page.form.faults} == {"temperature", "leg1_speed"}
    typed = {each.name: each.value for group in page.form.groups for block in group.blocks for each in block.inputs}
    assert typed["leg1_speed"] == "fast"


def test_what_is_typed_cannot_become_markup(catalogue):
    page = page_of({"temperature": '"><script>alert(1)</script>', "vehicle": "<i>"}, catalogue, TODAY, "a=<b>&c")
    html = template_environment().get_template("page.html").render(page=page)
    assert "<script>alert" not in html
    assert "<i>" not in html
    assert "?a=<b>" not in html


@pytest.mark.parametrize(("celsius", "other"), [("-5", "20"), ("20", "\u221210"), ("35", "20")])
def test_a_day_is_compared_with_a_mild_one_and_a_mild_one_with_a_cold_one(catalogue, celsius, other):
    page = page_of({"temperature": celsius}, catalogue, TODAY)
    assert page.answer.why.startswith(f"At {other}\u00a0°C the same drive would reach")


def test_every_car_every_circuit_and_every_cycle_has_a_page(catalogue):
    environment = template_environment()
    for vehicle in catalogue.vehicles:
        for circuit in (*list(catalogue.circuits)[:2], ""):
            page = page_of({"vehicle": vehicle, "circuit": circuit, "journey": "nycc"}, catalogue, TODAY)
            assert page.status == 200
            assert "<h1" in environment.get_template("part.html").render(page=page)


ENGINE_AND_PRICES = {
    "drive_mode": "charge_hold", "defrost": "yes", "currency": "EUR", "electricity_price": "0.3", "fuel_price": "1.8",
}  # fmt: skip


def summary_of(page, title):
    return next(group.summary for group in page.form.groups if group.title == title).replace("\xa0", " ")


def test_the_form_asks_for_engine_and_prices(catalogue):
    ask = read_question(ENGINE_AND_PRICES, catalogue).ask
    assert (ask.engine_use.mode, ask.engine_use.defrost) == (DriveMode.CHARGE_HOLD, True)
    assert ask.prices.currency == "EUR"
    assert (ask.prices.electricity_per_j * KWH_J, ask.prices.fuel_per_m3) == pytest.approx((0.3, 1800))
    page = page_of(ENGINE_AND_PRICES, catalogue, TODAY)
    assert summary_of(page, "Engine") == "charge-hold mode, windscreen heat on"
    assert summary_of(page, "Prices") == "0.30 EUR a kWh, 1.80 EUR a litre"
    takes = next(row.value for row in page.answer.engine if row.name == "What does it take?")
    assert "EUR at the stated prices" in takes
    assert " EUR; " in page.answer.charging.energy.replace("\xa0", " ")


def test_where_nothing_is_said_of_engine_and_prices_nothing_is_told(catalogue):
    page = page_of({}, catalogue, TODAY)
    assert not {"Engine", "Prices"} & {row.name for row in page.answer.question}
    assert (summary_of(page, "Engine"), summary_of(page, "Prices")) == ("electric-priority mode", "not stated")
    assert summary_of(page_of({"vehicle": "small-electric-hatch"}, catalogue, TODAY), "Engine") == "none"


def test_prices_are_typed_in_the_readers_measure(catalogue):
    us = {"units": "us", "currency": "$", "fuel_price": "3.40", "electricity_price": "0.17"}
    assert read_question(us, catalogue).ask.prices.fuel_per_m3 == pytest.approx(3.40 / 3.785411784e-3)
    page = page_of(us | {"vehicle": "small-electric-hatch"}, catalogue, TODAY)
    assert summary_of(page, "Prices") == "$0.17 a kWh, $3.40 a gallon"
    assert " The drive costs about $" in page.answer.ledger.sentence


def test_faults_of_engine_and_prices_stand_at_their_inputs(catalogue):
    bad = {"drive_mode": "fast", "defrost": "perhaps", "electricity_price": "-1", "fuel_price": "much"}
    faults = {fault.target: fault.text for fault in page_of(bad, catalogue, TODAY).form.faults}
    assert set(faults) == set(bad)
    assert "choose one of: electric_priority, charge_hold, charge_while_driving" in faults["drive_mode"]
    assert "a kWh" in faults["electricity_price"]
