"""The ends of a plan: what draws of car and supply make of its timetable."""

from dataclasses import replace
from datetime import datetime
from zoneinfo import ZoneInfo

import numpy as np
import pytest

from service.charging.plan import Piece, PlanLine
from service.charging.tariff import Cost, MonthSoFar
from service.quotes.charging_plan import PlanAsk, build_charging_plan
from service.quotes.charging_session import SessionAsk, build_session
from service.quotes.plan_band import follow
from service.specs import Ask, Journey, Run, Start, Weather
from service.units import KWH_J

ZONE = ZoneInfo("Europe/Berlin")


def at(day, hour):
    return datetime(2026, 1, day, hour, tzinfo=ZONE).timestamp()


def planned(
    catalogue, circuit="eu-household-10a", tariff="night-price-eur", departs=7, run=None, car="compact-plug-in"
):
    one = replace(catalogue.circuit(circuit), run=run)
    ask = Ask(catalogue.vehicle(car), Journey(), Weather(293.15), start=Start(0.2), circuit=one, band=False)
    return build_charging_plan(
        PlanAsk(ask, 0.9, at(13, 18), at(14, departs), catalogue.tariff(tariff), MonthSoFar()), catalogue
    )


TIMETABLE = PlanLine(
    "cheapest", (Piece(0, 3600, 2000.0, 0.5), Piece(7200, 10_800, 1000.0, 1.0)), (), Cost(0, 0, 0, 0), 1
)


@pytest.mark.parametrize(
    ("kwh", "voltage", "ends_s"),
    [
        (2.6, 1.0, 10_800),  # 1.8 + 0.8 kWh beyond 200 W: as planned
        (1.8, 1.0, 3600),  # enough after the first
        (2.2, 1.0, 9000),  # half of the second
        (2.6, 0.9, 10_800 + 3600 * (2.6 - 1.6 - 0.7) / 1.15),  # goes on at the median, 1 350 W
        (2.6, 1.1, 7200 + 3600 * 0.6 / 0.9),  # held to the rating of 2 200 W in the first: 2.0 kWh
    ],
)
def test_a_timetable_is_followed_as_by_hand(kwh, voltage, ends_s):
    followed = follow(TIMETABLE, kwh * KWH_J, 200.0, voltage, 2200.0)
    assert followed[-1].ends_s == pytest.approx(ends_s)
    assert sum((each.wall_w - 200) * (each.ends_s - each.starts_s) for each in followed) == pytest.approx(kwh * KWH_J)


def test_the_plan_stands_within_its_ends(catalogue):
    found = planned(catalogue)
    band, best = found.band, found.plans.cheapest
    for ends, middle in ((band.cost, best.cost.total), (band.wall_j, best.wall_j), (band.ready_s, best.ready_s)):
        assert ends.p10 < ends.p50 == middle < ends.p90
    assert band.in_time == 1
    assert any(each.name == "voltage of the supply" for each in found.assumptions)


def test_a_plan_with_no_time_to_spare_is_late_for_some(catalogue):
    whole = planned(catalogue)
    last_s = sum(each.ends_s - each.starts_s for each in whole.plans.at_once.pieces)
    asked = replace(whole.question, departs_s=whole.question.arrives_s + last_s + 120)
    band = build_charging_plan(asked, catalogue).band
    assert 0.3 < band.in_time < 0.8
    assert band.ready_s.p90 > asked.departs_s
    short = build_charging_plan(replace(asked, departs_s=asked.departs_s - 1200), catalogue)
    assert (short.plans.feasible, short.band) == (False, None)


def test_the_meter_pays_for_the_heat_of_the_cable_as_a_session_does(catalogue):
    run = Run(30.0, section_mm2=2.5)
    bare, cabled = planned(catalogue), planned(catalogue, run=run)
    circuit = cabled.question.ask.circuit
    session = build_session(SessionAsk(catalogue.vehicle("compact-plug-in"), circuit, 0.2, 0.9, 293.15), catalogue)
    assert cabled.plans.at_once.wall_j == pytest.approx(session.wall_j, rel=2e-3)
    assert session.losses_j["cable"] > 0.02 * session.wall_j
    assert cabled.plans.cheapest.cost.total > 1.01 * bare.plans.cheapest.cost.total


def test_a_demand_charge_with_a_cable_tells_a_gap_that_counts_it(catalogue):
    run = Run(20.0, section_mm2=6.0)
    found = planned(catalogue, "uk-wall-unit-32a", "depot-demand-usd", run=run)
    assert 0 < found.plans.gap < 0.02
    assert np.isfinite(found.band.cost.p90)
