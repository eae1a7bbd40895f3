"""Every answer carries the headers, whatever became of the request."""

import re

import pytest

from service.web.headers import CONTENT_POLICY


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
