"""The planetary gear of a power-split car: speeds and torques of sun, ring and carrier.

Scope    one simple planetary without losses: generator motor on the sun, wheels (through the final drive) on the ring,
         engine on the carrier. Which machine pushes is the envelope's business.
Symbols  z  teeth      ω  speed, rad/s, positive as the wheels turn forwards      s, r, c  sun, ring, carrier
Source   Willis' equation, z_s·ω_s + z_r·ω_r = (z_s + z_r)·ω_c, and torques T_s : T_r : T_c = z_s : z_r : −(z_s + z_r);
         textbook, from memory.
"""

from dataclasses import dataclass

from service.physics.compiled import compiled
from service.specs import PowerSplit

__all__ = [
    "GearSpeeds",
    "carrier_rad_s",
    "carrier_shares",
    "engine_still_limit_m_s",
    "gear_speeds",
    "generator_push_n",
    "least_engine_rad_s",
    "ring_rad_s",
    "ring_torque_n_m",
    "sun_rad_s",
]


@compiled
def sun_rad_s(sun_teeth: float, ring_teeth: float, ring: float, carrier: float) -> float:
    """Speed of the sun from those of ring and carrier, rad/s; any one unit of speed does.

    >>> sun_rad_s(30.0, 78.0, 1000.0, 0.0)
    -2600.0
    """
    return ((sun_teeth + ring_teeth) * carrier - ring_teeth * ring) / sun_teeth


@compiled
def carrier_rad_s(sun_teeth: float, ring_teeth: float, sun: float, ring: float) -> float:
    """Speed of the carrier from those of sun and ring, rad/s.

    >>> carrier_rad_s(30.0, 78.0, -2600.0, 1000.0)
    0.0
    """
    return (sun_teeth * sun + ring_teeth * ring) / (sun_teeth + ring_teeth)


@compiled
def ring_rad_s(speed_m_s: float, wheel_radius_m: float, final_drive: float) -> float:
    """Speed of the ring at a road speed, rad/s: `final_drive` turns for each turn of a wheel."""
    return speed_m_s / wheel_radius_m * final_drive


@compiled
def ring_torque_n_m(sun_n_m: float, sun_teeth: float, ring_teeth: float) -> float:
    """Torque at the ring that a torque at the sun gives, N·m: the carrier takes the sum of both.

    >>> ring_torque_n_m(30.0, 30.0, 78.0)
    78.0
    """
    return sun_n_m * ring_teeth / sun_teeth


@dataclass(frozen=True, slots=True)
class GearSpeeds:
    """Speeds of the three members at one road speed, rad/s."""

    ring_rad_s: float
    sun_rad_s: float
    carrier_rad_s: float


def gear_speeds(split: PowerSplit, speed_m_s: float, engine_rad_s: float = 0.0) -> GearSpeeds:
    """The gear at a road speed, with the engine standing still or turning.

    Args:
        speed_m_s: road speed, m/s; negative backwards.
        engine_rad_s: speed of the engine, which is the carrier's, rad/s; no engine turns backwards.
    """
    ring = ring_rad_s(speed_m_s, split.wheel_radius_m, split.final_drive)
    sun = sun_rad_s(float(split.sun_teeth), float(split.ring_teeth), ring, engine_rad_s)
    return GearSpeeds(ring, sun, engine_rad_s)


def carrier_shares(split: PowerSplit) -> tuple[float, float]:
    """Shares of the carrier's torque that sun and ring take; they add up to one.

    >>> sun, ring = carrier_shares(PowerSplit(30, 78, 3.0, 0.3, 1000.0))
    >>> round(sun, 4), round(ring, 4)
    (0.2778, 0.7222)
    """
    both = split.sun_teeth + split.ring_teeth
    return split.sun_teeth / both, split.ring_teeth / both


def engine_still_limit_m_s(split: PowerSplit) -> float:
    """Road speed at which the generator motor reaches its highest speed while the engine stands still, m/s."""
    ring = split.generator_max_rad_s * split.sun_teeth / split.ring_teeth
    return ring / split.final_drive * split.wheel_radius_m


def least_engine_rad_s(split: PowerSplit, speed_m_s: float) -> float:
    """Slowest engine that keeps the generator motor within its speed, rad/s; 0 up to `engine_still_limit_m_s`."""
    ring = ring_rad_s(speed_m_s, split.wheel_radius_m, split.final_drive)
    carrier = carrier_rad_s(float(split.sun_teeth), float(split.ring_teeth), -split.generator_max_rad_s, ring)
    return max(carrier, 0.0)


def generator_push_n(split: PowerSplit) -> float:
    """Most that the generator motor adds at the wheels without the engine, N.

    Turning and pulling backwards, the sun would turn the carrier backwards, too; a one-way clutch holds it, and the
    ring is driven forwards in the tooth ratio. Without the clutch the engine would be wound back: nothing. Where
    the machine's torque is not known nothing is claimed for it, either.
    """
    if not split.one_way_clutch or split.generator_n_m is None:
        return 0.0
    ring_n_m = ring_torque_n_m(split.generator_n_m, float(split.sun_teeth), float(split.ring_teeth))
    return ring_n_m * split.final_drive / split.wheel_radius_m
