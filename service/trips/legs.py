"""Legs to a drivable trace: cruise, ramp, stop.

Scope    level or graded stretches, each at one cruising speed with evenly spread stops; steady acceleration, braking.
         A leg too short for its cruising speed peaks below it. Between two legs without a stop the ramp lies in the
         faster one. The trace is piecewise linear in speed, so its trapezoidal distance is exact.
Source   1 m/s² for speeding up and braking and 15 s a stop: common practice for calm traffic.
"""

import math
from dataclasses import dataclass, replace
from functools import lru_cache
from itertools import pairwise

import numpy as np

from service.specs import Leg
from service.trips.trace import LONGEST_STEP_S, Trace

__all__ = ["legs_trace"]

ACCELERATION_M_S2 = 1.0  # common practice
BRAKING_M_S2 = 1.0  # common practice
STOP_S = 15.0  # common practice
RAMP_STEP_S = 1.0


@dataclass(frozen=True, slots=True)
class Run:
    """A stretch without a stop inside; `stops` says whether it ends standing."""

    distance_m: float
    cruise_m_s: float
    grade: float
    heading_rad: float  # NaN where not known
    stops: bool


def runs_of(legs: tuple[Leg, ...]) -> list[Run]:
    """Cut legs at their stops. The last run of a leg goes on into the next; the last of all stops."""
    runs = []
    for leg in legs:
        pieces = int(leg.stops_per_m * leg.distance_m + 0.5) + 1
        length_m = leg.distance_m / pieces
        heading_rad = math.nan if leg.heading_rad is None else leg.heading_rad
        through = Run(length_m, leg.speed_m_s, leg.grade, heading_rad, False)
        runs += [replace(through, stops=True)] * (pieces - 1) + [through]
    return [*runs[:-1], replace(runs[-1], stops=True)]


def boundary_speeds(runs: list[Run]) -> np.ndarray:
    """Speed at the ends of the runs, m/s, shape (n + 1,): reachable from before and leaving room to brake after."""
    speed = np.zeros(len(runs) + 1)
    for k, (run, following) in enumerate(pairwise(runs), 1):
        wanted = 0.0 if run.stops else min(run.cruise_m_s, following.cruise_m_s)
        speed[k] = min(wanted, (speed[k - 1] ** 2 + 2 * ACCELERATION_M_S2 * run.distance_m) ** 0.5)
    for k in range(len(runs) - 1, -1, -1):
        speed[k] = min(speed[k], (speed[k + 1] ** 2 + 2 * BRAKING_M_S2 * runs[k].distance_m) ** 0.5)
    return speed


def pieces_of(run: Run, entry_m_s: float, exit_m_s: float) -> list[tuple[float, float, float]]:
    """Ramp up, cruise, ramp down: (seconds, speed from, speed to), those of no length left out."""
    a, b = ACCELERATION_M_S2, BRAKING_M_S2
    reachable = ((2 * run.distance_m + entry_m_s**2 / a + exit_m_s**2 / b) / (1 / a + 1 / b)) ** 0.5
    peak = min(run.cruise_m_s, reachable)
    up_m, down_m = (peak**2 - entry_m_s**2) / (2 * a), (peak**2 - exit_m_s**2) / (2 * b)
    pieces = [
        ((peak - entry_m_s) / a, entry_m_s, peak),
        (max(run.distance_m - up_m - down_m, 0.0) / peak, peak, peak),
        ((peak - exit_m_s) / b, peak, exit_m_s),
    ]
    if run.stops:
        pieces.append((STOP_S, 0.0, 0.0))
    return [piece for piece in pieces if piece[0] > 1e-9]


@lru_cache(maxsize=64)
def legs_trace(legs: tuple[Leg, ...]) -> Trace:
    """Drive the legs one after the other, from rest to rest.

    Args:
        legs: at least one, each with distance and speed above zero.

    >>> round(legs_trace((Leg(10_000.0, 20.0, stops_per_m=0.001),)).distance_m, 6)
    10000.0
    """
    runs = runs_of(legs)
    step_s, speed_m_s, grade, heading_rad = [], [0.0], [], []
    for run, (entry_m_s, exit_m_s) in zip(runs, pairwise(boundary_speeds(runs)), strict=True):
        for seconds, low, high in pieces_of(run, entry_m_s, exit_m_s):
            longest = RAMP_STEP_S if low != high else LONGEST_STEP_S
            steps = int(np.ceil(seconds / longest - 1e-9))
            step_s += [seconds / steps] * steps
            speed_m_s += list(np.linspace(low, high, steps + 1)[1:])
            grade += [run.grade] * steps
            heading_rad += [run.heading_rad] * steps
    return Trace(np.array(step_s), np.array(speed_m_s), np.array(grade), np.array(heading_rad))
