"""Routes as a table: a row a leg, rows of one name one after the other are one journey.

Scope    columns in any order, each in the contract's unit or in the US one, by its name: distance_km, Distance (km) and
         distance_mi. Load and trips a day may stand on the first row of a route only. A row with a cycle is a whole
         route. Columns of other names and titles above are passed over and told; what is almost ours is a fault.
Report   every bad cell at once, its field "row 7, speed_km_h". A route with a bad row is left out whole and named; the
         good ones are kept.
"""

from dataclasses import dataclass, field, replace
from difflib import get_close_matches
from itertools import groupby

from pydantic import ValidationError

from service.catalogue import Catalogue, data_folder
from service.errors import BadInput, BadInputs, ErrorRow
from service.intake.columns import WITH_UNIT, no_number, told
from service.intake.comparison import MOST_ROUTES, RouteIn
from service.intake.errors import Scale, faults_of, unit_of_path
from service.intake.header import below_titles, with_units_below, without_repeats
from service.intake.number_text import Marks, marks_between, number_from
from service.intake.quantities import plain
from service.intake.quote import unknown_ids
from service.intake.table_file import read_table
from service.intake.table_text import Line, TextTable, marks_of, too_wide
from service.units import KM_H, MILE_M, MPH, POUND_KG

__all__ = ["LARGEST_TABLE", "MOST_ROWS", "RoutesRead", "demo_routes", "read_routes"]

LARGEST_TABLE = 1024 * 1024  # bytes
MOST_ROWS = 2000
MILE_KM = MILE_M / 1000


@dataclass(frozen=True, slots=True)
class Column:
    """What a column feeds: a field of a leg or of its route; how many of the field's unit one of the cell's is."""

    leaf: str
    of_leg: bool = False
    factor: float = 1.0
    unit: str = ""  # only where it is not the field's own


COLUMNS = {
    "route": Column("name"),
    "cycle": Column("cycle"),
    "trips_per_day": Column("trips_per_day"),
    "payload_kg": Column("payload_kg"),
    "payload_lb": Column("payload_kg", False, POUND_KG, "lb"),
    "distance_km": Column("distance_km", True),
    "distance_mi": Column("distance_km", True, MILE_KM, "mi"),
    "speed_km_h": Column("speed_km_h", True),
    "speed_mph": Column("speed_km_h", True, MPH / KM_H, "mph"),
    "stops_per_km": Column("stops_per_km", True),
    "stops_per_mi": Column("stops_per_km", True, 1 / MILE_KM, "stops per mi"),
    "grade_pct": Column("grade_pct", True),
    "heading_deg": Column("heading_deg", True),
}
TEXTS = ("route", "cycle")
SYNONYMS = {
    "route": ("route name", "name", "tour"),
    "trips_per_day": ("trips day", "trips a day", "trips"),
    "payload_kg": ("load kg",),
    "payload_lb": ("load lb", "payload lbs", "load lbs"),
    "distance_mi": ("distance miles",),
    "speed_km_h": ("speed kmh", "speed kph", "average speed km h"),
    "speed_mph": ("average speed mph",),
    "stops_per_km": ("stops km",),
    "stops_per_mi": ("stops mi", "stops per mile", "stops mile"),
    "grade_pct": ("slope pct", "gradient pct"),
}
NAMES = {plain(name): column for column in COLUMNS for name in (column, *SYNONYMS.get(column, ()))}
MEANT = {word for name in NAMES for word in name.split()[:1]}  # a column that begins so was meant to be one of ours
ALMOST = 0.8  # likeness of a misspelt name (difflib); own choice
EXAMPLE = "route,trips_per_day,payload_kg,distance_km,speed_km_h,stops_per_km,grade_pct"


@dataclass(frozen=True, slots=True)
class RoutesRead:
    """Good routes, every fault, and the names of routes that are left out because of one."""

    routes: tuple[RouteIn, ...]
    errors: tuple[ErrorRow, ...]
    left_out: tuple[str, ...]
    passed_over: tuple[str, ...] = ()  # columns of other names, and rows above the names


@dataclass(frozen=True, slots=True)
class Cell:
    """Where a value came from."""

    row: int
    column: str
    text: str

    @property
    def place(self) -> str:
        """As the report writes it."""
        return f"row {self.row}, {self.column}"


@dataclass(slots=True)
class Draft:
    """A route as read so far: plain data for `RouteIn`, the cell behind each path of it, and what is wrong."""

    name: str
    row: int
    columns: dict[str, str]  # field → the column of this table that feeds it
    raw: dict = field(default_factory=dict)
    legs: list[dict] = field(default_factory=list)
    leg_rows: list[int] = field(default_factory=list)
    cells: dict[str, Cell] = field(default_factory=dict)
    faults: list[BadInput] = field(default_factory=list)


def demo_routes(catalogue: Catalogue) -> tuple[RouteIn, ...]:
    """The invented routes of data/demo_routes.csv."""
    return read_routes((data_folder() / "demo_routes.csv").read_bytes(), catalogue).routes


def read_routes(content: bytes, catalogue: Catalogue) -> RoutesRead:
    """Read a table of routes.

    Errors: `BadInputs` where it is no table of routes at all: too large, not text, or without the needed columns.
    """
    table = read_table(content, LARGEST_TABLE, MOST_ROWS)
    table, passed_over = headed(table)
    check_header(table)
    numbers = [at for at, name in enumerate(table.header.cells) if name and name not in TEXTS]
    marks = marks_between(marks_of(table, numbers), table.delimiter)
    routes: list[RouteIn] = []
    faults, left_out, rows_of_names = list(table.broken), [], {}
    for name, lines in groupby(named(table), key=lambda pair: pair[0]):
        draft = draft_of(name, [line for _, line in lines], table, marks)
        route = checked(draft, catalogue)
        draft.faults += place_taken(draft, rows_of_names, len(routes))
        rows_of_names.setdefault(name, draft.row)
        faults += draft.faults
        if draft.faults or route is None:
            left_out.append(name)
        else:
            routes.append(route)
    return RoutesRead(tuple(routes), told(faults), tuple(dict.fromkeys(left_out)), passed_over)


def headed(table: TextTable) -> tuple[TextTable, tuple[str, ...]]:
    """The table under our names, what is not needed without one; and what that was, with the rows above the names."""
    table, above = below_titles(table, lambda name: plain(name) in NAMES)
    written = table.header.cells
    table = without_repeats(with_units_below(table, lambda name: plain(name) in NAMES), written)
    names, others = [], []
    for name in table.header.cells:
        key = plain(name)
        known = NAMES.get(key, name)
        if name and key not in NAMES and not (MEANT & set(key.split()[:1]) or get_close_matches(key, NAMES, 1, ALMOST)):
            others.append(name[:80])
            known = ""
        names.append(known)
    return replace(table, header=Line(table.header.number, tuple(names))), (*above, *others)


def check_header(table: TextTable) -> None:
    """Raise BadInputs unless every column is known, stands once, and what is needed is there."""
    names, row = table.header.cells, f"row {table.header.number}"
    leaves = [COLUMNS[name].leaf for name in names if name in COLUMNS]
    faults, unnamed = [], set()
    for name in filter(None, dict.fromkeys(names)):
        with_units = [column for column in COLUMNS if plain(column).startswith(f"{plain(name)} ")]
        if name in COLUMNS:
            if leaves.count(COLUMNS[name].leaf) > 1:
                faults.append(BadInput(f"{row}, {name}", name, "it is given in two columns", "keep one of the two"))
        elif with_units:
            unnamed |= {COLUMNS[column].leaf for column in with_units}
            remedy = f"name it {' or '.join(with_units)}"
            faults.append(BadInput(f"{row}, {name[:80]}", name, "its unit is not named", remedy))
        else:
            almost = get_close_matches(plain(name), NAMES, 1, ALMOST)
            remedy = f"{f'did you mean {NAMES[almost[0]]}? ' if almost else ''}name columns as in {EXAMPLE}"
            faults.append(BadInput(f"{row}, {name[:80]}", name, "there is no such column", remedy))
    if "name" not in leaves:
        faults.append(BadInput(f"{row}, route", None, "the column is missing", f"name columns as in {EXAMPLE}"))
    for leaf, choice in (("distance_km", "distance_km or distance_mi"), ("speed_km_h", "speed_km_h or speed_mph")):
        if not {leaf, "cycle"} & {*leaves, *unnamed}:
            remedy = f"give {choice}, or a column cycle"
            faults.append(BadInput(f"{row}, {leaf}", None, "the column is missing", remedy))
    if not table.lines:
        faults.append(BadInput(row, None, "there is no row below the names", "give a row a leg"))
    if faults:
        raise BadInputs([*faults, *table.broken])


def named(table: TextTable) -> list[tuple[str, Line]]:
    """Rows with the name of their route; one without a name goes on with the route above."""
    at, name, pairs = table.header.cells.index("route"), "", []
    for line in table.lines:
        name = (line.cells[at] if at < len(line.cells) else "") or name
        pairs.append((name, line))
    return pairs


def draft_of(name: str, lines: list[Line], table: TextTable, marks: Marks) -> Draft:
    """Rows of one name as plain data. What cannot be read is a fault; what it means is checked later."""
    columns = {COLUMNS[column].leaf: column for column in table.header.cells if column}
    draft = Draft(name, lines[0].number, columns, {"name": name})
    draft.cells["name"] = Cell(draft.row, "route", name)
    for line in lines:
        if wide := too_wide(line, table):
            draft.faults.append(wide)
            continue  # its cells may stand under the wrong names
        leg: dict = {}
        for column, text in zip(table.header.cells, line.cells, strict=False):
            if text and column not in ("", "route"):
                take(draft, leg, Cell(line.number, column, text), marks)
        if leg:
            draft.legs.append(leg)
            draft.leg_rows.append(line.number)
        elif not draft.raw.get("cycle") and not draft.faults:
            draft.faults.append(BadInput(f"row {line.number}", None, "the row holds no leg", "give distance and speed"))
    return draft


def take(draft: Draft, leg: dict, cell: Cell, marks: Marks) -> None:
    """Put one cell where it belongs."""
    column = COLUMNS[cell.column]
    path = f"journey.legs[{len(draft.legs)}].{column.leaf}" if column.of_leg else column.leaf
    value: object = cell.text
    if cell.column not in TEXTS:
        number = number_from(without_unit(cell), marks)
        if number is None:
            draft.faults.append(no_number(cell.place, cell.text))
        value = 1.0 if number is None else number * column.factor  # a stand-in: the fault is noted already
    if column.of_leg:
        leg[column.leaf] = value
    elif draft.raw.setdefault(column.leaf, value) != value:
        draft.faults.append(BadInput(cell.place, cell.text, "it differs from the route's first row", "give it once"))
        return
    draft.cells.setdefault(path, cell)


def without_unit(cell: Cell) -> str:
    """A cell as typed, less the unit of its own column behind the number: 40 km in distance_km."""
    found = WITH_UNIT.fullmatch(cell.text)
    return found[1] if found and plain(cell.column).endswith(f" {plain(found[2])}") else cell.text


def checked(draft: Draft, catalogue: Catalogue) -> RouteIn | None:
    """The route, or None with the faults added to the draft, each at its row and column."""
    cycle = draft.raw.pop("cycle", None)
    journey = ({"cycle": cycle} if cycle else {}) | ({"legs": draft.legs} if draft.legs else {})
    if draft.faults and not journey:
        return None
    raw = draft.raw | {"journey": journey}
    faults: list[BadInput] = unknown_ids(raw, catalogue) if cycle else []
    try:
        route = RouteIn.model_validate(raw)
    except ValidationError as error:
        route, faults = None, faults_of(error.errors(), lambda path: scale_of(draft, path)) + faults
    seen = {fault.row.field for fault in draft.faults}
    placed = [at_cell(draft, fault) for fault in faults]
    draft.faults += [fault for fault in placed if fault.row.field not in seen]
    return route


def scale_of(draft: Draft, path: str) -> Scale:
    """Messages speak the unit of the column."""
    column = COLUMNS.get(draft.columns.get(path.rpartition(".")[2], ""))
    return Scale(column.unit, lambda value: value / column.factor) if column and column.unit else unit_of_path(path)


def at_cell(draft: Draft, fault: BadInput) -> BadInput:
    """The same fault at its row and column, with the cell's own text."""
    path, row = fault.row.field, draft.row
    leaf = path.rpartition(".")[2]
    cell = draft.cells.get(leaf if path == "journey.cycle" else path)
    if cell:
        return BadInput(cell.place, cell.text, fault.row.message, fault.row.remedy)
    if path.startswith("journey.legs["):
        row = draft.leg_rows[int(path[len("journey.legs[") : path.index("]")])]
    where = f", {draft.columns[leaf]}" if leaf in draft.columns else ""
    return BadInput(f"row {row}{where}", fault.row.value, fault.row.message, fault.row.remedy)


def place_taken(draft: Draft, rows_of_names: dict[str, int], kept: int) -> list[BadInput]:
    """A name that stands further up already, or one route too many."""
    if draft.name and draft.name in rows_of_names:
        message = f"this route stands already from row {rows_of_names[draft.name]} on"
        return [BadInput(f"row {draft.row}, route", draft.name, message, "keep a route's rows together, or rename it")]
    if kept >= MOST_ROUTES:
        message, remedy = f"more than {MOST_ROUTES} routes", f"give at most {MOST_ROUTES} routes"
        return [BadInput(f"row {draft.row}, route", draft.name, message, remedy)]
    return []
