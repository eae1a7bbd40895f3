"""How fast a charge can go: the course at full pace as a few straight lines, and the least that an on charger draws.

Model    within a slot nothing moves more than G(u), what the session at full pace moves in the slot's length from u on.
         The taper makes G concave and falling, so it is the least of a few straight lines. Its chords lie below the
         curve: a plan may be a hair slower than the car, never faster. Where G is not concave (a cold pack without
         heater that warms as it charges) the largest concave curve below it stands for it, found by a linear programme.
"""

from collections.abc import Iterable

import numpy as np

from service.charging.course import Course
from service.units import KWH_J

__all__ = ["HOUR_S", "least_pace_kw", "pace_lines", "paces_kw"]

HOUR_S = 3600.0
LINES = 6  # straight lines of a taper


def paces_kw(course: Course) -> np.ndarray:
    """Energy moved beyond the overhead an hour, between the points of a course, kW."""
    return np.diff(course.above_j / KWH_J) / (np.diff(course.seconds) / HOUR_S)


def least_pace_kw(course: Course, spans_h: Iterable[float]) -> float:
    """Least that an on charger moves, kW: six amperes, or what the car asks for where that is less before the taper.

    Args:
        spans_h: lengths of slots, h; whose lines may lie lower still.
    """
    paces = paces_kw(course)
    most = float(paces.max())
    heater_kw = float(paces[0]) if course.heating_s > 0 else most
    before_taper = float(paces[: int(np.argmax(paces)) + 1].min())  # a cold pack may begin below six amperes
    least = max(0.0, min((course.least_w - course.overhead_w) / 1000, heater_kw, before_taper))
    return min(least, *(min(height for height, _ in pace_lines(course, span)) / span for span in spans_h))


def pace_lines(course: Course, span_h: float) -> list[tuple[float, float]]:
    """Straight lines (height, slope) whose least, at what has been moved (kWh), is the most that a slot can move.

    Args:
        span_h: length of the slot, h.
    Chords of the course, or of the largest concave curve below it; heating counts as the highest pace here.
    """
    above, clock = course.above_j / KWH_J, course.seconds / HOUR_S
    if course.heating_s > 0:
        above, clock = above[1:], clock[1:]
    last = (above[-1] - above[-2]) / (clock[-1] - clock[-2])
    reach = np.append(clock, clock[-1] + span_h), np.append(above, above[-1] + last * span_h)
    most = float(np.max(np.diff(above) / np.diff(clock))) * span_h
    room = np.interp(clock + span_h, *reach) - above
    kink = int(np.flatnonzero(room >= most * (1 - 1e-6))[-1]) if np.any(room >= most * (1 - 1e-6)) else 0
    kept = np.unique(np.concatenate([[0, kink], np.linspace(kink, len(above) - 1, LINES + 1).astype(int)]))
    if np.any(np.diff(np.diff(room[kept]) / np.diff(above[kept])) > 1e-9):
        kept, room = np.arange(len(above)), _concave_below(above, room)
    at, slopes = above[kept], np.diff(room[kept]) / np.diff(above[kept])
    lines = [(float(room.max()), 0.0)]
    for k, slope in enumerate(slopes):
        height = float(room[kept][k] - slope * at[k])
        if abs(slope - lines[-1][1]) > 1e-7:
            lines.append((height, float(slope)))
    return lines


def _concave_below(x: np.ndarray, y: np.ndarray) -> np.ndarray:
    """The concave curve through a grid that lies nowhere above y and in sum nearest to it."""
    from scipy.optimize import linprog

    bend = np.zeros((len(x) - 2, len(x)))
    for k in range(len(x) - 2):
        left, right = x[k + 1] - x[k], x[k + 2] - x[k + 1]
        bend[k, k : k + 3] = 1 / left, -1 / left - 1 / right, 1 / right
    return linprog(-np.ones(len(x)), bend, np.zeros(len(x) - 2), bounds=[(0, float(each)) for each in y]).x
