"""State of health from the odometer, where nobody measured it.

Source   a motoring club holds cars to at least 92 % of new capacity at 50 000 km and 80 % at 200 000 km. Most cars do
         better, so half of that loss is taken as typical and the club's own line as what one car in twenty falls short
         of (common practice). UN GTR 22 only sets durability limits far below (from memory).
Form     loss = typical loss · 2^(z/1.645), z standard normal: never negative, the club's line at z = 1.645.
"""

import numpy as np

__all__ = ["TYPICAL_ODOMETER_M", "central_health", "club_health", "sampled_health"]

CLUB_ODOMETER_M = (0.0, 50e6, 200e6)
CLUB_HEALTH = (1.0, 0.92, 0.80)
TYPICAL_SHARE = 0.5  # of the club's loss: common practice
ONE_IN_TWENTY = 1.645  # normal distribution, one-sided 5 %
LEAST_HEALTH = 0.5  # end of the model's range
TYPICAL_ODOMETER_M = 60e6  # a car of four or five years: common practice


def club_health(odometer_m: float) -> float:
    """The club's lower line, 0.5…1; beyond 200 000 km its last slope goes on (extrapolated).

    >>> club_health(50e6), club_health(200e6), round(club_health(250e6), 3)
    (0.92, 0.8, 0.76)
    """
    (x1, x2), (y1, y2) = CLUB_ODOMETER_M[1:], CLUB_HEALTH[1:]
    if odometer_m > x2:
        return max(y2 + (y2 - y1) / (x2 - x1) * (odometer_m - x2), LEAST_HEALTH)
    return float(np.interp(odometer_m, CLUB_ODOMETER_M, CLUB_HEALTH))


def central_health(odometer_m: float) -> float:
    """State of health of the typical car, 0.75…1.

    >>> round(central_health(50e6), 2)
    0.96
    """
    return 1 - TYPICAL_SHARE * (1 - club_health(odometer_m))


def sampled_health(odometer_m: float, normal: np.ndarray) -> np.ndarray:
    """State of health of sampled cars, from standard normal numbers; never below 0.5."""
    loss = (1 - central_health(odometer_m)) * 2 ** (-normal / ONE_IN_TWENTY)
    return np.maximum(1 - loss, LEAST_HEALTH)
