"""The page of speed and weather: one car in, range against speed and temperature out; its part, and the cells as CSV.

Scope    parse, one call, present. The starting question is an invented small battery-electric car; a question carried
         here from another page is taken as it is, but for its journey and temperature.
"""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import date

from fastapi import APIRouter, Request, Response
from fastapi.responses import HTMLResponse

from service.catalogue import Catalogue
from service.errors import BadInput, BadInputs, ErrorRow, ServiceError
from service.intake.assumed import assumed
from service.intake.form import FIELDS, Filled, default_of, unit_of
from service.intake.speed_form import speed_table_from_form
from service.intake.speed_table import SpeedTableRequest
from service.quotes.speed_table import SpeedAsk, SpeedTable, speed_table
from service.reporting.form_layouts import SPEEDS_LAYOUT, names_in
from service.reporting.form_view import FormView, form_view
from service.reporting.speed_out import SpeedTableOut
from service.reporting.speed_view import SpeedView, speed_view
from service.reporting.words import Units
from service.web.deps import CatalogueDep
from service.web.house import Link, beside_inputs, carried, links_from, one_vehicle, stowed
from service.web.pages import choices_of
from service.web.speeds_api import csv_response
from service.web.work_routes import WorkRoute

__all__ = ["START", "SpeedsPage", "page_of", "router", "warm_up"]

PATH = "/speeds"
START = {"units": "metric", "vehicle": "small-electric-hatch"}
START_US = START | {"units": "us", "trip_speed": "30", "trip_stops": "1", "set_point": "70"}
router = APIRouter(include_in_schema=False, route_class=WorkRoute)


@dataclass(frozen=True, slots=True)
class SpeedsPage:
    """Everything the templates get. `query` leads to the same cells as CSV."""

    answer: SpeedView | None
    form: FormView
    links: tuple[Link, ...]
    query: str
    status: int


@router.get(PATH, response_class=HTMLResponse)
def show_page(request: Request, catalogue: CatalogueDep) -> HTMLResponse:
    """The whole page."""
    return _rendered(request, catalogue, "speeds.html")


@router.get("/speeds-part", response_class=HTMLResponse)
def show_part(request: Request, catalogue: CatalogueDep) -> HTMLResponse:
    """The answer alone, for a page that refreshes in place."""
    return _rendered(request, catalogue, "speeds_part.html")


@router.get("/speeds.csv")
def send_table(request: Request, catalogue: CatalogueDep) -> Response:
    """Every cell and every trip as a table."""
    filled = _filled(_whole(request.query_params), catalogue)
    if filled.question is None:
        raise BadInputs(BadInput(row.field, row.value, row.message, row.remedy) for row in filled.errors.values())
    return csv_response(SpeedTableOut.from_table(_answer(filled.question, catalogue)))


def _rendered(request: Request, catalogue: Catalogue, template: str) -> HTMLResponse:
    page = page_of(request.query_params, catalogue, date.today())
    return HTMLResponse(request.app.state.templates.get_template(template).render(page=page), page.status)


def page_of(given: Mapping[str, str], catalogue: Catalogue, today: date) -> SpeedsPage:
    """Question in, page out.

    Args:
        given: the query string by name; what a short link leaves out is the starting question's.
        today: printed on the sheet.
    """
    whole = _whole(given)
    filled = _filled(whole, catalogue)
    units = Units.US if filled.values["units"] == Units.US else Units.METRIC
    errors: Mapping[str, ErrorRow] = filled.errors
    answer = None
    if filled.question:
        try:
            answer = speed_view(_answer(filled.question, catalogue), units, today)
        except ServiceError as error:
            errors = beside_inputs(error)
    form = form_view(
        filled.values,
        errors,
        {name: unit_of(name, units) for name in FIELDS},
        {name: default_of(name, units) for name in FIELDS},
        choices_of(catalogue),
        {row.name: row.value for row in answer.question} if answer else {},
        SPEEDS_LAYOUT,
    )
    form = replace(form, hidden=form.hidden + stowed(whole, names_in(SPEEDS_LAYOUT)))
    return SpeedsPage(answer, form, links_from(PATH, given), carried(given), 200 if answer else 422)


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


def _filled(whole: Mapping[str, str], catalogue: Catalogue) -> Filled[tuple[SpeedAsk, SpeedTableRequest]]:
    return speed_table_from_form(whole, catalogue)


def _whole(given: Mapping[str, str]) -> dict[str, str]:
    """The form as sent; or, for a link that is not a whole form, what it gives over the starting question."""
    given = {**given, **one_vehicle(given)}
    if given.get("parked") and "soaked" not in given:  # the complaint's page asks in this way
        given["soaked"] = "no" if given["parked"] == "warm" else "yes"
    if "typed_units" in given:  # only forms send it
        return given
    return (START_US if given.get("units") == Units.US else START) | given
