"""Wind: mean of out and back."""

import math

import pytest

from service.physics.air import wind_at_car_m_s
from service.physics.road_load import air_drag_n

SPEED, WIND = 100 / 3.6, 5.0


def test_out_and_back():
    # Example 26: 100 km/h, 5 m/s: head 1.3924, tail 0.6724, mean of both 1.0324
    head, tail = (1 + WIND / SPEED) ** 2, (1 - WIND / SPEED) ** 2
    assert (head, tail) == pytest.approx((1.3924, 0.6724), abs=6e-5)
    factor = air_drag_n(0.4, SPEED, WIND) / air_drag_n(0.4, SPEED, 0.0)
    assert factor == pytest.approx(1.0324, abs=6e-5)
    assert factor == pytest.approx((head + tail) / 2, rel=1e-12)


def test_a_little_above_the_constant_area_mean():
    # uniform direction with constant C_d·A: 1.02425; drag area that grows in yaw makes up the rest (common practice)
    mean = sum(
        math.hypot(SPEED + WIND * math.cos(a), WIND * math.sin(a)) * (SPEED + WIND * math.cos(a)) / SPEED**2
        for a in (2 * math.pi * (k + 0.5) / 3600 for k in range(3600))
    ) / 3600  # fmt: skip
    assert mean == pytest.approx(1.02425, abs=6e-6)
    assert mean < air_drag_n(0.4, SPEED, WIND) / air_drag_n(0.4, SPEED, 0.0)


def test_meets_smoothly_where_the_wind_is_as_fast():
    below, above = air_drag_n(1.0, 5 - 1e-6, 5.0), air_drag_n(1.0, 5 + 1e-6, 5.0)
    assert above == pytest.approx(below, rel=1e-6)
    assert air_drag_n(1.0, 0.0, 5.0) == 0.0


def test_met_wind_is_stronger_than_at_the_car():
    # power law, exponent 1/7, 10 m to 0.5 m: 0.65; 0.6–0.75 in use (common practice)
    assert wind_at_car_m_s(10.0) == pytest.approx(10 * (0.5 / 10) ** (1 / 7), abs=0.05)
