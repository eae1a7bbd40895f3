"""The electric-only envelope: the most that a car pulls at each speed without its engine, and what limits it there.

Scope    steady speeds on one grade. Layouts: one motor with a fixed gear (battery-electric and series: the engine only
         feeds), a power split (fixed gear, a second motor that may push, a speed at which the gear overspeeds), a
         parallel hybrid with its clutch open (the motor pulls through a gearbox). Controls of a car with an engine may
         end it earlier, at a speed or a power: data of that car.
Heat     one lumped node, the windings: C·dT/dt = loss − k·(T − coolant). Loss goes with the square of the current, and
         the most a machine gives at a speed takes its highest current at that speed (field weakening); so the node is
         told in shares of that most. Two ratings fix it: for how many seconds the peak may be held, and what share of
         it forever. Oil on the windings carries part of k.
Symbols  forces at the tyres, N      θ  rise of the windings over the coolant, 1 at their limit
Source   mechanics as in `drivetrain` and `road_load`; ratings: see data/typical.csv (UN R85 rates motors for 30 min).
"""

import math
from dataclasses import dataclass

import numpy as np

from service.constants import STANDARD_GRAVITY_M_S2
from service.physics.compiled import compiled
from service.physics.drivetrain import driving_force_n, motor_force_limit_n
from service.physics.road_load import climbing_n, drag_in_wind_n
from service.physics.tyres import rolling_temperature_factor, settled_rise_k, warmth

__all__ = [
    "CONTROL_POWER",
    "CONTROL_SPEED",
    "FASTEST_M_S",
    "GENERATOR_SPEED",
    "GRIP",
    "LIMITS",
    "MOTOR_HEAT",
    "MOTOR_POWER",
    "MOTOR_TORQUE",
    "PACK",
    "Controls",
    "Curve",
    "Heat",
    "Machines",
    "Supply",
    "envelope_at",
    "envelope_curve",
    "grip_n",
    "heat_from_ratings",
    "pull_n",
    "road_load_n",
    "top_speed_m_s",
]

MOTOR_TORQUE, MOTOR_POWER, MOTOR_HEAT = "motor_torque", "motor_power", "motor_heat"
PACK, GRIP, GENERATOR_SPEED = "pack", "grip", "generator_speed"
CONTROL_SPEED, CONTROL_POWER = "control_speed", "control_power"
LIMITS = (MOTOR_TORQUE, MOTOR_POWER, MOTOR_HEAT, PACK, GRIP, GENERATOR_SPEED, CONTROL_SPEED, CONTROL_POWER)
FASTEST_M_S = 90.0  # 324 km/h: beyond any road car's electric side
SEARCH_M_S = 2.0  # step of the search for a crossing, then halved
HALVINGS = 20  # of that step: two thousandths of a millimetre a second
FOREVER_S = math.inf


@dataclass(frozen=True, slots=True)
class Machines:
    """The electric machines in wheel terms, the second one's push included."""

    motor_n: float  # peak force of the motor through its gear (a gearbox: in the lowest)
    motor_w: float
    push_n: float  # what a second motor adds through the planetary gear; 0 without it
    grip_n: float  # what the driven axle holds
    copper_w_n2: float  # windings of both, as one machine of their size
    inverter_w_n: float
    gear_share: float
    ready_w: float


@dataclass(frozen=True, slots=True)
class Heat:
    """The windings' node: the share of the most that may go on forever, and its time constant."""

    share: float
    seconds: float


@dataclass(frozen=True, slots=True)
class Supply:
    """What the pack gives at its temperature and charge, at the terminals, and what else is on it."""

    pack_w: float
    load_w: float


@dataclass(frozen=True, slots=True)
class Controls:
    """Where the car's own controls end electric driving; inf where they do not, or nobody knows."""

    speed_m_s: float = math.inf
    power_w: float = math.inf  # at the wheels
    gear_m_s: float = math.inf  # the planetary gear's kinematic end


@dataclass(frozen=True, slots=True)
class Curve:
    """Forces over speed, all of one shape."""

    speed_m_s: np.ndarray
    force_n: np.ndarray
    limited_by: tuple[str, ...]


def heat_from_ratings(peak_s: float, continuous_share: float, oil: float, oil_share: float) -> Heat:
    """The node that fits a machine's two ratings with its oil running, at another circulation.

    Args:
        peak_s: how long the most may be held from a warm coolant, s.
        continuous_share: what may be held forever over the most, 0…1; its loss is the square of that.
        oil: oil circulation, 0 (none reaches the windings) to 1 (as rated).
        oil_share: part of the cooling that the oil carries, 0…1.
    At the most θ reaches 1 after `peak_s`: (1 − exp(−t/τ))/share² = 1, so τ = −t/ln(1 − share²). Less cooling carries
    less away and takes longer to get there; the heat capacity stays.

    >>> node = heat_from_ratings(30.0, 0.5, 1.0, 0.4)
    >>> round(node.share, 3), round(node.seconds, 1)
    (0.5, 104.3)
    """
    cooled = 1 - oil_share * (1 - oil)
    loss_share = continuous_share * continuous_share
    return Heat(math.sqrt(loss_share * cooled), -peak_s / math.log(1 - loss_share) / cooled)


def held_share(heat: Heat, seconds: float) -> float:
    """Share of the most that brings a cool node just to its limit after so long; 1 for short pulls.

    >>> round(held_share(Heat(0.5, 104.3), 30.0), 3), held_share(Heat(0.5, 104.3), math.inf)
    (1.0, 0.5)
    """
    return min(heat.share / math.sqrt(-math.expm1(-seconds / heat.seconds)), 1.0)


def envelope_at(
    speed_m_s: float, machines: Machines, heat: Heat, supply: Supply, controls: Controls, seconds: float
) -> tuple[float, str]:
    """Largest force at one speed for a time, N, and the name of the limit that makes it so.

    Args:
        speed_m_s: ≥ 0.
        seconds: how long it has to last; inf for as long as one likes.
    """
    if speed_m_s > controls.gear_m_s:
        return 0.0, GENERATOR_SPEED
    if speed_m_s > controls.speed_m_s:
        return 0.0, CONTROL_SPEED
    rolling_m_s = max(speed_m_s, 1e-3)
    motor_n = motor_force_limit_n(machines.motor_n, machines.motor_w, rolling_m_s)
    shape = MOTOR_TORQUE if motor_n >= machines.motor_n else MOTOR_POWER
    drive_w = supply.pack_w - supply.load_w
    pack_n = driving_force_n(
        drive_w,
        rolling_m_s,
        machines.copper_w_n2,
        machines.inverter_w_n,
        machines.gear_share,
        machines.ready_w if speed_m_s > 0 else 0.0,
    )
    most_n = motor_n + machines.push_n
    limits = (
        (most_n, shape),
        (most_n * held_share(heat, seconds), MOTOR_HEAT),
        (pack_n, PACK),
        (machines.grip_n, GRIP),
        (controls.power_w / rolling_m_s, CONTROL_POWER),
    )
    return min(limits, key=lambda each: each[0])


def envelope_curve(
    speed_m_s: np.ndarray, machines: Machines, heat: Heat, supply: Supply, controls: Controls, seconds: float
) -> Curve:
    """`envelope_at` along an array of speeds, shape (n,)."""
    points = [envelope_at(float(speed), machines, heat, supply, controls, seconds) for speed in speed_m_s]
    return Curve(speed_m_s, np.array([force for force, _ in points]), tuple(name for _, name in points))


@compiled
def road_load_n(car, day, speed_m_s: float, grade: float) -> float:
    """Force that holds a car with tyres warmed at that speed back, N; wind from any direction.

    Args:
        car, day: rows of `rows.CAR` and `rows.DAY`.
        grade: rise over run.
    """
    warm = rolling_temperature_factor(
        day.ambient_k, settled_rise_k(warmth(speed_m_s)), car.tyre_reference_k, car.tyre_slope_per_k
    )
    tyre_n = car.tyre_n * day.surface_factor * warm / math.sqrt(1 + grade * grade)
    half_density_area = 0.5 * day.air_kg_m3 * car.drag_area_m2
    air_n = drag_in_wind_n(half_density_area, speed_m_s, day.wind_m_s, math.nan)
    bearing_n = car.bearing_n + car.bearing_n_s_m * speed_m_s
    return tyre_n + bearing_n + air_n + climbing_n(car.mass_kg, grade)


@compiled
def pull_n(car, day, step_s, speed_m_s, grade):
    """Force that each step of a trace asks for, N, shape (n,); negative where it brakes, 0 where it stands.

    Args:
        car, day: rows of `rows.CAR` and `rows.DAY`.
        step_s, speed_m_s, grade: of a trace, shapes (n,), (n + 1,), (n,).
    """
    asked_n = np.zeros(len(step_s))
    for k in range(len(step_s)):
        mean_m_s = 0.5 * (speed_m_s[k] + speed_m_s[k + 1])
        if mean_m_s > 0.0:
            acceleration = (speed_m_s[k + 1] - speed_m_s[k]) / step_s[k]
            asked_n[k] = road_load_n(car, day, mean_m_s, grade[k]) + car.inertia_kg * acceleration
    return asked_n


def grip_n(grip: float, mass_kg: float) -> float:
    """Largest force that the driven axle holds, N; `grip` is that over the weight."""
    return grip * mass_kg * STANDARD_GRAVITY_M_S2


def top_speed_m_s(
    car: np.record,
    day: np.record,
    machines: Machines,
    heat: Heat,
    supply: Supply,
    controls: Controls,
    grade: float = 0.0,
    seconds: float = FOREVER_S,
) -> tuple[float, str]:
    """Speed up to which the envelope covers the road load, m/s, and what ends it; 0 where it cannot even start.

    Args: as in `envelope_at` and `road_load_n`.
    The first crossing on the way up counts. It is found on a grid and then by halving, to less than a millimetre a
    second; where the envelope ends before the road load meets it, that end is the answer.
    """

    def covers(speed_m_s: float) -> bool:
        force_n, _ = envelope_at(speed_m_s, machines, heat, supply, controls, seconds)
        return force_n >= road_load_n(car, day, speed_m_s, grade)

    low = 0.0
    if not covers(low):
        return 0.0, envelope_at(low, machines, heat, supply, controls, seconds)[1]
    while low < FASTEST_M_S and covers(low + SEARCH_M_S):
        low += SEARCH_M_S
    high = low + SEARCH_M_S
    for _ in range(HALVINGS):
        middle = 0.5 * (low + high)
        low, high = (middle, high) if covers(middle) else (low, middle)
    return low, envelope_at(high, machines, heat, supply, controls, seconds)[1]
