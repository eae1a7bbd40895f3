"""Moist air: density, saturation, enthalpy, pressure at altitude, wind at the height of a car.

Scope    −40…50 °C, 60…110 kPa. Saturation over water also below 0 °C (CIPM); over ice it is up to 20 % lower at −20 °C,
         where the air holds so little that neither density nor heating notices.
Symbols  x_v  mole fraction of water vapour      w  humidity ratio, kg water per kg dry air
Source   CIPM-2007: Picard, Davis, Gläser, Fujii, Metrologia 45 (2008) 149; ISO 2533; ASHRAE Fundamentals 2017.
"""

import math

from service.constants import (
    AIR_HEAT_CAPACITY_J_KG_K,
    DRY_AIR_GAS_CONSTANT_J_KG_K,
    EVAPORATION_HEAT_J_KG,
    LAPSE_RATE_K_M,
    STANDARD_GRAVITY_M_S2,
    STANDARD_PRESSURE_PA,
    STANDARD_TEMPERATURE_K,
    VAPOUR_HEAT_CAPACITY_J_KG_K,
    ZERO_CELSIUS_K,
)
from service.physics.compiled import compiled

__all__ = [
    "air_density_kg_m3",
    "humidity_ratio",
    "moist_air_enthalpy_j_kg",
    "pressure_at_altitude_pa",
    "saturation_pressure_pa",
    "wind_at_car_m_s",
]

CIPM_GAS_CONSTANT_J_MOL_K = 8.314472  # CIPM-2007 keeps CODATA 2006
DRY_AIR_KG_MOL = 28.96546e-3  # CIPM-2007, 400 ppm CO2
WATER_KG_MOL = 18.01528e-3  # CIPM-2007
CAR_HEIGHT_WIND = 0.65  # met wind at 10 m to 0.5 m, power law exponent 1/7, common practice


@compiled
def saturation_pressure_pa(kelvin: float) -> float:
    """Saturation pressure of water vapour over water, Pa. Source: CIPM-2007, eq. A1.1.

    >>> round(saturation_pressure_pa(293.15))
    2339
    """
    return math.exp(1.2378847e-5 * kelvin**2 - 1.9121316e-2 * kelvin + 33.93711047 - 6.3431645e3 / kelvin)


@compiled
def vapour_fraction(kelvin: float, pressure_pa: float, relative_humidity: float) -> float:
    """Mole fraction of water vapour, with the enhancement factor of CIPM-2007, eq. A1.2."""
    celsius = kelvin - ZERO_CELSIUS_K
    enhancement = 1.00062 + 3.14e-8 * pressure_pa + 5.6e-7 * celsius**2
    return relative_humidity * enhancement * saturation_pressure_pa(kelvin) / pressure_pa


@compiled
def compressibility(kelvin: float, pressure_pa: float, x_v: float) -> float:
    """Compressibility factor of moist air. Source: CIPM-2007, eq. A1.4."""
    t = kelvin - ZERO_CELSIUS_K
    first = 1.58123e-6 - 2.9331e-8 * t + 1.1043e-10 * t**2
    first += (5.707e-6 - 2.051e-8 * t) * x_v + (1.9898e-4 - 2.376e-6 * t) * x_v**2
    second = 1.83e-11 - 0.765e-8 * x_v**2
    return 1 - pressure_pa / kelvin * first + (pressure_pa / kelvin) ** 2 * second


@compiled
def air_density_kg_m3(kelvin: float, pressure_pa: float, relative_humidity: float) -> float:
    """Density of moist air, kg/m³. Source: CIPM-2007; within 0.02 % of CoolProp from −20 to 40 °C.

    >>> round(air_density_kg_m3(293.15, 101325.0, 0.5), 5)
    1.19931
    """
    x_v = vapour_fraction(kelvin, pressure_pa, relative_humidity)
    z = compressibility(kelvin, pressure_pa, x_v)
    dry_kg_m3 = pressure_pa * DRY_AIR_KG_MOL / (z * CIPM_GAS_CONSTANT_J_MOL_K * kelvin)
    return dry_kg_m3 * (1 - x_v * (1 - WATER_KG_MOL / DRY_AIR_KG_MOL))


@compiled
def humidity_ratio(kelvin: float, pressure_pa: float, relative_humidity: float) -> float:
    """Water per dry air, kg/kg. Source: ASHRAE Fundamentals 2017, chapter 1 eq. 20, ideal mixture.

    >>> round(humidity_ratio(293.15, 101325.0, 0.5), 4)
    0.0073
    """
    vapour_pa = relative_humidity * saturation_pressure_pa(kelvin)
    return WATER_KG_MOL / DRY_AIR_KG_MOL * vapour_pa / (pressure_pa - vapour_pa)


@compiled
def moist_air_enthalpy_j_kg(kelvin: float, w: float) -> float:
    """Enthalpy per kg of dry air over 0 °C, J/kg. Source: ASHRAE Fundamentals 2017, chapter 1 eq. 30."""
    celsius = kelvin - ZERO_CELSIUS_K
    return AIR_HEAT_CAPACITY_J_KG_K * celsius + w * (EVAPORATION_HEAT_J_KG + VAPOUR_HEAT_CAPACITY_J_KG_K * celsius)


@compiled
def pressure_at_altitude_pa(altitude_m: float) -> float:
    """Pressure of the standard atmosphere, Pa; −500…11 000 m geopotential. Source: ISO 2533.

    >>> round(pressure_at_altitude_pa(2000.0), 1)
    79495.2
    """
    exponent = STANDARD_GRAVITY_M_S2 / (DRY_AIR_GAS_CONSTANT_J_KG_K * LAPSE_RATE_K_M)
    return STANDARD_PRESSURE_PA * (1 - LAPSE_RATE_K_M * altitude_m / STANDARD_TEMPERATURE_K) ** exponent


@compiled
def wind_at_car_m_s(met_wind_m_s: float) -> float:
    """Wind at the height of a car from the met office's at 10 m, m/s. Source: common practice, 0.6–0.75."""
    return CAR_HEIGHT_WIND * met_wind_m_s
