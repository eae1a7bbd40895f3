"""People's units to SI and back. Convert once, at the edge; inside everything is kg, m, s, J, W, K, fractions of one.

Source   exact definitions of the international yard and pound agreement and the SI brochure, unless a line says else.
"""

from service.constants import STANDARD_GRAVITY_M_S2, ZERO_CELSIUS_K

KM_H = 1 / 3.6  # m/s in one km/h
MILE_M = 1609.344
FOOT_M = 0.3048
MPH = 0.44704  # m/s in one mile per hour
POUND_KG = 0.45359237
POUND_FORCE_N = POUND_KG * STANDARD_GRAVITY_M_S2
KWH_J = 3.6e6
WH_PER_KM = 3.6  # J/m in one Wh/km
PSI_PA = 6894.757293168361
MINUTE_S, HOUR_S = 60.0, 3600.0
RPM = 0.10471975511965977  # rad/s in one turn a minute, π/30


def kelvin_from_celsius(celsius: float) -> float:
    """Kelvin.

    >>> kelvin_from_celsius(-5)
    268.15
    """
    return celsius + ZERO_CELSIUS_K


def celsius_from_kelvin(kelvin: float) -> float:
    """Degrees Celsius."""
    return kelvin - ZERO_CELSIUS_K


def celsius_from_fahrenheit(fahrenheit: float) -> float:
    """Degrees Celsius.

    >>> celsius_from_fahrenheit(14)
    -10.0
    """
    return (fahrenheit - 32) / 1.8


def fahrenheit_from_celsius(celsius: float) -> float:
    """Degrees Fahrenheit.

    >>> fahrenheit_from_celsius(-10)
    14.0
    """
    return celsius * 1.8 + 32


def newton_from_pound_force(force_lbf: float) -> float:
    """A of a road-load fit, N.

    >>> round(newton_from_pound_force(30), 3)
    133.447
    """
    return force_lbf * POUND_FORCE_N


def n_s_m_from_lbf_per_mph(slope: float) -> float:
    """B of a road-load fit, N/(m/s).

    >>> round(n_s_m_from_lbf_per_mph(0.2), 5)
    1.99008
    """
    return slope * POUND_FORCE_N / MPH


def n_s2_m2_from_lbf_per_mph2(curvature: float) -> float:
    """C of a road-load fit, N/(m/s)².

    >>> round(n_s2_m2_from_lbf_per_mph2(0.018), 6)
    0.400651
    """
    return curvature * POUND_FORCE_N / MPH**2


def n_s_m_from_n_per_km_h(slope: float) -> float:
    """f1 of a road-load fit, N/(m/s)."""
    return slope / KM_H


def n_s2_m2_from_n_per_km_h2(curvature: float) -> float:
    """f2 of a road-load fit, N/(m/s)²."""
    return curvature / KM_H**2
