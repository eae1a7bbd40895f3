"""One drive each for many scenarios: a trace marched once a row, from wherever its state stands.

Shape    as in `scenarios`: cars, days and draws are tables, three index columns join them.
"""

from dataclasses import dataclass

import numpy as np

from service.physics.compiled import compiled
from service.physics.march import EVENT_KINDS, march_one
from service.physics.precondition import warm_rows_j
from service.physics.rows import CAR, DAY, DRAW, EVENT, LEDGER, RECORD, START, STATE, table
from service.trips.trace import Trace

__all__ = ["Driven", "Joined", "drive_once", "warm_up"]


@dataclass(frozen=True, eq=False, slots=True)
class Joined:
    """Tables, and the columns that join them."""

    cars: np.recarray
    days: np.recarray
    draws: np.recarray
    car_of: np.ndarray
    day_of: np.ndarray
    draw_of: np.ndarray


@dataclass(frozen=True, eq=False, slots=True)
class Driven:
    """What one drive gave, a row a scenario."""

    ledgers: np.recarray
    ended: np.ndarray  # march's COMPLETED, EMPTY or STUCK
    preheat_j: np.ndarray  # drawn on the wall before leaving, at the pack's terminals


@compiled
def march_rows(
    cars,
    days,
    draws,
    car_of,
    day_of,
    draw_of,
    path,
    states,
    ledgers,
    events,
    starts,
    recorder,
    ended,
):
    """`march_one` for every row, one after the other; writes states, ledgers, events and `ended`."""
    for row in range(len(ended)):
        ended[row] = march_one(
            cars[car_of[row]],
            days[day_of[row]],
            draws[draw_of[row]],
            path,
            states[row],
            ledgers[row],
            events[row],
            starts,
            recorder,
        )


def drive_once(joined: Joined, trace: Trace, states: np.recarray, precondition: bool) -> Driven:
    """Drive the trace once in every row.

    Args:
        states: rows of `rows.STATE`, continued and written.
        precondition: bring every cabin to its set point on the wall first.
    """
    rows = len(joined.draw_of)
    columns = (joined.cars, joined.days, joined.draws, joined.car_of, joined.day_of, joined.draw_of)
    preheat_j = np.zeros(rows)
    if precondition:
        warm_rows_j(*columns, states, np.ones(rows, bool), preheat_j)
    ledgers, ended = table(LEDGER, rows), np.zeros(rows, np.int64)
    events = table(EVENT, rows * len(EVENT_KINDS)).reshape(rows, len(EVENT_KINDS))
    march_rows(*columns, trace.path, states, ledgers, events, table(START, 0), table(RECORD, 0), ended)
    return Driven(ledgers, ended, preheat_j)


def warm_up(trace: Trace) -> None:
    """No drive at all, so that nothing is compiled while somebody waits."""
    nothing = np.zeros(0, np.int64)
    joined = Joined(table(CAR, 0), table(DAY, 0), table(DRAW, 0), nothing, nothing, nothing)
    drive_once(joined, trace, table(STATE, 0), precondition=True)
