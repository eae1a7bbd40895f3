"""A table in a workbook (.xlsx): the first sheet that holds anything, as the same rows of text that a CSV gives.

Scope    cells are read as they are stored: a date needs no guess, a number no decimal mark, a share shown as 85 % is
         85. Formulas give the result that was saved with them; nothing is worked out, macros are not even unpacked.
Rows     counted as the spreadsheet numbers them. Hidden sheets are passed over.
Bounds   those of `archive` and `table_text`. Document types with entities are refused by the parser (defusedxml).
Source   ECMA-376, parts 1 and 2 (workbook, sheets, shared strings, styles); openpyxl, which reads them.
"""

import datetime
import io
import re
import warnings
from collections.abc import Iterator
from typing import Any
from zipfile import ZipFile

from service.errors import BadInput, BadInputs
from service.intake.archive import LARGEST_UNPACKED, Bounds, part_names, unpacked
from service.intake.table_text import Line, TextTable, table_of_lines, take

__all__ = ["is_workbook", "read_workbook", "sheet_lines"]

ZIP_SIGN, OLD_SIGN = b"PK\x03\x04", b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1"  # OLD: compound file, .xls or a locked .xlsx
LOCKED = "EncryptedPackage".encode("utf-16-le")  # the stream that a workbook with a password is kept in
WORKBOOK = "xl/workbook.xml"
SHEET = re.compile(r"xl/worksheets/[^/]+\.xml", re.IGNORECASE)
STRINGS = re.compile(r"xl/sharedStrings\d*\.xml", re.IGNORECASE)
OTHERS = re.compile(
    r"\[Content_Types\]\.xml|_rels/\.rels"
    r"|xl/(workbook\d*\.xml|_rels/workbook\d*\.xml\.rels|styles\d*\.xml)",
    re.IGNORECASE,
)
# own choice: 60 000 rows of eight columns have two million tags; the widest row that a spreadsheet knows 82 000
CELLS = Bounds(LARGEST_UNPACKED, 3_000_000, re.compile(rb"<(?:\w{1,20}:)?(?:row|si)\b"), 100_000)
ABOUT = Bounds(2 * 1024 * 1024, 60_000)  # what the library reads whole
FORMULA = re.compile(
    rb"<c\b([^<>]{0,200})>\s{0,9}<f\b(?:[^<>]{0,400}/>|[^<>]{0,400}>[^<]{0,9000}</f>)"
    rb"\s{0,9}(?:<v\s?/>|<v></v>)?\s{0,9}</c>"
)
CELL, WORDS = re.compile(rb'\br="([A-Z]{1,3}\d{1,7})"'), b't="str"'
MOST_LOOKED_AT = 3_000_000  # cells, empty ones too: what a sheet's rows span, so that a few far-off cells cost little
MOST_BROKEN = 200  # rows that are too wide; then reading stops
MADE = "save it as .xlsx or CSV"


def is_workbook(content: bytes) -> bool:
    """True for any file that a spreadsheet program may have written, old, locked and other kinds, too."""
    return content.startswith((ZIP_SIGN, OLD_SIGN))


def read_workbook(content: bytes, most_rows: int) -> TextTable:
    """The table.

    Errors: `BadInputs` for old, locked, damaged or swollen files, more than `most_rows`, or no sheet with anything.
    """
    lines, broken = sheet_lines(content, most_rows)
    return table_of_lines(lines, broken, "", most_rows)


def sheet_lines(content: bytes, most_rows: int) -> tuple[list[Line], list[BadInput]]:
    """Rows with something in them, and rows that could not be taken."""
    held = _checked(content)
    _refuse_formulas_without_result(held)
    try:
        return _first_with_content(held, most_rows)
    except BadInputs:
        raise
    except Exception as error:  # the library raises all sorts on files that were tampered with
        raise _refusal("it cannot be read as a workbook", MADE) from error


def _checked(content: bytes) -> io.BytesIO:
    """The parts that are read, unpacked; raises BadInputs for other kinds of files."""
    if content.startswith(OLD_SIGN):
        if LOCKED in content:
            raise _refusal("the workbook is locked with a password", "save a copy without a password, or as CSV")
        raise _refusal("it is a file of an old spreadsheet or document format (.xls)", MADE)
    names = {name.lower() for name in part_names(content)}
    if WORKBOOK not in names:
        kind = (
            "a workbook in a binary format (.xlsb)" if "xl/workbook.bin" in names else "a packed file, but no workbook"
        )
        raise _refusal(f"it is {kind}", MADE)
    return unpacked(content, _bounds_of)


def _bounds_of(name: str) -> Bounds | None:
    """What a part may hold; None for macros, pictures and whatever else is not read."""
    if SHEET.fullmatch(name) or STRINGS.fullmatch(name):
        return CELLS
    return ABOUT if OTHERS.fullmatch(name) else None


def _refuse_formulas_without_result(held: io.BytesIO) -> None:
    """Raise BadInputs where cells would be read as empty that are not."""
    cells = []
    with ZipFile(held) as parts:
        for name in filter(SHEET.fullmatch, parts.namelist()):
            found = (match[1] for match in FORMULA.finditer(parts.read(name)) if WORDS not in match[1])
            cells += [place[1].decode() for attributes in found if (place := CELL.search(attributes))]
    if cells:
        several = f" and {len(cells) - 1} others hold formulas whose results are"
        what = several if len(cells) > 1 else " holds a formula whose result is"
        remedy = "open it in a spreadsheet program and save it there, or save it as CSV"
        raise _refusal(f"cell {cells[0]}{what} not in the file", remedy)


def _first_with_content(held: io.BytesIO, most_rows: int) -> tuple[list[Line], list[BadInput]]:
    from openpyxl import load_workbook  # takes a third of a second, and only workbooks need it

    with warnings.catch_warnings():
        warnings.simplefilter("ignore")  # of what the library leaves out: charts, formats
        book = load_workbook(held, read_only=True, data_only=True, keep_links=False)
        for sheet in book.worksheets:
            if sheet.sheet_state == "visible":
                sheet.reset_dimensions()  # what it says of itself may be wrong
                lines, broken = _lines(sheet.iter_rows(), most_rows)
                if lines or broken:
                    return lines, broken
    return [], []


def _lines(rows: Iterator[tuple[Any, ...]], most_rows: int) -> tuple[list[Line], list[BadInput]]:
    lines: list[Line] = []
    broken: list[BadInput] = []
    looked_at = 0
    for number, row in enumerate(rows, start=1):
        looked_at += 1 + len(row)
        if looked_at > MOST_LOOKED_AT:
            raise _refusal("its cells lie too far apart for a table", "keep the table alone, from the first cell on")
        line = _line(number, row)
        if line is None:
            continue
        take(line, lines, broken)
        if len(broken) > MOST_BROKEN or len(lines) > most_rows + 1:
            break
    return lines, broken


def _line(number: int, row: tuple[Any, ...]) -> Line | None:
    """A row up to its last cell with something in it; None for a blank one."""
    filled = [(place, cell) for place, cell in enumerate(row) if cell.value is not None]
    texts = [(place, *text_of(cell)) for place, cell in filled]
    texts = [each for each in texts if each[1]]
    if not texts:
        return None
    cells = [""] * (texts[-1][0] + 1)
    for place, text, _ in texts:
        cells[place] = text
    return Line(number, tuple(cells), frozenset(place for place, _, typed in texts if typed))


def text_of(cell: Any) -> tuple[str, bool]:
    """A cell as a plain text, and whether it is stored as a number or a time rather than as text."""
    value = cell.value
    if isinstance(value, str):
        return value.strip(), False
    if isinstance(value, bool):
        return str(value).upper(), False
    if isinstance(value, int | float):
        shown = 100 * value if "%" in cell.number_format else value
        return f"{shown:.15g}", True
    return time_text(value), True


def time_text(value: datetime.datetime | datetime.date | datetime.time | datetime.timedelta) -> str:
    """A date, a time of the clock or a span as `moments` reads it.

    >>> time_text(datetime.datetime(2026, 1, 15, 7)), time_text(datetime.time(7, 30)), time_text(datetime.timedelta(1))
    ('2026-01-15 07:00:00', '07:30:00', '24:00:00')
    """
    if isinstance(value, datetime.timedelta):
        whole_s, rest = divmod(value, datetime.timedelta(seconds=1))
        fraction = f".{rest.microseconds:06d}".rstrip("0") if rest else ""
        return f"{whole_s // 3600:02d}:{whole_s // 60 % 60:02d}:{whole_s % 60:02d}{fraction}"
    return value.isoformat(" ") if isinstance(value, datetime.datetime) else value.isoformat()


def _refusal(message: str, remedy: str) -> BadInputs:
    return BadInputs([BadInput("table", None, message, remedy)])
