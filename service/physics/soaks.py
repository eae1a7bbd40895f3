"""The same trip again and again with a soak in between, until the pack cannot give another one.

Scope    every trip starts with cabin, tyres and pack at the temperature of the day; only the charge is carried on.
         Every trip is marched: none is like the one before, for the pack's loss grows as it empties.
Leaves   what a parked car draws while it soaks.
"""

import numpy as np

from service.physics.compiled import compiled
from service.physics.march import COMPLETED, march_one
from service.physics.rows import LEDGER, STATE

__all__ = ["MOST_TRIPS", "SOAKED", "SOAKED_ROWS", "drive_soaked_trips", "state_view"]

MOST_TRIPS = 1000  # a trip that hardly uses energy would never end
SOAKED, WORK = 0, 1
SOAKED_ROWS = 2
CHARGE = STATE.names.index("charge")
CELLS = LEDGER.names.index("cells_j")


def state_view(states: np.recarray) -> np.ndarray:
    """The same memory as plain numbers: one more axis, in the order of `STATE.names`."""
    return states.view(np.ndarray).view("f8").reshape(*states.shape, len(STATE.names))


@compiled
def drive_soaked_trips(
    car,
    day,
    draw,
    path,
    state,
    flat_state,
    fresh,
    ledgers,
    flat,
    events,
    starts,
    recorder,
):
    """Whole trips that one charge gives.

    Args:
        state, flat_state: row of `rows.STATE` at the first start, and its `state_view`.
        fresh: numbers of a soaked state, in the order of `STATE.names`.
        ledgers, flat: `SOAKED_ROWS` rows of zeros and their `laps.flat_view`; `SOAKED` receives the whole trips, or
            the part driven of the first where not one is finished.
        events, starts, recorder: as in `march_one`.
    Returns how many trips were finished.
    """
    trips = 0
    while trips < MOST_TRIPS:
        for k in range(len(fresh)):
            if k != CHARGE:
                flat_state[k] = fresh[k]
        flat[WORK] = 0.0
        ended = march_one(car, day, draw, path, state, ledgers[WORK], events, starts, recorder)
        if ended == COMPLETED or trips == 0:
            flat[SOAKED] += flat[WORK]
        if ended != COMPLETED:
            break
        trips += 1
        if flat[WORK, CELLS] <= 0.0:  # it gains charge: any number of them
            return MOST_TRIPS
    return trips
