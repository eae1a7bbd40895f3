"""A commute through the year: one question, twelve months, one form; and the part of it that refreshes in place.

Scope    parse, one call, present. The starting question is an invented commute in a plug-in hybrid that cold months do
         not quite let pass; whatever a link leaves out is taken from it.
"""

from collections.abc import Mapping
from datetime import date

from fastapi import Request
from fastapi.responses import HTMLResponse

from service.catalogue import Catalogue
from service.intake.commute_form import commute_from_form
from service.intake.form_fields import measure_of
from service.intake.year import CommuteRequest, with_defaults
from service.quotes.calendar import WEEKDAYS
from service.quotes.commute import CommuteAsk, build_commute
from service.quotes.money import usual_prices
from service.quotes.parking import Overnight
from service.reporting.form_view import Choices
from service.reporting.words import Units, bound
from service.reporting.year_layout import DAYS_A_WEEK, YEAR_LAYOUT, year_choices
from service.reporting.year_out import CommuteOut
from service.reporting.year_view import Asked, YearView, year_view
from service.web.deps import CatalogueDep
from service.web.form_files import NOTHING_READ, Reading
from service.web.house import one_vehicle
from service.web.keep_form import keep_form
from service.web.kinds import Kind, Solved
from service.web.pages import choices_of
from service.web.question_pages import Form, QuestionPage, answered, page_router, question_page, units_of
from service.web.weather_uploads import WEATHER_ZONE, posted_with_weather
from service.web.work_routes import at_work

__all__ = ["KIND", "START", "page_of", "router"]

PATH = "/year"
START = {  # invented
    "units": "metric",
    "vehicle": "compact-plug-in",
    "journey": "legs",
    "leg1_distance": "3",
    "leg1_speed": "40",
    "leg1_stops": "1.5",
    "leg2_distance": "20",
    "leg2_speed": "80",
    "leg2_stops": "0.1",
    "leaves_home": "7.5",
    "leaves_work": "17",
    "place": "helsinki",
    "circuit": "eu-household-10a",
}
START_US = START | {  # the same in the other units, at what is usual there: common practice
    "units": "us",
    "leg1_distance": "2",
    "leg1_speed": "25",
    "leg1_stops": "2.5",
    "leg2_distance": "12",
    "leg2_speed": "50",
    "leg2_stops": "0.2",
    "place": "minneapolis",
    "circuit": "na-household-15a",
}
TYPICAL = {  # inputs that say what an empty one means, by row of data/typical.csv
    "weeks": "weeks_a_year",
    "grid": "grid_g_per_kwh",
    "fuel_co2": "fuel_g_per_l",
    "fuel_use": "fuel_l_per_100_km",
}
SAID_BY_THE_LIST = ("leaves_home", "leaves_work", "days_a_week", "weeks")  # inputs that need no unit beside them
OTHER_PATHS = {"vehicle.spec.kind": "own_kind", "journey": "journey"}  # of faults that only the year shows
SAME_CIRCUIT = ("", "a circuit like that at home")


def page_of(
    given: Mapping[str, str], catalogue: Catalogue, today: date, reading: Reading = NOTHING_READ
) -> QuestionPage[YearView]:
    """Commute in, page out.

    Args:
        given: the query string by name; what a short link leaves out is the starting question's.
        today: printed on the sheet.
        reading: what became of the weather file that came with the form.
    """
    whole = _whole(given)
    filled = commute_from_form(whole, catalogue)
    units = units_of(filled.values)
    choices = _choices(catalogue, units, filled.values)
    solved, errors = None, {**filled.errors, **reading.errors}
    if filled.question and not reading.errors:
        solved, errors = answered(lambda: _solved(*filled.question, units, catalogue, today), OTHER_PATHS)
    usual = _usual(catalogue, units, filled.values)
    form = Form(YEAR_LAYOUT, choices, beside=dict.fromkeys(SAID_BY_THE_LIST, ""), usual=usual)
    values = filled.values | {WEATHER_ZONE: given.get(WEATHER_ZONE, "")}
    return question_page(PATH, given, whole, values, errors, solved, form, reading)


def solve(request: CommuteRequest, units: Units, catalogue: Catalogue, today: date) -> Solved[YearView]:
    """A program's question."""
    return _solved(request.commute(catalogue), request, units, catalogue, today)


def _solved(
    question: CommuteAsk, request: CommuteRequest, units: Units, catalogue: Catalogue, today: date
) -> Solved[YearView]:
    commute = with_defaults(build_commute(question, catalogue), request)
    view = year_view(commute, _asked(question, request), units, today)
    return Solved(view, request, lambda: CommuteOut.from_commute(commute))


KIND = Kind("commute", "A commute through the year", PATH, "year_part.html", "year", page_of, solve)
router = page_router(KIND)


@router.post(PATH, response_class=HTMLResponse)
async def answer_weather(request: Request, catalogue: CatalogueDep) -> HTMLResponse:
    """The whole page for a form with a weather file."""
    given, reading = await posted_with_weather(request)
    page = await at_work(page_of, given, catalogue, date.today(), reading)
    keep = keep_form(request, KIND, page)
    html = request.app.state.templates.get_template("year.html").render(page=page, keep=keep)
    return HTMLResponse(html, page.status)


def _whole(given: Mapping[str, str]) -> Mapping[str, str]:
    """The form as sent; or, for a link that is not a whole form, what it gives over the starting question."""
    asked = {**given, **one_vehicle(given)}
    if asked.get("parked") == "garage" and "overnight" not in asked:  # the workshop asks in this way
        asked["overnight"] = "garage"
    if asked.get("journey") == "unknown":
        del asked["journey"]
    if {"typed_units", "leaves_home"} <= asked.keys():  # only this form sends both
        return _at_home(asked)
    start = START_US if asked.get("units") == Units.US else START
    if "typed_units" in asked:  # another form's whole journey
        start = {name: text for name, text in start.items() if not name.startswith("leg")}
    return start | {name: text for name, text in asked.items() if text}


def _at_home(given: dict[str, str]) -> dict[str, str]:
    """With a switch of units, what is still the starting question's of one side becomes the other side's."""
    starts = {Units.METRIC: START, Units.US: START_US}
    old, new = starts.get(given.get("typed_units")), starts.get(given.get("units"))
    if not old or not new or old is new:
        return given
    local = ("circuit", "place")
    if all(given.get(name, "") == old[name] for name in local):
        return {**given, **{name: new[name] for name in local}}
    return given


def _asked(question: CommuteAsk, request: CommuteRequest) -> Asked:
    """What the answer does not hold."""
    named = ", ".join(day.capitalize() for day in WEEKDAYS if day in (request.weekdays or ()))
    at_work = question.work_circuit.name if question.work_circuit else SAME_CIRCUIT[1]
    return Asked(
        leaves_home=question.leaves_home_hour,
        leaves_work=question.leaves_work_hour,
        days=named or dict(DAYS_A_WEEK)[str(request.days_per_week or 5)],
        overnight=Overnight(question.overnight),
        work=bound(at_work) if question.charges_at_work else "",
    )


def _usual(catalogue: Catalogue, units: Units, values: Mapping[str, str]) -> dict[str, str]:
    """What an input left empty means, in the reader's units; prices as usual in the currency or at the place."""
    place = None if values["year_by"] == "typed" else catalogue.places.get(values["place"])
    usual = usual_prices(values["currency"], place.country if place else "")
    entries = TYPICAL | ({"electricity_price": usual.electricity, "fuel_price": usual.fuel} if usual else {})
    return {
        name: f"{measure_of(name, units).shown(catalogue.typical_entry(entry).value):.3g}"
        for name, entry in entries.items()
    } | {"work_price": "as at home", "currency": usual.currency if usual else ""}


def _choices(catalogue: Catalogue, units: Units, values: Mapping[str, str]) -> Choices:
    """What may be chosen; an hour between two of the list and an unusual circuit stand in it when asked for."""
    lists = choices_of(catalogue) | year_choices(units, (values["leaves_home"], values["leaves_work"]))
    places = tuple((one.id, f"{one.name}, {one.country}") for one in catalogue.places.values())
    circuits = catalogue.circuits.values()
    at_work = tuple((one.id, one.name) for one in circuits if one.usual or one.id == values["work_circuit"])
    return {**lists, "place": places, "work_circuit": (SAME_CIRCUIT, *at_work)}
