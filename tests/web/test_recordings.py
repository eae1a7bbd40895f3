"""A recorded drive on the pages: its file comes with the form, the page holds it, and the rest of the form stays."""

import re

import pytest

from service.web.house import carried

SPEEDS = [0, 0, *range(0, 60, 2), *[60] * 400, *range(60, -1, -2), 0, 0]  # an invented drive, km/h, one a second
TABLE = "time_s;speed_km_h;elevation_m\n" + "".join(f"{k};{v};{100 + k * 0.2:.1f}\n" for k, v in enumerate(SPEEDS))
FORM = {"typed_units": "metric", "units": "metric", "vehicle": "small-electric-hatch", "temperature": "-7",
        "journey": "legs", "leg1_distance": "3", "leg1_speed": "40", "circuit": "eu-household-10a"}  # fmt: skip
COMPLAINED = {**FORM, "reported": "90", "parked": "outside"}
PAGES = [("/", FORM), ("/complaint", COMPLAINED)]


def sent(ask, path, form, content=TABLE, name="drive.csv"):
    files = {"track_file": (name, content)} if content is not None else {"track_file": ("", b"")}
    return ask("POST", path, data=form, files=files)


def text_of(page):
    return re.search(r'name="track" id="track" value="([^"]*)"', page)[1]


@pytest.mark.parametrize(("path", "form"), PAGES)
def test_a_file_is_driven_and_the_form_stays(ask, path, form):
    reply = sent(ask, path, form)
    assert reply.status_code == 200
    page = reply.text.replace("\u00a0", " ")
    assert f"Read: {len(SPEEDS)} of {len(SPEEDS)} points" in page
    assert 'value="-7"' in page
    assert '<option value="track" selected>' in page
    assert 'method="post"' in page
    assert "data-part" not in page
    assert page.index("What was read of the recording") < page.index('<form id="change"')
    assert len(reply.content) < 100_000


@pytest.mark.parametrize(("path", "form"), PAGES)
def test_the_page_drives_what_it_holds_when_something_else_changes(ask, path, form):
    first = sent(ask, path, form).text
    held = form | {"journey": "track", "track": text_of(first), "temperature": "20"}
    again = sent(ask, path, held, None)
    assert again.status_code == 200
    assert text_of(again.text) == text_of(first)
    assert "Read:" not in again.text
    assert re.search(r"<h1[^>]*>(.*?)</h1>", again.text)[1] != re.search(r"<h1[^>]*>(.*?)</h1>", first)[1]


def test_the_page_and_the_interface_say_the_same(ask):
    page = sent(ask, "/", FORM).text
    track = ask("POST", "/api/tracks", content=TABLE, headers={"content-type": "text/csv"}).json()["track"]
    question = {
        "vehicle": {"id": "small-electric-hatch"},
        "journey": {"track": track},
        "weather": {"temperature_c": -7},
    }
    low = ask("POST", "/api/quotes", json=question).json()["range_km"]["p10"]
    told = int(re.search(r"at least[^0-9]*(\d+)", page.replace("\u00a0", " "))[1])
    assert told == pytest.approx(low, abs=2)  # the page rounds to whole kilometres, and holds 0.02 m/s


@pytest.mark.parametrize(("path", "form"), PAGES)
@pytest.mark.parametrize(
    ("content", "words"),
    [("colour\nred\n", "column is missing"), ("", "read"), ('<!DOCTYPE a [<!ENTITY b "c">]><gpx/>', "DOCTYPE"),
     ("time_s,speed_km_h\n0,0\n1,0\n2,0\n", "no drive")],
)  # fmt: skip
def test_a_file_that_is_no_drive_is_told_beside_its_input(ask, path, form, content, words):
    reply = sent(ask, path, form | {"journey": "track"}, content or None)
    assert reply.status_code == 422
    fault = re.search(r'id="(?:track_file|journey)-error">([^<\s][^<]*)', reply.text)[1]
    assert words in fault
    assert 'value="-7"' in reply.text


@pytest.mark.parametrize(("path", "form"), PAGES)
def test_bad_rows_are_listed_and_the_rest_is_driven(ask, path, form):
    reply = sent(ask, path, form, TABLE + "x;1;1\n900;fast;1\n")
    assert reply.status_code == 200
    assert f"row {len(SPEEDS) + 2}, time_s" in reply.text.replace("\u00a0", " ")
    assert f"row {len(SPEEDS) + 3}, speed_km_h" in reply.text.replace("\u00a0", " ")


@pytest.mark.parametrize(("path", "form"), PAGES)
def test_spoiled_text_and_a_side_wind_are_told(ask, path, form):
    spoiled = sent(ask, path, form | {"journey": "track", "track": "1.zz"}, None)
    assert spoiled.status_code == 422
    assert "choose its file again" in spoiled.text
    if path == "/":
        assert "compass" in sent(ask, path, form | {"wind_from": "90", "wind": "20"}).text


def test_a_recording_stays_on_its_page():
    assert carried({"journey": "track", "temperature": "5"}) == "temperature=5"
    assert carried({"journey": "legs"}) == "journey=legs"


def test_local_times_need_their_zone(ask):
    rows = "".join(f"2026-01-15 08:{k // 60:02d}:{k % 60:02d},{v}\n" for k, v in enumerate(SPEEDS))
    table = f"time,speed_km_h\n{rows}"
    assert sent(ask, "/", FORM | {"track_zone": "Europe/Helsinki"}, table).status_code == 200
    wrong = sent(ask, "/", FORM | {"track_zone": "Helsinki"}, table)
    assert wrong.status_code == 422
    assert re.search(r'id="track_zone-error">[^<]', wrong.text)
