"""A commute through the year: what must hold, and what the drives behind it are."""

from dataclasses import replace

import numpy as np
import pytest

from service.errors import BadInput
from service.quotes.build import build_quote
from service.quotes.calendar import Pattern
from service.quotes.commute import CommuteAsk, build_commute, there_and_back, way_back
from service.quotes.parking import Overnight
from service.specs import Ask, Cabin, Climate, Journey, Leg, Start, Weather

LEGS = Journey(legs=(Leg(3000.0, 11.0, 0.0015), Leg(17_000.0, 22.0, 0.0, 0.005)))


@pytest.fixture(scope="module")
def question(catalogue):
    circuit = catalogue.circuit("na-household-15a")
    ask = Ask(catalogue.vehicle("compact-plug-in"), LEGS, Weather(293.15), circuit=circuit)
    return CommuteAsk(ask, catalogue.places["chicago"])


@pytest.fixture(scope="module")
def solved(question, catalogue):
    done = {}

    def solve(ask=None, **changes):
        key = repr((ask, changes))
        if key not in done:
            asked = replace(question, **changes)
            done[key] = build_commute(replace(asked, ask=replace(asked.ask, **(ask or {}))), catalogue)
        return done[key]

    return solve


def test_a_year_in_order(solved):
    found = solved()
    assert [month.name for month in found.months][:2] == ["January", "February"]
    assert found.one_way_m == pytest.approx(20_000)
    assert found.year.days == pytest.approx(230)
    assert found.year.distance_m == pytest.approx(230 * 40_000)
    for month in found.months:
        band, share = month.tally.electric_days, month.tally.electric_share
        assert 0 <= band.p10 <= band.p50 <= band.p90 <= month.tally.days + 1e-9
        assert 0 <= share.p10 <= share.p50 <= share.p90 <= 1
        assert month.back.ambient_k > month.out.ambient_k  # 17 h against 7.30 h
    assert found.months[0].tally.electric_days.p50 < found.months[6].tally.electric_days.p50


def test_the_range_of_a_month_is_the_single_quote_of_its_morning(solved, question, catalogue):
    found = solved()
    for month in (found.months[0], found.months[7]):
        ask = replace(question.ask, journey=there_and_back(LEGS), weather=month.out, band=False)
        assert month.range_m.p50 == build_quote(ask, catalogue, with_engine=False).range_m.p50


def test_one_day_is_the_quotes_own_two_drives(question, catalogue):
    # one day a week, outside in the sun, in a month whose days do not scatter: out from full, back from what is left
    from service.quotes import commute

    place = question.place
    flat = replace(question, pattern=Pattern((2,)))
    traces = (commute.trace_of(LEGS, catalogue), commute.trace_of(way_back(LEGS), catalogue))
    values = {name: typical.value for name, typical in catalogue.typical.items()}
    filling = commute.Filling(catalogue)
    weathers = tuple(commute.month_weathers(place, hour, "dry", filling) for hour in (7.5, 17.0))
    anchored, _ = commute.anchored(question.ask, catalogue)
    ask, _ = commute.complete(
        replace(anchored, journey=there_and_back(LEGS), weather=weathers[0][0], band=False), catalogue, False
    )
    times = commute.times_of(flat, traces)
    quiet = values | {name: 0.0 for name in values if name.startswith("scatter_")}
    stage = commute.stage_for(ask, weathers, [0.0] * 12, traces, times, 0, catalogue, quiet)
    days = commute.drive_year(stage, commute.manner_of(flat, ask), values, 0)
    for month in (0, 6):
        asks = [replace(ask, weather=weathers[way][month]) for way in (0, 1)]
        out = build_quote(replace(asks[0], journey=LEGS, start=Start(in_sun=True)), catalogue, with_engine=False)
        start = Start(state_of_charge=out.journey.arrives_with.p50, in_sun=True)
        back = build_quote(replace(asks[1], journey=way_back(LEGS), start=start), catalogue, with_engine=False)
        left = np.full(days.charge_left.shape[2], back.journey.arrives_with.p50)
        assert days.charge_left[month, 0] == pytest.approx(left)
    assert np.all(days.morning_charge == 1)


@pytest.mark.parametrize(
    ("better", "of"),
    [
        ({"charges_at_work": True}, {}),
        ({"overnight": Overnight.GARAGE}, {}),
        ({"ask": {"start": Start(preconditioned=True)}}, {}),
        ({"ask": {"cabin": Cabin(climate=Climate.OFF)}}, {}),
        ({}, {"ask": {"payload_kg": 300.0}}),
        ({}, {"ask": {"start": Start(state_of_charge=0.8)}}),
        ({}, {"ask": {"start": Start(state_of_health=0.8)}}),
    ],
)
def test_what_makes_it_easier_never_costs_an_electric_day(solved, better, of):
    assert solved(**better).year.electric_days.p50 >= solved(**of).year.electric_days.p50
    assert solved(**better).year.fuel_m3.p50 <= solved(**of).year.fuel_m3.p50 + 1e-12


def test_changes_that_are_told_are_those_of_the_whole_question(solved):
    helps = {each.id: each for each in solved().helps}
    assert helps["charges_at_work"].electric_days > 0
    by_hand = solved(charges_at_work=True).year.electric_days.p50 - solved().year.electric_days.p50
    assert helps["charges_at_work"].electric_days == pytest.approx(by_hand)
    assert helps["charges_at_work"].wall_j == pytest.approx(
        solved(charges_at_work=True).year.wall_j.p50 - solved().year.wall_j.p50
    )


def test_a_short_stay_at_work_refills_less(solved):
    weak = {"charges_at_work": True, "ask": {"vehicle": solved().ask.vehicle}}
    long = solved(**weak)
    short = solved(leaves_work_hour=9.0, **weak)
    assert long.months[0].hardest.charge_left > short.months[0].hardest.charge_left


def test_a_weak_socket_and_a_long_way_fall_behind_until_the_weekend(question, solved, catalogue):
    far = {"vehicle": catalogue.vehicle("small-electric-hatch"), "journey": Journey(legs=(Leg(60_000.0, 25.0),))}
    found = solved(ask=far)
    assert found.night.too_short_share > 0.5
    assert found.night.seconds > found.night.parked_s
    assert found.months[0].hardest.morning_charge < 0.9
    strong = solved(ask=far | {"circuit": catalogue.circuit("na-range-50a")})
    assert strong.night.too_short_share == 0
    assert strong.months[0].hardest.morning_charge == 1
    assert strong.year.electric_days.p50 >= found.year.electric_days.p50
    rested = solved(ask=far, pattern=Pattern((0, 3)))  # two days between drives
    assert rested.year.electric_days.p50 / rested.year.days > found.year.electric_days.p50 / found.year.days


def test_what_a_battery_electric_car_cannot_reach_is_charged_on_the_way(question, solved, catalogue):
    far = {"vehicle": catalogue.vehicle("small-electric-hatch"), "journey": Journey(legs=(Leg(150_000.0, 30.0),))}
    far["circuit"] = catalogue.circuit("na-range-50a")
    found = solved(ask=far)
    assert found.year.electric_days.p50 < found.year.days
    assert found.fuel_only is None
    per_km = found.year.wall_j.p50 / found.year.distance_m
    assert per_km == pytest.approx(found.months[6].tally.wall_j.p50 / found.months[6].tally.distance_m, rel=0.5)
    assert "charged on the way" in {each.value for each in found.assumptions}


def test_days_on_which_the_engine_heats_are_counted_apart(solved, catalogue):
    found = solved(ask={"vehicle": catalogue.vehicle("family-suv-plug-in")})
    assert found.months[0].heat_days == pytest.approx(found.months[0].tally.days)
    assert found.months[6].heat_days < found.months[6].tally.days
    off = solved(ask={"vehicle": catalogue.vehicle("family-suv-plug-in"), "cabin": Cabin(climate=Climate.OFF)})
    assert off.months[0].heat_days == 0
    assert solved().months[0].heat_days == 0


@pytest.mark.parametrize(("home", "work"), [(7.5, 7.6), (7.5, 7.5), (7.5, 7.4)])
def test_hours_that_leave_no_time_are_refused(question, catalogue, home, work):
    with pytest.raises(BadInput) as caught:
        build_commute(replace(question, leaves_home_hour=home, leaves_work_hour=work), catalogue)
    assert caught.value.row.field == "leaves_work_hour"


def test_a_shift_may_pass_midnight(solved):
    found = solved(leaves_home_hour=21.0, leaves_work_hour=6.0)
    assert found.months[6].out.sun_w_m2 == 0
    assert found.year.days == pytest.approx(230)


def test_the_way_back_turns_the_slope_over():
    back = way_back(LEGS)
    assert [leg.grade for leg in back.legs] == [-0.005, 0.0]
    assert way_back(Journey(cycle="udds")) == Journey(cycle="udds")


def test_a_way_of_a_whole_day_is_no_commute(question, catalogue):
    far = replace(question, ask=replace(question.ask, journey=Journey(legs=(Leg(400_000.0, 22.0),))))
    with pytest.raises(BadInput, match="one way takes 5") as caught:
        build_commute(far, catalogue)
    assert caught.value.row.field == "journey"
