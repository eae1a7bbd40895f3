"""The programs' side of charging plans: ready by an hour as cheaply as can be; tariffs to choose from."""

from typing import Annotated

from fastapi import APIRouter, Body, Response

from service.intake.charging_plan import ChargingPlanRequest, plan_faults, plan_listed
from service.quotes.charging_plan import build_charging_plan
from service.reporting.plan_out import ChargingPlanOut, TariffOut, table_of
from service.web.bodies import AcrossRoute
from service.web.deps import CatalogueDep
from service.web.errors import error_responses
from service.web.tables import TABLES_TOO, Accept, Format, as_asked

__all__ = ["router", "tariffs"]


class PlanRoute(AcrossRoute):
    """Faults of ids and of the tariff's clock are told with the rest."""

    across = staticmethod(plan_faults)


tariffs = APIRouter(prefix="/api", tags=["charging plans"])
router = APIRouter(prefix="/api/charging-plans", tags=["charging plans"], route_class=PlanRoute)
EVENING = {
    "vehicle": {"id": "compact-plug-in"},
    "circuit": {"id": "eu-household-10a"},
    "from_pct": 20,
    "to_pct": 100,
    "arrives": "2026-11-25T18:00:00+01:00",
    "departs": "2026-11-26T07:00:00+01:00",
}
PERIODS = [
    {"from": "00:00", "to": "06:00", "price_per_kwh": 0.2},
    {"from": "06:00", "to": "24:00", "price_per_kwh": 0.35},
]
EXAMPLES = {
    "a night": {
        "summary": "A plug-in on a household socket, two prices",
        "value": EVENING | {"tariff": {"id": "night-price-eur"}},
    },
    "own tariff": {
        "summary": "A tariff of one's own, with a demand charge",
        "value": EVENING | {"tariff": {"spec": {"time_zone": "Europe/Berlin", "periods": PERIODS, "demand_per_kw": 8}}},
    },
}


@tariffs.get("/tariffs")
def list_tariffs(catalogue: CatalogueDep) -> list[TariffOut]:
    """Tariffs to choose from, every one invented."""
    return [
        TariffOut(id=each.id, name=each.name, currency=each.currency, time_zone=each.zone)
        for each in catalogue.tariffs.values()
    ]


@router.post("", response_model=ChargingPlanOut, responses=error_responses(400, 413, 415, 422) | TABLES_TOO)
def create_charging_plan(
    asked: Annotated[ChargingPlanRequest, Body(openapi_examples=EXAMPLES)],
    catalogue: CatalogueDep,
    form: Format = None,
    accept: Accept = "",
) -> Response | ChargingPlanOut:
    """When to charge, to be ready by an hour, and what it costs at once, late and at its cheapest."""
    found = build_charging_plan(asked.question(catalogue), catalogue)
    out = ChargingPlanOut.of(plan_listed(found, asked))
    return as_asked(out, table_of, form, accept)
