"""A table as people's programs save it: bytes to rows of cells. The one reader of every CSV.

Scope    UTF-8 and UTF-16, with or without mark, or Windows-1252 (of which Latin-1's letters are a part); comma,
         semicolon or tab; a first line "sep=;" as spreadsheets write it. After a row that is not CSV, most often a
         quotation mark that is never closed, reading goes on with the next line.
Bounds   bytes, rows, columns and characters of a cell: own choice, generous for what people type or record.
Source   RFC 4180; the Unicode standard, section 23.8, for the byte order mark.
"""

import csv
import io
import re
from collections import Counter
from collections.abc import Collection
from dataclasses import dataclass

from service.errors import BadInput, BadInputs
from service.intake.number_text import decimal_mark

__all__ = [
    "LONGEST_CELL",
    "MOST_COLUMNS",
    "MOST_RESTARTS",
    "Line",
    "TextTable",
    "decoded",
    "marks_of",
    "read_table_text",
    "refuse_large",
    "table_of_lines",
    "take",
    "too_wide",
]

MOST_COLUMNS = 200
LONGEST_CELL = 1000  # characters
ROWS_LOOKED_AT, LOOKED_AT = 20, 50_000  # rows and characters that tell what stands between the cells
MOST_RESTARTS = 20  # rows that are not CSV; each may cost a look at all the rest
QUOTED = re.compile(r'"[^"]*"?')
CONTROLS = re.compile(r"[\x00-\x08\x0e-\x1f]")
STATED = re.compile(r'"?sep=([,;\t])"?', re.IGNORECASE)
MARKS = ((b"\xef\xbb\xbf", "utf-8-sig"), (b"\xff\xfe", "utf-16"), (b"\xfe\xff", "utf-16"))
ZEROS_OF_UTF16 = 0.3  # of one half of the bytes: digits and Latin letters have a zero byte each; own choice


@dataclass(frozen=True, slots=True)
class Line:
    """A row that is not blank. Rows are counted as a spreadsheet does: the first is row 1, blank ones count."""

    number: int
    cells: tuple[str, ...]
    typed: frozenset[int] = frozenset()  # places of cells that a workbook stores as numbers or times, not as text


@dataclass(frozen=True, slots=True)
class TextTable:
    """Names of the columns in lower case, the rows below, and what stood between the cells; "" in a workbook."""

    header: Line
    lines: tuple[Line, ...]
    delimiter: str
    broken: tuple[BadInput, ...]  # rows that could not be taken, or where reading had to stop


def read_table_text(content: bytes, largest: int, most_rows: int) -> TextTable:
    """Read a table.

    Errors: `BadInputs` where it is larger than `largest` bytes, longer than `most_rows`, wider than `MOST_COLUMNS`,
    empty, or not text.
    """
    refuse_large(content, largest)
    text = decoded(content)
    delimiter = delimiter_of(text)
    return table_of_lines(*records(text, delimiter), delimiter, most_rows)


def refuse_large(content: bytes, largest: int) -> None:
    """Raise BadInputs for more than `largest` bytes."""
    if len(content) > largest:
        limit = f"{largest / 1024**2:g} MB"
        raise BadInputs([BadInput("table", None, f"the table is larger than {limit}", f"give at most {limit}")])


def table_of_lines(lines: list[Line], broken: list[BadInput], delimiter: str, most_rows: int) -> TextTable:
    """The first row as names, the others below; raises BadInputs for an empty or too long table."""
    if not lines:
        raise BadInputs([*broken, BadInput("table", None, "the table is empty", "give a row of names and rows below")])
    header, *below = lines
    if len(below) > most_rows:
        message, remedy = f"there are more than {most_rows} rows", f"give at most {most_rows} rows below the names"
        raise BadInputs([BadInput("table", len(below), message, remedy)])
    names = Line(header.number, tuple(name.lower() for name in header.cells))
    return TextTable(names, tuple(below), delimiter, tuple(broken))


def decoded(content: bytes, field: str = "table") -> str:
    """Text of the bytes; raises BadInputs for what no text holds.

    >>> decoded("21 °C".encode("utf-16")), decoded("21 °C".encode("cp1252"))
    ('21 °C', '21 °C')
    """
    encoding = next((name for mark, name in MARKS if content.startswith(mark)), None) or unmarked(content)
    try:
        text = content.decode(encoding)
    except UnicodeDecodeError:
        text = "\0"
    if CONTROLS.search(text):
        raise BadInputs([BadInput(field, None, "the file is not plain text", "save the table as CSV in UTF-8")])
    return text


def unmarked(content: bytes) -> str:
    """The encoding of bytes without a mark."""
    half = max(len(content) // 2, 1)
    if len(content) % 2 == 0:
        for start, name in ((1, "utf-16-le"), (0, "utf-16-be")):
            if content[start::2].count(0) > ZEROS_OF_UTF16 * half and not content[1 - start :: 2].count(0):
                return name
    try:
        content.decode("utf-8")
    except UnicodeDecodeError:
        return "cp1252"
    return "utf-8"


def delimiter_of(text: str) -> str:
    """What stands between the cells: as stated; a tab or semicolon of the first row outside quotes; or, where a title
    may stand there, what most of the first rows have equally often.

    >>> delimiter_of("time, s;speed, km/h"), delimiter_of('"a;b",c'), delimiter_of("sep=;\\na,b")
    (';', ',', ';')
    >>> delimiter_of("Depot, January\\nroute;km\\nHarbour;1,5\\nHills;2,25")
    ';'
    """
    first, *others = [line.strip("\ufeff ") for line in text[:LOOKED_AT].splitlines() if line.strip()] or [""]
    stated = STATED.fullmatch(first)
    if stated:
        return stated[1]
    bare = [QUOTED.sub("", line) for line in (first, *others[:ROWS_LOOKED_AT])]
    marked = next((mark for mark in "\t;" if mark in bare[0]), "")
    most = max("\t;,", key=lambda mark: _alike(mark, bare))
    return marked or (most if _alike(most, bare) else ",")


def _alike(mark: str, rows: list[str]) -> int:
    """How many rows have the mark as often as most of those that have it."""
    counts = Counter(row.count(mark) for row in rows if mark in row)
    return max(counts.values(), default=0)


def records(text: str, delimiter: str) -> tuple[list[Line], list[BadInput]]:
    """Rows with something in them, cells stripped; after a row that is not CSV, which is a fault, the next line is."""
    rest = io.StringIO(text, newline="").readlines()
    lines, broken, number, restarts = [], [], 0, 0
    while rest:
        reader = csv.reader(iter(rest), delimiter=delimiter, strict=True)
        begun = 0  # lines of the text that earlier rows took
        try:
            for row in reader:
                begun, number = reader.line_num, number + 1
                cells = tuple(cell.strip() for cell in row)
                if any(cells) and (lines or not STATED.fullmatch(delimiter.join(cells))):
                    take(Line(number, cells), lines, broken)
            break
        except csv.Error as error:
            number, restarts = number + 1, restarts + 1
            remedy = "close every quotation mark, and double those inside a cell"
            if restarts > MOST_RESTARTS:
                remedy = f"{remedy}; after so many such rows, reading stopped here"
            broken.append(BadInput(f"row {number}", None, f"it cannot be read as CSV: {error}", remedy))
            rest = rest[begun + 1 :] if restarts <= MOST_RESTARTS else []
    return lines, broken


def take(line: Line, lines: list[Line], broken: list[BadInput]) -> None:
    """Add a row to the others, or its fault to theirs; raises BadInputs if it is the first, the names themselves."""
    fault = oversized(line.number, line.cells)
    if fault and not lines:
        raise BadInputs([fault])
    if fault:
        broken.append(fault)
    else:
        lines.append(line)


def oversized(number: int, cells: tuple[str, ...]) -> BadInput | None:
    """A row that is wider, or has a longer cell, than any table of ours."""
    if len(cells) > MOST_COLUMNS:
        message, remedy = f"it has {len(cells)} cells", f"give at most {MOST_COLUMNS} columns"
        return BadInput(f"row {number}", None, message, remedy)
    if max(map(len, cells)) > LONGEST_CELL:
        message = f"a cell has more than {LONGEST_CELL} characters"
        return BadInput(f"row {number}", None, message, f"give at most {LONGEST_CELL}; close every quotation mark")
    return None


def too_wide(line: Line, table: TextTable, row: str = "") -> BadInput | None:
    """More cells than names: most often a decimal comma between commas."""
    if not any(line.cells[len(table.header.cells) :]):
        return None
    message = f"it has {len(line.cells)} cells for {len(table.header.cells)} names"
    comma = "; a decimal comma needs quotes, or semicolons between the cells" if table.delimiter == "," else ""
    return BadInput(row or f"row {line.number}", None, message, f"give a cell for each name{comma}")


def marks_of(table: TextTable, places: Collection[int]) -> dict[str, tuple[int, int]]:
    """Decimal marks of the cells in some columns, and the row and column that each stands in first."""
    seen: dict[str, tuple[int, int]] = {}
    for line in table.lines:
        for at in places:
            if at < len(line.cells) and at not in line.typed and (mark := decimal_mark(line.cells[at])):
                seen.setdefault(mark, (line.number, at))
    return seen
