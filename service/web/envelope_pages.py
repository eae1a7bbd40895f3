"""The electric side's page: what one car pulls without its engine, its gear, other packs, standing ready.

Scope    parse, three calls, present. The starting question is the first page's, so that a question carried here from
         there is answered as it stands.
"""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import date

from fastapi import APIRouter, Request
from fastapi.responses import HTMLResponse

from service.catalogue import Catalogue
from service.errors import ErrorRow, ServiceError
from service.intake.form import FIELDS, FormResult, default_of, unit_of
from service.quotes.envelope import build_envelope
from service.quotes.pack_size import build_pack_sizes
from service.quotes.standby import build_standby
from service.reporting.envelope_view import EnvelopeView, envelope_view, question_rows
from service.reporting.form_layouts import ENVELOPE_CHOICES, ENVELOPE_LAYOUT, names_in
from service.reporting.form_view import FormView, form_view
from service.reporting.words import Units, distance
from service.specs import Ask
from service.web.deps import CatalogueDep
from service.web.house import Link, beside_inputs, links_from, stowed
from service.web.pages import choices_of, read_question
from service.web.work_routes import WorkRoute

__all__ = ["PATH", "EnvelopePage", "page_of", "router"]

PATH = "/envelope"
router = APIRouter(include_in_schema=False, route_class=WorkRoute)


@dataclass(frozen=True, slots=True)
class EnvelopePage:
    """Everything the templates get."""

    answer: EnvelopeView | None
    form: FormView
    links: tuple[Link, ...]
    status: int


@router.get(PATH, response_class=HTMLResponse)
def show_page(request: Request, catalogue: CatalogueDep) -> HTMLResponse:
    """The whole page."""
    return _rendered(request, catalogue, "envelope.html")


@router.get("/envelope-part", response_class=HTMLResponse)
def show_part(request: Request, catalogue: CatalogueDep) -> HTMLResponse:
    """The answer alone, for a page that refreshes in place."""
    return _rendered(request, catalogue, "envelope_part.html")


def _rendered(request: Request, catalogue: Catalogue, template: str) -> HTMLResponse:
    page = page_of(request.query_params, catalogue, date.today())
    return HTMLResponse(request.app.state.templates.get_template(template).render(page=page), page.status)


def page_of(given: Mapping[str, str], catalogue: Catalogue, today: date) -> EnvelopePage:
    """Question in, page out.

    Args:
        given: the query string by name; what it leaves out is the starting question's.
        today: printed on the sheet.
    """
    result = read_question(given, catalogue)
    units = Units.US if result.values["units"] == Units.US else Units.METRIC
    errors: Mapping[str, ErrorRow] = result.errors
    answer = None
    if result.ask:
        try:
            answer = _answer(result.ask, _journey_words(result, result.ask, catalogue, units), catalogue, units, today)
        except ServiceError as error:
            errors = beside_inputs(error)
    form = form_view(
        result.values,
        errors,
        {name: unit_of(name, units) for name in FIELDS},
        {name: default_of(name, units) for name in FIELDS},
        {**choices_of(catalogue), **ENVELOPE_CHOICES},
        {row.name: row.value for row in answer.question} if answer else {},
        ENVELOPE_LAYOUT,
    )
    form = replace(form, hidden=form.hidden + stowed(given, names_in(ENVELOPE_LAYOUT)))
    return EnvelopePage(answer, form, links_from(PATH, given), 200 if answer else 422)


def _answer(ask: Ask, journey: str, catalogue: Catalogue, units: Units, today: date) -> EnvelopeView:
    """All that is asked of the electric side."""
    return envelope_view(
        build_envelope(ask, catalogue),
        build_pack_sizes(ask, catalogue),
        build_standby(ask, catalogue),
        question_rows(ask, journey, units),
        units,
        today,
    )


def _journey_words(result: FormResult, ask: Ask, catalogue: Catalogue, units: Units) -> str:
    """The journey as the question names it."""
    if ask.journey.cycle:
        return f"test cycle, {catalogue.cycles[ask.journey.cycle].name}"
    way = " there and back" if result.values["round_trip"] == "yes" else ""
    return f"{distance(sum(leg.distance_m for leg in ask.journey.legs), units)}{way}"
