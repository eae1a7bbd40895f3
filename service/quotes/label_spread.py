"""What a label leaves open of a car: the spread of each figure over the draws that all give the label.

Scope    the car alone; driver, wind, traffic and the day's tyres are left out. Same draws as in a quote's band.
"""

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from service.physics.rows import DRAW
from service.quotes.answer import Band
from service.quotes.band import ROWS, label_hypercube, scatter_apart
from service.quotes.label_checks import KWH_100_KM
from service.quotes.label_draws import NO_DAY, held_logs
from service.quotes.label_fit import label_figures
from service.quotes.procedure_run import Measured
from service.specs import Ask, BodyAndTyres, Journey, Procedure, Vehicle, Weather
from service.units import KWH_J

__all__ = ["Spread", "car_draws", "spread_of"]


@dataclass(frozen=True, slots=True)
class Spread:
    """One figure: nine in ten cars with this label have at least p10, one in ten at least p90."""

    parameter: str
    unit: str
    band: Band


def car_draws(
    vehicle: Vehicle, values: Mapping[str, float], rows: int = ROWS, normals: np.ndarray | None = None
) -> np.ndarray:
    """Factors of draws of an anchored car alone, driver as in a laboratory, shape (rows, factors of `DRAW`)."""
    ask = Ask(vehicle, Journey(), Weather(296.15), Procedure.DYNAMOMETER)
    car, _ = scatter_apart(ask, values)
    drawn = label_hypercube(rows) if normals is None else normals
    return np.exp(held_logs(drawn, car, NO_DAY, vehicle.anchor, vehicle.label))


def spread_of(vehicle: Vehicle, measured: Measured, values: Mapping[str, float]) -> tuple[Spread, ...]:
    """The figures of an anchored car that a label tells something of."""
    factors = car_draws(vehicle, values)
    of = {name: factors[:, column] for column, name in enumerate(DRAW.names)}
    load = vehicle.road_load
    if isinstance(load, BodyAndTyres):
        drag = (("drag area", "m2", load.cd_a_m2, "air"), ("rolling resistance at 25 °C", "1", load.crr, "tyre"))
    else:
        drag = (
            ("air drag over the fitted coefficient", "1", 1.0, "air"),
            ("rolling drag over the fitted coefficient", "1", 1.0, "tyre"),
        )
    lines = (
        *drag,
        ("drivetrain losses over typical ones", "1", vehicle.drive_loss or 1.0, "loss"),
        ("losses of the onboard charger over typical ones", "1", vehicle.charger_loss or 1.0, "charger"),
        ("usable energy of the battery", "kWh", vehicle.battery.usable_j / KWH_J, "usable"),
    )
    combined, _, _ = label_figures(measured, vehicle.label)
    answer = np.array(vehicle.anchor.combined)
    moved = (factors[:, [DRAW.names.index(name) for name in vehicle.anchor.factors]] - 1) @ answer
    consumption = combined[0] / KWH_100_KM * (1 + moved)
    return (
        Spread("consumption in the label's own test", "kWh/100 km", quantiles(consumption, combined[0] / KWH_100_KM)),
        *(Spread(name, unit, quantiles(value * of[factor], value)) for name, unit, value, factor in lines),
    )


def quantiles(drawn: np.ndarray, middle: float) -> Band:
    """The tenth and ninetieth per cent around the car itself."""
    low, high = np.quantile(drawn, (0.1, 0.9))
    return Band(float(low), float(middle), float(high))
