"""Workshop logs (all invented): sums at the terminals, units by header, every bad row told."""

import csv
import io
import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from service.diagnosis.drive_log import summary_of
from service.errors import BadInputs
from service.intake.drive_log import read_drive_log

NAMES = "time_s,speed_km_h,pack_kw,state_of_charge_pct,outside_c"


def log(rows, names=NAMES):
    return read_drive_log("\n".join([names, *rows]).encode())


def refused(content):
    with pytest.raises(BadInputs) as caught:
        read_drive_log(content)
    return [(row.field, row.message) for row in caught.value.rows()]


def test_an_hour_at_a_steady_speed_adds_up():
    found = log(f"{second},72,9,{90 - second * 0.005},-5" for second in range(3601))
    sums = summary_of(found.log)
    assert sums.distance_m == pytest.approx(72_000)
    assert sums.net_j == pytest.approx(9 * 3.6e6)
    assert (sums.charge_start, sums.charge_end) == pytest.approx((0.90, 0.72))
    assert sums.usable_j == pytest.approx(9 * 3.6e6 / 0.18)
    assert sums.outside_k == pytest.approx(268.15)
    assert (sums.duration_s, sums.missing_s, sums.interval_s) == (3600, 0, 1)


def test_braking_comes_back_and_is_told_apart():
    sums = summary_of(log(["0,50,10,,", "10,50,10,,", "20,0,-10,,"]).log)
    assert sums.out_j == pytest.approx(100e3 + 50e3)
    assert sums.in_j == pytest.approx(50e3)
    assert sums.usable_j is None
    assert sums.charge_start is None


def test_volts_and_amps_in_miles_and_fahrenheit_are_the_same_drive():
    names = "Elapsed (min);Vehicle speed (mph);Battery voltage (V);Battery current (A);SoC (%);Ambient (°F)"
    rows = [
        f"{second / 60:.6f};44,738726;360;25;{90 - second * 0.005:.3f};23".replace(".", ",") for second in range(601)
    ]
    one = summary_of(log(rows, names).log)
    other = summary_of(log(f"{second},72,9,{90 - second * 0.005},-5" for second in range(601)).log)
    for name in ("distance_m", "out_j", "charge_end", "outside_k", "duration_s"):
        assert getattr(one, name) == pytest.approx(getattr(other, name), rel=1e-4)


def test_gaps_count_for_nothing_and_are_told():
    sums = summary_of(log(["0,72,9,90,", "5,72,9,,", "605,72,9,60,", "610,72,9,,"]).log)
    assert (sums.distance_m, sums.missing_s) == (pytest.approx(200), 600)
    assert sums.usable_j is None  # energy of the gap is not known


def test_every_bad_row_is_told_and_the_others_are_kept():
    found = log(["0,0,1,90,", "1,x,1,90,", "2,10,5000,90,", "3,10,1,101,", "3.5,10,,90,", "4,10,1,,99", "0,1,1,,",
                 "5,10,1,,"])  # fmt: skip
    assert [row.field for row in found.errors] == [
        "row 3, speed_km_h", "row 4, pack_kw", "row 5, state_of_charge_pct", "row 6, pack_kw", "row 7, outside_c",
    ]  # fmt: skip
    assert all(row.remedy for row in found.errors)
    assert found.dropped[0].rows == (8,)
    assert (found.rows_read, found.log.time_s.tolist()) == (8, [0, 5])


def test_a_log_without_power_or_time_is_told():
    assert refused(b"colour\nred\n")[0][0] == "row 1, speed"
    fields = [field for field, _ in refused(b"speed_km_h,pack_v\n5,360\n")]
    assert fields == ["row 1, time", "row 1, pack_kw"]
    assert refused(b"time_s,speed_km_h,pack_kw\n1,5,1\n")[0][1] == "1 rows can be used"


@settings(max_examples=100, deadline=None)
@given(
    rows=st.lists(st.tuples(st.floats(0.1, 9), st.floats(0, 200), st.floats(-300, 300), st.floats(0, 100)),
                  min_size=2, max_size=15),
    delimiter=st.sampled_from(",;\t"),
    mark=st.sampled_from(".,"),
    encoding=st.sampled_from(["utf-8", "utf-8-sig", "utf-16", "utf-16-be", "cp1252"]),
)  # fmt: skip
def test_a_log_is_read_back_as_it_was_written(rows, delimiter, mark, encoding):
    text = io.StringIO()
    writer = csv.writer(text, delimiter=delimiter)
    writer.writerow(["Time (s)", "Speed (km/h)", "Pack power (kW)", "SoC (%)", "Außen °C"])
    time_s = 0.0
    for step_s, *cells in rows:
        time_s += step_s
        writer.writerow([f"{cell:.5f}".replace(".", mark) for cell in (time_s, *cells)] + [""])
    found = read_drive_log(text.getvalue().encode(encoding))
    assert found.errors == ()
    assert found.log.speed_m_s * 3.6 == pytest.approx([row[1] for row in rows], abs=1e-5)
    assert found.log.terminals_w / 1000 == pytest.approx([row[2] for row in rows], abs=1e-5)
    assert found.log.charge * 100 == pytest.approx([row[3] for row in rows], abs=1e-5)


@settings(max_examples=200, deadline=None)
@given(
    st.one_of(st.binary(max_size=200), st.binary(max_size=100).map(f"{NAMES}\n0,1,1,1,1\n1,1,1,1,1\n".encode().__add__))
)
def test_nothing_raises_but_our_own_errors(content):
    try:
        sums = summary_of(read_drive_log(content).log)
    except BadInputs as error:
        assert error.faults != []  # noqa: PT017
    else:
        assert math.isfinite(sums.net_j)
        assert np.isfinite(sums.distance_m)
