"""The programs' side of the control pilot."""

from typing import Annotated

from fastapi import APIRouter, Query

from service.intake.pilot import PilotQuery
from service.reporting.pilot_out import PilotOut
from service.web.errors import error_responses

__all__ = ["router"]

router = APIRouter(prefix="/api", tags=["charging"])


@router.get("/pilot", responses=error_responses(422))
def read_pilot(question: Annotated[PilotQuery, Query()]) -> PilotOut:
    """What a duty cycle of the control pilot allows, or the duty cycle that allows a current: give exactly one."""
    return PilotOut.of_amps(question.amps) if question.duty_pct is None else PilotOut.of_duty(question.duty_pct)
