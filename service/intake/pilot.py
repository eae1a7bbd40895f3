"""A question about the control pilot: a duty cycle or a current, from a query string."""

import math
from typing import Annotated, Any

from pydantic import BeforeValidator, Field, model_validator

from service.charging.pilot import LEAST_PILOT_A, MOST_PILOT_A
from service.intake.fields import LIMITS, Incoming, said

__all__ = ["PilotQuery"]


def _number_of_text(value: Any) -> float:
    """A number as a query string writes it."""
    try:
        number = float(value)
    except (TypeError, ValueError):
        number = math.nan
    if not math.isfinite(number):
        raise said(f"{str(value)[:60]!r} is not a number", "give digits, as in 53.3", value=str(value))
    return number


Typed = Annotated[float, BeforeValidator(_number_of_text, json_schema_input_type=float)]
DUTY, PILOT_RANGE = LIMITS["duty_pct"], f"{LEAST_PILOT_A:g} to {MOST_PILOT_A:g} A"


class PilotQuery(Incoming):
    """Exactly one of the two."""

    duty_pct: Typed | None = Field(
        None,
        description=f"share of each period at the high level, {DUTY.low:g} to {DUTY.high:g} %",
        ge=DUTY.low,
        le=DUTY.high,
    )
    amps: Typed | None = Field(None, description=f"current that is to be allowed, A per phase, {PILOT_RANGE}")

    @model_validator(mode="after")
    def _exactly_one(self) -> "PilotQuery":
        if (self.duty_pct is None) == (self.amps is None):
            which = "neither duty_pct nor amps" if self.amps is None else "both duty_pct and amps"
            raise said(f"the question has {which}", "give exactly one of duty_pct and amps", at="duty_pct")
        if self.amps is not None and not LEAST_PILOT_A <= self.amps <= MOST_PILOT_A:
            message = f"{self.amps:g} A is outside what a pilot can say, {PILOT_RANGE}"
            raise said(message, f"give {PILOT_RANGE}", at="amps", value=self.amps)
        return self
