"""The electric-only envelope from given machines: each limit bites where it should."""

import math
from dataclasses import replace

import numpy as np
import pytest

from service.physics.drivetrain import drive_loss_w
from service.physics.envelope import (
    CONTROL_POWER,
    CONTROL_SPEED,
    FASTEST_M_S,
    GENERATOR_SPEED,
    GRIP,
    MOTOR_HEAT,
    MOTOR_POWER,
    MOTOR_TORQUE,
    PACK,
    Controls,
    Heat,
    Machines,
    Supply,
    envelope_at,
    envelope_curve,
    heat_from_ratings,
    held_share,
    road_load_n,
    top_speed_m_s,
)
from service.physics.rows import CAR, DAY, table

MACHINES = Machines(
    motor_n=5000.0,
    motor_w=60e3,
    push_n=0.0,
    grip_n=9000.0,
    copper_w_n2=1e-4,
    inverter_w_n=0.3,
    gear_share=0.02,
    ready_w=60.0,
)
COOL = Heat(1.0, 100.0)  # never too hot
PLENTY, FREE = Supply(500e3, 0.0), Controls()


@pytest.fixture
def road():
    """A car of plain coefficients on a still day of the tyres' own reference."""
    car, day = table(CAR, 1)[0], table(DAY, 1)[0]
    car.mass_kg, car.inertia_kg = 1600.0, 1650.0
    car.tyre_n, car.tyre_reference_k, car.tyre_slope_per_k = 150.0, 293.15, 0.0
    car.drag_area_m2, day.air_kg_m3, day.ambient_k, day.surface_factor = 0.65, 1.2, 293.15, 1.0
    return car, day


@pytest.mark.parametrize(
    ("speed", "changes", "supply", "controls", "limit"),
    [
        (5.0, {}, PLENTY, FREE, MOTOR_TORQUE),
        (30.0, {}, PLENTY, FREE, MOTOR_POWER),
        (5.0, {"grip_n": 3000.0}, PLENTY, FREE, GRIP),
        (30.0, {}, Supply(20e3, 2e3), FREE, PACK),
        (30.0, {}, PLENTY, Controls(speed_m_s=20.0), CONTROL_SPEED),
        (30.0, {}, PLENTY, Controls(gear_m_s=20.0, speed_m_s=25.0), GENERATOR_SPEED),
        (30.0, {}, PLENTY, Controls(power_w=10e3), CONTROL_POWER),
    ],
)
def test_the_smallest_limit_is_named(speed, changes, supply, controls, limit):
    assert envelope_at(speed, replace(MACHINES, **changes), COOL, supply, controls, 10.0)[1] == limit


def test_motor_curve_is_constant_torque_then_constant_power():
    forces = envelope_curve(np.array([0.0, 6.0, 12.0, 24.0]), MACHINES, COOL, PLENTY, FREE, 10.0).force_n
    assert forces == pytest.approx([5000, 5000, 5000, 2500])


def test_beyond_the_gear_or_the_controls_there_is_nothing():
    for controls in (Controls(gear_m_s=20.0), Controls(speed_m_s=20.0)):
        assert envelope_at(20.0, MACHINES, COOL, PLENTY, controls, 10.0)[0] > 0
        assert envelope_at(20.001, MACHINES, COOL, PLENTY, controls, 10.0)[0] == 0


def test_the_force_the_pack_allows_draws_just_what_the_pack_gives():
    supply = Supply(25e3, 3e3)
    force_n, limit = envelope_at(20.0, MACHINES, COOL, supply, FREE, 10.0)
    lost_w = drive_loss_w(force_n, 20.0, MACHINES.copper_w_n2, 0.3, 0.02, 60.0)
    assert limit == PACK
    assert force_n * 20.0 + lost_w + supply.load_w == pytest.approx(supply.pack_w)


def test_a_second_motor_adds_its_push_up_to_the_grip():
    pushed = replace(MACHINES, push_n=1000.0)
    assert envelope_at(30.0, pushed, COOL, PLENTY, FREE, 10.0)[0] == pytest.approx(60e3 / 30 + 1000)
    assert envelope_at(3.0, replace(pushed, grip_n=5500.0), COOL, PLENTY, FREE, 10.0) == (5500.0, GRIP)


def test_heat_of_two_ratings():
    # a machine rated to hold its peak for 30 s and half of it forever: exactly that comes back
    node = heat_from_ratings(30.0, 0.5, 1.0, 0.4)
    assert held_share(node, 30.0) == pytest.approx(1.0)
    assert held_share(node, math.inf) == 0.5
    assert held_share(node, 1.0) == 1.0


def test_the_node_reaches_its_limit_when_told_so():
    # C·dT/dt = loss − k·θ in shares: dθ/dt = (force²/share² − θ)/τ, integrated in small steps from cool
    node = heat_from_ratings(30.0, 0.5, 0.7, 0.4)
    for seconds in (40.0, 120.0, 600.0):
        loss, theta, steps = (held_share(node, seconds) / node.share) ** 2, 0.0, 20_000
        for _ in range(steps):
            theta += (loss - theta) / node.seconds * seconds / steps
        assert theta == pytest.approx(1.0, rel=2e-3)


def test_less_oil_holds_less_forever_and_no_less_at_once():
    shares = [held_share(heat_from_ratings(30.0, 0.5, oil, 0.4), math.inf) for oil in (0.0, 0.5, 1.0)]
    assert shares == sorted(shares)
    assert shares[0] == pytest.approx(0.5 * math.sqrt(0.6))  # 40 % of the cooling gone
    assert held_share(heat_from_ratings(30.0, 0.5, 0.0, 0.4), 1.0) == 1.0


def test_longer_pulls_are_never_stronger():
    node = heat_from_ratings(30.0, 0.5, 1.0, 0.4)
    pulls = [envelope_at(10.0, MACHINES, node, PLENTY, FREE, s)[0] for s in (1, 10, 30, 60, 300, 1800, math.inf)]
    assert pulls == sorted(pulls, reverse=True)
    assert envelope_at(10.0, MACHINES, node, PLENTY, FREE, math.inf)[1] == MOTOR_HEAT


def test_road_load_is_the_worked_example(road):
    # 1600 kg, 0.65 m²: aero at 100 km/h and 1.189 kg/m³ 298.17 N (worked example), here 1.2 kg/m³ and 150 N of tyres
    car, day = road
    assert road_load_n(car, day, 100 / 3.6, 0.0) == pytest.approx(150 + 298.17 * 1.2 / 1.189, abs=0.01)
    climb_n = road_load_n(car, day, 100 / 3.6, 0.05) - road_load_n(car, day, 100 / 3.6, 0.0)
    assert climb_n == pytest.approx(783.553, abs=0.3)  # worked example; the tyres carry a little less


def test_top_speed_is_where_road_load_meets_the_envelope(road):
    speed, limit = top_speed_m_s(*road, MACHINES, COOL, PLENTY, FREE)
    assert road_load_n(*road, speed, 0.0) * speed == pytest.approx(60e3, rel=1e-6)
    assert limit == MOTOR_POWER


def test_a_hill_slows_and_a_wall_stops(road):
    speeds = [top_speed_m_s(*road, MACHINES, COOL, PLENTY, FREE, grade)[0] for grade in (0, 0.02, 0.06, 0.1, 0.15)]
    assert speeds == sorted(speeds, reverse=True)
    assert top_speed_m_s(*road, MACHINES, COOL, PLENTY, FREE, 0.6) == (0.0, MOTOR_TORQUE)


def test_an_end_of_the_gear_is_met_exactly(road):
    speed, limit = top_speed_m_s(*road, MACHINES, COOL, PLENTY, Controls(gear_m_s=31.234))
    assert (speed, limit) == (pytest.approx(31.234, abs=1e-5), GENERATOR_SPEED)


def test_what_nothing_ends_is_told_as_the_end_of_the_search(road):
    car, day = road
    car.drag_area_m2 = car.tyre_n = 0.0
    assert top_speed_m_s(car, day, MACHINES, COOL, PLENTY, FREE)[0] >= FASTEST_M_S
