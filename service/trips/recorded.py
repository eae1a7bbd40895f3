"""What a recorder wrote down, made a drive: faults of receivers taken out, speed and grade found, long stands left out.

Scope    positions with times (and heights, if any), or speeds with times. No map: the road is where the fixes are.
Path     order → jumps → standing → trips → distance → speed → height → grade and heading by stretch of road.
Distance geodesics on the WGS84 ellipsoid (pyproj) from fix to fix; fixes within `STILL_M` of where the car stands are
         the receiver's wandering and move nothing.
Speed    distance against time as a monotone cubic (Fritsch and Butland 1984: SciPy's PCHIP), its slope by a
         Savitzky-Golay filter of second order over 7 s or two intervals of the recorder; distance is kept.
Height   by distance, every 20 m: the median of five (a bad fix goes), then Savitzky-Golay of second order over 300 m;
         grade is the mean over stretches of 100 m. Heights by barometer or by satellite are noisier than any road over
         shorter lengths; the lengths are own choice.
Source   Savitzky and Golay, Anal. Chem. 36 (1964) 1627; Karney, J. Geodesy 87 (2013) 43 for the geodesic.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import cache

import numpy as np

from service.errors import BadInput
from service.specs import Track
from service.trips.fixes import HIGHEST_M_S, PARKED_S, STAND_M, forward, moving, parked, without_jumps
from service.trips.track import track_trace
from service.units import HOUR_S

__all__ = [
    "Dropped",
    "Recorded",
    "Trip",
    "drive_of_fixes",
    "drive_of_speeds",
    "geodesic_m",
    "grades_of",
]

GAP_S = 60.0  # without a fix, longer than a short tunnel: told; own choice
GRID_S = 1.0
LONGEST_S = 24 * HOUR_S  # a bound on work
SPEED_WINDOW_S = 7.0
HEIGHT_STEP_M, HEIGHT_MEDIAN, HEIGHT_WINDOW_M, STRETCH_M = 20.0, 5, 300.0, 100.0
STEEPEST = 0.25  # steeper than public roads are built: own choice
STANDS_BELOW_M_S = 0.3  # what is left of a stand after smoothing
FEWEST = 3


@dataclass(frozen=True, slots=True)
class Dropped:
    """Rows that were left out for one reason."""

    reason: str
    rows: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class Trip:
    """A drive between two long stands. `starts_s` is on the recorder's clock."""

    track: Track
    starts_s: float
    parked_after_s: float  # until the next trip; 0 after the last
    distance_m: float
    climb_m: float  # sum of all that goes up
    duration_s: float


@dataclass(frozen=True, slots=True)
class Recorded:
    """The drive, and what was done to the recording."""

    trips: tuple[Trip, ...]
    points: int
    kept: int
    dropped: tuple[Dropped, ...]
    notes: tuple[str, ...]


@cache
def ellipsoid():
    """WGS84; loaded when first needed."""
    from pyproj import Geod  # takes a tenth of a second, and only recordings need it

    return Geod(ellps="WGS84")


def geodesic_m(latitude_deg: np.ndarray, longitude_deg: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """Distance, m, and azimuth at its start, rad clockwise from north, from each point to the next; shapes (n − 1,).

    >>> float(geodesic_m(np.array([0.0, 0.0]), np.array([0.0, 1.0]))[0][0].round(2))
    111319.49
    """
    ends = longitude_deg[:-1], latitude_deg[:-1], longitude_deg[1:], latitude_deg[1:]
    azimuth_deg, _, distance_m = ellipsoid().inv(*ends)
    return np.asarray(distance_m), np.radians(azimuth_deg) % (2 * math.pi)


def drive_of_fixes(
    time_s: np.ndarray, latitude_deg: np.ndarray, longitude_deg: np.ndarray, height_m: np.ndarray, rows: np.ndarray
) -> Recorded:
    """The drive behind positions.

    Args:
        time_s: on any clock; latitude_deg, longitude_deg: WGS84; height_m: NaN where not known; rows: for the report;
            all of shape (n,).
    """
    points, dropped, notes = len(time_s), [], []
    kept = forward(time_s)
    dropped.append(Dropped("its time is not after the one before", tuple(rows[~kept].tolist())))
    time_s, latitude_deg, longitude_deg, height_m, rows = _where(
        kept, time_s, latitude_deg, longitude_deg, height_m, rows
    )
    kept, breaks = without_jumps(time_s, latitude_deg, longitude_deg)
    reason = f"it is farther away than {HIGHEST_M_S * 3.6:.0f} km/h go"
    dropped.append(Dropped(reason, tuple(rows[~kept].tolist())))
    breaks = np.cumsum(breaks)[kept]
    time_s, latitude_deg, longitude_deg, height_m = _where(kept, time_s, latitude_deg, longitude_deg, height_m)
    stands = parked(time_s, latitude_deg, longitude_deg)
    trips = []
    for part in parts_of(time_s, stands, breaks):
        trip = trip_of_fixes(*(column[part] for column in (time_s, latitude_deg, longitude_deg, height_m)))
        if trip.distance_m >= STAND_M:
            trips.append(trip)
    notes += gaps_told(time_s, breaks)
    if trips and not np.isfinite(height_m).any():
        notes.append("The recording has no heights: the road is taken as level.")
    return finished(trips, points, len(time_s), dropped, notes)


def drive_of_speeds(time_s: np.ndarray, speed_m_s: np.ndarray, height_m: np.ndarray, rows: np.ndarray) -> Recorded:
    """The drive behind speeds, taken as they are: straight lines between them, a second apart at the closest."""
    points = len(time_s)
    kept = forward(time_s)
    dropped = [Dropped("its time is not after the one before", tuple(rows[~kept].tolist()))]
    time_s, speed_m_s, height_m = _where(kept, time_s, speed_m_s, height_m)
    stands, one = standing(time_s, speed_m_s), np.zeros(len(time_s), int)
    trips = []
    for part in parts_of(time_s, stands, one):
        at_s = grid(time_s[part])
        speed = np.interp(at_s, time_s[part], speed_m_s[part])
        distance_m = _run(speed, np.diff(at_s))
        profile = _profile(np.interp(time_s[part], at_s, distance_m), height_m[part], distance_m)
        if distance_m[-1] >= STAND_M:
            trips.append(_trip(at_s, speed, distance_m, profile, np.full(len(profile[0]) - 1, math.nan)))
    notes = gaps_told(time_s, one)
    if trips and not np.isfinite(height_m).any():
        notes.append("The recording has no heights: the road is taken as level.")
    return finished(trips, points, len(time_s), dropped, notes)


def parts_of(time_s: np.ndarray, stands: np.ndarray, breaks: np.ndarray) -> list[slice]:
    """Stretches of the recording that are trips: between long stands, breaks, and gaps as long as a stand."""
    cut = (np.diff(time_s) >= PARKED_S) | (np.diff(breaks) != 0)
    group = np.concatenate([[0], np.cumsum(cut | (np.diff(stands.astype(int)) != 0))])
    parts = []
    for number in range(group[-1] + 1 if len(time_s) else 0):
        inside = np.flatnonzero(group == number)
        if stands[inside[0]]:
            continue
        first, last = inside[0], inside[-1]
        first -= int(first > 0 and not cut[first - 1])  # a fix of the stand before, and of the one after
        last += int(last + 1 < len(time_s) and not cut[last])
        if last + 1 - first >= FEWEST:
            parts.append(slice(first, last + 1))
    refuse_long(sum(time_s[part.stop - 1] - time_s[part.start] for part in parts))
    return parts


def refuse_long(driven_s: float) -> None:
    """Raise BadInput for more than a day of driving."""
    if driven_s > LONGEST_S:
        message = f"it holds more than {LONGEST_S / HOUR_S:g} h of driving"
        raise BadInput("track", None, message, "cut the recording into days")


def standing(time_s: np.ndarray, speed_m_s: np.ndarray) -> np.ndarray:
    """True where a recorder of speeds says that the car stood for `PARKED_S` or longer."""
    still = speed_m_s <= STANDS_BELOW_M_S
    if not len(still):
        return still
    group = np.concatenate([[0], np.cumsum(np.diff(still.astype(int)) != 0)])
    starts = np.flatnonzero(np.concatenate([[True], np.diff(group) > 0]))
    ends = np.concatenate([starts[1:] - 1, [len(still) - 1]])
    return still & (time_s[ends] - time_s[starts] >= PARKED_S)[group]


def trip_of_fixes(time_s, latitude_deg, longitude_deg, height_m) -> Trip:
    """One trip: distance, speed, grade and heading."""
    from scipy.interpolate import PchipInterpolator

    anchors = np.flatnonzero(np.concatenate([[True], moving(time_s, latitude_deg, longitude_deg)[1:]]))
    legs_m, azimuth_rad = geodesic_m(latitude_deg[anchors], longitude_deg[anchors])
    at_anchors_m = np.concatenate([[0.0], np.cumsum(legs_m)])
    distance_m = at_anchors_m[np.searchsorted(anchors, np.arange(len(time_s)), side="right") - 1]
    at_s = grid(time_s)
    along_m = PchipInterpolator(time_s, distance_m)(np.minimum(at_s, time_s[-1]))
    speed = smoothed_speed(along_m, at_s, float(np.median(np.diff(time_s))))
    run_m = _run(speed, np.diff(at_s))
    if run_m[-1] > 0:
        speed = np.minimum(speed * distance_m[-1] / run_m[-1], HIGHEST_M_S)
        run_m = _run(speed, np.diff(at_s))
    profile = _profile(distance_m, height_m, run_m)
    return _trip(at_s, speed, run_m, profile, _headings(profile[0], at_anchors_m, azimuth_rad))


def grid(time_s: np.ndarray) -> np.ndarray:
    """Every second from the first time to the last."""
    span_s = time_s[-1] - time_s[0]
    return time_s[0] + np.arange(0.0, max(math.ceil(span_s / GRID_S), 1) + 1) * GRID_S


def smoothed_speed(along_m: np.ndarray, at_s: np.ndarray, interval_s: float) -> np.ndarray:
    """Slope of distance, m/s, never backwards; what is next to nothing is a stand."""
    from scipy.signal import savgol_filter

    window = _odd(max(SPEED_WINDOW_S, 2 * interval_s) / GRID_S, len(along_m))
    if window < FEWEST:
        return np.gradient(along_m, at_s)
    speed = savgol_filter(along_m, window, polyorder=2, deriv=1, delta=GRID_S, mode="interp")
    return np.where(speed < STANDS_BELOW_M_S, 0.0, speed)


def _odd(wanted: float, most: int) -> int:
    """An odd number of points, at most so many."""
    window = min(round(wanted), most)
    return window if window % 2 else window - 1


def _run(speed: np.ndarray, step_s: np.ndarray) -> np.ndarray:
    """Distance covered at each knot."""
    return np.concatenate([[0.0], np.cumsum(0.5 * (speed[1:] + speed[:-1]) * step_s)])


def _profile(distance_m: np.ndarray, height_m: np.ndarray, run_m: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """Ends of the stretches of road, m, and the height there: smoothed; level where no height is known."""
    from scipy.ndimage import median_filter
    from scipy.signal import savgol_filter

    stretches = max(round(run_m[-1] / STRETCH_M), 1)
    ends_m = np.linspace(0.0, run_m[-1], stretches + 1)
    known = np.isfinite(height_m)
    if np.count_nonzero(known) < FEWEST or run_m[-1] < STRETCH_M:
        return ends_m, np.zeros(len(ends_m))
    along_m, first = np.unique(distance_m[known], return_index=True)
    height_m = np.add.reduceat(height_m[known], first) / np.diff([*first, np.count_nonzero(known)])
    even_m = np.arange(0.0, run_m[-1] + HEIGHT_STEP_M, HEIGHT_STEP_M)
    height = np.interp(even_m, along_m * (run_m[-1] / max(along_m[-1], 1e-9)), height_m)
    height = median_filter(height, min(HEIGHT_MEDIAN, len(height)), mode="nearest")
    window = _odd(HEIGHT_WINDOW_M / HEIGHT_STEP_M + 1, len(height))
    if window > FEWEST:
        height = savgol_filter(height, window, polyorder=2, mode="interp")
    return ends_m, np.interp(ends_m, even_m, height)


def _headings(ends_m: np.ndarray, anchors_m: np.ndarray, azimuth_rad: np.ndarray) -> np.ndarray:
    """Mean heading of each stretch, weighed by distance, in whole degrees."""
    east = np.concatenate([[0.0], np.cumsum(np.diff(anchors_m) * np.sin(azimuth_rad))])
    north = np.concatenate([[0.0], np.cumsum(np.diff(anchors_m) * np.cos(azimuth_rad))])
    scaled = anchors_m * (ends_m[-1] / max(anchors_m[-1], 1e-9))
    east, north = np.interp(ends_m, scaled, east), np.interp(ends_m, scaled, north)
    degrees = np.round(np.degrees(np.arctan2(np.diff(east), np.diff(north)))) % 360
    return np.radians(degrees)


def _grades(run_m: np.ndarray, profile: tuple[np.ndarray, np.ndarray]) -> tuple[tuple[float, ...], np.ndarray]:
    """Grade of each step, and the stretch in which its middle lies."""
    ends_m, height_m = profile
    grade = np.clip(np.diff(height_m) / np.maximum(np.diff(ends_m), 1e-9), -STEEPEST, STEEPEST)
    middle_m = 0.5 * (run_m[1:] + run_m[:-1])
    place = np.clip(np.searchsorted(ends_m, middle_m, side="right") - 1, 0, len(grade) - 1)
    return tuple(grade[place].tolist()), place


def _trip(at_s, speed, run_m, profile, heading_rad) -> Trip:
    """Put together; grade and heading of a second are those of the stretch where its middle lies."""
    grade, place = _grades(run_m, profile)
    track = Track(
        tuple((at_s - at_s[0]).tolist()),
        tuple(np.maximum(speed, 0.0).tolist()),
        grade,
        tuple(heading_rad[place].tolist()),
    )
    trace = track_trace(track)
    steps_m = 0.5 * (trace.speed_m_s[1:] + trace.speed_m_s[:-1]) * trace.step_s
    climb_m = float(np.sum(steps_m * np.maximum(trace.grade, 0.0)))
    return Trip(track, float(at_s[0]), 0.0, float(run_m[-1]), climb_m, float(at_s[-1] - at_s[0]))


def grades_of(time_s: Sequence[float], speed_m_s: Sequence[float], height_m: Sequence[float]) -> tuple[float, ...]:
    """Grade between each two moments, from heights as recorded there: smoothed like those of any recording."""
    run_m = _run(np.array(speed_m_s), np.diff(time_s))
    return _grades(run_m, _profile(run_m, np.array(height_m), run_m))[0]


def gaps_told(time_s: np.ndarray, breaks: np.ndarray) -> list[str]:
    """Times without a fix that were bridged, and places from which the recording went on elsewhere."""
    seconds, same = np.diff(time_s), np.diff(breaks) == 0
    gaps = seconds[(seconds > GAP_S) & same & (seconds < PARKED_S)]
    notes = []
    if len(gaps):
        count = "once" if len(gaps) == 1 else f"{len(gaps)} times"
        notes.append(
            f"Nothing was recorded for more than {GAP_S:.0f} s {count}, {gaps.sum():.0f} s in all: driven on evenly."
        )
    if not same.all():
        notes.append("The recording goes on elsewhere: what lies between is left out.")
    return notes


def finished(trips: list[Trip], points: int, kept: int, dropped: list[Dropped], notes: list[str]) -> Recorded:
    """With the stands between the trips told."""
    placed = []
    for trip, following in zip(trips, [*trips[1:], None], strict=False):
        away_s = following.starts_s - trip.starts_s - trip.duration_s if following else 0.0
        placed.append(replace(trip, parked_after_s=max(away_s, 0.0)))
    if len(placed) > 1:
        notes.append(
            f"Stands of {PARKED_S / 60:.0f} minutes and more part {len(placed)} trips: driven one after the other, "
            "without the time between."
        )
    return Recorded(tuple(placed), points, kept, tuple(each for each in dropped if each.rows), tuple(notes))


def _where(kept: np.ndarray, *columns: np.ndarray) -> list[np.ndarray]:
    return [column[kept] for column in columns]
