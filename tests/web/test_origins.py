"""Only pages of our own change anything, under a name that is ours."""

import pytest

from service.web.keys import KeyHash
from service.web.settings import Settings

PUBLIC = "https://range.example.org"


@pytest.mark.parametrize(
    ("headers", "status"),
    [
        ({}, 200),  # a program
        ({"sec-fetch-site": "same-origin"}, 200),
        ({"sec-fetch-site": "none"}, 200),
        ({"sec-fetch-site": "same-origin", "origin": "null"}, 200),  # a form under a strict referrer policy
        ({"origin": "http://127.0.0.1:8000"}, 200),
        ({"sec-fetch-site": "cross-site"}, 403),
        ({"sec-fetch-site": "same-site"}, 403),
        ({"sec-fetch-site": "cross-site", "origin": "http://127.0.0.1:8000"}, 403),
        ({"origin": "http://127.0.0.1:9000"}, 403),
        ({"origin": "https://elsewhere.example"}, 403),
        ({"origin": "null"}, 403),
        ({"origin": "http://[bad"}, 403),
    ],
)
def test_what_other_sites_send_is_refused(ask, question, headers, status):
    reply = ask("POST", "/api/quotes", json=question | {"band": False}, headers=headers)
    assert reply.status_code == status
    if status == 403:
        (row,) = reply.json()["errors"]
        assert row["field"].startswith("header.")
        assert row["remedy"]


@pytest.mark.parametrize("method", ["DELETE", "PUT", "PATCH"])
def test_every_method_that_may_change_something_is_held(ask, method):
    assert ask(method, "/api/sheets/x", headers={"sec-fetch-site": "cross-site"}).status_code == 403


def test_links_from_other_sites_open(ask):
    assert ask("GET", "/api/circuits", headers={"sec-fetch-site": "cross-site"}).status_code == 200


def test_a_proxy_may_have_another_name(ask, start, question):
    app = start(Settings(public_url=PUBLIC, open=True))
    body = question | {"band": False}
    assert ask("POST", "/api/quotes", to=app, json=body, headers={"origin": PUBLIC}).status_code == 200
    assert (
        ask("POST", "/api/quotes", to=app, json=body, headers={"origin": f"{PUBLIC}.evil.example"}).status_code == 403
    )


@pytest.mark.parametrize("host", ["127.0.0.1:8000", "localhost", "localhost:1", "[::1]:8000", "127.9.9.9"])
def test_this_machine_is_known_by_its_names(ask, host):
    assert ask("GET", "/healthz", headers={"host": host}).status_code == 200


@pytest.mark.parametrize(
    "host", ["elsewhere.example", "localhost.elsewhere.example:8000", "192.0.2.1", "[::1", "", "a@b:c"]
)
def test_a_foreign_name_that_points_here_is_refused(ask, host):
    reply = ask("GET", "/healthz", headers={"host": host})
    assert reply.status_code == 421
    assert reply.json()["errors"][0]["field"] == "header.host"
    assert "content-security-policy" in reply.headers


def test_beyond_this_machine_every_name_is_good(ask, start):
    app = start(Settings(host="0.0.0.0", access_key=KeyHash.of("a-key-of-the-house-1")))
    assert ask("GET", "/healthz", to=app, headers={"host": "anything.example"}).status_code == 200
    behind = start(Settings(public_url=PUBLIC, open=True))
    assert ask("GET", "/healthz", to=behind, headers={"host": "range.example.org"}).status_code == 200
