"""A recorded track as a drivable trace, turned round, and two as one.

Scope    a `Track` has been cleaned already (`recorded`); here it is only brought to the form in which the march drives.
         A recording that starts or ends moving gets a level ramp from and to rest, as long as legs have.
Source   1 m/s² for speeding up and braking: common practice for calm traffic.
"""

import math
from functools import lru_cache

import numpy as np

from service.specs import Track
from service.trips.legs import ACCELERATION_M_S2, BRAKING_M_S2, RAMP_STEP_S
from service.trips.trace import LONGEST_STEP_S, Trace

__all__ = ["one_after_the_other", "track_trace", "turned"]


@lru_cache(maxsize=16)
def track_trace(track: Track) -> Trace:
    """Drive a track from rest to rest.

    Between two knots more than `LONGEST_STEP_S` apart the step is divided; distance and speed are the track's own.

    >>> track_trace(Track((0.0, 1.0, 31.0), (0.0, 2.0, 2.0))).step_s
    array([ 1., 10., 10., 10.,  1.,  1.])
    """
    time_s, speed = np.array(track.time_s), np.array(track.speed_m_s)
    seconds = np.diff(time_s)
    pieces = np.maximum(np.ceil(seconds / LONGEST_STEP_S - 1e-9).astype(int), 1)
    step_s = np.repeat(seconds / pieces, pieces)
    at_s = np.concatenate([time_s[:1], time_s[0] + np.cumsum(step_s)])
    grade = np.array(track.grade) if track.grade else np.zeros(len(seconds))
    heading = np.array(track.heading_rad) if track.heading_rad else np.full(len(seconds), math.nan)
    up, down = ramp(speed[0] / ACCELERATION_M_S2), ramp(speed[-1] / BRAKING_M_S2)
    driven = np.interp(at_s, time_s, speed)
    rising = np.linspace(0.0, speed[0], len(up) + 1)[:-1]
    falling = np.linspace(speed[-1], 0.0, len(down) + 1)[1:]
    grade, heading = np.repeat(grade, pieces), np.repeat(heading, pieces)
    return Trace(
        step_s=np.concatenate([up, step_s, down]),
        speed_m_s=np.concatenate([rising, driven, falling]),
        grade=np.concatenate([np.zeros(len(up)), grade, np.zeros(len(down))]),
        heading_rad=np.concatenate([np.full(len(up), heading[0]), heading, np.full(len(down), heading[-1])]),
    )


def ramp(seconds: float) -> np.ndarray:
    """Steps of a ramp that takes so long; none where there is nothing to ramp."""
    steps = math.ceil(seconds / RAMP_STEP_S - 1e-9)
    return np.full(steps, seconds / max(steps, 1))


def turned(track: Track) -> Track:
    """The same road the other way, each place at the same speed.

    >>> turned(Track((0.0, 1.0, 3.0), (0.0, 1.0, 5.0), (0.01, 0.02))).grade
    (-0.02, -0.01)
    """
    end_s = track.time_s[-1]
    return Track(
        tuple(end_s - at_s for at_s in reversed(track.time_s)),
        tuple(reversed(track.speed_m_s)),
        tuple(-grade for grade in reversed(track.grade)),
        tuple((heading + math.pi) % (2 * math.pi) for heading in reversed(track.heading_rad)),
    )


def one_after_the_other(*tracks: Track) -> Track:
    """Several as one, each from rest to rest; the next starts as soon as the one before has come to rest.

    >>> one_after_the_other(Track((0.0, 2.0), (0.0, 1.0)), Track((0.0, 2.0), (0.0, 0.0))).speed_m_s
    (0.0, 1.0, 0.0, 0.0)
    """
    traces = [track_trace(track) for track in tracks]
    steps = np.concatenate([trace.step_s for trace in traces])
    speed = np.concatenate([[0.0], *(trace.speed_m_s[1:] for trace in traces)])
    return Track(
        (0.0, *np.cumsum(steps).tolist()),
        tuple(speed.tolist()),
        tuple(np.concatenate([trace.grade for trace in traces]).tolist()),
        tuple(np.concatenate([trace.heading_rad for trace in traces]).tolist()),
    )
