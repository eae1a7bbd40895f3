"""Climate normals: complete, described place by place, and possible under the sun."""

import math
import tomllib

import pytest

from service.catalogue import data_folder, load_catalogue
from service.units import KWH_J, celsius_from_kelvin

PLACES = load_catalogue().places
ABOUT = tomllib.loads((data_folder() / "places.toml").read_text("utf-8"))
SOLAR_CONSTANT_W_M2 = 1361.0  # WMO
MIDDLE_DAY = (17, 47, 75, 105, 135, 162, 198, 228, 258, 288, 318, 344)  # day of mean declination, Klein 1977


def top_of_air_j_m2_day(latitude_deg, day):
    """Daily irradiation of a level surface above the air; textbook formula (Duffie and Beckman, chapter 1)."""
    latitude, declination = math.radians(latitude_deg), math.radians(23.45 * math.sin(2 * math.pi * (284 + day) / 365))
    sunset = math.acos(min(max(-math.tan(latitude) * math.tan(declination), -1), 1))
    share = math.cos(latitude) * math.cos(declination) * math.sin(sunset) + sunset * math.sin(latitude) * math.sin(
        declination
    )
    return 86_400 / math.pi * SOLAR_CONSTANT_W_M2 * (1 + 0.033 * math.cos(2 * math.pi * day / 365)) * share


def named(group):
    return [place for part in ABOUT[group].values() for place in part["places"]]


def test_sixty_places():
    assert len(PLACES) == 60
    assert len({place.name for place in PLACES.values()}) == 60


@pytest.mark.parametrize("place", PLACES.values(), ids=PLACES)
def test_twelve_plausible_months(place):
    assert len(place.coldest_k) == len(place.warmest_k) == len(place.relative_humidity) == 12
    assert len(place.wind_m_s) == len(place.sun_j_m2_day) == 12
    for coldest_k, warmest_k in zip(place.coldest_k, place.warmest_k, strict=True):
        assert 2 < warmest_k - coldest_k < 22  # span seen over all stations
        assert celsius_from_kelvin(coldest_k) > -40
        assert celsius_from_kelvin(warmest_k) < 45
    assert all(value is None or 0.1 <= value <= 1 for value in place.relative_humidity)
    assert all(value is None or 0 < value < 12 for value in place.wind_m_s)


def test_winter_falls_where_it_should():
    for place in PLACES.values():
        if abs(place.latitude_deg) > 30:
            january, july = place.warmest_k[0], place.warmest_k[6]
            assert (january < july) == (place.latitude_deg > 0), place.id


def test_every_place_has_one_source_of_temperature():
    assert sorted(named("temperature")) == sorted(PLACES)


def test_humidity_stands_where_a_source_is_named():
    known = [place.id for place in PLACES.values() if None not in place.relative_humidity]
    assert sorted(named("humidity") + named("humidity_wind_sun")) == sorted(known)
    assert len(known) == 45


@pytest.mark.parametrize("quantity", ["wind_m_s", "sun_j_m2_day"])
def test_wind_and_sun_stand_where_a_source_is_named(quantity):
    known = [place.id for place in PLACES.values() if None not in getattr(place, quantity)]
    assert sorted(named("humidity_wind_sun")) == sorted(known)
    assert len(known) == 14


def test_unknown_is_unknown_in_all_months():
    for place in PLACES.values():
        for values in (place.relative_humidity, place.wind_m_s, place.sun_j_m2_day):
            assert values.count(None) in (0, 12)


def test_sun_is_within_the_published_clearness():
    # clearness index 0.26 to 0.73 over the 168 station months; 0.01 for the choice of day
    index = [
        sun / top_of_air_j_m2_day(place.latitude_deg, day)
        for place in PLACES.values()
        for sun, day in zip(place.sun_j_m2_day, MIDDLE_DAY, strict=True)
        if sun is not None
    ]
    assert len(index) == 168
    assert 0.25 < min(index) < 0.27
    assert 0.72 < max(index) < 0.74


def test_helsinki_january_is_in_si():
    # WMO Climatological Standard Normals 1991-2020, as printed in the table: the file's own first row of the place
    rows = (data_folder() / "places.csv").read_text("utf-8").splitlines()
    cells = next(row for row in rows if row.startswith("helsinki,")).split(",")
    helsinki = PLACES["helsinki"]
    assert celsius_from_kelvin(helsinki.coldest_k[0]) == pytest.approx(float(cells[7]))
    assert helsinki.relative_humidity[0] == pytest.approx(float(cells[9]) / 100)


def test_chicago_sun_is_in_joules():
    # NREL TMY3, Chicago O'Hare: mean global irradiance of the year 161 W/m²
    chicago = PLACES["chicago"]
    days = (31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31)
    mean_w_m2 = sum(sun * day for sun, day in zip(chicago.sun_j_m2_day, days, strict=True)) / 365 / 86_400
    assert mean_w_m2 == pytest.approx(161, abs=0.6)
    assert max(chicago.sun_j_m2_day) < 12 * KWH_J
