"""Wind from a known direction: dead ahead, behind, across, and its mean over all directions."""

import math

import pytest

from service.physics.road_load import air_drag_n, drag_in_wind_n

SPEED, WIND = 100 / 3.6, 5.0


def test_ahead_and_behind():
    # Example 26: 100 km/h, 5 m/s: head 1.3924, tail 0.6724
    still = drag_in_wind_n(0.4, SPEED, 0.0, 0.0)
    assert drag_in_wind_n(0.4, SPEED, WIND, 0.0) / still == pytest.approx(1.3924, abs=6e-5)
    assert drag_in_wind_n(0.4, SPEED, WIND, math.pi) / still == pytest.approx(0.6724, abs=6e-5)


def test_the_mean_over_all_directions_is_that_of_wind_from_anywhere():
    angles = (2 * math.pi * (k + 0.5) / 3600 for k in range(3600))
    mean = sum(drag_in_wind_n(0.4, SPEED, WIND, angle) for angle in angles) / 3600
    assert mean == pytest.approx(air_drag_n(0.4, SPEED, WIND), rel=1e-3)  # 1 + (w/v)², common practice


def test_unknown_direction_is_wind_from_anywhere():
    assert drag_in_wind_n(0.4, SPEED, WIND, math.nan) == air_drag_n(0.4, SPEED, WIND)


def test_left_and_right_are_alike_and_a_tailwind_faster_than_the_car_pushes():
    assert drag_in_wind_n(0.4, SPEED, WIND, 1.0) == pytest.approx(drag_in_wind_n(0.4, SPEED, WIND, -1.0))
    assert drag_in_wind_n(0.4, 3.0, 8.0, math.pi) < 0
    assert drag_in_wind_n(0.4, 0.0, 8.0, math.pi / 2) == pytest.approx(0.0, abs=1e-12)
