"""Prices by the clock and the cost of profiles, against sums done by hand."""

from dataclasses import replace
from datetime import datetime
from itertools import pairwise
from zoneinfo import ZoneInfo

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from service.charging.tariff import MonthSoFar, Stretch, cost_of, price_at, price_steps
from service.specs import DayKind, Tariff, TariffPeriod, TariffTier
from service.units import KWH_J

BERLIN, NEW_YORK = ZoneInfo("Europe/Berlin"), ZoneInfo("America/New_York")
EVERY = tuple(range(1, 13))
ALL = tuple(DayKind)


def period(start_h, end_h, price, days=ALL, months=EVERY):
    return TariffPeriod(months, days, start_h * 3600.0, end_h * 3600.0, price / KWH_J)


def tariff(*periods, zone="Europe/Berlin", **rest):
    return Tariff("t", "", "EUR", zone, periods or (period(0, 24, 0.3),), **rest)


NIGHT = tariff(period(7, 23, 0.36), period(0, 7, 0.2), period(23, 24, 0.2))


def at(zone, *when):
    return datetime(*when, tzinfo=zone).timestamp()


def kwh(steps):
    return np.round(steps.price_per_j * KWH_J, 6).tolist()


def test_price_is_a_step_function_of_the_local_clock():
    steps = price_steps(NIGHT, at(BERLIN, 2026, 1, 12, 18), at(BERLIN, 2026, 1, 13, 8))
    assert kwh(steps) == [0.36, 0.2, 0.36]
    assert np.diff(steps.edges_s).tolist() == [5 * 3600, 8 * 3600, 3600]


# European clocks: forward 29 March 2026, back 25 October 2026 (Directive 2000/84/EC: last Sundays, 01:00 UTC)
@pytest.mark.parametrize(("day", "hours"), [((2026, 3, 28), 7), ((2026, 10, 24), 9), ((2026, 6, 10), 8)])
def test_a_night_of_changed_clocks_has_an_hour_less_or_more(day, hours):
    noon = at(BERLIN, *day, 12)
    steps = price_steps(NIGHT, noon, noon + 22 * 3600)
    assert np.diff(steps.edges_s)[1] == hours * 3600


def test_an_hour_that_comes_twice_is_priced_twice():
    odd = tariff(period(0, 2, 0.1), period(2, 2.5, 0.5), period(2.5, 24, 0.2))
    starts_s = at(BERLIN, 2026, 10, 25, 1)
    steps = price_steps(odd, starts_s, starts_s + 4 * 3600)  # clock: 1, 2, 2 again, 3
    assert kwh(steps) == [0.1, 0.5, 0.2, 0.5, 0.2]
    assert np.diff(steps.edges_s).tolist() == [3600, 1800, 1800, 1800, 5400]


def test_an_hour_that_is_left_out_is_not_priced():
    odd = tariff(period(0, 2, 0.1), period(2, 2.5, 0.5), period(2.5, 24, 0.2))
    starts_s = at(NEW_YORK, 2026, 3, 8, 1)  # US clocks: second Sunday of March, 2 am (15 USC 260a)
    steps = price_steps(replace(odd, zone="America/New_York"), starts_s, starts_s + 2 * 3600)
    assert kwh(steps) == [0.1, 0.2]
    assert np.diff(steps.edges_s).tolist() == [3600, 3600]


def test_seasons_weekends_and_holidays():
    week, free = (DayKind.WEEKDAY,), (DayKind.WEEKEND,)
    it = tariff(
        period(0, 24, 0.4, week, (6, 7, 8)), period(0, 24, 0.3, week, (1, 2, 3, 4, 5, 9, 10, 11, 12)),
        period(0, 24, 0.1, free), holidays=("12-25", "2026-07-08"),
    )  # fmt: skip
    prices = {(7, 7): 0.4, (7, 8): 0.1, (7, 11): 0.1, (1, 13): 0.3, (12, 25): 0.1}
    for (month, day), price in prices.items():
        assert price_at(it, at(BERLIN, 2026, month, day, 12)) * KWH_J == pytest.approx(price)
    own = replace(it, periods=(*it.periods, period(0, 24, 0.05, (DayKind.HOLIDAY,))))
    assert price_at(own, at(BERLIN, 2026, 12, 25, 12)) * KWH_J == pytest.approx(0.05)


def test_cost_of_a_profile_by_hand():
    # 2 kW from 22:30 to 00:30: 1 kWh at 0.36, 3 kWh at 0.20
    starts_s = at(BERLIN, 2026, 1, 12, 22, 30)
    cost = cost_of(replace(NIGHT, daily=0.5), (Stretch(starts_s, starts_s + 7200, 2000.0),))
    assert cost.energy == pytest.approx(1 * 0.36 + 3 * 0.2)
    assert cost.daily == pytest.approx(1.0)  # two days of the clock
    assert cost.total == cost.energy


def test_blocks_of_a_month_begin_anew_with_it():
    # 4 kW for two hours over the turn of the month; 498 kWh before: 2 in the first block, 2 in the second, 4 anew
    blocks = tariff(tiers=(TariffTier(500 * KWH_J, 0.0), TariffTier(None, 0.1 / KWH_J)))
    starts_s = at(BERLIN, 2026, 1, 31, 23)
    cost = cost_of(blocks, (Stretch(starts_s, starts_s + 7200, 4000.0),), MonthSoFar(498 * KWH_J))
    assert cost.tiers == pytest.approx(2 * 0.1)


def test_demand_is_the_highest_quarter_of_an_hour_of_the_clock():
    # 10 min at 6 kW within one quarter: mean 4 kW; from 5 min before a quarter to 5 min after: 2 kW each
    it = tariff(demand_per_w=10 / 1000)
    hour_s = at(BERLIN, 2026, 1, 12, 12)
    assert cost_of(it, (Stretch(hour_s, hour_s + 600, 6000.0),)).demand == pytest.approx(40)
    assert cost_of(it, (Stretch(hour_s + 600, hour_s + 1200, 6000.0),)).demand == pytest.approx(20)
    assert cost_of(it, (Stretch(hour_s, hour_s + 600, 6000.0),), MonthSoFar(peak_w=3000)).demand == pytest.approx(10)
    assert cost_of(it, (Stretch(hour_s, hour_s + 600, 6000.0),), MonthSoFar(peak_w=9000)).demand == 0


@given(
    cuts=st.lists(st.floats(0, 72 * 3600), min_size=2, max_size=6, unique=True),
    day=st.sampled_from([(2026, 3, 28), (2026, 10, 24), (2026, 12, 30), (2026, 7, 3)]),
    watts=st.floats(100, 20_000),
)
def test_cost_adds_up_however_a_profile_is_cut(catalogue, cuts, day, watts):
    for it in catalogue.tariffs.values():
        base = at(ZoneInfo(it.zone), *day)
        edges = [base + cut for cut in sorted(cuts)]
        whole = (Stretch(edges[0], edges[-1], watts),)
        parts = tuple(Stretch(low, high, watts) for low, high in pairwise(edges))
        assert cost_of(it, parts).total == pytest.approx(cost_of(it, whole).total, rel=1e-9, abs=1e-12)
