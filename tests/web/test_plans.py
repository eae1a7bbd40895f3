"""Charging plans over HTTP: the contract, CSV, and the page with its form."""

import csv
import io
from datetime import date, datetime

import pytest

from service.web.plan_pages import page_of

EVENING = {
    "vehicle": {"id": "compact-plug-in"},
    "circuit": {"id": "eu-household-10a"},
    "from_pct": 20,
    "to_pct": 100,
    "arrives": "2026-11-25T18:00:00+01:00",
    "departs": "2026-11-26T07:00:00+01:00",
    "tariff": {"id": "night-price-eur"},
}
TODAY = date(2026, 11, 25)
GIVEN = {"arrives": "2026-11-25 18:00", "departs": "2026-11-26 07:00"}


def posted(ask, **changes):
    return ask("POST", "/api/charging-plans", json=EVENING | changes)


def hours(row):
    return (datetime.fromisoformat(row["ends"]) - datetime.fromisoformat(row["starts"])).total_seconds() / 3600


def test_a_night_of_two_prices_waits_for_the_cheaper_one(ask):
    plan = posted(ask).json()
    assert plan["feasible"] is True
    assert plan["short_kwh"] == 0
    assert plan["starts_at"] == "2026-11-25T23:00:00+01:00"
    assert plan["ready_at"] < EVENING["departs"]
    drawn = sum(hours(row) * row["wall_kw"] for row in plan["profile"])
    assert drawn == pytest.approx(plan["wall_kwh"], rel=1e-3)
    assert plan["cost"] == pytest.approx(drawn * 0.22, rel=1e-3)  # all of it at the night's price
    assert plan["compared"]["at_once"]["cost"] == pytest.approx(drawn * 0.36, rel=1e-3)
    charges = [row["state_of_charge_pct"] for row in plan["profile"]]
    assert charges == sorted(charges)
    assert charges[-1] == pytest.approx(100, abs=0.1)


def test_a_circuit_by_its_figures_is_the_same_as_by_its_name(ask):
    named, typed = posted(ask).json(), posted(ask, circuit={"volts": 230, "amps": 10, "phases": 1}).json()
    assert named["profile"] == typed["profile"]


def test_too_short_a_stay_says_what_is_missing_and_how_late(ask):
    plan = posted(ask, departs="2026-11-25T19:00:00+01:00").json()
    assert plan["feasible"] is False
    assert plan["ready_at"] is None
    assert plan["short_kwh"] > 0
    assert plan["late_minutes"] > 0
    longer = posted(ask, departs="2026-11-25T20:00:00+01:00").json()
    assert longer["late_minutes"] == pytest.approx(plan["late_minutes"] - 60, abs=0.2)


def test_readying_the_cabin_ends_at_departure_and_comes_after_charging(ask):
    plan = posted(ask, preconditioned=True, weather={"temperature_c": -10}).json()
    last = plan["profile"][-1]
    assert (last["use"], last["ends"]) == ("readying", EVENING["departs"])
    assert plan["ready_at"] <= last["starts"]


def test_a_car_without_an_inlet_cannot_be_planned(ask):
    spec = {
        "kind": "hybrid",
        "mass_kg": 1400,
        "road_load": {"cd_a_m2": 0.6, "crr": 0.009},
        "battery": {"usable_kwh": 1},
    }
    errors = posted(ask, vehicle={"spec": spec}).json()["errors"]
    assert [row["field"] for row in errors] == ["vehicle"]


def test_faults_of_the_model_and_of_the_tariff_come_together(ask):
    periods = [{"from": "00:00", "to": "12:00", "price_per_kwh": 1}]
    tariff = {"spec": {"time_zone": "Europe/Berlin", "periods": periods}}
    reply = posted(ask, arrives="x", tariff=tariff)
    assert reply.status_code == 422
    assert {row["field"] for row in reply.json()["errors"]} == {"arrives", "tariff.spec.periods"}


def test_the_profile_comes_as_csv(ask):
    plan = posted(ask).json()
    reply = ask("POST", "/api/charging-plans?format=csv", json=EVENING)
    assert reply.headers["content-type"].startswith("text/csv")
    rows = list(csv.DictReader(io.StringIO(reply.text)))
    assert [float(row["wall_kw"]) for row in rows] == [row["wall_kw"] for row in plan["profile"]]
    page = ask("GET", "/plan.csv", params=GIVEN | {"temperature": "20"})
    assert page.text == reply.text
    assert ask("GET", "/plan.csv", params={"arrives": "x"}).status_code == 422


def test_tariffs_are_listed_and_say_that_they_are_invented(ask):
    listed = ask("GET", "/api/tariffs").json()
    assert {"id", "name", "currency", "time_zone"} == set(listed[0])
    assert all("invented" in each["name"] for each in listed)


def test_the_page_says_it_in_one_sentence(catalogue):
    page = page_of(GIVEN, catalogue, TODAY)
    assert page.answer.headline.startswith("Plug in at 18:00, start at 23:00: ready at 02:4")
    assert "instead of" in page.answer.headline
    assert [row.name for row in page.answer.compared] == ["At once", "As late as possible", "Cheapest"]


def test_a_flat_tariff_gives_no_reason_to_wait(catalogue):
    page = page_of(GIVEN | {"tariff": "flat-gbp"}, catalogue, TODAY)
    assert page.answer.headline.startswith("Plug in at 18:00 and charge at once")


def test_a_tariff_of_ones_own_is_read_and_its_faults_stand_beside_it(catalogue):
    own = GIVEN | {"tariff": "own", "tariff_zone": "Europe/Berlin", "tariff_currency": "EUR"}
    table = "from,to,price_per_kwh\n00:00,12:00,0.1\n12:00,24:00,0.3"
    assert page_of(own | {"tariff_table": table}, catalogue, TODAY).answer.headline.startswith(
        "Plug in at 18:00, start at 00:00"
    )
    bad = page_of(own | {"tariff_table": table.replace("0.1", "-1"), "arrives": "tonight"}, catalogue, TODAY)
    assert bad.status == 422
    assert {fault.target for fault in bad.form.faults} == {"tariff_table", "arrives"}
    assert any(fault.text.startswith("Row 2, price_per_kwh") for fault in bad.form.faults)


def test_us_readers_begin_with_their_own_outlet_and_tariff(catalogue):
    page = page_of({"units": "us", "typed_units": "metric", "circuit": "eu-household-10a", "tariff": "night-price-eur"},
                   catalogue, TODAY)  # fmt: skip
    assert "$" in page.answer.headline
    assert "pm" in page.answer.headline


def test_days_are_named_where_the_clock_alone_would_not_tell_them(catalogue):
    weekend = {"arrives": "2026-11-27 18:00", "departs": "2026-11-30 07:00", "vehicle": "mid-electric-sedan"}
    headline = page_of(weekend, catalogue, TODAY).answer.headline
    assert headline.startswith("Plug in on Fri 18:00")  # 27 November 2026 is a Friday
    assert "ready on" in headline


def test_a_charge_that_does_not_fit_says_so_first(catalogue):
    answer = page_of(GIVEN | {"vehicle": "mid-electric-sedan"}, catalogue, TODAY).answer
    assert answer.headline.startswith("Not ready by 07:00")
    assert "too late" in answer.second
    assert len(answer.compared) == 1


def test_a_demand_charge_is_met_slowly(catalogue):
    asked = GIVEN | {"tariff": "depot-demand-usd", "vehicle": "small-electric-hatch", "circuit": "uk-wall-unit-32a"}
    answer = page_of(asked, catalogue, TODAY).answer
    assert "charge slowly" in answer.headline
    assert any("quarter of an hour" in line for line in answer.cost)
