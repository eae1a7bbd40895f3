"""What a comparison and a complaint take, run only on request: pytest -m benchmark tests/benchmarks -s."""

import sys
import time
from dataclasses import replace

import pytest

from service.diagnosis.complaint import Complaint
from service.diagnosis.verdict import check_complaint
from service.fleet.ask import ComparisonAsk, Route, months_of
from service.fleet.compare import compare
from service.specs import Ask, Journey, Leg, Weather
from service.units import KM_H

pytestmark = pytest.mark.benchmark
ROUTES, VEHICLES = 20, 10


def say(what, figure, budget):
    print(f"\n{what:<68} {figure:>16}   budget {budget}", file=sys.stderr)


def question_of(catalogue):
    """Twenty invented routes, ten vehicles of six kinds, twelve months of a cold place."""
    cars = list(catalogue.vehicles.values())
    vehicles = [replace(cars[n % len(cars)], id=f"car-{n}", mass_kg=cars[n % len(cars)].mass_kg + n) for n in range(10)]
    routes = [
        Route(
            f"route {n}", Journey(legs=(Leg(4000.0 + 900 * n, 45 * KM_H, 0.001), Leg(6000.0 + 1500 * n, 80 * KM_H))), 3
        )
        for n in range(ROUTES)
    ]
    months = months_of(catalogue.places["helsinki"], 294.15)
    return ComparisonAsk(tuple(vehicles), tuple(routes), months, reserve_m=10_000.0)


def test_a_large_comparison(catalogue):
    question = question_of(catalogue)
    compare(replace(question, routes=question.routes[:1]), catalogue)
    done = []
    start_s = time.perf_counter()
    answer = compare(question, catalogue, lambda so_far, whole: done.append((so_far, whole)))
    taken_s = time.perf_counter() - start_s
    assert len(answer.cells) == ROUTES * VEHICLES * 12
    assert done[-1][0] == done[-1][1]
    say("comparison of 20 routes x 10 vehicles x 12 months, wall clock", f"{taken_s:.2f} s", "2 s")
    assert taken_s < 6  # a loose bound: machines differ


def test_a_complaint(catalogue):
    legs = Journey(legs=(Leg(3000.0, 40 * KM_H, 0.0015), Leg(15_000.0, 80 * KM_H)))
    ask = Ask(catalogue.vehicle("compact-plug-in"), legs, Weather(268.15))
    complaint = Complaint(ask=ask, reported_m=31_000.0)
    check_complaint(complaint, catalogue)
    start_s = time.process_time()
    check_complaint(complaint, catalogue)
    taken_s = time.process_time() - start_s
    say("complaint checked, -5 °C, commute legs, CPU", f"{1000 * taken_s:.0f} ms", "150 ms")
    assert taken_s < 0.6
