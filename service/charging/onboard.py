"""The onboard charger between outlet and pack: what it may draw and what it loses.

Scope    AC charging, and the direct-current station in its place (`station_row`): no conversion in the car, the same
         overhead, limits of power and current; what it loses before its plug is its operator's. One conversion
         efficiency and one fixed overhead (control units, coolant pump, 12 V), which together make the efficiency fall
         at low power: η = η_conv·(P − P_fixed)/P.
Symbols  ac_w  at the socket     dc_w  behind the charger     loss_factor  on all its losses, 1 is typical
Source   overhead of 150–400 W while charging, common practice; chargers alone convert 90–95 %, from memory. A logged
         study of 1 008 sessions found weak outlets worse, most so in short sessions, as a fixed overhead has it.
"""

import math

import numpy as np

from service.charging.circuit import offered_at_w, offered_power_w
from service.charging.run import loop_ohm
from service.physics.battery import open_circuit_v, steady_acceptance
from service.physics.compiled import compiled
from service.physics.rows import draft, filled, table
from service.specs import Circuit, Vehicle

__all__ = [
    "CHARGER",
    "accepted_by_pack_w",
    "allowed_w",
    "charger_dc_w",
    "charger_row",
    "charger_rows",
    "conversion_efficiency",
    "phases_in_use",
    "run_loss_w",
    "socket_w",
    "station_row",
]

CHARGER = np.dtype(
    [
        ("ac_w", "f8"),  # at the socket, after circuit and rating: the lower of the next two
        ("circuit_w", "f8"),  # what the circuit gives on the phases in use
        ("rating_w", "f8"),  # what the charger's AC rating allows on the phases in use
        ("circuit_phases", "f8"),
        ("charger_phases", "f8"),
        ("conversion", "f8"),  # efficiency of the conversion alone
        ("fixed_w", "f8"),  # drawn while charging, whatever the power
        # the run of cable between meter and socket; 0 where there is none
        ("in_use", "f8"),  # phases that carry current
        ("supply_v", "f8"),  # at the meter, each of them
        ("run_ohm", "f8"),  # as each of them sees the run
        # a direct-current station
        ("direct", "f8"),  # 1: the car's own limits of fast charging count, and the pack is cooled
        ("station_a", "f8"),  # most current; 0: as much as its power makes
        # after the pack is full
        ("balancing_s", "f8"),
        ("balancing_w", "f8"),  # burnt in the cells' bleeding resistors meanwhile
    ]
)


@compiled
def phases_in_use(circuit_phases: float, charger_phases: float) -> float:
    """Phases that outlet and charger have in common."""
    return min(circuit_phases, charger_phases)


@compiled
def allowed_w(power_w: float, phases: float, in_use: float) -> float:
    """Share of a power spread evenly over its phases that the phases in use carry, W.

    >>> allowed_w(11_040.0, 3, 1)
    3680.0
    """
    return power_w * in_use / phases


@compiled
def conversion_efficiency(conversion: float, loss_factor: float) -> float:
    """Efficiency of the conversion with its loss scaled.

    >>> round(conversion_efficiency(0.93, 1.5), 4)
    0.895
    """
    return 1 - (1 - conversion) * loss_factor


@compiled
def charger_dc_w(ac_w: float, conversion: float, fixed_w: float, loss_factor: float) -> float:
    """Power behind the charger, W; 0 where the socket only just feeds the overhead.

    >>> round(charger_dc_w(1440.0, 0.93, 200.0, 1.0), 1)
    1153.2
    """
    above_overhead_w = max(ac_w - fixed_w * loss_factor, 0.0)
    return max(conversion_efficiency(conversion, loss_factor), 0.0) * above_overhead_w


@compiled
def socket_w(dc_w: float, conversion: float, fixed_w: float, loss_factor: float) -> float:
    """Power at the socket for a power behind the charger, W: the inverse of `charger_dc_w`.

    >>> round(socket_w(1153.2, 0.93, 200.0, 1.0), 1)
    1440.0
    """
    return fixed_w * loss_factor + dc_w / conversion_efficiency(conversion, loss_factor)


@compiled
def run_loss_w(socket_w: float, in_use: float, supply_v: float, run_ohm: float) -> float:
    """Power lost in the run of cable while a power is drawn at the socket, W; 0 without a run.

    From n·(V − I·R)·I = P, the smaller root, as `run.current_for_a` has it.

    >>> round(run_loss_w(3566.5, 1, 230.0, 0.4433), 1)
    113.5
    """
    if run_ohm <= 0:
        return 0.0
    each_w = socket_w / in_use
    inside = max(supply_v * supply_v - 4 * run_ohm * each_w, 0.0)
    current_a = 2 * each_w / (supply_v + math.sqrt(inside))
    return in_use * current_a * current_a * run_ohm


def station_row(power_w: float, current_a: float | None, fixed_w: float) -> np.record:
    """A direct-current station as a row of `CHARGER`.

    Args:
        power_w: at its plug, W, above 0.
        current_a: most current, A; None: as much as the power makes.
        fixed_w: what the car draws while charging, W.
    """
    row = np.zeros(1, CHARGER).view(np.recarray)[0]
    row.ac_w = row.circuit_w = row.rating_w = power_w
    row.conversion, row.fixed_w = 1.0, fixed_w
    row.direct, row.station_a = 1.0, current_a or 0.0
    return row


def charger_row(vehicle: Vehicle, circuit: Circuit, conversion: float, fixed_w: float) -> np.record:
    """A car's charger on a circuit, as a row of `CHARGER`.

    Args:
        vehicle: completed: rating and phases of the onboard charger known.
        conversion: efficiency of the conversion alone, above 0 to 1.
        fixed_w: overhead while charging, W.
    A charger with fewer phases than the outlet uses as many as it has; one with more draws its rating's share.
    Losses are scaled by what a label told of this car's charger.
    """
    row = draft(CHARGER)
    in_use = phases_in_use(circuit.phases, vehicle.onboard_charger_phases)
    row.circuit_w = offered_power_w(circuit, in_use)
    if circuit.run is not None:
        row.in_use, row.supply_v, row.run_ohm = in_use, circuit.volts, loop_ohm(circuit.run, in_use)
    row.rating_w = allowed_w(vehicle.onboard_charger_w, vehicle.onboard_charger_phases, in_use)
    row.ac_w = min(row.circuit_w, row.rating_w)
    row.circuit_phases, row.charger_phases = circuit.phases, vehicle.onboard_charger_phases
    loss = vehicle.charger_loss or 1.0
    row.conversion, row.fixed_w = conversion_efficiency(conversion, loss), fixed_w * loss
    return filled(CHARGER, row)[0]


def charger_rows(
    vehicle: Vehicle, circuit: Circuit, conversion: float, fixed_w: float, volts: np.ndarray
) -> np.recarray:
    """The same charger with the supply at each of several voltages, as a table of `CHARGER`.

    Args:
        volts: at the meter, V, shape (n,); the others as for `charger_row`.
    A circuit's amps are fixed, so it gives less below its nominal voltage; a charger's rating is a power, which holds
    until those amps bind. What current the charger itself may draw is nowhere told and not counted.
    """
    rows = table(CHARGER, len(volts))
    rows[:] = charger_row(vehicle, circuit, conversion, fixed_w)
    in_use = phases_in_use(circuit.phases, vehicle.onboard_charger_phases)
    rows.circuit_w = offered_at_w(circuit, in_use, volts)
    rows.ac_w = np.minimum(rows.circuit_w, rows.rating_w)
    if circuit.run is not None:
        rows.supply_v = volts
    return rows


def accepted_by_pack_w(car: np.record, pack_k: float) -> float:
    """Power that the half-full pack's charging current limit lets in at a temperature, W, resistance left out."""
    if car.pack_heater_w > 0:
        pack_k = max(pack_k, car.pack_heat_below_k)
    return float(car.charge_limit_a * steady_acceptance(pack_k, 0.5) * open_circuit_v(car.ocv_v, 0.5))
