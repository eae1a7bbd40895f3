"""The sun's place: what must hold whatever the formula."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from service.trips.sun import (
    MONTH_DAYS,
    clear_share,
    clear_sky_j_m2_day,
    clear_sky_w_m2,
    declination_rad,
    elevation_rad,
    sunrise_hour,
)

latitudes, days = st.floats(-65, 65), st.integers(1, 365)


@given(latitudes, days, st.floats(0, 12))
def test_morning_and_afternoon_mirror_each_other(latitude, day, hour):
    assert elevation_rad(latitude, day, 12 - hour) == pytest.approx(elevation_rad(latitude, day, 12 + hour), abs=1e-9)


@given(latitudes, days)
def test_the_sun_rises_where_it_crosses_the_horizon(latitude, day):
    assert elevation_rad(latitude, day, sunrise_hour(latitude, day)) == pytest.approx(0, abs=1e-6)


@given(latitudes, days)
def test_noon_is_highest(latitude, day):
    noon = elevation_rad(latitude, day, 12)
    assert noon == pytest.approx(math.pi / 2 - abs(math.radians(latitude) - declination_rad(day)), abs=1e-6)


def test_solstices_and_equinoxes():
    assert min(range(1, 366), key=declination_rad) in range(354, 358)  # 21 December is day 355
    assert max(range(1, 366), key=declination_rad) in range(170, 175)  # 21 June is day 172


def test_nights_are_dark_and_noon_brighter_than_morning():
    assert clear_sky_w_m2(-0.1) == clear_sky_w_m2(0.0) == 0.0
    assert clear_sky_w_m2(0.2) < clear_sky_w_m2(0.6) < clear_sky_w_m2(math.pi / 2)


def test_where_the_sun_does_not_rise_there_is_no_share_of_it():
    assert clear_sky_j_m2_day(80.0, 355) == 0
    assert clear_share(1e6, 80.0, 355) == 0
    assert clear_share(0.0, 40.0, 172) == 0
    assert clear_share(1e9, 40.0, 172) == 1.25


def test_a_month_s_typical_day_lies_in_it():
    starts = [1, 32, 60, 91, 121, 152, 182, 213, 244, 274, 305, 335, 366]
    assert all(start <= day < after for day, start, after in zip(MONTH_DAYS, starts, starts[1:], strict=False))
