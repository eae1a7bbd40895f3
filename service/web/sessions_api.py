"""The programs' side of charging sessions: one car on one circuit or station, as JSON, or its curve as CSV."""

from typing import Annotated

from fastapi import APIRouter, Body, Response

from service.intake.charging_session import ChargingSessionRequest
from service.quotes.charging_session import build_session
from service.reporting.session_out import SessionOut, table_of
from service.web.bodies import JsonRoute
from service.web.deps import CatalogueDep
from service.web.errors import error_responses
from service.web.tables import TABLES_TOO, Accept, Format, as_asked

__all__ = ["router"]

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
    responses=error_responses(400, 413, 415, 422) | TABLES_TOO,
)
def create_session(
    asked: Annotated[ChargingSessionRequest, Body(openapi_examples=EXAMPLES)],
    catalogue: CatalogueDep,
    form: Format = None,
    accept: Accept = "",
) -> Response | SessionOut:
    """How long one charge takes, what it draws, where the losses are, and the power minute by minute."""
    out = SessionOut.from_answer(build_session(asked.question(catalogue), catalogue))
    return as_asked(out, table_of, form, accept)
