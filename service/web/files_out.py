"""A recording as read, for programs: the journey to ask with, what it is, and what became of its rows."""

from collections.abc import Iterable

from pydantic import BaseModel, Field

from service.intake.journey import TrackIn
from service.intake.track import TrackRead
from service.trips.recorded import Dropped

__all__ = ["DroppedOut", "TrackOut", "TripOut"]

ROWS_NAMED = 50  # of one reason; the count is whole


class DroppedOut(BaseModel):
    """Rows that were readable and are left out all the same."""

    reason: str
    count: int
    rows: list[int] = Field(description=f"the first {ROWS_NAMED}; points of a GPX file count from 1")

    @staticmethod
    def several(dropped: Iterable[Dropped]) -> list["DroppedOut"]:
        """One for each reason."""
        return [
            DroppedOut(reason=each.reason, count=len(each.rows), rows=list(each.rows[:ROWS_NAMED])) for each in dropped
        ]


class TripOut(BaseModel):
    """A drive between two long stands."""

    starts_s: float = Field(description="on the recorder's clock; since 1970 where it tells dates")
    duration_s: float
    distance_km: float
    climb_m: float = Field(description="all that goes up")
    parked_after_s: float


class TrackOut(BaseModel):
    """The recording as a journey, and as it was found."""

    track: TrackIn = Field(description='for {"journey": {"track": …}}: all trips one after the other')
    distance_km: float
    climb_m: float
    duration_s: float = Field(description="driving, without the stands between trips")
    points: int = Field(description="rows that could be read")
    points_kept: int
    trips: list[TripOut]
    dropped: list[DroppedOut]
    passed_over: list[str] = Field(description="columns that a drive does not need")
    notes: list[str]
    errors: list[dict[str, object]] = Field(description="rows that could not be read: field, value, message, remedy")

    @staticmethod
    def of(found: TrackRead, errors: list[dict[str, object]]) -> "TrackOut":
        """Rounded to what a receiver knows."""
        recorded = found.recorded
        return TrackOut(
            track=TrackIn.of(found.journey.track),
            distance_km=round(found.distance_m / 1000, 3),
            climb_m=round(found.climb_m, 1),
            duration_s=round(found.duration_s, 1),
            points=recorded.points,
            points_kept=recorded.kept,
            trips=[
                TripOut(
                    starts_s=round(trip.starts_s, 2),
                    duration_s=round(trip.duration_s, 1),
                    distance_km=round(trip.distance_m / 1000, 3),
                    climb_m=round(trip.climb_m, 1),
                    parked_after_s=round(trip.parked_after_s, 1),
                )
                for trip in recorded.trips
            ],
            dropped=DroppedOut.several(recorded.dropped),
            passed_over=list(found.passed_over),
            notes=list(recorded.notes),
            errors=errors,
        )
