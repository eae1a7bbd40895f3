"""The electric side's page: what one car pulls without its engine, its gear, other packs, standing ready.

Scope    parse, three calls, present. The starting question is the first page's, so that a question carried here from
         there is answered as it stands.
"""

from collections.abc import Mapping
from datetime import date

from service.catalogue import Catalogue
from service.intake.form import FormResult
from service.quotes.envelope import build_envelope
from service.quotes.pack_size import build_pack_sizes
from service.quotes.standby import build_standby
from service.reporting.envelope_view import EnvelopeView, envelope_view, question_rows
from service.reporting.form_layouts import ENVELOPE_CHOICES, ENVELOPE_LAYOUT
from service.reporting.words import Units, distance
from service.specs import Ask
from service.web.pages import choices_of, read_question
from service.web.question_pages import Form, QuestionPage, answered, page_router, question_page, units_of

__all__ = ["PATH", "page_of", "router"]

PATH = "/envelope"


def page_of(given: Mapping[str, str], catalogue: Catalogue, today: date) -> QuestionPage[EnvelopeView]:
    """Question in, page out.

    Args:
        given: the query string by name; what it leaves out is the starting question's.
        today: printed on the sheet.
    """
    result = read_question(given, catalogue)
    answer, errors = None, result.errors
    if result.ask:
        units = units_of(result.values)
        journey = _journey_words(result, result.ask, catalogue, units)
        answer, errors = answered(lambda: _answer(result.ask, journey, catalogue, units, today))
    form = Form(ENVELOPE_LAYOUT, {**choices_of(catalogue), **ENVELOPE_CHOICES})
    return question_page(PATH, given, given, result.values, errors, answer, form)


router = page_router("envelope", page_of)


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
