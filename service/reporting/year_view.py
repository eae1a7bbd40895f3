"""A commute's year as a finished page: the answer in words, twelve ruler lines, the table of months, what would help.

Scope    the answer only; the form beside it is `form_view`.
"""

from dataclasses import dataclass
from datetime import date

from service.quotes.parking import Overnight
from service.quotes.year_answer import Commute, CommuteMonth, Tally
from service.reporting import year_sentences as said
from service.reporting.answers import MODEL_VERSION
from service.reporting.assumption_rows import assumption_rows
from service.reporting.route_lines import RouteMark, draw_line, draw_scale, scale_top
from service.reporting.ruler import NARROW, Size
from service.reporting.view_parts import Drawing, Row
from service.reporting.words import (
    Units,
    bound,
    clock,
    distance,
    distance_number,
    distance_unit,
    fuel_number,
    given_off_number,
    grouped,
    money,
    plain,
    prices_told,
    temperature,
)
from service.specs import Climate, Prices
from service.units import KWH_J, celsius_from_kelvin, fahrenheit_from_celsius

__all__ = ["Asked", "YearView", "year_view"]

DESK = Size("wide", 520.0, 1.0, 17.0, 14.5, 25.0)  # between month and days, where the screen is wide
MINOR = ("Out, back", "Range", "CO\u2082")


@dataclass(frozen=True, slots=True)
class Asked:
    """What the answer does not hold of the question, for its summary."""

    leaves_home: float
    leaves_work: float
    days: str
    overnight: Overnight
    work: str  # where the car is plugged in there; "" where it is not


@dataclass(frozen=True, slots=True)
class MonthLine:
    """One ruler line."""

    month: str
    days: str
    all_electric: bool
    drawing: Drawing
    hardest: str  # where that day is not electric


@dataclass(frozen=True, slots=True)
class MonthFigures:
    """One row of the table; `cells` in the order of `YearView.columns`."""

    month: str
    short: str
    cells: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class YearView:
    """Everything the page or the sheet prints."""

    title: str
    question: tuple[Row, ...]
    headline: str
    second: str
    heat: str
    key: str
    why: str
    scale: Drawing
    lines: tuple[MonthLine, ...]
    columns: tuple[tuple[str, str], ...]
    minor: tuple[int, ...]  # columns that a narrow screen leaves out, from one
    table: tuple[MonthFigures, ...]
    total: MonthFigures
    helps: tuple[str, ...]
    fuel_title: str
    fuel_only: str
    shares: str
    night: str
    notes: tuple[str, ...]
    assumptions: tuple[Row, ...]
    made_on: str
    version: str


def year_view(commute: Commute, asked: Asked, units: Units, made_on: date) -> YearView:
    """The page of a commute's year.

    Args:
        commute: the answer, the request's defaults among its assumptions.
        made_on: printed on the sheet.
    """
    headline = said.headline(commute)
    marks = [_mark(month, commute, asked, units, first=at == 0) for at, month in enumerate(commute.months)]
    top = scale_top(marks)
    unit = distance_unit(units)
    return YearView(
        title=headline.rstrip("."),
        question=_question(commute, asked, units),
        headline=headline,
        second=said.second(commute, units),
        heat=said.heat(commute),
        key=_key(commute, asked),
        why=said.why(commute, units),
        scale=Drawing(draw_scale(top, unit, DESK), draw_scale(top, unit, NARROW)),
        lines=tuple(_line(month, mark, top, commute, units) for month, mark in zip(commute.months, marks, strict=True)),
        columns=_columns(commute, units),
        minor=tuple(at for at, (name, _) in enumerate(_columns(commute, units), 1) if name in MINOR),
        table=tuple(
            MonthFigures(month.name, month.name[:3], _cells(month.tally, commute, units, month))
            for month in commute.months
        ),
        total=MonthFigures("The year", "Year", _cells(commute.year, commute, units)),
        helps=tuple(said.help_words(each, commute) for each in commute.helps),
        fuel_title="Against never plugging in" if commute.fuel_only else "What the electricity gives off",
        fuel_only=said.wholly_on_fuel(commute, units),
        shares=said.shares(commute, units),
        night=said.night(commute),
        notes=tuple(bound(note) for note in commute.notes if not (said.heat(commute) and "heats its cabin" in note)),
        assumptions=assumption_rows(commute.assumptions, units),
        made_on=f"{made_on.day} {made_on:%B %Y}",
        version=MODEL_VERSION,
    )


def _needed_m(commute: Commute, asked: Asked) -> float:
    """What one charge has to do."""
    ways = (commute.one_way_m, commute.back_m)
    return max(ways) if asked.work else sum(ways)


def _mark(month: CommuteMonth, commute: Commute, asked: Asked, units: Units, first: bool) -> RouteMark:
    """A line's numbers."""
    low_m, middle_m, needed_m = month.range_m.p10, month.range_m.p50, _needed_m(commute, asked)
    way = "one way" if asked.work else "there and back"
    low, middle, needed = (distance(metres, units) for metres in (low_m, middle_m, needed_m))
    return RouteMark(
        low=distance_number(low_m, units),
        middle=distance_number(middle_m, units),
        needed=distance_number(needed_m, units),
        flag=f"{way} {needed}" if first else "",
        label=f"{month.name}: nine mornings in ten the charge reaches {low}, half of them {middle}; {way} is {needed}",
    )


def _line(month: CommuteMonth, mark: RouteMark, top: float, commute: Commute, units: Units) -> MonthLine:
    days, wanted = said.days_of(month.tally), commute.ask.start.state_of_charge
    return MonthLine(
        month=month.name,
        days=f"{days} days",
        all_electric=len(set(days.split(" of "))) == 1,
        drawing=Drawing(draw_line(mark, top, DESK), draw_line(mark, top, NARROW)),
        hardest="" if month.hardest.electric else said.hardest(month.hardest, wanted, units),
    )


def _key(commute: Commute, asked: Asked) -> str:
    """What the drawing means."""
    days = "Days without the engine" if commute.ask.vehicle.kind.has_engine else "Days without a charge on the way"
    need = "one way, for it is charged at work" if asked.work else "there and back"
    return (
        f"{days}, of those driven. Thick: from what nine mornings in ten reach on one charge to what half of them "
        f"reach, driven in one go; a car that stood at work starts cold again. Tall stroke: {need}."
    )


def _columns(commute: Commute, units: Units) -> tuple[tuple[str, str], ...]:
    """Heads of the table, and the unit below each."""
    degrees = "°F" if units is Units.US else "°C"
    fuel = (("Fuel", "gallons" if units is Units.US else "litres"),) if commute.fuel_only else ()
    return (
        ("Out, back", degrees),
        ("Electric", "days"),
        ("Range", distance_unit(units)),
        ("Socket", "kWh"),
        *fuel,
        ("Cost", commute.money.currency or "as priced"),
        ("CO\u2082", "lb" if units is Units.US else "kg"),
    )


def _cells(tally: Tally, commute: Commute, units: Units, month: CommuteMonth | None = None) -> tuple[str, ...]:
    """A month's or the year's figures."""
    fuel = (grouped(fuel_number(tally.fuel_m3.p50, units)),) if commute.fuel_only else ()
    air = reach = ""
    if month is not None:
        air = ", ".join(_degrees(each.ambient_k, units) for each in (month.out, month.back))
        reach = plain(distance_number(month.range_m.p50, units))
    return (
        air,
        said.days_of(tally),
        reach,
        grouped(tally.wall_j.p50 / KWH_J),
        *fuel,
        money(tally.cost.p50, ""),
        given_off_number(tally.co2_kg.p50, units),
    )


def _degrees(kelvin: float, units: Units) -> str:
    celsius = celsius_from_kelvin(kelvin)
    return f"{plain(fahrenheit_from_celsius(celsius) if units is Units.US else celsius)}°"


def _question(commute: Commute, asked: Asked, units: Units) -> tuple[Row, ...]:
    """What was asked, a row for each group of the form."""
    ask = commute.ask
    climate = "heating and cooling off"
    if ask.cabin.climate is Climate.AUTO:
        climate = f"kept at {temperature(ask.cabin.set_point_k, units)}"
    people = "1 person" if ask.cabin.occupants == 1 else f"{ask.cabin.occupants} people"
    ready = ", cabin readied on the plug" if ask.start.preconditioned else ""
    night = "in an unheated garage" if asked.overnight is Overnight.GARAGE else "outside"
    charge = "" if ask.start.state_of_charge >= 1 else f", charged to {plain(100 * ask.start.state_of_charge)}\u00a0%"
    return (
        Row("Car", ask.vehicle.name),
        Row("Journey", f"{distance(commute.one_way_m, units)} each way"),
        Row("Days", f"{asked.days}, {clock(asked.leaves_home, units)} and {clock(asked.leaves_work, units)}"),
        Row("Place", commute.place.name),
        Row("Cabin", f"{climate}, {people}"),
        Row("Night", f"{night}{ready}{charge}, {bound(ask.circuit.name)}"),
        Row("Work", f"charged, {asked.work}" if asked.work else "not charged"),
        Row("Prices", _prices(commute, units)),
        Row("Units", "miles, °F" if units is Units.US else "kilometres, °C"),
    )


def _prices(commute: Commute, units: Units) -> str:
    """Both prices, in the reader's measure."""
    sums = commute.money
    fuel = None if commute.fuel_only is None else sums.fuel_per_m3
    return prices_told(Prices(sums.currency, sums.electricity_per_j, fuel_per_m3=fuel), units)
