"""A trace: speed, grade and heading against time, from rest to rest, ready for the march."""

from dataclasses import dataclass

import numpy as np

from service.specs import Cycle

__all__ = ["LONGEST_STEP_S", "Trace", "cycle_trace", "merged"]

LONGEST_STEP_S = 10  # steps of unchanging speed and grade are joined up to this length


@dataclass(frozen=True, eq=False, slots=True)
class Trace:
    """Steps of a drive.

    step_s: length of each step, s, shape (n,).
    speed_m_s: speed at the ends of the steps, m/s, shape (n + 1,).
    grade: during each step, rise over run, shape (n,).
    heading_rad: where each step leads, clockwise from north, shape (n,); NaN where it is not known.
    """

    step_s: np.ndarray
    speed_m_s: np.ndarray
    grade: np.ndarray
    heading_rad: np.ndarray

    @property
    def path(self) -> tuple[np.ndarray, np.ndarray, np.ndarray, np.ndarray]:
        """The arrays in the order in which the march takes them."""
        return self.step_s, self.speed_m_s, self.grade, self.heading_rad

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


def cycle_trace(cycle: Cycle) -> Trace:
    """A regulatory cycle on the level."""
    speed_m_s = np.array(cycle.speed_m_s, dtype=float)
    return merged(speed_m_s, np.zeros(len(speed_m_s) - 1))
