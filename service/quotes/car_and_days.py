"""One car with its driver, and many days of it: draws crossed, so that days are counted for a car and not across cars.

Label    sampled cars of a car with a label are held to it, as a quote's draws are.
Method   what the band samples together is parted into what stays with a car and its driver (most factors) and what each
         day brings (temperature law of the tyres, air and wind along the way, the day's own temperature). Row (c, d) is
         car c on day d; car 0 is the typical one. Both parts are Latin hypercubes with the band's seed.
"""

from collections.abc import Mapping

import numpy as np

from service.physics.rows import DRAW, table
from service.quotes.band import hypercube, label_hypercube, scatter, scatter_apart
from service.quotes.label_draws import NO_DAY, held_logs
from service.specs import Ask

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
    of_car, of_day = scatter_apart(ask, values)
    of_day = of_day | {"wind": of_car["wind"], "usable": 0.0}  # age belongs to the car
    of_car = of_car | {"wind": 0.0, "usable": scatter(ask, values)["usable"]}
    day_cube = hypercube(days, len(DRAW.names))
    draws = table(DRAW, (1 + cars) * days).reshape(1 + cars, days)
    logs = np.concatenate([np.zeros((1, len(DRAW.names))), car_logs(ask, of_car, cars)])
    for column, name in enumerate(DRAW.names):
        draws[name] = np.exp(logs[:, column, None] + of_day.get(name, 0.0) * day_cube[:, column])
    return draws


def car_logs(ask: Ask, of_car: Mapping[str, float], cars: int) -> np.ndarray:
    """Logarithms of the factors of sampled cars, held to the label of a car that has one, shape (cars, factors)."""
    if not cars:
        return np.zeros((0, len(DRAW.names)))
    if ask.vehicle.anchor is not None:
        return held_logs(label_hypercube(cars), of_car, NO_DAY, ask.vehicle.anchor, ask.vehicle.label)
    return hypercube(cars, len(DRAW.names)) * np.array([of_car[name] for name in DRAW.names])
