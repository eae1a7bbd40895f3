"""The form of routes compared, as read: its table first, then the inputs beside it.

Scope    what a link leaves out is the starting question's: the invented routes of data/demo_routes.csv; a journey, a
         vehicle and a day carried here from another page take their place.
"""

from collections.abc import Mapping
from dataclasses import dataclass

from service.catalogue import Catalogue
from service.errors import BadInputs, ErrorRow
from service.fleet.ask import ComparisonAsk
from service.intake.comparison import ComparisonRequest, RouteIn
from service.intake.comparison_form import comparison_from_form
from service.intake.routes_csv import RoutesRead, demo_routes, read_routes
from service.intake.routes_table import routes_table
from service.reporting.words import Units, bound
from service.units import kelvin_from_celsius
from service.web.pages import read_question

__all__ = ["CARRIED_ROUTE", "ROWS_TOLD", "START", "Asked", "asked_by", "rows_told"]

START = {  # invented: a depot in the north, a van and a car that is a little too small
    "units": "metric",
    "vehicles": "electric-delivery-van,family-suv-plug-in",
    "months_by": "place",
    "place": "helsinki",
    "reserve": "20",
    "circuit": "eu-three-phase-16a",
}
START_US = START | {"units": "us", "place": "minneapolis", "reserve": "12", "circuit": "na-wall-unit-30a"}
CARRIED_ROUTE = "Journey carried over"
COLD_BELOW_K, HOT_FROM_K = kelvin_from_celsius(5), kelvin_from_celsius(25)  # which of three days a carried one is
ROWS_TOLD = 40  # faults listed beside the table; more would bury it


@dataclass(frozen=True, slots=True)
class Asked:
    """The form as read."""

    question: tuple[ComparisonAsk, ComparisonRequest] | None
    values: Mapping[str, str]
    errors: Mapping[str, ErrorRow]
    bad_rows: tuple[str, ...]


def asked_by(given: Mapping[str, str], catalogue: Catalogue) -> Asked:
    """Read the table, then the form; the good routes are asked about though others are bad."""
    if not {"table", "typed_units"} <= given.keys():  # only the form sends both
        given = _started(given, catalogue)
    read, errors = _routes(given["table"], catalogue)
    routes = read.routes or demo_routes(catalogue)[:1]  # a stand-in, so that the rest of the form is checked, too
    filled = comparison_from_form(given, routes, catalogue)
    question = filled.question if read.routes else None
    values = {**filled.values, "table": given["table"]}
    unused = (bound(f"Not needed: {', '.join(read.passed_over)[:400]}."),) if read.passed_over else ()
    return Asked(question or None, values, {**filled.errors, **errors}, (*rows_told(read.errors), *unused))


def _routes(text: str, catalogue: Catalogue) -> tuple[RoutesRead, dict[str, ErrorRow]]:
    """The routes of a table, and one line for the summary of faults."""
    try:
        read = read_routes(text.encode("utf-8"), catalogue)
    except BadInputs as error:
        read = RoutesRead((), tuple(error.rows()), ())
    if not read.errors:
        return read, {}
    count = len(read.errors)
    message = "one entry cannot be used" if count == 1 else f"{count} entries cannot be used"
    if read.left_out:
        message += f", so {', '.join(read.left_out)[:200]} {'is' if len(read.left_out) == 1 else 'are'} left out"
    return read, {"table": ErrorRow("table", "", message, "see the list below the table")}


def rows_told(errors: tuple[ErrorRow, ...]) -> tuple[str, ...]:
    """Each fault as a line."""
    told = [bound(f"{row.field}: {row.message}; {row.remedy}.") for row in errors[:ROWS_TOLD]]
    if len(errors) > ROWS_TOLD:
        told.append(f"And {len(errors) - ROWS_TOLD} more.")
    return tuple(told)


def _started(given: Mapping[str, str], catalogue: Catalogue) -> dict[str, str]:
    """The starting question under what a link says; a journey, a vehicle and a day from another page take its place."""
    units = Units.US if given.get("units") == Units.US else Units.METRIC
    whole = {**(START_US if units is Units.US else START), **given}
    routes = demo_routes(catalogue)
    if given.get("vehicle") and not given.get("vehicles"):
        whole["vehicles"] = given["vehicle"]
    if given.get("journey") or given.get("leg1_distance"):
        result = read_question(given, catalogue)
        if result.request:
            journey, load_kg = result.request.journey, result.request.payload_kg
            routes = (RouteIn(name=CARRIED_ROUTE, journey=journey, payload_kg=load_kg),)
    if given.get("temperature") and "months_by" not in given:
        whole["months_by"] = "temperatures"
        whole[_slot(given, catalogue)] = given["temperature"]
    return whole | {"table": given.get("table") or routes_table(routes, units)}


def _slot(given: Mapping[str, str], catalogue: Catalogue) -> str:
    """Which of the three days a carried one is."""
    ask = read_question(given, catalogue).ask
    if ask is None:
        return "mild"
    kelvin = ask.weather.ambient_k
    return "cold" if kelvin < COLD_BELOW_K else "hot" if kelvin >= HOT_FROM_K else "mild"
