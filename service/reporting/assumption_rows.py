"""What was assumed, as people read it: plain names, their units, words in place of our own short ones.

Scope    rows of pages and sheets; JSON keeps names and units of the contract.
"""

from collections.abc import Iterable
from math import isclose

from service.constants import STANDARD_GRAVITY_M_S2
from service.quotes.answer import Assumption
from service.reporting.view_parts import Row
from service.reporting.words import GALLON_M3, NBSP, Units, assumed, bound, clock, duration, plain, unit_price
from service.units import KM_H, MPH, POUND_KG

__all__ = ["assumption_row", "assumption_rows"]

DRAG_AT = {Units.METRIC: (100 * KM_H, f"100{NBSP}km/h"), Units.US: (60 * MPH, f"60{NBSP}mph")}
NAMES = {  # those of our own records that nobody would say at a desk
    "label": "the car behind its official label",
    "label adjustment": "label over test distance",
    "tyre share of constant road load": "tyres’ share of the drag at a crawl",
    "bearing, brake and oil drag": "drag of bearings, brakes and oil",
    "braking asked of the motor": "braking done by the motor",
    "efficiency of the onboard charger alone": "efficiency of the car’s charger",
    "12 V consumers while driving": "lights and electronics while driving",
    "winter over summer tyre, rolling resistance": "winter tyres, rolling resistance more",
    "drag area added by the roof box": "air drag added by the roof box",
    "drag area that the trailer adds": "drag area added by the trailer",
    "rolling resistance at 25 °C": "tyres’ rolling coefficient at 25 °C",
    "rolling resistance of the trailer's tyres": "trailer tyres’ rolling coefficient",
    "scatter of days, cold months": "days lie about a cold month’s mean by",
    "scatter of days, warm months": "days lie about a warm month’s mean by",
    "sun over a clear sky's": "sunshine, of a clear sky’s",
    "temperature by the clock": "temperature through the day",
    "end of the motor's constant torque": "motor pulls fully up to",
    "grip of the driven axle over the weight": "grip of the driven wheels, of the weight",
    "what the motor holds over its peak": "what the motor holds for long, of its peak",
    "charging power that a warm pack accepts": "charging power a warm battery takes",
    "pack voltage": "battery voltage",
    "pack heater": "battery heater",
    "whole-pack energy": "whole battery",
    "CO2 of electricity": "CO\u2082 of electricity",
    "CO2 of fuel": "CO\u2082 of fuel",
}
WORDS = {  # values that are names of ours
    "reproduced": "found",
    "kerb": "the car without driver",
    "running_order": "the car with driver",
    "nmc": "NMC",
    "nca": "NCA",
    "lfp": "LFP",
    "resistive": "an electric heater",
    "heat_pump": "a heat pump",
    "engine": "the engine",
    "auto": "automatic",
    "parallel": "motor and engine on one shaft",
    "power split": "power split",
    "power_split": "power split",
    "half cosines, sunrise to 14 h": "coldest at sunrise, warmest at 14 h",
    "each quantile of their scatter once": "cold to warm, as often as they come",
}


def assumption_rows(listed: Iterable[Assumption], units: Units) -> tuple[Row, ...]:
    """A row for each."""
    return tuple(assumption_row(one, units) for one in listed)


def assumption_row(one: Assumption, units: Units, who: str = "") -> Row:
    """Name, value and source.

    Args:
        who: whose value it is, with a colon, where several cars are asked about.

    >>> row = assumption_row(Assumption("relative humidity", 0.7, "1", "common practice"), Units.METRIC)
    >>> row.name, row.value
    ('Relative humidity', '70\\xa0%')
    """
    name, value = _said(one, units)
    name = bound(f"{who}{name}")
    return Row(name[:1].upper() + name[1:], value, bound(one.source))


def _said(one: Assumption, units: Units) -> tuple[str, str]:
    """Name and value in the reader's words and units."""
    name, value = NAMES.get(one.name, one.name), one.value
    if isinstance(value, str):
        return name, bound(WORDS.get(value, value))
    if value is None:
        return name, assumed(value, one.unit, units)
    currency, _, measure = one.unit.partition(" a ")
    if measure:
        return name, price(value, currency, measure, units)
    if one.unit == "N s/m":
        speed_m_s, at = DRAG_AT[units]
        return f"drag of oil and magnets at {at}", force(value * speed_m_s, units)
    if one.unit == "N":
        return name, force(value, units)
    if one.unit == "h":
        return name, clock(value, units)
    if one.unit == "s" and value >= 60:
        return name, duration(value)
    if one.unit == "m/s":
        return name, assumed(value / KM_H, "km/h", units)
    if one.unit == "Pa":
        return name, assumed(value / 1000, "kPa", units)
    if one.unit == "K":
        return name, span(value, units)
    if one.name.startswith("winter over summer") and not isclose(value, 1):
        return name, assumed(value - 1, "1", units)
    if units is Units.US and name.endswith(" at 0 °C"):
        name = name.replace("0 °C", "32 °F")
    return name, assumed(value, one.unit, units)


def price(value: float, currency: str, measure: str, units: Units) -> str:
    """What one kWh or litre costs; a gallon for US readers.

    >>> price(0.3, "EUR", "kWh", Units.METRIC), price(0.898, "USD", "litre", Units.US)
    ('0.30\\xa0EUR a\\xa0kWh', '3.40\\xa0USD a\\xa0gallon')
    """
    if measure == "litre" and units is Units.US:
        value, measure = value * GALLON_M3 * 1000, "gallon"
    return f"{unit_price(value, currency)} a{NBSP}{measure}"


def span(kelvin: float, units: Units) -> str:
    """A difference in temperature.

    >>> span(6.7, Units.METRIC), span(6.7, Units.US)
    ('6.7\\xa0°C', '12\\xa0°F')
    """
    return f"{plain(1.8 * kelvin)}{NBSP}°F" if units is Units.US else f"{plain(kelvin, 1)}{NBSP}°C"


def force(newton: float, units: Units) -> str:
    """A force, whole newtons or pounds.

    >>> force(27.8, Units.METRIC), force(26.8, Units.US)
    ('28\\xa0N', '6\\xa0lbf')
    """
    if units is Units.US:
        return f"{plain(newton / (POUND_KG * STANDARD_GRAVITY_M_S2))}{NBSP}lbf"
    return f"{plain(newton)}{NBSP}N"
