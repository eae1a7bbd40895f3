"""A table as people's programs save it: bytes to rows of cells, and cells to numbers.

Scope    UTF-8 (with or without mark) or Latin-1; comma, semicolon or tab; decimal point or decimal comma. Nothing is
         guessed where a guess may be wrong by a factor: 1,200 in a table with commas between its cells is refused.
"""

import csv
import io
import re
from dataclasses import dataclass
from math import isfinite

from service.errors import BadInput, BadInputs

__all__ = ["Line", "TextTable", "number_from", "read_table_text"]

PLAIN_NUMBER = re.compile(r"[+-]?(\d+([.,]\d*)?|[.,]\d+)([eE][+-]?\d+)?", re.ASCII)
THOUSANDS = re.compile(r"[+-]?\d{1,3},\d{3}", re.ASCII)


@dataclass(frozen=True, slots=True)
class Line:
    """A row that is not blank. Rows are counted as a spreadsheet does: the first is row 1, blank ones count."""

    number: int
    cells: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class TextTable:
    """Names of the columns in lower case, the rows below, and what stood between the cells."""

    header: Line
    lines: tuple[Line, ...]
    delimiter: str
    broken: tuple[BadInput, ...]  # where reading had to stop


def read_table_text(content: bytes, largest: int, most_rows: int) -> TextTable:
    """Read a table.

    Errors: `BadInputs` where it is larger than `largest` bytes, longer than `most_rows`, empty, or not text.
    """
    if len(content) > largest:
        limit = f"{largest / 1024**2:g} MB"
        raise BadInputs([BadInput("table", None, f"the table is larger than {limit}", f"give at most {limit}")])
    text = decoded(content)
    first = next((line for line in text.splitlines() if line.strip()), "")
    delimiter = max(",;\t", key=first.count)
    lines, broken = records(text, delimiter)
    if not lines:
        raise BadInputs([*broken, BadInput("table", None, "the table is empty", "give a row of names and rows below")])
    header, *below = lines
    if len(below) > most_rows:
        message, remedy = f"there are {len(below)} rows", f"give at most {most_rows} rows below the names"
        raise BadInputs([BadInput("table", len(below), message, remedy)])
    names = Line(header.number, tuple(name.lower() for name in header.cells))
    return TextTable(names, tuple(below), delimiter, tuple(broken))


def decoded(content: bytes) -> str:
    """Text of the bytes; raises BadInputs for what no text holds."""
    try:
        text = content.decode("utf-8-sig")
    except UnicodeDecodeError:
        text = content.decode("latin-1")
    if "\0" in text:
        raise BadInputs([BadInput("table", None, "the file is not plain text", "save the table as CSV in UTF-8")])
    return text


def records(text: str, delimiter: str) -> tuple[list[Line], list[BadInput]]:
    """Rows with something in them, cells stripped; reading stops at a row that is not CSV, which is a fault."""
    lines, number = [], 0
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=delimiter, strict=True)
    try:
        for number, row in enumerate(reader, start=1):
            cells = tuple(cell.strip() for cell in row)
            if any(cells):
                lines.append(Line(number, cells))
    except csv.Error as error:
        remedy = "close every quotation mark, and double those inside a cell"
        return lines, [BadInput(f"row {number + 1}", None, f"it cannot be read as CSV: {error}", remedy)]
    return lines, []


def number_from(cell: str, delimiter: str) -> float | None:
    """The number in a cell with point or comma, or None where there is none that is certain.

    >>> number_from("12,5", ";"), number_from("1.5", ","), number_from("1,200", ","), number_from("1.234,5", ";")
    (12.5, 1.5, None, None)
    """
    if not PLAIN_NUMBER.fullmatch(cell) or (delimiter == "," and THOUSANDS.fullmatch(cell)):
        return None
    value = float(cell.replace(",", "."))
    return value if isfinite(value) else None
