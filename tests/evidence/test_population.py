"""The population: 200 different, plausible cars, the same each time."""

from dataclasses import replace

import numpy as np
import pytest

from service.specs import Cabin, Climate, Heating, Journey, Weather
from tests.evidence.effects import ERA_2014, ERA_PLUG_IN, ERA_RECENT, ERAS
from tests.evidence.population import CARS, GLIDER_KG, drive, population


@pytest.mark.parametrize("era", ERAS.values(), ids=ERAS)
def test_cars_lie_within_their_priors(era, catalogue):
    cars = population(era, catalogue)
    assert len(cars) == CARS
    for car in cars:
        low, high = era.usable_kwh[car.size]
        assert low <= car.battery.usable_j / 3.6e6 <= high
        assert car.kerb_kg > 0.8 * GLIDER_KG[car.size]
        assert 0.005 < car.crr < 0.014
        assert 0.4 < car.values["tyre_share"] < 1
    for size, share in era.sizes.items():
        assert sum(car.size == size for car in cars) == pytest.approx(share * CARS, abs=1)
    pumps = sum(car.heating is Heating.HEAT_PUMP for car in cars)
    assert pumps == pytest.approx(era.heat_pumps * CARS, abs=1)


def test_each_axis_is_spread_evenly(catalogue):
    # Latin hypercube: the factors' normals are centred and of unit width
    cars = population(ERA_RECENT, catalogue)
    normals = np.array([list(car.normals.values()) for car in cars])
    assert np.abs(normals.mean(axis=0)).max() < 0.02
    assert np.abs(normals.std(axis=0) - 1).max() < 0.03
    middle = catalogue.typical_entry("crr").value
    assert np.median([car.crr for car in cars]) == pytest.approx(middle, rel=5e-3)


def test_the_same_cars_each_time(catalogue):
    first, again = (population(ERA_PLUG_IN, catalogue)[7] for _ in range(2))
    assert (first.kerb_kg, first.crr, first.normals) == (again.kerb_kg, again.crr, again.normals)


def test_cold_shortens_each_car_and_no_car_drives_as_another(catalogue):
    days = ((Weather(296.15), Cabin(climate=Climate.OFF)), (Weather(266.15), Cabin()))
    ends = np.array([
        drive(car, Journey(cycle="udds"), days, catalogue)[1].distance_m for car in population(ERA_2014, catalogue)[:8]
    ])  # fmt: skip
    assert (ends[:, 1] < ends[:, 0]).all()
    assert len(np.unique(ends[:, 0])) == 8


def test_a_cars_factors_are_drawn(catalogue):
    # a car whose heat factor is large loses more in the cold than the same car with a small one
    car = population(ERA_2014, catalogue)[0]
    days = ((Weather(266.15), Cabin()),)
    small, large = (
        drive(replace(car, normals=dict(car.normals, heat=z)), Journey(cycle="udds"), days, catalogue)[1].heating_j[0]
        for z in (-1.0, 1.0)
    )
    assert large > 1.2 * small
