"""Health from the odometer: a club's lower line, 92 % at 50 000 km and 80 % at 200 000 km (needs of technicians)."""

from itertools import pairwise

import numpy as np
import pytest

from service.diagnosis.ageing import central_health, club_health, sampled_health


@pytest.mark.parametrize(("km", "health"), [(0, 1.0), (50_000, 0.92), (200_000, 0.80), (125_000, 0.86)])
def test_the_clubs_line(km, health):
    assert club_health(km * 1e3) == pytest.approx(health)


def test_one_car_in_twenty_falls_short_of_the_clubs_line():
    normal = np.random.default_rng(7).standard_normal(200_000)
    for km in (50_000, 200_000):
        health = sampled_health(km * 1e3, normal)
        assert np.mean(health < club_health(km * 1e3)) == pytest.approx(0.05, abs=0.002)
        assert np.median(health) == pytest.approx(central_health(km * 1e3), abs=1e-3)
        assert health.max() < 1.0


def test_health_only_falls_and_never_leaves_the_models_range():
    km = np.linspace(0, 1e6, 101)
    for line in (club_health, central_health):
        health = [line(each * 1e3) for each in km]
        assert all(later <= earlier for earlier, later in pairwise(health))
        assert min(health) >= 0.5
    assert sampled_health(1e9, np.array([-8.0]))[0] == 0.5
