"""The time loop beside an independent SciPy integration of the same equations (slow: minutes of small steps)."""

from dataclasses import replace

import numpy as np

from service.catalogue import Catalogue, load_catalogue
from service.catalogue.evidence import Check, Mark
from service.quotes.assume import complete
from service.quotes.scenarios import run, scenarios_for
from service.specs import Ask
from tests.evidence.checks import Source
from tests.published.test_march_reference import CASES, Continuous, ask_for

__all__ = ["cycles"]

SCIPY = Source("Time loop", "SciPy 1.17.1 solve_ivp, equations written again", Mark.COMPUTED)
MOST = 1e-3  # of the energy


def cycle_j(ask: Ask, catalogue: Catalogue) -> tuple[float, float]:
    """Energy from the cells over the first cycle: as a quote marches it, then by SciPy."""
    values = {name: each.value for name, each in catalogue.typical.items()}
    filled = complete(replace(ask, band=False), catalogue)[0]
    scenarios = scenarios_for(filled, (), catalogue, values)
    car, day = scenarios.cars[0], scenarios.days[0]
    speed_m_s = np.array(catalogue.cycle(ask.journey.cycle).speed_m_s)
    soaked = (ask.start.state_of_charge, day.ambient_k, 0.0, day.ambient_k, day.ambient_k, 0.0)
    _, books = Continuous(car, day, speed_m_s).run(soaked, np.zeros(len(speed_m_s) - 1))
    return float(run(scenarios, filled, catalogue).first.cells_j[0]), books["cells"]


def cycles() -> list[Check]:
    """A mild, a cold and a cool cycle."""
    catalogue = load_catalogue()
    rows = []
    for case in CASES:
        vehicle, cycle, celsius, procedure, climate, charge = case.values
        ask = ask_for(catalogue.vehicles[vehicle], cycle, celsius, procedure, climate, charge)
        ours_j, theirs_j = cycle_j(ask, catalogue)
        condition = f"{cycle.split('_')[0].upper()} at {celsius} °C, {case.id}: energy from the cells"
        printed = f"{theirs_j / 3600:.1f}"
        rows.append(SCIPY.value(condition, printed, ours_j / 3600, "Wh", MOST * theirs_j / 3600))
    return rows
