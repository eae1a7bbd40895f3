"""One car with its driver, and many days of it: draws crossed, so that days are counted for a car and not across cars.

Method   what the band samples together is parted into what stays with a car and its driver (most factors) and what each
         day brings (temperature law of the tyres, air and wind along the way, the day's own temperature). Row (c, d) is
         car c on day d; car 0 is the typical one. Both parts are Latin hypercubes with the band's seed.
"""

from collections.abc import Mapping

import numpy as np

from service.physics.rows import DRAW, table
from service.quotes.band import hypercube, scatter
from service.specs import Ask, BodyAndTyres

__all__ = ["crossed_draws", "day_normals"]


def day_normals(days: int) -> np.ndarray:
    """How each day's temperature lies about its month's mean, in standard deviations; every quantile once."""
    return hypercube(days, len(DRAW.names) + 1)[:, -1]


def crossed_draws(ask: Ask, values: Mapping[str, float], cars: int, days: int) -> np.recarray:
    """A table of `rows.DRAW` of shape (1 + cars, days).

    Args:
        ask: completed; its temperature widens the scatter of the tyres as in a quote.
        cars: sampled ones beside the typical one.
    """
    whole = scatter(ask, values)
    parts = "parts" if isinstance(ask.vehicle.road_load, BodyAndTyres) else "measured"
    of_car = whole | {"tyre": values[f"scatter_tyre_{parts}"], "air": values[f"scatter_air_{parts}"], "wind": 0.0}
    car_cube = hypercube(cars, len(DRAW.names)) if cars else np.zeros((0, len(DRAW.names)))
    day_cube = hypercube(days, len(DRAW.names))
    draws = table(DRAW, (1 + cars) * days).reshape(1 + cars, days)
    for column, name in enumerate(DRAW.names):
        sigma_day = max(whole[name] ** 2 - of_car[name] ** 2, 0.0) ** 0.5
        car = np.concatenate([[0.0], of_car[name] * car_cube[:, column]])
        draws[name] = np.exp(car[:, None] + sigma_day * day_cube[:, column])
    return draws
