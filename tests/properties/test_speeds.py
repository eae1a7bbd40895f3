"""What a table of speeds and temperatures must always obey, for every car of the catalogue and many days.

Faster never goes further from 60 km/h on in still air: below, what the cabin and the electronics take for each
kilometre may outweigh the air. Colder never goes further below 15 °C with the heater on. Shorter trips are never
cheaper for each kilometre in the cold. Each with the exceptions that are stated beside it.
"""

from dataclasses import replace
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from service.quotes.speed_table import SpeedAsk, TripKind, speed_table
from service.specs import Ask, Cabin, Climate, Journey, Start, Weather
from service.units import KM_H
from service.units import kelvin_from_celsius as kelvin

IDS = ("compact-plug-in", "family-suv-plug-in", "small-electric-hatch", "mid-electric-sedan", "large-electric-suv",
       "electric-delivery-van")  # fmt: skip
TRIP = TripKind((5e3, 10e3, 20e3), 50 * KM_H, 1e-3)
SPEEDS = tuple(km_h * KM_H for km_h in (60, 80, 100, 120, 130))
EVER_SO_LITTLE = 1 + 2e-3  # the tested error of skipped laps


def table(catalogue, id_, speeds, celsius, weather, **more):
    ask = Ask(catalogue.vehicles[id_], Journey(), weather, band=False, **more)
    return speed_table(SpeedAsk(ask, speeds, tuple(map(kelvin, celsius)), TRIP), catalogue)


days = st.builds(
    Weather,
    ambient_k=st.just(kelvin(20)),
    relative_humidity=st.floats(0, 1),
    wind_m_s=st.just(0.0),
    sun_w_m2=st.floats(0, 300),
    altitude_m=st.floats(0, 2000),
)


@settings(max_examples=15)
@given(id_=st.sampled_from(IDS), weather=days, celsius=st.floats(5, 30), charge=st.floats(0.5, 1))
def test_faster_never_goes_further_in_still_air(catalogue, id_, weather, celsius, charge):
    # with the cabin off; with it on see below. Speeds that are not held are driven at another speed: left out
    found = table(catalogue, id_, SPEEDS, (celsius,), weather, start=Start(charge), cabin=Cabin(Climate.OFF))
    held = [cell for cell in found.cells if not cell.cannot_hold]
    for slow, fast in pairwise(held):
        assert fast.range_m.p50 <= slow.range_m.p50 * EVER_SO_LITTLE


@pytest.mark.parametrize("id_", IDS)
def test_from_eighty_on_faster_never_goes_further_with_the_cabin_on_either(catalogue, id_):
    # hours of heating and cooling shorten with speed, so the best speed rises in great cold and heat: 80 km/h covers it
    weather = Weather(kelvin(20), 0.5, 0.0, 100.0)
    found = table(catalogue, id_, SPEEDS[1:], (-20, -5, 10, 25, 40), weather)
    for day in {cell.ambient_k for cell in found.cells}:
        held = [cell for cell in found.cells if cell.ambient_k == day and not cell.cannot_hold]
        for slow, fast in pairwise(held):
            assert fast.range_m.p50 <= slow.range_m.p50 * EVER_SO_LITTLE


@settings(max_examples=15)
@given(id_=st.sampled_from(IDS), weather=days, warm=st.floats(-5, 15), colder=st.floats(1, 15))
def test_colder_never_goes_further_with_the_heater_on(catalogue, id_, weather, warm, colder):
    found = table(catalogue, id_, (SPEEDS[0], SPEEDS[-1]), (warm, warm - colder), weather)
    slow_warm, fast_warm, slow_cold, fast_cold = found.cells
    for before, after in ((slow_warm, slow_cold), (fast_warm, fast_cold)):
        if not before.cannot_hold and not after.cannot_hold:
            assert after.range_m.p50 <= before.range_m.p50 * EVER_SO_LITTLE


@settings(max_examples=15)
@given(id_=st.sampled_from(IDS), weather=days, celsius=st.floats(-25, 10), windy=st.floats(0, 8))
def test_shorter_trips_are_never_cheaper_in_the_cold(catalogue, id_, weather, celsius, windy):
    found = table(catalogue, id_, SPEEDS[:1], (celsius,), replace(weather, wind_m_s=windy))
    finished = [trip for trip in found.trips if trip.trips_per_charge > 0]
    for short, long in pairwise(finished):
        assert short.battery_j_per_m >= long.battery_j_per_m / EVER_SO_LITTLE
        assert short.trips_per_charge >= long.trips_per_charge
