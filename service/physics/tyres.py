"""Tyre rolling resistance: temperature, warm-up, load, pressure.

Scope    steady rolling on a hard surface; no cornering drag.
Symbols  c_rr  rolling-resistance coefficient, N/N      rise  tyre temperature over ambient, K
Source   UN Regulation 117 annex 6 § 6.2 (ISO 28580) and UN GTR 15 annex 4 § 4.5 for the slopes, which describe warmed
         tyres at another air temperature. Both correct a measurement back to its reference; turned round, the second
         diverges in the cold, so the same slope is followed as an exponential. Within 0.1 % of the published lines
         over 20–30 °C; below 5 °C it is extrapolated.
"""

import math

from service.physics.compiled import compiled

__all__ = [
    "LABEL_REFERENCE_K",
    "LABEL_SLOPE_PER_K",
    "RISE_EXPONENT",
    "ROAD_LOAD_SLOPE_PER_K",
    "load_factor",
    "pressure_factor",
    "rise_after_k",
    "rolling_temperature_factor",
    "settled_rise_k",
    "warmth",
]

LABEL_REFERENCE_K = 298.15  # ISO 28580: 25 °C
LABEL_SLOPE_PER_K = 0.008  # UN R117 annex 6, class C1
ROAD_LOAD_SLOPE_PER_K = 0.0086  # UN GTR 15 annex 4: K0, from memory
WARM_RISE_K = 25.0  # warmed car tyre over air at 80 km/h, from memory (20–30 K)
WARM_SPEED_M_S = 22.2  # 80 km/h: coastdown warm-up speed, from memory (SAE J1263)
RISE_EXPONENT = 0.4  # heating ∝ v, convection from a rotating wheel ∝ v^0.6: from memory
WARM_UP_S = 600.0  # time constant; 95 % after 30 min, the usual warm-up before a coastdown
LOAD_EXPONENT = 0.9  # β of SAE J2452, 0.8–1.0, from memory
PRESSURE_EXPONENT = -0.4  # α of SAE J2452, −0.3 to −0.5, from memory


@compiled
def rolling_temperature_factor(ambient_k: float, rise_k: float, reference_k: float, slope_per_k: float) -> float:
    """Rolling resistance over that of warmed tyres at the reference air temperature.

    Args:
        ambient_k: air, K. Below 278 K extrapolated.
        rise_k: how far the tyres are above the air, K; `WARM_RISE_K` once warmed.
    The tyre's own temperature counts, so a soaked tyre at 25 °C rolls as a warmed one does at 0 °C.

    >>> round(rolling_temperature_factor(295.15, WARM_RISE_K, LABEL_REFERENCE_K, LABEL_SLOPE_PER_K), 3)
    1.024
    """
    return math.exp(-slope_per_k * (ambient_k - reference_k + rise_k - WARM_RISE_K))


@compiled
def warmth(speed_m_s: float) -> float:
    """Rise of tyres at a steady speed over that of warmed ones, as the power of speed that it is, without an end."""
    return (speed_m_s / WARM_SPEED_M_S) ** RISE_EXPONENT if speed_m_s > 0.0 else 0.0


@compiled
def settled_rise_k(warm: float) -> float:
    """Tyre temperature over ambient that a `warmth` leads to, K; no more than at the coastdown's warm-up speed.

    Above that speed the coefficients, fitted over the whole range, already hold what extra warmth does.

    >>> settled_rise_k(warmth(0.0)), settled_rise_k(warmth(WARM_SPEED_M_S)) == settled_rise_k(warmth(40.0))
    (0.0, True)
    """
    return WARM_RISE_K * min(warm, 1.0)


@compiled
def rise_after_k(rise_k: float, warm: float, seconds: float) -> float:
    """Tyre temperature over ambient after a short while at a `warmth`, K: first-order approach, one implicit step."""
    share = seconds / WARM_UP_S
    return (rise_k + share * settled_rise_k(warm)) / (1 + share)


@compiled
def load_factor(load_n: float, reference_n: float) -> float:
    """Rolling resistance under another load, as a ratio of forces. Source: SAE J2452 form, β = 0.9.

    >>> round(load_factor(1.1, 1.0), 3)
    1.09
    """
    return (load_n / reference_n) ** LOAD_EXPONENT


@compiled
def pressure_factor(pressure_pa: float, reference_pa: float) -> float:
    """Rolling resistance at another inflation (gauge) pressure. Source: SAE J2452 form, α = −0.4.

    >>> round(pressure_factor(200e3, 250e3), 4)
    1.0934
    """
    return (pressure_pa / reference_pa) ** PRESSURE_EXPONENT
