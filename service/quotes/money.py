"""What electricity and fuel cost and give off: stated prices and factors, typical ones where none is stated, sums.

Scope    one price a kWh and one a litre, in whatever currency the asker means; no tariff by the hour, no standing
         charge. CO2 of making electricity, and of burning fuel; not of making cars or fuel.
Prices   that nobody stated are the usual ones in the stated currency or, where none is stated, in that of the place:
         dollars in the United States, euros elsewhere. In other currencies none is known here.
Source   rows of data/typical.csv; CO2 of petrol: 40 CFR 600.210-12.
"""

from dataclasses import dataclass

import numpy as np

from service.errors import BadInput, BadInputs
from service.quotes.assume import Filling
from service.specs import Prices
from service.units import KWH_J

__all__ = ["FUEL_M3_PER_M", "LITRE_M3", "Factors", "Money", "Prices", "Usual", "complete_money", "usual_prices"]

LITRE_M3 = 1e-3  # exact
FUEL_M3_PER_M = 1e-8  # in one litre for 100 km
G_PER_KWH = 1e-3 / KWH_J  # kg/J in one gram a kWh


@dataclass(frozen=True, slots=True)
class Factors:
    """What is given off, and how much fuel the engine takes; None where nobody said."""

    grid_kg_per_j: float | None = None
    fuel_kg_per_m3: float | None = None
    fuel_m3_per_m: float | None = None  # driven on the engine


@dataclass(frozen=True, slots=True)
class Money:
    """Both without gaps; fuel figures are zero for a car without an engine."""

    currency: str
    electricity_per_j: float
    work_electricity_per_j: float
    fuel_per_m3: float
    grid_kg_per_j: float
    fuel_kg_per_m3: float
    fuel_m3_per_m: float

    def cost(self, home_j: np.ndarray, work_j: np.ndarray, fuel_m: np.ndarray) -> np.ndarray:
        """Of socket energy at home and at work, J, and of metres driven on fuel."""
        electricity = home_j * self.electricity_per_j + work_j * self.work_electricity_per_j
        return electricity + fuel_m * self.fuel_m3_per_m * self.fuel_per_m3

    def co2_kg(self, wall_j: np.ndarray, fuel_m: np.ndarray) -> np.ndarray:
        """The same for what is given off."""
        return wall_j * self.grid_kg_per_j + fuel_m * self.fuel_m3_per_m * self.fuel_kg_per_m3


@dataclass(frozen=True, slots=True)
class Usual:
    """Usual prices in one currency: what it is called, and the rows of data/typical.csv."""

    currency: str
    spelt: tuple[str, ...]
    electricity: str
    fuel: str


EURO = Usual("EUR", ("EUR", "€"), "electricity_per_kwh", "fuel_per_l")
DOLLAR = Usual("USD", ("USD", "US$", "$"), "electricity_per_kwh_us", "fuel_per_l_us")


def usual_prices(currency: str, country: str) -> Usual | None:
    """Those in a stated currency, or without one those of a place; None for a currency whose prices are not known.

    >>> usual_prices("", "US").currency, usual_prices("", "JP").currency, usual_prices("CHF", "US")
    ('USD', 'EUR', None)
    """
    if currency:
        return next((each for each in (EURO, DOLLAR) if currency.upper() in each.spelt), None)
    return DOLLAR if country == "US" else EURO


def refuse_unknown_prices(prices: Prices, has_engine: bool) -> None:
    """Raise BadInputs with every price that is missing in a currency whose usual prices are not known."""
    needed = [("electricity_per_kwh", prices.electricity_per_j)]
    needed += [("fuel_per_l", prices.fuel_per_m3)] if has_engine else []
    missing = [name for name, price in needed if price is None]
    if missing and usual_prices(prices.currency, "") is None:
        told, ways_out = f"no usual price in {prices.currency} is known here", "give it, or leave the currency empty"
        raise BadInputs([BadInput(f"prices.{name}", None, told, ways_out) for name in missing])


def complete_money(prices: Prices, factors: Factors, has_engine: bool, filling: Filling, country: str) -> Money:
    """Prices and factors without gaps; what filled them is listed.

    Args:
        country: of the place, ISO 3166-1 alpha-2; "" where it is not known.
    Errors: `BadInputs` for a price that is missing in a currency whose usual prices are not known.
    """
    refuse_unknown_prices(prices, has_engine)
    usual = usual_prices(prices.currency, country) or EURO
    open_prices = prices.electricity_per_j is None or (has_engine and prices.fuel_per_m3 is None)

    def known(given: float | None, entry: str, name: str, si: float) -> float:
        return given if given is not None else si * filling.value(None, entry, name)

    def of_fuel(given: float | None, entry: str, name: str, si: float) -> float:
        return known(given, entry, name, si) if has_engine else 0.0

    at_home = known(prices.electricity_per_j, usual.electricity, "price of electricity", 1 / KWH_J)
    return Money(
        currency=prices.currency or (usual.currency if open_prices else ""),
        electricity_per_j=at_home,
        work_electricity_per_j=at_home if prices.work_electricity_per_j is None else prices.work_electricity_per_j,
        fuel_per_m3=of_fuel(prices.fuel_per_m3, usual.fuel, "price of fuel", 1 / LITRE_M3),
        grid_kg_per_j=known(factors.grid_kg_per_j, "grid_g_per_kwh", "CO2 of electricity", G_PER_KWH),
        fuel_kg_per_m3=of_fuel(factors.fuel_kg_per_m3, "fuel_g_per_l", "CO2 of fuel", 1e-3 / LITRE_M3),
        fuel_m3_per_m=of_fuel(factors.fuel_m3_per_m, "fuel_l_per_100_km", "fuel on the engine", FUEL_M3_PER_M),
    )
