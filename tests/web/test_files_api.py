"""Files over HTTP: recorded drives, weather and logs; their limits, and what can be asked with them."""

from datetime import datetime, timedelta

import pytest

from service.intake.track import LARGEST_FILE
from service.web.files import WORKBOOK
from tests.intake.workbooks import workbook

SPEEDS = [0, 0, *range(0, 50, 2), *[50] * 200, *range(50, -1, -2), 0, 0]  # an invented drive, km/h, one a second
TABLE = "Time (s),Speed (km/h)\n" + "".join(f"{second},{speed}\n" for second, speed in enumerate(SPEEDS))
CSV = {"content-type": "text/csv"}


def test_a_recorded_drive_can_be_asked_with(ask, question):
    reply = ask("POST", "/api/tracks", content=TABLE + "x,5\n", headers=CSV)
    assert reply.status_code == 200
    read = reply.json()
    assert read["distance_km"] == pytest.approx(sum(SPEEDS) / 3600, rel=0.01)
    assert (read["points"], read["points_kept"], len(read["trips"])) == (len(SPEEDS), len(SPEEDS), 1)
    assert read["errors"][0]["field"] == f"row {len(SPEEDS) + 2}, time (s)"
    answer = ask("POST", "/api/quotes", json=question | {"journey": {"track": read["track"]}})
    assert answer.status_code == 200
    assert answer.json()["journey"]["distance_km"] == pytest.approx(read["distance_km"], rel=0.02)


def test_comparisons_years_commutes_and_complaints_drive_a_track(ask, question):
    track = ask("POST", "/api/tracks", content=TABLE, headers=CSV).json()["track"]
    journey = {"track": track}
    routes = [{"name": "Recorded", "journey": journey}]
    body = {"vehicles": [question["vehicle"]], "routes": routes, "place": "helsinki"}
    assert ask("POST", "/api/comparisons", json=body).status_code == 200
    year = {"vehicle": question["vehicle"], "journey": journey, "place": "helsinki"}
    assert ask("POST", "/api/years", json=year).status_code == 200
    assert ask("POST", "/api/commutes", json=year).status_code == 200
    complaint = question | {"journey": journey, "reported_km": 20}
    assert ask("POST", "/api/complaints", json=complaint).status_code == 200


def test_a_hilly_track_takes_more_than_a_level_one(ask, question):
    time_s = list(range(0, 601, 10))
    body = {"time_s": time_s, "speed_km_h": [50] * len(time_s)}
    level, uphill = (
        ask("POST", "/api/quotes", json=question | {"journey": {"track": body | slope}, "band": False}).json()
        for slope in ({}, {"grade_pct": [3] * len(time_s)})
    )
    assert uphill["range_km"]["p50"] < 0.7 * level["range_km"]["p50"]


@pytest.mark.parametrize("path", ["/api/tracks", "/api/weather-files", "/api/drive-logs"])
def test_files_are_held_to_type_and_size(ask, path):
    wrong = ask("POST", path, content=TABLE, headers={"content-type": "application/json"})
    assert (wrong.status_code, wrong.json()["errors"][0]["field"]) == (415, "header.content-type")
    large = ask("POST", path, content=b"a" * (LARGEST_FILE + 1), headers=CSV)
    assert large.status_code == 413
    none = ask("POST", path, content=b"", headers=CSV)
    assert (none.status_code, none.json()["errors"][0]["message"]) == (422, "the table is empty")


def test_entities_in_a_track_are_refused(ask):
    bomb = b'<?xml version="1.0"?><!DOCTYPE a [<!ENTITY b "bbbb">]><gpx>&b;</gpx>'
    reply = ask("POST", "/api/tracks", content=bomb, headers={"content-type": "application/gpx+xml"})
    assert reply.status_code == 422
    assert "DOCTYPE" in reply.json()["errors"][0]["remedy"]


def test_an_unknown_time_zone_is_told(ask):
    reply = ask("POST", "/api/tracks?time_zone=Nowhere", content=TABLE, headers=CSV)
    assert (reply.status_code, reply.json()["errors"][0]["field"]) == (422, "time_zone")


def test_a_year_of_hours_can_be_asked_with(ask, question):
    rows = ["time,temperature (°F)"]
    for month in range(1, 13):
        rows += [f"2025-{month:02d}-10T{hour:02d}:00Z,{20 + 4 * month + hour / 2}" for hour in range(24)]
    read = ask("POST", "/api/weather-files?time_zone=UTC", content="\n".join(rows), headers=CSV).json()
    assert (read["hours"], read["errors"]) == (288, [])
    assert read["lows_c"][0] == pytest.approx(-4.4)  # 24 °F
    year = {"vehicle": question["vehicle"], "journey": question["journey"]}
    year |= {"lows_c": read["lows_c"], "highs_c": read["highs_c"]}
    assert ask("POST", "/api/years", json=year).status_code == 200


def test_a_log_is_summed_and_its_bad_rows_are_told(ask):
    rows = ["time_s,speed_km_h,pack_kw,state_of_charge_pct", *(f"{k},72,9,{90 - k / 60}" for k in range(901)), "901,,,"]
    read = ask("POST", "/api/drive-logs", content="\n".join(rows), headers=CSV).json()
    assert read["distance_km"] == pytest.approx(18)
    assert (read["net_kwh"], read["charge_used_pct"], read["usable_kwh"]) == pytest.approx((2.25, 15, 15))
    assert read["net_wh_per_km"] == pytest.approx(125)
    assert [row["field"] for row in read["errors"]] == ["row 903, speed_km_h", "row 903, pack_kw"]
    assert (read["rows"], read["rows_kept"], read["outside_c"]) == (902, 901, None)


def test_a_workbook_is_taken_wherever_a_table_is(ask):
    headers = {"content-type": WORKBOOK}
    drive = workbook(("time_s", "speed_km_h", "pack_kw"), *((k, min(2 * k, 60), 9) for k in range(200)), ("x", 1, 1))
    track = ask("POST", "/api/tracks", content=drive, headers=headers).json()
    log = ask("POST", "/api/drive-logs", content=drive, headers=headers).json()
    assert [row["field"] for row in track["errors"]] == [row["field"] for row in log["errors"]] == ["row 202, time_s"]
    assert track["distance_km"] == pytest.approx(log["distance_km"], rel=0.02)
    hours = [(datetime(2026, 4, 3) + timedelta(hours=hour), 10.5) for hour in range(24)]
    weather = workbook(("date", "temp (°C)"), *hours)
    april = ask("POST", "/api/weather-files?time_zone=UTC", content=weather, headers=headers).json()["months"][3]
    assert april["low_c"] == 10.5
    routes = workbook(("route", "distance_km", "speed_km_h"), ("Harbour", 12, 40))
    assert (
        ask("POST", "/api/comparisons/routes", content=routes, headers=headers).json()["routes"][0]["name"] == "Harbour"
    )


def test_an_old_workbook_is_refused_with_a_way_out(ask):
    old = b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1" + b"\0" * 1000
    reply = ask("POST", "/api/drive-logs", content=old, headers={"content-type": WORKBOOK})
    assert (reply.status_code, reply.json()["errors"][0]["remedy"]) == (422, "save it as .xlsx or CSV")
