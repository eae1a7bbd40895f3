"""A database kept by version 0.2.0 opens unchanged, whatever the model and the pages have become since.

`kept_by_0_2_0.sql` is what SQLite's own dump made of two sheets that 0.2.0 kept: one by the page, one by a program.
"""

import html
import json
import sqlite3
from pathlib import Path

import pytest

from service.web.settings import Settings

DUMP = Path(__file__).parent / "kept_by_0_2_0.sql"
BY_PAGE, BY_PROGRAM = "SqPVdGryE06dLop2ji6d0YaMmCcjvqur", "wJJTuRBgMeE7jFE4ugQYx3zQTP8T2KIV"
HEADLINES = {
    BY_PAGE: "At −11\xa0°C, nine days in ten you get at least 191\xa0km on one charge.",
    BY_PROGRAM: "At 23\xa0°F, nine days in ten you get at least 21\xa0mi on electricity.",
}
NUMBERS = {BY_PAGE: "8746-3273", BY_PROGRAM: "9906-0190"}


@pytest.fixture
def file(tmp_path):
    path = tmp_path / "sheets.sqlite3"
    with sqlite3.connect(path) as raw:
        raw.executescript(DUMP.read_text("utf-8"))
    raw.close()
    return path


@pytest.fixture
def upgraded(start, file):
    return start(Settings(database=str(file)))


@pytest.fixture
def frozen(file):
    """What the file held before the service saw it, by token."""
    with sqlite3.connect(file) as raw:
        raw.row_factory = sqlite3.Row
        rows = {row["token"]: dict(row) for row in raw.execute("SELECT * FROM sheets")}
    raw.close()
    return rows


@pytest.mark.parametrize("token", [BY_PAGE, BY_PROGRAM])
def test_the_page_shows_what_was_printed_then(ask, frozen, upgraded, token):
    page = ask("GET", f"/sheets/{token}", to=upgraded)
    assert page.status_code == 200
    assert frozen[token]["page"] in page.text  # letter by letter
    assert f'<h1 id="headline">{HEADLINES[token]}</h1>' in page.text
    assert f"sheet <b>{NUMBERS[token]}</b>, answered on 25 November 2026 by version 0.2.0 of its physical" in page.text
    assert html.escape(frozen[token]["note"]) in page.text


@pytest.mark.parametrize("token", [BY_PAGE, BY_PROGRAM])
def test_programs_get_the_answer_of_then(ask, frozen, upgraded, token):
    sheet = ask("GET", f"/api/sheets/{token}", to=upgraded).json()
    assert (sheet["model_version"], sheet["kind"]) == ("0.2.0", "quote")
    assert sheet["answer"] == json.loads(frozen[token]["answer"])
    assert sheet["question"] == json.loads(frozen[token]["question"])
    assert sheet["saved_at"].startswith("2026-11-25T17:37:5")


def test_it_is_still_found_deleted_and_asked_again(ask, upgraded):
    (line,) = ask("GET", "/api/sheets?reference=87463273", to=upgraded).json()
    assert line["link_path"] == f"/sheets/{BY_PAGE}"
    assert ask("GET", "/sheets", to=upgraded).text.count("<span>One car</span>") == 2
    page = ask("GET", line["link_path"], to=upgraded).text
    again = html.unescape(page.partition('href="/?')[2].partition('"')[0])
    assert ask("GET", f"/?{again}", to=upgraded).status_code == 200
    assert ask("DELETE", f"/api/sheets/{BY_PAGE}", to=upgraded).status_code == 204
    assert [each["reference"] for each in ask("GET", "/api/sheets", to=upgraded).json()] == [NUMBERS[BY_PROGRAM]]
