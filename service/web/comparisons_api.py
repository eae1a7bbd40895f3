"""The programs' side of routes compared: a comparison as JSON or as a table, and routes read from a table."""

from typing import Annotated

from fastapi import APIRouter, Body, Request, Response
from pydantic import BaseModel, Field

from service.fleet.compare import compare
from service.intake.comparison import ComparisonRequest, RouteIn, across_faults, with_defaults
from service.intake.errors import plain_row
from service.intake.routes_csv import LARGEST_TABLE, read_routes
from service.reporting.comparison_out import ComparisonOut, table_of
from service.web.bodies import AcrossRoute
from service.web.deps import CatalogueDep
from service.web.errors import ErrorRowOut, error_responses
from service.web.files import TABLES, WrongKind, described, file_body
from service.web.tables import TABLES_TOO, Accept, Format, as_asked
from service.web.work_routes import WorkRoute, at_work
from service.web.workroom import go_on

__all__ = ["EXAMPLES", "ComparisonRoute", "router"]


class ComparisonRoute(AcrossRoute):
    """A JSON route whose faults name unknown ids inside lists, too."""

    across = staticmethod(across_faults)


router = APIRouter()
json_routes = APIRouter(prefix="/api/comparisons", tags=["comparisons"], route_class=ComparisonRoute)
table_routes = APIRouter(prefix="/api/comparisons", tags=["comparisons"], route_class=WorkRoute)

EXAMPLES = {
    "two vans a year round": {
        "summary": "Two vehicles on two routes in every month of a place",
        "value": {
            "vehicles": [{"id": "electric-delivery-van"}, {"id": "small-electric-hatch"}],
            "routes": [
                {
                    "name": "Town parcels",
                    "journey": {"legs": [{"distance_km": 22, "speed_km_h": 40, "stops_per_km": 1.5}]},
                    "trips_per_day": 4,
                    "payload_kg": 350,
                },
                {
                    "name": "Hill farms",
                    "journey": {
                        "legs": [
                            {"distance_km": 60, "speed_km_h": 70, "grade_pct": 1.5},
                            {"distance_km": 60, "speed_km_h": 65, "grade_pct": -1.5},
                        ]
                    },
                },
            ],
            "place": "helsinki",
            "reserve_km": 20,
        },
    }
}


class RoutesOut(BaseModel):
    """Routes of a table, ready for a comparison, beside everything that was wrong with the others."""

    routes: list[RouteIn]
    errors: list[ErrorRowOut]
    left_out: list[str] = Field(description="routes that are not among the good ones because of an error")
    passed_over: list[str] = Field(description="columns, and rows above the names, that are not needed")


@json_routes.post(
    "",
    response_model=ComparisonOut,
    responses=error_responses(400, 413, 415, 422) | TABLES_TOO,
)
def create_comparison(
    question: Annotated[ComparisonRequest, Body(openapi_examples=EXAMPLES)],
    catalogue: CatalogueDep,
    form: Format = None,
    accept: Accept = "",
) -> Response | ComparisonOut:
    """Which vehicle keeps which route electric in which month, by how much, and why; as JSON, CSV or .xlsx."""
    comparison = compare(question.ask(catalogue), catalogue, progress=go_on)
    out = ComparisonOut.from_comparison(with_defaults(comparison, question))
    return as_asked(out, table_of, form, accept)


@table_routes.post(
    "/routes",
    response_model=RoutesOut,
    responses=error_responses(413, 415, 422),
    openapi_extra=described(*TABLES),
)
async def read_table_of_routes(request: Request, catalogue: CatalogueDep) -> RoutesOut | Response:
    """Routes from a table (CSV, .xlsx), a row a leg; every bad cell is reported, and the good routes are kept."""
    try:
        content = await file_body(request, TABLES, LARGEST_TABLE)
    except WrongKind as error:
        return error.response
    found = await at_work(read_routes, content, catalogue)
    return RoutesOut(
        routes=found.routes,
        errors=[plain_row(row) for row in found.errors],
        left_out=found.left_out,
        passed_over=found.passed_over,
    )


router.include_router(json_routes)
router.include_router(table_routes)
