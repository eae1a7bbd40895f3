"""One secret that every request shows, where one is set."""

import base64

import pytest

from service.web.settings import Settings

KEY = "a-key-of-the-house-1"


@pytest.fixture(scope="module")
def locked(start):
    return start(Settings(access_key=KEY))


def basic(text):
    return {"authorization": "Basic " + base64.b64encode(text.encode()).decode()}


@pytest.mark.parametrize(
    "headers",
    [
        {"authorization": f"Bearer {KEY}"},
        {"authorization": f"bearer {KEY}"},
        {"x-access-key": KEY},
        basic(f"anyone:{KEY}"),
    ],
)
def test_the_key_opens(ask, locked, headers):
    assert ask("GET", "/api/circuits", to=locked, headers=headers).status_code == 200


@pytest.mark.parametrize(
    "headers",
    [
        {},
        {"authorization": "Bearer"},
        {"authorization": f"Bearer {KEY}x"},
        {"authorization": f"Bearer {KEY[:-1]}"},
        {"authorization": KEY},
        {"authorization": "Basic %%%"},
        {"x-access-key": ""},
        basic(KEY),
        basic(f"{KEY}:"),
    ],
)
@pytest.mark.parametrize("path", ["/", "/api/circuits", "/static/docs.js", "/nowhere"])
def test_nothing_else_does(ask, locked, headers, path):
    response = ask("GET", path, to=locked, headers=headers)
    assert response.status_code == 401
    assert response.headers["www-authenticate"].startswith("Basic ")
    assert "content-security-policy" in response.headers
    assert response.json()["errors"][0]["field"] == "header.authorization"
    assert KEY not in response.text


def test_health_stays_open(ask, locked):
    assert ask("GET", "/healthz", to=locked).status_code == 200


def test_without_a_key_all_is_open(ask):
    assert ask("GET", "/api/circuits").status_code == 200
