"""Files as read, for programs: what can be asked with them, what they are, and what became of their rows."""

from collections.abc import Iterable

from pydantic import BaseModel, Field

from service.diagnosis.drive_log import summary_of
from service.intake.drive_log import LogRead
from service.intake.journey import TrackIn
from service.intake.track import TrackRead
from service.intake.weather_file import Month, WeatherRead
from service.trips.recorded import Dropped
from service.units import KM_H, KWH_J, celsius_from_kelvin
from service.web.errors import ErrorRowOut

__all__ = ["DriveLogOut", "DroppedOut", "TrackOut", "TripOut", "WeatherOut"]

SHORTEST_KM = 0.1  # below it a consumption per kilometre says nothing
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
    passed_over: list[str] = Field(description="columns, and rows above the names, that are not needed")
    notes: list[str]
    errors: list[ErrorRowOut] = Field(description="rows that could not be read")

    @staticmethod
    def of(found: TrackRead, errors: list[ErrorRowOut]) -> "TrackOut":
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


class MonthOut(BaseModel):
    """Means of one month; null where the file does not tell."""

    month: int
    days: int = Field(description="whole days that its low and high are means of")
    low_c: float | None
    high_c: float | None
    humidity_pct: float | None
    wind_km_h: float | None
    sun_kwh_m2_day: float | None

    @staticmethod
    def of(month: Month) -> "MonthOut":
        """To a tenth, as stations publish them."""
        return MonthOut(
            month=month.month,
            days=month.days,
            low_c=_rounded(month.low_c, 1),
            high_c=_rounded(month.high_c, 1),
            humidity_pct=_rounded(month.humidity_pct, 1),
            wind_km_h=_rounded(None if month.wind_m_s is None else month.wind_m_s / KM_H, 1),
            sun_kwh_m2_day=_rounded(None if month.sun_j_m2_day is None else month.sun_j_m2_day / KWH_J, 2),
        )


class WeatherOut(BaseModel):
    """The twelve months of a file of hours."""

    lows_c: list[float] | None = Field(
        description="with the four lists below for POST /api/years and /api/commutes; null unless every month is known"
    )
    highs_c: list[float] | None
    humidities_pct: list[float | None] | None = Field(description="null where the file does not tell: assumed there")
    winds_km_h: list[float | None] | None
    suns_kwh_m2_day: list[float | None] | None
    months: list[MonthOut]
    rows: int
    hours: int = Field(description="good ones")
    dropped: list[DroppedOut]
    passed_over: list[str]
    notes: list[str]
    errors: list[ErrorRowOut]

    @staticmethod
    def of(found: WeatherRead, errors: list[ErrorRowOut]) -> "WeatherOut":
        """As read."""
        months = [MonthOut.of(month) for month in found.months]
        whole = all(month.low_c is not None for month in months)
        return WeatherOut(
            lows_c=[month.low_c for month in months] if whole else None,
            highs_c=[month.high_c for month in months] if whole else None,
            humidities_pct=_known(month.humidity_pct for month in months),
            winds_km_h=_known(month.wind_km_h for month in months),
            suns_kwh_m2_day=_known(month.sun_kwh_m2_day for month in months),
            months=months,
            rows=found.rows_read,
            hours=len(found.hours.time_s),
            dropped=DroppedOut.several(found.dropped),
            passed_over=list(found.passed_over),
            notes=list(found.notes),
            errors=errors,
        )


class DriveLogOut(BaseModel):
    """Sums of a workshop's log. Energy is at the pack's terminals; null where the log does not tell."""

    distance_km: float
    duration_s: float
    missing_s: float = Field(description="in gaps between rows, of the duration; not counted in any sum")
    interval_s: float = Field(description="usual time between two rows")
    fastest_km_h: float
    out_kwh: float = Field(description="left the pack")
    in_kwh: float = Field(description="came back into it")
    net_kwh: float
    net_wh_per_km: float | None
    charge_start_pct: float | None
    charge_end_pct: float | None
    charge_used_pct: float | None
    usable_kwh: float | None = Field(description="net energy over charge used; null below 10 % of it, or with gaps")
    outside_c: float | None = Field(description="mean over time")
    rows: int
    rows_kept: int
    dropped: list[DroppedOut]
    passed_over: list[str]
    notes: list[str]
    errors: list[ErrorRowOut]

    @staticmethod
    def of(found: LogRead, errors: list[ErrorRowOut]) -> "DriveLogOut":
        """As read."""
        sums = summary_of(found.log)
        start, end = sums.charge_start, sums.charge_end
        used = None if start is None or end is None else 100 * (start - end)
        km = sums.distance_m / 1000
        return DriveLogOut(
            distance_km=round(km, 3),
            duration_s=round(sums.duration_s, 1),
            missing_s=round(sums.missing_s, 1),
            interval_s=round(sums.interval_s, 3),
            fastest_km_h=round(sums.fastest_m_s / KM_H, 1),
            out_kwh=round(sums.out_j / KWH_J, 4),
            in_kwh=round(sums.in_j / KWH_J, 4),
            net_kwh=round(sums.net_j / KWH_J, 4),
            net_wh_per_km=_rounded(sums.net_j / KWH_J * 1000 / km if km >= SHORTEST_KM else None, 1),
            charge_start_pct=_rounded(None if start is None else 100 * start, 2),
            charge_end_pct=_rounded(None if end is None else 100 * end, 2),
            charge_used_pct=_rounded(used, 2),
            usable_kwh=_rounded(None if sums.usable_j is None else sums.usable_j / KWH_J, 3),
            outside_c=_rounded(None if sums.outside_k is None else celsius_from_kelvin(sums.outside_k), 1),
            rows=found.rows_read,
            rows_kept=len(found.log.time_s),
            dropped=DroppedOut.several(found.dropped),
            passed_over=list(found.passed_over),
            notes=list(found.notes),
            errors=errors,
        )


def _known(values: Iterable[float | None]) -> list[float | None] | None:
    """The months, or null where none is known."""
    months = list(values)
    return None if all(value is None for value in months) else months


def _rounded(value: float | None, digits: int) -> float | None:
    return None if value is None else round(value, digits)
