"""One charge from plugging in to the end: time, energy at the socket, and losses by place.

Scope    a cold pack with a heater is heated first, then kept from cooling again; charging at the charger's full power;
         then as much as the pack accepts (temperature, lithium plating, voltage ceiling: the constant-voltage taper); a
         pack that is full is balanced, if the row of the charger says so. A pack without a heater charges at whatever
         its temperature allows. At a direct-current station a warm pack is chilled.
Symbols  charge  of the usable window, 0 to 1     *_j  joules at the place named     1C  current filling it in an hour
Method   charge is the independent variable: steps end on a grid that holds every knot of the OCV table, and are
         halved until the current in their middle is near that at their start (explicit midpoint); the pack's
         temperature is exact over a step of steady heat. Within 0.1 % of a fine adaptive integration (tested).
Curve    stretches of steady power, in order; their energies are those of the books.
Source   CC-CV from OCV and resistance, textbook. Cut-off at C/20, usual in cell data sheets, from memory.
"""

import math

import numpy as np

from service.charging.onboard import charger_dc_w, conversion_efficiency, run_loss_w, socket_w
from service.physics.battery import (
    REFERENCE_K,
    open_circuit_v,
    pack_current_a,
    pack_resistance_ohm,
    steady_acceptance,
)
from service.physics.climate_machine import cooling_cop
from service.physics.compiled import compiled
from service.physics.rows import OCV_POINTS, table

__all__ = [
    "CURVE",
    "ENDED",
    "FULL",
    "NO_POWER",
    "REACHED",
    "SESSION",
    "TOO_LONG",
    "full_charge",
    "recorded_session",
    "session_one",
    "sessions",
]

SESSION = np.dtype(
    [
        ("seconds", "f8"),
        ("wall_j", "f8"),  # at the socket: stored and all losses but those of the cable
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
        ("cable_j", "f8"),  # between meter and socket, on top of `wall_j`
        ("chiller_j", "f8"),  # into the machine that cools the pack
        ("balancing_j", "f8"),  # burnt in the cells' bleeding resistors
        ("balancing_s", "f8"),  # after the pack was full
        ("points", "i8"),  # of the curve
    ]
)
CURVE = np.dtype(
    [
        ("start_s", "f8"),  # of a stretch
        ("seconds", "f8"),
        ("meter_w", "f8"),  # before the run of cable
        ("terminal_w", "f8"),
        ("charge", "f8"),  # at the start
        ("pack_k", "f8"),  # at the start
    ]
)
MOST_POINTS = 6000  # the longest session: ten days of five-minute waits, and the steps of a charge
ENDED = ("reached", "full", "no power", "too long")
REACHED, FULL, NO_POWER, TOO_LONG = range(4)

HOUR_S = 3600.0  # exact
CUT_OFF_C = 0.05  # taper current, in units of 1C, at which a pack counts as full: usual cell data sheets, from memory
LONGEST_S = 10 * 24 * HOUR_S  # nobody waits longer; the session is given up
LONGEST_HEATING_S = 4 * HOUR_S  # after that, charging starts as cold as the pack is: common sense, no source
HEAT_SHARE = 0.5  # of the charger's output that a heater may take once charging: common sense, no source
SETTLE_S = 1800.0  # how slowly a pack heater brings back what the cold took: common sense, no source

CHILLER_SETTLE_S = 600.0  # how fast a chiller answers a pack that is too warm: common sense, no source

KNOTS = 2 * (OCV_POINTS - 1)  # steps a full charge when nothing bends
BEND = 0.02  # current may change by this share within half a step
LONGEST_STEP_S = 1800.0
LONGEST_DIRECT_STEP_S = 300.0  # half of what a chiller answers in
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
def chiller_power_w(car, charger, dc_w, ambient_k, pack_k):
    """Electricity of the machine that cools the pack, W; at a direct-current station only, and never more than it can.

    Never more than a share of what the station gives, either.
    """
    if charger.direct <= 0:
        return 0.0
    wanted_w = car.pack_j_k * (pack_k - car.pack_cool_above_k) / CHILLER_SETTLE_S
    return min(min(max(wanted_w, 0.0), car.cooler_w) / cooling_cop(ambient_k), HEAT_SHARE * dc_w)


@compiled
def flow(car, draw, charger, dc_w, ambient_k, charge, pack_k):
    """What runs at one instant: OCV (V), resistance (Ω), current (A), heater and chiller (W), does the pack limit."""
    ocv = open_circuit_v(car.ocv_v, charge)
    resistance = pack_resistance_ohm(car.resistance_ohm * draw.resistance, car.activation_j_mol, pack_k, charge)
    heater_w = keeping_warm_w(car, dc_w, ambient_k, pack_k)
    chiller_w = chiller_power_w(car, charger, dc_w, ambient_k, pack_k)
    beside_w = heater_w + chiller_w
    offered_a = -pack_current_a(ocv, resistance, beside_w - dc_w)
    ceiling_a = max((car.max_v - ocv) / resistance, 0.0)
    accepted_a = min(car.charge_limit_a * steady_acceptance(pack_k, charge), ceiling_a)
    if charger.station_a > 0:
        offered_a = min(offered_a, max(charger.station_a - beside_w / ocv, 0.0))
    return ocv, resistance, min(offered_a, accepted_a), heater_w, chiller_w, accepted_a < offered_a


@compiled
def book(out, curve, draw, charger, seconds, ocv, resistance, current_a, heater_w, chiller_w, balancing_w):
    """Add a stretch of steady current to the books, each place by its own formula, and to the curve if it has room."""
    terminal_w = (ocv + resistance * current_a) * current_a
    beside_w = heater_w + chiller_w + balancing_w
    ac_w = socket_w(terminal_w + beside_w, charger.conversion, charger.fixed_w, draw.charger)
    overhead_w = charger.fixed_w * draw.charger
    cable_w = run_loss_w(ac_w, charger.in_use, charger.supply_v, charger.run_ohm)
    if out.points < curve.size:
        point = curve[out.points]
        point.start_s, point.seconds = out.seconds, seconds
        point.meter_w, point.terminal_w = ac_w + cable_w, terminal_w
        point.charge, point.pack_k = out.charge, out.pack_k
        out.points += 1
    out.seconds += seconds
    out.wall_j += ac_w * seconds
    out.terminals_j += terminal_w * seconds
    out.cells_j += ocv * current_a * seconds
    out.pack_j += resistance * current_a * current_a * seconds
    out.charger_j += (1 - conversion_efficiency(charger.conversion, draw.charger)) * (ac_w - overhead_w) * seconds
    out.overhead_j += overhead_w * seconds
    out.heater_j += heater_w * seconds
    out.cable_j += cable_w * seconds
    out.chiller_j += chiller_w * seconds
    out.balancing_j += balancing_w * seconds


@compiled
def clear(out, charge, pack_k):
    """An empty account."""
    out.seconds = out.wall_j = out.cells_j = out.pack_j = out.charger_j = out.overhead_j = 0.0
    out.heater_j = out.terminals_j = out.heating_s = out.pack_limited_s = 0.0
    out.cable_j = out.chiller_j = out.balancing_j = out.balancing_s = 0.0
    out.points = 0
    out.charge, out.pack_k = charge, pack_k


@compiled
def heat_first(car, draw, charger, dc_w, ambient_k, out, curve):
    """Bring a cold pack to the temperature from which it is charged, with all the heater or the charger can give."""
    heat_w = min(car.pack_heater_w, dc_w)
    if heat_w <= 0 or out.pack_k >= car.pack_heat_below_k:
        return
    goal_k = car.pack_heat_below_k
    time_s = heating_time_s(out.pack_k, goal_k, ambient_k, heat_w, car.pack_j_k, car.pack_w_k)
    book(out, curve, draw, charger, time_s, 0.0, 0.0, 0.0, heat_w, 0.0, 0.0)
    out.heating_s = time_s
    out.pack_k = warmed_k(out.pack_k, ambient_k, heat_w, car.pack_j_k, car.pack_w_k, time_s)


@compiled
def balance(car, draw, charger, ambient_k, out, curve):
    """Level the cells of a full pack: current that enters it is burnt beside the fullest cells."""
    time_s, heat_w = charger.balancing_s, charger.balancing_w
    if time_s <= 0:
        return
    book(out, curve, draw, charger, time_s, 0.0, 0.0, 0.0, 0.0, 0.0, heat_w)
    out.balancing_s = time_s
    out.pack_k = warmed_k(out.pack_k, ambient_k, heat_w, car.pack_j_k, car.pack_w_k, time_s)


@compiled
def fill(car, draw, charger, dc_w, target, capacity_c, ambient_k, out, curve):
    """Charge until the target or until nobody would wait: False if given up."""
    step, cop = 1.0, cooling_cop(ambient_k)
    longest_s = LONGEST_STEP_S if charger.direct <= 0 else LONGEST_DIRECT_STEP_S
    while target - out.charge > 1e-12:
        if out.seconds >= LONGEST_S:
            return False
        now = flow(car, draw, charger, dc_w, ambient_k, out.charge, out.pack_k)
        ocv, resistance, current_a, heater_w, chiller_w, limited = now
        seconds, moved = IDLE_STEP_S, 0.0
        if current_a > 0:
            knot = (math.floor(out.charge * KNOTS + 1e-9) + 1) / KNOTS
            step = min(2 * step, knot - out.charge, target - out.charge, current_a * longest_s / capacity_c)
            start_a, start_w = current_a, resistance * current_a * current_a + heater_w - cop * chiller_w
            while True:
                half_s = 0.5 * step * capacity_c / start_a
                mid_k = warmed_k(out.pack_k, ambient_k, start_w, car.pack_j_k, car.pack_w_k, half_s)
                middle = out.charge + 0.5 * step
                now = flow(car, draw, charger, dc_w, ambient_k, middle, mid_k)
                ocv, resistance, current_a, heater_w, chiller_w, limited = now
                if abs(current_a - start_a) <= BEND * start_a or step <= SMALLEST_STEP:
                    break
                step *= 0.5
            if current_a > 0:
                seconds, moved = step * capacity_c / current_a, step
        book(out, curve, draw, charger, seconds, ocv, resistance, current_a, heater_w, chiller_w, 0.0)
        out.pack_limited_s += seconds if limited else 0.0
        heat_w = resistance * current_a * current_a + heater_w - cop * chiller_w
        out.pack_k = warmed_k(out.pack_k, ambient_k, heat_w, car.pack_j_k, car.pack_w_k, seconds)
        out.charge = min(out.charge + moved, target)
    return True


@compiled
def session_one(car, draw, charger, from_charge, to_charge, ambient_k, pack_k, out, curve):
    """One charging session, written into `out`, a row of `SESSION`, and into `curve`, a table of `CURVE`, as it fits.

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
    heat_first(car, draw, charger, dc_w, ambient_k, out, curve)
    if not fill(car, draw, charger, dc_w, target, capacity_c, ambient_k, out, curve):
        out.ended = TOO_LONG
    elif to_charge >= full:
        balance(car, draw, charger, ambient_k, out, curve)


@compiled
def session_rows(cars, draws, chargers, from_charges, to_charges, ambient_k, pack_k, outs, curve):
    """`session_one` for every row; a table or array of one row serves them all. `curve` keeps the last one's."""
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
            curve,
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
    session_rows(*tables, *numbers, outs, table(CURVE, 0))
    return outs


def recorded_session(
    cars: np.recarray,
    draws: np.recarray,
    charger: np.record,
    from_charge: float,
    to_charge: float,
    ambient_k: float,
    pack_k: float,
) -> tuple[np.record, np.recarray]:
    """One session, a row of `SESSION`, and its curve, a table of `CURVE`: a stretch of steady power each row.

    Args: as for `session_one`; `cars` and `draws` are tables of one row.
    """
    outs, curve = table(SESSION, 1), table(CURVE, MOST_POINTS)
    tables = [np.atleast_1d(each).view(np.recarray) for each in (cars, draws, charger)]
    numbers = [np.array([each], "f8") for each in (from_charge, to_charge, ambient_k, pack_k)]
    session_rows(*tables, *numbers, outs, curve)
    return outs[0], curve[: outs.points[0]]
