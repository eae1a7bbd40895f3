"""Where the sun stands, and what it gives on level ground.

Scope    solar time throughout: at 12 h the sun is highest. No refraction, no shade, no clouds; `clear_share` of a month
         is how much of the clear-sky sum its clouds leave.
Symbols  z  angle from the zenith; elevation is its complement
Source   declination: Cooper 1969; hour angle and elevation: spherical astronomy, any solar textbook; clear sky:
         Haurwitz 1945, GHI = 1098·cos z·exp(−0.059/cos z), W/m²; a month's typical day: Klein 1977. Forms from memory,
         clear-sky values checked in tests/published/test_sun.py.
"""

import math
from functools import lru_cache

__all__ = [
    "MONTH_DAYS",
    "clear_share",
    "clear_sky_j_m2_day",
    "clear_sky_w_m2",
    "declination_rad",
    "elevation_rad",
    "sunrise_hour",
]

TILT_RAD = math.radians(23.45)  # of the Earth's axis, Cooper 1969
HAURWITZ_W_M2, HAURWITZ_DECAY = 1098.0, 0.059  # Haurwitz 1945
MONTH_DAYS = (17, 47, 75, 105, 135, 162, 198, 228, 258, 288, 318, 344)  # day of the year, Klein 1977
HOUR_S = 3600.0
STEPS_A_DAY = 96  # quarter hours: the sum of a day is within 0.1 % of finer ones


def declination_rad(day_of_year: float) -> float:
    """Height of the noon sun over the equator's, rad; 1 January is day 1.

    >>> round(math.degrees(declination_rad(172)), 2), round(math.degrees(declination_rad(81)), 2)
    (23.45, 0.0)
    """
    return TILT_RAD * math.sin(2 * math.pi * (284 + day_of_year) / 365)


def elevation_rad(latitude_deg: float, day_of_year: float, solar_hour: float) -> float:
    """Angle of the sun over the horizon, rad; negative at night.

    Args:
        latitude_deg: degrees north, −90 to 90.
        solar_hour: 12 when the sun is highest.

    >>> round(math.degrees(elevation_rad(40.0, 81, 12.0)), 1)
    50.0
    """
    latitude, declination = math.radians(latitude_deg), declination_rad(day_of_year)
    hour_angle = math.pi / 12 * (solar_hour - 12)
    level = math.cos(latitude) * math.cos(declination) * math.cos(hour_angle)
    return math.asin(max(-1.0, min(1.0, math.sin(latitude) * math.sin(declination) + level)))


def sunrise_hour(latitude_deg: float, day_of_year: float) -> float:
    """Solar hour at which the sun comes over the horizon; 0 where it never sets, 12 where it never rises.

    >>> sunrise_hour(80.0, 172), sunrise_hour(80.0, 355), round(sunrise_hour(50.0, 81), 2)
    (0.0, 12.0, 6.0)
    """
    cosine = -math.tan(math.radians(latitude_deg)) * math.tan(declination_rad(day_of_year))
    return 12 - 12 / math.pi * math.acos(max(-1.0, min(1.0, cosine)))


def clear_sky_w_m2(elevation: float) -> float:
    """Global irradiance on level ground under a clear sky, W/m²; 0 at night.

    Args:
        elevation: of the sun, rad.

    >>> round(clear_sky_w_m2(math.radians(30)), 1)
    487.9
    """
    cosine = math.sin(elevation)
    return 0.0 if cosine <= 0 else HAURWITZ_W_M2 * cosine * math.exp(-HAURWITZ_DECAY / cosine)


@lru_cache(maxsize=2048)
def clear_sky_j_m2_day(latitude_deg: float, day_of_year: float) -> float:
    """Sum of a clear day on level ground, J/m²."""
    hours = (24 * (step + 0.5) / STEPS_A_DAY for step in range(STEPS_A_DAY))
    powers = (clear_sky_w_m2(elevation_rad(latitude_deg, day_of_year, hour)) for hour in hours)
    return sum(powers) * 24 * HOUR_S / STEPS_A_DAY


def clear_share(sun_j_m2_day: float, latitude_deg: float, day_of_year: float) -> float:
    """A day's measured sum over that of a clear sky, 0 to 1.25; 0 where the sun never rises.

    High and dry places exceed the clear-sky formula by some per cent; what is beyond 1.25 is no sun.
    """
    clear_j_m2 = clear_sky_j_m2_day(latitude_deg, day_of_year)
    return 0.0 if clear_j_m2 <= 0 else min(sun_j_m2_day / clear_j_m2, 1.25)
