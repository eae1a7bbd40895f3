"""A weather file on the page of a year: its months are typed into the form; what it does not cover is said."""

import html
import math
import re
from datetime import datetime

import pytest

from tests.intake.workbooks import workbook

FORM = {"typed_units": "metric", "units": "metric", "vehicle": "compact-plug-in", "journey": "legs",
        "leg1_distance": "19", "leg1_speed": "60", "circuit": "eu-household-10a", "leaves_home": "7.5",
        "leaves_work": "17", "place": "helsinki", "year_by": "place", "weeks": "44"}  # fmt: skip
NAMES = ("time", "temp (°C)", "RH (%)", "wind (m/s)", "GHI (W/m2)")


def an_hour(month, hour):
    """Invented: −5 °C in January, 20 in July, ±3 by the hour; damp and windy."""
    moment = datetime(2025, month, 10, hour)
    warmth = 7.5 - 12.5 * math.cos(2 * math.pi * (month - 1) / 12) - 3 * math.cos(math.pi * (hour - 3) / 12)
    return moment, round(warmth, 2), 90, 5, 300 if 9 <= hour < 15 else 0


def hours(months=range(1, 13), columns=5):
    return [an_hour(month, hour)[:columns] for month in months for hour in range(24)]


def text_of(rows, columns=5):
    lines = [NAMES[:columns], *rows]
    return "\n".join(";".join(str(cell) for cell in line) for line in lines)


def sent(ask, content, name="weather.csv", **changes):
    form = FORM | {"weather_zone": "Europe/Helsinki"} | changes
    return ask("POST", "/year", data=form, files={"weather_file": (name, content)})


def plain(reply):
    return html.unescape(reply.text).replace("\u00a0", " ")


def area(reply, name):
    return re.search(rf'<textarea id="{name}"[^>]*>\s*([^<]*)</textarea>', reply.text)[1].split()


@pytest.mark.parametrize("kind", ["csv", "xlsx"])
def test_the_months_of_a_file_are_typed_and_answered(ask, kind):
    content = text_of(hours()) if kind == "csv" else workbook(NAMES, *hours())
    reply = sent(ask, content, f"weather.{kind}")
    assert reply.status_code == 200
    assert "Read: 288 of 288 rows, 12 whole days." in plain(reply)
    assert "What was read of the weather file" in reply.text
    assert (area(reply, "lows")[0], area(reply, "highs")[6]) == ("-8", "23")
    assert (area(reply, "humidities"), area(reply, "winds")) == (["90"] * 12, ["18"] * 12)
    assert area(reply, "suns") == ["1.8"] * 12
    assert '<option value="typed" selected>' in reply.text
    assert 'value="19"' in reply.text


def test_the_answer_is_that_of_the_same_months_as_json(ask):
    read = ask("POST", "/api/weather-files?time_zone=Europe/Helsinki", content=text_of(hours()),
               headers={"content-type": "text/csv"}).json()  # fmt: skip
    months = {name: read[name] for name in ("lows_c", "highs_c", "humidities_pct", "winds_km_h", "suns_kwh_m2_day")}
    question = {"vehicle": {"id": "compact-plug-in"}, "circuit": {"id": "eu-household-10a"}, "weeks_per_year": 44,
                "journey": {"legs": [{"distance_km": 26, "speed_km_h": 80}]}} | months  # fmt: skip
    commute = ask("POST", "/api/commutes", json=question)
    assert commute.status_code == 200
    assert ask("POST", "/api/years", json=question).status_code == 200
    days = commute.json()["year"]["electric_days"]["p50"]
    page = sent(ask, text_of(hours()), leg1_distance="26", leg1_speed="80")
    assert 50 < days < 210
    assert int(re.search(r"<h1[^>]*>On about (\d+)", page.text)[1]) == pytest.approx(days, abs=5.1)  # a headline's tens
    listed = {row["name"] for row in commute.json()["assumptions"]}
    assert "sun over a clear sky's" not in listed
    without = ask("POST", "/api/commutes", json=question | {"suns_kwh_m2_day": None, "humidities_pct": None}).json()
    assert {"sun over a clear sky's", "relative humidity"} <= {row["name"] for row in without["assumptions"]} - listed


def test_damp_and_wind_of_the_file_count(ask):
    question = {"vehicle": {"id": "small-electric-hatch"}, "journey": {"legs": [{"distance_km": 19, "speed_km_h": 90}]},
                "lows_c": [-8] * 12, "highs_c": [-2] * 12}  # fmt: skip
    calm, stormy = (
        ask("POST", "/api/years", json=question | {"winds_km_h": [wind] * 12}).json()["months"][0]["range_km"]["p50"]
        for wind in (0, 60)
    )
    assert stormy < 0.95 * calm


def test_what_the_file_does_not_tell_is_said_and_assumed(ask):
    reply = sent(ask, text_of(hours(columns=2), 2))
    assert reply.status_code == 200
    assert "tells nothing of humidity, wind and sun" in plain(reply)
    assert area(reply, "humidities") == []


def test_months_that_are_not_covered_are_named_and_left_to_be_typed(ask):
    reply = sent(ask, text_of(hours(range(1, 11))))
    assert reply.status_code == 422
    fault = re.search(r'id="weather_file-error">([^<]*)', plain(reply))[1]
    assert "November and December" in fault
    assert "question marks" in fault
    lows, highs = area(reply, "lows"), area(reply, "highs")
    assert lows[10:] == highs[10:] == ["?", "?"]
    typed = FORM | {"year_by": "typed", "winds": " ".join(area(reply, "winds"))}
    typed |= {"lows": " ".join(lows[:10] + ["-3", "-6"]), "highs": " ".join(highs[:10] + ["1", "-2"])}
    assert ask("GET", "/year", params=typed).status_code == 200


def test_bad_rows_are_listed_and_the_rest_is_used(ask):
    reply = sent(ask, text_of([*hours(), ("later", "1", "", "", ""), ("2025-12-11 00:00", "cold", "", "", "")]))
    assert reply.status_code == 200
    told = plain(reply)
    assert told.index("row 290, time: ’later’ is not a time") < told.index("row 291, temp (°c): ’cold’ is not a number")


@pytest.mark.parametrize(
    ("content", "changes", "slot", "words"),
    [
        ("colour\nred\n", {}, "weather_file", "column is missing"),
        (b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1" + b"\0" * 600, {}, "weather_file", "save it as .xlsx or CSV"),
        (text_of(hours()), {"weather_zone": "Helsinki"}, "weather_zone", "Helsinki"),
    ],
)
def test_a_file_that_is_no_weather_is_told_beside_its_input(ask, content, changes, slot, words):
    reply = sent(ask, content, **changes)
    assert reply.status_code == 422
    assert words in re.search(rf'id="{slot}-error">([^<]*)', plain(reply))[1]


def test_in_miles_and_fahrenheit_the_months_are_too(ask):
    reply = sent(ask, text_of(hours()), units="us", typed_units="us", leg1_distance="12", leg1_speed="40")
    assert reply.status_code == 200
    assert (area(reply, "lows")[0], area(reply, "winds")[0]) == ("17.6", "11.2")
