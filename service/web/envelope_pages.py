"""The electric side's page: what one car pulls without its engine, its gear, other packs, standing ready.

Scope    parse, three calls, present. The starting question is the first page's, so that a question carried here from
         there is answered as it stands.
"""

from collections.abc import Mapping
from dataclasses import replace
from datetime import date

from service.catalogue import Catalogue
from service.intake.assumed import assumed
from service.intake.quote import QuoteRequest
from service.quotes.answer import Assumption
from service.quotes.envelope import build_envelope
from service.quotes.pack_size import build_pack_sizes
from service.quotes.standby import build_standby
from service.reporting.electric_out import ElectricSideOut, EnvelopeOut, PackSizesOut, StandbyOut
from service.reporting.envelope_view import EnvelopeView, envelope_view, question_rows
from service.reporting.form_layouts import ENVELOPE_CHOICES, ENVELOPE_LAYOUT
from service.reporting.words import Units, distance
from service.specs import Ask
from service.trips.track import track_trace
from service.web.kinds import Kind, Solved
from service.web.pages import choices_of, read_question
from service.web.question_pages import Form, QuestionPage, answered, page_router, question_page, units_of

__all__ = ["KIND", "PATH", "page_of", "router"]

PATH = "/envelope"


def page_of(given: Mapping[str, str], catalogue: Catalogue, today: date) -> QuestionPage[EnvelopeView]:
    """Question in, page out.

    Args:
        given: the query string by name; what it leaves out is the starting question's.
        today: printed on the sheet.
    """
    result = read_question(given, catalogue)
    solved, errors = None, result.errors
    if result.ask and result.request:
        units, round_trip = units_of(result.values), result.values["round_trip"] == "yes"
        solved, errors = answered(lambda: _solved(result.ask, result.request, round_trip, units, catalogue, today))
    form = Form(ENVELOPE_LAYOUT, {**choices_of(catalogue), **ENVELOPE_CHOICES})
    return question_page(PATH, given, given, result.values, errors, solved, form)


def solve(request: QuoteRequest, units: Units, catalogue: Catalogue, today: date) -> Solved[EnvelopeView]:
    """A program's question: the quote's own."""
    return _solved(request.ask(catalogue), request, False, units, catalogue, today, assumed(request))


def _solved(
    ask: Ask,
    request: QuoteRequest,
    round_trip: bool,
    units: Units,
    catalogue: Catalogue,
    today: date,
    defaults: tuple[Assumption, ...] = (),
) -> Solved[EnvelopeView]:
    """All that is asked of the electric side."""
    found = build_envelope(ask, catalogue), build_pack_sizes(ask, catalogue), build_standby(ask, catalogue)
    envelope, packs, standby = (replace(each, assumptions=(*defaults, *each.assumptions)) for each in found)
    rows = question_rows(ask, _journey_words(ask, round_trip, catalogue, units), units)

    def out() -> ElectricSideOut:
        return ElectricSideOut(
            envelope=EnvelopeOut.of(envelope), pack_sizes=PackSizesOut.of(packs), standby=StandbyOut.of(standby)
        )

    return Solved(envelope_view(envelope, packs, standby, rows, units, today), request, out)


KIND = Kind("electric_side", "The electric side", PATH, "envelope_part.html", "electric", page_of, solve)
router = page_router(KIND)


def _journey_words(ask: Ask, round_trip: bool, catalogue: Catalogue, units: Units) -> str:
    """The journey as the question names it."""
    if ask.journey.cycle:
        return f"test cycle, {catalogue.cycles[ask.journey.cycle].name}"
    if ask.journey.track:
        return f"{distance(track_trace(ask.journey.track).distance_m, units)} as recorded"
    way = " there and back" if round_trip else ""
    return f"{distance(sum(leg.distance_m for leg in ask.journey.legs), units)}{way}"
