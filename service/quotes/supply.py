"""How a supply's voltage enters an answer: one voltage a draw, and what is listed of it.

Scope    charging in a household or depot; a laboratory's supply is held at its nominal voltage.
Source   ends by region: `charging.supply`. Between them a triangle with its peak at the nominal voltage, own choice.
"""

from functools import lru_cache

import numpy as np

from service.charging.supply import SUPPLY_SOURCE, sampled_volts, supply_ends_v
from service.physics.rows import DRAW
from service.quotes.answer import Assumption
from service.quotes.band import hypercube
from service.quotes.label_draws import EXTRA
from service.specs import Ask, Circuit, Procedure

__all__ = ["supply_assumption", "supply_listed", "supply_volts"]

COLUMN = len(DRAW.names) + 1 + EXTRA  # of the hypercube: after the factors, a pack's health and what labels need
EVEN = "between its ends the nominal voltage is taken as the likeliest"


def supply_volts(ask: Ask, draws: int) -> np.ndarray:
    """Voltage of the supply in the central row and in each draw, V, shape (1 + draws,); the first is nominal."""
    circuit = ask.circuit
    if draws == 0 or ask.procedure is Procedure.DYNAMOMETER:
        return np.full(1 + draws, float(circuit.volts))
    return np.concatenate([[circuit.volts], sampled_volts(circuit, supply_uniform(draws))])


@lru_cache(maxsize=4)
def supply_uniform(draws: int) -> np.ndarray:
    """Numbers between 0 and 1, one in the middle of each of so many equal slices, in an order that follows nothing."""
    ranks = np.argsort(np.argsort(hypercube(draws, COLUMN + 1)[:, COLUMN]))
    uniform = (ranks + 0.5) / draws
    uniform.flags.writeable = False
    return uniform


def supply_assumption(circuit: Circuit) -> Assumption:
    """What is taken for the supply's voltage, as it stands among the assumptions."""
    low_v, _, high_v = supply_ends_v(circuit)
    source = f"{SUPPLY_SOURCE[circuit.region]}; {EVEN}"
    return Assumption(
        "voltage of the supply", f"{circuit.volts:g} V, steadily {low_v:.0f} to {high_v:.0f} V", "", source
    )


def supply_listed(ask: Ask) -> tuple[Assumption, ...]:
    """The same where a completed question's band rests on it."""
    sampled = ask.circuit is not None and ask.band and ask.procedure is Procedure.ROAD
    return (supply_assumption(ask.circuit),) if sampled else ()
