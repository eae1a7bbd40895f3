"""The programs' side of charging sessions: one car on one circuit or station, as JSON, or its curve as CSV."""

from typing import Annotated, Literal

from fastapi import APIRouter, Body, Header, Query, Response

from service.intake.charging_session import ChargingSessionRequest
from service.quotes.charging_session import build_session
from service.reporting.session_out import SessionOut, curve_csv
from service.web.bodies import JsonRoute
from service.web.deps import CatalogueDep
from service.web.errors import error_responses

__all__ = ["curve_response", "router"]

router = APIRouter(prefix="/api/charging-sessions", tags=["charging"], route_class=JsonRoute)

EXAMPLES = {
    "overnight in frost": {
        "summary": "A wall unit after a winter's day, the battery cold",
        "value": {
            "vehicle": {"id": "mid-electric-sedan"},
            "circuit": {"id": "na-wall-unit-30a"},
            "from_pct": 20,
            "to_pct": 80,
            "pack_temperature_c": -5,
        },
    },
    "fast": {
        "summary": "A direct-current station in the cold",
        "value": {
            "vehicle": {"id": "mid-electric-sedan"},
            "circuit": {"dc_kw": 150, "dc_amps": 400},
            "from_pct": 10,
            "to_pct": 80,
            "pack_temperature_c": 0,
        },
    },
}


@router.post(
    "",
    response_model=SessionOut,
    responses=error_responses(400, 413, 415, 422) | {200: {"content": {"text/csv": {"schema": {"type": "string"}}}}},
)
def create_session(
    asked: Annotated[ChargingSessionRequest, Body(openapi_examples=EXAMPLES)],
    catalogue: CatalogueDep,
    form: Annotated[Literal["json", "csv"] | None, Query(alias="format", description="overrides Accept")] = None,
    accept: Annotated[str, Header()] = "",
) -> Response | SessionOut:
    """How long one charge takes, what it draws, where the losses are, and the power minute by minute."""
    out = SessionOut.from_answer(build_session(asked.question(catalogue), catalogue))
    if form == "csv" or (form is None and accept.partition(",")[0].partition(";")[0].strip() == "text/csv"):
        return curve_response(out)
    return out


def curve_response(out: SessionOut) -> Response:
    """The curve as a file."""
    name = {"Content-Disposition": 'attachment; filename="charging-session.csv"'}
    return Response(curve_csv(out), media_type="text/csv", headers=name)
