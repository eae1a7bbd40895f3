"""The one time loop: one car, one day, one draw, one trace, second by second.

Shape    slow physics (tyres, cabin, pack limits) at the looks of the trace, ten seconds apart; traction and current
         every step in between (a second, or longer where the speed stands still), with the open-circuit voltage
         followed along its slope. The error of that against a fine integration of the same equations is a test
         (tests/published/test_march_reference.py).
Speed    the car follows the trace as far as motor and pack allow; where they do not, it falls behind and the rest of
         the trace is driven from where it is. Kinetic energy left at the end is braked away.
Ledger   each cause is added up by its own formula; that they make up the energy drawn is a property test.
Driver   `draw.speed` scales the trace's speeds and shortens its seconds, so the distance stays; `draw.acceleration`
         scales what speeding up costs and slowing down gives back.
"""

import math

from numba import prange

from service.physics.auxiliaries import electronics_w
from service.physics.battery import (
    LAG_S,
    PROMPT_SHARE,
    charge_current_limit_a,
    drive_power_limit_w,
    open_circuit_v,
    pack_heater_w,
    pack_resistance_ohm,
    pack_temperature_after_k,
)
from service.physics.cabin import climate_power_w
from service.physics.climate_machine import cooling_cop, pack_chilled_w
from service.physics.compiled import compiled, compiled_parallel
from service.physics.drivetrain import (
    braking_force_n,
    drive_loss_w,
    driving_force_n,
    motor_force_limit_n,
    regen_fade,
    regen_force_limit_n,
)
from service.physics.engine import cabin_heat_w, coolant_after_k, engine_work_w, fuel_power_w
from service.physics.road_load import climbing_n, drag_in_wind_n
from service.physics.triggers import FULL_PACK, LOW_CHARGE, POWER, SUSTAIN_BAND, trigger_of
from service.physics.tyres import RISE_EXPONENT, rise_after_k, rolling_temperature_factor

__all__ = ["COMPLETED", "EMPTY", "EVENT_KINDS", "STUCK", "march_all", "march_one"]

COMPLETED, EMPTY, STUCK = 0, 1, 2  # how a march ended
EVENT_KINDS = ("motor_limit", "pack_limit", "regeneration_limit", "cannot_hold_speed", "empty")
MOTOR_LIMIT, PACK_LIMIT, REGEN_LIMIT, CANNOT_HOLD, RAN_EMPTY = 0, 1, 2, 3, 4
BEHIND_SHARE = 0.9  # a car below this share of the speed asked for is behind
HARDEST_M_S2 = 30.0  # more than any legal slope and drag slow a car beyond what was wanted
HALVINGS = 32  # of the acceleration of a car that cannot follow: a thousand-millionth of its span
STUCK_BELOW_M_S2 = 0.01  # and no longer gains on it
CHILLER_NEAR_K = 2.0  # a pack this far below its hold temperature cannot reach it within a slow step
SPINS_ABOVE = 0.9  # charge above which braking that finds no room is a full pack, not a cold one: common practice
# A car that a failing pack keeps behind for so long no longer drives; what its cells lend to a first push is paid back.
STUCK_AFTER_S = 2 * LAG_S
# 2 mph, what a test driver may lack of the trace (40 CFR 86.115-78, from memory): from here on a driver presses on for
# more than electricity gives, and an engine starts; any less, and the car is only slower.
BEHIND_M_S = 0.894
HELPED_SHARE = 0.9  # of the pack's power that a running engine leaves in use, for losses of the drive: own choice
A_HAIR = 1e-9  # by which a pack at its very limit may seem to be asked for more: rounding


@compiled
def note_event(events, kind, at_s, at_m, run_s):
    """First time, first place and total length of a limit."""
    event = events[kind]
    if event.run_s == 0.0:
        event.kind, event.at_s, event.at_m = kind, at_s, at_m
    event.run_s += run_s


@compiled
def start_engine(state, starts, trigger, at_s, at_m):
    """Turn the engine on, and note why, when and where, as long as there is room."""
    state.engine, state.engine_s = 1.0, 0.0
    if state.first_fuel_m < 0.0:
        state.first_fuel_m = at_m
    place = int(state.starts)
    if place < len(starts):
        start = starts[place]
        start.trigger, start.at_s, start.at_m = trigger, at_s, at_m
        start.run_s = start.fuel_j = 0.0
    state.starts += 1.0


@compiled
def note_run(starts, state, seconds, fuel_j):
    """Time and fuel of the start that is going on."""
    place = int(state.starts) - 1
    if 0 <= place < len(starts):
        starts[place].run_s += seconds
        starts[place].fuel_j += fuel_j


@compiled
def note_spin(starts, state, at_s, at_m, seconds):
    """The engine turned without fuel: noted once in a row, no first fuel."""
    place = int(state.starts) - 1
    if 0 <= place < len(starts) and starts[place].trigger == FULL_PACK:
        starts[place].run_s += seconds
        return
    if state.starts < len(starts):
        start = starts[int(state.starts)]
        start.trigger, start.at_s, start.at_m, start.run_s, start.fuel_j = FULL_PACK, at_s, at_m, seconds, 0.0
    state.starts += 1.0


@compiled
def step_mean_m_s(speed: float, acceleration: float, seconds: float) -> float:
    """Distance over time of a step; a car that brakes to a stand within it stands for the rest.

    >>> step_mean_m_s(10.0, -1.0, 4.0), step_mean_m_s(10.0, -10.0, 4.0)
    (8.0, 1.25)
    """
    if speed + acceleration * seconds >= 0.0:
        return speed + 0.5 * acceleration * seconds
    return speed * speed / (-2 * acceleration * seconds)


@compiled
def held_back_m_s2(
    wanted_m_s2, speed, seconds, inertia_kg, slope_n, steady_n, viscous_n_s_m, half_density_area, wind_m_s, angle_rad,
    motor_n, motor_w, drive_w, copper_w_n2, inverter_w_n, gear_share, ready_w, engine_w,
):  # fmt: skip
    """Largest acceleration up to the wanted one that motor, pack and engine can give during a step, m/s².

    Args: as in `march_one`; `slope_n` is tyre drag and climb, `drive_w` what the pack has left for the drive,
        `engine_w` what the engine gives at the wheels. Found by halving.
    """
    low, high = min(wanted_m_s2, 0.0) - HARDEST_M_S2, wanted_m_s2
    most_w = drive_w * (1 + A_HAIR)  # comfort that gives way leaves just what a turning inverter takes
    for _ in range(HALVINGS):
        middle = 0.5 * (low + high)
        mean_m_s = step_mean_m_s(speed, middle, seconds)
        force_n = slope_n + steady_n + viscous_n_s_m * mean_m_s + inertia_kg * middle
        force_n = max(force_n + drag_in_wind_n(half_density_area, mean_m_s, wind_m_s, angle_rad), 0.0)
        if engine_w > 0.0 and mean_m_s > 0.0:
            force_n = max(force_n - engine_w / mean_m_s, 0.0)
        drawn_w = force_n * mean_m_s + drive_loss_w(force_n, mean_m_s, copper_w_n2, inverter_w_n, gear_share, ready_w)
        if force_n <= motor_force_limit_n(motor_n, motor_w, mean_m_s) and drawn_w <= most_w:
            low = middle
        else:
            high = middle
    return low


@compiled
def march_one(car, day, draw, path, state, ledger, events, starts, recorder):
    """Drive one trace.

    Args:
        car, day, draw: rows of `rows.CAR`, `rows.DAY`, `rows.DRAW`.
        path: the trace, five arrays:
            length of each step, shape (n,), a second where the speed changes;
            speed at the ends of the steps, shape (n + 1,), from rest;
            rise over run during each step, shape (n,);
            where each step leads, clockwise from north, shape (n,), NaN: not known;
            rows of `rows.LOOK`, the steps parted where slow physics is looked at.
        state: row of `rows.STATE`, continued and written.
        ledger: row of `rows.LEDGER`, added to.
        events: rows of `rows.EVENT`, one for each of `EVENT_KINDS`, added to.
        starts: rows of `rows.START`, one for each start of the engine as far as they reach; empty for none.
        recorder: rows of `rows.RECORD`, one a slow step; empty for none.
    Returns COMPLETED, EMPTY (usable energy gone; an engine that `goes_on` sustains it instead) or STUCK (a failing pack
    can no longer hold the speed).
    """
    step_s, speed_m_s, grade, heading_rad, looks = path
    quickness, slowness = draw.speed, 1.0 / draw.speed
    quick_warmth = quickness**RISE_EXPONENT
    per_c = 1.0 / (car.capacity_c * draw.usable)
    mass_kg, steady_n, viscous_n_s_m = car.mass_kg, car.bearing_n, car.bearing_n_s_m
    motor_n, motor_w, regen_share = car.motor_n, car.motor_w, car.regen_share
    regen_most_n = min(car.regen_n, car.motor_n)
    inertia_kg = car.inertia_kg * draw.acceleration
    half_density_area = 0.5 * day.air_kg_m3 * car.drag_area_m2 * draw.air
    wind_m_s = day.wind_m_s * draw.wind
    electric_w = electronics_w(car.base_w, car.headlamp_w, day.lights) * draw.auxiliary
    copper_w_n2 = car.copper_w_n2 * draw.loss
    inverter_w_n = car.inverter_w_n * draw.loss
    gear_share = car.gear_share * draw.loss
    ready_w = car.ready_w * draw.loss
    chiller_cop = cooling_cop(day.ambient_k)

    air_j = rolling_j = climbing_j = brakes_j = drivetrain_j = 0.0
    pack_j = heating_j = cooling_j = conditioning_j = electronics_j = 0.0
    cells_j = terminals_j = recovered_j = kinetic_j = 0.0
    engine_j = fuel_j = engine_s = electric_m = 0.0
    has_engine, floor = car.engine_w > 0.0, car.low_charge
    distance_m = duration_s = 0.0
    start_s, start_m = ledger.duration_s, ledger.distance_m
    charge = state.charge
    speed = state.speed_m_s
    behind_s = state.behind_s
    lag_v = state.lag_v
    ended = COMPLETED
    own_heat_w = 0.0
    step = 0
    for place in range(len(looks)):
        look = looks[place]
        slow_s = look.seconds * slowness
        middle_m_s = look.metres / slow_s
        running = False
        if has_engine:
            trigger = trigger_of(car, day, state, charge, quickness * look.fastest_m_s)
            if trigger >= 0:
                if state.engine == 0.0:
                    start_engine(state, starts, trigger, start_s + duration_s, start_m + distance_m)
                state.engine_deficit = 0.0
                if trigger == LOW_CHARGE:
                    state.sustaining = 1.0
            elif state.engine > 0.0 and state.engine_s >= car.minimum_run_s:
                state.engine, state.upkeep_done = 0.0, 1.0
            running = state.engine > 0.0
            state.engine_heat_w = cabin_heat_w(state.coolant_k, state.cabin_air_k)

        tyre_n = car.tyre_n * draw.tyre * day.surface_factor
        tyre_n *= rolling_temperature_factor(
            day.ambient_k, state.tyre_rise_k, car.tyre_reference_k, car.tyre_slope_per_k
        )
        state.tyre_rise_k = rise_after_k(state.tyre_rise_k, look.warmth * quick_warmth, slow_s)
        heating_w, cooling_w = climate_power_w(car, day, draw, state, middle_m_s, slow_s)
        heater_w = chilled_w = 0.0
        if state.pack_k > car.pack_cool_above_k - CHILLER_NEAR_K:  # the cabin comes first
            chilled_w = pack_chilled_w(
                state.pack_k, car.pack_cool_above_k, day.ambient_k, own_heat_w, car.pack_j_k, car.pack_w_k,
                max(car.cooler_w - cooling_w * chiller_cop, 0.0), slow_s,
            )  # fmt: skip
        elif car.pack_heater_w > 0.0:
            heater_w = pack_heater_w(
                state.pack_k, car.pack_heat_below_k, day.ambient_k, own_heat_w, car.pack_j_k, car.pack_w_k,
                car.pack_heater_w, slow_s,
            )  # fmt: skip

        block_charge = charge
        block_v = open_circuit_v(car.ocv_v, charge)
        slope_v = (block_v - open_circuit_v(car.ocv_v, charge - 0.01)) / 0.01
        ohm = draw.resistance * pack_resistance_ohm(car.resistance_ohm, car.activation_j_mol, state.pack_k, charge)
        lag_ohm, ohm = (1.0 - PROMPT_SHARE) * ohm, PROMPT_SHARE * ohm  # what builds up, and what acts at once
        source_v = block_v - lag_v
        pack_w = drive_power_limit_w(source_v, ohm, car.min_v, car.drive_limit_a)
        spare_w = pack_w - electric_w - ready_w
        if spare_w <= 0.0 and not running:  # not even the 12 V consumers and the inverter: the car is dead
            ended = STUCK
            break
        conditioning_w = heater_w + chilled_w / chiller_cop
        comfort_w = heating_w + cooling_w + conditioning_w
        if comfort_w > spare_w and not running:  # a failing pack: comfort goes first
            share = spare_w / comfort_w
            heating_w, cooling_w, conditioning_w = heating_w * share, cooling_w * share, conditioning_w * share
            heater_w, chilled_w = heater_w * share, chilled_w * share
        load_w = electric_w + heating_w + cooling_w + conditioning_w
        drive_w = max(pack_w - load_w, 0.0)
        if has_engine and charge < floor - SUSTAIN_BAND:  # too weak an engine: its pack gives no more
            heating_w = cooling_w = conditioning_w = heater_w = chilled_w = drive_w = 0.0
            load_w = electric_w
        accept_a = charge_current_limit_a(source_v, ohm, car.max_v, car.charge_limit_a, state.pack_k)
        accept_a = min(accept_a, max(1.0 - charge, 0.0) / (per_c * slow_s))  # never past full
        accept_w = (source_v + accept_a * ohm) * accept_a + load_w
        alone_w = min(motor_w, car.start_power_w) if has_engine else motor_w  # what is driven without the engine
        drive_clear_w = min(0.5 * drive_w, alone_w)  # below these no limit can bite
        charging = running and charge < (state.level if day.mode > 0.0 else floor) + SUSTAIN_BAND
        block_fuel_j = 0.0
        brake_clear_w = min(accept_w, motor_w)
        four_ohm, half_mho = 4 * ohm, 0.5 / ohm
        loss_j = block_s = 0.0

        end = int(look.end)
        for k in range(step, end):
            seconds = step_s[k] * slowness
            wanted_m_s = speed_m_s[k + 1] * quickness
            acceleration = (wanted_m_s - speed) / seconds
            reached_m_s = wanted_m_s
            mean_m_s = 0.5 * (speed + wanted_m_s)
            drag_n = tyre_here_n = bearing_n = climb_n = 0.0
            motor_force_n = brake_n = loss_w = 0.0
            shaft_w = wheels_w = generator_w = 0.0
            if mean_m_s > 0.0:
                angle_rad = heading_rad[k] - day.wind_from_rad
                tyre_here_n = tyre_n
                if grade[k] != 0.0:
                    tyre_here_n = tyre_n / math.sqrt(1 + grade[k] * grade[k])
                    climb_n = climbing_n(mass_kg, grade[k])
                drag_n = drag_in_wind_n(half_density_area, mean_m_s, wind_m_s, angle_rad)
                bearing_n = steady_n + viscous_n_s_m * mean_m_s
                push_n = drag_n + tyre_here_n + bearing_n + climb_n + inertia_kg * acceleration
                braking_n = max(-push_n, 0.0)
                regen_n = min(regen_share * braking_n, regen_fade(mean_m_s) * regen_most_n)
                motor_force_n = max(push_n, 0.0) - regen_n
                if running:
                    shaft_w, wheels_w, generator_w = engine_work_w(
                        max(push_n, 0.0) * mean_m_s, load_w, accept_w,
                        min(alone_w, HELPED_SHARE * drive_w), car.engine_w,
                        car.wheel_path, car.generator_path, state.engine_deficit > 0.0, charging and push_n > 0.0,
                    )  # fmt: skip
                    motor_force_n -= wheels_w / mean_m_s
                wheel_w = motor_force_n * mean_m_s
                if motor_force_n > motor_n or wheel_w > drive_clear_w or wheel_w < -brake_clear_w:  # rare
                    if motor_force_n > 0.0:
                        most_n = motor_force_limit_n(motor_n, motor_w, mean_m_s)
                        pack_n = driving_force_n(drive_w, mean_m_s, copper_w_n2, inverter_w_n, gear_share, ready_w)
                        alone_n = min(most_n, pack_n, alone_w / mean_m_s)
                        lacking_m_s = (motor_force_n - min(most_n, pack_n)) * seconds / inertia_kg
                        asks = running or wheel_w > car.start_power_w or lacking_m_s > BEHIND_M_S
                        if has_engine and motor_force_n > alone_n and wheels_w == 0.0 and asks:
                            if not running:
                                start_engine(state, starts, POWER, start_s + duration_s, start_m + distance_m)
                                state.engine_deficit = 1.0
                                running = True
                            shaft_w, wheels_w, generator_w = engine_work_w(
                                motor_force_n * mean_m_s, load_w, accept_w, alone_n * mean_m_s, car.engine_w,
                                car.wheel_path, car.generator_path, state.engine_deficit > 0.0, False,
                            )  # fmt: skip
                            motor_force_n -= wheels_w / mean_m_s
                        if motor_force_n > min(most_n, pack_n) * (1 + A_HAIR):
                            kind = PACK_LIMIT if pack_n < most_n else MOTOR_LIMIT
                            acceleration = held_back_m_s2(
                                acceleration, speed, seconds, inertia_kg, tyre_here_n + climb_n, steady_n,
                                viscous_n_s_m, half_density_area, wind_m_s, angle_rad, motor_n, motor_w, drive_w,
                                copper_w_n2, inverter_w_n, gear_share, ready_w, wheels_w,
                            )  # fmt: skip
                            mean_m_s = step_mean_m_s(speed, acceleration, seconds)
                            reached_m_s = max(speed + acceleration * seconds, 0.0)
                            note_event(events, kind, start_s + duration_s, start_m + distance_m, seconds)
                            drag_n = drag_in_wind_n(half_density_area, mean_m_s, wind_m_s, angle_rad)
                            bearing_n = steady_n + viscous_n_s_m * mean_m_s
                            push_n = drag_n + tyre_here_n + bearing_n + climb_n + inertia_kg * acceleration
                            motor_force_n, braking_n = max(push_n, 0.0), max(-push_n, 0.0)
                            if wheels_w > 0.0:
                                wheels_w = min(wheels_w, motor_force_n * mean_m_s)
                                shaft_w = wheels_w / car.wheel_path + generator_w / car.generator_path
                                motor_force_n -= wheels_w / mean_m_s if mean_m_s > 0.0 else 0.0
                            losing = mean_m_s < BEHIND_SHARE * wanted_m_s and acceleration < STUCK_BELOW_M_S2
                            behind_s = behind_s + seconds if losing and kind == PACK_LIMIT else 0.0
                    else:
                        most_n = regen_force_limit_n(regen_most_n, motor_n, motor_w, mean_m_s)
                        room_w = max(accept_w - generator_w, 0.0)
                        pack_n = braking_force_n(room_w, mean_m_s, copper_w_n2, inverter_w_n, gear_share, ready_w)
                        if pack_n < min(regen_n, most_n):
                            note_event(events, REGEN_LIMIT, start_s + duration_s, start_m + distance_m, seconds)
                            if car.spins > 0.0 and charge > SPINS_ABOVE and not running:
                                note_spin(starts, state, start_s + duration_s, start_m + distance_m, seconds)
                        regen_n = min(regen_n, most_n, pack_n)
                        motor_force_n = -regen_n
                else:
                    behind_s = 0.0
                brake_n = braking_n - regen_n
                loss_w = drive_loss_w(motor_force_n, mean_m_s, copper_w_n2, inverter_w_n, gear_share, ready_w)
            elif running:
                shaft_w, wheels_w, generator_w = engine_work_w(
                    0.0, load_w, accept_w, 0.0, car.engine_w, car.wheel_path, car.generator_path,
                    state.engine_deficit > 0.0, charging,
                )  # fmt: skip

            terminal_w = motor_force_n * mean_m_s + loss_w + load_w - generator_w
            open_v = block_v + slope_v * (charge - block_charge)
            volt = open_v - lag_v
            inside = volt * volt - four_ohm * terminal_w
            current_a = (volt - math.sqrt(max(inside, 0.0))) * half_mho  # `pack_current_a`, resistance once a block
            used = current_a * seconds * per_c
            part_s = seconds
            if used >= charge - floor and used > 0.0 and state.goes_on == 0.0:
                left = max(charge - floor, 0.0)
                part_s = seconds * left / used
                used = left
                ended = EMPTY
            elif inside < -A_HAIR * volt * volt:  # a failing pack: more is asked than any resistance lets through
                part_s = used = 0.0
                ended = STUCK
            charge -= used
            terminal_w = (volt - current_a * ohm) * current_a
            moved_m = mean_m_s * part_s
            if running:
                burnt_j = fuel_power_w(shaft_w, car.engine_idle_w, car.engine_marginal) * part_s
                block_fuel_j += burnt_j
                engine_j += shaft_w * part_s
                engine_s += part_s
                state.engine_s += part_s
                drivetrain_j += (shaft_w - wheels_w - generator_w) * part_s
                note_run(starts, state, part_s, burnt_j)
            else:
                electric_m += moved_m

            air_j += drag_n * moved_m
            rolling_j += tyre_here_n * moved_m
            climbing_j += climb_n * moved_m
            brakes_j += brake_n * moved_m
            drivetrain_j += bearing_n * moved_m + loss_w * part_s
            kinetic_j += inertia_kg * acceleration * moved_m
            loss_j += (current_a * ohm + lag_v) * current_a * part_s
            cells_j += open_v * current_a * part_s
            terminals_j += terminal_w * part_s
            if current_a < 0.0:
                recovered_j -= open_v * current_a * part_s
            lag_v += (current_a * lag_ohm - lag_v) * (part_s / LAG_S)
            block_s += part_s
            distance_m += moved_m
            duration_s += part_s
            speed = reached_m_s
            if ended == COMPLETED and behind_s > STUCK_AFTER_S:
                ended = STUCK
            if ended != COMPLETED:
                break

        if has_engine:
            fuel_j += block_fuel_j
            state.coolant_k = coolant_after_k(
                state.coolant_k, day.ambient_k, block_fuel_j / slow_s, state.engine_heat_w, car.coolant_j_k,
                car.coolant_w_k, slow_s,
            )  # fmt: skip
        pack_j += loss_j
        heating_j += heating_w * block_s
        cooling_j += cooling_w * block_s
        conditioning_j += conditioning_w * block_s
        electronics_j += electric_w * block_s
        own_heat_w = loss_j / slow_s
        heat_w = own_heat_w + heater_w - chilled_w
        state.pack_k = pack_temperature_after_k(state.pack_k, day.ambient_k, heat_w, car.pack_j_k, car.pack_w_k, slow_s)
        step = end
        if place < len(recorder):
            row = recorder[place]
            row.time_s, row.distance_m = start_s + duration_s, start_m + distance_m
            row.speed_m_s, row.charge, row.pack_k = speed, charge, state.pack_k
            row.cabin_air_k, row.tyre_rise_k = state.cabin_air_k, state.tyre_rise_k
            row.terminal_w = terminal_w
        if ended != COMPLETED:
            break

    if ended != COMPLETED:
        kind = RAN_EMPTY if ended == EMPTY else CANNOT_HOLD
        note_event(events, kind, start_s + duration_s, start_m + distance_m, 1.0)
    state.charge = charge
    state.speed_m_s = 0.0  # kinetic energy is braked away below, so the next lap starts from rest
    state.behind_s, state.lag_v = behind_s, lag_v
    ledger.air_j += air_j
    ledger.rolling_j += rolling_j
    ledger.climbing_j += climbing_j
    ledger.brakes_j += brakes_j + kinetic_j
    ledger.drivetrain_j += drivetrain_j
    ledger.pack_j += pack_j
    ledger.heating_j += heating_j
    ledger.cooling_j += cooling_j
    ledger.pack_conditioning_j += conditioning_j
    ledger.electronics_j += electronics_j
    ledger.cells_j += cells_j
    ledger.terminals_j += terminals_j
    ledger.recovered_j += recovered_j
    ledger.distance_m += distance_m
    ledger.duration_s += duration_s
    ledger.engine_j += engine_j
    ledger.fuel_j += fuel_j
    ledger.engine_s += engine_s
    ledger.electric_m += electric_m
    return ended


@compiled_parallel
def march_all(
    cars, days, draws, car_of, day_of, draw_of, path, states, ledgers, events, starts, recorder, ends
):  # fmt: skip
    """One trace, many scenarios on all cores: row i is car `car_of[i]` on day `day_of[i]` with draw `draw_of[i]`.

    `events` has shape (rows, kinds); `starts` and `recorder` must be empty. Not for several Python threads at once.
    """
    for row in prange(len(ends)):
        ends[row] = march_one(
            cars[car_of[row]],
            days[day_of[row]],
            draws[draw_of[row]],
            path,
            states[row],
            ledgers[row],
            events[row],
            starts,
            recorder,
        )
