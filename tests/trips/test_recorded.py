"""Recordings to drives: the geodesic against published examples, and invented roads found again behind noise."""

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from pyproj import Geod

from service.specs import Track
from service.trips.fixes import HIGHEST_M_S, PARKED_S, forward
from service.trips.recorded import (
    drive_of_fixes,
    drive_of_speeds,
    ellipsoid,
    geodesic_m,
)
from service.trips.track import one_after_the_other, track_trace, turned

NO_HEIGHT = math.nan
METRE_DEG = 1 / 110_574  # of latitude at the equator, WGS84: to lay invented roads


def road(speed_m_s, noise_m=0.0, seed=1, hill=lambda along_m: 0.0, height_noise_m=0.0):
    """Fixes a second apart on an invented road that leads north from the equator: time, lat, lon, height, rows."""
    along_m = np.concatenate([[0.0], np.cumsum(speed_m_s)])
    chance = np.random.default_rng(seed)
    # a receiver's error drifts: neighbours a second apart share nearly all of it
    drift = np.cumsum(chance.normal(0, noise_m / 10, len(along_m)))
    height_m = np.array([hill(each) for each in along_m]) + chance.normal(0, height_noise_m, len(along_m))
    number = np.arange(len(along_m))
    return number.astype(float), (along_m + drift) * METRE_DEG, np.zeros(len(along_m)), height_m, number + 2


def trapezoid(top_m_s=20.0, ramp_s=20, cruise_s=300):
    up = np.linspace(0, top_m_s, ramp_s)
    return np.concatenate([np.zeros(10), up, np.full(cruise_s, top_m_s), up[::-1], np.zeros(10)])


def test_the_geodesic_agrees_with_published_lines():
    # Karney, J. Geodesy 87 (2013) 43, table 2: 40° N, azimuth 30°, 10 000 km on WGS84
    lengths_m, azimuths = geodesic_m(np.array([40.0, 41.79331020506]), np.array([0.0, 137.84490004377]))
    assert lengths_m[0] == pytest.approx(10_000_000, abs=1e-3)
    assert math.degrees(azimuths[0]) == pytest.approx(30, abs=1e-9)
    # Flinders Peak to Buninyong, GDA94 technical manual, chapter 4: 54 972.271 m on GRS80
    north = [-(37 + 57 / 60 + 3.72030 / 3600), -(37 + 39 / 60 + 10.15610 / 3600)]
    east = [144 + 25 / 60 + 29.52440 / 3600, 143 + 55 / 60 + 35.38390 / 3600]
    assert Geod(ellps="GRS80").line_length(east, north) == pytest.approx(54_972.271, abs=5e-4)
    assert geodesic_m(np.array(north), np.array(east))[0][0] == pytest.approx(54_972.271, abs=2e-3)  # WGS84: 0.1 mm on
    assert ellipsoid().a == 6378137.0  # WGS84, NIMA TR8350.2


def test_a_clean_drive_is_found_as_it_was():
    speeds = trapezoid()
    found = drive_of_fixes(*road(speeds))
    assert (found.points, found.kept, found.dropped) == (len(speeds) + 1, len(speeds) + 1, ())
    (trip,) = found.trips
    assert trip.distance_m == pytest.approx(speeds.sum(), rel=2e-4)
    assert max(trip.track.speed_m_s) == pytest.approx(20, abs=0.05)
    trace = track_trace(trip.track)
    assert trace.speed_m_s[0] == trace.speed_m_s[-1] == 0
    assert trace.distance_m == pytest.approx(trip.distance_m, rel=1e-3)


def test_noise_is_smoothed_and_distance_kept():
    speeds = trapezoid()
    (trip,) = drive_of_fixes(*road(speeds, noise_m=3.0)).trips
    cruise = np.array(trip.track.speed_m_s)[60:280]
    assert trip.distance_m == pytest.approx(speeds.sum(), rel=0.01)
    assert np.std(cruise) < 0.3  # 0.3 m/s a fix of noise, a third of it left
    assert np.mean(cruise) == pytest.approx(20, abs=0.1)


def test_a_hill_is_found_under_the_noise_of_its_heights():
    hill = lambda along_m: 0.04 * np.clip(along_m - 1000, 0, 2000)  # noqa: E731
    time_s, north, east, height_m, rows = road(np.full(250, 20.0), hill=hill, height_noise_m=1.5)
    (trip,) = drive_of_fixes(time_s, north, east, height_m, rows).trips
    trace = track_trace(trip.track)
    grade = np.array(trip.track.grade)
    assert trace.climb_m == pytest.approx(80, abs=5)
    assert trip.climb_m == pytest.approx(80, abs=15)  # the raw heights climb 250 m
    assert np.sum(np.maximum(np.diff(height_m), 0)) > 200
    assert np.median(grade[75:125]) == pytest.approx(0.04, abs=0.006)


def test_one_bad_height_makes_no_hill():
    time_s, north, east, height_m, rows = road(np.full(250, 20.0))
    height_m[100] = 400.0
    (trip,) = drive_of_fixes(time_s, north, east, height_m, rows).trips
    assert max(map(abs, trip.track.grade)) < 0.01


def test_jumps_and_times_that_go_back_are_dropped_and_told():
    time_s, north, east, height_m, rows = road(trapezoid())
    north[50] += 0.1  # 11 km away
    time_s[80], time_s[90] = time_s[79], time_s[70]
    found = drive_of_fixes(time_s, north, east, height_m, rows)
    assert [each.rows for each in found.dropped] == [(82, 92), (52,)]
    assert f"{HIGHEST_M_S * 3.6:.0f} km/h" in found.dropped[1].reason
    assert found.trips[0].distance_m == pytest.approx(trapezoid().sum(), rel=0.002)


def test_only_times_that_go_forward_count():
    assert forward(np.array([0.0, 1.0, 1.0, 0.5, 2.0])).tolist() == [True, True, False, False, True]
    assert forward(np.array([])).tolist() == []


def test_a_wrong_start_is_dropped_and_not_what_follows():
    time_s, north, east, height_m, rows = road(trapezoid())
    north[:2] = 45.0
    found = drive_of_fixes(time_s, north, east, height_m, rows)
    assert found.dropped[0].rows == (2, 3)
    assert found.trips[0].distance_m == pytest.approx(trapezoid().sum(), rel=0.01)


def test_a_recording_that_goes_on_elsewhere_is_two_trips():
    time_s, north, east, height_m, rows = road(trapezoid())
    north[200:] += 1.0
    found = drive_of_fixes(time_s, north, east, height_m, rows)
    assert len(found.trips) == 2
    assert sum(trip.distance_m for trip in found.trips) == pytest.approx(trapezoid().sum(), rel=0.02)
    assert any("elsewhere" in note for note in found.notes)


def test_a_parked_car_that_wanders_goes_nowhere():
    drive, still = trapezoid(), np.zeros(int(PARKED_S) + 300)
    time_s, north, east, height_m, rows = road(np.concatenate([drive, still, drive]))
    chance = np.random.default_rng(3)
    middle = slice(len(drive) + 1, len(drive) + len(still))
    north[middle] += chance.normal(0, 4, len(still) - 1) * METRE_DEG
    east[middle] += chance.normal(0, 4, len(still) - 1) * METRE_DEG
    found = drive_of_fixes(time_s, north, east, height_m, rows)
    assert len(found.trips) == 2
    assert found.trips[0].parked_after_s == pytest.approx(len(still) + 20, abs=20)  # and at both ends of the drives
    assert found.trips[1].parked_after_s == 0
    for trip in found.trips:
        assert trip.distance_m == pytest.approx(drive.sum(), abs=60)
    assert any("2 trips" in note for note in found.notes)


@pytest.mark.parametrize(("gap_s", "trips"), [(120, 1), (900, 2)])
def test_gaps_are_bridged_or_end_a_trip(gap_s, trips):
    time_s, north, east, height_m, rows = road(trapezoid(cruise_s=1200))
    out = (time_s > 300) & (time_s < 300 + gap_s)
    found = drive_of_fixes(*(column[~out] for column in (time_s, north, east, height_m, rows)))
    assert len(found.trips) == trips
    whole_m = sum(trip.distance_m for trip in found.trips)
    expected_m = trapezoid(cruise_s=1200).sum() - (20.0 * gap_s if trips == 2 else 0.0)
    assert whole_m == pytest.approx(expected_m, rel=0.005)
    assert any("more than 60 s" in note for note in found.notes) == (trips == 1)


def test_speeds_are_driven_as_recorded():
    speeds = trapezoid()
    time_s = np.arange(len(speeds)) * 1.0
    found = drive_of_speeds(time_s, speeds, np.full(len(speeds), NO_HEIGHT), np.arange(len(speeds)) + 2)
    (trip,) = found.trips
    assert max(trip.track.speed_m_s) == 20
    assert trip.distance_m == pytest.approx(np.trapezoid(speeds), rel=1e-9)
    assert any("no heights" in note for note in found.notes)


@settings(max_examples=60, deadline=None)
@given(
    seconds=st.lists(st.floats(-10, 400, allow_nan=False), min_size=0, max_size=30),
    steps=st.lists(st.floats(-0.01, 0.01, allow_nan=False), min_size=30, max_size=30),
)
def test_whatever_was_recorded_is_a_drive_of_sane_speeds_or_none(seconds, steps):
    n = len(seconds)
    time_s, north = np.cumsum(seconds), np.cumsum(steps[:n])
    found = drive_of_fixes(time_s, north, north, np.full(n, NO_HEIGHT), np.arange(n))
    assert found.kept + sum(len(each.rows) for each in found.dropped) == found.points == n
    for trip in found.trips:
        speed = np.array(trip.track.speed_m_s)
        assert np.all(np.isfinite(speed))
        assert np.all((speed >= 0) & (speed <= HIGHEST_M_S + 1e-9))
        assert np.all(np.diff(trip.track.time_s) > 0)
        assert len(trip.track.grade) == len(trip.track.heading_rad) == len(speed) - 1


def test_turned_and_joined_tracks_keep_distance_and_climb():
    track = Track((0.0, 10.0, 30.0), (10.0, 20.0, 5.0), (0.02, -0.01), (0.0, math.pi / 2))
    there, back = track_trace(track), track_trace(turned(track))
    assert back.distance_m == pytest.approx(there.distance_m)
    assert back.climb_m == pytest.approx(-there.climb_m)
    assert turned(turned(track)).heading_rad == pytest.approx(track.heading_rad)
    both = track_trace(one_after_the_other(track, turned(track)))
    assert both.distance_m == pytest.approx(2 * there.distance_m)
    assert both.climb_m == pytest.approx(0, abs=1e-9)
