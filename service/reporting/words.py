"""Numbers as people read them: the one place where a quantity becomes text.

Scope    lengths, temperatures, energies, powers, times and shares, metric or US customary. A number and its unit are
         joined by a no-break space; the minus sign is the real one (U+2212).
Rule     figures are rounded to what the estimate can bear: whole kilometres or miles from ten on, five minutes from
         one hour on, half hours from ten hours on.
Source   rounding is our own choice; units from `service.units`.
"""

import re
from collections.abc import Callable
from enum import StrEnum

from service.constants import GALLON_M3, STANDARD_GRAVITY_M_S2
from service.physics.laps import FURTHEST_M
from service.specs import Prices
from service.units import KM_H, KWH_J, MILE_M, MPH, POUND_KG, celsius_from_kelvin, fahrenheit_from_celsius

__all__ = [
    "GALLON_M3",
    "SMALL_NUMBERS",
    "WHOLE_FROM",
    "Units",
    "assumed",
    "bound",
    "clock",
    "consumption",
    "consumption_number",
    "consumption_per_trade_unit",
    "consumption_unit",
    "days_later",
    "days_passed",
    "distance",
    "distance_figure",
    "distance_number",
    "distance_unit",
    "duration",
    "energy",
    "fuel",
    "fuel_consumption",
    "fuel_number",
    "given_off",
    "given_off_number",
    "grouped",
    "joined",
    "money",
    "odometer",
    "per_cent",
    "plain",
    "power",
    "prices_told",
    "rounded_duration_s",
    "speed",
    "speed_number",
    "speed_unit",
    "temperature",
    "unit_price",
]

NBSP = "\u00a0"
MINUS = "\u2212"
HOUR_S = 3600.0
FOOT_M = MILE_M / 5280  # international foot, exact
PSI_KPA = POUND_KG * STANDARD_GRAVITY_M_S2 / (FOOT_M / 12) ** 2 / 1000  # pound-force on a square inch, exact
LITRE_M3 = 1e-3  # exact
GALLON_L = 1000 * GALLON_M3
DAY_H = 24
SMALL_NUMBERS = ("no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine")
MINUS_BEFORE_FIGURE = re.compile(r"(?<![\w.])-(?=\d)")
WHOLE_FROM = 10.0  # sums of one drive or one charge
UNIT_AFTER_FIGURE = re.compile(r"(\d) ((?:km/h|km|kWh|kW|W|V|A|kg|lb|mi|mph|psi|h|min|°C|°F|%)(?!\w))")
WH_J = KWH_J / 1000
US_UNITS: dict[str, tuple[str, Callable[[float], float]]] = {  # SI-side unit → US customary unit and the way there
    "km": ("mi", lambda km: km * 1000 / MILE_M),
    "km/h": ("mph", lambda km_h: km_h * KM_H / MPH),
    "°C": ("°F", fahrenheit_from_celsius),
    "kg": ("lb", lambda kg: kg / POUND_KG),
    "m": ("ft", lambda m: m / FOOT_M),
    "m2": ("ft²", lambda m2: m2 / FOOT_M**2),
    "kPa": ("psi", lambda kpa: kpa / PSI_KPA),
    "a litre": ("a gallon", lambda price: price * GALLON_L),
    "g/l": ("g/gallon", lambda grams: grams * GALLON_L),
    "l/100 km": ("gallons/100 miles", lambda litres: litres * MILE_M / 1000 / GALLON_L),
}


ONE_OF = {  # units that are words
    **{"people": "person", "miles": "mile", "days": "day", "weeks": "week", "trips": "trip"},
    **{"phases": "phase", "teeth": "tooth", "stops": "stop", "hours": "hour"},
}
KILO_FROM_W = 1000.0  # four digits and more are kilowatts
SHARE_FROM = 0.05  # a pure number from here up to one is a share; smaller ones are coefficients


class Units(StrEnum):
    """The two sets of units a reader may choose."""

    METRIC = "metric"
    US = "us"


def plain(value: float, decimals: int = 0) -> str:
    """A number without a unit; never "−0".

    >>> plain(-4.96, 1), plain(-0.2)
    ('−5.0', '0')
    """
    text = f"{value:.{decimals}f}"
    if float(text) == 0:
        text = text.lstrip("-")
    return text.replace("-", MINUS)


def mass(kilograms: float, units: Units) -> str:
    """A load, whole.

    >>> mass(150, Units.US)
    '331\\xa0lb'
    """
    return f"{plain(kilograms / POUND_KG, 0)}{NBSP}lb" if units is Units.US else f"{plain(kilograms, 0)}{NBSP}kg"


def distance_unit(units: Units) -> str:
    """The symbol: km or mi."""
    return "mi" if units is Units.US else "km"


def distance_number(metres: float, units: Units) -> float:
    """Kilometres or miles."""
    return metres / (MILE_M if units is Units.US else 1000.0)


def distance_figure(metres: float, units: Units) -> str:
    """Kilometres or miles without the unit: whole from ten on, one decimal below if it says something.

    >>> distance_figure(31_400, Units.METRIC), distance_figure(8_047, Units.US), distance_figure(3_240, Units.METRIC)
    ('31', '5', '3.2')
    """
    number = distance_number(metres, units)
    return plain(number, 0 if abs(number) >= 9.95 else 1).removesuffix(".0")


def distance(metres: float, units: Units) -> str:
    """A length with its unit.

    >>> distance(36_200, Units.METRIC)
    '36\\xa0km'
    """
    more = "more than " if metres >= FURTHEST_M else ""
    return f"{more}{distance_figure(metres, units)}{NBSP}{distance_unit(units)}"


def odometer(metres: float, units: Units) -> str:
    """A length of a car's life, whole, thousands apart.

    >>> odometer(62e6, Units.METRIC)
    '62\\xa0000\\xa0km'
    """
    return f"{distance_number(metres, units):,.0f}{NBSP}{distance_unit(units)}".replace(",", NBSP)


def temperature(kelvin: float, units: Units) -> str:
    """Degrees, whole.

    >>> temperature(268.15, Units.METRIC), temperature(268.15, Units.US)
    ('−5\\xa0°C', '23\\xa0°F')
    """
    celsius = celsius_from_kelvin(kelvin)
    if units is Units.US:
        return f"{plain(fahrenheit_from_celsius(celsius))}{NBSP}°F"
    return f"{plain(celsius)}{NBSP}°C"


def consumption_unit(units: Units) -> str:
    """The symbol of energy per distance in the ledger."""
    return "Wh/mi" if units is Units.US else "Wh/km"


def consumption_number(joule_per_metre: float, units: Units) -> float:
    """Watt-hours per kilometre or mile."""
    return joule_per_metre / WH_J * (MILE_M if units is Units.US else 1000.0)


def consumption(joule_per_metre: float, units: Units) -> str:
    """Watt-hours per kilometre or mile, whole.

    >>> consumption(720.0, Units.METRIC)
    '200\\xa0Wh/km'
    """
    return f"{plain(consumption_number(joule_per_metre, units))}{NBSP}{consumption_unit(units)}"


def consumption_per_trade_unit(joule_per_metre: float, units: Units) -> str:
    """The form printed on paper cars come with: kWh/100 km, or mi/kWh.

    >>> consumption_per_trade_unit(720.0, Units.METRIC), consumption_per_trade_unit(720.0, Units.US)
    ('20.0\\xa0kWh/100\\xa0km', '3.1\\xa0mi/kWh')
    """
    if units is Units.US:
        return f"{plain(KWH_J / joule_per_metre / MILE_M, 1)}{NBSP}mi/kWh"
    return f"{plain(joule_per_metre * 100_000 / KWH_J, 1)}{NBSP}kWh/100{NBSP}km"


def energy(joule: float) -> str:
    """Kilowatt-hours, one decimal below a hundred."""
    kwh = joule / KWH_J
    return f"{plain(kwh, 0 if kwh >= 99.95 else 1)}{NBSP}kWh"


def power(watt: float) -> str:
    """Kilowatts, one decimal below twenty.

    >>> power(2300), power(65e3)
    ('2.3\\xa0kW', '65\\xa0kW')
    """
    kilowatt = watt / 1000
    return f"{plain(kilowatt, 0 if kilowatt >= 20 else 1)}{NBSP}kW"


def fuel_consumption(cubic_metre_per_metre: float, units: Units) -> str:
    """Litres over 100 km, or miles a gallon; above 0.

    >>> fuel_consumption(5e-8, Units.METRIC), fuel_consumption(5e-8, Units.US)
    ('5.0\\xa0L/100\\xa0km', '47\\xa0mpg')
    """
    if units is Units.US:
        return (
            f"{plain(GALLON_M3 / MILE_M / cubic_metre_per_metre)}{NBSP}mpg" if cubic_metre_per_metre > 0 else "no fuel"
        )
    return f"{plain(1e8 * cubic_metre_per_metre, 1)}{NBSP}L/100{NBSP}km"


def per_cent(fraction: float) -> str:
    """A share, whole."""
    return f"{plain(fraction * 100)}{NBSP}%"


def rounded_duration_s(seconds: float) -> float:
    """A time at the precision it is told with, s: minutes, five minutes from an hour, half hours from ten hours."""
    step = 60.0 if seconds < HOUR_S else 300.0 if seconds < 10 * HOUR_S else 1800.0
    return round(seconds / step) * step


def duration(seconds: float) -> str:
    """Hours and minutes.

    >>> duration(20_340), duration(1_500), duration(163_000)
    ('5\\xa0h\\xa040\\xa0min', '25\\xa0min', '45\\xa0h\\xa030\\xa0min')
    """
    minutes = round(rounded_duration_s(seconds) / 60)
    hours, rest = divmod(minutes, 60)
    parts = [f"{hours}{NBSP}h"] if hours else []
    if rest or not hours:
        parts.append(f"{rest}{NBSP}min")
    return NBSP.join(parts)


def clock(hour: float, units: Units) -> str:
    """Time of day; hours may pass 24.

    >>> clock(24 + 1/3, Units.METRIC), clock(18, Units.US), clock(24.5, Units.US)
    ('00:20', '6\\xa0pm', '12:30\\xa0am')
    """
    minutes = round(hour * 60) % (DAY_H * 60)
    whole, rest = divmod(minutes, 60)
    if units is not Units.US:
        return f"{whole:02d}:{rest:02d}"
    half = "am" if whole < 12 else "pm"
    return f"{(whole - 1) % 12 + 1}{f':{rest:02d}' if rest else ''}{NBSP}{half}"


def days_passed(hour: float) -> int:
    """Midnights passed by an hour counted from the first midnight, to the minute as `clock` shows it."""
    return int(round(hour * 60) // (DAY_H * 60))


def days_later(hour: float) -> str:
    """Which day an hour counted from midnight falls on, in words; nothing for the same day.

    >>> days_later(20), days_later(26), days_later(75), days_later(300)
    ('', 'the next day', 'three days later', '12 days later')
    """
    days = days_passed(hour)
    if days < 2:
        return "the next day" if days else ""
    return f"{SMALL_NUMBERS[days] if days < len(SMALL_NUMBERS) else days} days later"


def assumed(value: float | str | None, unit: str, units: Units) -> str:
    """An assumed value in the reader's units, three significant figures; two if it had to be converted.

    >>> assumed(12, "km/h", Units.US), assumed(0.125, "1", Units.METRIC), assumed(0.009, "1", Units.US)
    ('7.5\\xa0mph', '12.5\\xa0%', '0.009')
    >>> assumed(1, "people", Units.US), assumed(142_882, "W", Units.US), assumed(160, "W/m2", Units.METRIC)
    ('1\\xa0person', '143\\xa0kW', '160\\xa0W/m²')
    """
    digits = 3
    if value is None:
        return "unknown"
    if isinstance(value, str):
        return value
    if units is Units.US and unit in US_UNITS:
        unit, convert = US_UNITS[unit]
        value, digits = convert(value), 2
    if unit == "1" and SHARE_FROM <= value < 1:
        unit, value = "%", 100 * value
    if unit == "W" and abs(value) >= KILO_FROM_W:
        unit, value = "kW", value / 1000
    figure = plain(value) if abs(value) >= 100 else f"{value:.{digits}g}".replace("-", MINUS)
    unit = ONE_OF.get(unit, unit) if figure == "1" else unit
    return figure if unit in ("", "1") else f"{figure}{NBSP}{unit.replace('m2', 'm²')}"


def bound(text: str) -> str:
    """A sentence written elsewhere, set like ours: figures with their units, real minus signs, curved apostrophes.

    >>> bound("The car's charger gives 2.3 kW at -40 to 50 °C, 60-90 % of the time.")
    'The car’s charger gives 2.3\\xa0kW at −40 to 50\\xa0°C, 60-90\\xa0% of the time.'
    """
    text = UNIT_AFTER_FIGURE.sub(rf"\1{NBSP}\2", text)
    return MINUS_BEFORE_FIGURE.sub(MINUS, text).replace("'", "’")


def joined(parts: list[str]) -> str:
    """A list in a sentence.

    >>> joined(["heat", "cold tyres", "denser air"])
    'heat, cold tyres and denser air'
    """
    return " and ".join([", ".join(parts[:-1]), parts[-1]]) if len(parts) > 1 else "".join(parts)


def grouped(value: float) -> str:
    """A whole number, thousands apart.

    >>> grouped(1234.4), grouped(-56)
    ('1\\xa0234', '−56')
    """
    return f"{value + 0.0:,.0f}".replace(",", NBSP).replace("-0", "0").replace("-", MINUS)


def money(value: float, currency: str, whole_from: float = 3.0) -> str:
    """A sum, whole from so much on; a sign of one character stands in front, a word behind.

    >>> money(1234.4, "EUR"), money(56.4, "$"), money(2.5, ""), money(3.24, "EUR", WHOLE_FROM)
    ('1\\xa0234\\xa0EUR', '$56', '2.50', '3.24\\xa0EUR')
    """
    figure = grouped(value) if abs(value) >= whole_from - 0.005 else plain(value, 2)
    if len(currency) == 1 and not currency.isalnum():
        return f"{currency}{figure}"
    return f"{figure}{NBSP}{currency}" if currency else figure


def prices_told(prices: Prices, units: Units) -> str:
    """The stated prices in the reader's measure; nothing where none is.

    >>> prices_told(Prices("EUR", 0.3 / KWH_J, fuel_per_m3=1800.0), Units.METRIC), prices_told(Prices(), Units.US)
    ('0.30\\xa0EUR a kWh, 1.80\\xa0EUR a litre', '')
    """
    told = []
    if prices.electricity_per_j is not None:
        told.append(f"{unit_price(prices.electricity_per_j * KWH_J, prices.currency)} a kWh")
    if prices.fuel_per_m3 is not None:
        volume_m3, name = (GALLON_M3, "gallon") if units is Units.US else (LITRE_M3, "litre")
        told.append(f"{unit_price(prices.fuel_per_m3 * volume_m3, prices.currency)} a {name}")
    return ", ".join(told)


def fuel_number(cubic_metre: float, units: Units) -> float:
    """Litres or US gallons."""
    return cubic_metre / (GALLON_M3 if units is Units.US else 1e-3)


def fuel(cubic_metre: float, units: Units) -> str:
    """Litres or US gallons, whole from ten on, hundredths below one.

    >>> fuel(0.0386, Units.METRIC), fuel(0.0386, Units.US)
    ('39\\xa0litres', '10\\xa0gallons')
    """
    number = fuel_number(cubic_metre, units)
    figure = grouped(number) if number >= 9.95 else plain(number, 2 if number < 0.995 else 1).removesuffix(".0")
    return f"{figure}{NBSP}{'gallons' if units is Units.US else 'litres'}"


def given_off(kilograms: float, units: Units) -> str:
    """CO2: kilograms, tonnes from one on; pounds for US readers.

    >>> given_off(412, Units.METRIC), given_off(1340, Units.METRIC), given_off(1000, Units.US)
    ('412\\xa0kg', '1.3\\xa0t', '2\\xa0205\\xa0lb')
    """
    if units is Units.US:
        return f"{grouped(kilograms / POUND_KG)}{NBSP}lb"
    return f"{plain(kilograms / 1000, 1)}{NBSP}t" if kilograms >= 1000 else f"{plain(kilograms)}{NBSP}kg"


def given_off_number(kilograms: float, units: Units) -> str:
    """Kilograms or pounds of a table, whole."""
    return grouped(kilograms / POUND_KG if units is Units.US else kilograms)


def unit_price(price: float, currency: str) -> str:
    """What one unit costs: up to three figures that count.

    >>> unit_price(0.3, "EUR"), unit_price(0.1675, "$"), unit_price(31, "")
    ('0.30\xa0EUR', '$0.168', '31')
    """
    figure = f"{float(f'{price:.3g}'):g}"
    if "." in figure and len(figure.partition(".")[2]) == 1:
        figure += "0"
    if len(currency) == 1 and not currency.isalnum():
        return f"{currency}{figure}"
    return f"{figure}{NBSP}{currency}" if currency else figure


def speed_unit(units: Units) -> str:
    """The symbol: km/h or mph."""
    return "mph" if units is Units.US else "km/h"


def speed_number(metres_per_second: float, units: Units) -> float:
    """Kilometres or miles an hour."""
    return metres_per_second / (MPH if units is Units.US else KM_H)


def speed(metres_per_second: float, units: Units) -> str:
    """A road speed, whole.

    >>> speed(37.55, Units.METRIC), speed(37.55, Units.US)
    ('135\\xa0km/h', '84\\xa0mph')
    """
    return f"{plain(speed_number(metres_per_second, units))}{NBSP}{speed_unit(units)}"
