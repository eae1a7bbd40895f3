"""Every answer carries the headers, whatever became of the request."""

import re

import pytest

from service.web.headers import CONTENT_POLICY
from service.web.settings import Settings


@pytest.mark.parametrize(
    ("method", "path", "status"),
    [
        ("GET", "/", 200),
        ("GET", "/healthz", 200),
        ("GET", "/docs", 200),
        ("GET", "/docs/swagger-ui-bundle.js", 200),
        ("GET", "/static/docs.js", 200),
        ("GET", "/openapi.json", 200),
        ("HEAD", "/api/places", 200),
        ("GET", "/nowhere", 404),
        ("GET", "/api/quotes", 405),
        ("POST", "/api/quotes", 415),
    ],
)
def test_headers_are_everywhere(ask, method, path, status):
    response = ask(method, path)
    assert response.status_code == status
    assert response.headers["content-security-policy"] == CONTENT_POLICY
    assert response.headers["x-content-type-options"] == "nosniff"
    assert response.headers["referrer-policy"] == "same-origin"


@pytest.mark.parametrize("path", ["/", "/year", "/routes", "/login", "/sheets", "/api/vehicles", "/static/docs.js"])
def test_no_cache_between_gives_one_reader_what_another_got(ask, path):
    """Pages hold a visit's cookie and token; behind a key nothing is for everybody."""
    assert "private" in ask("GET", path).headers["cache-control"]


def test_a_style_is_asked_for_anew_and_not_sent_anew(ask):
    first = ask("GET", "/static/rangewright.css")
    again = ask("GET", "/static/rangewright.css", headers={"if-none-match": first.headers["etag"]})
    assert (again.status_code, again.content) == (304, b"")


@pytest.mark.parametrize(
    ("public_url", "said"), [(None, None), ("http://range.example.org", None), ("https://range.example.org", "max-age")]
)
def test_browsers_keep_to_tls_where_people_come_by_tls(ask, start, public_url, said):
    app = start(Settings(public_url=public_url, open=True))
    assert str(ask("GET", "/healthz", to=app).headers.get("strict-transport-security")).partition("=")[0] == str(said)


def test_the_policy_lets_nothing_in_but_our_own():
    assert "unsafe" not in CONTENT_POLICY
    assert "http" not in CONTENT_POLICY
    assert CONTENT_POLICY.startswith("default-src 'none'")


@pytest.mark.parametrize("path", ["/", "/docs"])
def test_pages_hold_nothing_that_the_policy_would_stop(ask, path):
    page = ask("GET", path).text
    assert not re.search(r"<script(?![^>]*\bsrc=)", page)
    assert not re.search(r"<style|\sstyle=|\son[a-z]+=", page)
    assert not re.search(r"""(?:src|href|action)=["'](?:https?:)?//""", page)
