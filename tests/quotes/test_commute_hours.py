"""Temperature, sun and scatter by hour and month."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from service.quotes.commute_hours import at_hour_k, day_scatter_k, moved, weather_at
from service.specs import Weather


@given(st.floats(230, 300), st.floats(0, 25), st.floats(0, 12), st.floats(0, 24))
def test_no_hour_leaves_the_span_of_its_day(coldest_k, span_k, rise, hour):
    assert coldest_k - 1e-9 <= at_hour_k(coldest_k, coldest_k + span_k, rise, hour) <= coldest_k + span_k + 1e-9


@given(st.floats(0, 12), st.floats(0, 23.9))
def test_the_curve_has_no_jump(rise, hour):
    assert abs(at_hour_k(270, 280, rise, hour + 0.05) - at_hour_k(270, 280, rise, hour)) < 0.3


def test_midnight_closes_the_curve():
    assert at_hour_k(270, 280, 7, 0) == pytest.approx(at_hour_k(270, 280, 7, 24))


def test_the_coldest_hour_is_sunrise_and_the_warmest_two_in_the_afternoon(catalogue):
    place = catalogue.places["chicago"]
    by_hour = [weather_at(place, 0, hour / 4, 0.75).ambient_k for hour in range(96)]
    assert by_hour.index(min(by_hour)) / 4 == pytest.approx(7.4, abs=0.3)  # sunrise at 42° N in mid January, solar time
    assert by_hour.index(max(by_hour)) / 4 == 14


def test_the_sun_of_a_day_adds_up_to_the_place_s_own_figure(catalogue):
    place = catalogue.places["denver"]
    for month in (0, 5):
        day = [weather_at(place, month, (k + 0.5) / 4, 0.75).sun_w_m2 for k in range(96)]
        assert sum(day) * 900 == pytest.approx(place.sun_j_m2_day[month], rel=1e-3)


def test_what_a_place_does_not_tell_stays_unknown_and_nights_are_dark(catalogue):
    weather = weather_at(catalogue.places["anchorage"], 0, 7.5, 0.75)
    assert weather.relative_humidity is None
    assert weather.wind_m_s is None
    assert weather.sun_w_m2 == 0


def test_south_of_the_equator_july_is_winter(catalogue):
    place = catalogue.places["buenos-aires"]
    january, july = (weather_at(place, month, 18.5, 0.75) for month in (0, 6))
    assert january.sun_w_m2 > july.sun_w_m2 == 0
    assert january.ambient_k > july.ambient_k


def test_cold_months_scatter_more(catalogue, values):
    chicago, bangkok = catalogue.places["chicago"], catalogue.places["bangkok"]
    assert day_scatter_k(chicago, 0, values) == values["day_scatter_cold_k"]  # mean below freezing
    assert day_scatter_k(bangkok, 3, values) == values["day_scatter_warm_k"]
    assert values["day_scatter_warm_k"] < day_scatter_k(chicago, 3, values) < values["day_scatter_cold_k"]


def test_a_day_stays_within_what_may_be_asked():
    assert moved(Weather(240.0), -20).ambient_k == 233.15
    assert moved(Weather(315.0), 20).ambient_k == 323.15
