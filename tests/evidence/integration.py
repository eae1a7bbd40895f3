"""The time loop beside an independent SciPy integration of the same equations (slow: minutes of small steps)."""

import numpy as np

from service.catalogue import load_catalogue
from service.catalogue.evidence import Check, Mark
from service.physics.march import EVENT_KINDS, march_one
from service.physics.rows import EVENT, LEDGER, RECORD, table
from service.physics.tables import central_draw, start_state
from service.quotes.assume import complete
from service.quotes.scenarios import rows_for
from service.specs import Ask
from service.trips.journey import trace_of
from tests.evidence.checks import Source
from tests.published.test_march_reference import CASES, Continuous, ask_for

__all__ = ["cycles"]

SCIPY = Source("Time loop", "SciPy 1.17.1 solve_ivp, equations written again", Mark.COMPUTED)
MOST = 1e-3  # of the energy


def marched_j(ask: Ask) -> tuple[float, float]:
    """Energy from the cells over one cycle: the march, then SciPy."""
    catalogue = load_catalogue()
    values = {name: each.value for name, each in catalogue.typical.items()}
    (car,), (day,) = rows_for(complete(ask, catalogue)[0], catalogue, values)
    trace = trace_of(ask.journey, catalogue)
    ledger, events, record = table(LEDGER, 1), table(EVENT, len(EVENT_KINDS)), table(RECORD, 0)
    path = (trace.step_s, trace.speed_m_s, trace.grade)
    march_one(car, day, central_draw()[0], *path, start_state(ask.start, day)[0], ledger[0], events, record)
    speed_m_s = np.array(catalogue.cycle(ask.journey.cycle).speed_m_s)
    soaked = (ask.start.state_of_charge, day.ambient_k, 0.0, day.ambient_k, day.ambient_k)
    _, books = Continuous(car, day, speed_m_s).run(soaked, np.zeros(len(speed_m_s) - 1))
    return float(ledger[0].cells_j), books["cells"]


def cycles() -> list[Check]:
    """A mild, a cold and a cool cycle."""
    catalogue = load_catalogue()
    rows = []
    for case in CASES:
        vehicle, cycle, celsius, procedure, climate, charge = case.values
        ask = ask_for(catalogue.vehicles[vehicle], cycle, celsius, procedure, climate, charge)
        ours_j, theirs_j = marched_j(ask)
        condition = f"{cycle.split('_')[0].upper()} at {celsius} °C, {case.id}: energy from the cells"
        printed = f"{theirs_j / 3600:.1f}"
        rows.append(SCIPY.value(condition, printed, ours_j / 3600, "Wh", MOST * theirs_j / 3600))
    return rows
