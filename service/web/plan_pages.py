"""The page of a charging plan: one night in, when to charge and what it costs out; its part, and the profile as CSV.

Scope    parse, one call, present. The starting question is tonight, in a plug-in on a household socket.
"""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import date, timedelta

from fastapi import APIRouter, Request, Response
from fastapi.responses import HTMLResponse

from service.catalogue import Catalogue
from service.errors import BadInput, BadInputs, ErrorRow, ServiceError
from service.intake.charging_plan import plan_listed
from service.intake.form import FIELDS, OWN, default_of, unit_of
from service.intake.plan_form import charging_plan_from_form
from service.quotes.charging_plan import build_charging_plan
from service.reporting.form_layouts import PLAN_LAYOUT, names_in
from service.reporting.form_view import Choices, FormView, form_view
from service.reporting.plan_out import ChargingPlanOut
from service.reporting.plan_view import PlanView, plan_view
from service.reporting.words import Units
from service.web.deps import CatalogueDep
from service.web.house import Link, beside_inputs, carried, links_from, one_vehicle, stowed
from service.web.pages import choices_of
from service.web.plans_api import csv_response
from service.web.work_routes import WorkRoute

__all__ = ["PATH", "PlanPage", "page_of", "router"]

PATH = "/plan"
START = {"units": "metric", "vehicle": "compact-plug-in", "charge_from": "20", "temperature": "5"}
HOME = {"circuit": "eu-household-10a", "tariff": "night-price-eur"}
HOME_US = {"circuit": "na-household-15a", "tariff": "summer-peak-usd"}
START_US = START | {"units": "us", "temperature": "41"}
EXAMPLE = {  # invented, as an own tariff begins
    "tariff_table": "days,from,to,price_per_kwh\n,00:00,06:00,0.20\n,06:00,24:00,0.34",
    "tariff_zone": "Europe/London",
}
router = APIRouter(include_in_schema=False, route_class=WorkRoute)


@dataclass(frozen=True, slots=True)
class PlanPage:
    """Everything the templates get. `query` leads to the same profile as CSV."""

    answer: PlanView | None
    form: FormView
    links: tuple[Link, ...]
    query: str
    status: int


@router.get(PATH, response_class=HTMLResponse)
def show_page(request: Request, catalogue: CatalogueDep) -> HTMLResponse:
    """The whole page."""
    return _rendered(request, catalogue, "plan.html")


@router.get("/plan-part", response_class=HTMLResponse)
def show_part(request: Request, catalogue: CatalogueDep) -> HTMLResponse:
    """The answer alone, for a page that refreshes in place."""
    return _rendered(request, catalogue, "plan_part.html")


@router.get("/plan.csv")
def send_profile(request: Request, catalogue: CatalogueDep) -> Response:
    """The profile as a table."""
    filled = charging_plan_from_form(_whole(request.query_params, date.today()), catalogue)
    if filled.question is None:
        raise BadInputs(BadInput(row.field, row.value, row.message, row.remedy) for row in filled.errors.values())
    return csv_response(ChargingPlanOut.of(build_charging_plan(filled.question[0], catalogue)))


def _rendered(request: Request, catalogue: Catalogue, template: str) -> HTMLResponse:
    page = page_of(request.query_params, catalogue, date.today())
    return HTMLResponse(request.app.state.templates.get_template(template).render(page=page), page.status)


def page_of(given: Mapping[str, str], catalogue: Catalogue, today: date) -> PlanPage:
    """Question in, page out.

    Args:
        given: the query string by name; what it leaves out is the starting question's.
        today: the night begins on it, and it is printed on the sheet.
    """
    whole = _whole(given, today)
    filled = charging_plan_from_form(whole, catalogue)
    units = Units.US if filled.values["units"] == Units.US else Units.METRIC
    errors: Mapping[str, ErrorRow] = filled.errors
    answer = None
    if filled.question:
        try:
            question, request = filled.question
            answer = plan_view(plan_listed(build_charging_plan(question, catalogue), request), units, today)
        except ServiceError as error:
            errors = beside_inputs(error, {"vehicle": "vehicle"})
    example = {name: text for name, text in EXAMPLE.items() if not filled.values[name]}
    form = form_view(
        {**filled.values, **example},
        errors,
        {name: unit_of(name, units) for name in FIELDS},
        {name: default_of(name, units) for name in FIELDS},
        _choices(catalogue),
        {row.name: row.value for row in answer.question} if answer else {},
        PLAN_LAYOUT,
    )
    form = replace(form, hidden=form.hidden + stowed(given, names_in(PLAN_LAYOUT)))
    return PlanPage(answer, form, links_from(PATH, given), carried(given), 200 if answer else 422)


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
