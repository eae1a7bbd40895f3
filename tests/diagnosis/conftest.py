from dataclasses import replace

import pytest

from service.diagnosis.bench import bench_for, distance_m, drive
from service.diagnosis.causes import changed
from service.diagnosis.complaint import Complaint
from service.diagnosis.verdict import check_complaint, completed
from service.specs import Ask, Journey, Leg, Start, Weather

KM_H = 1 / 3.6
MIXED = Journey(legs=(Leg(2000.0, 50 * KM_H, 0.001), Leg(10_000.0, 80 * KM_H), Leg(2000.0, 50 * KM_H, 0.001)))
MILD = Weather(293.15, 0.6, 3.0, 100.0)
COLD = Weather(266.45, 0.8, 3.0, 0.0)


@pytest.fixture(scope="session")
def complain(catalogue):
    """A whole complaint, nothing left open: complain("mid-electric-sedan", 300e3, COLD, odometer_m=50e6)."""

    def make(car, reported_m, weather=MILD, journey=MIXED, start=None, **known):
        ask = Ask(catalogue.vehicles[car], journey, weather, start=start or Start())
        return Complaint(ask, reported_m, **{"odometer_m": 40e6} | known)

    return make


@pytest.fixture(scope="session")
def bench(catalogue, values):
    """Bench and completed complaint."""

    def make(complaint):
        whole, _ = completed(complaint, catalogue)
        return bench_for(whole, catalogue, values), whole

    return make


@pytest.fixture(scope="session")
def check(catalogue):
    return lambda complaint: check_complaint(complaint, catalogue)


@pytest.fixture(scope="session")
def with_fault(bench, catalogue):
    """The complaint of a typical car that has one fault: its distance is what the model gives with that row changed."""

    def make(complaint, cause, size):
        made, whole = bench(complaint)
        metres = distance_m(drive([changed(made, whole, cause, size)], catalogue))[0]
        return replace(complaint, reported_m=float(metres))

    return make
