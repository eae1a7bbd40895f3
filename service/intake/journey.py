"""The way to drive: a regulatory cycle by id, legs, or a recorded track."""

import math
from collections.abc import Sequence
from itertools import pairwise
from typing import Annotated

from pydantic import Field, model_validator

from service import specs, units
from service.intake.fields import MEMBERS, Incoming, Number, limited, optional, said
from service.trips.recorded import grades_of

__all__ = ["LONGEST_JOURNEY_KM", "MOST_LEGS", "MOST_MOMENTS", "JourneyIn", "LegIn", "TrackIn"]

MOST_LEGS = 50
MOST_MOMENTS = 20_000
LONGEST_PAUSE_S = 3600.0  # between two moments; a longer stand ends a trip
LONGEST_TRACK_S = 24 * 3600.0
SHORTEST_TRACK_KM = 0.05
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


class TrackIn(Incoming):
    """A drive as recorded: moments, and straight lines between their speeds. Heights or slopes, if either is known."""

    time_s: Annotated[list[Number], Field(min_length=2, max_length=MOST_MOMENTS)] = Field(description="rising, in s")
    speed_km_h: Annotated[list[Number], Field(min_length=2, max_length=MOST_MOMENTS)] = Field(
        description="at each of them"
    )
    elevation_m: Annotated[list[Number], Field(max_length=MOST_MOMENTS)] | None = Field(
        None, description="at each of them, as recorded: noise is smoothed over 300 m of road"
    )
    grade_pct: Annotated[list[Number], Field(max_length=MOST_MOMENTS)] | None = Field(
        None, description="from each moment to the next, taken as it is; the last one leads nowhere"
    )
    heading_deg: Annotated[list[Number | None], Field(max_length=MOST_MOMENTS)] | None = Field(
        None, description="the same, clockwise from north; null: not known"
    )

    @model_validator(mode="after")
    def _fits_together(self) -> "TrackIn":
        count = len(self.time_s)
        for name in ("speed_km_h", "elevation_m", "grade_pct", "heading_deg"):
            values = getattr(self, name)
            if values is not None and len(values) != count:
                message = f"there are {len(values)} values for {count} moments"
                raise said(message, f"give {count}, one for each of time_s", at=name, value=len(values))
        if self.elevation_m is not None and self.grade_pct is not None:
            raise said("it gives both elevation_m and grade_pct", "give one of the two", at="grade_pct")
        for at, (before, after) in enumerate(pairwise(self.time_s), start=1):
            if not 0 < after - before <= LONGEST_PAUSE_S:
                message = f"{after:g} s does not follow {before:g} s"
                remedy = f"give rising times, at most {LONGEST_PAUSE_S:g} s apart"
                raise said(message, remedy, at=f"time_s[{at}]", value=after)
        for name in ("speed_km_h", "elevation_m", "grade_pct", "heading_deg"):
            _refuse_outside(name, getattr(self, name) or [])
        return self

    @model_validator(mode="after")
    def _moves(self) -> "TrackIn":
        if self.time_s[-1] - self.time_s[0] > LONGEST_TRACK_S:
            hours = LONGEST_TRACK_S / units.HOUR_S
            raise said(f"it lasts longer than {hours:g} h", "cut the recording into days", at="time_s")
        distance_km = (
            sum(
                (later - sooner) * (fast + slow) / 2
                for (sooner, later), (fast, slow) in zip(pairwise(self.time_s), pairwise(self.speed_km_h), strict=True)
            )
            / units.HOUR_S
        )
        if not SHORTEST_TRACK_KM <= distance_km <= LONGEST_JOURNEY_KM:
            message = f"it is {distance_km:.3g} km long"
            remedy = f"give {SHORTEST_TRACK_KM:g} to {LONGEST_JOURNEY_KM} km"
            raise said(message, remedy, at="speed_km_h", value=distance_km)
        return self

    def track(self) -> specs.Track:
        """The same in SI, from 0 s on."""
        time_s = tuple(at_s - self.time_s[0] for at_s in self.time_s)
        speed_m_s = tuple(speed * units.KM_H for speed in self.speed_km_h)
        if self.elevation_m is not None:
            grade = grades_of(time_s, speed_m_s, self.elevation_m)
        else:
            grade = tuple(grade / 100 for grade in (self.grade_pct or ())[:-1])
        heading = tuple(
            math.nan if degrees is None else math.radians(degrees) for degrees in (self.heading_deg or ())[:-1]
        )
        return specs.Track(time_s, speed_m_s, grade, heading)

    @staticmethod
    def of(track: specs.Track) -> "TrackIn":
        """As it would arrive; to the digits that a receiver knows."""
        grade, heading = list(track.grade), list(track.heading_rad)
        return TrackIn(
            time_s=[round(at_s, 2) for at_s in track.time_s],
            speed_km_h=[round(speed / units.KM_H, 2) for speed in track.speed_m_s],
            grade_pct=[round(100 * each, 3) for each in [*grade, grade[-1]]] if grade else None,
            heading_deg=[None if math.isnan(each) else round(math.degrees(each), 1) for each in [*heading, heading[-1]]]
            if heading
            else None,
        )


def _refuse_outside(name: str, values: Sequence[float | None]) -> None:
    """Raise for the first value that no drive has."""
    limit = MEMBERS[name]
    for at, value in enumerate(values):
        if value is not None and not limit.low <= value <= limit.high:
            span = f"{limit.low:g} to {limit.high:g} {limit.unit}"
            raise said(f"{value:g} is outside {span}", f"give {span}", at=f"{name}[{at}]", value=value)


class JourneyIn(Incoming):
    """A cycle, legs or a track: one of the three."""

    cycle: Annotated[str, Field(max_length=80)] | None = Field(None, description="id from GET /api/cycles")
    legs: Annotated[list[LegIn], Field(min_length=1, max_length=MOST_LEGS)] | None = None
    track: TrackIn | None = Field(None, description="a recording; POST /api/tracks makes one of a GPX or CSV file")

    @model_validator(mode="after")
    def _one_of_three(self) -> "JourneyIn":
        given = [name for name in ("cycle", "legs", "track") if getattr(self, name) is not None]
        if len(given) != 1:
            which = f"{' and '.join(given)} together" if given else "neither of cycle, legs and track"
            raise said(f"it gives {which}", "give exactly one of cycle, legs and track")
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
        legs = tuple(leg.leg() for leg in self.legs or ())
        return specs.Journey(cycle=self.cycle, legs=legs, track=self.track and self.track.track())
