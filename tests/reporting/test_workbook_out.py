"""The one writer of workbooks: what a spreadsheet reads from it, and that nothing in it is a formula."""

import io
import zipfile

import openpyxl
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from service.intake.workbook import read_workbook
from service.reporting.table_out import Table
from service.reporting.workbook_out import workbook_bytes

FORMULAS = ["=1+1", "+1", "-1", "@SUM(A1)", "\t=1", "=HYPERLINK(\"x\")", "{=1}", "#N/A"]  # fmt: skip


def sheet_of(content):
    return openpyxl.load_workbook(io.BytesIO(content)).active


@pytest.mark.parametrize("text", FORMULAS)
def test_text_is_text_whatever_it_begins_with(text):
    content = workbook_bytes("names", ("=name",), [{"=name": text}])
    sheet = sheet_of(content)
    assert [(cell.data_type, cell.value) for (cell,) in sheet.iter_rows()] == [("s", "=name"), ("s", text)]
    assert b"<f" not in zipfile.ZipFile(io.BytesIO(content)).read("xl/worksheets/sheet1.xml")


def test_numbers_are_numbers_and_the_names_stay_in_sight():
    rows = [{"route": "Hills", "range_km": -3.5, "held": True}, {"range_km": None}]
    sheet = sheet_of(workbook_bytes("x" * 40, ("route", "range_km", "held"), rows))
    assert sheet.freeze_panes == "A2"
    assert [cell.value for cell in sheet[2]] == ["Hills", -3.5, True]
    assert sheet["B2"].data_type == "n"
    assert [cell.value for cell in sheet[3]] in ([], [None] * 3)


def test_a_column_that_is_not_in_the_header_is_no_table():
    with pytest.raises(ValueError, match="b"):
        workbook_bytes("t", ("a",), [{"b": 1}])


@settings(max_examples=60, deadline=None)
@given(texts=st.lists(st.text(min_size=1, max_size=20), min_size=1, max_size=5))
def test_any_text_can_be_written_and_read_again(texts):
    read = read_workbook(Table("t", ("a",), [{"a": f"x{text}x"} for text in texts]).workbook(), 100)
    assert len(read.lines) == len(texts)
    for line, text in zip(read.lines, texts, strict=True):
        if text.isprintable() and "_x" not in text:
            assert line.cells == (f"x{text}x",)


def test_both_kinds_hold_the_same():
    table = Table("t", ("a", "b"), [{"a": "Town", "b": 1.25}])
    assert table.csv() == b"a,b\r\nTown,1.25\r\n"
    assert read_workbook(table.workbook(), 10).lines[0].cells == ("Town", "1.25")
