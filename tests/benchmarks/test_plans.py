"""What a charging plan costs in time, run only on request: pytest -m benchmark tests/benchmarks -s.

CPU times of the slowest and the median of several nights, as the other benchmarks print them; everything is warm.
"""

import sys
import time
from datetime import datetime
from zoneinfo import ZoneInfo

import numpy as np
import pytest

from service.charging.tariff import MonthSoFar
from service.quotes.charging_plan import PlanAsk, build_charging_plan
from service.specs import Ask, Journey, Start, Weather

pytestmark = pytest.mark.benchmark
ZONE = ZoneInfo("America/New_York")
CARS = ("compact-plug-in", "small-electric-hatch", "mid-electric-sedan", "electric-delivery-van")
CIRCUITS = ("na-household-15a", "na-wall-unit-30a", "eu-three-phase-16a")


def nights(catalogue, tariff, departs):
    """Plans of every car on every circuit, mild and cold, from a fifth and from three fifths: CPU seconds and gaps."""
    arrives_s = datetime(2026, 1, 13, 17, 10, tzinfo=ZONE).timestamp()
    departs_s = departs.timestamp()
    found = []
    for car in CARS:
        for circuit in CIRCUITS:
            for kelvin in (293.15, 263.15):
                for charge in (0.2, 0.6):
                    ask = Ask(catalogue.vehicle(car), Journey(), Weather(kelvin), start=Start(charge),
                              circuit=catalogue.circuit(circuit))  # fmt: skip
                    asked = PlanAsk(ask, 1.0, arrives_s, departs_s, catalogue.tariff(tariff), MonthSoFar())
                    start_s = time.process_time()
                    plans = build_charging_plan(asked, catalogue).plans
                    if plans.feasible:
                        found.append((time.process_time() - start_s, plans.gap))
    return np.array(found)


@pytest.mark.parametrize(
    ("tariff", "departs", "budget_s"),
    [
        ("summer-peak-usd", datetime(2026, 1, 14, 7, tzinfo=ZONE), 0.6),
        ("depot-demand-usd", datetime(2026, 1, 14, 7, tzinfo=ZONE), 1.0),
    ],
)
def test_plans_of_a_night(catalogue, tariff, departs, budget_s):
    nights(catalogue, tariff, departs)
    seconds, gaps = nights(catalogue, tariff, departs).T
    told = f"{np.median(seconds):.2f} / {seconds.max():.2f} s CPU"
    print(
        f"\nplan on {tariff}, median / slowest of {len(seconds)} nights{told:>32}   budget {budget_s} s",
        file=sys.stderr,
    )
    print(f"largest gap {100 * gaps.max():.3f} %", file=sys.stderr)
    assert np.median(seconds) < budget_s
    assert gaps.max() < 1e-3
