"""The table of explanations: complete, ordered sizes, every limit with its source and weight."""

import csv

import pytest

from service.catalogue import load_catalogue
from service.catalogue.separating_tests import Family, Mark
from service.errors import BadTable


def test_every_family_is_there_and_every_limit_is_marked(catalogue):
    rows = catalogue.separating_tests.values()
    assert {each.family for each in rows} == set(Family)
    for each in rows:
        assert each.typical_size <= each.plausible_size <= each.largest_size
        assert each.limit_mark in Mark
        assert each.wording.format("7").count("7") >= 1


@pytest.mark.parametrize(
    ("column", "text", "words"),
    [
        ("family", "wind", "'wind' is none of"),
        ("plausible_size", "10", "10 is outside 50 to 20000"),
        ("largest_size", "60", "60 is outside 100 to 20000"),
        ("limit_mark", "certain", "'certain' is none of"),
        ("limit_source", "", "the cell is blank"),
        ("wording", "soft", "it does not hold {} once"),
    ],
)
def test_a_bad_cell_is_named(data_copy, column, text, words):
    path = data_copy / "separating_tests.csv"
    lines = list(csv.reader(path.read_text("utf-8").splitlines()))
    lines[1][lines[0].index(column)] = text
    with path.open("w", encoding="utf-8", newline="") as file:
        csv.writer(file, lineterminator="\n").writerows(lines)
    with pytest.raises(BadTable, match=r"separating_tests\.csv: row 1, column " + column) as caught:
        load_catalogue(data_copy)
    assert words in caught.value.message
