"""What a year takes, run only on request: pytest -m benchmark tests/benchmarks -s."""

import sys
import time

import pytest

from service.quotes.commute import CommuteAsk, build_commute
from service.quotes.year import YearAsk, build_year
from service.specs import Ask, Journey, Leg, Weather

pytestmark = pytest.mark.benchmark
LEGS = Journey(legs=(Leg(3000.0, 11.0, 0.0015), Leg(20_000.0, 22.0, 0.0001)))


def say(what, figure, budget):
    print(f"\n{what:<68} {figure:>16}   budget {budget}", file=sys.stderr)


def cpu_s(work):
    work()
    start_s = time.process_time()
    work()
    return time.process_time() - start_s


@pytest.mark.parametrize("journey", [LEGS, Journey(cycle="wltc_class3b")], ids=["legs", "wltc"])
@pytest.mark.parametrize("car", ["compact-plug-in", "mid-electric-sedan"])
def test_a_commute_and_a_year(catalogue, car, journey):
    ask, place = Ask(catalogue.vehicle(car), journey, Weather(293.15)), catalogue.places["helsinki"]
    commute_s = cpu_s(lambda: build_commute(CommuteAsk(ask, place), catalogue))
    year_s = cpu_s(lambda: build_year(YearAsk(ask, place, trips_per_day=2), catalogue))
    what = f"{car}, {journey.cycle or 'legs'}, CPU of both threads"
    say(f"commute through the year: {what}", f"{commute_s:.2f} s", "1.5 s")
    say(f"journey by month: {what}", f"{year_s:.2f} s", "0.5 s")
    assert commute_s < 6  # loose bounds: machines differ
    assert year_s < 2
