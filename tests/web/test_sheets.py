"""Kept sheets as programs and people meet them."""

import asyncio
import json
import re
import sqlite3
from contextlib import closing
from datetime import datetime
from urllib.parse import urlencode

import pytest

from service.store import SheetStore
from service.store.database import sqlite_url
from service.web.app import create_app
from service.web.settings import Settings

FAST = {"band": False}


@pytest.fixture
def keeper(start, tmp_path):
    """A service that keeps sheets."""
    return start(Settings(database=str(tmp_path / "kept" / "sheets.sqlite3")))


@pytest.fixture
def keep(ask, keeper, question):
    """Keep one by JSON; fields by keyword."""

    def send(**more):
        return ask("POST", "/api/sheets", to=keeper, json=question | FAST | more)

    return send


def press(ask, keeper, page, **more):
    """Press the button of a page, as a browser without JavaScript does."""
    hidden = dict(re.findall(r'type="hidden" name="(form_token|question)" value="([^"]*)"', page.text))
    hidden["question"] = hidden.get("question", "").replace("&amp;", "&")
    return ask("POST", "/sheets", to=keeper, data=hidden | more, headers=cookie(page))


def cookie(page):
    return {"cookie": page.headers["set-cookie"].partition(";")[0]}


def test_an_answer_is_kept_and_comes_back_as_it_was(ask, keeper, keep, question):
    reply = keep(note="  second desk,\n Tuesday ", expires_in_days=30)
    assert reply.status_code == 201
    kept = reply.json()
    assert re.fullmatch(r"\d{4}-\d{4}", kept["reference"])
    assert re.fullmatch(r"/sheets/[A-Za-z0-9_-]{32}", kept["link_path"])
    assert kept["note"] == "second desk, Tuesday"
    saved, expires = (datetime.fromisoformat(kept[name]) for name in ("saved_at", "expires_at"))
    assert saved.tzinfo is not None
    assert (expires - saved).days == 30
    again = ask("GET", f"/api{kept['link_path']}", to=keeper)
    assert again.headers["cache-control"] == "private, no-store"
    sheet = again.json()
    assert {name: sheet[name] for name in kept} == kept
    assert sheet["question"] == question | FAST
    assert sheet["answer"] == ask("POST", "/api/quotes", json=question | FAST).json()


def test_a_kept_answer_ends_in_the_units_of_its_page(ask, keeper, keep):
    sheet = ask("GET", f"/api{keep(units='us').json()['link_path']}", to=keeper).json()
    assert sheet["question"]["units"] == "us"
    assert " mi. " in sheet["answer"]["notes"][-1]
    page = ask("GET", "/?units=us", to=keeper)
    pressed = ask("GET", f"/api{press(ask, keeper, page).headers['location']}", to=keeper).json()
    assert pressed["answer"] == ask("GET", "/quote.json?units=us", to=keeper).json()
    assert pressed["question"]["units"] == "us"


def test_what_a_sheet_is_called_with(ask, keeper, keep):
    kept = keep().json()
    find = lambda number: ask("GET", "/api/sheets", to=keeper, params={"reference": number})  # noqa: E731
    (found,) = find(kept["reference"].replace("-", " ")).json()
    assert found == kept
    assert find("0000-0000").json() == []
    assert find("0000-0001").status_code == 422
    assert find("0000-0001").json()["errors"][0]["field"] == "reference"
    assert ask("GET", "/api/sheets", to=keeper).json() == [kept]


def test_deleted_is_gone(ask, keeper, keep):
    path = keep().json()["link_path"]
    assert ask("DELETE", f"/api{path}", to=keeper).status_code == 204
    for method in ("GET", "DELETE"):
        reply = ask(method, f"/api{path}", to=keeper)
        assert reply.status_code == 404
        assert reply.json()["errors"][0]["remedy"]
    assert ask("GET", path, to=keeper).status_code == 404


@pytest.mark.parametrize(
    ("bad", "field"),
    [
        ({"note": "x" * 201}, "note"),
        ({"note": "bell \x07"}, "note"),
        ({"note": "half \ud800"}, "note"),
        ({"note": None}, "note"),
        ({"expires_in_days": 0}, "expires_in_days"),
        ({"expires_in_days": 3651}, "expires_in_days"),
        ({"expires_in_days": 1.5}, "expires_in_days"),
        ({"expires_in_days": True}, "expires_in_days"),
        ({"units": "imperial"}, "units"),
        ({"vehicle": {"id": "no-such-car"}}, "vehicle.id"),
        ({"token": "a" * 32}, "token"),
    ],
)
def test_what_cannot_be_kept_is_told_and_not_kept(ask, keeper, question, bad, field):
    body = json.dumps(question | FAST | bad)
    reply = ask("POST", "/api/sheets", to=keeper, content=body, headers={"content-type": "application/json"})
    assert reply.status_code == 422
    assert {row["field"] for row in reply.json()["errors"]} == {field}
    assert ask("GET", "/api/sheets", to=keeper).json() == []


@pytest.mark.parametrize("token", ["x", "a" * 32, "a" * 33, "%2e%2e", "a" * 31 + "%0a", "%00" * 32])
def test_links_of_no_sheet(ask, keeper, token):
    assert ask("GET", f"/api/sheets/{token}", to=keeper).status_code == 404
    page = ask("GET", f"/sheets/{token}", to=keeper)
    assert page.status_code == 404
    assert "There is no such sheet" in page.text


def test_the_button_keeps_the_answer_that_is_shown(ask, keeper):
    page = ask("GET", "/?temperature=-11&vehicle=small-electric-hatch", to=keeper)
    headline = re.search(r'<h1 id="headline">(.*?)</h1>', page.text).group(1)
    pressed = press(ask, keeper, page, note="blue one", expires_in_days="90")
    assert pressed.status_code == 303
    sheet = ask("GET", pressed.headers["location"], to=keeper)
    assert sheet.status_code == 200
    assert f'<h1 id="headline">{headline}</h1>' in sheet.text
    assert "blue one" in sheet.text
    assert "until it is deleted" not in sheet.text
    assert {"no-store", "private"} == set(sheet.headers["cache-control"].replace(" ", "").split(","))
    again = re.search(r'href="/\?([^"]+)">Ask the same', sheet.text).group(1).replace("&amp;", "&")
    asked = ask("GET", f"/?{again}", to=keeper)
    assert f'<h1 id="headline">{headline}</h1>' in asked.text
    program = ask("GET", f"/api{pressed.headers['location']}", to=keeper).json()
    assert program["question"]["weather"]["temperature_c"] == -11
    assert program["answer"]["range_km"] == ask("GET", "/quote.json?" + again, to=keeper).json()["range_km"]


def test_engine_and_prices_are_kept_with_the_answer(ask, keeper):
    page = ask("GET", "/?drive_mode=charge_hold&currency=EUR&electricity_price=0.3&fuel_price=1.8", to=keeper)
    sheet = ask("GET", press(ask, keeper, page).headers["location"], to=keeper)
    assert "at the stated prices" in sheet.text
    again = re.search(r'href="/\?([^"]+)">Ask the same', sheet.text).group(1).replace("&amp;", "&")
    assert "drive_mode=charge_hold" in again
    assert "1.80\xa0EUR a litre" in ask("GET", f"/?{again}", to=keeper).text


def test_the_starting_page_can_be_kept_in_both_units(ask, keeper):
    for query in ("", "?units=us"):
        page = ask("GET", f"/{query}", to=keeper)
        sheet = ask("GET", press(ask, keeper, page).headers["location"], to=keeper)
        assert sheet.status_code == 200
        assert f"{'23' if query else '−5'}\xa0°{'F' if query else 'C'}" in sheet.text


def test_where_nothing_is_kept_there_is_no_button(ask, keeper):
    assert "Keep this sheet" not in ask("GET", "/").text
    assert "Keep this sheet" in ask("GET", "/", to=keeper).text
    assert "Keep this sheet" in ask("GET", "/quote-part", to=keeper).text
    assert "Keep this sheet" not in ask("GET", "/?temperature=900", to=keeper).text


def test_a_kept_page_has_no_form_of_its_own_inside(ask, keeper):
    page = ask("GET", "/", to=keeper)
    path = press(ask, keeper, page).headers["location"]
    kept = keeper.state.keeping.store.open(path.rpartition("/")[2]).page
    assert "<form" not in kept
    assert "form_token" not in kept
    assert 'href="#change"' not in kept


def test_forms_need_their_token(ask, keeper):
    page = ask("GET", "/", to=keeper)
    token = re.search(r'name="form_token" value="([^"]+)"', page.text).group(1)
    for data, headers in [
        ({"question": ""}, cookie(page)),
        ({"question": "", "form_token": token}, {}),
        ({"question": "", "form_token": token[:-1] + "!"}, cookie(page)),
        ({"question": "", "form_token": token}, cookie(ask("GET", "/", to=keeper))),
    ]:
        refused = ask("POST", "/sheets", to=keeper, data=data, headers=headers)
        assert refused.status_code == 403
        assert "The sheet is not kept" in refused.text
    assert ask("GET", "/api/sheets", to=keeper).json() == []


def test_a_form_that_cannot_be_kept_says_why(ask, keeper):
    page = ask("GET", "/", to=keeper)
    for more in (
        {"note": "x" * 201},
        {"expires_in_days": "soon"},
        {"expires_in_days": "9" * 5000},
        {"question": "temperature=900"},
    ):
        told = press(ask, keeper, page, **more)
        assert told.status_code == 422
        assert "The sheet is not kept" in told.text
        assert "Back to the answer" in told.text
    assert press(ask, keeper, page, question="a=1&" * 400).status_code == 422
    assert press(ask, keeper, page, question="x" * 3_500_000).status_code == 413


def test_what_is_typed_cannot_become_markup(ask, keeper):
    page = ask("GET", "/", to=keeper)
    evil = "<script>alert(1)</script>"
    own = urlencode(
        {
            **{"vehicle": "own", "own_name": evil, "own_kind": "bev", "own_mass": "1500", "own_usable": "40"},
            **{"own_road_load": "parts", "own_cd_a": "0.6", "own_crr": "0.009"},
        }
    )
    pressed = press(ask, keeper, page, note=evil, question=own)
    assert pressed.status_code == 303
    for address in (pressed.headers["location"], "/sheets"):
        html = ask("GET", address, to=keeper).text
        assert "<script>alert" not in html
        assert "&lt;script&gt;" in html


def test_sheets_are_listed_found_and_deleted_on_pages(ask, keeper, keep):
    assert "There are none yet" in ask("GET", "/sheets", to=keeper).text
    kept = keep(note="blue one").json()
    listed = ask("GET", "/sheets", to=keeper)
    assert kept["link_path"] in listed.text
    assert "blue one" in listed.text
    found = ask("GET", "/sheets", to=keeper, params={"reference": kept["reference"]})
    assert kept["link_path"] in found.text
    assert "eight digits" in ask("GET", "/sheets?reference=12", to=keeper).text
    assert ask("GET", "/sheets?reference=12", to=keeper).status_code == 422
    assert "There is no sheet 0000-0000" in ask("GET", "/sheets?reference=00000000", to=keeper).text
    sheet = ask("GET", kept["link_path"], to=keeper)
    token = re.search(r'name="form_token" value="([^"]+)"', sheet.text).group(1)
    assert ask("POST", f"{kept['link_path']}/delete", to=keeper, data={"a": "b"}).status_code == 403
    gone = ask("POST", f"{kept['link_path']}/delete", to=keeper, data={"form_token": token}, headers=cookie(sheet))
    assert gone.status_code == 200
    assert ask("GET", kept["link_path"], to=keeper).status_code == 404


def test_expired_sheets_are_gone_for_everyone(ask, keeper, keep, monkeypatch):
    kept = keep(expires_in_days=1).json()
    monkeypatch.setattr(keeper.state.keeping.store, "_clock", lambda: datetime.now().timestamp() + 86_400)
    assert ask("GET", kept["link_path"], to=keeper).status_code == 404
    assert ask("GET", "/api/sheets", to=keeper).json() == []
    assert SheetStore.purge(keeper.state.keeping.store) == 1


def test_the_service_removes_what_has_expired_by_itself(keeper, keep, tmp_path):
    kept, lasting = keep(expires_in_days=1, note="brief one").json(), keep(note="lasting").json()
    file = tmp_path / "kept" / "sheets.sqlite3"
    with closing(sqlite3.connect(file)) as raw, raw:
        raw.execute("UPDATE sheets SET expires_at_s = 1000 WHERE reference = ?", (kept["reference"],))
    keeper.state.keeping.close()

    def on_the_disk():
        return b"".join(path.read_bytes() for path in file.parent.iterdir())

    async def runs():
        app = create_app(Settings(database=str(file)))
        async with app.router.lifespan_context(app):  # purges as it starts, and then every hour
            for _ in range(600):
                if b"brief one" not in on_the_disk():
                    break
                await asyncio.sleep(0.05)

    assert b"brief one" in on_the_disk()
    asyncio.run(runs())
    assert b"brief one" not in on_the_disk()
    assert SheetStore(sqlite_url(file)).find(lasting["reference"]) is not None


def test_no_log_holds_a_link(ask, keeper, keep, monkeypatch, caplog):
    path = keep().json()["link_path"]
    token = path.rpartition("/")[2]

    def broken(*_given):
        raise RuntimeError("broken")

    with caplog.at_level("DEBUG"):
        for each in (path, f"/api{path}"):
            assert ask("GET", each, to=keeper).status_code == 200
        monkeypatch.setattr(SheetStore, "open", broken)
        monkeypatch.setattr(SheetStore, "delete", broken)
        for method, each in (("GET", path), ("GET", f"/api{path}"), ("DELETE", f"/api{path}")):
            assert ask(method, each, to=keeper).status_code == 500
    assert "failed to answer GET /sheets/{token}" in caplog.text
    ours = [record for record in caplog.records if not record.name.startswith("httpx")]  # the test's own client
    assert not any(token in record.getMessage() + str(record.exc_text) for record in ours)


@pytest.mark.parametrize("kind", ["missing folder", "not a database", "torn"])
def test_without_its_database_the_service_answers_quotes_and_says_so(ask, start, question, tmp_path, kind, caplog):
    file = tmp_path / "blocked" / "sheets.sqlite3"
    if kind == "missing folder":
        file.parent.write_text("a file where the folder should be")
    elif kind == "torn":
        file.parent.mkdir()
        with closing(sqlite3.connect(file)) as raw, raw:
            raw.execute("CREATE TABLE alembic_version AS SELECT '0001' AS version_num")
            raw.execute("CREATE TABLE sheets AS SELECT 'x' AS token")
        whole = file.read_bytes()
        file.write_bytes(whole[:4096] + b"\xff" * (len(whole) - 4096))  # its first page is whole
    else:
        file.parent.mkdir()
        file.write_bytes(b"not a database\n" * 500)
    app = start(Settings(database=str(file)))
    assert "the saved sheets cannot be used" in caplog.text
    assert ask("POST", "/api/quotes", to=app, json=question | FAST).status_code == 200
    page = ask("GET", "/", to=app)
    assert page.status_code == 200
    replies = [
        ask("POST", "/api/sheets", to=app, json=question | FAST),
        ask("GET", "/api/sheets", to=app),
        ask("GET", "/api/sheets/" + "a" * 32, to=app),
        ask("GET", "/sheets/" + "a" * 32, to=app),
        ask("GET", "/sheets", to=app),
        press(ask, app, page),
    ]
    for reply in replies:
        assert reply.status_code == 503
        assert int(reply.headers["retry-after"]) > 0
        assert "quotes go on working" in reply.text
        assert str(tmp_path) not in reply.text
        assert "sqlite" not in reply.text.lower()
    assert replies[0].json()["errors"][0]["field"] == "store"
