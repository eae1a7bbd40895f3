"""The programs' side of a complaint: is this distance normal, and what would explain it if not?"""

from typing import Annotated

from fastapi import APIRouter, Body

from service.diagnosis.verdict import check_complaint
from service.intake.assumed import listed
from service.intake.complaint import ComplaintRequest
from service.reporting.complaint_out import ComplaintOut
from service.web.bodies import JsonRoute
from service.web.deps import CatalogueDep
from service.web.errors import error_responses

__all__ = ["router"]

router = APIRouter(prefix="/api/complaints", tags=["complaints"], route_class=JsonRoute)

EXAMPLES = {
    "short winter range": {
        "summary": "A car of the catalogue that went less far than its driver is used to",
        "value": {
            "vehicle": {"id": "compact-plug-in"},
            "journey": {"legs": [{"distance_km": 13, "speed_km_h": 60, "stops_per_km": 0.5}]},
            "weather": {"temperature_c": -5},
            "start": {"state_of_charge_pct": 100},
            "cabin": {"climate": "auto"},
            "parked": "outside",
            "tyre_pressure_kpa": 215,
            "odometer_km": 62000,
            "reported_km": 24,
            "complaint": "It used to do more than thirty.",
        },
    }
}


@router.post("", responses=error_responses(400, 413, 415, 422))
def create_complaint(
    complained: Annotated[ComplaintRequest, Body(openapi_examples=EXAMPLES)], catalogue: CatalogueDep
) -> ComplaintOut:
    """Where a reported distance lies among healthy cars in the same conditions, and what would explain a short one."""
    answer = check_complaint(complained.complaint_of(catalogue), catalogue)
    return ComplaintOut.from_answer(listed(answer, complained.question()))
