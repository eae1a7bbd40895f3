"""Files as they are handed over, all invented: each is read with its bad rows told, or refused with the way out."""

import math
from datetime import datetime, timedelta

import pytest

from service.catalogue import load_catalogue
from service.errors import ServiceError
from service.intake.drive_log import read_drive_log
from service.intake.routes_csv import read_routes
from service.intake.track import read_track
from service.intake.weather_file import read_weather_file
from tests.intake.workbooks import workbook

CATALOGUE = load_catalogue()
OLD = b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1" + b"\0" * 600
PAGE = "<html><table><tr><td>Time</td></tr></table></html>"


def sent(content, encoding="utf-8"):
    return content if isinstance(content, bytes) else content.encode(encoding)


def refusal(read, *given):
    with pytest.raises(ServiceError) as caught:
        read(*given)
    rows = caught.value.rows()
    assert all(row.message and row.remedy for row in rows)
    return rows[0]


def fields(found):
    assert all(row.message and row.remedy for row in found.errors)
    return [row.field for row in found.errors if not row.field.startswith("month ")]


SHEET = workbook(
    ("Depot East, week 48",), (), ("Route", "Vehicle", "Trips / day", "Distance (km)", "Speed (km/h)", "Load (kg)"),
    ("Harbour", "Van 3", 4, 12.5, 38, 350), ("Hills", "Van 4", 1, "65,5", 60, None), ("Total", None, 5, 78, None, 350),
)  # fmt: skip
ROUTES = {
    "semicolons, decimal commas, a title, a note column, a sum": (
        sent("Fuhrpark Süd\n\nRoute;Trips per day;Payload (kg);Distance (km);Speed (km/h);Bemerkung\n"
             "Bäckerei Nord;2;1.250,5;12,5;38,5;täglich\n;;;7,25;60;\nMarkthalle;1;1.350;45;75;nur Di\n"
             "Summe;3;;64,75;;\n", "cp1252"),
        {"Bäckerei Nord": (1250.5, 19.75), "Markthalle": (1350, 45)}, ["row 7, speed_km_h"],
    ),
    "UTF-16 with tabs, thousands by commas": (
        sent("route\tdistance_mi\tspeed_mph\tpayload_lb\nHarbor loop\t12.5\t38\t1,200\nHill farms\t31\t45\t800\n",
             "utf-16"),
        {"Harbor loop": (544.31, 20.12), "Hill farms": (362.87, 49.89)}, [],
    ),
    "everything quoted": (
        '"Route","Trips/day","Payload (lb)","Distance (mi)","Speed (mph)"\n'
        '"Parcels, downtown","4","1,200","22.5","31"\n'
        '"Airport ""express""","2","900","41","55"\n',
        {"Parcels, downtown": (544.31, 36.21), 'Airport "express"': (408.23, 65.98)}, [],
    ),
    "put together from two, blank lines, a sum": (
        "route,distance_km,speed_km_h\nNorth,40,60\n\n\nroute,distance_km,speed_km_h\nSouth,70,90\n,,\nTotal,110,\n",
        {"North": (0, 40), "South": (0, 70)}, ["row 5", "row 8, speed_km_h"],
    ),
    "units in the cells": (
        "Route;Distance (km);Speed (km/h)\nNorth;40 km;60 km/h\nSouth;ca. 70;90\n",
        {"North": (0, 40)}, ["row 3, distance_km"],
    ),
    "units below the names": (
        "Route;Distance;Speed;Payload\n;[km];[km/h];[kg]\nNorth;40;60;200\n", {"North": (200, 40)}, [],
    ),
    "a quotation mark that is never closed": (
        'route,distance_km,speed_km_h\nNorth,40,60\n"South,70,90\nEast,30,50\n',
        {"North": (0, 40), "East": (0, 30)}, ["row 3"],
    ),
    "decimal commas between commas": (
        'route,distance_km,speed_km_h\nNorth,12,5,60\nSouth,"7,5",90\n', {"South": (0, 7.5)}, ["row 2"],
    ),
    "a workbook with a title, a sum, numbers kept as text": (
        SHEET, {"Harbour": (350, 12.5), "Hills": (0, 65.5)}, ["row 6, speed_km_h"],
    ),
    "both decimal marks beside a group of three": (
        "route;distance_km;speed_km_h;payload_kg\nNorth;12.5;60;0\nSouth;7,5;50;0\nEast;9;50;1.200\n",
        {"North": (0, 12.5), "South": (0, 7.5)}, ["row 4, payload_kg"],
    ),
}  # fmt: skip


@pytest.mark.parametrize("name", ROUTES)
def test_routes(name):
    content, expected, faulty = ROUTES[name]
    found = read_routes(sent(content), CATALOGUE)
    read = {each.name: (each.payload_kg, sum(leg.distance_km for leg in each.journey.legs)) for each in found.routes}
    assert read.keys() == expected.keys()
    assert all(read[name] == pytest.approx(expected[name], abs=0.006) for name in expected)
    assert fields(found) == faulty


@pytest.mark.parametrize(
    ("content", "field", "words"),
    [
        ("Route;Distance;Speed\nNorth;40;60\n", "row 1, distance", "distance_km or distance_mi"),
        ("Tour;Strecke;Tempo\nNord;40;60\n", "row 1, distance_km", "give distance_km"),
        (OLD, "table", "save it as .xlsx or CSV"),
        (PAGE, "table", "save it as .xlsx or CSV"),
        ("\n\n", "table", "row of names"),
    ],
)
def test_routes_that_are_none(content, field, words):
    row = refusal(read_routes, sent(content), CATALOGUE)
    assert row.field == field
    assert words in row.remedy


DRIVE = [(k, min(3 * k, 80), 9.5 + k / 100, 82 - k / 60) for k in range(40)]


def log(names, line, rows=DRIVE):
    return names + "\n" + "".join(f"{line(*row)}\n" for row in rows)


LOGS = {
    "semicolons, decimal commas": (
        sent(log("Time (s);Speed (km/h);Pack power (kW);SoC (%);Außen °C;Bemerkung",
                 lambda t, v, p, c: f"{t};{v};{p:.2f};{c:.2f};-4,5;".replace(".", ",")), "cp1252"), 40, [],
    ),
    "a clock without a date over midnight, AM and PM, volts and amps": (
        log("Time,Vehicle Speed (mph),Battery Voltage (V),Battery Current (A)",
            lambda t, v, p, c: f"{11 if t < 20 else 12}:{'59' if t < 20 else '00'}:{t + 40 if t < 20 else t - 20:02d} "
            f"{'PM' if t < 20 else 'AM'},{v / 1.609344:.3f},350,{1000 * p / 350:.3f}"), 40, [],
    ),
    "units below the names": (
        log("time,speed,pack_kw,soc\n[s],[km/h],,[%]", lambda t, v, p, c: f"{t},{v},{p:.2f},{c:.2f}"), 40, [],
    ),
    "a recorder that began again": (
        log("time_s,speed_km_h,pack_kw", lambda t, v, p, c: f"{t},{v},{p:.2f}")
        + log("time_s,speed_km_h,pack_kw", lambda t, v, p, c: f"{t},{v},{p:.2f}", DRIVE[:5]), 40, ["row 42"],
    ),
    "gaps, cells without a value, a mean at the end": (
        log("time_s,speed_km_h,pack_kw,soc_pct",
            lambda t, v, p, c: f"{t},{v},{'NaN' if t == 7 else p},{'n/a' if t == 9 else f'{c:.1f} %'}") + "avg,44,,\n",
        39, ["row 9, pack_kw", "row 42, time_s", "row 42, pack_kw"],
    ),
    "day and month by other rows, in two columns": (
        log("Date,Time,Speed (km/h),Pack power (W)",
            lambda t, v, p, c: f"{'15' if t < 39 else '16'}/01/2026,7:30:{t:02d},{v},{1000 * p:.0f}"), 40, [],
    ),
    "a day that may be two": (
        log("Date,Time,Speed (km/h),Pack power (W)",
            lambda t, v, p, c: f"03/04/2026,07:30:{t:02d},{v},{1000 * p:.0f}"), 40, [],
    ),
    "UTF-16 without a mark, milliseconds": (
        sent(log("Elapsed time (ms)\tSpeed (km/h)\tpack_v\tpack_a",
                 lambda t, v, p, c: f"{1000 * t}\t{v}\t350\t{1000 * p / 350:.2f}"), "utf-16-le"), 40, [],
    ),
    "a workbook with real times and shares": (
        workbook(("Log 17",), ("Time", "Speed (km/h)", "Pack power (kW)", "SoC (%)"),
                 *((datetime(2026, 4, 3, 7, 0, t), v, p, c / 100) for t, v, p, c in DRIVE), ("Mean", 40, 9, None),
                 formats={f"D{row}": "0.0%" for row in range(3, 43)}), 40, ["row 43, time"],
    ),
    "a sep line and spaces around": (
        "sep=;\n" + log(" time_s ; speed_km_h ; pack_kw ", lambda t, v, p, c: f" {t} ; {v} ; {p:.2f} "), 40, [],
    ),
}  # fmt: skip


@pytest.mark.parametrize("name", LOGS)
def test_logs(name):
    content, kept, faulty = LOGS[name]
    found = read_drive_log(sent(content))
    assert len(found.log.time_s) == kept
    assert fields(found) == faulty
    assert found.log.speed_m_s.max() == pytest.approx(80 / 3.6, rel=1e-3)
    assert found.log.terminals_w.max() == pytest.approx(9890, rel=2e-3)
    if found.log.charge is not None:
        assert found.log.charge[0] == pytest.approx(0.82, abs=1e-3)
    if kept == 40:
        assert found.log.time_s[-1] == pytest.approx(86_400 + 39 if "other rows" in name else 39)


@pytest.mark.parametrize(
    ("content", "field", "words"),
    [
        ("time_s,speed_km_h,soc_pct\n0,0,80\n1,5,80\n", "row 1, pack_kw", "pack_kw"),
        (log("Time,Speed,pack_kw", lambda t, v, p, c: f"0:00:{t:02d},{v},{p}"), "row 1, speed", "km/h"),
        (log("Zeit;Tempo;Leistung", lambda t, v, p, c: f"{t};{v};{p}"), "row 1, speed", "speed (km/h)"),
        (OLD, "table", "save it as .xlsx or CSV"),
        (PAGE, "table", "save it as .xlsx or CSV"),
    ],
)
def test_logs_that_are_none(content, field, words):
    row = refusal(read_drive_log, sent(content))
    assert row.field == field
    assert words in row.remedy


SPEEDS = [min(2 * k, 60) for k in range(120)] + [60] * 60 + [max(60 - 2 * k, 0) for k in range(40)]
METRES = sum(SPEEDS) / 3.6
NORTH_M = 111_259  # a degree of latitude near 52° north on WGS84


def clock(k, form):
    return f"{datetime(2026, 1, 15, 7, 30) + timedelta(seconds=k):{form}}"


TRACKS = {
    "US times, mph and feet": (
        "Timestamp,GPS Speed (mph),Altitude (ft)\n" + "".join(
            f"{clock(k, '%m/%d/%Y %I:%M:%S %p')},{v / 1.609344:.2f},300\n" for k, v in enumerate(SPEEDS)),
        None, METRES, [],
    ),
    "positions with decimal commas": (
        "time;lat;lon;ele\n" + "".join(
            f"{clock(k, '%Y-%m-%d %H:%M:%S')};{52 + k * 1e-4:.6f};9,0;100\n".replace(".", ",") for k in range(200)),
        None, 199e-4 * NORTH_M, [],
    ),
    "over the hour that a clock passes twice": (
        "time,speed_km_h\n" + "".join(f"2026-10-25 {h:02d}:{m:02d}:00,50\n" for h in (1, 2, 2, 3) for m in range(60)),
        "Europe/Berlin", 239 / 60 * 50_000, [],
    ),
    "no fix for a while": (
        "time_s,lat,lon\n" + "".join(f"{k},{0 if k % 17 == 3 else 52 + k * 1e-4:.6f},{0 if k % 17 == 3 else 9}\n"
                                     for k in range(200)),
        None, 199e-4 * NORTH_M, [],
    ),
    "a workbook": (workbook(("time_s", "speed (km/h)"), *enumerate(SPEEDS)), None, METRES, []),
    "milliseconds since 1970": (
        "time (ms),speed (m/s)\n"
        + "".join(f"{1768460400000 + 1000 * k},{v / 3.6:.2f}\n" for k, v in enumerate(SPEEDS)),
        None, METRES, [],
    ),
    "a title, and names again in the middle": (
        "Recorder 12\ntime_s,speed_km_h\n" + "".join(
            f"{k},{v}\n" + ("time_s,speed_km_h\n" if k == 99 else "") for k, v in enumerate(SPEEDS)),
        None, METRES, ["row 103"],
    ),
    "cells that are no numbers": (
        "time_s;speed_km_h\n" + "".join(f"{k};{'---' if k == 150 else v}\n" for k, v in enumerate(SPEEDS)),
        None, METRES, ["row 152, speed_km_h"],
    ),
    "a clock without a date": (
        "Time;Speed [km/h]\n" + "".join(f"{clock(k, '%H:%M:%S')};{v},0\n" for k, v in enumerate(SPEEDS)),
        None, METRES, [],
    ),
    "offsets with a space before them": (
        "time,speed_km_h\n" + "".join(f"{clock(k, '%Y-%m-%d %H:%M:%S')} +01:00,{v}\n" for k, v in enumerate(SPEEDS)),
        None, METRES, [],
    ),
}  # fmt: skip


@pytest.mark.parametrize("name", TRACKS)
def test_tracks(name):
    content, zone, metres, faulty = TRACKS[name]
    found = read_track(sent(content), zone)
    assert found.distance_m == pytest.approx(metres, rel=0.002)
    assert fields(found) == faulty


@pytest.mark.parametrize(
    ("content", "field", "words"),
    [
        ("Start,End,Distance (km)\n2026-01-15 07:00,2026-01-15 07:40,32\n", "row 1, time", "name a column time_s"),
        ("lat,lon\n52,9\n52.1,9\n", "row 1, time", "name a column time_s"),
        ('time_s,lat,lon\n0,"52°30\'N",9\n1,52.5,9\n', "track", "at least three moments"),
        (OLD, "table", "save it as .xlsx or CSV"),
        (PAGE, "track", "save the recording as GPX 1.1"),
    ],
)
def test_tracks_that_are_none(content, field, words):
    row = refusal(read_track, sent(content))
    assert row.field == field
    assert words in row.remedy


def point(k, north, time=True, zone="Z"):
    moment = (datetime(2026, 1, 15, 7) + timedelta(seconds=k)).isoformat() + zone
    when = f"<time>{moment}</time>" if time else ""
    return f'<trkpt lat="{52 + north * 1e-4:.6f}" lon="9.0"><ele>100</ele>{when}</trkpt>'


def gpx(*stretches):
    tracks = "".join(f"<trk><trkseg>{''.join(stretch)}</trkseg></trk>" for stretch in stretches)
    return f'<?xml version="1.0"?><gpx xmlns="http://www.topografix.com/GPX/1/1" version="1.1">{tracks}</gpx>'


OUT, BACK = [point(k, k) for k in range(120)], [point(2000 + k, 119 - k) for k in range(100)]
GPX = {
    "out and back with a stand": (gpx(OUT, BACK), 2, 218, 0),
    "the same, the later track first": (gpx(BACK, OUT), 2, 218, 0),
    "fixes far away": (gpx([point(k, k + (50_000 if k in (20, 50, 51) else 0)) for k in range(120)]), 1, 119, 0),
    "times that name no zone": (gpx([point(k, k, zone="") for k in range(100)]), 1, 99, 0),
    "every third point without a time": (gpx([point(k, k, time=k % 3 != 0) for k in range(101)]), 1, 99, 34),
    "decimal commas": (gpx([point(k, k).replace('lat="52.', 'lat="52,') for k in range(100)]), 1, 99, 0),
    "ten minutes of wandering at a stand": (
        gpx([point(k, min(k, 60) + 0.1 * (k % 2)) for k in range(600)] + [point(600 + k, 60 + k) for k in range(60)]),
        2, 119, 0,
    ),
    "a point twice": (gpx([point(k, k) for k in range(100)] + [point(99, 99)]), 1, 99, 0),
    "segments of one track, cut at each light": (gpx([*OUT[:60], "</trkseg><trkseg>", *OUT[60:]]), 1, 119, 0),
    "an empty track first": (gpx([], OUT), 1, 119, 0),
}  # fmt: skip


@pytest.mark.parametrize("name", GPX)
def test_gpx(name):
    content, trips, steps, faults = GPX[name]
    found = read_track(content.encode())
    assert len(found.recorded.trips) == trips
    near_m = 140 * (trips - 1)  # what is driven near the middle of a long stand, before and after it, belongs to it
    assert found.distance_m == pytest.approx(steps * 1e-4 * NORTH_M, rel=0.01, abs=25 + near_m)
    assert len(fields(found)) == faults


@pytest.mark.parametrize(
    ("content", "words"),
    [
        (gpx([point(k, k, time=False) for k in range(50)]), "at least three moments"),
        (gpx(OUT)[:-300], "save the recording as GPX 1.1"),
        ('<gpx version="1.1"><rte><rtept lat="1" lon="1"/></rte></gpx>', "recorded track"),
        ('<?xml version="1.0"?><kml><Document/></kml>', "save the recording as GPX 1.1"),
        (gpx([point(k, 0) for k in range(100)]), "a car that moves"),
    ],
)
def test_gpx_without_a_drive(content, words):
    assert words in refusal(read_track, content.encode()).remedy


def hours(line, days=31):
    moments = [datetime(2026, 1, 1) + timedelta(hours=hour) for hour in range(24 * days)]
    return "\n".join(line(each, 4 * math.sin(each.hour / 24 * 2 * math.pi) - 3) for each in moments)


WEATHER = {
    "a station's name, semicolons, two columns of time": (
        sent("Station Süd;;;\nDate;Time;Temp (°C);RH (%)\n"
             + hours(lambda m, t: f"{m:%d.%m.%Y};{m:%H:%M};" + f"{t:.1f};85".replace(".", ",")), "cp1252"),
        None, 31, [],
    ),
    "US dates, Fahrenheit, mph": (
        "Date Time,Temperature (F),Wind Speed (mph)\n"
        + hours(lambda m, t: f"{m.month}/{m.day}/{m.year} {m:%I:%M %p},{t * 1.8 + 32:.2f},12"), None, 31, [],
    ),
    "hours from 1 to 24": (
        "date,hour,temp_c\n" + hours(lambda m, t: f"{m:%Y-%m-%d},{m.hour + 1},{t:.2f}"), None, 31, [],
    ),
    "missing rows, and a number for no value": (
        "time,temp_c\n" + "\n".join(
            row for at, row in enumerate(
                hours(lambda m, t: f"{m:%Y-%m-%dT%H:%MZ},{-9999 if (m.day, m.hour) == (3, 9) else f'{t:.2f}'}").split())
            if at % 97 or not at), None, 31, ["row 59, temp_c"],
    ),
    "units below the names, a mean at the end": (
        "time,temperature,wind\n,[°C],[km/h]\n"
        + hours(lambda m, t: f"{m:%Y-%m-%d %H:%M},{t:.2f},12") + "\nMean,1.2,12\n",
        None, 31, ["row 747, time"],
    ),
    "every ten minutes": (
        "time,temp_c\n"
        + hours(lambda m, t: "\n".join(f"{m:%Y-%m-%d %H}:{ten:02d},{t:.2f}" for ten in range(0, 60, 10))),
        None, 31, [],
    ),
    "a workbook of dates and hours": (
        workbook(("Weather 2026",), ("Date", "Hour", "Temp (°C)"), *(
            (datetime(2026, 1, 1 + day), hour, 4 * math.sin(hour / 24 * 2 * math.pi) - 3)
            for day in range(31) for hour in range(24))), None, 31, [],
    ),
    "UTF-16, tabs, knots": (
        sent("Time\tAir temp (°F)\tWind (kt)\n"
             + hours(lambda m, t: f"{m:%Y-%m-%d %H:%M}\t{t * 1.8 + 32:.2f}\t7"), "utf-16"),
        "America/Chicago", 31, [],
    ),
    "put together twice": (
        "time,temp_c\n" + hours(lambda m, t: f"{m:%Y-%m-%d %H:%M},{t:.2f}", 15) + "\ntime,temp_c\n"
        + "\n".join(hours(lambda m, t: f"{m:%Y-%m-%d %H:%M},{t:.2f}").split("\n")[360:]), None, 31, ["row 362"],
    ),
    "quoted, with a unit in each cell": (
        '"Time","Temp (°C)","RH (%)"\n' + hours(lambda m, t: f'"{m:%Y-%m-%d %H:%M}","{t:.2f} °C","85 %"'), None, 31, [],
    ),
}  # fmt: skip


@pytest.mark.parametrize("name", WEATHER)
def test_weather(name):
    content, zone, days, faulty = WEATHER[name]
    found = read_weather_file(sent(content), zone)
    assert found.months[0].days == days
    assert (found.months[0].low_c, found.months[0].high_c) == pytest.approx((-7, 1), abs=0.06)
    assert fields(found) == faulty


@pytest.mark.parametrize(
    ("content", "field", "words"),
    [
        ("month,min_c,max_c\n1,-3,2\n", "row 1, temperature", "temperature"),
        ("temp_c\n1\n", "row 1, time", "name a column time"),
        ("time,temp\n2026-01-01 00:00,3\n", "row 1, temp", "write it behind the name"),
        (OLD, "table", "save it as .xlsx or CSV"),
        (PAGE, "table", "save it as .xlsx or CSV"),
    ],
)
def test_weather_that_is_none(content, field, words):
    row = refusal(read_weather_file, sent(content))
    assert row.field == field
    assert words in row.remedy
