"""A whole cycle against an independent integration of the same physics by SciPy, in continuous time.

The right-hand side below is written from the equations in the physics modules' docstrings. It shares their scalar
functions of one instant (drag, losses, current, limits) but nothing of the march: no slow steps, no mean speeds, no
trapezoids. Speed follows the cycle's points in straight lines; every kink of the cycle is a stop of the integrator.
"""

import numpy as np
import pytest
from scipy.integrate import solve_ivp

from service.constants import AIR_HEAT_CAPACITY_J_KG_K
from service.physics.battery import (
    LAG_S,
    PROMPT_SHARE,
    charge_current_limit_a,
    open_circuit_v,
    pack_current_a,
    pack_resistance_ohm,
)
from service.physics.cabin import PERSON_SENSIBLE_W
from service.physics.climate_machine import cooling_cop, heat_pump_capacity_w, heat_pump_cop, heating_cop
from service.physics.drivetrain import braking_force_n, drive_loss_w, regen_force_limit_n
from service.physics.fresh_air import fog_fresh_kg_s, outdoor_air_kg_s, saturated_kg_kg
from service.physics.road_load import air_drag_n, climbing_n
from service.physics.tyres import WARM_UP_S, rolling_temperature_factor, settled_rise_k, warmth
from service.quotes.answer import CAUSES
from service.specs import Ask, Cabin, Climate, Journey, Procedure, Start, Weather
from service.trips.journey import trace_of

HEATER_EFFICIENCY = 0.95
COIL_K = 276.15  # supply air is dried at 3 °C
COIL_KG_KG = 0.0054  # saturated at 5 °C, the coil of summer
PERSON_G_H, EVAPORATION_J_KG = 50.0, 2.501e6
TIGHT_S = 2.0  # how closely a pack heater holds its threshold: nearly at once
STATES = ("charge", "pack_k", "rise_k", "air_k", "interior_k", "lag_v")
BOOKS = (*CAUSES, "cells")


class Continuous:
    """One car on one day, its equations in continuous time."""

    def __init__(self, car, day, speed_m_s):
        self.car, self.day, self.speed_m_s = car, day, speed_m_s
        self.holding = False  # the cabin has reached its set point and is held there

    def cabin_rates(self, air_k, interior_k, speed_m_s):
        """d/dt of both nodes, electric power for heat and cold, W: all there is until the set point, then less."""
        car, day = self.car, self.day
        open_w_k = car.ua_still_w_k + car.ua_per_m_s_w_k * speed_m_s
        fresh_w_k = self.fresh_kg_s(air_k, speed_m_s) * AIR_HEAT_CAPACITY_J_KG_K
        open_w_k += fresh_w_k
        free_w = open_w_k * (day.ambient_k - air_k) + car.cabin_coupling_w_k * (interior_k - air_k)
        free_w += day.occupants * PERSON_SENSIBLE_W
        interior_w = car.cabin_coupling_w_k * (air_k - interior_k) + day.sun_w_m2 * car.sun_m2
        heat_w = electric_w = cold_w = 0.0
        if day.climate > 0 and day.ambient_k > day.set_point_k:
            brought_kg_s = fresh_w_k / AIR_HEAT_CAPACITY_J_KG_K * (day.humidity_kg_kg - COIL_KG_KG)
            water_w = (brought_kg_s + day.occupants * PERSON_G_H / 3.6e6) * EVAPORATION_J_KG
            heat_w = -(free_w if self.holding else car.cooler_w - water_w)
            cold_w = car.blower_w + (water_w - heat_w) / cooling_cop(day.ambient_k)
        elif day.climate > 0:
            pump_w = heat_pump_capacity_w(car.heat_pump_w, car.heat_pump_cut_out_k, day.ambient_k, day.frost_share)
            most_w = max(car.heater_w * HEATER_EFFICIENCY, pump_w)
            heat_w = min(max(-free_w, 0.0), most_w) if self.holding else most_w
            work_w, again_w = self.drying(heat_w, most_w - heat_w, fresh_w_k, pump_w > 0)
            pumped_w = min(heat_w + again_w, pump_w)
            electric_w = work_w + (heat_w + again_w - pumped_w) / HEATER_EFFICIENCY + car.blower_w
            electric_w += pumped_w / heat_pump_cop(day.ambient_k, day.frost_share)
        return (free_w + heat_w) / car.cabin_air_j_k, interior_w / car.cabin_interior_j_k, electric_w, cold_w

    def fresh_kg_s(self, air_k, speed_m_s):
        """Fresh air that keeps the windows clear: the pane's balance at this instant."""
        day = self.day
        least_kg_s = outdoor_air_kg_s(0.0, day.occupants)
        if day.climate == 0:
            return least_kg_s
        if day.ambient_k > day.set_point_k:
            return 0.5 * least_kg_s  # partly recirculated
        outer_w_m2_k = 11.0 + 3.4 * speed_m_s
        pane_k = day.ambient_k + (air_k - day.ambient_k) * 10.0 / (10.0 + outer_w_m2_k)
        arriving = day.humidity_kg_kg
        if 276.15 <= day.ambient_k <= 288.15:
            arriving = min(arriving, saturated_kg_kg(COIL_K, day.pressure_pa))
        clear_kg_kg = saturated_kg_kg(pane_k, day.pressure_pa)
        moisture_kg_s = day.occupants * PERSON_G_H / 3.6e6
        return max(least_kg_s, fog_fresh_kg_s(moisture_kg_s, arriving, clear_kg_kg))

    def drying(self, heat_w, spare_w, fresh_w_k, pumps):
        """Work at the coil and heat that the cabin's air then lacks, W; between 3 and 15 °C outside."""
        day = self.day
        if not 276.15 <= day.ambient_k <= 288.15:
            return 0.0, 0.0
        full_w = fresh_w_k * (day.ambient_k - COIL_K)
        taken_w = min(full_w, heat_w, spare_w)
        water_kg_kg = max(day.humidity_kg_kg - saturated_kg_kg(COIL_K, day.pressure_pa), 0.0)
        water_w = fresh_w_k / AIR_HEAT_CAPACITY_J_KG_K * water_kg_kg * EVAPORATION_J_KG * taken_w / full_w
        if not pumps:
            return (taken_w + water_w) / cooling_cop(day.ambient_k), taken_w
        cop, coil_w = heating_cop(COIL_K), taken_w + water_w
        back_w = min(coil_w * cop / (cop - 1), heat_w + taken_w)  # what the cabin can use; the rest goes outside
        outside_w = coil_w - back_w * (cop - 1) / cop
        return back_w / cop + outside_w / cooling_cop(day.ambient_k), taken_w - back_w

    def heater_w(self, pack_k, ohm, idle_a):
        """Pack heater, W: full power until the threshold, then what holds the pack there beside its own heat."""
        car = self.car
        below_k = car.pack_heat_below_k - pack_k
        lost_w = car.pack_w_k * (pack_k - self.day.ambient_k) - idle_a * idle_a * ohm
        return min(max(car.pack_j_k * below_k / TIGHT_S + lost_w, 0.0), car.pack_heater_w)

    def chilled_w(self, pack_k, ohm, idle_a, cold_w):
        """Heat taken from the pack, W, by what the cabin leaves of the machine: the same the other way round."""
        car = self.car
        over_k = pack_k - car.pack_cool_above_k
        own_w = idle_a * idle_a * ohm - car.pack_w_k * (pack_k - self.day.ambient_k)
        left_w = max(car.cooler_w - cold_w * cooling_cop(self.day.ambient_k), 0.0)
        return min(max(car.pack_j_k * over_k / TIGHT_S + own_w, 0.0), left_w)

    def rates(self, time_s, state, acceleration, grade):
        """d/dt of `STATES` and `BOOKS` within one second of the cycle."""
        car, day = self.car, self.day
        charge, pack_k, rise_k, air_k, interior_k, lag_v = state[: len(STATES)]
        second = min(int(time_s), len(self.speed_m_s) - 2)
        speed = max(self.speed_m_s[second] + acceleration * (time_s - second), 0.0)
        air_rate, interior_rate, heating_w, cold_w = self.cabin_rates(air_k, interior_k, speed)
        electric_w = car.base_w + car.headlamp_w * day.lights
        volt = open_circuit_v(car.ocv_v, charge)
        steady_ohm = pack_resistance_ohm(car.resistance_ohm, car.activation_j_mol, pack_k, charge)
        ohm = PROMPT_SHARE * steady_ohm
        heater_w = self.heater_w(pack_k, steady_ohm, (electric_w + heating_w) / volt)
        chilled_w = self.chilled_w(pack_k, steady_ohm, (electric_w + cold_w) / volt, cold_w)
        chiller_w = chilled_w / cooling_cop(day.ambient_k)
        load_w = electric_w + heating_w + cold_w + heater_w + chiller_w
        losses = (car.copper_w_n2, car.inverter_w_n, car.gear_share, car.ready_w)
        tyre_n = drag_n = bearing_n = climb_n = force_n = brake_n = loss_w = 0.0
        if speed > 0:
            factor = rolling_temperature_factor(day.ambient_k, rise_k, car.tyre_reference_k, car.tyre_slope_per_k)
            tyre_n = car.tyre_n * day.surface_factor * factor / np.sqrt(1 + grade * grade)
            drag_n = air_drag_n(0.5 * day.air_kg_m3 * car.drag_area_m2, speed, day.wind_m_s)
            bearing_n = car.bearing_n + car.bearing_n_s_m * speed
            climb_n = climbing_n(car.mass_kg, grade)
            push_n = tyre_n + drag_n + bearing_n + climb_n + car.inertia_kg * acceleration
            if push_n >= 0:
                force_n = push_n
            else:
                accept_a = charge_current_limit_a(volt - lag_v, ohm, car.max_v, car.charge_limit_a, pack_k)
                accept_w = (volt - lag_v + accept_a * ohm) * accept_a + load_w
                most_n = regen_force_limit_n(min(car.regen_n, car.motor_n), car.motor_n, car.motor_w, speed)
                regen_n = min(-car.regen_share * push_n, most_n, braking_force_n(accept_w, speed, *losses))
                force_n, brake_n = -regen_n, -push_n - regen_n
            loss_w = drive_loss_w(force_n, speed, *losses)
        amps = pack_current_a(volt - lag_v, ohm, force_n * speed + loss_w + load_w)
        own_w = (amps * ohm + lag_v) * amps
        heat_w = own_w + heater_w - chilled_w
        books = {
            "air": drag_n * speed, "rolling": tyre_n * speed, "climbing": climb_n * speed,
            "brakes": (brake_n + car.inertia_kg * acceleration) * speed, "drivetrain": bearing_n * speed + loss_w,
            "pack": own_w, "heating": heating_w, "cooling": cold_w,
            "pack_conditioning": heater_w + chiller_w,
            "electronics": electric_w, "cells": volt * amps,
        }  # fmt: skip
        return [
            -amps / car.capacity_c,
            (heat_w - car.pack_w_k * (pack_k - day.ambient_k)) / car.pack_j_k,
            (settled_rise_k(warmth(speed)) - rise_k) / WARM_UP_S,
            air_rate,
            interior_rate,
            (amps * (steady_ohm - ohm) - lag_v) / LAG_S,
            *(books[name] for name in BOOKS),
        ]

    def run(self, state, grade):
        """Integrate the cycle from kink to kink; returns the final state and the books."""
        y = np.array([*state, *([0.0] * len(BOOKS))])
        size = np.array([1.0, 300, 30, 300, 300, 10, *([1e6] * len(BOOKS))])
        aim_k = self.day.set_point_k

        def reached(_t, y, *_):
            return y[3] - aim_k

        reached.terminal, reached.direction = True, 1 if self.day.ambient_k < aim_k else -1
        last = len(self.speed_m_s) - 1
        start_s = 0.0
        while start_s < last:
            second = int(start_s)
            acceleration = self.speed_m_s[second + 1] - self.speed_m_s[second]
            events = reached if self.day.climate > 0 and not self.holding else None
            end_s = second + 1.0
            while (
                acceleration == 0 and end_s < last and self.speed_m_s[int(end_s) + 1] == self.speed_m_s[second]
                and grade[int(end_s)] == grade[second]
            ):  # fmt: skip
                end_s += 1.0  # no kink before
            done = solve_ivp(
                self.rates, (start_s, end_s), y, args=(acceleration, grade[second]), events=events,
                rtol=1e-7, atol=1e-9 * size, max_step=1.0,
            )  # fmt: skip
            y, start_s = done.y[:, -1], done.t[-1]
            if done.status == 1:
                self.holding = True
        return dict(zip(STATES, y, strict=False)), dict(zip(BOOKS, y[len(STATES) :], strict=True))


def ask_for(vehicle, cycle, celsius, procedure, climate, charge):
    return Ask(
        vehicle,
        Journey(cycle=cycle),
        Weather(celsius + 273.15, relative_humidity=0.7, wind_m_s=3.0, sun_w_m2=100.0),
        procedure,
        Start(state_of_charge=charge),
        Cabin(climate=climate),
    )


CASES = [
    pytest.param("compact-plug-in", "udds", 23, Procedure.DYNAMOMETER, Climate.OFF, 0.8, id="mild rolls, climate off"),
    pytest.param("small-electric-hatch", "udds", -7, Procedure.ROAD, Climate.AUTO, 0.9, id="cold road, resistive"),
    pytest.param("small-electric-hatch", "udds", 9, Procedure.ROAD, Climate.AUTO, 0.9, id="damp, dried, resistive"),
    pytest.param("mid-electric-sedan", "udds", 12, Procedure.ROAD, Climate.AUTO, 0.7, id="damp, dried, heat pump"),
    pytest.param("mid-electric-sedan", "udds", 39, Procedure.ROAD, Climate.AUTO, 0.7, id="hot road, chilled pack"),
    pytest.param("mid-electric-sedan", "wltc_class3b", 2, Procedure.ROAD, Climate.AUTO, 0.6, id="cool road, heat pump"),
]


@pytest.mark.parametrize(("vehicle", "cycle", "celsius", "procedure", "climate", "charge"), CASES)
def test_cycle_energy_against_a_continuous_integration(
    catalogue, rows, march, vehicle, cycle, celsius, procedure, climate, charge
):
    ask = ask_for(catalogue.vehicles[vehicle], cycle, celsius, procedure, climate, charge)
    car, day = rows(ask)
    ours = march(car, day, trace_of(ask.journey, catalogue), ask.start)
    assert ours.events["motor_limit"].run_s == ours.events["pack_limit"].run_s == 0  # the cycle's speed is driven
    speed_m_s = np.array(catalogue.cycle(cycle).speed_m_s)
    reference = Continuous(car, day, speed_m_s)
    soaked = (charge, day.ambient_k, 0.0, day.ambient_k, day.ambient_k, 0.0)
    state, books = reference.run(soaked, np.zeros(len(speed_m_s) - 1))
    assert ours.ledger.cells_j == pytest.approx(books["cells"], rel=1e-3)  # seen: 0.02 to 0.05 %
    for cause in CAUSES:
        assert ours.ledger[f"{cause}_j"] == pytest.approx(books[cause], abs=2e-3 * books["cells"]), cause
    assert ours.state.charge == pytest.approx(state["charge"], abs=1e-3 * (charge - state["charge"]))
    assert ours.state.pack_k == pytest.approx(state["pack_k"], abs=0.05)
    assert ours.state.tyre_rise_k == pytest.approx(state["rise_k"], abs=1.0)  # half a per cent of rolling
    if climate is Climate.AUTO:
        assert reference.holding
        assert ours.state.cabin_air_k == pytest.approx(state["air_k"], abs=0.02)
        assert ours.state.cabin_interior_k == pytest.approx(state["interior_k"], abs=0.1)


def test_the_books_of_the_reference_close(catalogue, rows):
    # the reference itself: causes add up to what leaves the cells
    ask = ask_for(catalogue.vehicles["mid-electric-sedan"], "nycc", 2, Procedure.ROAD, Climate.AUTO, 0.5)
    car, day = rows(ask)
    speed_m_s = np.array(catalogue.cycle("nycc").speed_m_s)
    _, books = Continuous(car, day, speed_m_s).run(
        (0.5, 275.15, 0.0, 275.15, 275.15, 0.0), np.zeros(len(speed_m_s) - 1)
    )
    assert sum(books[cause] for cause in CAUSES) == pytest.approx(books["cells"], rel=1e-6)
