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
from service.quotes.label_draws import EXTRA, held_logs, mixing
from service.specs import Ask, BodyAndTyres, Outfit, Procedure

__all__ = ["ROWS", "band_of", "draws_for", "label_hypercube", "mixing_for", "scatter", "scatter_apart"]

ROWS = 256
TRIES = 40
SEED = 20_261  # any fixed number: the same question gets the same answer
EXTRAPOLATED_BELOW_K = 278.15  # 5 °C: tyre slopes were measured above (UN GTR 15)
ROOF_BOX_SIGMA = 0.04  # of the drag area: 10-25 % more, common practice
TRAILER_SIGMA = 0.4  # of what a trailer adds where only its mass is known: from memory
EXTRAPOLATED_PER_K = 1 / 15  # spread of the temperature law doubles 15 K below that: common practice


@lru_cache(maxsize=8)
def hypercube(rows: int, columns: int) -> np.ndarray:
    """Standard normal Latin hypercube, shape (rows, columns): one draw in each of `rows` equal slices of a column.

    Of several orders of a column beyond the factors the one is taken that follows the columns before it least: the
    health of a pack must not follow the driver's speed by chance. More columns leave the first ones as they are.
    """
    generator = np.random.default_rng(SEED)
    normal = NormalDist()
    middles = np.array([normal.inv_cdf((k + 0.5) / rows) for k in range(rows)])
    cube = np.empty((rows, columns))
    for column in range(columns):
        tries = np.stack([generator.permutation(middles) for _ in range(TRIES if column >= len(DRAW.names) else 1)])
        follows = np.abs(tries @ cube[:, :column]).max(axis=1, initial=0.0)
        cube[:, column] = tries[follows.argmin()]
    cube.flags.writeable = False
    return cube


def scatter(ask: Ask, values: Mapping[str, float]) -> dict[str, float]:
    """One sigma of each factor of a draw, as a share; of a car with a label, before the label is looked at."""
    car, day = scatter_apart(ask, values)
    return {name: float(np.hypot(sigma, day.get(name, 0.0))) for name, sigma in car.items()}


def scatter_apart(ask: Ask, values: Mapping[str, float]) -> tuple[dict[str, float], dict[str, float]]:
    """The same, what belongs to car and driver apart from what the day adds to tyre and air, and age to the pack."""
    parts = "parts" if isinstance(ask.vehicle.road_load, BodyAndTyres) else "measured"
    guessed = ask.vehicle.anchor is not None and ask.vehicle.anchor.drag_guessed
    cold_k = max(EXTRAPOLATED_BELOW_K - ask.weather.ambient_k, 0.0)
    rolls = ask.procedure is Procedure.DYNAMOMETER
    driver = values["scatter_driver_laboratory"]
    new, aged = values["scatter_usable_new"], values["scatter_usable_aged"]
    car = {
        "tyre": values["scatter_tyre_class" if ask.outfit.tyre_class else f"scatter_tyre_{parts}"],
        "air": values["scatter_air_label" if guessed else f"scatter_air_{parts}"],
        "loss": values["scatter_loss"],
        "usable": new,
        "resistance": values["scatter_resistance"],
        "heat": values["scatter_heat"],
        "auxiliary": values["scatter_auxiliary"],
        "speed": driver if rolls else values["scatter_speed"],
        "acceleration": driver if rolls else values["scatter_acceleration"],
        "wind": 0.0 if rolls else values["scatter_wind"],
        "charger": values["scatter_charger"],
    }
    day = {
        "tyre": values["scatter_tyre_day"] * (1 + EXTRAPOLATED_PER_K * cold_k),
        "air": 0.0 if rolls else float(np.hypot(values["scatter_air_day"], carried_air_scatter(ask.outfit, values))),
        "usable": float(np.sqrt(max(aged**2 - new**2, 0.0))) if ask.start.state_of_health < 1 else 0.0,
    }
    return car, day


def carried_air_scatter(outfit: Outfit, values: Mapping[str, float]) -> float:
    """What is not known of the drag of box and trailer, as a share of the whole drag area (a mid-size car's)."""
    box = ROOF_BOX_SIGMA if outfit.roof_box else 0.0
    trailer = 0.0
    if outfit.trailer is not None:
        added_m2 = outfit.trailer.cd_a_m2
        trailer = TRAILER_SIGMA * added_m2 / (values["cd_a_medium_m2"] + added_m2)
    return float(np.hypot(box, trailer))


def draws_for(ask: Ask, values: Mapping[str, float], rows: int = ROWS) -> np.recarray:
    """A table of `rows.DRAW`, `rows` long; of an anchored car each draw gives its label, see `label_draws`."""
    draws = table(DRAW, rows)
    if ask.vehicle.anchor is not None:
        cube = label_hypercube(rows)
        logs = held_logs(cube, *scatter_apart(ask, values), ask.vehicle.anchor, ask.vehicle.label)
    else:
        sigma = scatter(ask, values)
        logs = hypercube(rows, len(DRAW.names)) * np.array([sigma[name] for name in DRAW.names])
    factors = np.exp(logs)
    for column, name in enumerate(DRAW.names):
        draws[name] = factors[:, column]
    return draws


def label_hypercube(rows: int) -> np.ndarray:
    """Columns for the factors, and those that a label and the day need besides.

    The column after the factors is the health of a complained car's pack (`diagnosis.bench`), so it is left out.
    """
    cube = hypercube(rows, len(DRAW.names) + 1 + EXTRA)
    return np.delete(cube, len(DRAW.names), axis=1)


def mixing_for(ask: Ask, values: Mapping[str, float]) -> np.ndarray | None:
    """How the normals of `label_hypercube` make the factors of an anchored car, first order; None for any other."""
    anchor = ask.vehicle.anchor
    if anchor is None:
        return None
    car, day = scatter_apart(ask, values)
    return mixing(tuple(car.items()), tuple(day.items()), anchor, ask.vehicle.label)


def band_of(central: float, sampled: np.ndarray) -> Band:
    """The typical car in the middle, the draws' tenth and ninetieth per cent around it; no ends without draws."""
    if len(sampled) == 0:
        return Band(None, float(central), None)
    last = len(sampled) - 1
    low, high = np.interp((0.1 * last, 0.9 * last), np.arange(last + 1), np.sort(sampled))  # np.quantile, quicker
    return Band(float(min(low, central)), float(central), float(max(high, central)))
