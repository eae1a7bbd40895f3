"""The evidence table: what agrees, and rows that contradict themselves."""

import csv
import shutil
from dataclasses import replace

import pytest

from service.catalogue import data_folder
from service.catalogue.evidence import Check, Mark, read_evidence
from service.errors import BadTable

ROW = Check("a-01", "A", "of a", "a source", Mark.PUBLISHED, 10.0, None, None, 10.4, None, None, "kg", 0.5, None)
POPULATION = replace(ROW, model_low=8.0, model_high=9.4)
SPAN = replace(ROW, published=None, published_low=1.0, published_high=2.0, tolerance=0.0)


@pytest.mark.parametrize(
    ("row", "agrees"),
    [
        (ROW, True),
        (replace(ROW, model=9.5), True),
        (replace(ROW, model=10.6), False),
        (replace(ROW, model=9.4), False),
        (POPULATION, False),
        (replace(POPULATION, model_high=9.5), True),
        (replace(POPULATION, model_low=10.6, model_high=12.0), False),
        (replace(SPAN, model=1.5), True),
        (replace(SPAN, model=2.1), False),
        (replace(SPAN, published_low=None, model=-50.0), True),
        (replace(SPAN, published_high=None, model=0.9), False),
        (replace(SPAN, published_high=None, model=0.9, model_low=0.5, model_high=1.0), True),
    ],
)
def test_a_row_agrees_where_both_sides_meet(row, agrees):
    assert row.agrees is agrees


@pytest.fixture
def copy(tmp_path):
    for ending in ("csv", "toml"):
        shutil.copy(data_folder() / f"evidence.{ending}", tmp_path)
    return tmp_path


def change(folder, **cells):
    path = folder / "evidence.csv"
    header, first, *others = list(csv.reader(path.read_text("utf-8").splitlines()))
    for column, text in cells.items():
        first[header.index(column)] = text
    with path.open("w", encoding="utf-8", newline="") as file:
        csv.writer(file, lineterminator="\n").writerows([header, first, *others])


def test_the_table_is_read_by_id(copy):
    rows = read_evidence(copy)
    assert list(rows) == [row.id for row in rows.values()]
    assert any(not row.agrees for row in rows.values())  # misses are kept


@pytest.mark.parametrize(
    ("cells", "column", "words"),
    [
        ({"published": ""}, "published", "neither a value nor an end"),
        ({"model_low": ""}, "model_low", "both ends or none"),
        ({"agrees": "no"}, "agrees", "contradicts the numbers"),
        ({"agrees": "perhaps"}, "agrees", "contradicts the numbers"),
        ({"model": "much"}, "model", "not a number"),
        ({"mark": "certain"}, "mark", "is none of published"),
        ({"tolerance": "-1"}, "tolerance", "outside 0"),
        ({"source": ""}, "source", "blank"),
    ],
)
def test_a_row_that_contradicts_itself_is_named(copy, cells, column, words):
    change(copy, **cells)
    with pytest.raises(BadTable, match=rf"^evidence\.csv: row 1, column {column}: .*{words}"):
        read_evidence(copy)
