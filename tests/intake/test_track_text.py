"""A track in a page's form comes back as the same drive; other texts are refused."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from service.errors import BadInput
from service.intake.track_text import LONGEST, packed, unpacked
from service.specs import Track
from service.trips.track import track_trace


def drive(seconds, seed=1):
    chance = np.random.default_rng(seed)
    speed = np.abs(np.cumsum(chance.normal(0, 1, seconds + 1))) % 40
    grade = np.repeat(chance.normal(0, 0.03, seconds // 10 + 1), 10)[:seconds]
    heading = np.radians(np.repeat(chance.integers(0, 360, seconds // 10 + 1), 10)[:seconds])
    return Track(tuple(map(float, range(seconds + 1))), tuple(speed), tuple(grade), tuple(heading))


@settings(max_examples=40, deadline=None)
@given(st.integers(2, 400), st.integers(0, 1000))
def test_a_track_comes_back_as_the_same_drive(seconds, seed):
    before = track_trace(drive(seconds, seed))
    after = track_trace(unpacked(packed(drive(seconds, seed))))
    assert after.distance_m == pytest.approx(before.distance_m, rel=0.02, abs=5)
    assert after.climb_m == pytest.approx(before.climb_m, rel=0.05, abs=2)
    assert after.duration_s == pytest.approx(before.duration_s, abs=2)
    again = unpacked(packed(unpacked(packed(drive(seconds, seed)))))
    assert track_trace(again).distance_m == pytest.approx(after.distance_m, rel=1e-6)


def test_steady_driving_and_standing_take_little_room():
    steady = Track((0.0, 3600.0), (20.0, 20.0))
    assert len(packed(steady)) < 1500
    assert track_trace(unpacked(packed(steady))).distance_m == pytest.approx(72_000 + 400, rel=1e-3)  # and two ramps


def test_two_hours_fit_a_page_and_a_day_does_not():
    assert len(packed(drive(2 * 3600))) < LONGEST
    with pytest.raises(BadInput, match="too long for a page"):
        packed(drive(8 * 3600))


@settings(max_examples=200, deadline=None)
@given(st.text(max_size=60) | st.text("0123456789abcz-_.", max_size=60).map("1.".__add__))
def test_other_texts_are_refused_in_our_words(text):
    try:
        track = unpacked(text)
    except BadInput as error:
        assert error.row.remedy == "choose its file again"  # noqa: PT017
    else:
        assert len(track.speed_m_s) == len(track.time_s) > 1
