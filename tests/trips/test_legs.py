"""Legs to a trace: distance, speed and stops as asked, nothing that no driver could do."""

import numpy as np
import pytest

from service.errors import BadInput, UnknownEntry
from service.specs import Journey, Leg
from service.trips.journey import trace_of
from service.trips.legs import ACCELERATION_M_S2, BRAKING_M_S2, STOP_S, legs_trace
from service.trips.trace import LONGEST_STEP_S, cycle_trace, merged

JOURNEYS = [
    (Leg(10_000.0, 20.0),),
    (Leg(10_000.0, 20.0, stops_per_m=0.002),),
    (Leg(2000.0, 14.0, 0.001), Leg(10_000.0, 25.0), Leg(2000.0, 14.0, 0.001)),
    (Leg(50.0, 40.0),),
    (Leg(5.0, 2.0),),
    (Leg(30.0, 40.0), Leg(20.0, 5.0), Leg(3000.0, 30.0, grade=0.05)),
    (Leg(100.0, 50.0), Leg(1.0, 2.0), Leg(100.0, 50.0)),
    tuple(Leg(200.0, 10.0 + k, stops_per_m=0.01 * (k % 2)) for k in range(20)),
]


@pytest.mark.parametrize("legs", JOURNEYS, ids=len)
def test_distance_is_what_was_asked(legs):
    trace = legs_trace(legs)
    assert trace.distance_m == pytest.approx(sum(leg.distance_m for leg in legs), rel=1e-9)
    assert np.all(trace.step_s > 0)
    assert len(trace.speed_m_s) == len(trace.step_s) + 1 == len(trace.grade) + 1


@pytest.mark.parametrize("legs", JOURNEYS, ids=len)
def test_from_rest_to_rest_within_the_drivers_habits(legs):
    trace = legs_trace(legs)
    assert trace.speed_m_s[0] == trace.speed_m_s[-1] == 0.0
    acceleration = np.diff(trace.speed_m_s) / trace.step_s
    assert acceleration.max() <= ACCELERATION_M_S2 + 1e-6
    assert acceleration.min() >= -BRAKING_M_S2 - 1e-6
    assert trace.speed_m_s.max() <= max(leg.speed_m_s for leg in legs) + 1e-9
    ramps = np.diff(trace.speed_m_s) != 0
    assert trace.step_s[ramps].max() <= 1.0 + 1e-9
    assert trace.step_s.max() <= LONGEST_STEP_S + 1e-9


def test_stops_are_as_many_as_asked_and_last():
    trace = legs_trace((Leg(10_000.0, 15.0, stops_per_m=0.001),))
    standing = (trace.speed_m_s[1:] == 0) & (trace.speed_m_s[:-1] == 0)
    assert trace.step_s[standing].sum() == pytest.approx(11 * STOP_S)  # ten on the way, one at the end
    starts = np.flatnonzero((trace.speed_m_s[:-1] == 0) & (trace.speed_m_s[1:] > 0))
    assert len(starts) == 11


def test_cruise_is_held():
    trace = legs_trace((Leg(10_000.0, 25.0),))
    cruise = (trace.speed_m_s[1:] == 25.0) & (trace.speed_m_s[:-1] == 25.0)
    assert trace.step_s[cruise].sum() * 25.0 == pytest.approx(10_000 - 2 * 25**2 / 2)


def test_two_legs_meet_without_a_stop():
    trace = legs_trace((Leg(5000.0, 14.0), Leg(5000.0, 28.0)))
    assert (trace.speed_m_s[1:-20] > 0).all()


def test_grade_stays_with_its_leg():
    trace = legs_trace((Leg(3000.0, 20.0, grade=0.04), Leg(5000.0, 20.0, grade=-0.02), Leg(1000.0, 20.0)))
    metres = 0.5 * (trace.speed_m_s[1:] + trace.speed_m_s[:-1]) * trace.step_s
    for grade, length_m in ((0.04, 3000), (-0.02, 5000), (0.0, 1000)):
        assert metres[trace.grade == grade].sum() == pytest.approx(length_m, rel=1e-9)
    assert float(np.sum(metres * trace.grade)) == pytest.approx(0.04 * 3000 - 0.02 * 5000, rel=1e-9)


def test_a_leg_too_short_for_its_speed_peaks_below_it():
    # from rest to rest over 50 m at 1 m/s² both ways: v² = a·s
    assert legs_trace((Leg(50.0, 40.0),)).speed_m_s.max() == pytest.approx(50**0.5)


def test_joining_steady_seconds_loses_nothing(catalogue):
    for cycle in catalogue.cycles.values():
        trace = cycle_trace(cycle)
        speed = np.array(cycle.speed_m_s)
        assert trace.distance_m == pytest.approx(float(np.sum(0.5 * (speed[1:] + speed[:-1]))), rel=1e-12)
        assert trace.duration_s == len(speed) - 1
        seconds = np.arange(len(speed))
        again = np.interp(seconds, np.concatenate([[0], np.cumsum(trace.step_s)]), trace.speed_m_s)
        assert again == pytest.approx(speed, abs=1e-12)


def test_joined_steps_end_where_the_grade_changes():
    trace = merged(np.full(31, 20.0), np.repeat([0.0, 0.03, 0.0], 10))
    assert list(trace.grade) == [0.0, 0.03, 0.0]
    assert list(trace.step_s) == [10, 10, 10]


def test_a_journey_of_nothing_says_what_to_do(catalogue):
    with pytest.raises(BadInput) as caught:
        trace_of(Journey(), catalogue)
    assert caught.value.rows()[0].field == "journey"
    assert "leg" in caught.value.rows()[0].remedy
    with pytest.raises(UnknownEntry) as caught:
        trace_of(Journey(cycle="uds"), catalogue)
    assert "udds" in caught.value.rows()[0].remedy


def test_a_cycle_comes_from_the_catalogue(catalogue):
    assert trace_of(Journey(cycle="hwfet"), catalogue).distance_m == pytest.approx(16_507, rel=2e-3)  # 10.26 miles
