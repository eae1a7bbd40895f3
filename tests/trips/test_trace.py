"""Traces: joined seconds lose nothing, thinned ones next to nothing."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from service.specs import Journey, Leg
from service.trips.journey import trace_of
from service.trips.trace import DIGIT_M_S, LONGEST_STEP_S, Trace, merged, thinned

CYCLES = ("udds", "hwfet", "us06", "wltc_class3b")


def speed_at(trace, seconds):
    return np.interp(seconds, np.concatenate([[0.0], np.cumsum(trace.step_s)]), trace.speed_m_s)


def standing_s(trace):
    return trace.step_s[(trace.speed_m_s[1:] == 0) & (trace.speed_m_s[:-1] == 0)].sum()


@pytest.mark.parametrize("cycle", CYCLES)
def test_a_thinned_cycle_is_the_same_drive(catalogue, cycle):
    whole = trace_of(Journey(cycle=cycle), catalogue)
    thin = thinned(whole)
    every_s = np.arange(0.0, whole.duration_s + 1)
    assert np.abs(speed_at(thin, every_s) - speed_at(whole, every_s)).max() <= DIGIT_M_S + 1e-9
    assert thin.duration_s == pytest.approx(whole.duration_s, abs=1e-9)
    assert thin.distance_m == pytest.approx(whole.distance_m, rel=3e-4)
    assert standing_s(thin) == pytest.approx(standing_s(whole), abs=1e-9)
    assert len(thin.step_s) < 0.9 * len(whole.step_s)


def test_thinning_keeps_grade_and_heading_apart():
    legs = (Leg(900.0, 14.0, 0.0, 0.03, 1.0), Leg(900.0, 14.0, 0.0, 0.0, 1.0), Leg(900.0, 14.0, 0.0, 0.0, 2.0))
    whole, thin = trace_of(Journey(legs=legs), None), thinned(trace_of(Journey(legs=legs), None))
    for name in ("grade", "heading_rad"):
        at_whole, at_thin = getattr(whole, name), getattr(thin, name)
        for value in np.unique(at_whole):
            assert thin.step_s[at_thin == value].sum() == pytest.approx(whole.step_s[at_whole == value].sum())
    assert thin.climb_m == pytest.approx(whole.climb_m)


@settings(deadline=None, max_examples=60)
@given(st.lists(st.floats(0, 40, allow_subnormal=False).map(lambda v: round(v, 1)), min_size=1, max_size=60))
def test_thinning_any_drive(speeds):
    speed_m_s = np.array([0.0, *speeds, 0.0])
    whole = merged(speed_m_s, np.zeros(len(speed_m_s) - 1))
    thin = thinned(whole)
    every_s = np.arange(0.0, len(speed_m_s))
    assert np.abs(speed_at(thin, every_s) - speed_m_s).max() <= DIGIT_M_S + 1e-9
    assert thin.step_s.max() <= LONGEST_STEP_S
    assert standing_s(thin) == standing_s(whole)


def test_unknown_headings_are_one_stretch():
    nan = np.full(3, np.nan)
    thin = thinned(Trace(np.ones(3), np.array([0.0, 1.0, 2.0, 3.0]), np.zeros(3), nan))
    assert list(thin.step_s) == [3.0]
