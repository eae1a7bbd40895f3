"""The page of speed and weather: one car in, range against speed and temperature out; its part, and the cells as CSV.

Scope    parse, one call, present. The starting question is an invented small battery-electric car; a question carried
         here from another page is taken as it is, but for its journey and temperature.
"""

from collections.abc import Mapping
from dataclasses import replace
from datetime import date

from fastapi import Request, Response

from service.catalogue import Catalogue
from service.intake.assumed import assumed
from service.intake.speed_form import speed_table_from_form
from service.intake.speed_table import SpeedTableRequest
from service.quotes.speed_table import SpeedAsk, SpeedTable, speed_table
from service.reporting.form_layouts import SPEEDS_LAYOUT
from service.reporting.speed_out import SpeedTableOut, table_of
from service.reporting.speed_view import SpeedView, speed_view
from service.reporting.words import Units
from service.web.deps import CatalogueDep
from service.web.house import one_vehicle
from service.web.kinds import Kind, Solved
from service.web.pages import choices_of
from service.web.question_pages import Form, QuestionPage, answered, page_router, question_of, question_page, units_of
from service.web.tables import table_sent

__all__ = ["KIND", "START", "page_of", "router", "warm_up"]

PATH = "/speeds"
START = {"units": "metric", "vehicle": "small-electric-hatch"}
START_US = START | {"units": "us", "trip_speed": "30", "trip_stops": "1", "set_point": "70"}


def page_of(given: Mapping[str, str], catalogue: Catalogue, today: date) -> QuestionPage[SpeedView]:
    """Question in, page out.

    Args:
        given: the query string by name; what a short link leaves out is the starting question's.
        today: printed on the sheet.
    """
    whole = _whole(given)
    filled = speed_table_from_form(whole, catalogue)
    solved, errors = None, filled.errors
    if filled.question:
        units = units_of(filled.values)
        solved, errors = answered(lambda: _solved(filled.question, units, catalogue, today))
    form = Form(SPEEDS_LAYOUT, choices_of(catalogue))
    return question_page(PATH, given, whole, filled.values, errors, solved, form)


def solve(request: SpeedTableRequest, units: Units, catalogue: Catalogue, today: date) -> Solved[SpeedView]:
    """A program's question."""
    return _solved((request.question(catalogue), request), units, catalogue, today)


def _solved(
    question: tuple[SpeedAsk, SpeedTableRequest], units: Units, catalogue: Catalogue, today: date
) -> Solved[SpeedView]:
    found = _answer(question, catalogue)
    return Solved(speed_view(found, units, today), question[1], lambda: SpeedTableOut.from_table(found))


KIND = Kind("speed_table", "Speed and weather", PATH, "speeds_part.html", "speeds", page_of, solve)
router = page_router(KIND)


@router.get("/speeds.csv")
@router.get("/speeds.xlsx")
def send_table(request: Request, catalogue: CatalogueDep) -> Response:
    """Every cell and every trip as a table."""
    question = question_of(speed_table_from_form(_whole(request.query_params), catalogue))
    return table_sent(request, table_of(SpeedTableOut.from_table(_answer(question, catalogue))))


def warm_up(catalogue: Catalogue) -> None:
    """One cell and one trip, so that nothing is compiled while somebody waits."""
    car = next(iter(catalogue.vehicles))
    grid = {"speeds_km_h": [50], "temperatures_c": [0], "trip": {"distances_km": [5]}}
    request = SpeedTableRequest.model_validate({"vehicle": {"id": car}, **grid})
    _answer((request.question(catalogue), request), catalogue)


def _answer(question: tuple[SpeedAsk, SpeedTableRequest], catalogue: Catalogue) -> SpeedTable:
    """The table, with the request's own defaults among its assumptions."""
    asked, request = question
    found = speed_table(asked, catalogue)
    defaults = [one for one in assumed(request.quote()) if one.name != "outside temperature"]
    return replace(found, assumptions=(*defaults, *found.assumptions))


def _whole(given: Mapping[str, str]) -> dict[str, str]:
    """The form as sent; or, for a link that is not a whole form, what it gives over the starting question."""
    given = {**given, **one_vehicle(given)}
    if given.get("parked") and "soaked" not in given:  # the complaint's page asks in this way
        given["soaked"] = "no" if given["parked"] == "warm" else "yes"
    if "typed_units" in given:  # only forms send it
        return given
    return (START_US if given.get("units") == Units.US else START) | given
