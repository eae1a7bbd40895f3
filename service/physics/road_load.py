"""Forces that hold a car back on the road.

Scope    straight driving; wind from a known direction, or from any direction on average.
Symbols  forces in N, positive against the motion
Source   textbook mechanics; wind average for real cars, common practice (see `air_drag_n`).
"""

import math

from service.constants import STANDARD_GRAVITY_M_S2
from service.physics.compiled import compiled

__all__ = ["air_drag_n", "climbing_n", "drag_in_wind_n", "inertia_n"]


@compiled
def air_drag_n(half_density_area: float, speed_m_s: float, wind_m_s: float) -> float:
    """Mean aerodynamic drag with wind from any direction, N.

    Args:
        half_density_area: ½·ρ·C_d·A, kg/m.
        speed_m_s: road speed, ≥ 0.
        wind_m_s: wind at the height of the car, ≥ 0, all directions equally likely.
    Out and back along the wind the mean is 1 + (w/v)²; constant C_d over all directions gives ¾ of the rise, and the
    rise of C_d in yaw the rest (common practice). Below the wind's own speed the mean must vanish with v: 2·w·v, which
    meets v² + w² at v = w with the same slope.

    >>> round(air_drag_n(0.5 * 1.189 * 0.65, 100 / 3.6, 0.0), 2)
    298.17
    """
    if speed_m_s >= wind_m_s:
        return half_density_area * (speed_m_s * speed_m_s + wind_m_s * wind_m_s)
    return half_density_area * 2 * wind_m_s * speed_m_s


@compiled
def drag_in_wind_n(half_density_area: float, speed_m_s: float, wind_m_s: float, angle_rad: float) -> float:
    """Aerodynamic drag along the road with wind from a known direction, N; negative where a tailwind pushes.

    Args:
        half_density_area, speed_m_s, wind_m_s: as in `air_drag_n`.
        angle_rad: from where the car goes to where the wind comes from: 0 against it, π with it; NaN: any direction.
    Along the road a constant C_d gives (v + head)·|apparent wind|; the rise of C_d in yaw adds half the square of the
    crosswind, so that the mean over all directions is that of `air_drag_n`. Dead ahead it is (v + w)².

    >>> round(drag_in_wind_n(1.0, 100 / 3.6, 5.0, 0.0) / (100 / 3.6) ** 2, 4)
    1.3924
    """
    if math.isnan(angle_rad):
        return air_drag_n(half_density_area, speed_m_s, wind_m_s)
    along_m_s = speed_m_s + wind_m_s * math.cos(angle_rad)
    across_m_s = wind_m_s * math.sin(angle_rad)
    apparent_m_s = math.hypot(along_m_s, across_m_s)
    in_yaw = 0.5 * across_m_s * across_m_s * speed_m_s / math.hypot(speed_m_s, across_m_s) if speed_m_s > 0.0 else 0.0
    return half_density_area * (along_m_s * apparent_m_s + in_yaw)


@compiled
def climbing_n(mass_kg: float, grade: float) -> float:
    """Weight along the road, N; `grade` is rise over run, 0.05 for 5 %.

    >>> round(climbing_n(1600.0, 0.05), 3)
    783.553
    """
    return mass_kg * STANDARD_GRAVITY_M_S2 * grade / math.sqrt(1 + grade * grade)


@compiled
def inertia_n(inertia_kg: float, acceleration_m_s2: float) -> float:
    """Force that accelerates the car and its rotating parts, N."""
    return inertia_kg * acceleration_m_s2
