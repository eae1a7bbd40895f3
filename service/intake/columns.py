"""Columns of figures by their names: a quantity in any of its units becomes one array, and every bad cell is told.

Scope    measured tables (recordings, weather, logs), whose programs name columns as they like: "speed_km_h",
         "Speed (km/h)" and "speed [mph]" are the same quantity; a unit may stand in a row below. Columns of other
         names, and titles above the names, are passed over and listed.
Report   field "row 7, speed (km/h)". A row with a bad cell is dropped whole, the others are kept. A table that writes
         1.5 in one place and 1,5 in another is told so: one of the two means something else.
"""

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field

import numpy as np

from service.errors import BadInput, BadInputs, ErrorRow
from service.intake.header import below_titles, with_units_below, without_repeats
from service.intake.number_text import ONE_GROUP, Marks, marks_between, number_from
from service.intake.quantities import Names, Quantity, Texts, Unit, missing, names_of, plain
from service.intake.table_text import Line, TextTable, marks_of, too_wide

__all__ = ["MOST_TOLD", "WITH_UNIT", "Figures", "figures_of", "no_number", "told"]

MOST_TOLD = 200  # faults of one table; a file of nothing but faults is told by its first
WITH_UNIT = re.compile(r"(.*[\d.,])\s*([^\d\s.,].*)", re.DOTALL)
NOTHING = ("nan", "n/a", "na", "#n/a", "null", "none", "-", "--", "–", "—")  # what programs write for no value
PLACE = re.compile(r"(?:row|point) (\d+)\b")


@dataclass(frozen=True, slots=True)
class Figures:
    """Good rows of a table: an array a quantity (NaN where a cell is empty), a tuple a text, and the report."""

    rows: np.ndarray  # as a spreadsheet counts them
    values: Mapping[str, np.ndarray]
    texts: Mapping[str, tuple[str, ...]]
    headers: Mapping[str, str]  # the column that each came from, as written
    passed_over: tuple[str, ...]
    faults: tuple[BadInput, ...]
    rows_read: int

    def where(self, kept: np.ndarray) -> "Figures":
        """The rows of a mask."""
        return Figures(
            self.rows[kept],
            {key: values[kept] for key, values in self.values.items()},
            {key: tuple(np.array(texts, dtype=object)[kept]) for key, texts in self.texts.items()},
            self.headers,
            self.passed_over,
            self.faults,
            self.rows_read,
        )


@dataclass(slots=True)
class _Found:
    """Columns of one table: place → what it holds, and its unit."""

    quantities: dict[int, tuple[Quantity, Unit]] = field(default_factory=dict)
    texts: dict[int, Texts] = field(default_factory=dict)
    passed_over: list[str] = field(default_factory=list)
    faults: list[BadInput] = field(default_factory=list)


def figures_of(table: TextTable, quantities: Iterable[Quantity], texts: Iterable[Texts] = ()) -> Figures:
    """The table's good rows.

    Errors: `BadInputs` where a needed column is missing, one stands twice, a unit is not named, or there is no row.
    """
    quantities, texts = tuple(quantities), tuple(texts)
    known = names_of(quantities, texts)
    table, above = _headed(table, known)
    found = _columns(table, known, (*quantities, *texts))
    if not table.lines:
        row = f"row {table.header.number}"
        found.faults.append(BadInput(row, None, "there is no row below the names", "give a row a moment"))
    if found.faults:
        raise BadInputs([*found.faults, *table.broken])
    seen = marks_of(table, found.quantities)
    faults, marks = [*table.broken, *_two_marks(table, seen)], marks_between(seen, table.delimiter)
    kept = [(line.number, *cells) for line in table.lines if (cells := _cells(line, table, found, marks, faults))]
    numbers = np.array([row[0] for row in kept], dtype=int)
    values = {
        quantity.key: np.array([row[1][at] for row in kept], dtype=float) * unit[0] + unit[1]
        for at, (quantity, unit) in found.quantities.items()
    }
    names = table.header.cells
    return Figures(
        rows=numbers,
        values=values,
        texts={text.key: tuple(row[2][at] for row in kept) for at, text in found.texts.items()},
        headers={each.key: names[at] for at, each in (*_without_units(found), *found.texts.items())},
        passed_over=(*above, *found.passed_over),
        faults=tuple(faults),
        rows_read=len(table.lines) + len(table.broken),
    )


def told(faults: Iterable[BadInput]) -> tuple[ErrorRow, ...]:
    """The report: every fault by row, or the first of very many and how many more there are."""
    rows = sorted((row for fault in faults for row in fault.rows()), key=_place)
    if len(rows) <= MOST_TOLD:
        return tuple(rows)
    more = len(rows) - MOST_TOLD
    remedy = "mend those above first; most often one cause is behind them all"
    return (*rows[:MOST_TOLD], ErrorRow("table", more, f"and {more} more faults like these", remedy))


def _place(row: ErrorRow) -> tuple[bool, int]:
    """Rows in their order, then what belongs to none."""
    found = PLACE.match(row.field)
    return found is None, int(found[1]) if found else 0


def _without_units(found: _Found) -> list[tuple[int, Quantity]]:
    return [(at, quantity) for at, (quantity, _) in found.quantities.items()]


def _headed(table: TextTable, names: Names) -> tuple[TextTable, tuple[str, ...]]:
    """The table from its names on, units of a row below them behind them; and the rows above."""
    table, above = below_titles(table, names.knows)
    written = table.header.cells
    return without_repeats(with_units_below(table, lambda name: plain(name) in names.spelled), written), above


def _columns(table: TextTable, names: Names, wanted: tuple[Quantity | Texts, ...]) -> _Found:
    """Which column is which."""
    spelled, bare, written = names.spelled, names.bare, names.written
    found, row = _Found(), f"row {table.header.number}"
    for at, name in enumerate(table.header.cells):
        key = plain(name)
        if key in spelled:
            found.quantities[at] = spelled[key]
        elif key in written:
            found.texts[at] = written[key]
        elif key in bare:
            units = [unit for unit in bare[key].units if unit]
            message, remedy = "its unit is not named", f"write it behind the name, such as {name} ({units[0]})"
            found.faults.append(BadInput(f"{row}, {name[:80]}", name[:80], message, f"{remedy}; {', '.join(units)}"))
        elif name:
            found.passed_over.append(name[:80])
    found.faults += _doubled_or_missing(table, found, wanted)
    return found


def _doubled_or_missing(table: TextTable, found: _Found, wanted: tuple[Quantity | Texts, ...]) -> list[BadInput]:
    row, names = f"row {table.header.number}", table.header.cells
    places = [(at, each.key) for at, each in sorted([*_without_units(found), *found.texts.items()], key=lambda p: p[0])]
    faults, seen = [], set()
    for at, key in places:
        if key in seen:
            message = "what it holds stands in another column, too"
            faults.append(BadInput(f"{row}, {names[at]}", names[at], message, "keep one of the two"))
        seen.add(key)
    unnamed = {fault.row.field for fault in found.faults}
    for each in wanted:
        if each.needed and each.key not in seen and not unnamed:
            faults.append(missing(each, row))
    return faults


def _two_marks(table: TextTable, seen: Mapping[str, tuple[int, int]]) -> list[BadInput]:
    """The first cell that writes decimals in another way than the cells before it."""
    if len(seen) < 2 or table.delimiter == ",":  # between commas a decimal comma stands in quotes: meant so
        return []
    row, at = max(seen.values())
    message = "decimals are written with a point in some cells and with a comma in others"
    place = f"row {row}, {table.header.cells[at]}"
    return [BadInput(place, None, message, "write all of them in one way; a comma may part thousands")]


def _cells(
    line: Line, table: TextTable, found: _Found, marks: Marks, faults: list[BadInput]
) -> tuple[dict[int, float], dict[int, str]] | None:
    """One row, or None with its faults added."""
    if wide := too_wide(line, table):
        faults.append(wide)
        return None
    before, numbers, words = len(faults), {}, {}
    for at, (quantity, unit) in found.quantities.items():
        text = line.cells[at] if at < len(line.cells) else ""
        numbers[at] = np.nan
        place = f"row {line.number}, {table.header.cells[at]}"
        if text and not (quantity.may_be_empty and text.lower() in NOTHING):
            numbers[at] = _number(text, quantity, unit, marks, place, faults)
        elif not quantity.may_be_empty:
            faults.append(BadInput(place, None, "the cell is empty", f"give {_range(quantity)}"))
    for at, column in found.texts.items():
        words[at] = line.cells[at] if at < len(line.cells) else ""
        if not words[at] and column.needed:
            place = f"row {line.number}, {table.header.cells[at]}"
            faults.append(BadInput(place, None, "the cell is empty", "give it, or take the row out"))
    return (numbers, words) if len(faults) == before else None


def _number(text: str, quantity: Quantity, unit: Unit, marks: Marks, place: str, faults: list[BadInput]) -> float:
    """A cell as typed, in the column's unit; NaN with a fault added."""
    number = number_from(text, marks)
    if number is None:
        number = number_from(_without_unit(text, quantity, unit), marks)
    if number is None:
        faults.append(no_number(place, text, "; or leave the cell empty" if quantity.may_be_empty else ""))
        return np.nan
    own = number * unit[0] + unit[1]
    slack = 1e-9 * max(abs(quantity.low), abs(quantity.high))
    if not quantity.low - slack <= own <= quantity.high + slack:
        message = f"{own / quantity.shown:.6g} {quantity.unit} is outside {_range(quantity)}"
        faults.append(BadInput(place, text[:80], message, f"give {_range(quantity)}, or check the unit in the name"))
        return np.nan
    return number


def no_number(place: str, text: str, otherwise: str = "") -> BadInput:
    """What is said of a cell without a number, or with one that may be two."""
    if ONE_GROUP.fullmatch(text):
        message = f"{text!r} may be a thousand or have three decimals"
        return BadInput(place, text, message, "write it without what parts thousands, or with a fourth decimal")
    message = f"{text[:40]!r} is not a number"
    return BadInput(place, text[:80], message, f"give a plain number, such as 12.5, in the unit of the name{otherwise}")


def _without_unit(text: str, quantity: Quantity, unit: Unit) -> str:
    """A cell as typed, less the unit of its own column behind the number: 85 %, 21 °C."""
    found = WITH_UNIT.fullmatch(text)
    same = {plain(spelling) for spelling, factors in quantity.units.items() if spelling and factors == unit}
    return found[1] if found and plain(found[2]) in same else text


def _range(quantity: Quantity) -> str:
    low, high = quantity.low / quantity.shown, quantity.high / quantity.shown
    return f"{low:.6g} to {high:.6g} {quantity.unit}"
