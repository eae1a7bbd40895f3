"""The engine: fuel by a Willans line, sharing of its work, triggers, and books that close with it."""

import numpy as np
import pytest

from service.constants import GALLON_M3, PETROL_CO2_KG_M3, PETROL_J_M3
from service.physics.engine import coolant_after_k, engine_work_w, fuel_power_w, marginal_efficiency, shaft_for_w
from service.physics.march import COMPLETED, EMPTY
from service.physics.tables import start_state
from service.physics.triggers import TRIGGERS
from service.quotes.answer import CAUSES
from service.specs import Ask, Cabin, Climate, DriveMode, EngineUse, Journey, Leg, Start, Weather
from service.trips.legs import legs_trace

PLUG_IN = "compact-plug-in"
TOWN = (Leg(6000.0, 13.0, 0.001),)


@pytest.fixture
def drive(catalogue, rows, march):
    """One journey of the compact plug-in, engine and all; fields of the car's row by keyword."""

    def go(legs=TOWN, celsius=20.0, charge=0.9, climate=Climate.OFF, use=None, **fields):
        weather = Weather(celsius + 273.15, 0.6, 0.0, 0.0)
        use = use or EngineUse()
        ask = Ask(catalogue.vehicles[PLUG_IN], Journey(legs=legs), weather, cabin=Cabin(climate), engine_use=use)
        car, day = rows(ask)
        for name, value in fields.items():
            car[name] = value
        state = start_state(Start(charge), car, day)[0]
        state.goes_on = 1.0
        return march(car, day, legs_trace(legs), state)

    return go


def triggers_of(done):
    return [TRIGGERS[int(each.trigger)] for each in done.starts]


def closes(ledger):
    causes_j = sum(float(ledger[f"{cause}_j"]) for cause in CAUSES)
    return causes_j == pytest.approx(float(ledger.cells_j + ledger.engine_j), rel=1e-9, abs=1e-3)


def test_fuel_constants():
    # 40 CFR 600.002: 33.705 kWh a gallon; 600.210-12: 8 887 g CO2 a gallon
    assert pytest.approx(33.705) == PETROL_J_M3 * GALLON_M3 / 3.6e6
    assert pytest.approx(2.348, abs=5e-4) == PETROL_CO2_KG_M3 * 1e-3  # kg a litre


def test_the_willans_line_meets_best_and_idle():
    marginal = marginal_efficiency(0.36, 70e3, 5e3)
    assert 70e3 / fuel_power_w(70e3, 5e3, marginal) == pytest.approx(0.36)
    assert fuel_power_w(0.0, 5e3, marginal) == 5e3
    part = [power / fuel_power_w(power, 5e3, marginal) for power in (5e3, 20e3, 50e3)]
    assert part == sorted(part)  # part load is worse


def test_no_watt_is_lost_between_shaft_wheels_and_generator():
    for wheel_w, electric_w in ((0.0, 900.0), (12e3, 0.0), (12e3, 900.0), (90e3, 900.0)):
        shaft_w, wheels_w, made_w = shaft_for_w(wheel_w, electric_w, 40e3, 0.9, 0.88)
        assert shaft_w == pytest.approx(wheels_w / 0.9 + made_w / 0.88)
        assert shaft_w <= 40e3 * (1 + 1e-12)
        assert wheels_w <= wheel_w
        assert made_w <= electric_w


def test_a_deficit_is_what_the_motor_lacks():
    assert engine_work_w(30e3, 500.0, 9e3, 20e3, 60e3, 1.0, 1.0, True, False) == (10e3, 10e3, 0.0)
    assert engine_work_w(30e3, 500.0, 9e3, 20e3, 60e3, 1.0, 1.0, False, False) == (30.5e3, 30e3, 500.0)
    shaft_w, _, made_w = engine_work_w(5e3, 500.0, 9e3, 20e3, 60e3, 1.0, 1.0, False, True)
    assert (shaft_w, made_w) == (14e3, 9e3)  # 24 kW would be efficient, but the pack takes no more


def test_coolant_warms_with_fuel_and_stops_at_the_thermostat():
    coolant_k = 263.15
    for _ in range(60):
        coolant_k = coolant_after_k(coolant_k, 263.15, 30e3, 0.0, 80e3, 20.0, 10.0)
    assert 320 < coolant_k < 340  # 30 % of 30 kW for ten minutes into 80 kJ/K: by hand 263 + 67 K less losses
    assert coolant_after_k(367.0, 293.15, 200e3, 0.0, 80e3, 20.0, 600.0) == 368.15


def test_without_a_trigger_nothing_starts_and_no_fuel_is_burnt(drive):
    done = drive()
    assert done.ended == COMPLETED
    assert len(done.starts) == 0
    assert (done.ledger.fuel_j, done.ledger.engine_j, done.ledger.engine_s) == (0.0, 0.0, 0.0)
    assert done.ledger.electric_m == pytest.approx(done.ledger.distance_m)
    assert done.state.first_fuel_m == -1.0


@pytest.mark.parametrize(
    ("trigger", "setting"),
    [
        ("speed", {"start_speed_m_s": 12.0}),
        ("power", {"start_power_w": 9e3}),
        ("cold_pack", {"cold_pack_k": 300.0}),
        ("hot_pack", {"hot_pack_k": 280.0}),
        ("low_charge", {"charge": 0.02, "low_charge": 0.02}),
        ("charge_mode", {"use": EngineUse(DriveMode.CHARGE_HOLD)}),
    ],
)
def test_each_trigger_starts_it_and_the_books_close(drive, trigger, setting):
    done = drive(**setting)
    assert triggers_of(done)[0] == trigger
    assert done.state.first_fuel_m >= 0
    assert closes(done.ledger)
    assert done.ledger.fuel_j > done.ledger.engine_j > 0
    assert float(np.sum(done.starts.fuel_j)) == pytest.approx(float(done.ledger.fuel_j))
    burning = done.starts[done.starts.fuel_j > 0]
    assert float(np.sum(burning.run_s)) == pytest.approx(float(done.ledger.engine_s))
    assert 0 <= done.ledger.electric_m < done.ledger.distance_m


def test_cabin_heat_starts_it_below_its_threshold_only(drive):
    heats = {"climate": Climate.AUTO, "celsius": 0.0}
    assert triggers_of(drive(heat_below_k=278.15, **heats)) == ["cabin_heat"]
    assert triggers_of(drive(heat_below_k=263.15, **heats)) == []
    assert triggers_of(drive(heat_below_k=278.15, celsius=0.0)) == []  # climate off


def test_engine_heat_spares_the_battery(drive):
    heats = {"climate": Climate.AUTO, "celsius": -5.0, "legs": (Leg(15_000.0, 20.0),)}
    electric, burnt = drive(**heats), drive(heat_below_k=300.0, **heats)
    assert burnt.ledger.heating_j < 0.7 * electric.ledger.heating_j
    assert burnt.state.cabin_air_k == pytest.approx(294.15, abs=1.5)


def test_colder_never_lowers_engine_seconds_for_heat(drive):
    run_s = [
        float(
            drive(
                celsius=celsius, climate=Climate.AUTO, heat_below_k=300.0, legs=(Leg(20_000.0, 18.0),)
            ).ledger.engine_s
        )
        for celsius in (12, 6, 0, -6, -12, -18)
    ]
    assert run_s == sorted(run_s)


def test_it_runs_its_minimum_time(drive):
    short = drive(start_power_w=12e3, minimum_run_s=30.0)
    long = drive(start_power_w=12e3, minimum_run_s=240.0)
    assert all(each.run_s >= 30.0 - 1e-6 for each in short.starts[:-1])
    assert long.ledger.engine_s > short.ledger.engine_s


def test_a_held_charge_is_held_and_a_made_one_made(drive):
    legs = (Leg(30_000.0, 20.0, 0.0005),)
    held = drive(legs, charge=0.5, use=EngineUse(DriveMode.CHARGE_HOLD))
    made = drive(legs, charge=0.3, use=EngineUse(DriveMode.CHARGE_WHILE_DRIVING))
    assert held.state.charge == pytest.approx(0.5, abs=0.06)
    assert made.state.charge > 0.45
    assert made.ledger.fuel_j > held.ledger.fuel_j


def test_a_sustained_charge_stays_near_its_level(drive):
    done = drive((Leg(40_000.0, 22.0, 0.0005),), charge=0.05)
    assert done.ended == COMPLETED
    assert -0.03 < done.state.charge < 0.09
    assert done.ledger.electric_m > 0.1 * done.ledger.distance_m  # it stops in between


def test_a_full_pack_on_a_descent_spins_it_without_fuel(drive):
    done = drive((Leg(6000.0, 15.0, grade=-0.07),), charge=1.0, spins=1.0)
    assert set(triggers_of(done)) == {"full_pack"}
    assert done.ledger.fuel_j == 0.0
    assert done.state.first_fuel_m == -1.0


def test_long_unused_it_runs_warm_once(drive, catalogue):
    done = drive((Leg(20_000.0, 20.0),), use=EngineUse(unused_s=1.0))
    assert triggers_of(done) == []  # this car's limit is not known


def test_the_drive_ends_at_the_sustained_level_unless_it_goes_on(catalogue, rows, march):
    ask = Ask(catalogue.vehicles[PLUG_IN], Journey(legs=TOWN), Weather(293.15, 0.6, 0.0, 0.0), cabin=Cabin(Climate.OFF))
    car, day = rows(ask)
    car.low_charge = 0.2
    done = march(car, day, legs_trace((Leg(30_000.0, 20.0),)), Start(0.3))
    assert done.ended == EMPTY
    assert done.state.charge == pytest.approx(0.2)
    assert done.ledger.fuel_j == 0.0
