"""Cars, draws and chargers made by hand: a pack with a straight open-circuit voltage, which closed forms can follow."""

import numpy as np
import pytest

from service.charging.onboard import CHARGER
from service.physics.rows import CAR, DRAW, OCV_POINTS, table


def make_car(**fields) -> np.recarray:
    """An invented 18 kWh pack of 96 cells in series, no heater, unless told else."""
    car = table(CAR, 1)
    car.capacity_c, car.ocv_v = 50 * 3600.0, 96 * np.linspace(3.4, 4.2, OCV_POINTS)
    car.resistance_ohm, car.activation_j_mol = 0.1, 25e3
    car.max_v, car.charge_limit_a = 96 * 4.21, 75.0
    car.pack_j_k, car.pack_w_k = 180e3, 5.0
    for name, value in fields.items():
        car[name] = value
    return car


def make_draw(**fields) -> np.recarray:
    """A typical draw: every factor one."""
    draw = table(DRAW, 1)
    for name in DRAW.names:
        draw[name] = fields.get(name, 1.0)
    return draw


def make_charger(ac_w: float, conversion: float = 0.93, fixed_w: float = 200.0) -> np.recarray:
    """A charger that may draw `ac_w` at the socket."""
    charger = table(CHARGER, 1)
    charger.ac_w, charger.conversion, charger.fixed_w = ac_w, conversion, fixed_w
    return charger


@pytest.fixture(scope="session")
def build():
    """The three makers."""

    class Build:
        car, draw, charger = staticmethod(make_car), staticmethod(make_draw), staticmethod(make_charger)

    return Build
