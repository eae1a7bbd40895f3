"""The band: what is not known of this car, this driver and this day, sampled.

Method   Latin hypercube of `ROWS` draws with a fixed seed, log-normal factors around one, so the typical car is the
         median of each input. The answer's middle is the typical car itself; the ends are the tenth and ninetieth
         per cent of the draws.
Source   one-sigma priors: rows scatter_* of data/typical.csv.
"""

from collections.abc import Mapping
from functools import lru_cache
from statistics import NormalDist

import numpy as np

from service.physics.rows import DRAW, table
from service.quotes.answer import Band
from service.specs import Ask, BodyAndTyres, Outfit, Procedure

__all__ = ["ROWS", "band_of", "draws_for", "scatter"]

ROWS = 256
SEED = 20_261  # any fixed number: the same question gets the same answer
EXTRAPOLATED_BELOW_K = 278.15  # 5 °C: tyre slopes were measured above (UN GTR 15)
ROOF_BOX_SIGMA = 0.04  # of the drag area: 10-25 % more, common practice
TRAILER_SIGMA = 0.4  # of what a trailer adds where only its mass is known: from memory
EXTRAPOLATED_PER_K = 1 / 15  # spread of the temperature law doubles 15 K below that: common practice


@lru_cache(maxsize=8)
def hypercube(rows: int, columns: int) -> np.ndarray:
    """Standard normal Latin hypercube, shape (rows, columns): one draw in each of `rows` equal slices of a column."""
    generator = np.random.default_rng(SEED)
    normal = NormalDist()
    middles = np.array([normal.inv_cdf((k + 0.5) / rows) for k in range(rows)])
    cube = np.stack([generator.permutation(middles) for _ in range(columns)], axis=1)
    cube.flags.writeable = False
    return cube


def scatter(ask: Ask, values: Mapping[str, float]) -> dict[str, float]:
    """One sigma of each factor of a draw, as a share."""
    outfit, rolls = ask.outfit, ask.procedure is Procedure.DYNAMOMETER
    parts = "parts" if isinstance(ask.vehicle.road_load, BodyAndTyres) else "measured"
    cold_k = max(EXTRAPOLATED_BELOW_K - ask.weather.ambient_k, 0.0)
    day = values["scatter_tyre_day"] * (1 + EXTRAPOLATED_PER_K * cold_k)
    aged = "aged" if ask.start.state_of_health < 1 else "new"
    tyre = values["scatter_tyre_class" if outfit.tyre_class else f"scatter_tyre_{parts}"]
    air = np.hypot(values[f"scatter_air_{parts}"], 0.0 if rolls else values["scatter_air_day"])
    driver = values["scatter_driver_laboratory"]
    return {
        "tyre": float(np.hypot(tyre, day)),
        "air": float(np.hypot(air, 0.0 if rolls else carried_air_scatter(outfit, values))),
        "loss": values["scatter_loss"],
        "usable": values[f"scatter_usable_{aged}"],
        "resistance": values["scatter_resistance"],
        "heat": values["scatter_heat"],
        "auxiliary": values["scatter_auxiliary"],
        "speed": driver if rolls else values["scatter_speed"],
        "acceleration": driver if rolls else values["scatter_acceleration"],
        "wind": 0.0 if rolls else values["scatter_wind"],
        "charger": values["scatter_charger"],
    }


def carried_air_scatter(outfit: Outfit, values: Mapping[str, float]) -> float:
    """What is not known of the drag of box and trailer, as a share of the whole drag area (a mid-size car's)."""
    box = ROOF_BOX_SIGMA if outfit.roof_box else 0.0
    trailer = 0.0
    if outfit.trailer is not None:
        added_m2 = outfit.trailer.cd_a_m2
        trailer = TRAILER_SIGMA * added_m2 / (values["cd_a_medium_m2"] + added_m2)
    return float(np.hypot(box, trailer))


def draws_for(ask: Ask, values: Mapping[str, float], rows: int = ROWS) -> np.recarray:
    """A table of `rows.DRAW`, `rows` long."""
    sigma = scatter(ask, values)
    cube = hypercube(rows, len(DRAW.names))
    draws = table(DRAW, rows)
    for column, name in enumerate(DRAW.names):
        draws[name] = np.exp(sigma[name] * cube[:, column])
    return draws


def band_of(central: float, sampled: np.ndarray) -> Band:
    """The typical car in the middle, the draws' tenth and ninetieth per cent around it; no ends without draws."""
    if len(sampled) == 0:
        return Band(None, float(central), None)
    low, high = np.quantile(sampled, (0.1, 0.9))
    return Band(float(min(low, central)), float(central), float(max(high, central)))
