"""The programs' side of speed and weather: one car's range at steady speeds over temperatures, as JSON or CSV."""

from typing import Annotated, Literal

from fastapi import APIRouter, Body, Header, Query, Response

from service.intake.assumed import assumed
from service.intake.speed_table import SpeedTableRequest
from service.quotes.speed_table import speed_table
from service.reporting.answers import assumption_out
from service.reporting.speed_out import SpeedTableOut, csv_of
from service.web.bodies import JsonRoute
from service.web.deps import CatalogueDep
from service.web.errors import error_responses

__all__ = ["csv_response", "router"]

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
    responses=error_responses(400, 413, 415, 422) | {200: {"content": {"text/csv": {"schema": {"type": "string"}}}}},
)
def create_speed_table(
    asked: Annotated[SpeedTableRequest, Body(openapi_examples=EXAMPLES)],
    catalogue: CatalogueDep,
    form: Annotated[Literal["json", "csv"] | None, Query(alias="format", description="overrides Accept")] = None,
    accept: Annotated[str, Header()] = "",
) -> Response | SpeedTableOut:
    """How far one car goes at steady speeds in heat and cold, and what short trips from cold take."""
    out = SpeedTableOut.from_table(speed_table(asked.question(catalogue), catalogue))
    out = out.model_copy(update={"assumptions": [*map(assumption_out, assumed(asked.quote())), *out.assumptions]})
    if form == "csv" or (form is None and accept.partition(",")[0].partition(";")[0].strip() == "text/csv"):
        return csv_response(out)
    return out


def csv_response(out: SpeedTableOut) -> Response:
    """The table as a file."""
    name = {"Content-Disposition": 'attachment; filename="speed-and-weather.csv"'}
    return Response(csv_of(out), media_type="text/csv", headers=name)
