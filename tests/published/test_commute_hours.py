"""Temperature and sun at commuters' hours against two hourly typical years. Compared once; nothing was moved for it.

Source   NREL TMY3 (2008), US Government data, public domain: stations 725300 (Chicago O'Hare, 41.98 N) and 723170
         (Piedmont Triad, 36.10 N). The extract beside this file holds, a row a day, lowest and highest of the 24
         readings, those at 7, 8, 17 and 18 h local standard time, and the sun. In degrees Celsius and W/m².
Misses   the daily minimum is not always at sunrise nor the maximum at 14 h (fronts), so the curve, which gives their
         means to those hours, is 1.3 and 2.6 K too cold in the morning and 0.9 and 1.7 K too warm at 17–18 h in the
         yearly mean; single months up to 3.2 K. Colder winter mornings err on the careful side.
"""

import csv
from datetime import date, timedelta
from pathlib import Path

import numpy as np
import pytest

from service.quotes.commute_hours import at_hour_k, day_scatter_k
from service.specs import Place
from service.trips.sun import MONTH_DAYS, clear_share, clear_sky_w_m2, elevation_rad, sunrise_hour

LATITUDE = {"chicago": 41.98, "greensboro": 36.10}
HOURS = {"morning": (7.5, ("at_07_c", "at_08_c")), "evening": (17.5, ("at_17_c", "at_18_c"))}


@pytest.fixture(scope="module")
def years():
    """Columns by station, shape (365,), and the month of each day."""
    with (Path(__file__).parent / "commute_hours.csv").open() as file:
        rows = list(csv.DictReader(file))
    month = np.array([(date(2026, 1, 1) + timedelta(days=day)).month - 1 for day in range(365)])
    columns = [name for name in rows[0] if name != "station"]
    return month, {
        station: {name: np.array([float(row[name]) for row in rows if row["station"] == station]) for name in columns}
        for station in LATITUDE
    }


def errors_k(years, station, when):
    """Curve less readings, mean of each month."""
    month, by_station = years
    data, (hour, names) = by_station[station], HOURS[when]
    found = []
    for m in range(12):
        here = month == m
        low_k, high_k = data["low_c"][here].mean() + 273.15, data["high_c"][here].mean() + 273.15
        curve_k = at_hour_k(low_k, high_k, sunrise_hour(LATITUDE[station], MONTH_DAYS[m]), hour)
        found.append(curve_k - 273.15 - np.mean([data[name][here].mean() for name in names]))
    return np.array(found)


@pytest.mark.parametrize(
    ("station", "when", "mean_k", "worst_k"),
    [  # what the comparison found, rounded; the pins hold it there
        ("chicago", "morning", -2.6, 3.3),
        ("chicago", "evening", 1.7, 2.7),
        ("greensboro", "morning", -1.3, 2.5),
        ("greensboro", "evening", 0.9, 2.6),
    ],
)
def test_the_curve_against_readings(years, station, when, mean_k, worst_k):
    found = errors_k(years, station, when)
    assert found.mean() == pytest.approx(mean_k, abs=0.06)
    assert np.abs(found).max() <= worst_k


@pytest.mark.parametrize("station", LATITUDE)
def test_the_curve_keeps_the_shape_of_the_year(years, station):
    for when in HOURS:
        found = errors_k(years, station, when)
        assert found.std() <= 0.7  # once its bias is known, single months lie within two of these


def test_the_scatter_of_a_month_s_days(years, values):
    # 1 σ of the readings at 7–8 h and 17–18 h about their month's mean; pooled, both stations
    month, by_station = years
    measured, modelled = [], []
    for station, data in by_station.items():
        for m in range(12):
            here = month == m
            low_k, high_k = data["low_c"][here].mean() + 273.15, data["high_c"][here].mean() + 273.15
            place = Place(station, station, "US", LATITUDE[station], 0.0, 0.0, *((k,) * 12 for k in (low_k, high_k)),
                          (None,) * 12, (None,) * 12, (None,) * 12)  # fmt: skip
            for _, names in HOURS.values():
                measured.append(np.mean([data[name][here] for name in names], axis=0).std(ddof=1))
                modelled.append(day_scatter_k(place, m, values))
    assert np.mean(measured) == pytest.approx(4.9, abs=0.05)
    assert np.mean(modelled) == pytest.approx(np.mean(measured), rel=0.05)
    assert np.corrcoef(measured, modelled)[0, 1] > 0.7


@pytest.mark.parametrize(("column", "hour"), [("sun_07_to_08_w_m2", 7.5), ("sun_16_to_17_w_m2", 16.5)])
@pytest.mark.parametrize("station", LATITUDE)
def test_sun_on_the_ground(years, station, column, hour):
    # found: 0 to 115 W/m² off; Greensboro's clock runs 20 min before the sun's, which alone is 60 W/m² at these hours
    month, by_station = years
    data, latitude = by_station[station], LATITUDE[station]
    for m in range(12):
        here, day = month == m, MONTH_DAYS[m]
        share = clear_share(data["sun_wh_m2_day"][here].mean() * 3600, latitude, day)
        modelled = share * clear_sky_w_m2(elevation_rad(latitude, day, hour))
        assert modelled == pytest.approx(data[column][here].mean(), abs=115)
