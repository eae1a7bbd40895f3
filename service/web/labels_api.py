"""The programs' side of labels: the car behind one, the tests as recipes, and what any car gets in them."""

from typing import Annotated

from fastapi import APIRouter, Body

from service.errors import BadInput
from service.intake.label_fit import LabelFitRequest, ProcedureRunRequest, here
from service.quotes.label_report import label_report, run_report
from service.quotes.procedures import RECIPES
from service.reporting.label_out import LabelFitOut, ProcedureOut, ProcedureRunOut
from service.web.bodies import JsonRoute
from service.web.deps import CatalogueDep
from service.web.errors import error_responses

__all__ = ["router"]

router = APIRouter()
posted = APIRouter(tags=["labels"], route_class=JsonRoute)

FIT_EXAMPLES = {
    "US window label": {
        "summary": "What a US window label says, battery unknown",
        "value": {
            "procedure": "us",
            "kind": "bev",
            "consumption_kwh_per_100_km": {"city": 16.8, "highway": 17.9},
            "range_km": 400,
            "size_class": "medium",
            "recharge_hours": 9.5,
        },
    },
    "European brochure": {
        "summary": "WLTP figures and the brochure's battery",
        "value": {
            "procedure": "wltp",
            "kind": "bev",
            "consumption_kwh_per_100_km": 15.8,
            "range_km": 415,
            "mass_kg": 1750,
            "battery": {"usable_kwh": 59},
            "onboard_charger_kw": 11,
        },
    },
}
RUN_EXAMPLES = {
    "catalogue car": {
        "summary": "A car of the catalogue in the US test",
        "value": {"vehicle": {"id": "mid-electric-sedan"}, "procedure": "us-two-cycle"},
    }
}


@posted.post("/api/label-fits", responses=error_responses(400, 413, 415, 422))
def create_label_fit(
    told: Annotated[LabelFitRequest, Body(openapi_examples=FIT_EXAMPLES)], catalogue: CatalogueDep
) -> LabelFitOut:
    """The car behind a label: run through the label's own test it gives the label. `vehicle` may be asked about."""
    vehicle = told.vehicle(catalogue)
    try:
        report = label_report(vehicle, catalogue)
    except BadInput as fault:
        raise here(fault) from None
    return LabelFitOut.of(*report)


@posted.post("/api/procedure-runs", responses=error_responses(400, 413, 415, 422))
def create_procedure_run(
    asked: Annotated[ProcedureRunRequest, Body(openapi_examples=RUN_EXAMPLES)], catalogue: CatalogueDep
) -> ProcedureRunOut:
    """What a car gets in a test: consumption at socket and battery, and range, of each part and combined."""
    vehicle, recipe = asked.asked(catalogue)
    return ProcedureRunOut.of(*run_report(vehicle, recipe, catalogue))


@router.get("/api/procedures", tags=["labels"])
def list_procedures() -> list[ProcedureOut]:
    """Official and usual tests, each with everything that it fixes."""
    return [ProcedureOut.of(recipe) for recipe in RECIPES.values()]


router.include_router(posted)
