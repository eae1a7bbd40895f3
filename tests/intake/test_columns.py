"""Quantities by the names and units of their columns, and times by their clocks; every bad cell is told."""

import csv
import io
from datetime import UTC, datetime
from zoneinfo import ZoneInfo

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from service.errors import BadInputs
from service.intake.columns import MOST_TOLD, figures_of, told
from service.intake.moments import moments_of
from service.intake.quantities import SECONDS, SHARE, SPEED, TEMPERATURE, Quantity, Texts
from service.intake.table_text import read_table_text

TIME = Quantity("time_s", ("time", "elapsed"), SECONDS, 0, 1e6, "s", needed=True, may_be_empty=False)
PACE = Quantity("speed_m_s", ("speed",), SPEED, 0, 70, "km/h", 1 / 3.6, needed=True)
OUTSIDE = Quantity("outside_c", ("outside", "ambient temperature"), TEMPERATURE, -60, 60, "°C")
CHARGE = Quantity("charge_pct", ("state_of_charge", "soc"), SHARE, 0, 100, "%")
ALL = (TIME, PACE, OUTSIDE, CHARGE)


def read(text, texts=(), encoding="utf-8"):
    return figures_of(read_table_text(text.encode(encoding), 1_000_000, 10_000), ALL, texts)


def refused(text):
    with pytest.raises(BadInputs) as caught:
        read(text)
    return [(row.field, row.message) for row in caught.value.rows()]


@pytest.mark.parametrize(
    ("names", "cells", "expected"),
    [
        ("time_s,speed_km_h,outside_c,state_of_charge_pct", "1,36,-5,80", (1, 10, -5, 80)),
        ("Time (s),Speed [mph],Outside (°F),SoC %", "1,22.369363,14,80", (1, 10, -10, 80)),
        ("Elapsed min;Speed, m/s;Ambient temperature °C;SOC (%)", "0,5;10;-5,5;80,5", (30, 10, -5.5, 80.5)),
        ("time_h\tspeed_kph\toutside_k\tsoc_pct", "0.5\t36\t268.15\t80", (1800, 10, -5, 80)),
    ],
)
def test_a_quantity_is_the_same_in_any_unit(names, cells, expected):
    found = read(f"{names}\n{cells}\n")
    assert [found.values[each.key][0] for each in ALL] == pytest.approx(expected)
    assert found.faults == ()


def test_every_bad_cell_is_told_and_good_rows_are_kept():
    found = read("time_s,speed_km_h,outside_c,colour\n0,10,,red\n1,fast,99,\nx,1e9,,\n3,30,5,\n,5,,\n5,5,5,5,5\n")
    assert found.rows.tolist() == [2, 5]
    assert np.isnan(found.values["outside_c"][0])
    assert found.passed_over == ("colour",)
    assert [row.field for row in told(found.faults)] == [
        "row 3, speed_km_h", "row 3, outside_c", "row 4, time_s", "row 4, speed_km_h", "row 6, time_s", "row 7",
    ]  # fmt: skip
    assert all(row.remedy for row in told(found.faults))
    assert "252 km/h" in told(found.faults)[3].message
    assert (found.rows_read, found.faults[0].row.value) == (6, "fast")


def test_a_missing_doubled_or_unitless_column_is_refused():
    assert refused("time_s\n1\n") == [("row 1, speed", "the column is missing")]
    assert refused("time_s,speed\n1,2\n") == [("row 1, speed", "its unit is not named")]
    assert refused("time_s,speed_km_h,speed_mph\n1,2,3\n")[0][0] == "row 1, speed_mph"
    assert refused("time_s,speed_km_h\n")[0][1] == "there is no row below the names"


def test_two_decimal_marks_in_one_table_are_told():
    found = read("time_s;speed_km_h\n0;1,5\n1;1.5\n2;3\n")
    assert [row.field for row in told(found.faults)] == ["row 3, speed_km_h"]
    assert read("time_s;speed_km_h\n0;1,5\n1;2,5\n").faults == ()


def test_a_file_of_faults_is_told_by_its_first():
    rows = told(read("time_s,speed_km_h\n" + "x,1\n" * 500).faults)
    assert len(rows) == MOST_TOLD + 1
    assert "300 more" in rows[-1].message


figures = st.floats(0, 250, allow_nan=False).map(lambda number: round(number, 4))


@settings(max_examples=100, deadline=None)
@given(
    speeds=st.lists(figures, min_size=1, max_size=20),
    delimiter=st.sampled_from(",;\t"),
    mark=st.sampled_from(".,"),
    encoding=st.sampled_from(["utf-8", "utf-8-sig", "utf-16", "utf-16-le", "cp1252"]),
    unit=st.sampled_from([("(km/h)", 3.6), ("[m/s]", 1.0), ("mph", 1 / 0.44704)]),
)
def test_what_a_recorder_writes_is_read_back(speeds, delimiter, mark, encoding, unit):
    words, per_m_s = unit
    text = io.StringIO()
    writer = csv.writer(text, delimiter=delimiter)
    writer.writerow(["Time (s)", f"Speed {words}", "Außen °C"])
    for second, speed in enumerate(speeds):
        # a comma is certain between commas only where it cannot part thousands
        figure = f"{speed / 3.6 * per_m_s:.6f}".replace(".", mark)
        writer.writerow([second, figure, ""])
    found = read(text.getvalue(), encoding=encoding)
    assert found.faults == ()
    assert found.values["speed_m_s"] == pytest.approx(np.array(speeds) / 3.6, abs=1e-6)


@settings(max_examples=200, deadline=None)
@given(content=st.one_of(st.binary(max_size=300), st.binary(max_size=60).map(b"time_s,speed_km_h\n1,2\n".__add__)))
def test_nothing_raises_but_our_own_errors(content):
    try:
        found = figures_of(read_table_text(content, 1000, 100), ALL, (Texts("note", ("note",)),))
    except BadInputs as error:
        assert error.faults != []  # noqa: PT017
    else:
        assert len(found.rows) + len(found.faults) >= 1


def seconds(*texts, zone=None):
    return moments_of(texts, range(2, 2 + len(texts)), "time", zone)


def at(*moment):
    return datetime(*moment, tzinfo=UTC).timestamp()


def test_times_with_an_offset_need_no_zone():
    found, faults = seconds("2026-01-15T07:00:00Z", "2026-01-15 08:00:01+01:00", "20260115T070002+0000")
    assert found.tolist() == [at(2026, 1, 15, 7) + k for k in range(3)]
    assert faults == []


def test_local_times_follow_the_clock_of_their_zone():
    found, faults = seconds("15.7.2026 07:00", "2026-01-15T07:00", zone="Europe/Berlin")
    assert found.tolist() == [at(2026, 7, 15, 5), at(2026, 1, 15, 6)]
    assert faults == []


def test_the_hour_that_comes_twice_and_the_one_that_is_left_out():
    # Berlin, 25 October 2026: 03:00 becomes 02:00; 29 March 2026: 02:00 becomes 03:00
    twice = ["2026-10-25 01:30", "2026-10-25 02:30", "2026-10-25 02:30", "2026-10-25 03:30"]
    found, faults = seconds(*twice, zone="Europe/Berlin")
    assert np.diff(found).tolist() == [3600, 3600, 3600]
    assert faults == []
    found, faults = seconds("2026-03-29 02:30", zone="Europe/Berlin")
    assert np.isnan(found[0])
    assert "put forward" in faults[0].row.message


@pytest.mark.parametrize(
    ("texts", "expected"),
    [
        (["13/04/2026 7:00", "03/04/2026 07:00"], (2026, 4, 3, 7)),
        (["4/13/2026 07:00", "4/3/2026 07:00:00 AM"], (2026, 4, 3, 7)),
        (["04-13-2026 07:00", "04-03-2026 7 pm"], (2026, 4, 3, 19)),
        (["2026/4/3 12:05 a.m."], (2026, 4, 3, 0, 5)),
        (["2026-04-03 12:05 PM"], (2026, 4, 3, 12, 5)),
        (["02.04.2026 24:00"], (2026, 4, 3)),
        (["2026-04-03T07:00:00 +00:00"], (2026, 4, 3, 7)),
        (["2026-04-03 7:00 UTC"], (2026, 4, 3, 7)),
        (["3.4.2026"], (2026, 4, 3)),
    ],
)
def test_the_ways_in_which_people_write_times(texts, expected):
    found, faults = seconds(*texts, zone="UTC")
    assert faults == []
    assert found[-1] == at(*expected)


def test_dates_that_contradict_each_other_are_told_each():
    found, faults = seconds("13/04/2026 07:00", "04/13/2026 07:00", zone="UTC")
    assert len(faults) == 2
    assert np.isnan(found).all()


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("03/04/2026 07:00", "may be day/month"),
        ("2026-04-03 13:05 PM", "is not a time"),
        ("2026-04-03 24:30Z", "is not a time"),
        ("9999-12-31 24:00Z", "is not a time"),
        ("soon", "is not a time"),
        ("", "is not a time"),
        ("2026-01-15 07:00", "time zone"),
        ("1066-10-14T09:00Z", "year 1066"),
        ("2026-02-30T00:00Z", "is not a time"),
    ],
)
def test_what_is_no_certain_time_is_told(text, words):
    found, faults = seconds(text)
    assert np.isnan(found[0])
    assert words in faults[0].row.message
    assert faults[0].row.field == "row 2, time"
    assert faults[0].row.remedy


@settings(max_examples=200, deadline=None)
@given(st.text(max_size=30), st.sampled_from([None, "Europe/Berlin", "Pacific/Apia"]))
def test_any_text_is_a_time_or_a_fault(text, zone):
    found, faults = seconds(text, zone=zone)
    assert np.isnan(found[0]) == (len(faults) == 1)


@settings(max_examples=200, deadline=None)
@given(
    st.datetimes(datetime(1971, 1, 1), datetime(2100, 1, 1), timezones=st.just(UTC)),
    st.sampled_from(["Europe/Berlin", "America/New_York", "Australia/Lord_Howe", "Asia/Kathmandu"]),
)
def test_a_time_written_with_its_offset_comes_back(moment, zone):
    moment = moment.replace(microsecond=0)
    found, faults = seconds(moment.astimezone(ZoneInfo(zone)).isoformat())
    assert (found[0], faults) == (moment.timestamp(), [])
