"""A comparison as a finished page: the lines that fail first, the months in words, the nights, what was assumed.

Scope    the answer only. A page shows the worst lines up to a number; the rest is in the table that is downloaded.
"""

from dataclasses import dataclass, replace
from datetime import date

from service.fleet.answer import Cell, Comparison
from service.quotes.answer import Assumption
from service.reporting import routes_sentences as said
from service.reporting.answers import MODEL_VERSION
from service.reporting.assumption_rows import assumption_row, assumption_rows
from service.reporting.comparison_reasons import reason
from service.reporting.engine_sentences import heater_needs_engine
from service.reporting.route_lines import RouteMark, draw_line, draw_scale, scale_top
from service.reporting.routes_months import MonthRow, month_head, month_rows, others_pass
from service.reporting.ruler import NARROW, WIDE
from service.reporting.sheet_room import lines_on_paper
from service.reporting.view_parts import Drawing, Row, cabin_extras
from service.reporting.words import (
    Units,
    bound,
    distance,
    distance_number,
    distance_unit,
    joined,
    plain,
    temperature,
)
from service.specs import Ask, Climate

__all__ = ["LINES_SHOWN", "LineView", "RoutesView", "routes_view"]

LINES_SHOWN = 16  # a page of 100 kB holds so many
ENGINE_HEATS = "the engine starts to heat the cabin"  # as `comparison_reasons` says it


@dataclass(frozen=True, slots=True)
class LineView:
    """A route with a vehicle: its worst month."""

    route: str
    vehicle: str
    margin: str
    month: str
    drawing: Drawing
    reason: str
    on_paper: bool


@dataclass(frozen=True, slots=True)
class RoutesView:
    """Everything the page or the sheet prints."""

    title: str
    question: tuple[Row, ...]
    headline: str
    second: str
    heat: str
    scale: Drawing
    lines: tuple[LineView, ...]
    more: str
    more_on_paper: str
    months: tuple[Row, ...]
    table: tuple[MonthRow, ...]
    others_pass: str
    circuit: str
    nights: tuple[Row, ...]
    notes: tuple[str, ...]
    assumptions: tuple[Row, ...]
    made_on: str
    version: str


def routes_view(comparison: Comparison, units: Units, made_on: date) -> RoutesView:
    """The page of a comparison.

    Args:
        comparison: the answer, the request's defaults among its assumptions.
        made_on: printed on the sheet.
    """
    names = {each.key: each.ask.vehicle.name for each in comparison.vehicles}
    shown = sorted(comparison.lines, key=lambda line: said.by_figure(line.worst))[:LINES_SHOWN]
    marks = [_mark(line.worst, units) for line in shown]
    reasons = [_why(reason(line.worst, _asked(comparison, line.worst), units)) for line in shown]
    on_paper = lines_on_paper(shown, reasons, len(comparison.vehicles))
    top = scale_top(marks)
    headline = said.headline(comparison, names, units)
    return RoutesView(
        title=headline.rstrip("."),
        question=_question(comparison, names, units),
        headline=headline,
        second=said.second(comparison, names),
        heat=said.fuel_for_heat(_heated_by_engine(comparison), names),
        scale=Drawing(draw_scale(top, distance_unit(units), WIDE), draw_scale(top, distance_unit(units), NARROW)),
        lines=tuple(
            LineView(
                route=line.worst.route,
                vehicle=names[line.worst.vehicle],
                margin=said.margin_words(line.worst, units),
                month=line.worst.month,
                drawing=Drawing(draw_line(mark, top, WIDE), draw_line(mark, top, NARROW)),
                reason=why,
                on_paper=at < on_paper,
            )
            for at, (line, mark, why) in enumerate(zip(shown, marks, reasons, strict=True))
        ),
        more=_more(len(comparison.lines), LINES_SHOWN),
        more_on_paper=_more(len(comparison.lines), on_paper),
        months=tuple(month_head(comparison, at, units) for at in range(len(comparison.ask.months))),
        table=month_rows(comparison, shown, names, on_paper),
        others_pass=others_pass(comparison),
        circuit=_circuit(comparison),
        nights=tuple(Row(names[each.key], *said.night(each)) for each in comparison.vehicles),
        notes=_notes(comparison),
        assumptions=_assumptions(comparison, names, units),
        made_on=f"{made_on.day} {made_on:%B %Y}",
        version=MODEL_VERSION,
    )


def _mark(cell: Cell, units: Units) -> RouteMark:
    """A line's numbers."""

    def number(metres: float) -> float:
        return distance_number(metres, units)

    low, middle, needed = (distance(metres, units) for metres in (cell.low_m, cell.range_m, cell.needed_m))
    return RouteMark(
        low=number(cell.low_m),
        middle=number(max(cell.range_m, cell.low_m)),
        needed=number(cell.needed_m),
        flag=f"needs {needed}",
        label=f"{cell.route} in {cell.month} needs {needed}; nine days in ten reach {low}, half the days {middle}",
    )


def _why(sentence: str) -> str:
    """The reason without the figure, which stands beside it, and without the engine's heat, which is told once."""
    parts = [part for part in sentence.rstrip(".").split("; ")[1:] if part != ENGINE_HEATS] or [sentence.rstrip(".")]
    rest = "; ".join(parts)
    return bound(f"{rest[:1].upper()}{rest[1:]}.")


def _asked(comparison: Comparison, cell: Cell) -> Ask:
    """The single question of a cell: its vehicle, its weather."""
    vehicle = next(each for each in comparison.vehicles if each.key == cell.vehicle)
    month = next(each for each in comparison.ask.months if each.name == cell.month)
    return replace(vehicle.ask, weather=month.weather)


def _heated_by_engine(comparison: Comparison) -> list[str]:
    """Vehicles that need the engine for heat in some month."""
    return [
        each.key
        for each in comparison.vehicles
        if any(heater_needs_engine(replace(each.ask, weather=month.weather)) for month in comparison.ask.months)
    ]


def _more(lines: int, shown: int) -> str:
    """How many lines are left out."""
    left = lines - shown
    if left <= 0:
        return ""
    lines = "line is" if left == 1 else "lines are"
    return f"{left} more {lines} in the table as CSV; those above are the worst."


def _circuit(comparison: Comparison) -> str:
    """Where they are charged."""
    circuits = dict.fromkeys(each.ask.circuit.name for each in comparison.vehicles if each.ask.circuit)
    return bound(joined(list(circuits)))


def _notes(comparison: Comparison) -> tuple[str, ...]:
    """Notes of all vehicles, each once; what the sentence about heat says already is left out."""
    notes = dict.fromkeys(bound(note) for each in comparison.vehicles for note in each.notes)
    return tuple(note for note in notes if "heats its cabin with the engine" not in note)


def _assumptions(comparison: Comparison, names: dict[str, str], units: Units) -> tuple[Row, ...]:
    """What all share, then what belongs to single vehicles, each once."""
    owners: dict[Assumption, list[str]] = {}
    for each in comparison.vehicles:
        for one in each.assumptions:
            owners.setdefault(one, []).append(each.key)
    rows = [*assumption_rows(comparison.assumptions, units)]
    for one, keys in owners.items():
        if one not in comparison.assumptions:
            who = "" if len(keys) == len(comparison.vehicles) else joined([names[key] for key in keys]) + ": "
            rows.append(assumption_row(one, units, who))
    return tuple(dict.fromkeys(rows))


def _question(comparison: Comparison, names: dict[str, str], units: Units) -> tuple[Row, ...]:
    """What was asked, a row for each group of the form."""
    ask = comparison.ask
    needs = f"{len(ask.routes)} route{'s' if len(ask.routes) > 1 else ''}"
    if ask.reserve_m:
        needs += f", {distance(ask.reserve_m, units)} in reserve"
    if ask.between_trips:
        needs += ", charged between trips"
    days = ask.place.name if ask.place else joined([temperature(each.weather.ambient_k, units) for each in ask.months])
    climate = "heating and cooling off"
    if ask.cabin.climate is Climate.AUTO:
        climate = f"kept at {temperature(ask.cabin.set_point_k, units)}"
    people = "1 person" if ask.cabin.occupants == 1 else f"{ask.cabin.occupants} people"
    return (
        Row("Routes", needs),
        Row("Vehicles", joined(list(names.values())) if len(names) <= 3 else f"{len(names)} vehicles"),
        Row("Months", days),
        Row("Cabin", f"{climate}{cabin_extras(ask.cabin)}, {people}"),
        Row("Start", f"{plain(100 * ask.start.state_of_charge)}\u00a0% charged"),
        Row("Depot", _circuit(comparison) or "no circuit"),
        Row("Units", "miles, °F" if units is Units.US else "kilometres, °C"),
    )
