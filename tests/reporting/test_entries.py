"""Catalogue entries in people's units; a car's spec can be asked about again."""

import dataclasses

import pytest

from service.catalogue import load_catalogue
from service.intake.quote import QuoteRequest
from service.reporting.entries import CircuitEntry, CycleEntry, PlaceEntry, VehicleEntry

CATALOGUE = load_catalogue()


@pytest.mark.parametrize("car_id", CATALOGUE.vehicles)
def test_a_listed_car_sent_back_as_spec_is_the_same_car(car_id):
    car = CATALOGUE.vehicles[car_id]
    entry = VehicleEntry.of(car).model_dump(mode="json")
    assert (entry["id"], entry["name"], entry["kind"]) == (car.id, car.name, car.kind)
    question = {"vehicle": {"spec": entry["spec"]}, "journey": {"cycle": "udds"}}
    again = QuoteRequest.model_validate(question).ask(CATALOGUE).vehicle
    assert [*_leaves(again)][1:] == [*_leaves(car)][1:]  # all but the id


def _leaves(node):
    """Every value of a record in order, numbers to seven digits."""
    if dataclasses.is_dataclass(node):
        for each in dataclasses.fields(node):
            yield from _leaves(getattr(node, each.name))
    else:
        yield float(f"{node:.7g}") if isinstance(node, int | float) else node


def test_a_cycle_is_summed_up():
    # 40 CFR part 86 appendix I: UDDS, 1 369 s, 7.45 miles, top 56.7 mph
    entry = CycleEntry.of(CATALOGUE.cycles["udds"])
    assert entry.duration_s == 1369
    assert entry.distance_km == pytest.approx(7.45 * 1.609344, abs=0.01)
    assert entry.top_speed_km_h == pytest.approx(56.7 * 1.609344, abs=0.01)
    assert entry.mean_speed_km_h == pytest.approx(entry.distance_km / 1369 * 3600, rel=1e-3)


def test_circuit_power_counts_every_phase():
    assert CircuitEntry.of(CATALOGUE.circuits["eu-three-phase-16a"]).power_kw == 11.04  # 3 · 230 V · 16 A
    assert CircuitEntry.of(CATALOGUE.circuits["na-household-15a"]).kind == "single_phase"


def test_places_tell_twelve_months_in_peoples_units():
    for place in CATALOGUE.places.values():
        entry = PlaceEntry.of(place)
        assert len(entry.coldest_c) == len(entry.warmest_c) == len(entry.sun_kwh_m2_day) == 12
        assert all(-60 < low < high < 60 for low, high in zip(entry.coldest_c, entry.warmest_c, strict=True))
        assert all(share is None or 0 < share <= 100 for share in entry.humidity_pct)
