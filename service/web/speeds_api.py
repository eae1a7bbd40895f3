"""The programs' side of speed and weather: one car's range at steady speeds over temperatures, as JSON or CSV."""

from typing import Annotated

from fastapi import APIRouter, Body, Response

from service.intake.assumed import assumed
from service.intake.speed_table import SpeedTableRequest
from service.quotes.speed_table import speed_table
from service.reporting.answers import assumption_out
from service.reporting.speed_out import SpeedTableOut, table_of
from service.web.bodies import JsonRoute
from service.web.deps import CatalogueDep
from service.web.errors import error_responses
from service.web.tables import TABLES_TOO, Accept, Format, as_asked

__all__ = ["router"]

router = APIRouter(prefix="/api/speed-tables", tags=["speed and weather"], route_class=JsonRoute)

EXAMPLES = {
    "motorway in winter": {
        "summary": "A car of the catalogue, two speeds on two days, and trips of 5 and 20 km",
        "value": {
            "vehicle": {"id": "small-electric-hatch"},
            "speeds_km_h": [80, 120],
            "temperatures_c": [-10, 20],
            "trip": {"distances_km": [5, 20]},
        },
    }
}


@router.post(
    "",
    response_model=SpeedTableOut,
    responses=error_responses(400, 413, 415, 422) | TABLES_TOO,
)
def create_speed_table(
    asked: Annotated[SpeedTableRequest, Body(openapi_examples=EXAMPLES)],
    catalogue: CatalogueDep,
    form: Format = None,
    accept: Accept = "",
) -> Response | SpeedTableOut:
    """How far one car goes at steady speeds in heat and cold, and what short trips from cold take."""
    out = SpeedTableOut.from_table(speed_table(asked.question(catalogue), catalogue))
    out = out.model_copy(update={"assumptions": [*map(assumption_out, assumed(asked.quote())), *out.assumptions]})
    return as_asked(out, table_of, form, accept)
