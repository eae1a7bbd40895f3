"""A quote answered for its page and for programs: the same car, and its opposite day for comparison."""

from dataclasses import replace
from datetime import date

from service.catalogue import Catalogue
from service.intake.assumed import listed
from service.intake.form import BY_TRACK, FormResult
from service.intake.quote import QuoteRequest
from service.quotes.answer import Quote
from service.quotes.build import build_quote
from service.reporting.answers import MODEL_VERSION, QuoteOut
from service.reporting.views import AnswerView, Setting, answer_view
from service.reporting.words import Units
from service.specs import Ask
from service.units import kelvin_from_celsius
from service.web.kinds import Solved

__all__ = ["PLUG_IN_HOUR", "form_solved", "solve"]

MILD_K, COLD_K = kelvin_from_celsius(20), kelvin_from_celsius(-10)  # what a day is compared with
MILD_FROM_K, MILD_TO_K = kelvin_from_celsius(13), kelvin_from_celsius(26)
PLUG_IN_HOUR = 18  # people come home about then; stated on the page


def form_solved(result: FormResult, hour: int, catalogue: Catalogue, today: date) -> Solved[AnswerView]:
    """A form that is a question, answered; raises ServiceError."""
    units = Units.US if result.values["units"] == Units.US else Units.METRIC
    round_trip = result.values["journey"] == "legs" and result.values["round_trip"] == "yes"
    journey = _journey_name(result.values["journey"], round_trip, catalogue)
    setting = Setting(units, journey, round_trip, hour, today, MODEL_VERSION)
    return _solved(build_quote(result.ask, catalogue), result.request, setting, catalogue)


def solve(request: QuoteRequest, units: Units, catalogue: Catalogue, today: date) -> Solved[AnswerView]:
    """A program's question."""
    quote = listed(build_quote(request.ask(catalogue), catalogue), request)
    journey = _journey_name(BY_TRACK if request.journey.track else request.journey.cycle or "", False, catalogue)
    return _solved(quote, request, Setting(units, journey, False, PLUG_IN_HOUR, today, MODEL_VERSION), catalogue)


def _solved(quote: Quote, request: QuoteRequest, setting: Setting, catalogue: Catalogue) -> Solved[AnswerView]:
    view = answer_view(quote, _elsewhere(quote, catalogue), setting)
    return Solved(view, request, lambda: QuoteOut.from_quote(quote, setting.units))


def _journey_name(journey: str, round_trip: bool, catalogue: Catalogue) -> str:
    """The journey as it is called in a sentence."""
    if journey in catalogue.cycles:
        return f"test cycle, {catalogue.cycles[journey].name}"
    if journey == BY_TRACK:
        return "recorded drive"
    return "there and back" if round_trip else "drive"


def _elsewhere(quote: Quote, catalogue: Catalogue) -> Quote:
    """The same car, drive and start on a mild day, or, if the day is mild, on a cold one; the middle only."""
    weather = quote.ask.weather
    other_k = COLD_K if MILD_FROM_K <= weather.ambient_k <= MILD_TO_K else MILD_K
    ask: Ask = replace(quote.ask, weather=replace(weather, ambient_k=other_k), band=False)
    return build_quote(ask, catalogue)
