"""The page of a charging plan: one night in, when to charge and what it costs out; its part, and the profile as CSV.

Scope    parse, one call, present. The starting question is tonight, in a plug-in on a household socket.
"""

from collections.abc import Mapping
from dataclasses import replace
from datetime import date, timedelta

from fastapi import Request, Response

from service.catalogue import Catalogue
from service.intake.charging_plan import ChargingPlanRequest, plan_listed
from service.intake.form import OWN
from service.intake.plan_form import charging_plan_from_form
from service.quotes.charging_plan import PlanAsk, build_charging_plan
from service.reporting.form_layouts import PLAN_LAYOUT
from service.reporting.form_view import Choices
from service.reporting.plan_out import ChargingPlanOut, table_of
from service.reporting.plan_view import PlanView, plan_view
from service.reporting.words import Units
from service.web.deps import CatalogueDep
from service.web.house import as_asked, one_vehicle
from service.web.kinds import Kind, Solved
from service.web.pages import choices_of
from service.web.question_pages import Form, QuestionPage, answered, page_router, question_of, question_page, units_of
from service.web.tables import table_sent

__all__ = ["KIND", "PATH", "page_of", "router"]

PATH = "/plan"
START = {"units": "metric", "vehicle": "compact-plug-in", "charge_from": "20", "temperature": "5"}
HOME = {"circuit": "eu-household-10a", "tariff": "night-price-eur"}
HOME_US = {"circuit": "na-household-15a", "tariff": "summer-peak-usd"}
START_US = START | {"units": "us", "temperature": "41"}
EXAMPLE = {  # invented, as an own tariff begins
    "tariff_table": "days,from,to,price_per_kwh\n,00:00,06:00,0.20\n,06:00,24:00,0.34",
    "tariff_zone": "Europe/London",
}


def page_of(given: Mapping[str, str], catalogue: Catalogue, today: date) -> QuestionPage[PlanView]:
    """Question in, page out.

    Args:
        given: the query string by name; what it leaves out is the starting question's.
        today: the night begins on it, and it is printed on the sheet.
    """
    filled = charging_plan_from_form(_whole(given, today), catalogue)
    solved, errors = None, filled.errors
    if filled.question:
        units = units_of(filled.values)
        solved, errors = answered(lambda: _solved(*filled.question, units, catalogue, today), {"vehicle": "vehicle"})
    example = {name: text for name, text in EXAMPLE.items() if not filled.values[name]}
    form = Form(PLAN_LAYOUT, _choices(catalogue))
    page = question_page(PATH, given, given, {**filled.values, **example}, errors, solved, form)
    night = {name: filled.values[name] for name in ("arrives", "departs")}  # of a page that stays open until tomorrow
    return replace(page, asked=as_asked({**given, **night}))


def solve(request: ChargingPlanRequest, units: Units, catalogue: Catalogue, today: date) -> Solved[PlanView]:
    """A program's question."""
    return _solved(request.question(catalogue), request, units, catalogue, today)


def _solved(
    asked: PlanAsk, request: ChargingPlanRequest, units: Units, catalogue: Catalogue, today: date
) -> Solved[PlanView]:
    found = plan_listed(build_charging_plan(asked, catalogue), request)
    return Solved(plan_view(found, units, today), request, lambda: ChargingPlanOut.of(found))


KIND = Kind("charging_plan", "A charge planned", PATH, "plan_part.html", "plan", page_of, solve)
router = page_router(KIND)


@router.get("/plan.csv")
@router.get("/plan.xlsx")
def send_profile(request: Request, catalogue: CatalogueDep) -> Response:
    """The profile as a table."""
    question, _ = question_of(charging_plan_from_form(_whole(request.query_params, date.today()), catalogue))
    return table_sent(request, table_of(ChargingPlanOut.of(build_charging_plan(question, catalogue))))


def _whole(given: Mapping[str, str], today: date) -> dict[str, str]:
    """What was given over the starting question, so that short links and other pages' questions work."""
    given = {name: text for name, text in {**given, **one_vehicle(given)}.items() if text}
    us = given.get("units") == Units.US
    night = {"arrives": f"{today} 18:00", "departs": f"{today + timedelta(days=1)} 07:00"}
    whole = (START_US if us else START) | (HOME_US if us else HOME) | night | _at_home(given)
    return whole | (EXAMPLE | given if given.get("tariff") == OWN else {})


def _at_home(given: dict[str, str]) -> dict[str, str]:
    """With a switch of units, an untouched starting outlet and tariff become those of the other readers."""
    homes = {Units.METRIC: HOME, Units.US: HOME_US}
    old, new = homes.get(given.get("typed_units")), homes.get(given.get("units"))
    if old and new and all(given.get(name) == text for name, text in old.items()):
        return given | new
    return given


def _choices(catalogue: Catalogue) -> Choices:
    """What may be chosen."""
    lists = choices_of(catalogue)
    cars = tuple(each for each in lists["vehicle"] if each[0] == OWN or catalogue.vehicles[each[0]].kind.plugs_in)
    tariffs = (*((one.id, one.name) for one in catalogue.tariffs.values()), (OWN, "another tariff, by its periods"))
    return {**lists, "vehicle": cars, "tariff": tariffs}
