"""The one writer of CSV."""

import csv
import io
from pathlib import Path

import pytest

from service.reporting.csv_out import csv_text, harmless

ROOT = Path(__file__).parents[2]


@pytest.mark.parametrize(
    "text", ["=1+1", "+1", "-1", "@SUM(A1)", "\t=1", "\r=1", "  =1", "-", "\n=1", "\u00a0=1", "＝1+1", "＠SUM(A1)"]
)
def test_text_that_looks_like_a_formula_is_shown_and_not_run(text):
    (row,) = csv.DictReader(io.StringIO(csv_text(("name",), [{"name": text}]), newline=""))
    assert row["name"] == f"'{text}"


@pytest.mark.parametrize("value", [-1, -3.5, 0, 1e-9, None, True, "Town", "a=b", ""])
def test_everything_else_stays_as_it_is(value):
    assert harmless(value) is value


def test_numbers_below_zero_stay_numbers():
    assert csv_text(("t_c",), [{"t_c": -5.0}]) == "t_c\r\n-5.0\r\n"


def test_nothing_else_writes_csv_that_leaves():
    # the routes of the form, and those of a file sent with it, go back into the form, letter by letter
    writers = [
        path.relative_to(ROOT).as_posix()
        for path in (ROOT / "service").rglob("*.py")
        if "csv.writer" in (text := path.read_text("utf-8")) or "DictWriter" in text
    ]
    assert set(writers) == {
        "service/reporting/csv_out.py",
        "service/intake/routes_table.py",
        "service/intake/table_file.py",
    }
