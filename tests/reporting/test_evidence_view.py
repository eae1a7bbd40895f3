"""The evidence page's words: counts, differences, misses first."""

from dataclasses import replace

import pytest

from service.catalogue import load_catalogue
from service.catalogue.evidence import Check, Mark
from service.reporting.evidence_view import evidence_view

ROW = Check("a-01", "A", "of a", "a source", Mark.PUBLISHED, 100.0, None, None, 100.0, None, None, "kg", 0.5, None)
SPAN = replace(ROW, published=None, published_low=1.0, published_high=2.0, unit="1", tolerance=0.0)
CARS = replace(ROW, published=-12.0, model=-13.4, model_low=-15.2, model_high=-11.6, unit="%", tolerance=0.0)


def shown(row):
    return evidence_view([row]).subjects[0].sources[0].rows[0]


@pytest.mark.parametrize(
    ("row", "published", "model", "difference", "outside"),
    [
        (ROW, "100 kg", "100", "0", False),
        (replace(ROW, model=100.25), "100 kg", "100.25", "+0.25\u00a0%", False),
        (replace(ROW, model=80.0), "100 kg", "80", "−20.0\u00a0%", True),
        (replace(ROW, published=-100.0, model=-100.4), "−100 kg", "−100.4", "−0.40\u00a0%", False),
        (replace(ROW, published=0.0, model=0.25), "0 kg", "0.25", "+0.250\u00a0kg", False),
        (replace(SPAN, model=1.23456), "1 to 2", "1.235", "within", False),
        (replace(SPAN, model=2.5), "1 to 2", "2.5", "+25.0\u00a0%", True),
        (replace(SPAN, published_low=None, model=0.1), "at most 2", "0.1", "within", False),
        (replace(SPAN, published_high=None, model=0.5), "at least 1", "0.5", "−50.0\u00a0%", True),
        (CARS, "−12 %", "−13 (−15 to −12)", "−1.4 points", False),
        (replace(CARS, published=40.0), "40 %", "−13 (−15 to −12)", "−53.4 points", True),
    ],
)  # fmt: skip
def test_figures_and_differences_in_words(row, published, model, difference, outside):
    view = shown(row)
    assert (view.published, view.model, view.difference) == (published, model, difference)
    assert view.outside is outside


def test_cars_are_counted_apart_from_formulas():
    rows = [ROW, replace(ROW, model=80.0), ROW, CARS, replace(CARS, published=40.0)]
    assert evidence_view(rows).headline.startswith("1 of 2 effects measured on cars are met, and 2 of 3 formulas")


def test_misses_stand_first_and_again_in_their_subject():
    rows = [ROW, replace(ROW, model=80.0, remark="another mass"), replace(ROW, subject="B")]
    view = evidence_view(rows)
    (missed,) = view.outside
    assert [each.remark for each in missed.sources[0].rows] == ["another mass"]
    assert [subject.name for subject in view.subjects] == ["A", "B"]
    assert view.subjects[0].summary == "1 of 2 agree"
    assert view.subjects[1].summary == "one comparison, agrees"
    assert sum(each.outside for each in view.subjects[0].sources[0].rows) == 1


def test_rows_of_one_source_stand_together():
    other = replace(ROW, source="another source")
    view = evidence_view([ROW, other, ROW])
    assert [(each.source, len(each.rows)) for each in view.subjects[0].sources] == [
        ("a source", 2), ("another source", 1)
    ]  # fmt: skip


def test_every_row_of_the_table_is_shown():
    rows = list(load_catalogue().evidence.values())
    view = evidence_view(rows)
    found = [row for subject in view.subjects for source in subject.sources for row in source.rows]
    assert len(found) == len(rows)
    assert sum(row.outside for row in found) == sum(not row.agrees for row in rows)
    assert not any("-" in row.published + row.model + row.difference for row in found)  # real minus signs
