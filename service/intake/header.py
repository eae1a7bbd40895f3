"""The row of names in a table that people made: below titles, with a row of units under it, repeated further down.

Scope    which row it is, by how many names of it are known; nothing is dropped without a word.
"""

from collections.abc import Callable
from dataclasses import replace

from service.errors import BadInput
from service.intake.number_text import number_from
from service.intake.table_text import Line, TextTable

__all__ = ["below_titles", "with_units_below", "without_repeats"]

ROWS_LOOKED_AT = 30
FEWEST_KNOWN = 2  # names that make a row the header; a title may hold one by chance
SHOWN = 60  # characters of a title


def below_titles(table: TextTable, known: Callable[[str], bool]) -> tuple[TextTable, tuple[str, ...]]:
    """The table from its row of names on, and the rows above it as they are told.

    Args:
        known: whether a cell is a name that the reader takes.
    """
    rows = (table.header, *table.lines[:ROWS_LOOKED_AT])
    scores = [sum(known(cell) for cell in row.cells) for row in rows]
    best = scores.index(max(scores))
    if not best or scores[best] < max(FEWEST_KNOWN, scores[0] + 1):
        return table, ()
    names = Line(rows[best].number, tuple(cell.lower() for cell in rows[best].cells))
    above = tuple(f"row {row.number}: {' '.join(filter(None, row.cells))[:SHOWN]}" for row in rows[:best])
    return replace(table, header=names, lines=table.lines[best:]), above


def with_units_below(table: TextTable, known: Callable[[str], bool]) -> TextTable:
    """The table with the units of a row below the names put behind them, if there is such a row.

    Args:
        known: whether a name with its unit is one that the reader takes.
    """
    if not table.lines or any(number_from(cell) is not None for cell in table.lines[0].cells):
        return table
    names, units = table.header.cells, table.lines[0].cells
    merged = {
        at: f"{name} ({unit.strip('()[] ')})"
        for at, (name, unit) in enumerate(zip(names, units, strict=False))
        if name and unit and not known(name) and known(f"{name} {unit}")
    }
    if not merged:
        return table
    header = Line(table.header.number, tuple(merged.get(at, name) for at, name in enumerate(names)))
    return replace(table, header=header, lines=table.lines[1:])


def without_repeats(table: TextTable, names: tuple[str, ...]) -> TextTable:
    """The table without rows that are its names again, as files have them that were put together; each is told."""
    width = len(names)
    again = [line for line in table.lines if tuple(cell.lower() for cell in line.cells)[:width] == names]
    if not again:
        return table
    numbers = {line.number for line in again}
    told = tuple(
        BadInput(f"row {line.number}", None, "the names stand here again", "take the row out; nothing else is lost")
        for line in again
    )
    kept = tuple(line for line in table.lines if line.number not in numbers)
    return replace(table, lines=kept, broken=(*table.broken, *told))
