"""The parked car: how warm it stands, and how far a charge gets before it leaves again.

Scope    outside or in an unheated garage; one charging session cut short by the clock.
Method   a session knows its time to a given charge; the charge of a given time is found by repeated proportion, which
         meets it in two or three steps because the power hardly changes. Sessions that are not cut short are untouched.
"""

from dataclasses import dataclass
from enum import StrEnum

import numpy as np

from service.charging import sessions
from service.charging.session import FULL, NO_POWER

__all__ = ["GARAGE_AIMS_K", "Charged", "Overnight", "charged_within", "rest_k"]

GARAGE_AIMS_K = 288.15  # an unheated garage stands half-way between the day and 15 °C: common practice
CLOSE = 0.01  # of the time: nearer than anyone plugs in
STEPS = 8
LEAST_GAIN = 1e-6  # of the window


class Overnight(StrEnum):
    """Where the car spends the night."""

    OUTSIDE = "outside"
    GARAGE = "garage"


@dataclass(frozen=True, eq=False, slots=True)
class Charged:
    """What the time at a plug did, a row a car."""

    charge: np.ndarray  # at leaving; the target itself where the session ended
    wall_j: np.ndarray
    terminals_j: np.ndarray
    seconds: np.ndarray  # that the whole charge would take, cut short or not


def rest_k(ambient_k: float, overnight: Overnight) -> float:
    """Temperature around and in the parked car, K.

    >>> rest_k(268.15, Overnight.GARAGE), rest_k(268.15, Overnight.OUTSIDE)
    (278.15, 268.15)
    """
    return 0.5 * (ambient_k + GARAGE_AIMS_K) if overnight is Overnight.GARAGE else ambient_k


def charged_within(cars, draws, charger, charge, target: float, ambient_k, pack_k, within_s: float) -> Charged:
    """Charge from `charge` towards `target` for at most `within_s`.

    Args:
        cars, charger: a row each; draws: a row a session.
        charge, ambient_k, pack_k: arrays, a value a session.
    A socket that only just feeds the charger's overhead gives nothing, and takes nothing.
    """
    whole = sessions(cars, draws, charger, charge, target, ambient_k, pack_k)
    stuck = whole.ended == NO_POWER
    reached = np.where(whole.ended == FULL, target, np.maximum(whole.charge, charge))
    out = Charged(np.where(stuck, charge, reached), whole.wall_j.copy(), whole.terminals_j.copy(), whole.seconds.copy())
    late = np.flatnonzero(~stuck & (whole.seconds > within_s))
    if late.size:
        _cut_short(out, cars, draws, charger, charge, ambient_k, pack_k, late, within_s)
    out.seconds[stuck] = np.inf
    return out


def _cut_short(
    out: Charged, cars, draws, charger, charge, ambient_k, pack_k, late: np.ndarray, within_s: float
) -> None:
    """Find what the sessions of the rows `late` reach in time, and write it; a cold pack is heated first."""
    start = charge[late]
    gain, seconds, heating_s = out.charge[late] - start, out.seconds[late], np.zeros(late.size)
    for _ in range(STEPS):
        share = np.maximum(within_s - heating_s, 0.0) / np.maximum(seconds - heating_s, 1.0)
        gain = np.maximum(gain * share, LEAST_GAIN)
        found = sessions(cars, draws[late], charger, start, start + gain, ambient_k[late], pack_k[late])
        seconds, heating_s = found.seconds, found.heating_s
        if np.all(np.abs(seconds - within_s) <= CLOSE * within_s):
            break
    in_time = np.minimum(within_s / np.maximum(seconds, 1.0), 1.0)  # below one where the time went into heating
    out.charge[late] = np.where(heating_s < within_s, found.charge, start)
    out.wall_j[late], out.terminals_j[late] = found.wall_j * in_time, found.terminals_j * in_time
