"""Every page that answers keeps its answer in the same way, and programs keep the same kinds."""

import html
import json
import re
from urllib.parse import parse_qsl

import pytest

from service.intake.sheet import SHEETS
from service.reporting.qr import qr_svg
from service.store import NewSheet
from service.web.house import PAGES
from service.web.kept_kinds import KINDS
from service.web.settings import Settings
from service.web.sheets_pages import LONGEST_LINK

CAR = {"vehicle": {"id": "compact-plug-in"}}
LEGS = {"journey": {"legs": [{"distance_km": 13, "speed_km_h": 60, "stops_per_km": 0.5}]}}
COLD = {"weather": {"temperature_c": -5}}
NIGHT = {"arrives": "2026-11-25T18:00:00+01:00", "departs": "2026-11-26T07:00:00+01:00"}
ROUTES = [{"name": f"round {n}", "journey": {"legs": [{"distance_km": 10 + n, "speed_km_h": 50}]}} for n in range(3)]
ASKED = {  # kind → a query of its page, a program's question, where a program asks it without keeping
    "quote": ("temperature=-11&vehicle=small-electric-hatch", CAR | LEGS | COLD, "/api/quotes"),
    "commute": ("place=oslo&leg2_distance=25", CAR | LEGS | {"place": "oslo", "days_per_week": 3}, "/api/commutes"),
    "speed_table": (
        "vehicle=compact-plug-in&trip_speed=40",
        CAR | {"speeds_km_h": [80, 120], "temperatures_c": [-10, 20], "trip": {"distances_km": [5, 20]}},
        "/api/speed-tables",
    ),
    "charging_session": (
        "to_pct=80&temperature=3&plug_in_hour=21",
        CAR | {"circuit": {"id": "eu-household-10a"}, "from_pct": 20, "to_pct": 80, "pack_temperature_c": 5},
        "/api/charging-sessions",
    ),
    "charging_plan": (
        "charge_from=40",
        CAR | NIGHT | {"circuit": {"id": "eu-household-10a"}, "from_pct": 20, "tariff": {"id": "night-price-eur"}},
        "/api/charging-plans",
    ),
    "comparison": (
        "place=oslo&reserve=10",
        {"vehicles": [CAR["vehicle"]], "routes": ROUTES, "place": "oslo"},
        "/api/comparisons",
    ),
    "complaint": (
        "reported=20&words=It+went+further.&temperature=&climate=",
        CAR | LEGS | COLD | {"reported_km": 24, "complaint": "It used to do more."},
        "/api/complaints",
    ),
    "electric_side": ("temperature=-11", CAR | LEGS | COLD, None),
}
HEADLINE = re.compile(r'<h1 id="headline">(.*?)</h1>')
DRIVE = "time_s;speed_km_h\n" + "".join(
    f"{k};{v}\n" for k, v in enumerate([0, 0, *range(0, 60, 2), *[60] * 600, *range(60, -1, -2), 0, 0])
)


@pytest.fixture(scope="module")
def keeper(start, tmp_path_factory):
    """A service that keeps sheets."""
    return start(Settings(database=str(tmp_path_factory.mktemp("kept") / "sheets.sqlite3")))


def page_of(ask, keeper, kind):
    return ask("GET", f"{KINDS[kind].path}?{ASKED[kind][0]}", to=keeper)


def press(ask, keeper, page, **more):
    """Press the button of a page, as a browser without JavaScript does."""
    form = re.search(r'<form class="keep".*?</form>', page.text, re.DOTALL)[0]
    action = re.search(r'action="([^"]+)"', form)[1]
    hidden = {name: html.unescape(text) for name, text in re.findall(r'name="(\w+)" value="([^"]*)"', form)}
    cookie = {"cookie": page.headers["set-cookie"].partition(";")[0]}
    return ask("POST", action, to=keeper, data=hidden | more, headers=cookie)


def headline(page):
    return HEADLINE.search(page.text)[1]


def again(ask, keeper, sheet):
    """The page that the sheet's way back leads to."""
    link = re.search(r'href="([^"]+)">Ask the same', sheet.text)
    if link:
        return ask("GET", html.unescape(link[1]), to=keeper)
    path, form = re.search(
        r'action="([^"]+)" enctype="multipart/form-data">(.*?)</form>', sheet.text, re.DOTALL
    ).groups()
    fields = {name: html.unescape(text) for name, text in re.findall(r'name="(\w+)" value="([^"]*)"', form)}
    return ask("POST", path, to=keeper, data=fields, files={"no_file": ("", b"")})


def test_every_page_that_answers_is_of_a_kind_and_every_kind_has_a_shape_for_programs():
    assert {path for path, _ in PAGES} | {"/envelope"} == {kind.path for kind in KINDS.values()}
    assert {sheet.model_json_schema()["properties"]["kind"]["const"] for sheet in SHEETS} == KINDS.keys()
    assert ASKED.keys() == KINDS.keys()


@pytest.mark.parametrize("kind", KINDS)
def test_the_shown_answer_is_kept_and_asked_again(ask, keeper, kind):
    page = page_of(ask, keeper, kind)
    assert page.status_code == 200
    assert "may stay empty; no names needed" in page.text
    pressed = press(ask, keeper, page, note="blue one", expires_in_days="90")
    assert pressed.status_code == 303, pressed.text
    sheet = ask("GET", pressed.headers["location"], to=keeper)
    assert headline(sheet) == headline(page)
    assert "blue one" in sheet.text
    assert f'<main class="sheet kept {KINDS[kind].look}">' in sheet.text
    assert f"<dd>{KINDS[kind].words}</dd>" in sheet.text
    assert headline(again(ask, keeper, sheet)) == headline(page)
    kept = keeper.state.keeping.store.open(pressed.headers["location"].rpartition("/")[2])
    assert "<form" not in kept.page
    assert "href" not in kept.page
    program = ask("GET", f"/api{pressed.headers['location']}", to=keeper).json()
    assert (program["kind"], program["note"]) == (kind, "blue one")
    listed = ask("GET", "/sheets", to=keeper).text
    assert f"<span>{KINDS[kind].words}</span>" in listed


@pytest.mark.parametrize("kind", [kind for kind, (_, _, path) in ASKED.items() if path])
def test_the_frozen_question_gives_the_frozen_answer_to_a_program(ask, keeper, kind):
    path = press(ask, keeper, page_of(ask, keeper, kind)).headers["location"]
    sheet = ask("GET", f"/api{path}", to=keeper).json()
    answer = ask("POST", ASKED[kind][2], to=keeper, json=sheet["question"]).json()
    assert without_assumptions(sheet["answer"]) == without_assumptions(answer)


def without_assumptions(answer):
    """A page lists fewer defaults than the interface for programs: those that nobody could see in its form."""
    return {name: value for name, value in answer.items() if name != "assumptions"}


@pytest.mark.parametrize("units", ["metric", "us"])
@pytest.mark.parametrize("kind", KINDS)
def test_programs_keep_every_kind(ask, keeper, kind, units):
    question, path = ASKED[kind][1:]
    told = {"question": question | {"units": units}} if kind in ("quote", "electric_side") else {"units": units}
    body = {"kind": kind, "question": question, "note": "by program", "expires_in_days": 3} | told
    reply = ask("POST", "/api/sheets", to=keeper, json=body)
    assert reply.status_code == 201, reply.text
    saved = reply.json()
    assert saved["kind"] == kind
    sheet = ask("GET", f"/api{saved['link_path']}", to=keeper).json()
    assert sheet["question"] == body["question"]
    if path and units == "metric":
        assert sheet["answer"] == ask("POST", path, to=keeper, json=question).json()
    page = ask("GET", saved["link_path"], to=keeper).text
    assert HEADLINE.search(page)
    assert ("mi" in visible(page)) == (units == "us") or kind in ("charging_session", "charging_plan")
    assert "A program asked it" in page


def visible(page):
    """Words of the answer."""
    text = re.sub(r"<[^>]+>", " ", page.partition('<div id="answer">')[2].partition('id="change"')[0])
    return set(re.findall(r"[A-Za-z]+", text.replace("\xa0", " ")))


def test_a_quote_may_be_kept_in_two_ways_and_is_the_same(ask, keeper):
    flat = CAR | LEGS | COLD | {"note": "x"}
    long = {"kind": "quote", "question": CAR | LEGS | COLD, "note": "x"}
    sheets = [
        ask("GET", f"/api{ask('POST', '/api/sheets', to=keeper, json=body).json()['link_path']}", to=keeper).json()
        for body in (flat, long)
    ]
    own = {"reference", "link_path", "saved_at"}
    first, second = ({name: value for name, value in sheet.items() if name not in own} for sheet in sheets)
    assert first == second


@pytest.mark.parametrize(
    ("body", "fields"),
    [
        ({"kind": "poem", "question": {}}, {"kind"}),
        ({"kind": None, "question": {}}, {"kind"}),
        ({"kind": "complaint"}, {"question"}),
        ({"kind": "complaint", "question": CAR}, {"question.reported_km"}),
        ({"kind": "complaint", "question": {"vehicle": {"id": "none"}, "reported_km": 9}}, {"question.vehicle.id"}),
        ({"kind": "complaint", "question": CAR | {"reported_km": 9}, "note": 5}, {"note"}),
        ({"kind": "comparison", "question": ASKED["comparison"][1] | {"place": "atlantis"}}, {"question.place"}),
        ({"kind": "quote", "question": CAR | LEGS, "units": "us"}, {"units"}),
        ({"kind": "charging_plan", "question": ASKED["charging_plan"][1] | {"departs": "soon"}}, {"question.departs"}),
        ([], {"body"}),
    ],
)
def test_what_cannot_be_kept_names_its_place(ask, keeper, body, fields):
    reply = ask("POST", "/api/sheets", to=keeper, json=body)
    assert reply.status_code == 422
    rows = reply.json()["errors"]
    assert {row["field"] for row in rows} == fields
    assert all(row["remedy"] for row in rows)


@pytest.mark.parametrize("kind", KINDS)
def test_there_is_no_button_without_a_store_or_without_an_answer(ask, keeper, kind):
    assert "Keep this sheet" not in ask("GET", KINDS[kind].path).text
    bad = "temperature=900&set_point=900&from_pct=900&reserve=-1&charge_from=900&leaves_home=99"
    assert "Keep this sheet" not in ask("GET", f"{KINDS[kind].path}?{bad}", to=keeper).text


@pytest.mark.parametrize("kind", ["quote", "complaint"])
def test_a_recorded_drive_is_kept_with_its_answer_and_driven_again(ask, keeper, kind):
    form = {"typed_units": "metric", "units": "metric", "vehicle": "small-electric-hatch", "temperature": "-7",
            "journey": "legs", "reported": "90", "parked": "outside", "circuit": "eu-household-10a"}  # fmt: skip
    page = ask("POST", KINDS[kind].path, to=keeper, data=form, files={"track_file": ("drive.csv", DRIVE)})
    sheet = ask("GET", press(ask, keeper, page).headers["location"], to=keeper)
    assert headline(sheet) == headline(page)
    assert re.search(r"<button[^>]*>Ask the same question today", sheet.text)
    assert "No link carries its table or recording" in sheet.text
    assert headline(again(ask, keeper, sheet)) == headline(page)
    question = ask("GET", f"/api{press(ask, keeper, page).headers['location']}", to=keeper).json()["question"]
    assert len(question["journey"]["track"]["time_s"]) > 100


def test_a_long_table_is_kept_with_its_answer_and_compared_again(ask, keeper):
    name = "Round to the far end of the district and back to the depot, the long way"
    rows = "".join(f'"{name}, {n}",{20 + n},70\n' for n in range(50))
    form = {"typed_units": "metric", "units": "metric", "vehicles": "electric-delivery-van", "months_by": "place",
            "place": "helsinki", "table": "route,distance_km,speed_km_h\n" + rows}  # fmt: skip
    assert len(form["table"]) > LONGEST_LINK
    page = ask("POST", "/routes", to=keeper, data=form)
    sheet = ask("GET", press(ask, keeper, page).headers["location"], to=keeper)
    assert headline(sheet) == headline(page)
    assert "No link carries its table" in sheet.text
    assert headline(again(ask, keeper, sheet)) == headline(page)


def test_routes_that_were_left_out_are_named_on_the_sheet(ask, keeper):
    table = "route,distance_km,speed_km_h\nNorth,40,60\nSouth,far,60\n"
    form = {"typed_units": "metric", "units": "metric", "vehicles": "electric-delivery-van", "months_by": "place",
            "place": "helsinki", "table": table}  # fmt: skip
    page = ask("POST", "/routes", to=keeper, data=form)
    sheet = ask("GET", press(ask, keeper, page).headers["location"], to=keeper)
    assert "one entry cannot be used, so South is left out" in sheet.text
    assert "South,far,60" in again(ask, keeper, sheet).text  # to be mended


def test_a_plan_that_stays_open_overnight_is_kept_as_it_is_shown(ask, keeper):
    page = page_of(ask, keeper, "charging_plan")
    shown = re.search(r'name="arrives" type="text"[^>]* value="([^"]+)"', page.text)[1]
    form = re.search(r'<form class="keep".*?</form>', page.text, re.DOTALL)[0]
    question = dict(parse_qsl(html.unescape(re.search(r'name="question" value="([^"]*)"', form)[1])))
    assert question["arrives"] == shown


@pytest.mark.parametrize(
    ("public", "printed"),
    [
        (None, False),
        ("http://127.0.0.1:8000", False),
        ("http://localhost", False),
        ("https://depot.example.org/r", True),
    ],
)
def test_address_and_code_are_printed_where_a_phone_can_follow_them(ask, start, tmp_path, public, printed):
    app = start(Settings(database=str(tmp_path / "sheets.sqlite3"), public_url=public))
    for kind in ("quote", "complaint"):
        path = ask("POST", "/api/sheets", to=app, json={"kind": kind, "question": ASKED[kind][1]}).json()["link_path"]
        page = ask("GET", path, to=app).text
        assert ('class="paper share"' in page) == ('class="paper address"' in page) == printed
        if printed:
            assert f'<p class="paper address">{public}{path}</p>' in page
            assert qr_svg(public + path) in page


def test_a_kind_that_is_no_more_still_opens(ask, keeper):
    new = NewSheet("0.4.0", "A title", "{}", "a=1", "{}", "<h1>As it was</h1>", kind="horoscope")
    path = f"/sheets/{keeper.state.keeping.store.save(new).token}"
    sheet = ask("GET", path, to=keeper)
    assert sheet.status_code == 200
    assert new.page in sheet.text
    assert "<dd>horoscope</dd>" in sheet.text
    assert "Ask the same" not in sheet.text
    assert ask("GET", f"/api{path}", to=keeper).json()["kind"] == "horoscope"
    assert "horoscope" in ask("GET", "/sheets", to=keeper).text


def test_forms_of_the_version_before_are_still_taken(ask, keeper):
    """A page of 0.4.0 that stayed open sends no kind: it was one car."""
    page = page_of(ask, keeper, "quote")
    form = dict(re.findall(r'type="hidden" name="(form_token|question)" value="([^"]*)"', page.text))
    form["question"] = html.unescape(form["question"])
    cookie = {"cookie": page.headers["set-cookie"].partition(";")[0]}
    kept = ask("POST", "/sheets", to=keeper, data=form, headers=cookie)
    assert json.loads(ask("GET", f"/api{kept.headers['location']}", to=keeper).text)["kind"] == "quote"
