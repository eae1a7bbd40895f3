"""One reader for every table: what a program may save is read back the same; nothing raises but our own errors."""

import csv
import io

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from service.errors import BadInputs
from service.intake.number_text import marks_between, number_from
from service.intake.table_text import LONGEST_CELL, MOST_COLUMNS, MOST_RESTARTS, read_table_text

ENCODINGS = ("utf-8", "utf-8-sig", "utf-16", "utf-16-le", "utf-16-be", "cp1252")
NAMES = ("time_s", "speed_km_h", "note")


def written(rows, delimiter=",", mark=".", encoding="utf-8", line_end="\r\n", stated=False):
    """A table as a spreadsheet set to some country writes it."""
    text = io.StringIO()
    if stated:
        text.write(f"sep={delimiter}{line_end}")
    writer = csv.writer(text, delimiter=delimiter, lineterminator=line_end)
    writer.writerow(NAMES)
    for number, word in rows:
        writer.writerow([repr(number).replace(".", mark), repr(-number).replace(".", mark), word])
    return text.getvalue().encode(encoding)


def is_utf_8(content):
    try:
        content.decode("utf-8")
    except UnicodeDecodeError:
        return False
    return True


def refused(content, **limits):
    with pytest.raises(BadInputs) as caught:
        read_table_text(content, **({"largest": 10_000, "most_rows": 100} | limits))
    return caught.value.rows()


words = st.text(st.sampled_from("abcz ÄÖéß°€;,\t\"'.=-"), max_size=12).map(str.strip)
numbers = st.decimals(-9999, 9999, allow_nan=False, places=1).map(float)


@settings(max_examples=200, deadline=None)
@given(
    rows=st.lists(st.tuples(numbers, words), min_size=1, max_size=8),
    delimiter=st.sampled_from(",;\t"),
    mark=st.sampled_from(".,"),
    encoding=st.sampled_from(ENCODINGS),
    line_end=st.sampled_from(["\n", "\r\n", "\r"]),
    stated=st.booleans(),
)
def test_a_table_is_read_back_as_it_was_written(rows, delimiter, mark, encoding, line_end, stated):
    content = written(rows, delimiter, mark, encoding, line_end, stated)
    assume(encoding != "cp1252" or content.isascii() or not is_utf_8(content))  # "Ä°" is "İ" as well
    table = read_table_text(content, 10_000, 100)
    assert table.header.cells == NAMES
    assert table.delimiter == delimiter
    assert table.broken == ()
    read = [(number_from(one), number_from(other), word) for one, other, word in
            (line.cells for line in table.lines)]  # fmt: skip
    assert read == [(number, -number, word) for number, word in rows]


@settings(max_examples=300, deadline=None)
@given(content=st.binary(max_size=400))
def test_whatever_comes_is_a_table_or_refused_in_our_words(content):
    try:
        table = read_table_text(content, 10_000, 100)
    except BadInputs as error:
        remedies = [row.remedy for row in error.rows()]
    else:
        remedies = [fault.row.remedy for fault in table.broken]
        assert all(any(line.cells) for line in table.lines)
    assert all(remedies)


def test_rows_are_counted_as_a_spreadsheet_counts_them():
    table = read_table_text(b"sep=;\n\na;b\n\n1;2\n", 100, 10)
    assert (table.header.number, table.lines[0].number) == (3, 5)


def test_a_long_cell_or_a_wide_row_is_told_and_the_others_are_kept():
    long, wide = "x" * (LONGEST_CELL + 1), "," * MOST_COLUMNS + "x"
    table = read_table_text(f"a,b\n1,2\n{long},2\n3,4\n{wide}\n5,6\n".encode(), 10_000, 10)
    assert [line.number for line in table.lines] == [2, 4, 6]
    assert [fault.row.field for fault in table.broken] == ["row 3", "row 5"]
    assert "1000 characters" in table.broken[0].row.message
    assert "201 cells" in table.broken[1].row.message


def test_names_beyond_the_bounds_are_refused():
    assert refused(("a," * MOST_COLUMNS + "b\n1\n").encode())[0].field == "row 1"


@pytest.mark.parametrize(
    ("content", "words"),
    [
        (b"", "empty"),
        (b"\n \n", "empty"),
        (b"a\0b", "not plain text"),
        (b"\xff\xfe\x41", "not plain text"),  # half a character
        (b"\x81\x8d", "not plain text"),  # no letters of Windows-1252
        (b"a\n" + b"1\n" * 101, "more than 100 rows"),
        (b"a\n" + b"1\n" * 6000, "larger than"),
    ],
)
def test_what_is_no_table_is_refused(content, words):
    assert words in refused(content)[0].message


def test_after_a_row_that_is_not_csv_reading_goes_on():
    table = read_table_text(b'a,b\n1,2\n"3,4\n5,6\n7,"8" x\n9,10\n', 100, 10)
    assert [(line.number, line.cells) for line in table.lines] == [(2, ("1", "2")), (4, ("5", "6")), (6, ("9", "10"))]
    assert [fault.row.field for fault in table.broken] == ["row 3", "row 5"]


def test_a_table_of_nothing_but_open_quotation_marks_is_soon_given_up():
    table = read_table_text(b"a\n" + b'"x\n' * 300_000, 1_000_000, 1_000_000)
    assert len(table.broken) == MOST_RESTARTS + 1
    assert "stopped" in table.broken[-1].row.remedy


@pytest.mark.parametrize(
    ("text", "delimiter"),
    [("Depot, January\n\nroute;km\nA;1,5\nB;2,5\n", ";"), ("Report\na,b\n1,2\n", ","),
     ("a,note\n1,x; y\n2,z; w\n", ","),
     ("Title\na\tb\n1,5\t2,5\n", "\t"), ("speed\n1\n", ",")],
)  # fmt: skip
def test_titles_do_not_hide_what_stands_between_the_cells(text, delimiter):
    assert read_table_text(text.encode(), 1000, 100).delimiter == delimiter


@pytest.mark.parametrize(
    ("cell", "delimiter", "number"),
    [("−3,5", ";", -3.5), ("1e3", ",", 1000.0), ("1e999", ",", None), ("12 km", ",", None),
     ("1.234.567", ";", 1234567.0),
     ("1,5", ",", 1.5), ("1,500", ",", None), ("1,500", ";", 1.5), ("1,500", "\t", None),
     ("1.500", ";", None), ("1.500", ",", 1.5), ("0.500", ";", 0.5), ("", ",", None), ("٣", ",", None),
     ("1.234,5", ",", 1234.5), ("1,234.5", ";", 1234.5), ("1 234,5", ";", 1234.5), ("1\u00a0234", ",", 1234.0),
     ("1'234.5", ",", 1234.5), ("1,234,567", ",", 1234567.0), ("1,200", "", None),
     ("0.123,4", ";", None), ("12 34", ",", None), ("1.23,4", ";", None), ("−1.234,5", ";", -1234.5)],
)  # fmt: skip
def test_a_number_is_certain_or_none(cell, delimiter, number):
    assert number_from(cell, marks_between((), delimiter)) == number


@pytest.mark.parametrize(
    ("seen", "cell", "number"),
    [(".", "1,200", 1200.0), (",", "1,200", 1.2), (",", "1.200", 1200.0), (".", "1.200", 1.2), (".,", "1.200", None),
     (".,", "1,200", None), (".", "12,5", 12.5)],
)  # fmt: skip
def test_other_cells_tell_what_a_mark_is(seen, cell, number):
    assert number_from(cell, marks_between(set(seen), ";")) == number
