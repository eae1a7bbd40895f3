"""Columns of figures by their names: a quantity in any of its units becomes one array, and every bad cell is told.

Scope    measured tables (recordings, weather, logs), whose programs name columns as they like: "speed_km_h",
         "Speed (km/h)" and "speed [mph]" are the same quantity. Columns of other names are passed over and listed.
Report   field "row 7, speed (km/h)". A row with a bad cell is dropped whole, the others are kept. A table that writes
         1.5 in one place and 1,5 in another is told so: one of the two means something else.
Symbols  a cell's value × factor + offset is the quantity in its own unit.
"""

import re
import unicodedata
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field

import numpy as np

from service.errors import BadInput, BadInputs, ErrorRow
from service.intake.number_text import decimal_mark, number_from
from service.intake.table_text import Line, TextTable, too_wide
from service.units import FOOT_M, HOUR_S, KM_H, MILE_M, MINUTE_S, MPH

__all__ = [
    "DISTANCE",
    "MOST_TOLD",
    "POWER",
    "SECONDS",
    "SHARE",
    "SPEED",
    "TEMPERATURE",
    "Figures",
    "Quantity",
    "Texts",
    "figures_of",
    "missing",
    "told",
]

MOST_TOLD = 200  # faults of one table; a file of nothing but faults is told by its first
WITH_UNIT = re.compile(r"(.*[\d.,])\s*([^\d\s.,].*)", re.DOTALL)
PLACE = re.compile(r"(?:row|point) (\d+)\b")

Unit = tuple[float, float]  # factor, offset
SPEED: Mapping[str, Unit] = {
    "km/h": (KM_H, 0.0), "kmh": (KM_H, 0.0), "kph": (KM_H, 0.0), "mph": (MPH, 0.0), "mi/h": (MPH, 0.0),
    "m/s": (1.0, 0.0),
}  # fmt: skip
TEMPERATURE: Mapping[str, Unit] = {"c": (1.0, 0.0), "f": (1 / 1.8, -32 / 1.8), "k": (1.0, -273.15)}
DISTANCE: Mapping[str, Unit] = {"km": (1000.0, 0.0), "mi": (MILE_M, 0.0), "m": (1.0, 0.0), "ft": (FOOT_M, 0.0)}
POWER: Mapping[str, Unit] = {"kw": (1000.0, 0.0), "w": (1.0, 0.0)}
SECONDS: Mapping[str, Unit] = {
    "s": (1.0, 0.0), "sec": (1.0, 0.0), "ms": (1e-3, 0.0), "min": (MINUTE_S, 0.0), "h": (HOUR_S, 0.0),
}  # fmt: skip
SHARE: Mapping[str, Unit] = {"pct": (1.0, 0.0), "%": (1.0, 0.0)}


@dataclass(frozen=True, slots=True)
class Quantity:
    """What a column may hold. `low` and `high` are in its own unit, which `unit` names for people.

    `units` maps the spelling in a header to factor and offset; with a `""` among them a bare name is enough.
    """

    key: str
    names: tuple[str, ...]
    units: Mapping[str, Unit]
    low: float
    high: float
    unit: str
    shown: float = 1.0  # how many of the quantity's own unit one of `unit` is
    needed: bool = False
    may_be_empty: bool = True  # False: a row without it is dropped


@dataclass(frozen=True, slots=True)
class Texts:
    """A column that is kept as it is written: times, most often."""

    key: str
    names: tuple[str, ...]
    needed: bool = False


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


def plain(name: str) -> str:
    """A header without the marks in which programs differ.

    >>> plain("Speed (km/h)"), plain("speed_km_h"), plain("Außen [°C]"), plain("SoC %"), plain("sun W/m²")
    ('speed km h', 'speed km h', 'aussen c', 'soc pct', 'sun w m2')
    """
    text = unicodedata.normalize("NFKC", name).casefold().replace("%", " pct ")
    return " ".join(re.findall(r"[^\W_]+", text))


def figures_of(table: TextTable, quantities: Iterable[Quantity], texts: Iterable[Texts] = ()) -> Figures:
    """The table's good rows.

    Errors: `BadInputs` where a needed column is missing, one stands twice, a unit is not named, or there is no row.
    """
    quantities, texts = tuple(quantities), tuple(texts)
    found = _columns(table, quantities, texts)
    if not table.lines:
        row = f"row {table.header.number}"
        found.faults.append(BadInput(row, None, "there is no row below the names", "give a row a moment"))
    if found.faults:
        raise BadInputs([*found.faults, *table.broken])
    faults = [*table.broken, *_two_marks(table, found)]
    kept = [(line.number, *cells) for line in table.lines if (cells := _cells(line, table, found, faults))]
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
        passed_over=tuple(found.passed_over),
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


def _columns(table: TextTable, quantities: tuple[Quantity, ...], texts: tuple[Texts, ...]) -> _Found:
    """Which column is which."""
    spelled = {
        plain(f"{name} {unit}"): (quantity, factors)
        for quantity in quantities
        for name in quantity.names
        for unit, factors in quantity.units.items()
    }
    bare = {plain(name): quantity for quantity in quantities for name in quantity.names}
    written = {plain(name): text for text in texts for name in text.names}
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
    found.faults += _doubled_or_missing(table, found, (*quantities, *texts))
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


def missing(column: Quantity | Texts, row: str) -> BadInput:
    """A column that has to be there."""
    name = column.names[0]
    units = [unit for unit in column.units if unit] if isinstance(column, Quantity) else []
    example = " or ".join(f"{name} ({unit})" for unit in units[:2]) or name
    return BadInput(f"{row}, {name}", None, "the column is missing", f"name a column {example}")


def _two_marks(table: TextTable, found: _Found) -> list[BadInput]:
    """The first cell that writes decimals in another way than the cells before it."""
    seen: dict[str, str] = {}
    for line in table.lines:
        for at in found.quantities:
            if at < len(line.cells) and at not in line.typed and (mark := decimal_mark(line.cells[at])):
                seen.setdefault(mark, f"row {line.number}, {table.header.cells[at]}")
    if len(seen) < 2 or table.delimiter == ",":  # between commas a decimal comma stands in quotes: meant so
        return []
    later = max(seen.values(), key=lambda place: int(place.split(",")[0][4:]))
    message = "decimals are written with a point in some cells and with a comma in others"
    return [BadInput(later, None, message, "write all of them in one way; a comma may part thousands")]


def _cells(
    line: Line, table: TextTable, found: _Found, faults: list[BadInput]
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
        if text:
            numbers[at] = _number(text, quantity, unit, table.delimiter, place, faults)
        elif not quantity.may_be_empty:
            faults.append(BadInput(place, None, "the cell is empty", f"give {_range(quantity)}"))
    for at, column in found.texts.items():
        words[at] = line.cells[at] if at < len(line.cells) else ""
        if not words[at] and column.needed:
            place = f"row {line.number}, {table.header.cells[at]}"
            faults.append(BadInput(place, None, "the cell is empty", "give it, or take the row out"))
    return (numbers, words) if len(faults) == before else None


def _number(text: str, quantity: Quantity, unit: Unit, delimiter: str, place: str, faults: list[BadInput]) -> float:
    """A cell as typed, in the column's unit; NaN with a fault added."""
    number = number_from(_without_unit(text, quantity, unit), delimiter)
    if number is None:
        remedy = "give a plain number, such as 12.5, in the unit of the name; or leave the cell empty"
        faults.append(BadInput(place, text[:80], f"{text[:40]!r} is not a number", remedy))
        return np.nan
    own = number * unit[0] + unit[1]
    slack = 1e-9 * max(abs(quantity.low), abs(quantity.high))
    if not quantity.low - slack <= own <= quantity.high + slack:
        message = f"{own / quantity.shown:.6g} {quantity.unit} is outside {_range(quantity)}"
        faults.append(BadInput(place, text[:80], message, f"give {_range(quantity)}, or check the unit in the name"))
        return np.nan
    return number


def _without_unit(text: str, quantity: Quantity, unit: Unit) -> str:
    """A cell as typed, less the unit of its own column behind the number: 85 %, 21 °C."""
    found = WITH_UNIT.fullmatch(text)
    same = {plain(spelling) for spelling, factors in quantity.units.items() if spelling and factors == unit}
    return found[1] if found and plain(found[2]) in same else text


def _range(quantity: Quantity) -> str:
    low, high = quantity.low / quantity.shown, quantity.high / quantity.shown
    return f"{low:.6g} to {high:.6g} {quantity.unit}"
