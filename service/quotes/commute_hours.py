"""The air at the hours when people drive: from a month's mean daily minimum and maximum to a temperature by the clock.

Scope    one mean day a month; `day_scatter_k` is how far its days differ. The clock is the sun's: a time zone's offset
         and summer time are not known here. Humidity and wind are the month's means at every hour.
Method   minimum at sunrise, maximum at 14 h, a half cosine between them and another through the night.
Source   shape: de Wit, Goudriaan and van Laar 1978 (cosines from sunrise to 14 h), from memory. Against two typical
         years: tests/published/test_commute_hours.py.
"""

import math
from collections.abc import Mapping
from dataclasses import replace

from service.specs import Place, Weather
from service.trips.sun import MONTH_DAYS, clear_share, clear_sky_w_m2, elevation_rad, sunrise_hour

__all__ = ["COLDEST_DAY_K", "MONTHS", "WARMEST_DAY_K", "at_hour_k", "day_scatter_k", "moved", "weather_at"]

MONTHS = 12
WARMEST_HOUR = 14.0  # solar; de Wit and others 1978
EARLIEST_RISE, LATEST_RISE = 4.0, 9.0  # where the sun hardly sets or rises a day keeps some shape: own choice
COLD_MONTH_K, WARM_MONTH_K = 273.15, 298.15  # mean of a month between whose ends the scatter of its days falls
COLDEST_DAY_K, WARMEST_DAY_K = 233.15, 323.15  # the legal box of a question


def at_hour_k(coldest_k: float, warmest_k: float, rise_hour: float, hour: float) -> float:
    """Temperature at an hour of the mean day, K.

    Args:
        coldest_k, warmest_k: mean daily minimum and maximum.
        rise_hour: of the sun, solar time; held to 4…9 h.
        hour: solar time, 0 to 24.

    >>> at_hour_k(270.0, 280.0, 6.0, 6.0), at_hour_k(270.0, 280.0, 6.0, 14.0), round(at_hour_k(270.0, 280.0, 6.0, 10.0))
    (270.0, 280.0, 275)
    """
    rise = min(max(rise_hour, EARLIEST_RISE), LATEST_RISE)
    middle_k, half_k = 0.5 * (coldest_k + warmest_k), 0.5 * (warmest_k - coldest_k)
    if rise <= hour <= WARMEST_HOUR:
        return middle_k - half_k * math.cos(math.pi * (hour - rise) / (WARMEST_HOUR - rise))
    since = (hour - WARMEST_HOUR) % 24
    return middle_k + half_k * math.cos(math.pi * since / (24 - WARMEST_HOUR + rise))


def weather_at(place: Place, month: int, hour: float, usual_clear_share: float, surface: str = "dry") -> Weather:
    """The mean day of a month at an hour; humidity and wind stay unknown where the place does not tell them.

    Args:
        month: 0 for January.
        hour: solar time, 0 to 24.
        usual_clear_share: of a clear sky's sum, where the place has no figures of the sun.
    """
    day, latitude_deg = MONTH_DAYS[month], place.latitude_deg
    sun_j_m2 = place.sun_j_m2_day[month]
    share = usual_clear_share if sun_j_m2 is None else clear_share(sun_j_m2, latitude_deg, day)
    rise = sunrise_hour(latitude_deg, day)
    return Weather(
        ambient_k=at_hour_k(place.coldest_k[month], place.warmest_k[month], rise, hour),
        relative_humidity=place.relative_humidity[month],
        wind_m_s=place.wind_m_s[month],
        sun_w_m2=share * clear_sky_w_m2(elevation_rad(latitude_deg, day, hour)),
        altitude_m=place.elevation_m or 0.0,
        surface=surface,
    )


def day_scatter_k(place: Place, month: int, values: Mapping[str, float]) -> float:
    """Standard deviation of the days of a month about its mean at one hour, K: more in cold months.

    Source: rows day_scatter_* of data/typical.csv; two continental stations, so places by the sea scatter less.
    """
    mean_k = 0.5 * (place.coldest_k[month] + place.warmest_k[month])
    warmth = min(max((mean_k - COLD_MONTH_K) / (WARM_MONTH_K - COLD_MONTH_K), 0.0), 1.0)
    cold_k, warm_k = values["day_scatter_cold_k"], values["day_scatter_warm_k"]
    return cold_k + warmth * (warm_k - cold_k)


def moved(weather: Weather, by_k: float) -> Weather:
    """The same day so much warmer, within what a question may ask."""
    return replace(weather, ambient_k=min(max(weather.ambient_k + by_k, COLDEST_DAY_K), WARMEST_DAY_K))
