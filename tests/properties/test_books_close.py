"""Causes add up to what left the cells, for any car, day, draw and trace; whatever ends the drive."""

import numpy as np
import pytest
from hypothesis import given, note, settings
from hypothesis import strategies as st

from service.physics.rows import OCV_POINTS
from service.quotes.answer import CAUSES
from service.specs import Ask, Cabin, CabinAir, Climate, Journey, Start, Weather
from service.trips.trace import Trace

IDS = ("compact-plug-in", "family-suv-plug-in", "small-electric-hatch", "mid-electric-sedan", "large-electric-suv",
       "electric-delivery-van")  # fmt: skip
CARS = st.fixed_dictionaries(
    {
        "mass_kg": st.floats(500, 5000),
        "inertia_kg": st.floats(500, 5200),
        "tyre_n": st.floats(0, 600),
        "drag_area_m2": st.floats(0.2, 4),
        "motor_w": st.floats(3e3, 4e5),
        "motor_n": st.floats(300, 2e4),
        "regen_n": st.floats(0, 1e4),
        "regen_share": st.floats(0, 1),
        "resistance_ohm": st.floats(0.005, 1.0),
        "capacity_c": st.floats(2e3, 6e5),
        "charge_limit_a": st.floats(0, 400),
        "drive_limit_a": st.floats(20, 800),
        "pack_heater_w": st.sampled_from([0.0, 2000.0, 7000.0]),
        "heater_w": st.floats(0, 8000),
        "heat_pump_w": st.sampled_from([0.0, 4000.0]),
        "heat_pump_cut_out_k": st.floats(248.15, 268.15),
        "cooler_w": st.sampled_from([0.0, 5000.0]),
        "pack_cool_above_k": st.floats(283.15, 318.15),
        "base_w": st.floats(0, 3000),
        "engine_w": st.sampled_from([0.0, 30e3, 90e3]),
        "start_speed_m_s": st.sampled_from([10.0, np.inf]),
        "start_power_w": st.sampled_from([8e3, np.inf]),
        "heat_below_k": st.sampled_from([0.0, 300.0]),
        "cold_pack_k": st.sampled_from([0.0, 270.0]),
        "low_charge": st.sampled_from([0.0, 0.3]),
        "spins": st.sampled_from([0.0, 1.0]),
    }
)
DAYS = st.builds(
    Weather,
    ambient_k=st.floats(233.15, 323.15),
    relative_humidity=st.floats(0, 1),
    wind_m_s=st.floats(0, 33),
    sun_w_m2=st.floats(0, 1200),
    altitude_m=st.floats(-430, 4500),
    surface=st.sampled_from(["dry", "wet", "slush", "snow"]),
)
DRAWS = st.fixed_dictionaries(
    {name: st.floats(0.5, 1.8) for name in ("tyre", "air", "loss", "usable", "resistance", "heat", "auxiliary", "wind")}
) | st.fixed_dictionaries({"speed": st.floats(0.7, 1.3), "acceleration": st.floats(0.5, 2.0)})


@st.composite
def traces(draw, longest=40):
    """Any speeds, steps and grades; from rest."""
    steps = draw(st.integers(1, longest))
    speed = draw(st.lists(st.floats(0, 55), min_size=steps, max_size=steps))
    lengths = draw(st.lists(st.sampled_from([0.25, 1.0, 1.0, 2.5, 10.0]), min_size=steps, max_size=steps))
    grade = draw(st.lists(st.sampled_from([0.0, 0.0, 0.05, -0.05, 0.15, -0.15]), min_size=steps, max_size=steps))
    return Trace(np.array(lengths), np.array([0.0, *speed]), np.array(grade), np.full(len(grade), np.nan))


def check(ledger):
    flow_j = sum(abs(float(ledger[f"{cause}_j"])) for cause in CAUSES) + float(ledger.recovered_j)
    causes_j = sum(float(ledger[f"{cause}_j"]) for cause in CAUSES)
    assert causes_j == pytest.approx(float(ledger.cells_j + ledger.engine_j), abs=1e-9 * flow_j)
    assert float(ledger.cells_j) == pytest.approx(float(ledger.terminals_j + ledger.pack_j), abs=1e-9 * flow_j)
    for name in ledger.dtype.names:
        assert np.isfinite(ledger[name]), name
    for name in ("air_j", "rolling_j", "drivetrain_j", "pack_j", "heating_j", "cooling_j", "electronics_j"):
        assert ledger[name] >= 0, name
    for name in ("pack_conditioning_j", "recovered_j", "distance_m", "duration_s", "engine_j", "fuel_j", "electric_m"):
        assert ledger[name] >= 0, name
    assert ledger.fuel_j >= ledger.engine_j  # no work without fuel
    assert (ledger.fuel_j > 0) == (ledger.engine_s > 0)


@settings(max_examples=150)
@given(
    id_=st.sampled_from(IDS),
    fields=CARS,
    weather=DAYS,
    factors=DRAWS,
    trace=traces(),
    charge=st.floats(0.001, 1),
    cabin=st.builds(
        Cabin,
        climate=st.sampled_from(list(Climate)),
        occupants=st.integers(1, 9),
        air=st.sampled_from(list(CabinAir)),
        seat_heat=st.booleans(),
    ),
    soaked=st.booleans(),
)
def test_causes_add_up(catalogue, rows, march, id_, fields, weather, factors, trace, charge, cabin, soaked):
    start = Start(charge, soaked)
    ask = Ask(catalogue.vehicles[id_], Journey(cycle="udds"), weather, start=start, cabin=cabin)
    car, day = rows(ask)
    for name, value in fields.items():
        car[name] = value
    car.engine_idle_w, car.engine_marginal, car.wheel_path, car.generator_path = 0.07 * car.engine_w, 0.4, 0.9, 0.88
    car.coolant_j_k, car.coolant_w_k, car.minimum_run_s = 80e3, 20.0, 60.0
    note(f"{id_} {fields} {weather} {factors} {charge=} {cabin} {soaked=} {trace}")
    done = march(car, day, trace, start, **factors)
    check(done.ledger)
    for name in done.state.dtype.names:
        assert np.isfinite(done.state[name]), name
    assert done.state.charge >= 0
    assert float(done.ledger.distance_m) <= trace.distance_m * (1 + 1e-9)


@settings(max_examples=60)
@given(id_=st.sampled_from(IDS), weather=DAYS, trace=traces(), ends=st.tuples(st.floats(250, 350), st.floats(1, 150)))
def test_charge_and_energy_agree_over_a_straight_voltage(catalogue, rows, march, id_, weather, trace, ends):
    # along a straight open-circuit voltage the energy is exactly its integral over the charge used
    car, day = rows(Ask(catalogue.vehicles[id_], Journey(cycle="udds"), weather, cabin=Cabin(Climate.OFF)))
    low_v, rise_v = ends
    car.ocv_v[:] = low_v + rise_v * np.linspace(0, 1, OCV_POINTS)
    car.max_v, car.min_v = low_v + rise_v + 20, 0.5 * low_v
    done = march(car, day, trace, Start(0.7))
    used = 0.7 - float(done.state.charge)
    mean_v = low_v + rise_v * (0.7 + float(done.state.charge)) / 2
    gross_j = abs(float(done.ledger.cells_j)) + 2 * float(done.ledger.recovered_j)
    assert float(done.ledger.cells_j) == pytest.approx(used * float(car.capacity_c) * mean_v, abs=5e-3 * gross_j + 10)
