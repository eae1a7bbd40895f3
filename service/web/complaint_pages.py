"""The complaint's page: one drive, one verdict, one form; and the part of it that refreshes in place.

Scope    parse, one call, present. The starting question is an invented winter complaint; a question carried here from
         another page is taken as it is, and asks for the distance that was reported.
"""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import date

from fastapi import APIRouter, Request
from fastapi.responses import HTMLResponse

from service.catalogue import Catalogue
from service.diagnosis.complaint import Complaint
from service.diagnosis.verdict import check_complaint
from service.errors import ErrorRow, ServiceError
from service.intake.assumed import listed
from service.intake.complaint import ComplaintRequest
from service.intake.complaint_form import complaint_from_form
from service.intake.form import FIELDS, default_of, unit_of
from service.reporting.complaint_out import ComplaintOut
from service.reporting.complaint_view import ComplaintView, complaint_view
from service.reporting.form_layouts import COMPLAINT_CHOICES, COMPLAINT_LAYOUT, names_in
from service.reporting.form_view import Choices, FormView, form_view
from service.reporting.words import Units, distance
from service.trips.track import track_trace
from service.web.deps import CatalogueDep
from service.web.form_files import NOTHING_READ, Reading
from service.web.house import Link, as_asked, beside_inputs, links_from, one_vehicle, stowed
from service.web.keep_form import keep_form
from service.web.kinds import Kind, Solved
from service.web.pages import choices_of
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

__all__ = ["KIND", "START", "ComplaintPage", "page_of", "router"]

PATH = "/complaint"
START = {  # invented
    "units": "metric",
    "words": "It used to do more than forty. Nothing else has changed.",
    "reported": "31",
    "end_charge": "0",
    "vehicle": "compact-plug-in",
    "payload": "0",
    "journey": "legs",
    "round_trip": "yes",
    "leg1_distance": "3",
    "leg1_speed": "40",
    "leg1_stops": "1.5",
    "leg2_distance": "10",
    "leg2_speed": "80",
    "leg2_stops": "0.1",
    "temperature": "-5",
    "surface": "dry",
    "climate": "auto",
    "set_point": "21",
    "charge": "100",
    "parked": "outside",
    "preconditioned": "no",
    "tyre_pressure": "215",
    "placard_pressure": "240",
    "odometer": "62000",
}
START_US = START | {
    "units": "us",
    "words": "It used to do more than twenty-five. Nothing else has changed.",
    "reported": "19",
    "leg1_distance": "2",
    "leg1_speed": "25",
    "leg1_stops": "2.5",
    "leg2_distance": "6",
    "leg2_speed": "50",
    "leg2_stops": "0.2",
    "temperature": "23",
    "set_point": "70",
    "tyre_pressure": "31",
    "placard_pressure": "35",
    "odometer": "39000",
}
ASKED = "reported"
router = APIRouter(include_in_schema=False, route_class=WorkRoute)


@dataclass(frozen=True, slots=True)
class ComplaintPage:
    """Everything the templates get. `asking`: nobody has said yet how far it went."""

    answer: ComplaintView | None
    form: FormView
    links: tuple[Link, ...]
    asking: bool
    status: int
    solved: Solved[ComplaintView] | None
    asked: str
    held: tuple[tuple[str, str], ...] = ()
    recorded: bool = False  # the page holds the recording that it drives
    read: tuple[str, ...] = ()  # what became of the file that came with the form


@router.get(PATH, response_class=HTMLResponse)
def show_page(request: Request, catalogue: CatalogueDep) -> HTMLResponse:
    """The whole page."""
    return _rendered(request, page_of(request.query_params, catalogue, date.today()), "complaint.html")


@router.post(PATH, response_class=HTMLResponse)
async def answer_recording(request: Request, catalogue: CatalogueDep) -> HTMLResponse:
    """The whole page for a form with a recorded drive."""
    given, reading = await posted_with_recording(request)
    page = await at_work(page_of, given, catalogue, date.today(), reading)
    return _rendered(request, page, "complaint.html")


@router.get("/complaint-part", response_class=HTMLResponse)
def show_part(request: Request, catalogue: CatalogueDep) -> HTMLResponse:
    """The answer alone, for a page that refreshes in place."""
    return _rendered(request, page_of(request.query_params, catalogue, date.today()), KIND.part)


def _rendered(request: Request, page: ComplaintPage, template: str) -> HTMLResponse:
    keep = keep_form(request, KIND, page)
    return HTMLResponse(request.app.state.templates.get_template(template).render(page=page, keep=keep), page.status)


def page_of(
    given: Mapping[str, str], catalogue: Catalogue, today: date, reading: Reading = NOTHING_READ
) -> ComplaintPage:
    """Complaint in, page out.

    Args:
        given: the query string by name; what a short link leaves out is the starting question's.
        today: printed on the sheet.
        reading: what became of the file that came with the form.
    """
    whole = _whole(given)
    filled = complaint_from_form(whole, catalogue)
    units = Units.US if filled.values["units"] == Units.US else Units.METRIC
    asking = ASKED not in whole and set(filled.errors) == {ASKED} and not reading.errors
    errors: Mapping[str, ErrorRow] = {} if asking else beside(filled.errors, reading)
    solved = None
    if filled.question and not reading.errors:
        try:
            solved = _solved(*filled.question, filled.values["round_trip"] == "yes", units, catalogue, today)
        except ServiceError as error:
            errors = beside_inputs(error)
    answer = solved.view if solved else None
    form = form_view(
        filled.values | {ZONE: whole.get(ZONE, "")},
        errors,
        {name: unit_of(name, units) for name in FIELDS},
        {name: default_of(name, units) for name in FIELDS},
        with_recording(_choices(catalogue)),
        {row.name: row.value for row in answer.question} if answer else _taken_over(filled.values, catalogue, units),
        COMPLAINT_LAYOUT,
        {FILE: reading.lines if reading.errors else ()},
    )
    if asking:
        form = replace(form, groups=tuple(replace(each, open=each.id == "complaint") for each in form.groups))
    form = replace(form, hidden=form.hidden + stowed(whole, names_in(COMPLAINT_LAYOUT)) + held(whole))
    status = 200 if answer or asking else 422
    recorded, links = is_recorded(whole), links_from(PATH, given)
    driven = held(whole) if recorded else ()
    asked = as_asked(given)
    return ComplaintPage(answer, form, links, asking, status, solved, asked, driven, recorded, reading.read)


def solve(request: ComplaintRequest, units: Units, catalogue: Catalogue, today: date) -> Solved[ComplaintView]:
    """A program's question."""
    return _solved(request.complaint_of(catalogue), request, False, units, catalogue, today)


def _solved(
    complaint: Complaint, request: ComplaintRequest, round_trip: bool, units: Units, catalogue: Catalogue, today: date
) -> Solved[ComplaintView]:
    found = listed(check_complaint(complaint, catalogue), request.question())
    view = complaint_view(found, _journey_words(complaint, round_trip, catalogue, units), units, today)
    return Solved(view, request, lambda: ComplaintOut.from_answer(found))


KIND = Kind("complaint", "A complaint checked", PATH, "complaint_part.html", "finding", page_of, solve)


def _whole(given: Mapping[str, str]) -> Mapping[str, str]:
    """The form as sent; or, for a link that is not a whole form, what it gives over the starting question."""
    given = {**given, **one_vehicle(given)}
    if "typed_units" in given:  # only forms send it
        return given
    start = START_US if given.get("units") == Units.US else START
    if "soaked" in given and "parked" not in given:
        given["parked"] = "warm" if given["soaked"] == "no" else "outside"
    return start | given


def _taken_over(values: Mapping[str, str], catalogue: Catalogue, units: Units) -> dict[str, str]:
    """What a question without an answer holds already, by group of the form."""
    car = catalogue.vehicles.get(values["vehicle"])
    day = values["temperature"]
    return {
        "Car": car.name if car else values["own_name"],
        "Day": f"{day} {unit_of('temperature', units)}" if day else "",
    }


def _journey_words(complaint: Complaint, round_trip: bool, catalogue: Catalogue, units: Units) -> str:
    """The journey as the question names it."""
    journey = complaint.ask.journey
    if "journey" in complaint.left_open:
        return "not known: a mixed drive is taken"
    if journey.cycle:
        return f"test cycle, {catalogue.cycles[journey.cycle].name}"
    if journey.track:
        return f"{distance(track_trace(journey.track).distance_m, units)} as recorded"
    way = " there and back" if round_trip else ""
    return f"{distance(sum(leg.distance_m for leg in journey.legs), units)}{way}"


def _choices(catalogue: Catalogue) -> Choices:
    """What may be chosen: the first page's lists, where "not known" is a choice, too."""
    lists = choices_of(catalogue)
    return {
        **lists,
        **COMPLAINT_CHOICES,
        "journey": (*lists["journey"], ("unknown", "not known")),
        "surface": (("", "not known"), *lists["surface"]),
    }
