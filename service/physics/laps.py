"""Repeat a journey until the pack is empty, without marching every lap.

Idea     once tyres, cabin and pack have settled, every lap takes the same energy for the same reasons, except that the
         pack's own loss follows its voltage and temperature. So: march laps until two in a row agree, advance whole
         laps by that energy as a function of charge, look again with a marched lap where a limit may come or go, and
         march the last part, where voltage or power may give out.
Looks    a lap that met no limit meets none as the pack warms further, up to where heat limits charging; its loss is
         followed by R/OCV², so it may leap far. A lap with limits, with a heater on or with a cooling pack may not, nor
         a pack that has ever been too weak in this drive.
Error    against marching every lap at most what 0.2 % more or less capacity makes: a test (tests/physics/test_laps.py).
         A drive may end at a steep place of its journey, where a hair of energy is kilometres.
Memory   each scenario has five ledger rows (`FIRST`, `TOTAL` and three to work in) and two rows of events; `flat` is
         the same memory as the ledgers, seen as plain numbers, so that rows can be copied and added whole.
"""

import math

import numpy as np

from service.physics.battery import (
    HOT_CHARGE_K,
    WARM_CHARGE_K,
    open_circuit_v,
    pack_resistance_ohm,
    pack_temperature_after_k,
)
from service.physics.climate_machine import cooling_cop
from service.physics.compiled import compiled
from service.physics.march import COMPLETED, EMPTY, EVENT_KINDS, STUCK, march_one
from service.physics.rows import LEDGER
from service.physics.tyres import WARM_UP_S

__all__ = ["DISTANCE_LIMIT", "FIRST", "LEDGER_ROWS", "TOTAL", "drive_rows", "drive_to_empty", "flat_view"]

DISTANCE_LIMIT = 3  # how a drive ended, beside march's COMPLETED, EMPTY, STUCK: the journey hardly uses energy
FURTHEST_M = 3.0e6  # 3 000 km: more than any car's pack lasts; a downhill journey would never end
FULL_CHARGE = 0.99  # above it braking may meet the voltage ceiling: march
LEAP_FLOOR = 0.04  # below it resistance and power limits rise: march
LEAP_CHARGE = 1.0  # furthest leap in charge before another look
LEAP_LIMITED_CHARGE = 0.2  # the same where a limit was met, for limits move with the charge
LEAP_PACK_K = 4.0  # and in pack temperature, on which resistance depends
LEAP_TIGHT_PACK_K = 1.0  # the same where regeneration depends on it too: in a cold pack and in a hot one
LEAP_FREE_PACK_K = 12.0  # the same for a warming pack after a lap without limits and without pack heating
NEARLY_HOT_K = HOT_CHARGE_K - 1.0  # from here on heat may soon limit regeneration
CABIN_S = 900.0  # slowest time constant of a cabin: interior over its coupling and the shell, data/bodies.csv
HOLDS_K = 0.3  # a pack heater or chiller within this of its threshold holds it
ENGINE_LAPS = 8  # marched before the rest of a charge with engine runs is taken like the later half of them
SETTLED_CABIN_K = 0.2  # both nodes together: what is still to come
SETTLED_TYRE_K = 0.4  # tyres: what is still to come
SETTLED_LIMITS = 0.02  # share by which the seconds at limits may differ
FADED_LIMITS = 0.001  # share by which the energy may, where a limit fades
SETTLED_ENERGY = 0.001  # share of a lap's energy that is still to come

FIRST, TOTAL, BEFORE, LAP, WARM = 0, 1, 2, 3, 4
LEDGER_ROWS = 5
PACK_LIMIT = EVENT_KINDS.index("pack_limit")
PACK = LEDGER.names.index("pack_j")
CELLS = LEDGER.names.index("cells_j")
TERMINALS = LEDGER.names.index("terminals_j")
CONDITIONING = LEDGER.names.index("pack_conditioning_j")
RECOVERED = LEDGER.names.index("recovered_j")
ENGINE = LEDGER.names.index("engine_s")
DURATION = LEDGER.names.index("duration_s")
DISTANCE = LEDGER.names.index("distance_m")


def flat_view(ledgers: np.recarray) -> np.ndarray:
    """The same memory as plain numbers: one more axis, in the order of `LEDGER.names`."""
    return ledgers.view(np.ndarray).view("f8").reshape(*ledgers.shape, len(LEDGER.names))


@compiled
def loss_shape(car, pack_k, charge):
    """What the pack's loss for a given terminal energy is proportional to: R/OCV²."""
    volt = open_circuit_v(car.ocv_v, charge)
    return pack_resistance_ohm(car.resistance_ohm, car.activation_j_mol, pack_k, charge) / (volt * volt)


@compiled
def lap_shape(car, pack_k, start, end):
    """The mean of `loss_shape` over a lap between two charges, by Simpson's rule: near empty it bends."""
    ends = loss_shape(car, pack_k, start) + loss_shape(car, pack_k, end)
    return (ends + 4.0 * loss_shape(car, pack_k, 0.5 * (start + end))) / 6.0


@compiled
def furthest_pack_k(pack_k, free):
    """How far the pack's temperature may move before another look, K."""
    if free and pack_k < NEARLY_HOT_K:
        return LEAP_FREE_PACK_K
    return LEAP_TIGHT_PACK_K if pack_k < WARM_CHARGE_K or pack_k > NEARLY_HOT_K else LEAP_PACK_K


@compiled
def leap(car, day, draw, state, flat, lap_charge, lap_pack_k, furthest_charge, free):
    """Advance whole laps, each like the one in `flat[LAP]`, which was marched up to here.

    Args:
        lap_charge, lap_pack_k: that lap's charge at its start, and the pack's temperature in its middle.
        free: no limit is in sight: none was met, the pack warms, and nothing heats it.
    """
    lap = flat[LAP]
    capacity_c = car.capacity_c * draw.usable
    shape = lap_shape(car, lap_pack_k, lap_charge, state.charge)
    first_charge, first_k = state.charge, state.pack_k
    gain_k = 2.0 * (first_k - lap_pack_k)  # of the pack's temperature in one lap
    lap_s = lap[DURATION]
    laps, lost_j, heated_j = 0, 0.0, 0.0
    furthest_k = furthest_pack_k(first_k, free)
    cool = first_k < NEARLY_HOT_K
    heated = car.pack_heater_w > 0.0 and first_k < car.pack_heat_below_k - HOLDS_K
    chilled = lap[CONDITIONING] > 0.0 and 2 * first_k > car.pack_heat_below_k + car.pack_cool_above_k
    chiller_cop = cooling_cop(day.ambient_k)
    while abs(state.pack_k - first_k) < furthest_k and first_charge - state.charge < furthest_charge:
        if (heated and state.pack_k >= car.pack_heat_below_k) or (cool and state.pack_k >= NEARLY_HOT_K):
            break
        if not chilled and first_k < car.pack_cool_above_k <= state.pack_k:  # a chiller is about to start
            break
        coming = 0.5 * lap[CELLS] / (capacity_c * open_circuit_v(car.ocv_v, state.charge))
        middle_k = state.pack_k + 0.5 * gain_k
        pack_j = lap[PACK] * lap_shape(car, middle_k, state.charge, state.charge - 2.0 * coming) / shape
        conditioning_j = lap[CONDITIONING]
        if chilled:  # a chiller that holds a temperature takes the pack's own heat
            conditioning_j = max(conditioning_j + (pack_j - lap[PACK]) / chiller_cop, 0.0)
        elif conditioning_j > 0.0 and not chilled and not heated:  # a heater that holds gives way to pack heat
            conditioning_j = max(conditioning_j - (pack_j - lap[PACK]), 0.0)
        cells_j = lap[TERMINALS] - lap[CONDITIONING] + conditioning_j + pack_j
        used = cells_j / (capacity_c * open_circuit_v(car.ocv_v, state.charge - coming))
        dip = lap[RECOVERED] / (capacity_c * open_circuit_v(car.ocv_v, state.charge))  # taken before it is given back
        if state.charge - used - dip < LEAP_FLOOR or used <= 0.0:
            break
        state.charge -= used
        heat_w = (pack_j + (-chiller_cop if chilled else 1.0) * conditioning_j) / lap_s
        before_k = state.pack_k
        state.pack_k = pack_temperature_after_k(before_k, day.ambient_k, heat_w, car.pack_j_k, car.pack_w_k, lap_s)
        gain_k = state.pack_k - before_k
        laps += 1
        lost_j += pack_j - lap[PACK]
        heated_j += conditioning_j - lap[CONDITIONING]
    flat[TOTAL] += laps * lap
    flat[TOTAL, PACK] += lost_j
    flat[TOTAL, CONDITIONING] += heated_j
    flat[TOTAL, TERMINALS] += heated_j
    flat[TOTAL, CELLS] += lost_j + heated_j


@compiled
def still_to_come(change, time_constant_s, lap_s):
    """How far a first-order state that moved by `change` in one lap will yet move: the rest of a geometric row."""
    return abs(change) / math.expm1(lap_s / time_constant_s)


@compiled
def limits_settled(met_s, before_s, energy_j, before_j):
    """True where two laps met the same limits, or the later one less of them at the same energy."""
    if abs(met_s - before_s) <= SETTLED_LIMITS * before_s:
        return True
    return met_s < before_s and abs(energy_j - before_j) < FADED_LIMITS * abs(before_j)


@compiled
def limits_met_s(events):
    """Total seconds spent at any limit so far."""
    total_s = 0.0
    for k in range(len(events)):
        total_s += events[k].run_s
    return total_s


@compiled
def keep_events(events, kept):
    """Copy what has happened so far."""
    for k in range(len(events)):
        here, there = events[k], kept[k]
        there.kind, there.at_s, there.at_m, there.run_s = here.kind, here.at_s, here.at_m, here.run_s


@compiled
def go_on_alike(car, draw, state, flat):
    """The rest of a charge whose engine steps in again and again, by the mean energy of the laps since `flat[WARM]`.

    Engine runs keep no time with laps, so no single lap stands for the others; the first ones warm up. Returns how the
    drive ends.
    """
    flat[LAP] = flat[TOTAL] - flat[WARM]
    left = max(state.charge - car.low_charge, 0.0)
    left_j = car.capacity_c * draw.usable * left * open_circuit_v(car.ocv_v, car.low_charge + 0.5 * left)
    if flat[LAP, CELLS] <= 0.0 or left_j / flat[LAP, CELLS] * flat[LAP, DISTANCE] > FURTHEST_M:
        return DISTANCE_LIMIT
    flat[TOTAL] += left_j / flat[LAP, CELLS] * flat[LAP]
    state.charge -= left
    return EMPTY


@compiled
def drive_to_empty(
    car, day, draw, path, state, ledgers, flat, events, first_events, starts, recorder,
    skip,
):  # fmt: skip
    """Drive a trace again and again until the usable energy is gone.

    Args:
        ledgers, flat: `LEDGER_ROWS` rows of zeros and their `flat_view`; `FIRST` receives the first lap, `TOTAL` all.
        events, first_events: rows of `rows.EVENT`, one a kind; the second keeps those of the first lap.
        starts, recorder: as in `march_one`, for the first lap.
        skip: False marches every lap.
    Returns how the first lap ended, the state of charge after it, and how the whole drive ended.
    """
    total = ledgers[TOTAL]
    ended = march_one(car, day, draw, path, state, total, events, starts, recorder)
    flat[FIRST] = flat[TOTAL]
    flat[LAP] = flat[TOTAL]
    keep_events(events, first_events)
    first_ended, first_charge, lapped, marched = ended, state.charge, False, 0
    lap_met_s = limits_met_s(events)
    while ended == COMPLETED:
        gained = lapped and flat[LAP, TERMINALS] <= 0.0  # a lap from warm that gives back what it takes
        if flat[FIRST, DISTANCE] <= 0.0:  # too weak to move at all
            return STUCK, first_charge, STUCK
        if gained or flat[TOTAL, DISTANCE] > FURTHEST_M:
            return first_ended, first_charge, DISTANCE_LIMIT
        lapped = True
        cabin_k, rise_k = state.cabin_air_k + state.cabin_interior_k, state.tyre_rise_k
        charge, pack_k, met_s = state.charge, state.pack_k, limits_met_s(events)
        flat[BEFORE] = flat[TOTAL]
        previous_s, previous_j = lap_met_s, flat[LAP, TERMINALS]
        ended = march_one(car, day, draw, path, state, total, events, starts[:0], recorder[:0])
        flat[LAP] = flat[TOTAL] - flat[BEFORE]
        lap_s = flat[LAP, DURATION]
        lap_met_s = limits_met_s(events) - met_s
        marched += 1
        if marched == ENGINE_LAPS // 2:
            flat[WARM] = flat[TOTAL]
        if skip and ended == COMPLETED and flat[LAP, ENGINE] > 0.0 and marched >= ENGINE_LAPS:
            return first_ended, first_charge, go_on_alike(car, draw, state, flat)
        if (
            skip
            and ended == COMPLETED
            and flat[LAP, ENGINE] == 0.0
            and charge < FULL_CHARGE
            and not (flat[LAP, CONDITIONING] > 0.0 and state.pack_k > car.pack_cool_above_k + HOLDS_K)  # being chilled
            and limits_settled(lap_met_s, previous_s, flat[LAP, TERMINALS], previous_j)
            and still_to_come(state.cabin_air_k + state.cabin_interior_k - cabin_k, CABIN_S, lap_s) < SETTLED_CABIN_K
            and still_to_come(state.tyre_rise_k - rise_k, WARM_UP_S, lap_s) < SETTLED_TYRE_K
            and still_to_come(flat[LAP, TERMINALS] - previous_j, WARM_UP_S, lap_s) < SETTLED_ENERGY * abs(previous_j)
        ):
            furthest = LEAP_CHARGE if lap_met_s == 0.0 else LEAP_LIMITED_CHARGE
            strong = lap_met_s == 0.0 and events[PACK_LIMIT].run_s == 0.0
            free = strong and state.pack_k >= pack_k and flat[LAP, CONDITIONING] == 0.0
            leap(car, day, draw, state, flat, charge, 0.5 * (pack_k + state.pack_k), furthest, free)
    return first_ended, first_charge, ended


@compiled
def drive_rows(
    cars, days, draws, car_of, day_of, draw_of, path, states, whole_states, ledgers,
    flat, events, starts, recorder, ends, skip,
):  # fmt: skip
    """Many scenarios, one after the other: row i is car `car_of[i]`, day `day_of[i]`, and so on.

    Each is driven to empty; the first journey of a car with an engine is then driven whole, fuel and all, where the
    charge did not last for it.

    Args:
        states: at the start; written: where each drive to empty ended.
        whole_states: a copy of them; written: where the whole journey of a car with an engine ended.
        ledgers, flat: shape (rows, LEDGER_ROWS).
        events: shape (rows, 2, kinds): whole drive, first lap.
        starts, recorder: used by row 0 only, for its journey; it is driven whole where there is room for starts.
        ends: shape (rows, 3), written: first lap ended, charge after it, whole drive ended.
    """
    for row in range(len(ends)):
        car, day, draw = cars[car_of[row]], days[day_of[row]], draws[draw_of[row]]
        again = car.engine_w > 0.0
        kept = recorder if row == 0 and not again else recorder[:0]
        first_ended, first_charge, ended = drive_to_empty(
            car, day, draw, path, states[row], ledgers[row], flat[row], events[row, 0],
            events[row, 1], starts[:0], kept, skip,
        )  # fmt: skip
        told = row == 0 and len(starts) > 0
        if again and (told or first_ended != COMPLETED):
            whole, first_events = whole_states[row], events[row, 1]
            whole.goes_on = 1.0
            flat[row, FIRST] = 0.0
            for k in range(len(first_events)):
                event = first_events[k]
                event.kind, event.at_s, event.at_m, event.run_s = 0, 0.0, 0.0, 0.0
            first_ended = march_one(
                car, day, draw, path, whole, ledgers[row, FIRST], first_events,
                starts if told else starts[:0], recorder if row == 0 else recorder[:0],
            )  # fmt: skip
            first_charge = whole.charge
        ends[row, 0], ends[row, 1], ends[row, 2] = first_ended, first_charge, ended
