"""Who may do what: with a key, without one, and where anyone may come in."""

import asyncio
import re
import time

import httpx
import pytest

from service.web.access import Access, Recognised, need_of
from service.web.keys import KeyHash
from service.web.rates import Buckets
from service.web.settings import Settings
from service.web.visits import COOKIE

KEY = "a-key-of-the-house-1"
HASH = KeyHash.of(KEY)
BEARER = {"authorization": f"Bearer {KEY}"}
HTML = {"accept": "text/html,application/xhtml+xml"}
TOKEN = "a" * 32


@pytest.fixture(scope="module")
def locked_once(start):
    return start(Settings(access_key=HASH))


@pytest.fixture
def locked(locked_once):
    """A service with a key, to whom nobody has shown a wrong one yet."""
    locked_once.state.tries._levels.clear()
    return locked_once


@pytest.mark.parametrize("scheme", ["Bearer", "bearer", "BEARER"])
def test_the_key_opens(ask, locked, scheme):
    assert ask("GET", "/api/circuits", to=locked, headers={"authorization": f"{scheme} {KEY}"}).status_code == 200


@pytest.mark.parametrize(
    "headers",
    [
        {},
        {"authorization": "Bearer"},
        {"authorization": f"Bearer {KEY}x"},
        {"authorization": f"Bearer {KEY[:-1]}"},
        {"authorization": f"Bearer {HASH.text}"},
        {"authorization": f"Bearer {'x' * 5000}"},
        {"authorization": KEY},
        {"x-access-key": KEY},
        {"cookie": f"{COOKIE}=someone.1795620000.1.{'0' * 64}"},
    ],
)
def test_nothing_else_does(ask, locked, headers):
    for path in ("/", "/api/circuits", "/docs", "/nowhere", "/sheets", "/api/sheets"):
        response = ask("GET", path, to=locked, headers=headers)
        assert response.status_code == 401
        assert response.headers["www-authenticate"].startswith("Bearer ")
        assert "content-security-policy" in response.headers
        assert response.json()["errors"][0]["field"] == "header.authorization"
        assert KEY not in response.text


@pytest.mark.parametrize("path", ["/healthz", "/static/rangewright.css", "/login"])
def test_what_stays_open(ask, locked, path):
    assert ask("GET", path, to=locked).status_code == 200


def test_without_a_key_all_is_open(ask):
    assert ask("GET", "/api/circuits").status_code == 200


def test_people_are_led_to_the_page_to_enter_and_back(ask, locked):
    response = ask("GET", "/year?units=us", to=locked, headers=HTML)
    assert response.status_code == 303
    assert response.headers["location"] == "/login?next=%2Fyear%3Funits%3Dus"
    page = ask("GET", response.headers["location"], to=locked, headers=HTML)
    entered = ask("POST", "/login", to=locked, data=fields(page) | {"key": KEY}, headers=cookies(page))
    assert entered.status_code == 303
    assert entered.headers["location"] == "/year?units=us"
    set_cookie = entered.headers["set-cookie"]
    assert {"HttpOnly", "SameSite=Lax", "Path=/"} <= set(set_cookie.split("; "))
    assert "Secure" not in set_cookie  # this test speaks no TLS; see below
    assert ask("GET", "/year?units=us", to=locked, headers=cookies(entered) | HTML).status_code == 200
    assert ask("GET", "/login", to=locked, headers=cookies(entered)).headers["location"] == "/"


def test_leaving_forgets_the_key(ask, locked):
    page = ask("GET", "/login", to=locked)
    entered = ask("POST", "/login", to=locked, data=fields(page) | {"key": KEY}, headers=cookies(page))
    list_page = ask("GET", "/sheets", to=locked, headers=cookies(entered))
    token = locked.state.visits.form_token(locked.state.visits.read(cookies(entered)["cookie"].partition("=")[2]))
    assert list_page.status_code == 503  # entered, and this service keeps no sheets
    left = ask("POST", "/logout", to=locked, data={"form_token": token}, headers=cookies(entered))
    assert left.status_code == 303
    assert ask("GET", "/", to=locked, headers=cookies(left)).status_code == 401


@pytest.mark.parametrize(
    ("settings", "base"), [({"public_url": "https://range.example.org"}, ""), ({}, "https://localhost")]
)
def test_the_cookie_is_for_tls_alone_where_there_is_tls(ask, start, settings, base):
    app = start(Settings(access_key=HASH, **settings))
    assert "Secure" in ask("GET", f"{base}/login", to=app).headers["set-cookie"].split("; ")


def test_a_wrong_key_is_told_and_a_wrong_form_refused(ask, locked):
    page = ask("GET", "/login", to=locked)
    wrong = ask("POST", "/login", to=locked, data=fields(page) | {"key": "wrong"}, headers=cookies(page))
    assert wrong.status_code == 403
    assert "This is not the key" in wrong.text
    for given, headers in [
        (fields(page), {}),
        ({"key": KEY}, cookies(page)),
        (fields(page) | {"form_token": "é"}, cookies(page)),
    ]:
        refused = ask("POST", "/login", to=locked, data={"key": KEY} | given, headers=headers)
        assert refused.status_code == 403
        assert "set-cookie" not in refused.headers or ".1." not in refused.headers["set-cookie"]


def test_another_key_ends_the_visits_of_the_old_one(ask, start):
    secret = b"s" * 32
    one = start(Settings(access_key=HASH, secret=secret))
    page = ask("GET", "/login", to=one)
    entered = ask("POST", "/login", to=one, data=fields(page) | {"key": KEY}, headers=cookies(page))
    same, other = (
        start(Settings(access_key=key, secret=secret)) for key in (HASH, KeyHash.of("another-key-of-the-house"))
    )
    assert ask("GET", "/", to=same, headers=cookies(entered)).status_code == 200
    assert ask("GET", "/", to=other, headers=cookies(entered)).status_code == 401


def test_too_many_wrong_keys_have_to_wait(ask, start):
    locked = start(Settings(access_key=HASH))
    locked.state.tries = Buckets(2, lambda: 0.0)
    page = ask("GET", "/login", to=locked)
    replies = [
        ask("POST", "/login", to=locked, data=fields(page) | {"key": "wrong"}, headers=cookies(page)) for _ in range(3)
    ]
    assert [reply.status_code for reply in replies] == [403, 403, 429]
    assert int(replies[-1].headers["retry-after"]) > 0


def test_programs_with_wrong_keys_have_to_wait_and_the_right_one_does_not(ask, start, monkeypatch):
    monkeypatch.setattr("service.web.app.TRIES_A_MINUTE", 3)
    locked = start(Settings(access_key=HASH))
    assert ask("GET", "/api/circuits", to=locked, headers=BEARER).status_code == 200
    wrong = [
        ask("GET", "/api/circuits", to=locked, headers={"authorization": "Bearer x"}).status_code for _ in range(3)
    ]
    assert wrong == [401, 401, 429]
    assert ask("GET", "/api/circuits", to=locked, headers=BEARER).status_code == 200


def test_guesses_are_tried_one_after_the_other(locked, monkeypatch):
    at_once, most = [], []

    def matches(_key, candidate):
        at_once.append(candidate)
        most.append(len(at_once))
        time.sleep(0.05)
        at_once.remove(candidate)
        return False

    monkeypatch.setattr(KeyHash, "matches", matches)

    async def guess(number):
        transport = httpx.ASGITransport(locked, client=(f"192.0.2.{number}", 1))
        async with httpx.AsyncClient(transport=transport, base_url="http://127.0.0.1:8000") as client:
            return await client.get("/api/circuits", headers={"authorization": f"Bearer guess-{number}"})

    async def together():
        return await asyncio.gather(*map(guess, range(8)))

    assert {reply.status_code for reply in asyncio.run(together())} == {401}
    assert most == [1] * 8


@pytest.mark.parametrize("after", ["//elsewhere.example", "https://elsewhere.example", "/\\elsewhere.example", "x"])
def test_entering_leads_nowhere_else(ask, locked, after):
    page = ask("GET", "/login", to=locked, params={"next": after})
    assert fields(page)["next"] == "/"
    entered = ask("POST", "/login", to=locked, data=fields(page) | {"key": KEY, "next": after}, headers=cookies(page))
    assert entered.headers["location"] == "/"


@pytest.mark.parametrize(
    ("settings", "may"),
    [
        # ask, keep, open one, find, delete; 503: it may, and this service keeps none
        (Settings(), (200, 503, 404, 503, 404)),
        (Settings(access_key=HASH), (401, 401, 404, 401, 401)),
        (Settings(host="0.0.0.0", access_key=HASH), (401, 401, 404, 401, 401)),
        (Settings(host="0.0.0.0", open=True), (200, 503, 404, 403, 404)),
        (Settings(host="0.0.0.0", open=True, access_key=HASH), (200, 503, 404, 401, 401)),
        (Settings(public_url="https://range.example.org", open=True), (200, 503, 404, 403, 404)),
    ],
    ids=["this machine", "key", "key, beyond", "open", "open and key", "behind a proxy"],
)
def test_who_may_do_what(ask, start, question, settings, may):
    app = start(settings)
    given = [
        ask("GET", "/api/circuits", to=app),
        ask("POST", "/api/sheets", to=app, json=question | {"band": False}),
        ask("GET", "/api/sheets/x", to=app),
        ask("GET", "/api/sheets", to=app),
        ask("DELETE", "/api/sheets/x", to=app),
    ]
    assert tuple(reply.status_code for reply in given) == may


def test_head_is_held_like_get():
    for path in ("/", "/sheets", "/api/sheets", "/sheets/abc", "/healthz"):
        assert need_of("HEAD", path) is need_of("GET", path)


def test_the_key_is_in_no_memory_of_the_access():
    recognised = Recognised(HASH)
    assert recognised.slowly(KEY)
    assert recognised.at_once(KEY)
    assert not recognised.at_once(KEY + "x")
    held = [recognised, *vars(recognised).values(), HASH.salt, HASH.digest, HASH.text]
    assert KEY not in "".join(map(repr, held))
    assert KEY not in repr(vars(Access(None, Settings(access_key=HASH), recognised, Buckets(1))))


def fields(page):
    """Hidden inputs of a page."""
    return dict(re.findall(r'type="hidden" name="([^"]+)" value="([^"]*)"', page.text))


def cookies(reply):
    """What the browser sends back."""
    return {"cookie": reply.headers["set-cookie"].partition(";")[0]}
