"""A table of data/: one CSV whose header names units, and a TOML of the same name that describes it.

Scope    reading and checking text; no car, cell or place is known here. Rows count from 1 below the header.
Faults   every one is a `BadTable` that names the file and, where there is one, the row and the column.
"""

import csv
import io
import tomllib
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from enum import StrEnum
from pathlib import Path
from typing import Any, TypeVar

from service.errors import BadTable

__all__ = ["DESCRIPTION", "Row", "Table", "read_table"]

Word = TypeVar("Word", bound=StrEnum)
DESCRIPTION = ("title", "source", "licence", "retrieved", "columns")  # what every TOML must hold


class _YesNo(StrEnum):
    YES = "yes"
    NO = "no"


@dataclass(frozen=True, slots=True)
class Row:
    """One line of a table as text; each method reads a cell as what it should be, or raises `BadTable`."""

    file_name: str
    number: int
    cells: Mapping[str, str]

    def fault(self, column: str, message: str) -> BadTable:
        """The error that names this row and a column, to be raised by whoever finds the cell wrong."""
        return _fault(self.file_name, self.number, column, message)

    def optional_text(self, column: str) -> str | None:
        """The cell, None if it is blank."""
        if column not in self.cells:
            raise self.fault(column, "there is no such column")
        return self.cells[column].strip() or None

    def text(self, column: str) -> str:
        """The cell, which must not be blank."""
        text = self.optional_text(column)
        if text is None:
            raise self.fault(column, "the cell is blank")
        return text

    def number_in(self, column: str, low: float, high: float) -> float:
        """The cell as a finite number from `low` to `high`, in the column's unit."""
        return _number(self.file_name, self.number, column, self.text(column), low, high)

    def optional_number_in(self, column: str, low: float, high: float) -> float | None:
        """The same, None if the cell is blank."""
        return None if self.optional_text(column) is None else self.number_in(column, low, high)

    def count_in(self, column: str, low: int, high: int) -> int:
        """The cell as a whole number from `low` to `high`."""
        value = self.number_in(column, low, high)
        if value != int(value):
            raise self.fault(column, f"{value:g} is not a whole number")
        return int(value)

    def optional_count_in(self, column: str, low: int, high: int) -> int | None:
        """The same, None if the cell is blank."""
        return None if self.optional_text(column) is None else self.count_in(column, low, high)

    def choice(self, column: str, words: type[Word]) -> Word:
        """The cell as one of the words of an enumeration."""
        text = self.text(column)
        if text not in {str(word) for word in words}:
            raise self.fault(column, f"{text!r} is none of {', '.join(words)}")
        return words(text)

    def yes(self, column: str) -> bool:
        """The cell as yes or no."""
        return self.choice(column, _YesNo) is _YesNo.YES

    def known(self, column: str, ids: Mapping[str, object]) -> str:
        """The cell as the id of an entry of another table."""
        text = self.text(column)
        if text not in ids:
            raise self.fault(column, f"{text!r} is none of {', '.join(ids)}")
        return text


@dataclass(frozen=True, slots=True)
class Table:
    """A whole table as text, with its description."""

    file_name: str
    about: Mapping[str, Any]
    columns: tuple[str, ...]
    lines: tuple[tuple[str, ...], ...]

    def rows(self) -> Iterator[Row]:
        """Row by row, from the top."""
        for number, line in enumerate(self.lines, start=1):
            yield Row(self.file_name, number, dict(zip(self.columns, line, strict=True)))

    def numbers(self, column: str, low: float, high: float) -> tuple[float, ...]:
        """A whole column of numbers from `low` to `high`: for tables of thousands of rows."""
        if column not in self.columns:
            raise BadTable(self.file_name, f"there is no column {column}")
        place = self.columns.index(column)
        return tuple(
            _number(self.file_name, row, column, line[place], low, high) for row, line in enumerate(self.lines, start=1)
        )


def read_table(folder: Path, name: str, key: tuple[str, ...] = ("id",)) -> Table:
    """Read and check `name`.csv and `name`.toml.

    Args:
        folder: where both lie.
        name: file name without its ending, `/` for a folder below.
        key: columns that together occur once.
    Raises: BadTable for a missing or unreadable file, an incomplete description, a header that differs from it,
        a row of the wrong length, or a repeated key.
    """
    file_name = f"{name}.csv"
    about = _description(folder / f"{name}.toml", f"{name}.toml")
    header, lines = _lines(folder / file_name, file_name)
    if header != tuple(about["columns"]):
        raise BadTable(file_name, f"the header {','.join(header)!r} is not {','.join(about['columns'])!r}")
    for number, line in enumerate(lines, start=1):
        if len(line) != len(header):
            raise BadTable(file_name, f"row {number} has {len(line)} cells instead of {len(header)}")
    table = Table(file_name, about, header, lines)
    _check_unique(table, key)
    return table


def _description(path: Path, file_name: str) -> Mapping[str, Any]:
    try:
        about = tomllib.loads(_text(path, file_name))
    except tomllib.TOMLDecodeError as error:
        raise BadTable(file_name, f"this is not TOML: {error}") from error
    missing = [entry for entry in DESCRIPTION if not about.get(entry)]
    if missing:
        raise BadTable(file_name, f"it does not give {', '.join(missing)}")
    return about


def _lines(path: Path, file_name: str) -> tuple[tuple[str, ...], tuple[tuple[str, ...], ...]]:
    try:
        lines = tuple(tuple(line) for line in csv.reader(io.StringIO(_text(path, file_name), newline=""), strict=True))
    except csv.Error as error:
        raise BadTable(file_name, f"this is not CSV: {error}") from error
    if len(lines) < 2:
        raise BadTable(file_name, "it holds no rows below a header")
    return lines[0], lines[1:]


def _text(path: Path, file_name: str) -> str:
    try:
        return path.read_text("utf-8")
    except OSError as error:
        raise BadTable(file_name, f"it cannot be read: {error.strerror}") from error
    except UnicodeDecodeError as error:
        raise BadTable(file_name, "it is not UTF-8 text") from error


def _check_unique(table: Table, key: tuple[str, ...]) -> None:
    first: dict[tuple[str, ...], int] = {}
    places = [table.columns.index(column) for column in key if column in table.columns]
    if len(places) < len(key):
        raise BadTable(table.file_name, f"there is no column {' or '.join(set(key) - set(table.columns))}")
    for number, line in enumerate(table.lines, start=1):
        entry = tuple(line[place] for place in places)
        if entry in first:
            message = f"{' '.join(entry)!r} stands already in row {first[entry]}"
            raise _fault(table.file_name, number, key[-1], message)
        first[entry] = number


def _number(file_name: str, row: int, column: str, text: str, low: float, high: float) -> float:
    try:
        value = float(text)
    except ValueError:
        raise _fault(file_name, row, column, f"{text!r} is not a number") from None
    if not low <= value <= high:
        raise _fault(file_name, row, column, f"{value:g} is outside {low:g} to {high:g}")
    return value


def _fault(file_name: str, row: int, column: str, message: str) -> BadTable:
    return BadTable(file_name, f"row {row}, column {column}: {message}")
