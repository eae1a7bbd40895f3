"""How far the voltage of a supply may stray from its nominal one.

Scope    steady voltage where the supply enters the building, ten-minute means; no dips, no outages.
Source   ANSI C84.1 range A, service voltage: ±5 %. EN 50160: 230 V ±10 %. British supply regulations (ESQCR 2002, as
         amended): 230 V, +10 % and −6 %. All from memory. How often a voltage occurs between the ends is nowhere
         published for all supplies: a triangle with its peak at the nominal voltage is assumed.
"""

from collections.abc import Mapping
from types import MappingProxyType

import numpy as np

from service.specs import Circuit

__all__ = ["SUPPLY_SOURCE", "SUPPLY_TOLERANCE", "sampled_volts", "supply_ends_v"]

SUPPLY_TOLERANCE: Mapping[str, tuple[float, float]] = MappingProxyType(  # by region: below and above, shares of nominal
    {
        "north_america": (0.05, 0.05),  # ANSI C84.1 range A, service voltage; from memory
        "united_kingdom": (0.06, 0.10),  # ESQCR 2002; from memory
        "continental_europe": (0.10, 0.10),  # EN 50160; from memory
        "own": (0.10, 0.10),  # the widest of them
    }
)
SUPPLY_SOURCE: Mapping[str, str] = MappingProxyType(  # the same, as an answer names it
    {
        "north_america": "ANSI C84.1 range A, from memory",
        "united_kingdom": "British supply regulations (ESQCR 2002), from memory",
        "continental_europe": "EN 50160, from memory",
        "own": "as wide as EN 50160 allows, from memory",
    }
)


def supply_ends_v(circuit: Circuit) -> tuple[float, float, float]:
    """Lowest, nominal and highest voltage of a circuit's supply, V.

    >>> supply_ends_v(Circuit("a", "", "north_america", 120, 12))
    (114.0, 120.0, 126.0)
    """
    below, above = SUPPLY_TOLERANCE[circuit.region]
    return circuit.volts * (1 - below), float(circuit.volts), circuit.volts * (1 + above)


def sampled_volts(circuit: Circuit, uniform: np.ndarray) -> np.ndarray:
    """Voltages of a circuit's supply for draws between 0 and 1, V: quantiles of the triangle, same shape.

    >>> sampled_volts(Circuit("a", "", "north_america", 120, 12), np.array([0.0, 0.5, 1.0]))
    array([114., 120., 126.])
    """
    low_v, peak_v, high_v = supply_ends_v(circuit)
    uniform, width_v = np.asarray(uniform, dtype=float), high_v - low_v
    rising = low_v + np.sqrt(uniform * width_v * (peak_v - low_v))
    falling = high_v - np.sqrt((1 - uniform) * width_v * (high_v - peak_v))
    return np.where(uniform < (peak_v - low_v) / width_v, rising, falling)
