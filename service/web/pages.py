"""The page: one question, one answer, one form; as HTML, as the part that refreshes in place, and as JSON.

Scope    parse, one call, present. The starting question is a winter commute in a plug-in hybrid; whatever a link leaves
         out is taken from it, so that short links work.
"""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import date

from fastapi import APIRouter, Request
from fastapi.responses import HTMLResponse

from service.catalogue import Catalogue
from service.errors import BadInput, BadInputs, ErrorRow, ServiceError
from service.intake.form import FIELDS, OWN, FormResult, ask_from_form, default_of, unit_of
from service.quotes.build import build_quote
from service.reporting.answers import QuoteOut
from service.reporting.form_layout import LAYOUT
from service.reporting.form_layouts import names_in
from service.reporting.form_view import Choices, FormView, form_view
from service.reporting.views import AnswerView
from service.reporting.words import Units
from service.web.deps import CatalogueDep
from service.web.form_files import NOTHING_READ, Reading
from service.web.house import Link, as_asked, beside_inputs, links_from, one_vehicle, stowed
from service.web.keep_form import keep_form
from service.web.kinds import Kind, Solved
from service.web.quote_answers import PLUG_IN_HOUR, form_solved, solve
from service.web.recordings import (
    FILE,
    ZONE,
    beside,
    held,
    is_recorded,
    posted_with_recording,
    with_recording,
)
from service.web.work_routes import WorkRoute, at_work

__all__ = ["KIND", "Page", "choices_of", "page_of", "read_question", "router"]

HOURS = tuple(str(hour) for hour in range(24))
START = {  # invented commute: town, open road, town
    "units": "metric",
    "vehicle": "compact-plug-in",
    "journey": "legs",
    "round_trip": "yes",
    "leg1_distance": "3",
    "leg1_speed": "40",
    "leg1_stops": "1.5",
    "leg2_distance": "10",
    "leg2_speed": "80",
    "leg2_stops": "0.1",
    "temperature": "-5",
    "circuit": "eu-household-10a",
}
START_US = START | {  # the same in the other units, rounded to what one would type
    "units": "us",
    "leg1_distance": "2",
    "leg1_speed": "25",
    "leg1_stops": "2.5",
    "leg2_distance": "6",
    "leg2_speed": "50",
    "leg2_stops": "0.2",
    "temperature": "23",
    "circuit": "na-household-15a",
}
router = APIRouter(include_in_schema=False, route_class=WorkRoute)


@dataclass(frozen=True, slots=True)
class Page:
    """Everything the templates get."""

    answer: AnswerView | None
    form: FormView
    query: str
    status: int
    links: tuple[Link, ...]
    solved: Solved[AnswerView] | None
    asked: str
    held: tuple[tuple[str, str], ...] = ()
    recorded: bool = False  # the page holds the recording that it drives
    read: tuple[str, ...] = ()  # what became of the file that came with the form


@router.get("/", response_class=HTMLResponse)
def show_page(request: Request, catalogue: CatalogueDep) -> HTMLResponse:
    """The whole page."""
    return _rendered(request, catalogue, "page.html")


@router.post("/", response_class=HTMLResponse)
async def answer_recording(request: Request, catalogue: CatalogueDep) -> HTMLResponse:
    """The whole page for a form with a recorded drive."""
    given, reading = await posted_with_recording(request)
    page = await at_work(page_of, given, catalogue, date.today(), "", reading)
    keep = keep_form(request, KIND, page)
    html = request.app.state.templates.get_template("page.html").render(page=page, keep=keep)
    return HTMLResponse(html, page.status)


@router.get("/quote-part", response_class=HTMLResponse)
def show_part(request: Request, catalogue: CatalogueDep) -> HTMLResponse:
    """The answer alone, for a page that refreshes in place."""
    return _rendered(request, catalogue, "part.html")


@router.get("/quote.json")
def show_json(request: Request, catalogue: CatalogueDep) -> QuoteOut:
    """The same answer for a program: what the JSON interface would say to the question in the form."""
    result = read_question(request.query_params, catalogue)
    if result.ask is None:
        raise BadInputs(BadInput(row.field, row.value, row.message, row.remedy) for row in result.errors.values())
    return QuoteOut.from_quote(build_quote(result.ask, catalogue), _units(result))


def _rendered(request: Request, catalogue: Catalogue, template: str) -> HTMLResponse:
    page = page_of(request.query_params, catalogue, date.today(), request.url.query)
    keep = keep_form(request, KIND, page)
    return HTMLResponse(request.app.state.templates.get_template(template).render(page=page, keep=keep), page.status)


def page_of(
    given: Mapping[str, str], catalogue: Catalogue, today: date, query: str = "", reading: Reading = NOTHING_READ
) -> Page:
    """Question in, page out.

    Args:
        given: the query string by name; what it leaves out is the starting question's.
        today: printed on the sheet.
        query: the query string itself, for the link to the same answer as JSON.
        reading: what became of the file that came with the form.
    """
    result, hour = read_question(given, catalogue), _hour(given)
    units = _units(result)
    errors: Mapping[str, ErrorRow] = beside(result.errors, reading)
    solved = None
    if result.ask and not reading.errors:
        try:
            solved = form_solved(result, hour, catalogue, today)
        except ServiceError as error:
            errors = beside_inputs(error)
    answer = solved.view if solved else None
    form = form_view(
        result.values | {"plug_in_hour": str(hour), ZONE: given.get(ZONE, "")},
        errors,
        {name: unit_of(name, units) for name in FIELDS},
        {name: default_of(name, units) for name in FIELDS},
        with_recording(choices_of(catalogue)),
        _unsaid(result) | {row.name: row.value for row in answer.question} if answer else {},
        rows={FILE: reading.lines if reading.errors else ()},
    )
    form = replace(form, hidden=form.hidden + stowed(given, {*names_in(LAYOUT), "plug_in_hour"}) + held(given))
    recorded, links = is_recorded(given), links_from("/", given)
    driven = held(given) if recorded else ()
    status = 200 if answer else 422
    return Page(answer, form, query, status, links, solved, as_asked(given), driven, recorded, reading.read)


KIND = Kind("quote", "One car", "/", "part.html", "", page_of, solve)


def _unsaid(result: FormResult) -> dict[str, str]:
    """What the folded form says of groups that a question may leave alone."""
    engine = "electric-priority mode" if result.ask.vehicle.kind.has_engine else "none"
    return {"Engine": engine, "Prices": "not stated"}


def _units(result: FormResult) -> Units:
    return Units.US if result.values["units"] == Units.US else Units.METRIC


def read_question(given: Mapping[str, str], catalogue: Catalogue) -> FormResult:
    """The form as sent; or, for a link that is not a whole form, what it gives over the starting question."""
    if "typed_units" in given:  # only the form sends it
        return ask_from_form(_as_here(_at_home(given)), catalogue)
    start = START_US if given.get("units") == Units.US else START
    return ask_from_form(start | _as_here(given), catalogue)


def _as_here(given: Mapping[str, str]) -> dict[str, str]:
    """What the other pages ask in another way, or leave open, as this page asks it."""
    asked = dict(given)
    if "parked" in asked and "soaked" not in asked:
        asked["soaked"] = "no" if asked["parked"] == "warm" else "yes"
    if asked.get("journey") == "unknown":
        del asked["journey"]
    return asked | one_vehicle(asked)


def _at_home(given: Mapping[str, str]) -> Mapping[str, str]:
    """With a switch of units, an untouched starting outlet becomes the one of the other readers."""
    starts = {Units.METRIC: START, Units.US: START_US}
    old, new = starts.get(given.get("typed_units")), starts.get(given.get("units"))
    if old and new and given.get("circuit") == old["circuit"]:
        return {**given, "circuit": new["circuit"]}
    return given


def _hour(given: Mapping[str, str]) -> int:
    """When people plug in, on the clock ruler."""
    text = given.get("plug_in_hour", "")
    return int(text) if text in HOURS else PLUG_IN_HOUR


def choices_of(catalogue: Catalogue) -> Choices:
    """What may be chosen, from the tables."""
    return {
        "vehicle": (*((one.id, one.name) for one in catalogue.vehicles.values()), (OWN, "another car, from its label")),
        "journey": (
            ("legs", "stretches of road, as below"),
            *((one.id, f"test cycle: {one.name}") for one in catalogue.cycles.values()),
        ),
        "surface": tuple((one.id, one.name) for one in catalogue.surfaces.values()),
        "tyre_class": (("", "as the car came"), *((one.id, one.name) for one in catalogue.tyre_classes.values())),
        "circuit": (
            *((one.id, one.name) for one in catalogue.circuits.values()),
            (OWN, "another circuit, by its figures"),
        ),
    }
