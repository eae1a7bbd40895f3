"""A speed table as a finished page: sentences, the curve, both tables, what was assumed."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from service.quotes.speed_table import InOneGo, ShortTrip, SpeedTable, SteadyCell
from service.reporting import speed_sentences as said
from service.reporting.answers import MODEL_VERSION
from service.reporting.assumption_rows import assumption_rows
from service.reporting.ruler import NARROW, WIDE
from service.reporting.speed_curve import Curve, Line, draw_curve
from service.reporting.view_parts import Drawing, Row, parked_words
from service.reporting.words import (
    NBSP,
    Units,
    bound,
    consumption_number,
    consumption_unit,
    distance,
    distance_figure,
    distance_number,
    distance_unit,
    mass,
    per_cent,
    plain,
    temperature,
)
from service.specs import Climate

__all__ = ["GridRow", "SpeedView", "speed_view"]

IN_ONE_GO = ("in", "one go")
TRIP_EVERY_K = 9.0  # between two rows of the table of trips; the rest is in the CSV


@dataclass(frozen=True, slots=True)
class GridRow:
    """A temperature and its cells: a figure, and a smaller one under it."""

    name: str
    cells: tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True)
class SpeedView:
    """Everything the page or the sheet prints."""

    title: str
    question: tuple[Row, ...]
    headline: str
    second: str
    cannot_hold: str
    drawing: Drawing
    unit: str
    speeds: tuple[tuple[str, str], ...]  # figure, unit
    ranges: tuple[GridRow, ...]
    trip: str
    trips_sentence: str
    trip_unit: str
    distances: tuple[tuple[str, str], ...]
    trips: tuple[GridRow, ...]
    notes: tuple[str, ...]
    assumptions: tuple[Row, ...]
    made_on: str
    version: str


def speed_view(found: SpeedTable, units: Units, made_on: date) -> SpeedView:
    """The page of a speed table.

    Args:
        found: the answer, the request's defaults among its assumptions.
        made_on: printed on the sheet.
    """
    headline = said.headline(found, units)
    kind = found.question.trip
    longest = distance(max(kind.distances_m), units)
    return SpeedView(
        title=headline.rstrip("."),
        question=_question(found, units),
        headline=headline,
        second=said.second(found, units),
        cannot_hold=said.cannot_hold(found, units),
        drawing=_drawing(found, units),
        unit=distance_unit(units),
        speeds=tuple(_parted(said.speed(m_s, units)) for m_s in found.question.speeds_m_s),
        ranges=_ranges(found, units),
        trip=(
            f"Cruising at {said.speed(kind.speed_m_s, units)}, {_stops(kind.stops_per_m, units)}, the one at the end "
            f"counted; parked before each trip until everything is at the day’s temperature, and not plugged in. In "
            f"one go: {longest} after {longest} without a pause."
        ),
        trips_sentence=said.short_trips(found, units),
        trip_unit=consumption_unit(units),
        distances=(*(_parted(distance(metres, units)) for metres in kind.distances_m), IN_ONE_GO),
        trips=_trips(found, units),
        notes=tuple(bound(note) for note in found.notes),
        assumptions=assumption_rows(found.assumptions, units),
        made_on=f"{made_on.day} {made_on:%B %Y}",
        version=MODEL_VERSION,
    )


def _parted(quantity: str) -> tuple[str, str]:
    """A figure and its unit, for the head of a column.

    >>> _parted("50\\xa0km/h")
    ('50', 'km/h')
    """
    figure, _, unit = quantity.partition(NBSP)
    return figure, unit


def _drawing(found: SpeedTable, units: Units) -> Drawing:
    """The curve in both widths."""
    days = sorted(found.question.temperatures_k)
    by_cell = {(cell.speed_m_s, cell.ambient_k): cell for cell in found.cells}
    lines = tuple(
        Line(said.speed(m_s, units), tuple(_value(by_cell[m_s, kelvin], units) for kelvin in days))
        for m_s in sorted(found.question.speeds_m_s)
    )
    curve = Curve(
        title=f"Range in {distance_unit(units)} against the temperature outside, a line for each speed",
        description="; ".join(
            f"{line.name}: {_end(line, 0)} at {temperature(days[0], units)}, {_end(line, -1)} at "
            f"{temperature(days[-1], units)}"
            for line in lines
        ),
        temperatures=tuple(days),
        temperature_words=tuple(temperature(kelvin, units) for kelvin in days),
        unit=distance_unit(units),
        lines=lines,
    )
    return Drawing(draw_curve(curve, WIDE), draw_curve(curve, NARROW))


def _value(cell: SteadyCell, units: Units) -> float | None:
    return None if cell.cannot_hold else distance_number(cell.range_m.p50, units)


def _end(line: Line, at: int) -> str:
    value = line.values[at]
    return "not held" if value is None else plain(value)


def _ranges(found: SpeedTable, units: Units) -> tuple[GridRow, ...]:
    """Every temperature: what half the days reach, and nine days in ten."""
    rows = []
    for kelvin in found.question.temperatures_k:
        cells = [cell for cell in found.cells if cell.ambient_k == kelvin]
        rows.append(GridRow(temperature(kelvin, units), tuple(_range_words(cell, units) for cell in cells)))
    return tuple(rows)


def _range_words(cell: SteadyCell, units: Units) -> tuple[str, str]:
    if cell.cannot_hold:
        return "not held", ""
    low_m = cell.range_m.p10
    return distance_figure(cell.range_m.p50, units), "" if low_m is None else distance_figure(low_m, units)


def _trips(found: SpeedTable, units: Units) -> tuple[GridRow, ...]:
    """A row for about every ten degrees: consumption, and how many trips or how far a charge goes."""
    rows = []
    for drive in _spaced(found.in_one_go):
        trips = [trip for trip in found.trips if trip.ambient_k == drive.ambient_k]
        cells = [_trip_words(trip, units) for trip in trips]
        cells.append((_number(drive, units), distance(drive.range_m, units)))
        rows.append(GridRow(temperature(drive.ambient_k, units), tuple(cells)))
    return tuple(rows)


def _spaced(drives: Sequence[InOneGo]) -> list[InOneGo]:
    """Days at least `TRIP_EVERY_K` apart, in the order asked."""
    kept: list[InOneGo] = []
    for drive in drives:
        if all(abs(drive.ambient_k - other.ambient_k) >= TRIP_EVERY_K for other in kept):
            kept.append(drive)
    return kept


def _trip_words(trip: ShortTrip, units: Units) -> tuple[str, str]:
    count = trip.trips_per_charge
    return _number(trip, units), "1 trip" if count == 1 else f"{count} trips"


def _number(drive: ShortTrip | InOneGo, units: Units) -> str:
    return plain(consumption_number(drive.battery_j_per_m, units))


def _stops(stops_per_m: float, units: Units) -> str:
    """How often the trip stops.

    >>> _stops(0.001, Units.METRIC), _stops(0.0005, Units.METRIC)
    ('a stop every kilometre', 'a stop every 2\\xa0km')
    """
    if distance_figure(1 / stops_per_m if stops_per_m > 0 else 0.0, units) == "1":
        return f"a stop every {'mile' if units is Units.US else 'kilometre'}"
    return f"a stop every {distance(1 / stops_per_m, units)}" if stops_per_m > 0 else "without a stop on the way"


def _question(found: SpeedTable, units: Units) -> tuple[Row, ...]:
    """What was asked, a row for each group of the form."""
    ask = found.ask
    load = f", {mass(ask.payload_kg, units)} load" if ask.payload_kg else ""
    health = ask.start.state_of_health
    worn = "" if health >= 1 else f", battery at {per_cent(health)} of its capacity"
    people = "1 person" if ask.cabin.occupants == 1 else f"{ask.cabin.occupants} people"
    climate = "heating and cooling off"
    if ask.cabin.climate is Climate.AUTO:
        climate = f"kept at {temperature(ask.cabin.set_point_k, units)}"
    parked = parked_words(ask.start)
    ready = ", cabin ready on the plug" if ask.start.preconditioned else ""
    surface = ask.weather.surface
    return (
        Row("Car", f"{ask.vehicle.name}{load}{worn}"),
        Row("Cabin", f"{climate}, {people}"),
        Row("Day", f"{surface} road" if surface in ("dry", "wet") else f"{surface} on the road"),
        Row("Trips", f"short ones at {said.speed(found.question.trip.speed_m_s, units)}"),
        Row("Start", f"{per_cent(ask.start.state_of_charge)} charged, {parked}{ready}"),
        Row("Units", "miles, °F" if units is Units.US else "kilometres, °C"),
    )
