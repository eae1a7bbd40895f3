"""The way to drive: a regulatory cycle by id, or legs."""

import math
from typing import Annotated

from pydantic import Field, model_validator

from service import specs, units
from service.intake.fields import Incoming, Number, limited, optional, said

__all__ = ["LONGEST_JOURNEY_KM", "MOST_LEGS", "JourneyIn", "LegIn"]

MOST_LEGS = 50
LONGEST_JOURNEY_KM = 1500  # one day's driving; a bound on work, not on cars


class LegIn(Incoming):
    """A stretch at one cruising speed."""

    distance_km: Number = limited("distance_km")
    speed_km_h: Number = limited("speed_km_h")
    stops_per_km: Number = limited("stops_per_km", 0.0)
    grade_pct: Number = limited("grade_pct", 0.0)
    heading_deg: Number | None = optional("heading_deg")

    def leg(self) -> specs.Leg:
        """The same stretch in SI."""
        return specs.Leg(
            distance_m=self.distance_km * 1000,
            speed_m_s=self.speed_km_h * units.KM_H,
            stops_per_m=self.stops_per_km / 1000,
            grade=self.grade_pct / 100,
            heading_rad=None if self.heading_deg is None else math.radians(self.heading_deg),
        )


class JourneyIn(Incoming):
    """Either a cycle or legs."""

    cycle: Annotated[str, Field(max_length=80)] | None = Field(None, description="id from GET /api/cycles")
    legs: Annotated[list[LegIn], Field(min_length=1, max_length=MOST_LEGS)] | None = None

    @model_validator(mode="after")
    def _one_of_two(self) -> "JourneyIn":
        if (self.cycle is None) == (self.legs is None):
            which = "neither" if self.cycle is None else "both"
            raise said(f"it gives {which} of cycle and legs", "give exactly one of cycle and legs")
        total_km = sum(leg.distance_km for leg in self.legs or ())
        if total_km > LONGEST_JOURNEY_KM:
            raise said(
                f"the legs add up to {total_km:g} km, more than {LONGEST_JOURNEY_KM} km",
                f"give legs of at most {LONGEST_JOURNEY_KM} km together",
                at="legs",
                value=total_km,
            )
        return self

    def journey(self) -> specs.Journey:
        """The same journey in SI."""
        return specs.Journey(cycle=self.cycle, legs=tuple(leg.leg() for leg in self.legs or ()))
