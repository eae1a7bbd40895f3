"""What nobody told: when it decides, and what knowing it is worth."""

from dataclasses import replace

import pytest

from service.diagnosis.complaint import Verdict
from service.diagnosis.openings import MIXED_JOURNEY, OPENINGS
from service.specs import Cabin, Climate, Start, Weather

FREEZING = Weather(263.15, 0.8, 3.0, 0.0)


def left_open(complaint, *paths):
    return replace(complaint, left_open=frozenset(paths))


def test_nothing_open_is_never_insufficient(complain, check):
    for km in (10, 30, 40, 50, 60, 90):
        answer = check(complain("compact-plug-in", km * 1e3))
        assert answer.verdict in (Verdict.NORMAL, Verdict.OUTSIDE)
        assert [each.input for each in answer.missing] in ([], ["start.state_of_health_pct"])


def test_an_unknown_heater_decides_between_its_two_bands(complain, check):
    on = complain("compact-plug-in", 1.0, FREEZING)
    off = replace(on, ask=replace(on.ask, cabin=Cabin(climate=Climate.OFF)))
    heated, unheated = check(on).expected, check(off).expected
    assert heated.p2_5 < unheated.p2_5
    between = replace(on, reported_m=0.5 * (heated.p2_5 + unheated.p2_5))
    assert check(between).verdict is Verdict.NORMAL
    assert check(replace(off, reported_m=between.reported_m)).verdict is Verdict.OUTSIDE
    answer = check(left_open(between, "cabin.climate"))
    assert answer.verdict is Verdict.INSUFFICIENT
    assert [each.input for each in answer.missing if each.decides] == ["cabin.climate"]
    assert OPENINGS["cabin.climate"].question in answer.sentence


def test_far_outside_stays_outside_whatever_is_open(complain, check):
    answer = check(left_open(complain("compact-plug-in", 3e3, FREEZING), *OPENINGS))
    assert answer.verdict is Verdict.OUTSIDE
    assert not any(each.decides for each in answer.missing)


def test_inputs_decide_together_where_none_does_alone(complain, check):
    # 20 °C assumed: the heater hardly matters at 20 °C, the cold alone is not enough without a low charge
    complaint = complain("compact-plug-in", 1.0, Weather(293.15, 0.7, 3.0, 160.0))
    paths = ("weather.temperature_c", "start.state_of_charge_pct", "cabin.climate")
    both = [
        replace(complaint.ask, weather=replace(complaint.ask.weather, ambient_k=266.15)),
        replace(
            complaint.ask, weather=replace(complaint.ask.weather, ambient_k=266.15), start=Start(state_of_charge=0.8)
        ),
    ]
    cold, cold_and_low = (check(replace(complaint, ask=ask)).expected for ask in both)
    reported = replace(complaint, reported_m=0.5 * (cold.p2_5 + cold_and_low.p2_5))
    answer = check(left_open(reported, *paths))
    assert answer.verdict is Verdict.INSUFFICIENT
    assert {each.input for each in answer.missing if each.decides} == set(paths)
    for path in paths:
        assert check(left_open(reported, path)).verdict is Verdict.OUTSIDE


def test_the_narrowing_is_the_spread_of_both_ends(complain, check):
    complaint = complain("mid-electric-sedan", 400e3)
    answer = check(left_open(complaint, "start.state_of_charge_pct"))
    low = check(replace(complaint, ask=replace(complaint.ask, start=Start(state_of_charge=0.8)))).expected
    full = answer.expected
    charge = next(each for each in answer.missing if each.input == "start.state_of_charge_pct")
    assert charge.narrows_m == pytest.approx(full.p2_5 - low.p2_5, rel=0.03)  # the band moves in proportion


@pytest.mark.parametrize("path", OPENINGS)
def test_every_opening_moves_the_distance(path, complain, check):
    answer = check(left_open(complain("compact-plug-in", 40e3, FREEZING, MIXED_JOURNEY, odometer_m=None), path))
    assert path in [each.input for each in answer.missing]


def test_a_measured_health_leaves_no_odometer_to_ask_for(complain, check):
    stated = complain("compact-plug-in", 40e3, start=Start(state_of_health=0.9), odometer_m=None, health_stated=True)
    assert check(left_open(stated, "odometer_km")).missing == ()


def test_a_charge_below_the_usual_limit_stays_above_the_end(complain, check):
    answer = check(left_open(complain("compact-plug-in", 1e3, end_charge=0.95), "start.state_of_charge_pct"))
    assert answer.expected.band.p50 > 0
