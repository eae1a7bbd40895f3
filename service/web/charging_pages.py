"""The page of one charging session: its part, and the same answer as JSON or its curve as CSV or .xlsx.

Scope    parse, one call, present. The starting question is an invented small battery-electric car in frost; a question
         carried here from another page keeps its car, day and circuit.
"""

from collections.abc import Mapping
from datetime import date

from fastapi import Request, Response

from service.catalogue import Catalogue
from service.intake.charging_form import charging_from_form
from service.intake.charging_session import ChargingSessionRequest
from service.quotes.charging_ask import SessionAsk
from service.quotes.charging_session import SessionAnswer, build_session
from service.reporting.form_layouts import CHARGING_CHOICES, CHARGING_LAYOUT
from service.reporting.session_out import SessionOut, table_of
from service.reporting.session_view import SessionView, session_view
from service.reporting.words import Units
from service.web.deps import CatalogueDep
from service.web.house import one_vehicle
from service.web.kinds import Kind, Solved
from service.web.pages import choices_of
from service.web.question_pages import Form, QuestionPage, answered, page_router, question_of, question_page, units_of
from service.web.tables import table_sent

__all__ = ["KIND", "PATH", "START", "page_of", "router"]

PATH = "/charging"
START = {"units": "metric", "vehicle": "small-electric-hatch", "circuit": "eu-wall-unit-32a", "temperature": "-5"}
START_US = START | {"units": "us", "circuit": "na-wall-unit-30a", "temperature": "23"}
PLUG_IN_HOUR = 18  # people come home about then; stated on the page


def page_of(given: Mapping[str, str], catalogue: Catalogue, today: date) -> QuestionPage[SessionView]:
    """Question in, page out.

    Args:
        given: the query string by name; what a short link leaves out is the starting question's.
        today: printed on the sheet.
    """
    whole, hour = _whole(given), _hour(given)
    filled = charging_from_form(whole, catalogue)
    solved, errors = None, filled.errors
    if filled.question:
        units = units_of(filled.values)
        solved, errors = answered(lambda: _solved(*filled.question, hour, units, catalogue, today))
    values = filled.values | {"plug_in_hour": str(hour)}
    form = Form(CHARGING_LAYOUT, {**choices_of(catalogue), **CHARGING_CHOICES}, apart=("plug_in_hour",))
    return question_page(PATH, given, whole, values, errors, solved, form)


def solve(request: ChargingSessionRequest, units: Units, catalogue: Catalogue, today: date) -> Solved[SessionView]:
    """A program's question, plugged in at the usual hour."""
    return _solved(request.question(catalogue), request, PLUG_IN_HOUR, units, catalogue, today)


def _solved(
    asked: SessionAsk, request: ChargingSessionRequest, hour: int, units: Units, catalogue: Catalogue, today: date
) -> Solved[SessionView]:
    found = build_session(asked, catalogue)
    return Solved(session_view(found, hour, units, today), request, lambda: SessionOut.from_answer(found))


KIND = Kind("charging_session", "A charging session", PATH, "charging_part.html", "charging", page_of, solve)
router = page_router(KIND)


@router.get("/charging.json")
def send_answer(request: Request, catalogue: CatalogueDep) -> SessionOut:
    """The same answer for a program."""
    return SessionOut.from_answer(_asked(request, catalogue))


@router.get("/charging.csv")
@router.get("/charging.xlsx")
def send_curve(request: Request, catalogue: CatalogueDep) -> Response:
    """The curve as a table."""
    return table_sent(request, table_of(SessionOut.from_answer(_asked(request, catalogue))))


def _asked(request: Request, catalogue: Catalogue) -> SessionAnswer:
    asked, _ = question_of(charging_from_form(_whole(request.query_params), catalogue))
    return build_session(asked, catalogue)


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
