"""A recorded drive as it arrives, GPX or CSV: points, then `trips.recorded`, and a report of every row.

CSV      time,lat,lon and, if known, elevation; or time,speed and, if known, elevation. Units stand in the names. The
         time is in seconds ("time_s"), or a date and time with an offset, or in the zone that is named.
Report   every bad row at once, and what was dropped and why; the good points are kept.
"""

from dataclasses import dataclass, replace

import numpy as np

from service.catalogue.tariffs import zone_named
from service.errors import BadInput, BadInputs, ErrorRow
from service.intake.columns import Figures, figures_of, told
from service.intake.gpx import GpxPoint, gpx_points, is_gpx
from service.intake.moments import moments_of
from service.intake.number_text import number_from
from service.intake.quantities import DISTANCE, SECONDS, SPEED, Quantity, Texts
from service.intake.table_file import read_table
from service.intake.table_text import TextTable
from service.intake.times import DAY, Times, times_of
from service.specs import Journey
from service.trips.fixes import HIGHEST_M_S
from service.trips.recorded import Recorded, drive_of_fixes, drive_of_speeds
from service.trips.track import one_after_the_other
from service.units import KM_H

__all__ = ["LARGEST_FILE", "MOST_POINTS", "TrackRead", "checked_zone", "read_track"]

LARGEST_FILE = 3 * 1024 * 1024  # bytes: 20 000 points of GPX; below what any request may hold
MOST_POINTS = 20_000  # five and a half hours at one a second
LONGEST_M = 1.5e6  # one day's driving, as for legs: a bound on work
HIGHEST_LAND_M, LOWEST_LAND_M = 9000.0, -500.0
GPX_CLOCK = "UTC"  # GPX 1.1: times are universal time, whether they say so or not
DEGREES = {"": (1.0, 0.0), "deg": (1.0, 0.0)}
HEIGHT = Quantity(
    "height_m", ("elevation", "altitude", "ele", "alt", "height"), {**DISTANCE, "": (1.0, 0.0)}, LOWEST_LAND_M,
    HIGHEST_LAND_M, "m",
)  # fmt: skip
LATITUDE = Quantity("latitude_deg", ("lat", "latitude"), DEGREES, -90.0, 90.0, "°", may_be_empty=False)
LONGITUDE = Quantity("longitude_deg", ("lon", "longitude", "lng", "long"), DEGREES, -180.0, 180.0, "°",
                     may_be_empty=False)  # fmt: skip
PACE = Quantity(
    "speed_m_s",
    ("speed", "vehicle speed", "gps speed", "velocity"),
    SPEED,
    0.0,
    HIGHEST_M_S,
    "km/h",
    KM_H,
    may_be_empty=False,
)
ELAPSED = Quantity(
    "time_s", ("time", "elapsed", "elapsed time", "t"), SECONDS, 0.0, 1e10, "s", may_be_empty=False
)  # fmt: skip
MOMENT = Texts("moment", ("time", "timestamp", "datetime", "date time", "utc time", "local time"))


@dataclass(frozen=True, slots=True)
class TrackRead:
    """A recording as read: the journey (all trips one after the other), what became of the rows, and every fault."""

    journey: Journey
    recorded: Recorded
    errors: tuple[ErrorRow, ...]
    passed_over: tuple[str, ...] = ()

    @property
    def distance_m(self) -> float:
        """Of all trips."""
        return sum(trip.distance_m for trip in self.recorded.trips)

    @property
    def climb_m(self) -> float:
        """All that goes up, of all trips."""
        return sum(trip.climb_m for trip in self.recorded.trips)

    @property
    def duration_s(self) -> float:
        """Of all trips, without the stands between them."""
        return sum(trip.duration_s for trip in self.recorded.trips)


def read_track(content: bytes, zone: str | None = None) -> TrackRead:
    """Read a recorded drive.

    Args:
        content: a file, GPX or CSV; what it starts with tells which.
        zone: IANA name, for times without an offset.
    Errors: `BadInputs` where no drive can be read from it: too large, neither GPX nor a table, or nothing that moves.
    """
    if len(content) > LARGEST_FILE:
        limit = f"{LARGEST_FILE / 1024**2:g} MB"
        message, remedy = f"the file is larger than {limit}", f"give at most {limit}, or cut the recording"
        raise BadInputs([BadInput("track", None, message, remedy)])
    zone = checked_zone(zone)
    try:
        recorded, faults, passed_over = _drive_of(content, zone)
    except BadInput as error:
        raise BadInputs([error]) from None
    refuse_useless(recorded, faults)
    track = one_after_the_other(*(trip.track for trip in recorded.trips))
    return TrackRead(Journey(track=track), recorded, told(faults), passed_over)


def _drive_of(content: bytes, zone: str | None) -> tuple[Recorded, list[BadInput], tuple[str, ...]]:
    """The drive, what is wrong with rows, and columns that were not needed."""
    if is_gpx(content):
        return _from_gpx(gpx_points(content, MOST_POINTS), zone)
    return _from_table(read_table(content, LARGEST_FILE, MOST_POINTS), zone)


def checked_zone(zone: str | None) -> str | None:
    """A time zone that exists; None for none."""
    if not zone:
        return None
    try:
        return zone_named(zone)
    except ValueError as error:
        remedy = "give a name of the IANA list, such as Europe/Berlin"
        raise BadInput("time_zone", zone[:80], str(error), remedy) from None


def refuse_useless(recorded: Recorded, faults: list[BadInput]) -> None:
    """Raise BadInputs for a recording that is no drive, or too long a one."""
    fault = None
    if not recorded.trips:
        message = f"of {recorded.points} points that could be read no drive can be made"
        fault = BadInput("track", recorded.points, message, "give at least three moments of a car that moves")
    elif sum(trip.distance_m for trip in recorded.trips) > LONGEST_M:
        message = f"it is longer than {LONGEST_M / 1000:g} km"
        fault = BadInput("track", None, message, "cut the recording into days")
    if fault:
        raise BadInputs([fault, *faults])


def _from_gpx(points: list[GpxPoint], zone: str | None) -> tuple[Recorded, list[BadInput], tuple[str, ...]]:
    """Points counted from 1, as they stand in the file."""
    rows = range(1, len(points) + 1)
    faults: list[BadInput] = []
    columns = {
        quantity.key: np.array([_figure(getattr(point, name), quantity, f"point {row}, {name}", faults)
                                for row, point in zip(rows, points, strict=True)])
        for quantity, name in ((LATITUDE, "lat"), (LONGITUDE, "lon"), (HEIGHT, "ele"))
    }  # fmt: skip
    time_s, late = moments_of([point.time for point in points], rows, "time", zone or GPX_CLOCK)
    faults += [_at_point(fault) for fault in late]
    faults.sort(key=lambda fault: int(fault.row.field.split()[1].rstrip(",")))
    good = np.isfinite(time_s) & np.isfinite(columns["latitude_deg"]) & np.isfinite(columns["longitude_deg"])
    order = _in_time(np.flatnonzero(good), np.array([point.stretch for point in points]), time_s)
    places = (columns[key][order] for key in ("latitude_deg", "longitude_deg", "height_m"))
    return drive_of_fixes(time_s[order], *places, np.array(rows)[order]), faults, ()


def _in_time(good: np.ndarray, stretch: np.ndarray, time_s: np.ndarray) -> np.ndarray:
    """Places of good points, stretches by when they begin: files have their tracks in any order."""
    numbers, first = np.unique(stretch[good], return_index=True)
    begins = dict(zip(numbers.tolist(), time_s[good][first].tolist(), strict=True))
    return np.array(sorted(good.tolist(), key=lambda at: begins[stretch[at]]), dtype=int)


def _at_point(fault: BadInput) -> BadInput:
    row = fault.row
    message = "it has no time" if row.value == "" else row.message
    remedy = "give a recorded track; a planned one has no times" if row.value == "" else row.remedy
    return BadInput(row.field.replace("row", "point", 1), row.value or None, message, remedy)


def _figure(text: str, quantity: Quantity, place: str, faults: list[BadInput]) -> float:
    """A number of a point; NaN where it has none or a wrong one, which is a fault."""
    if not text and quantity.may_be_empty:
        return np.nan
    number = number_from(text)
    if number is None or not quantity.low <= number <= quantity.high:
        allowed = f"{quantity.low:g} to {quantity.high:g} {quantity.unit}"
        message = f"{text[:40]!r} is not a number" if number is None else f"{number:g} is outside {allowed}"
        faults.append(BadInput(place, text[:80] or None, message, f"give {allowed}"))
        return np.nan
    return number


def _from_table(table: TextTable, zone: str | None) -> tuple[Recorded, list[BadInput], tuple[str, ...]]:
    """Positions if there are any, else speeds."""
    found = figures_of(table, (ELAPSED, LATITUDE, LONGITUDE, HEIGHT, PACE), (MOMENT, DAY))
    _refuse_incomplete(found, table)
    times = Times(found.values["time_s"]) if "time_s" in found.values else times_of(found, zone)
    time_s, faults = times.seconds, [*found.faults, *times.faults]
    good = np.isfinite(time_s)
    height = found.values.get("height_m", np.full(len(time_s), np.nan))
    if "latitude_deg" in found.values:
        places = (found.values[key][good] for key in ("latitude_deg", "longitude_deg"))
        recorded = drive_of_fixes(time_s[good], *places, height[good], found.rows[good])
    else:
        recorded = drive_of_speeds(time_s[good], found.values["speed_m_s"][good], height[good], found.rows[good])
    return replace(recorded, notes=(*recorded.notes, *times.notes)), faults, found.passed_over


def _refuse_incomplete(found: Figures, table: TextTable) -> None:
    """Raise BadInputs for a table that lacks times, or both positions and speeds."""
    row, faults = f"row {table.header.number}", []
    if "time_s" not in found.values and not {"moment", "day"} & set(found.texts):
        remedy = "name a column time_s, or time for dates and times"
        faults.append(BadInput(f"{row}, time", None, "the column is missing", remedy))
    places = {"latitude_deg", "longitude_deg"} & set(found.values)
    if len(places) == 1 or not ({"latitude_deg", "speed_m_s"} & set(found.values)):
        remedy = "name columns lat and lon, or speed_km_h or speed_mph"
        faults.append(BadInput(f"{row}, lat, lon", None, "there are neither positions nor speeds", remedy))
    if faults:
        raise BadInputs([*faults, *found.faults])
