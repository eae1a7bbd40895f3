"""A journey through the year, and the calendar behind it."""

from dataclasses import replace

import numpy as np
import pytest

from service.errors import BadInput
from service.quotes.band import scatter
from service.quotes.build import build_quote
from service.quotes.calendar import Pattern
from service.quotes.car_and_days import crossed_draws, day_normals
from service.quotes.money import Factors, Prices
from service.quotes.year import YearAsk, build_year
from service.specs import Ask, Journey, Kind, Leg, Weather
from service.units import KWH_J

LEGS = Journey(legs=(Leg(3000.0, 11.0, 0.0015), Leg(17_000.0, 22.0)))


@pytest.fixture(scope="module")
def question(catalogue):
    ask = Ask(catalogue.vehicle("compact-plug-in"), LEGS, Weather(293.15))
    return YearAsk(ask, catalogue.places["chicago"], trips_per_day=2)


@pytest.fixture(scope="module")
def year(question, catalogue):
    return build_year(question, catalogue)


def test_a_month_s_middle_is_the_single_quote_of_that_day(year, question, catalogue):
    for month in (year.months[0], year.months[6]):
        quote = build_quote(replace(question.ask, weather=month.weather, band=False), catalogue, with_engine=False)
        assert month.range_m.p50 == quote.range_m.p50


def test_winter_is_shorter_and_takes_more(year):
    january, july = year.months[0], year.months[6]
    assert january.range_m.p50 < july.range_m.p50
    assert january.tally.wall_j.p50 > july.tally.wall_j.p50
    assert january.tally.electric_days.p50 <= january.tally.days
    assert january.range_m.p10 < january.range_m.p50 < january.range_m.p90


def test_the_year_is_the_sum_of_its_months(year):
    tallies = [month.tally for month in year.months]
    assert year.year.days == pytest.approx(sum(each.days for each in tallies)) == pytest.approx(46 * 5)
    for name in ("electric_days", "wall_j", "fuel_m3", "cost", "co2_kg"):
        assert getattr(year.year, name).p50 == pytest.approx(sum(getattr(each, name).p50 for each in tallies))
    assert year.year.distance_m == pytest.approx(46 * 5 * year.needed_m)


def test_money_and_co2_are_prices_and_factors_times_what_is_used(question, catalogue):
    asked = replace(
        question,
        ask=replace(question.ask, journey=Journey(legs=(Leg(40_000.0, 25.0),))),
        prices=Prices("", 0.25 / KWH_J, None, 1800.0),
        factors=Factors(0.3 / KWH_J, 2300.0, 6e-8),
    )
    year = build_year(asked, catalogue)
    fuel_m3, kwh = year.year.fuel_m3.p50, year.year.wall_j.p50 / KWH_J
    assert fuel_m3 == pytest.approx(6e-8 * year.year.distance_m * (1 - year.year.electric_share.p50))
    assert year.year.cost.p50 == pytest.approx(0.25 * kwh + 1800 * fuel_m3)
    assert year.year.co2_kg.p50 == pytest.approx(0.3 * kwh + 2300 * fuel_m3)
    # 80 km a day, 230 days, 6 l/100 km: 1104 l; at 1.80 a litre 1987.2; 2.3 kg a litre 2539.2 kg
    assert year.fuel_only.fuel_m3 == pytest.approx(1.104)
    assert year.fuel_only.cost == pytest.approx(1987.2)
    assert year.fuel_only.co2_kg == pytest.approx(2539.2)


def test_a_battery_electric_car_burns_nothing_and_lists_no_fuel(question, catalogue):
    asked = replace(question, ask=replace(question.ask, vehicle=catalogue.vehicle("small-electric-hatch")))
    year = build_year(asked, catalogue)
    assert year.fuel_only is None
    assert year.year.fuel_m3.p50 == 0
    assert not any("fuel" in each.name for each in year.assumptions)


def test_a_car_without_a_plug_is_refused(question, catalogue):
    car = replace(question.ask.vehicle, kind=Kind.HYBRID)
    with pytest.raises(BadInput, match="no plug"):
        build_year(replace(question, ask=replace(question.ask, vehicle=car)), catalogue)


def test_driving_days_of_a_pattern():
    pattern = Pattern((1, 3), 40)
    assert sum(pattern.days_in(month, 40) for month in range(12)) == pytest.approx(80)
    assert pattern.days_until_next() == (2, 5)  # Tuesday to Thursday to Tuesday
    assert sum(pattern.sampled_gaps()) % 7 == 0
    assert len(pattern.sampled_gaps()) >= 16
    assert Pattern((0, 1, 2, 3, 4, 5, 6)).days_until_next() == (1,) * 7


def test_days_of_a_car_share_its_factors_and_differ_in_the_day_s(question, catalogue, values):
    draws = crossed_draws(question.ask, values, 6, 20)
    assert draws.shape == (7, 20)
    for name in ("usable", "heat", "speed"):
        assert np.all(draws[name] == draws[name][:, :1])
        assert np.all(draws[name][0] == 1)
    assert np.ptp(draws.wind, axis=0).max() == 0  # the day's alone
    assert np.ptp(draws.tyre, axis=1).min() > 0


def test_cars_and_days_together_scatter_like_a_quote_s_draws(question, values):
    draws, whole = crossed_draws(question.ask, values, 200, 200), scatter(question.ask, values)
    for name in ("tyre", "air", "heat"):
        assert np.log(draws[name][1:]).std() == pytest.approx(whole[name], rel=0.02)


def test_the_days_of_a_month_hold_every_quantile_once():
    normal = np.sort(day_normals(20))
    assert normal.mean() == pytest.approx(0, abs=1e-12)
    assert len(np.unique(normal)) == 20
