"""Links to every page with anything in their fields: an answer or what is wrong, never a failure.

A few links of each page belong to every test run; `pytest -m fuzz` asks each three hundred times.
"""

import re

import pytest
from hypothesis import strategies as st

from tests.web.drawn import ODD_TEXT, at_random

FEW, MANY = 5, 300
PAGES = ["/", "/year", "/routes", "/speeds", "/complaint", "/charging", "/plan", "/envelope"]
PARTS = [
    *("/quote-part", "/year-part", "/speeds-part", "/complaint-part", "/charging-part", "/plan-part", "/envelope-part"),
    *("/quote.json", "/speeds.csv", "/charging.json", "/charging.csv", "/plan.csv"),
]
LONG = st.sampled_from(["9" * 400, "a" * 5_000, "0x10", "1_000", "٣", "½", "2026-13-45", "25:61", "<script>"])


def links(names, values):
    value = st.sampled_from(values) | ODD_TEXT | LONG
    return st.dictionaries(st.sampled_from(names), value, max_size=8)


def check(ask, path, count):
    page = re.sub(r"(-part|\..*)$", "", path)
    shown = ask("GET", "/" if page == "/quote" else page).text
    names = sorted(set(re.findall(r'<(?:input|select|textarea)[^>]* name="([^"]+)"', shown)) - {"form_token"})
    values = sorted(set(re.findall(r'<(?:input|option)[^>]* value="([^"]{1,40})"', shown)))

    def answered(fields):
        reply = ask("GET", path, params=fields)
        assert reply.status_code in (200, 422), reply.text[:500]

    at_random(links(names, values), count, answered)


@pytest.mark.parametrize("path", PAGES + PARTS)
def test_whatever_a_link_holds_is_answered(ask, path):
    check(ask, path, FEW)


@pytest.mark.fuzz
@pytest.mark.parametrize("path", PAGES + PARTS)
def test_whatever_hundreds_of_links_hold_is_answered(ask, path):
    check(ask, path, MANY)
