"""The tables of cycles/ as specs: one regulatory drive cycle a file, one speed a second.

Scope    cycles from rest to rest at 1 Hz. Titles, sources and published totals stand in the TOML beside each.
"""

from pathlib import Path

from service.catalogue.tables import Table, read_table
from service.errors import BadTable
from service.specs import Cycle
from service.units import KM_H

__all__ = ["read_cycles"]

FASTEST_KM_H = 160.0  # no regulatory cycle for cars is faster (US06 reaches 129 km/h, WLTC 131)


def read_cycles(folder: Path) -> dict[str, Cycle]:
    """Drive cycles by id (the file's name), in the order of `rank` in their descriptions.

    Raises: BadTable for a gap in time, a speed outside 0–160 km/h, a start or end that is not at rest.
    """
    names = sorted(path.stem for path in (folder / "cycles").glob("*.csv"))
    if not names:
        raise BadTable("cycles", "the folder holds no drive cycle")
    tables = {name: read_table(folder, f"cycles/{name}", key=("time_s",)) for name in names}
    return {name: _cycle(name, tables[name]) for name in sorted(names, key=lambda name: _rank(tables[name]))}


def _cycle(name: str, table: Table) -> Cycle:
    _check_time(table)
    speeds_km_h = table.numbers("speed_km_h", 0, FASTEST_KM_H)
    for row in (1, len(speeds_km_h)):
        if speeds_km_h[row - 1] != 0:
            raise BadTable(table.file_name, f"row {row}, column speed_km_h: a cycle starts and ends at rest")
    return Cycle(name, table.about["title"], table.about["source"], tuple(v * KM_H for v in speeds_km_h))


def _rank(table: Table) -> int:
    rank = table.about.get("rank")
    if not isinstance(rank, int):
        raise BadTable(table.file_name.removesuffix(".csv") + ".toml", "it does not give rank as a whole number")
    return rank


def _check_time(table: Table) -> None:
    for second, time_s in enumerate(table.numbers("time_s", 0, 1e5)):
        if time_s != second:
            raise BadTable(table.file_name, f"row {second + 1}, column time_s: {time_s:g} should be {second}")
