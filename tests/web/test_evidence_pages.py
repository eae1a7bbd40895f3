"""The evidence page and its JSON: the whole table, misses in words, links that keep the question."""

import re
from html.parser import HTMLParser

from service.catalogue import load_catalogue

ROWS = load_catalogue().evidence


class Cells(HTMLParser):
    """Rows of all tables within folds, and how many stand outside."""

    def __init__(self):
        super().__init__()
        self.fold, self.rows, self.words = 0, 0, []

    def handle_starttag(self, tag, attributes):
        self.fold += tag == "details"
        self.rows += tag == "th" and ("scope", "row") in attributes and self.fold > 0

    def handle_endtag(self, tag):
        self.fold -= tag == "details"

    def handle_data(self, data):
        if self.fold:
            self.words.append(data)


def test_the_page_shows_every_comparison_and_names_every_miss(ask):
    page = ask("GET", "/evidence")
    assert page.status_code == 200
    cells = Cells()
    cells.feed(page.text)
    assert cells.rows == len(ROWS)
    assert cells.words.count("outside") == sum(not row.agrees for row in ROWS.values())
    assert re.search(r"<h1[^>]*>\d+ of \d+ effects measured on cars are met, and \d+ of \d+", page.text)


def test_the_page_loads_no_script(ask):
    assert "<script" not in ask("GET", "/evidence").text


def test_links_back_keep_the_question(ask):
    page = ask("GET", "/evidence?vehicle=small-electric-hatch&temperature=-12&nonsense=1")
    assert 'href="/?vehicle=small-electric-hatch&amp;temperature=-12"' in page.text
    assert "nonsense" not in page.text
    assert 'aria-current="page"' not in page.text  # it is none of the three


def test_every_page_leads_to_the_evidence(ask):
    for path in ("/", "/routes", "/complaint"):
        assert '<a href="/evidence">Evidence</a>' in ask("GET", path).text


def test_json_is_the_table(ask):
    entries = ask("GET", "/api/evidence").json()
    assert [entry["id"] for entry in entries] == list(ROWS)
    for entry in entries:
        row = ROWS[entry["id"]]
        assert entry["agrees"] is row.agrees
        assert entry["published"] == row.published
        assert entry["mark"] == str(row.mark)
    assert any(entry["published"] is None for entry in entries)  # unknown is null


def test_the_description_names_it(ask):
    assert "/api/evidence" in ask("GET", "/openapi.json").json()["paths"]
    assert "/evidence" not in ask("GET", "/openapi.json").json()["paths"]
