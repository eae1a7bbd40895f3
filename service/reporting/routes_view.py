"""A comparison as a finished page: the lines that fail first, the months in words, the nights, what was assumed.

Scope    the answer only. A page shows the worst lines up to a number; the rest is in the table that is downloaded.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date

from service.fleet.answer import Cell, Comparison, RouteLine, Verdict
from service.quotes.answer import Assumption
from service.reporting import routes_sentences as said
from service.reporting.answers import MODEL_VERSION
from service.reporting.comparison_reasons import reason
from service.reporting.route_lines import RouteMark, draw_line, draw_scale, scale_top
from service.reporting.ruler import NARROW, WIDE
from service.reporting.sentences import heater_needs_engine
from service.reporting.view_parts import Drawing, Row
from service.reporting.words import (
    Units,
    assumed,
    bound,
    distance,
    distance_number,
    distance_unit,
    joined,
    plain,
    temperature,
)
from service.specs import Ask, Climate
from service.units import celsius_from_kelvin, fahrenheit_from_celsius

__all__ = ["LINES_ON_PAPER", "LINES_SHOWN", "LineView", "RoutesView", "routes_view"]

LINES_SHOWN = 24  # a page of 100 kB holds so many
LINES_ON_PAPER = 8  # ruler lines on the sheet; the rest are counted in words
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
    fails: bool
    on_paper: bool


@dataclass(frozen=True, slots=True)
class MonthRow:
    """The same line in all months: a word for each, and the months of each word for narrow screens."""

    route: str
    vehicle: str
    words: tuple[str, ...]
    told: str
    on_paper: bool  # what passes all the year is told in a sentence there


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
            _line(line.worst, names, mark, at, top, _asked(comparison, line.worst), units)
            for at, (line, mark) in enumerate(zip(shown, marks, strict=True))
        ),
        more=_more(len(comparison.lines), LINES_SHOWN),
        more_on_paper=_more(len(comparison.lines), LINES_ON_PAPER),
        months=tuple(_month_head(comparison, at, units) for at in range(len(comparison.ask.months))),
        table=_table(comparison, shown, names),
        others_pass=_others_pass(comparison),
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
        title=f"{cell.route} in {cell.month}",
        description=f"needs {needed}; nine days in ten reach {low}, half the days {middle}",
    )


def _line(cell: Cell, names: dict[str, str], mark: RouteMark, at: int, top: float, ask: Ask, units: Units) -> LineView:
    """One line, drawn."""
    return LineView(
        route=cell.route,
        vehicle=names[cell.vehicle],
        margin=said.margin_words(cell, units),
        month=cell.month,
        drawing=Drawing(draw_line(mark, at, top, WIDE), draw_line(mark, at, top, NARROW)),
        reason=_why(reason(cell, ask, units)),
        fails=cell.verdict is Verdict.FAIL,
        on_paper=at < LINES_ON_PAPER,
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
    left = lines - shown
    if left <= 0:
        return ""
    verb = "line passes" if left == 1 else "lines are"
    return f"{left} more {'line is' if left == 1 else verb} in the table as CSV; those above are the worst."


def _month_head(comparison: Comparison, at: int, units: Units) -> Row:
    """The head of a column: a short name, and the temperature that stands for it."""
    month, place = comparison.ask.months[at], comparison.ask.place
    celsius = celsius_from_kelvin(month.weather.ambient_k)
    degrees = plain(fahrenheit_from_celsius(celsius) if units is Units.US else celsius)
    return Row(said.shortened(month.name, place), f"{degrees}°", month.name)


def _table(comparison: Comparison, shown: Sequence[RouteLine], names: dict[str, str]) -> tuple[MonthRow, ...]:
    """The shown lines in all months."""
    verdicts = {(cell.route, cell.vehicle, cell.month): cell.verdict for cell in comparison.cells}
    months = [month.name for month in comparison.ask.months]
    rows = []
    for at, line in enumerate(shown):
        found = [verdicts[line.worst.route, line.worst.vehicle, month] for month in months]
        words = tuple(said.VERDICT_WORDS[verdict] for verdict in found)
        rows.append(
            MonthRow(
                route=line.worst.route,
                vehicle=names[line.worst.vehicle],
                words=words,
                told=_told(months, words),
                on_paper=at < LINES_ON_PAPER and line.worst.verdict is not Verdict.PASS,
            )
        )
    return tuple(rows)


def _others_pass(comparison: Comparison) -> str:
    """How many lines pass in every month, for the sheet, which leaves them out of its table."""
    passing = sum(line.worst.verdict is Verdict.PASS for line in comparison.lines)
    if not passing:
        return ""
    if passing == len(comparison.lines):
        return "Every route passes with every vehicle in every month."
    return f"{'The other line passes' if passing == 1 else f'The other {passing} lines pass'} in every month."


def _told(months: Sequence[str], words: Sequence[str]) -> str:
    """The months of each word.

    >>> _told(["January", "February", "March"], ["fails", "fails", "passes"])
    'passes in March, fails in the other months'
    """
    if len(set(words)) == 1:
        return f"{words[0]} {'throughout' if len(words) > 1 else 'in ' + months[0]}"
    parts = []
    for word in said.VERDICT_WORDS.values():
        of = [month for month, each in zip(months, words, strict=True) if each == word]
        if len(of) > len(months) / 2:
            parts.append(f"{word} in the other months" if len(set(words)) > 1 else f"{word} throughout")
        elif of:
            parts.append(f"{word} in {joined(of)}")
    return ", ".join(sorted(parts, key=lambda part: part.endswith("other months")))


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
    rows = [_assumption(one, units) for one in comparison.assumptions]
    for one, keys in owners.items():
        if one not in comparison.assumptions:
            who = "" if len(keys) == len(comparison.vehicles) else joined([names[key] for key in keys]) + ": "
            rows.append(_assumption(one, units, who))
    return tuple(dict.fromkeys(rows))


def _assumption(one: Assumption, units: Units, who: str = "") -> Row:
    name = f"{who}{one.name}"
    return Row(name[:1].upper() + name[1:], assumed(one.value, one.unit, units), bound(one.source))


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
        Row("Cabin", f"{climate}, {people}"),
        Row("Start", f"{plain(100 * ask.start.state_of_charge)}\u00a0% charged"),
        Row("Depot", _circuit(comparison) or "no circuit"),
        Row("Units", "miles, °F" if units is Units.US else "kilometres, °C"),
    )
