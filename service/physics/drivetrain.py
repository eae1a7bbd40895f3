"""Motor, inverter and gear: what is lost between the pack's terminals and the wheels, and what braking gives back.

Scope    one lumped permanent-magnet drive with a fixed gear, in wheel terms: tractive force and road speed.
Model    loss = winding and switch resistance (∝ force²) + inverter threshold and switching (∝ |force|)
         + mesh (∝ |power|) + standing losses while rolling.
         Drag of the unpowered drive (bearings, oil, magnets) is road load: coastdown coefficients contain it, cars
         given by parts get it in `tables.py`.
Sizes    a machine's copper and iron go with its torque (current loading times volume), not with its power: at a given
         peak force, windings lose as much whatever the speed at which power takes over from torque, and so do ripple
         and harmonics. Amperes go with power: a faster base speed means fewer turns and more current a newton.
Source   shares in data/typical.csv, set from handbook efficiencies (peak 94–97 % motor, 96–98 % inverter and reducer).
"""

import math

from service.physics.compiled import compiled

__all__ = [
    "braking_force_n",
    "drive_loss_w",
    "driving_force_n",
    "motor_force_limit_n",
    "regen_fade",
    "regen_force_limit_n",
]

FADE_START_M_S = 1.4  # 5 km/h: regeneration gone below, common practice (fades out below 5–10 km/h)
FADE_END_M_S = 2.8  # 10 km/h: full above


@compiled
def drive_loss_w(
    force_n: float, speed_m_s: float, copper_w_n2: float, inverter_w_n: float, gear_share: float, ready_w: float
) -> float:
    """Power lost between terminals and wheels, W, whichever way power flows; nothing at rest.

    >>> drive_loss_w(1000.0, 10.0, 1e-4, 0.3, 0.02, 100.0)
    700.0
    """
    if speed_m_s <= 0.0:
        return 0.0
    force = abs(force_n)
    return copper_w_n2 * force * force + inverter_w_n * force + gear_share * force * speed_m_s + ready_w


@compiled
def motor_force_limit_n(motor_n: float, motor_w: float, speed_m_s: float) -> float:
    """Largest tractive force at a speed, N: constant torque, then constant power."""
    if speed_m_s * motor_n <= motor_w:
        return motor_n
    return motor_w / speed_m_s


@compiled
def regen_fade(speed_m_s: float) -> float:
    """Share of regeneration left at walking pace, 0…1: the friction brakes end every stop."""
    return min(max((speed_m_s - FADE_START_M_S) / (FADE_END_M_S - FADE_START_M_S), 0.0), 1.0)


@compiled
def regen_force_limit_n(regen_n: float, motor_n: float, motor_w: float, speed_m_s: float) -> float:
    """Largest braking force of the motor at a speed, N: axle grip, motor torque and power, low-speed fade."""
    return regen_fade(speed_m_s) * min(regen_n, motor_force_limit_n(motor_n, motor_w, speed_m_s))


@compiled
def driving_force_n(
    terminal_w: float, speed_m_s: float, copper_w_n2: float, inverter_w_n: float, gear_share: float, ready_w: float
) -> float:
    """Tractive force that draws a power at the terminals, N: `drive_loss_w` turned round, exactly.

    Solves c·F² + (i + (1 + g)·v)·F + ready = P for the positive root; 0 where the power does not even cover `ready_w`.

    >>> round(driving_force_n(10700.0, 10.0, 1e-4, 0.3, 0.02, 100.0), 6)
    1000.0
    """
    spare_w = terminal_w - ready_w
    if spare_w <= 0.0:
        return 0.0
    slope = inverter_w_n + (1 + gear_share) * speed_m_s
    return 2 * spare_w / (slope + math.sqrt(slope * slope + 4 * copper_w_n2 * spare_w))


@compiled
def braking_force_n(
    terminal_w: float, speed_m_s: float, copper_w_n2: float, inverter_w_n: float, gear_share: float, ready_w: float
) -> float:
    """Braking force of the motor that returns a power to the terminals, N; inf where no force returns so much.

    Solves F·v − loss(F) = P for the smaller root.

    >>> round(braking_force_n(9300.0, 10.0, 1e-4, 0.3, 0.02, 100.0), 6)
    1000.0
    """
    wanted_w = terminal_w + ready_w
    if wanted_w <= 0.0:
        return 0.0
    slope = (1 - gear_share) * speed_m_s - inverter_w_n
    inside = slope * slope - 4 * copper_w_n2 * wanted_w
    if slope <= 0.0 or inside < 0.0:
        return math.inf
    return 2 * wanted_w / (slope + math.sqrt(inside))
