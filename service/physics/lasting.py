"""How long a charge lasts at a steady draw, and ready and not moving.

Scope    one lumped pack as in `battery`; the cabin as in `cabin`. Nothing drives.
"""

import numpy as np

from service.physics.auxiliaries import electronics_w
from service.physics.battery import (
    open_circuit_v,
    pack_current_a,
    pack_heater_w,
    pack_resistance_ohm,
    pack_temperature_after_k,
)
from service.physics.cabin import climate_power_w
from service.physics.compiled import compiled
from service.physics.rows import table

__all__ = ["STAND", "seconds_at_power", "stand_rows"]

GRID = 200  # parts of the charge used
FIRST_S, FIRST_STEP_S = 7200.0, 10.0  # cabin and pack settle within about two hours
LATER_STEP_S = 900.0  # then hardly anything changes
LONGEST_S = 1000 * 3600.0  # a self-imposed end: six weeks

STAND = np.dtype(
    [
        ("seconds", "f8"),  # until the floor; LONGEST_S where it lasts longer
        ("cells_j", "f8"),  # drawn meanwhile
        ("climate_j", "f8"),  # at the terminals, of that for heating and cooling
        ("holding_w", "f8"),  # mean draw at the terminals once settled
        ("climate_w", "f8"),  # of that for heating and cooling
        ("charge_at", "f8"),  # charge after the time asked for; the floor if it does not last
    ]
)


def seconds_at_power(car: np.record, pack_k: float, charge: float, floor: float, terminal_w: float) -> float:
    """Time until the charge has fallen to a floor at a constant power at the terminals, s.

    Args:
        car: row of `rows.CAR`.
        pack_k: temperature, taken as constant, K.
        charge, floor: of the usable window, 0…1.
        terminal_w: > 0.
    """
    if charge <= floor:
        return 0.0
    part = (charge - floor) / GRID
    seconds = 0.0
    for k in range(GRID):
        here = floor + (k + 0.5) * part
        ohm = pack_resistance_ohm(car.resistance_ohm, car.activation_j_mol, pack_k, here)
        seconds += car.capacity_c * part / pack_current_a(open_circuit_v(car.ocv_v, here), ohm, terminal_w)
    return float(seconds)


@compiled
def stand_one(car, day, draw, state, floor, asked_s, result):
    """Stand ready until the charge is at its floor; writes `state` and `result`.

    Args:
        car, day, draw, state: rows of `rows.CAR`, `rows.DAY`, `rows.DRAW`, `rows.STATE`.
        floor: charge at which it ends, 0…1.
        asked_s: a time whose charge is noted, s.
        result: row of `STAND`, zeroed.
    """
    electric_w = electronics_w(car.base_w, car.headlamp_w, 0.0) * draw.auxiliary
    per_c = 1.0 / (car.capacity_c * draw.usable)
    own_heat_w = 0.0
    result.charge_at = state.charge
    while state.charge > floor and result.seconds < LONGEST_S:
        step_s = FIRST_STEP_S if result.seconds < FIRST_S else LATER_STEP_S
        heating_w, cooling_w = climate_power_w(car, day, draw, state, 0.0, step_s)
        heater_w = 0.0
        if car.pack_heater_w > 0.0:
            heater_w = pack_heater_w(
                state.pack_k, car.pack_heat_below_k, day.ambient_k, own_heat_w, car.pack_j_k, car.pack_w_k,
                car.pack_heater_w, step_s,
            )  # fmt: skip
        terminal_w = electric_w + heating_w + cooling_w + heater_w
        ohm = draw.resistance * pack_resistance_ohm(
            car.resistance_ohm, car.activation_j_mol, state.pack_k, state.charge
        )
        volt = open_circuit_v(car.ocv_v, state.charge)
        current_a = pack_current_a(volt, ohm, terminal_w)
        used = current_a * step_s * per_c
        left = state.charge - floor
        if used > left:
            step_s, used = step_s * left / used, left
        if result.seconds < asked_s:
            share = min((asked_s - result.seconds) / step_s, 1.0) if step_s > 0.0 else 1.0
            result.charge_at = state.charge - share * used
        state.charge = floor if used == left else state.charge - used
        own_heat_w = current_a * current_a * ohm
        heat_w = own_heat_w + heater_w
        state.pack_k = pack_temperature_after_k(state.pack_k, day.ambient_k, heat_w, car.pack_j_k, car.pack_w_k, step_s)
        result.seconds += step_s
        result.cells_j += volt * current_a * step_s
        result.climate_j += (heating_w + cooling_w) * step_s
        result.holding_w, result.climate_w = terminal_w, heating_w + cooling_w


@compiled
def stand_all(car, day, draws, states, floor, asked_s, results):
    """`stand_one` for every draw."""
    for row in range(len(draws)):
        stand_one(car, day, draws[row], states[row], floor, asked_s, results[row])


def stand_rows(
    car: np.record, day: np.record, draws: np.recarray, states: np.recarray, floor: float, asked_s: float
) -> np.recarray:
    """How each draw of one car stands: a row of `STAND` each. `states` is written."""
    results = table(STAND, len(draws))
    stand_all(car, day, draws, states, floor, asked_s, results)
    return results
