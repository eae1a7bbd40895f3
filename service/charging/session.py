"""One charge from plugging in to the end: time, energy at the socket, and losses by place.

Scope    a cold pack with a heater is heated first, then kept from cooling again; charging at the charger's full power;
         then as much as the pack accepts (temperature, voltage ceiling), which is the constant-voltage taper. No
         balancing, no cable. A pack without a heater charges at whatever its temperature allows.
Symbols  charge  of the usable window, 0 to 1     *_j  joules at the place named     1C  current filling it in an hour
Method   charge is the independent variable: steps end on a grid that holds every knot of the OCV table, and are
         halved until the current in their middle is near that at their start (explicit midpoint); the pack's
         temperature is exact over a step of steady heat. Within 0.1 % of a fine adaptive integration (tested).
Source   CC-CV from OCV and resistance, textbook. Cut-off at C/20, usual in cell data sheets, from memory.
"""

import math

import numpy as np

from service.charging.onboard import charger_dc_w, conversion_efficiency, socket_w
from service.physics.battery import (
    REFERENCE_K,
    charge_current_limit_a,
    open_circuit_v,
    pack_current_a,
    pack_resistance_ohm,
)
from service.physics.compiled import compiled
from service.physics.rows import OCV_POINTS, table

__all__ = ["ENDED", "FULL", "NO_POWER", "REACHED", "SESSION", "TOO_LONG", "full_charge", "session_one", "sessions"]

SESSION = np.dtype(
    [
        ("seconds", "f8"),
        ("wall_j", "f8"),  # at the socket: the sum of the next five
        ("cells_j", "f8"),  # stored
        ("pack_j", "f8"),  # lost in the pack's resistance
        ("charger_j", "f8"),  # lost in conversion
        ("overhead_j", "f8"),  # the charger's fixed draw
        ("heater_j", "f8"),  # into the pack heater
        ("terminals_j", "f8"),  # into the pack's terminals: stored and lost in it
        ("heating_s", "f8"),  # before charging began
        ("pack_limited_s", "f8"),  # while the pack, not outlet or charger, held the current down
        ("charge", "f8"),  # reached
        ("pack_k", "f8"),  # at the end
        ("ended", "i8"),  # index into ENDED
    ]
)
ENDED = ("reached", "full", "no power", "too long")
REACHED, FULL, NO_POWER, TOO_LONG = range(4)

HOUR_S = 3600.0  # exact
CUT_OFF_C = 0.05  # taper current, in units of 1C, at which a pack counts as full: usual cell data sheets, from memory
LONGEST_S = 10 * 24 * HOUR_S  # nobody waits longer; the session is given up
LONGEST_HEATING_S = 4 * HOUR_S  # after that, charging starts as cold as the pack is: common sense, no source
HEAT_SHARE = 0.5  # of the charger's output that a heater may take once charging: common sense, no source
SETTLE_S = 1800.0  # how slowly a pack heater brings back what the cold took: common sense, no source

KNOTS = 2 * (OCV_POINTS - 1)  # steps a full charge when nothing bends
BEND = 0.02  # current may change by this share within half a step
LONGEST_STEP_S = 1800.0
SMALLEST_STEP = 1e-6  # of the window
IDLE_STEP_S = 300.0  # while a pack too hot to charge cools


@compiled
def full_charge(ocv_v: np.ndarray, resistance_ohm: float, max_v: float, cut_off_a: float) -> float:
    """Charge at which a pack counts as full: the taper of a pack at 25 °C has fallen to the cut-off current there.

    Judged at 25 °C, so that a cold pack is filled as far, only more slowly. 1 if the ceiling is high enough.
    """
    low, high = 0.0, 1.0
    if max_v - open_circuit_v(ocv_v, 1.0) >= cut_off_a * pack_resistance_ohm(resistance_ohm, 0.0, REFERENCE_K, 1.0):
        return high
    while high - low > 1e-12:
        charge = 0.5 * (low + high)
        drop_v = cut_off_a * pack_resistance_ohm(resistance_ohm, 0.0, REFERENCE_K, charge)
        if max_v - open_circuit_v(ocv_v, charge) > drop_v:
            low = charge
        else:
            high = charge
    return low


@compiled
def warmed_k(
    pack_k: float, ambient_k: float, heat_w: float, capacity_j_k: float, loss_w_k: float, seconds: float
) -> float:
    """Pack temperature after any while of steady heat, K: C·dT/dt = Q − UA·(T − ambient), solved exactly.

    >>> round(warmed_k(258.15, 258.15, 3000.0, 180e3, 5.0, 1220.456), 2)
    278.15
    """
    settles_k = ambient_k + heat_w / loss_w_k
    return settles_k + (pack_k - settles_k) * math.exp(-seconds * loss_w_k / capacity_j_k)


@compiled
def heating_time_s(
    pack_k: float, goal_k: float, ambient_k: float, heat_w: float, capacity_j_k: float, loss_w_k: float
) -> float:
    """Time to heat a pack to a goal, s: `warmed_k` turned round; the longest allowed if the heat never gets it there.

    >>> round(heating_time_s(258.15, 278.15, 258.15, 3000.0, 180e3, 5.0), 1)
    1220.5
    """
    settles_k = ambient_k + heat_w / loss_w_k
    if settles_k <= goal_k:
        return LONGEST_HEATING_S
    time_s = capacity_j_k / loss_w_k * math.log((settles_k - pack_k) / (settles_k - goal_k))
    return min(time_s, LONGEST_HEATING_S)


@compiled
def keeping_warm_w(car, dc_w, ambient_k, pack_k):
    """Heater power while charging, W: what the cold takes at the threshold, and more the further the pack is below it.

    Above it the power fades out, as the pack's own losses do the work. Never more than a share of the charger's output.
    """
    wanted_w = car.pack_w_k * (car.pack_heat_below_k - ambient_k)
    wanted_w += car.pack_j_k * (car.pack_heat_below_k - pack_k) / SETTLE_S
    return min(max(wanted_w, 0.0), car.pack_heater_w, HEAT_SHARE * dc_w)


@compiled
def flow(car, draw, dc_w, ambient_k, charge, pack_k):
    """What runs at one instant: OCV (V), resistance (Ω), current (A), heater (W), and whether the pack limits."""
    ocv = open_circuit_v(car.ocv_v, charge)
    resistance = pack_resistance_ohm(car.resistance_ohm * draw.resistance, car.activation_j_mol, pack_k, charge)
    heater_w = keeping_warm_w(car, dc_w, ambient_k, pack_k)
    offered_a = -pack_current_a(ocv, resistance, heater_w - dc_w)
    accepted_a = charge_current_limit_a(ocv, resistance, car.max_v, car.charge_limit_a, pack_k)
    return ocv, resistance, min(offered_a, accepted_a), heater_w, accepted_a < offered_a


@compiled
def book(out, draw, charger, seconds, ocv, resistance, current_a, heater_w):
    """Add a stretch of steady current to the books, each place by its own formula."""
    terminal_w = (ocv + resistance * current_a) * current_a
    ac_w = socket_w(terminal_w + heater_w, charger.conversion, charger.fixed_w, draw.charger)
    overhead_w = charger.fixed_w * draw.charger
    out.seconds += seconds
    out.wall_j += ac_w * seconds
    out.terminals_j += terminal_w * seconds
    out.cells_j += ocv * current_a * seconds
    out.pack_j += resistance * current_a * current_a * seconds
    out.charger_j += (1 - conversion_efficiency(charger.conversion, draw.charger)) * (ac_w - overhead_w) * seconds
    out.overhead_j += overhead_w * seconds
    out.heater_j += heater_w * seconds


@compiled
def clear(out, charge, pack_k):
    """An empty account."""
    out.seconds = out.wall_j = out.cells_j = out.pack_j = out.charger_j = out.overhead_j = 0.0
    out.heater_j = out.terminals_j = out.heating_s = out.pack_limited_s = 0.0
    out.charge, out.pack_k = charge, pack_k


@compiled
def heat_first(car, draw, charger, dc_w, ambient_k, out):
    """Bring a cold pack to the temperature from which it is charged, with all the heater or the charger can give."""
    heat_w = min(car.pack_heater_w, dc_w)
    if heat_w <= 0 or out.pack_k >= car.pack_heat_below_k:
        return
    goal_k = car.pack_heat_below_k
    time_s = heating_time_s(out.pack_k, goal_k, ambient_k, heat_w, car.pack_j_k, car.pack_w_k)
    book(out, draw, charger, time_s, 0.0, 0.0, 0.0, heat_w)
    out.heating_s = time_s
    out.pack_k = warmed_k(out.pack_k, ambient_k, heat_w, car.pack_j_k, car.pack_w_k, time_s)


@compiled
def fill(car, draw, charger, dc_w, target, capacity_c, ambient_k, out):
    """Charge until the target or until nobody would wait: False if given up."""
    step = 1.0
    while target - out.charge > 1e-12:
        if out.seconds >= LONGEST_S:
            return False
        ocv, resistance, current_a, heater_w, limited = flow(car, draw, dc_w, ambient_k, out.charge, out.pack_k)
        seconds, moved = IDLE_STEP_S, 0.0
        if current_a > 0:
            knot = (math.floor(out.charge * KNOTS + 1e-9) + 1) / KNOTS
            step = min(2 * step, knot - out.charge, target - out.charge, current_a * LONGEST_STEP_S / capacity_c)
            start_a, start_w = current_a, resistance * current_a * current_a + heater_w
            while True:
                half_s = 0.5 * step * capacity_c / start_a
                mid_k = warmed_k(out.pack_k, ambient_k, start_w, car.pack_j_k, car.pack_w_k, half_s)
                middle = out.charge + 0.5 * step
                ocv, resistance, current_a, heater_w, limited = flow(car, draw, dc_w, ambient_k, middle, mid_k)
                if abs(current_a - start_a) <= BEND * start_a or step <= SMALLEST_STEP:
                    break
                step *= 0.5
            if current_a > 0:
                seconds, moved = step * capacity_c / current_a, step
        book(out, draw, charger, seconds, ocv, resistance, current_a, heater_w)
        out.pack_limited_s += seconds if limited else 0.0
        heat_w = resistance * current_a * current_a + heater_w
        out.pack_k = warmed_k(out.pack_k, ambient_k, heat_w, car.pack_j_k, car.pack_w_k, seconds)
        out.charge = min(out.charge + moved, target)
    return True


@compiled
def session_one(car, draw, charger, from_charge, to_charge, ambient_k, pack_k, out):
    """One charging session, written into `out`, a row of `SESSION`.

    Args:
        car: a row of `rows.CAR`; its pack must lose some heat (`pack_w_k` above 0).
        draw: a row of `rows.DRAW`: factors on capacity, resistance and the charger's losses, 1 is typical.
        charger: a row of `onboard.CHARGER`.
        from_charge, to_charge: of the usable window, 0 to 1.
        ambient_k: around the parked car, K.
        pack_k: of the pack at plugging in, K.
    A pack whose taper ends below `to_charge` counts as full there: `ended` says so and `charge` how far it came.
    Nothing is drawn where the socket only just feeds the charger's overhead ("no power"), or from the target upwards.
    """
    clear(out, from_charge, pack_k)
    capacity_c = car.capacity_c * draw.usable
    cut_off_a = CUT_OFF_C * capacity_c / HOUR_S
    full = full_charge(car.ocv_v, car.resistance_ohm * draw.resistance, car.max_v, cut_off_a)
    out.ended = REACHED if to_charge <= full else FULL
    target = min(to_charge, full)
    if from_charge >= target:
        return
    dc_w = charger_dc_w(charger.ac_w, charger.conversion, charger.fixed_w, draw.charger)
    if dc_w <= 0:
        out.ended = NO_POWER
        return
    heat_first(car, draw, charger, dc_w, ambient_k, out)
    if not fill(car, draw, charger, dc_w, target, capacity_c, ambient_k, out):
        out.ended = TOO_LONG


@compiled
def session_rows(cars, draws, chargers, from_charges, to_charges, ambient_k, pack_k, outs):
    """`session_one` for every row; a table or array of one row serves them all."""
    for row in range(outs.size):
        session_one(
            cars[row % cars.size],
            draws[row % draws.size],
            chargers[row % chargers.size],
            from_charges[row % from_charges.size],
            to_charges[row % to_charges.size],
            ambient_k[row % ambient_k.size],
            pack_k[row % pack_k.size],
            outs[row],
        )


def sessions(cars, draws, chargers, from_charges, to_charges, ambient_k, pack_k) -> np.recarray:
    """Many charging sessions, joined by index: a table of `SESSION`, one row each.

    Args: as for `session_one`, each a table, array or number; of one row or of as many as there are sessions.
    Errors: `ValueError` where lengths are neither.
    """
    tables = [np.atleast_1d(each).view(np.recarray) for each in (cars, draws, chargers)]
    numbers = [
        np.atleast_1d(np.ascontiguousarray(each, "f8")) for each in (from_charges, to_charges, ambient_k, pack_k)
    ]
    lengths = {each.size for each in tables + numbers}
    if len(lengths - {1}) > 1:
        raise ValueError(f"tables of {sorted(lengths)} rows cannot be joined by index")
    outs = table(SESSION, max(lengths) if 0 not in lengths else 0)
    session_rows(*tables, *numbers, outs)
    return outs
