"""Hours of weather (invented) to months: extremes by local day, every bad row told."""

import math
from datetime import UTC, datetime, timedelta
from zoneinfo import ZoneInfo

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from service.errors import BadInputs
from service.intake.weather_file import read_weather_file

NAMES = "time,temperature_c,humidity_pct,wind_km_h,sun_w_m2"


def a_year(zone="UTC", written=datetime.isoformat):
    """An invented year: 10 °C less 15 in January, ±4 °C by the hour, coldest at 3 h, warmest at 15 h of the clock."""
    clock, moment, rows = ZoneInfo(zone), datetime(2025, 1, 1, tzinfo=ZoneInfo(zone)).astimezone(UTC), [NAMES]
    while (local := moment.astimezone(clock)).year == 2025:
        warmth = (
            10 - 15 * math.cos(2 * math.pi * (local.month - 1) / 12) - 4 * math.cos(math.pi * (local.hour - 3) / 12)
        )
        rows.append(f"{written(local)},{warmth:.2f},80,18,{400 if 8 <= local.hour < 16 else 0}")
        moment += timedelta(hours=1)
    return rows


def read(rows, zone=None):
    return read_weather_file("\n".join(rows).encode(), zone)


def refused(content, zone=None):
    with pytest.raises(BadInputs) as caught:
        read_weather_file(content, zone)
    return caught.value.rows()


@pytest.mark.parametrize("zone", ["UTC", "America/Los_Angeles", "Asia/Kathmandu"])
def test_a_year_of_hours_becomes_twelve_months(zone):
    found = read(a_year(zone), zone)
    assert found.errors == ()
    january, july = found.months[0], found.months[6]
    assert (january.low_c, january.high_c) == pytest.approx((-9, -1), abs=0.01)
    assert (july.low_c, july.high_c) == pytest.approx((21, 29), abs=0.01)
    assert (january.days, found.months[1].days) == (31, 28)
    assert january.humidity_pct == pytest.approx(80)
    assert january.wind_m_s == pytest.approx(5)
    assert january.sun_j_m2_day == pytest.approx(400 * 8 * 3600)


def test_the_sun_of_daylight_hours_alone_is_not_taken_for_a_days():
    rows = [NAMES, *(row for row in a_year()[1:] if not row.endswith(",0"))]
    found = read(rows)
    assert found.months[0].low_c is None
    assert found.months[0].sun_j_m2_day is None
    assert found.months[0].humidity_pct == pytest.approx(80)


def test_local_times_without_an_offset_are_the_same_year():
    rows = a_year("Europe/Berlin", lambda local: local.strftime("%d.%m.%Y %H:%M"))
    found = read(rows, "Europe/Berlin")
    assert (found.errors, found.dropped) == ((), ())  # the autumn hour that comes twice is not lost
    assert found.months[9].days == 31
    assert len(found.hours.time_s) == 8760


def test_times_that_name_no_zone_are_days_as_they_are_written():
    found = read(a_year(written=lambda local: local.strftime("%Y-%m-%d %H:%M")))
    assert found.months == read(a_year(), "UTC").months
    assert "No time zone is named" in found.notes[0]


def test_a_row_without_a_zone_among_others_is_told():
    found = read([*a_year(), "2026-01-01 00:00,5,,,"])
    assert [row.field for row in found.errors] == ["row 8762, time"]
    assert "time zone" in found.errors[0].remedy


def test_bad_rows_and_open_months_are_told_and_the_rest_is_kept():
    rows = a_year()[: 1 + 31 * 24]
    rows[5] = rows[5].replace(",", ",x", 1)
    rows[9] = rows[8]
    found = read(rows, "UTC")
    assert found.errors[0].field == "row 6, temperature_c"
    assert [row.field for row in found.errors[1:]] == [f"month {number}" for number in range(2, 13)]
    assert found.dropped[0].rows == (10,)
    assert found.months[0].days == 31  # 22 hours of that day are enough
    assert found.months[1].low_c is None


def test_days_with_few_hours_do_not_count():
    found = read([NAMES, *(f"2025-01-01T{hour:02d}:00Z,5,,," for hour in range(19))], "UTC")
    assert found.months[0].days == 0


def test_fahrenheit_and_knots():
    rows = ["Time;Temp (°F);Wind speed (kn)", *(f"2025-01-01T{hour:02d}:00Z;14;10" for hour in range(24))]
    january = read(rows, "UTC").months[0]
    assert january.low_c == pytest.approx(-10)
    assert january.wind_m_s == pytest.approx(5.1444, abs=1e-4)  # 1 kn = 1852/3600 m/s


@settings(max_examples=150, deadline=None)
@given(
    st.one_of(
        st.binary(max_size=200), st.binary(max_size=100).map(f"{NAMES}\n2025-01-01T00:00Z,5,,,\n".encode().__add__)
    )
)
def test_nothing_raises_but_our_own_errors(content):
    try:
        found = read_weather_file(content, "Europe/Berlin")
    except BadInputs as error:
        assert error.faults != []  # noqa: PT017
    else:
        assert len(found.months) == 12
