"""Hourly weather as it arrives: a table of times and temperatures → the twelve months of a year, and every bad row.

Columns  time and temperature; humidity, wind and sunshine where known. Units stand in the names. Times carry an
         offset, or are in the zone that is named; days are days of that zone.
Months   mean of the daily minima and of the daily maxima, over days with at least `HOURS_OF_A_DAY` different hours, all
         years of the file together; the sun over those days, too, for a file of daylight hours alone would double it;
         means of humidity and wind over all hours.
Source   monthly normals are means of daily extremes: WMO-No. 1203, 2017.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import UTC, date, datetime
from itertools import pairwise
from zoneinfo import ZoneInfo

import numpy as np

from service.errors import BadInput, BadInputs, ErrorRow
from service.intake.columns import figures_of, told
from service.intake.quantities import SHARE, SPEED, TEMPERATURE, Quantity, Texts, missing
from service.intake.table_file import read_table
from service.intake.times import DAY, times_of
from service.intake.track import checked_zone
from service.trips.fixes import forward
from service.trips.recorded import Dropped
from service.units import HOUR_S

__all__ = ["LARGEST_FILE", "MOST_HOURS", "Hours", "Month", "WeatherRead", "read_weather_file"]

LARGEST_FILE = 3 * 1024 * 1024  # bytes
MOST_HOURS = 90_000  # ten years
HOURS_OF_A_DAY = 20  # of 24: an extreme is rarely missed by fewer gaps; own choice
MOMENT = Texts("moment", ("time", "timestamp", "datetime", "date time", "utc time", "local time", "hour"))
WARMTH = Quantity(
    "temperature_c",
    ("temperature", "temp", "air temperature", "air temp", "outside", "outside temperature", "outside temp"),
    TEMPERATURE, -60.0, 60.0, "°C", needed=True, may_be_empty=False,
)  # fmt: skip
MOISTURE = Quantity("humidity_pct", ("humidity", "relative humidity", "rel humidity", "rh"), SHARE, 0.0, 100.0, "%")
KNOT_M_S = 1852 / 3600  # the international nautical mile an hour
WINDS = {**SPEED, "kn": (KNOT_M_S, 0.0), "kt": (KNOT_M_S, 0.0), "knots": (KNOT_M_S, 0.0)}
WIND = Quantity("wind_m_s", ("wind", "wind speed", "windspeed"), WINDS, 0.0, 90.0, "m/s")
SUN = Quantity(
    "sun_w_m2",
    ("sun", "sunshine", "global irradiance", "irradiance", "ghi", "solar radiation", "global radiation", "radiation"),
    {"w/m2": (1.0, 0.0), "w/m²": (1.0, 0.0), "kw/m2": (1000.0, 0.0)}, -20.0, 1500.0, "W/m²",
)  # fmt: skip


@dataclass(frozen=True, eq=False, slots=True)
class Hours:
    """Good rows in order, shape (n,). The rest is NaN where a cell was empty, None where there is no such column."""

    time_s: np.ndarray  # since 1970, universal time
    temperature_c: np.ndarray
    humidity_pct: np.ndarray | None = None
    wind_m_s: np.ndarray | None = None
    sun_w_m2: np.ndarray | None = None


@dataclass(frozen=True, slots=True)
class Month:
    """Means of one month; None where the file does not tell."""

    month: int
    days: int  # whole ones
    low_c: float | None
    high_c: float | None
    humidity_pct: float | None
    wind_m_s: float | None
    sun_j_m2_day: float | None


@dataclass(frozen=True, slots=True)
class WeatherRead:
    """The file, its months, and what became of its rows."""

    hours: Hours
    months: tuple[Month, ...]
    rows_read: int
    dropped: tuple[Dropped, ...]
    passed_over: tuple[str, ...]
    notes: tuple[str, ...]
    errors: tuple[ErrorRow, ...]


def read_weather_file(content: bytes, zone: str | None = None) -> WeatherRead:
    """Read a file of hours.

    Args:
        zone: IANA name: of times without an offset, and of the days; None: days of universal time.
    Errors: `BadInputs` for what is no such table, or one without a good row; `BadInput` for the zone.
    """
    zone = checked_zone(zone)
    table = read_table(content, LARGEST_FILE, MOST_HOURS)
    found = figures_of(table, (WARMTH, MOISTURE, WIND, SUN), (MOMENT, DAY))
    if not {"moment", "day"} & set(found.texts):
        raise BadInputs([missing(MOMENT, f"row {table.header.number}"), *found.faults])
    times = times_of(found, zone, dated=True)
    time_s = times.seconds
    faults, good = [*found.faults, *times.faults], np.isfinite(time_s)
    found, time_s = found.where(good), time_s[good]
    kept = forward(time_s) if len(time_s) else np.zeros(0, bool)
    dropped = Dropped("its time is not after the one before", tuple(found.rows[~kept].tolist()))
    found, time_s = found.where(kept), time_s[kept]
    if not len(time_s):
        raise BadInputs([BadInput("table", 0, "no row can be used", "mend the rows that are named"), *faults])
    hours = Hours(time_s, **found.values)
    notes = times.notes or (() if zone else ("No time zone was named: days are those of universal time.",))
    months = months_of(hours, zone)
    faults += unknown_months(months)
    gone = (dropped,) if dropped.rows else ()
    return WeatherRead(hours, months, found.rows_read, gone, found.passed_over, notes, told(faults))


def months_of(hours: Hours, zone: str | None) -> tuple[Month, ...]:
    """January to December."""
    clock = ZoneInfo(zone) if zone else UTC
    local = [datetime.fromtimestamp(second, clock) for second in hours.time_s.tolist()]
    dates = [moment.date() for moment in local]
    numbers = np.array([day.month for day in dates])
    days, whole = whole_days(dates, np.floor(hours.time_s / HOUR_S))
    extremes = [(dates[first].month, *_ends(hours.temperature_c[first:after])) for first, after in days]
    return tuple(month_of(number, extremes, numbers == number, whole, hours) for number in range(1, 13))


def whole_days(dates: Sequence[date], clock_hours: np.ndarray) -> tuple[list[tuple[int, int]], np.ndarray]:
    """Days with enough hours: first row and the one after the last; and a mask of their rows."""
    starts = [0, *(k for k in range(1, len(dates)) if dates[k] != dates[k - 1]), len(dates)]
    days = [
        (first, after)
        for first, after in pairwise(starts)
        if len(np.unique(clock_hours[first:after])) >= HOURS_OF_A_DAY
    ]
    mask = np.zeros(len(dates), bool)
    for first, after in days:
        mask[first:after] = True
    return days, mask


def month_of(
    number: int, extremes: list[tuple[int, float, float]], inside: np.ndarray, whole: np.ndarray, hours: Hours
) -> Month:
    """One month.

    Args:
        extremes: month, lowest and highest of each whole day.
        inside, whole: rows of this month; of whole days.
    """
    lows = [low for month, low, _ in extremes if month == number]
    highs = [high for month, _, high in extremes if month == number]
    sun_w_m2 = _mean(hours.sun_w_m2, inside & whole)
    return Month(
        month=number,
        days=len(lows),
        low_c=float(np.mean(lows)) if lows else None,
        high_c=float(np.mean(highs)) if highs else None,
        humidity_pct=_mean(hours.humidity_pct, inside),
        wind_m_s=_mean(hours.wind_m_s, inside),
        sun_j_m2_day=None if sun_w_m2 is None else max(sun_w_m2, 0.0) * 24 * HOUR_S,
    )


def _ends(temperature_c: np.ndarray) -> tuple[float, float]:
    return float(temperature_c.min()), float(temperature_c.max())


def _mean(values: np.ndarray | None, inside: np.ndarray) -> float | None:
    if values is None:
        return None
    known = values[inside & np.isfinite(values)]
    return float(known.mean()) if len(known) else None


def unknown_months(months: tuple[Month, ...]) -> list[BadInput]:
    """Months without a whole day: a year cannot be answered with them open."""
    return [
        BadInput(f"month {month.month}", None, "there is no whole day of it",
                 f"give at least {HOURS_OF_A_DAY} hours of one of its days, or type its low and high")
        for month in months if month.low_c is None
    ]  # fmt: skip
