"""Recorded drives from GPX and CSV: read, cleaned, reported by row; what is dangerous or no drive is refused."""

import math
import re

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from service.errors import BadInput, BadInputs
from service.intake.errors import faults_of
from service.intake.journey import JourneyIn, TrackIn
from service.intake.track import LARGEST_FILE, MOST_POINTS, read_track
from service.trips.track import track_trace

START = 1_768_460_400  # 2026-01-15T07:00:00Z
METRE_DEG = 1 / 110_574
SPEEDS = [0.0] * 5 + [float(k) for k in range(16)] + [15.0] * 120 + [float(k) for k in range(15, -1, -1)] + [0.0] * 5
HEAD = (
    '<?xml version="1.0" encoding="UTF-8"?>\n<gpx version="1.1" xmlns="http://www.topografix.com/GPX/1/1"><trk><trkseg>'
)
TAIL = "</trkseg></trk></gpx>"


def stamp(second):
    return np.datetime_as_string(np.datetime64(START + second, "s")) + "Z"


def invented_gpx(speeds=SPEEDS, spoil=None):
    """An invented drive north from the equator on a road that climbs 3 %."""
    along, points = 0.0, []
    for second, speed in enumerate([0.0, *speeds]):
        along += speed
        point = {"lat": f"{along * METRE_DEG:.8f}", "lon": "10.5", "ele": f"{100 + 0.03 * along:.1f}",
                 "time": stamp(second)}  # fmt: skip
        point |= (spoil or {}).get(second + 1, {})
        below = f"<ele>{point['ele']}</ele><time>{point['time']}</time>"
        points.append(f'<trkpt lat="{point["lat"]}" lon="{point["lon"]}">{below}</trkpt>')
    return (HEAD + "\n".join(points) + TAIL).encode()


def refused(content, zone=None):
    with pytest.raises((BadInput, BadInputs)) as caught:
        read_track(content, zone)
    rows = caught.value.rows()
    assert all(row.remedy for row in rows)
    return rows


def test_a_gpx_track_becomes_a_journey():
    found = read_track(invented_gpx())
    assert found.errors == ()
    assert found.distance_m == pytest.approx(sum(SPEEDS), rel=0.002)
    assert found.climb_m == pytest.approx(0.03 * sum(SPEEDS), rel=0.1)
    assert found.recorded.points == len(SPEEDS) + 1
    track = found.journey.track
    assert max(track.speed_m_s) == pytest.approx(15, abs=0.1)
    assert track.heading_rad[60] == pytest.approx(0, abs=0.02)
    assert track_trace(track).distance_m == pytest.approx(found.distance_m, rel=0.005)


def test_every_bad_point_is_told_and_the_others_are_kept():
    spoil = {20: {"lat": "95"}, 30: {"time": ""}, 40: {"ele": "high"}, 50: {"lat": "1.0"}, 60: {"time": stamp(10)}}
    found = read_track(invented_gpx(spoil=spoil))
    assert [row.field for row in found.errors] == ["point 20, lat", "point 30, time", "point 40, ele"]
    assert "no time" in found.errors[1].message
    assert [each.rows for each in found.recorded.dropped] == [(60,), (50,)]
    assert found.distance_m == pytest.approx(sum(SPEEDS), rel=0.005)


def as_csv(names, rows, delimiter=",", mark="."):
    lines = [names, *(delimiter.join(str(cell).replace(".", mark) for cell in row) for row in rows)]
    return "\n".join(lines).encode()


def test_positions_of_a_table_are_the_same_drive():
    along = np.concatenate([[0.0], np.cumsum(SPEEDS)])
    rows = [(k, f"{m * METRE_DEG:.8f}", 10.5, f"{100 + 0.03 * m:.1f}") for k, m in enumerate(along)]
    table = read_track(as_csv("time_s;lat;lon;elevation (m)", rows, ";", ","))
    other = read_track(invented_gpx())
    assert table.distance_m == pytest.approx(other.distance_m, rel=1e-6)
    assert table.journey.track.speed_m_s == pytest.approx(other.journey.track.speed_m_s, abs=1e-3)


def test_speeds_of_a_table_in_miles_and_local_time():
    rows = [(f"2026-01-15 08:00:{k:02d}", f"{2.2369362921 * speed:.4f}") for k, speed in enumerate(SPEEDS[:60])]
    content = as_csv("Timestamp,Vehicle speed (mph)", rows)
    found = read_track(content, "Europe/Berlin")
    assert found.distance_m == pytest.approx(np.trapezoid(SPEEDS[:60]), rel=1e-3)
    assert found.recorded.trips[0].starts_s == START
    unzoned = read_track(content)
    assert unzoned.distance_m == found.distance_m
    assert any("No time zone" in note for note in unzoned.recorded.notes)


def test_a_table_with_neither_positions_nor_speeds_is_told():
    assert [row.field for row in refused(b"time_s,lat\n1,2\n")] == ["row 1, lat, lon"]
    assert [row.field for row in refused(b"colour\nred\n")] == ["row 1, time", "row 1, lat, lon"]


BOMB = (
    '<?xml version="1.0"?><!DOCTYPE gpx [<!ENTITY a "aaaaaaaaaa">'
    + "".join(f'<!ENTITY {b} "{f"&{a};" * 10}">' for a, b in zip("abcdefgh", "bcdefghi", strict=True))
    + "]><gpx><trk><trkseg><trkpt lat='1' lon='1'><ele>&i;</ele></trkpt></trkseg></trk></gpx>"
)
OUTSIDE = '<?xml version="1.0"?><!DOCTYPE gpx [<!ENTITY a SYSTEM "file:///etc/passwd">]><gpx><trk>&a;</trk></gpx>'


@pytest.mark.parametrize(
    ("content", "words"),
    [
        (BOMB.encode(), "entities"),
        (OUTSIDE.encode(), "entities"),
        (BOMB.encode("utf-16"), "entities"),
        (b"<gpx><trk>", "not well-formed"),
        (b"<html></html>", "not GPX"),
        ((HEAD + TAIL).encode(), "no track points"),
        (b'<?xml version="1.0" encoding="nonsense"?><gpx/>', "XML"),
        (b"<" + b"a" * LARGEST_FILE, "larger than 3 MB"),
        ((HEAD + '<trkpt lat="1" lon="1"/>' * (MOST_POINTS + 1) + TAIL).encode(), "more than 20000 points"),
        (invented_gpx([0.0] * 400), "no drive"),
        (b"", "empty"),
    ],
    ids=[
        "bomb",
        "file",
        "bomb in UTF-16",
        "open",
        "html",
        "empty gpx",
        "encoding",
        "large",
        "many",
        "still",
        "nothing",
    ],
)
def test_what_is_dangerous_or_no_drive_is_refused(content, words):
    assert words in refused(content)[0].message


def test_a_deep_file_is_refused_or_read_but_never_falls_over():
    refused(b"<gpx>" * 50_000)
    refused(b"<gpx>" + b"<a>" * 20_000 + b"</a>" * 20_000 + b"</gpx>")


@settings(max_examples=200, deadline=None)
@given(
    st.one_of(
        st.binary(max_size=200),
        st.binary(max_size=80).map(b"<gpx>".__add__),
        st.binary(max_size=60).map(b"time_s,lat,lon\n0,1,1\n1,1.0001,1\n2,1.0002,1\n3,1.0003,1\n".__add__),
        st.lists(st.tuples(st.integers(0, 10**10), st.floats(-90, 90), st.floats(-180, 180), st.floats(-500, 9000)))
        .map(lambda rows: as_csv("time_s,lat,lon,ele", [map(repr, row) for row in rows])),
    )
)  # fmt: skip
def test_nothing_raises_but_our_own_errors(content):
    try:
        found = read_track(content)
    except BadInputs as error:
        assert error.faults != []  # noqa: PT017
    else:
        assert found.distance_m > 0


def test_days_of_sparse_points_are_refused_before_they_are_worked_out():
    rows = [(k * 290, f"{k * 0.01:.4f}", 0) for k in range(1000)]
    assert "24 h" in refused(as_csv("time_s,lat,lon", rows))[0].message


def test_an_unknown_zone_is_told():
    assert refused(invented_gpx(), "Mars/Olympus")[0].field == "time_zone"


def journey_faults(raw):
    from pydantic import ValidationError

    with pytest.raises(ValidationError) as caught:
        JourneyIn.model_validate(raw)
    return [(fault.row.field, fault.row.message) for fault in faults_of(caught.value.errors())]


def test_a_track_in_json_is_driven_as_it_is():
    journey = JourneyIn.model_validate({"track": {"time_s": [10, 20, 40, 50], "speed_km_h": [0, 36, 36, 0]}}).journey()
    assert journey.track.time_s == (0, 10, 30, 40)
    assert track_trace(journey.track).distance_m == pytest.approx(300)
    assert journey.track.grade == ()


def test_heights_in_json_become_slopes():
    time_s = list(range(0, 301, 5))
    height = [100 + 0.05 * 20 * second for second in time_s]
    raw = {"track": {"time_s": time_s, "speed_km_h": [72] * len(time_s), "elevation_m": height}}
    grade = JourneyIn.model_validate(raw).journey().track.grade
    assert grade == pytest.approx([0.05] * (len(time_s) - 1), abs=1e-6)


def test_a_track_comes_back_from_json():
    track = read_track(invented_gpx()).journey.track
    again = TrackIn.of(track).track()
    assert again.speed_m_s == pytest.approx(track.speed_m_s, abs=0.002)
    assert again.grade == pytest.approx(track.grade, abs=1e-5)
    assert again.heading_rad == pytest.approx(track.heading_rad, abs=1e-3, nan_ok=True)
    assert math.isclose(again.time_s[-1], track.time_s[-1], abs_tol=0.01)


@pytest.mark.parametrize(
    ("track", "field", "words"),
    [
        ({"time_s": [0, 1], "speed_km_h": [5]}, "track.speed_km_h", "at least 2|one"),
        ({"time_s": [0, 1], "speed_km_h": [5, 5, 5]}, "track.speed_km_h", "3 values for 2"),
        ({"time_s": [0, 0], "speed_km_h": [5, 5]}, "track.time_s[1]", "does not follow"),
        ({"time_s": [0, 9999], "speed_km_h": [5, 5]}, "track.time_s[1]", "does not follow"),
        ({"time_s": [0, 60], "speed_km_h": [50, 300]}, "track.speed_km_h[1]", "outside 0 to 252 km/h"),
        ({"time_s": [0, 60], "speed_km_h": [0, 0]}, "track.speed_km_h", "0 km long"),
        ({"time_s": [0, "x"], "speed_km_h": [0, 0]}, "track.time_s[1]", "not a number"),
        ({"time_s": [0, 60], "speed_km_h": [50, 50], "elevation_m": [0, 1], "grade_pct": [0, 1]},
         "track.grade_pct", "both"),
    ],
)  # fmt: skip
def test_a_wrong_track_in_json_is_told(track, field, words):
    faults = journey_faults({"track": track})
    assert faults[0][0] == field
    assert re.search(words, faults[0][1])


def test_one_way_to_drive_at_a_time():
    track = {"time_s": [0, 60], "speed_km_h": [50, 50]}
    assert "cycle and track together" in journey_faults({"track": track, "cycle": "udds"})[0][1]
    assert "neither" in journey_faults({})[0][1]
