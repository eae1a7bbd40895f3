"""A trace: speed, grade and heading against time, from rest to rest, ready for the march."""

import math
from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from service.physics.rows import LOOK, table
from service.physics.tyres import warmth
from service.specs import Cycle

__all__ = ["LONGEST_STEP_S", "Trace", "cycle_trace", "merged", "thinned"]

LOOK_S = 10.0  # between two looks at tyres, cabin and pack limits
LOOK_THINNED_S = 15.0  # the same on a thinned trace: a look costs as much as three steps
LONGEST_STEP_S = 10  # steps of unchanging speed and grade are joined up to this length
DIGIT_M_S = 0.05  # a tenth of a mile an hour, the last digit of the US cycles: 40 CFR 1066 and 86 appendix I
LONGEST_THINNED_S = 3.0  # the step of a straight ramp; longer ones gain little


@dataclass(frozen=True, eq=False, slots=True)
class Trace:
    """Steps of a drive.

    step_s: length of each step, s, shape (n,).
    speed_m_s: speed at the ends of the steps, m/s, shape (n + 1,).
    grade: during each step, rise over run, shape (n,).
    heading_rad: where each step leads, clockwise from north, shape (n,); NaN where it is not known.
    look_s: how often slow physics is looked at on the way.
    """

    step_s: np.ndarray
    speed_m_s: np.ndarray
    grade: np.ndarray
    heading_rad: np.ndarray
    look_s: float = LOOK_S

    @property
    def path(self) -> tuple[np.ndarray, np.ndarray, np.ndarray, np.ndarray, np.recarray]:
        """The arrays in the order in which the march takes them."""
        return self.step_s, self.speed_m_s, self.grade, self.heading_rad, looks_of(self)

    @property
    def distance_m(self) -> float:
        """Trapezoidal sum."""
        return float(0.5 * np.sum((self.speed_m_s[1:] + self.speed_m_s[:-1]) * self.step_s))

    @property
    def climb_m(self) -> float:
        """Height of the end over the start, along the road for gentle grades."""
        return float(0.5 * np.sum((self.speed_m_s[1:] + self.speed_m_s[:-1]) * self.step_s * self.grade))

    @property
    def duration_s(self) -> float:
        """From first to last row."""
        return float(np.sum(self.step_s))


@lru_cache(maxsize=256)
def looks_of(trace: Trace) -> np.recarray:
    """The trace parted into stretches of at least `look_s`, rows of `rows.LOOK`; the last may be shorter.

    >>> trace = Trace(np.ones(25), np.ones(26), np.zeros(25), np.full(25, np.nan))
    >>> looks_of(trace).end, looks_of(trace).metres
    (array([10., 20., 25.]), array([10., 10.,  5.]))
    """
    ends, since_s = [], 0.0
    for k, seconds in enumerate(trace.step_s.tolist()):
        since_s += seconds
        if since_s >= trace.look_s:
            ends.append(k + 1)
            since_s = 0.0
    if since_s > 0.0:
        ends.append(len(trace.step_s))
    starts = np.array([0, *ends[:-1]])
    looks = table(LOOK, len(ends))
    looks.end = ends
    looks.seconds = np.add.reduceat(trace.step_s, starts)
    looks.metres = np.add.reduceat(0.5 * (trace.speed_m_s[1:] + trace.speed_m_s[:-1]) * trace.step_s, starts)
    looks.fastest_m_s = [trace.speed_m_s[a : b + 1].max() for a, b in zip(starts, ends, strict=True)]
    looks.warmth = [warmth(each) for each in (looks.metres / looks.seconds).tolist()]
    return looks


def merged(speed_m_s: np.ndarray, grade: np.ndarray) -> Trace:
    """A trace from one speed a second, shape (n + 1,), and one grade, shape (n,): standing and steady seconds joined.

    Nothing is lost: within a joined step neither speed nor grade changes.

    >>> merged(np.array([0.0, 0.0, 0.0, 1.0, 1.0, 1.0, 0.0]), np.zeros(6)).step_s
    array([2., 1., 2., 1.])
    """
    steady = speed_m_s[1:] == speed_m_s[:-1]
    starts = [0]
    for second in range(1, len(grade)):
        goes_on = steady[second] and steady[second - 1] and grade[second] == grade[second - 1]
        if not goes_on or second - starts[-1] >= LONGEST_STEP_S:
            starts.append(second)
    edges = np.array([*starts, len(grade)])
    step_s = np.diff(edges).astype(float)
    heading_rad = np.full(len(step_s), np.nan)
    return Trace(step_s, speed_m_s[edges].astype(float), grade[edges[:-1]].astype(float), heading_rad)


@lru_cache(maxsize=64)
def thinned(trace: Trace) -> Trace:
    """The same drive with fewer steps, for a car that is one of hundreds: seconds on a straight ramp joined.

    Speeds within a joined step are at most the last digit of a cycle's table off the straight line, standing stays
    apart from moving, and grade and heading do not change; slow physics is looked at less often. Range grows by 0.02 to
    0.3 %, for the smallest ripples are gone (tests/quotes/test_thinned.py).

    >>> speed = np.array([0.0, 0.0, 1.0, 2.01, 3.0, 4.0, 4.5, 0.0])
    >>> thinned(Trace(np.ones(7), speed, np.zeros(7), np.full(7, np.nan))).speed_m_s
    array([0. , 0. , 3. , 4. , 4.5, 0. ])
    """
    end_s = np.concatenate([[0.0], np.cumsum(trace.step_s)]).tolist()
    speed, grade, heading = trace.speed_m_s.tolist(), trace.grade.tolist(), trace.heading_rad.tolist()
    edges = [0]
    for k in range(1, len(grade)):
        first = edges[-1]
        same_road = grade[k] == grade[first] and headed_alike(heading[k], heading[first])
        if not same_road or not straight(end_s[first : k + 2], speed[first : k + 2]):
            edges.append(k)
    edges = np.array([*edges, len(grade)])
    starts = edges[:-1]
    step_s = np.diff(np.array(end_s)[edges])
    return Trace(step_s, trace.speed_m_s[edges], trace.grade[starts], trace.heading_rad[starts], LOOK_THINNED_S)


def headed_alike(one_rad: float, other_rad: float) -> bool:
    """The same way, or neither known."""
    return one_rad == other_rad or (math.isnan(one_rad) and math.isnan(other_rad))


def straight(time_s: list[float], speed_m_s: list[float]) -> bool:
    """True where speeds lie on one line within a digit, none too long, and the car either stands or moves."""
    length_s = time_s[-1] - time_s[0]
    if len(set(speed_m_s)) == 1:
        return length_s <= LONGEST_STEP_S
    if length_s > LONGEST_THINNED_S or min(speed_m_s[1:-1]) == 0.0:
        return False
    slope = (speed_m_s[-1] - speed_m_s[0]) / length_s
    line = (speed_m_s[0] + slope * (each - time_s[0]) for each in time_s)
    return all(abs(there - here) <= DIGIT_M_S for there, here in zip(line, speed_m_s, strict=True))


@lru_cache(maxsize=64)
def cycle_trace(cycle: Cycle) -> Trace:
    """A regulatory cycle on the level."""
    speed_m_s = np.array(cycle.speed_m_s, dtype=float)
    return merged(speed_m_s, np.zeros(len(speed_m_s) - 1))
