"""One plain sentence for each cell, and a table that runs nothing."""

from dataclasses import replace

import pytest

from service.fleet.answer import Cell, Verdict
from service.quotes.answer import CAUSES
from service.reporting.comparison_reasons import reason
from service.reporting.csv_out import harmless
from service.reporting.words import Units
from service.specs import Ask, Heating, Journey, Weather

NOTHING = dict.fromkeys(CAUSES, 0.0)
CELL = Cell(
    vehicle="van",
    route="town",
    month="January",
    verdict=Verdict.FAIL,
    needed_m=120_000.0,
    range_m=100_000.0,
    low_m=80_000.0,
    low_month="January",
    battery_j_per_m=1000.0,
    ledger_j_per_m=NOTHING | {"air": 400.0, "heating": 360.0},
    ended_by="empty",
    keeps_up=True,
    charge_left=0.0,
    charging_s=3600.0,
    wall_j=1.0,
    mildest="June",
    mildest_range_m=150_000.0,
    extra_j_per_m=NOTHING | {"heating": 360.0, "air": 90.0},
)


@pytest.fixture
def ask(catalogue):
    return Ask(catalogue.vehicles["electric-delivery-van"], Journey(cycle="udds"), Weather(263.15))


def said(cell, ask, units=Units.METRIC):
    return reason(cell, ask, units).replace("\u00a0", " ")


def test_a_fail_names_what_takes_most(ask):
    # 360 J/m = 100 Wh/km
    assert said(CELL, ask) == (
        "Even the usual day falls 20 km short; 100 Wh/km more than in June go into heating the cabin."
    )
    # 20 km = 12.4 mi; 100 Wh/km = 161 Wh/mi
    assert said(CELL, ask, Units.US) == (
        "Even the usual day falls 12 mi short; 161 Wh/mi more than in June go into heating the cabin."
    )


def test_a_pass_says_what_is_left_and_a_margin_what_may_be_missing(ask):
    assert said(replace(CELL, verdict=Verdict.PASS, needed_m=50_000.0), ask).startswith(
        "Nine days in ten leave at least 30 km to spare;"
    )
    assert said(replace(CELL, verdict=Verdict.MARGIN, needed_m=90_000.0), ask).startswith(
        "The usual day fits, but one day in ten falls 10 km or more short;"
    )


def test_a_battery_too_small_in_every_month_is_said_so(ask):
    small = replace(CELL, mildest_range_m=110_000.0)
    assert "the battery is simply smaller than the route, even in the mildest month (June)." in said(small, ask)
    assert said(replace(small, month="June"), ask).endswith("the battery is simply smaller than the route.")


def test_the_mildest_month_names_its_largest_part(ask):
    mild = replace(CELL, month="June", verdict=Verdict.PASS, needed_m=70_000.0, extra_j_per_m=NOTHING)
    assert said(mild, ask).endswith("most of its energy goes into pushing the air aside, 111 Wh/km.")


def test_an_engine_turns_a_fail_into_fuel(ask, catalogue):
    plug_in = replace(ask, vehicle=catalogue.vehicles["compact-plug-in"])
    assert said(CELL, plug_in).startswith("It uses fuel: electricity alone falls 20 km short;")
    heated = replace(plug_in, vehicle=replace(plug_in.vehicle, heating=Heating.ENGINE))
    assert said(CELL, heated).endswith("the engine starts to heat the cabin.")


def test_limits_are_said(ask):
    words = said(replace(CELL, keeps_up=False, ended_by="cannot_hold_speed"), ask)
    assert "too weak to keep up" in words
    assert "no longer hold the speed" in words
    assert "hardly uses energy" in said(replace(CELL, ended_by="distance_limit"), ask)


@pytest.mark.parametrize("text", ["=1+1", "+1", "-1", "@x", "\tx", "\r=x", "  =x"])
def test_no_text_is_a_formula(text):
    assert harmless(text) == f"'{text}"


@pytest.mark.parametrize("value", [-1.5, None, "Town", "a=b", ""])
def test_all_else_is_left_alone(value):
    assert harmless(value) == value
