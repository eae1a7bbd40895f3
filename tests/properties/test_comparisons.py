"""What must always hold between cells: reserve never helps, and a colder month never gains where heat is needed."""

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from service.fleet.answer import Verdict
from service.fleet.ask import ComparisonAsk, Month, Route
from service.fleet.compare import ORDER, compare
from service.specs import Journey, Leg, Weather

BATTERY = ("small-electric-hatch", "mid-electric-sedan", "large-electric-suv", "electric-delivery-van")
LEGS = st.lists(
    st.builds(
        Leg,
        distance_m=st.floats(3000, 15_000),
        speed_m_s=st.floats(8, 30),
        stops_per_m=st.sampled_from([0.0, 0.001]),
    ),
    min_size=1,
    max_size=2,
).map(tuple)
EVER_SO_LITTLE = (
    2e-3  # of the distance: twice the error that skipped laps may make in each (tests/physics/test_laps.py)
)


def asked(catalogue, ids, legs, kelvins, reserve_m=0.0, trips=3):
    months = tuple(Month(f"{kelvin:.3f} K, {k}", Weather(kelvin, 0.7, 3.0, 0.0)) for k, kelvin in enumerate(kelvins))
    vehicles = tuple(catalogue.vehicles[id_] for id_ in ids)
    return ComparisonAsk(vehicles, (Route("one", Journey(legs=legs), trips),), months, reserve_m)


@settings(max_examples=25)
@given(legs=LEGS, kelvin=st.floats(250, 305), trips=st.integers(1, 30), more_m=st.floats(0, 300_000))
def test_more_reserve_never_turns_a_fail_into_a_pass(catalogue, legs, kelvin, trips, more_m):
    question = asked(catalogue, ("compact-plug-in", "mid-electric-sedan"), legs, (kelvin,), 10_000.0, trips)
    before = compare(question, catalogue).cells
    after = compare(replace(question, reserve_m=10_000.0 + more_m), catalogue).cells
    for less, more in zip(before, after, strict=True):
        assert ORDER.index(more.verdict) <= ORDER.index(less.verdict)
        assert more.margin_m <= less.margin_m


@settings(max_examples=25)
@given(legs=LEGS, warm_k=st.floats(258.15, 283.15), colder_k=st.floats(0.5, 15))
def test_a_colder_month_with_heating_never_has_more_margin(catalogue, legs, warm_k, colder_k):
    question = asked(catalogue, BATTERY, legs, (warm_k, warm_k - colder_k))
    cells = compare(question, catalogue).cells
    for warm, cold in zip(cells[::2], cells[1::2], strict=True):
        assert cold.margin_m <= warm.margin_m + EVER_SO_LITTLE * warm.range_m


@pytest.mark.parametrize("id_", BATTERY)
def test_the_properties_are_not_empty(catalogue, id_):
    legs = (Leg(10_000.0, 20.0, 0.001),)
    warm, cold = compare(asked(catalogue, (id_,), legs, (283.15, 263.15)), catalogue).cells
    assert cold.margin_m < 0.9 * warm.margin_m
    (far,) = compare(asked(catalogue, (id_,), legs, (283.15,), 3.0e6), catalogue).cells
    assert (warm.verdict, far.verdict) == (Verdict.PASS, Verdict.FAIL)
