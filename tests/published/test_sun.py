"""Clear-sky irradiance and day length against published figures."""

import math

import pytest

from service.trips.sun import clear_sky_w_m2, declination_rad, elevation_rad, sunrise_hour


@pytest.mark.parametrize(("zenith_deg", "w_m2"), [(20, 969.0), (45, 714.2), (60, 487.9), (75, 226.3)])
def test_haurwitz(zenith_deg, w_m2):
    # Haurwitz 1945 as computed with pvlib 0.16.1: 969.0, 714.2, 487.9, 226.3 W/m² at 20, 45, 60, 75° from the zenith
    assert clear_sky_w_m2(math.radians(90 - zenith_deg)) == pytest.approx(
        w_m2, abs=0.06
    )  # 714.2502 is printed as 714.2


def test_declination_at_the_solstices():
    # obliquity of the ecliptic 23.44° (Astronomical Almanac); Cooper's formula has 23.45
    assert math.degrees(declination_rad(172)) == pytest.approx(23.44, abs=0.02)
    assert math.degrees(declination_rad(355)) == pytest.approx(-23.44, abs=0.02)


@pytest.mark.parametrize(("latitude_deg", "day_of_year", "hours"), [(0, 80, 12.0), (45, 172, 15.43), (60, 355, 5.51)])
def test_day_length_without_refraction(latitude_deg, day_of_year, hours):
    # cos ω = −tan φ·tan δ with δ ±23.45°: 45° N 115.7°, 60° N 41.3° (spherical astronomy, worked by hand)
    assert 2 * (12 - sunrise_hour(latitude_deg, day_of_year)) == pytest.approx(hours, abs=0.02)


def test_noon_height_of_the_sun():
    # φ 41.98° N, 21 June: 90 − 41.98 + 23.45 = 71.47°
    assert math.degrees(elevation_rad(41.98, 172, 12)) == pytest.approx(71.47, abs=0.01)
