"""The page of one charging session: its part, and the same answer as JSON or its curve as CSV.

Scope    parse, one call, present. The starting question is an invented small battery-electric car in frost; a question
         carried here from another page keeps its car, day and circuit.
"""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import date

from fastapi import APIRouter, Request, Response
from fastapi.responses import HTMLResponse

from service.catalogue import Catalogue
from service.errors import BadInput, BadInputs, ErrorRow, ServiceError
from service.intake.charging_form import charging_from_form
from service.intake.charging_session import ChargingSessionRequest
from service.intake.form import FIELDS, Filled, default_of, unit_of
from service.quotes.charging_session import SessionAnswer, SessionAsk, build_session
from service.reporting.form_layouts import CHARGING_CHOICES, CHARGING_LAYOUT, names_in
from service.reporting.form_view import FormView, form_view
from service.reporting.session_out import SessionOut
from service.reporting.session_view import SessionView, session_view
from service.reporting.words import Units
from service.web.deps import CatalogueDep
from service.web.house import Link, beside_inputs, links_from, one_vehicle, stowed
from service.web.pages import choices_of
from service.web.sessions_api import curve_response
from service.web.work_routes import WorkRoute

__all__ = ["PATH", "START", "ChargingPage", "page_of", "router"]

PATH = "/charging"
START = {"units": "metric", "vehicle": "small-electric-hatch", "circuit": "eu-wall-unit-32a", "temperature": "-5"}
START_US = START | {"units": "us", "circuit": "na-wall-unit-30a", "temperature": "23"}
PLUG_IN_HOUR = 18  # people come home about then; stated on the page
router = APIRouter(include_in_schema=False, route_class=WorkRoute)


@dataclass(frozen=True, slots=True)
class ChargingPage:
    """Everything the templates get."""

    answer: SessionView | None
    form: FormView
    links: tuple[Link, ...]
    status: int


@router.get(PATH, response_class=HTMLResponse)
def show_page(request: Request, catalogue: CatalogueDep) -> HTMLResponse:
    """The whole page."""
    return _rendered(request, catalogue, "charging.html")


@router.get("/charging-part", response_class=HTMLResponse)
def show_part(request: Request, catalogue: CatalogueDep) -> HTMLResponse:
    """The answer alone, for a page that refreshes in place."""
    return _rendered(request, catalogue, "charging_part.html")


@router.get("/charging.json")
def send_answer(request: Request, catalogue: CatalogueDep) -> SessionOut:
    """The same answer for a program."""
    return SessionOut.from_answer(_asked(request, catalogue))


@router.get("/charging.csv")
def send_curve(request: Request, catalogue: CatalogueDep) -> Response:
    """The curve as a table."""
    return curve_response(SessionOut.from_answer(_asked(request, catalogue)))


def _asked(request: Request, catalogue: Catalogue) -> SessionAnswer:
    filled = _filled(_whole(request.query_params), catalogue)
    if filled.question is None:
        raise BadInputs(BadInput(row.field, row.value, row.message, row.remedy) for row in filled.errors.values())
    return build_session(filled.question[0], catalogue)


def _rendered(request: Request, catalogue: Catalogue, template: str) -> HTMLResponse:
    page = page_of(request.query_params, catalogue, date.today())
    return HTMLResponse(request.app.state.templates.get_template(template).render(page=page), page.status)


def page_of(given: Mapping[str, str], catalogue: Catalogue, today: date) -> ChargingPage:
    """Question in, page out.

    Args:
        given: the query string by name; what a short link leaves out is the starting question's.
        today: printed on the sheet.
    """
    whole = _whole(given)
    filled, hour = _filled(whole, catalogue), _hour(given)
    units = Units.US if filled.values["units"] == Units.US else Units.METRIC
    errors: Mapping[str, ErrorRow] = filled.errors
    answer = None
    if filled.question:
        try:
            answer = session_view(build_session(filled.question[0], catalogue), hour, units, today)
        except ServiceError as error:
            errors = beside_inputs(error)
    form = form_view(
        filled.values | {"plug_in_hour": str(hour)},
        errors,
        {name: unit_of(name, units) for name in FIELDS},
        {name: default_of(name, units) for name in FIELDS},
        {**choices_of(catalogue), **CHARGING_CHOICES},
        {row.name: row.value for row in answer.question} if answer else {},
        CHARGING_LAYOUT,
    )
    form = replace(form, hidden=form.hidden + stowed(whole, {*names_in(CHARGING_LAYOUT), "plug_in_hour"}))
    return ChargingPage(answer, form, links_from(PATH, given), 200 if answer else 422)


def _filled(whole: Mapping[str, str], catalogue: Catalogue) -> Filled[tuple[SessionAsk, ChargingSessionRequest]]:
    return charging_from_form(whole, catalogue)


def _whole(given: Mapping[str, str]) -> dict[str, str]:
    """The form as sent; or, for a link that is not a whole form, what it gives over the starting question."""
    given = {**given, **one_vehicle(given)}
    start = START_US if given.get("units") == Units.US else START
    if "typed_units" not in given:  # only forms send it
        return start | given
    home = START_US if given["typed_units"] == Units.US else START
    if not given.get("circuit") or (given["circuit"] == home["circuit"] and home is not start):
        given["circuit"] = start["circuit"]  # with a switch of units the untouched circuit becomes the other readers'
    return given


def _hour(given: Mapping[str, str]) -> int:
    text = given.get("plug_in_hour", "")
    return int(text) if text.isdecimal() and int(text) < 24 else PLUG_IN_HOUR
