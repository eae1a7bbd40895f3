"""What a year says, of a journey or of a commute: frozen records in SI. `service.reporting` turns them into pages."""

from dataclasses import dataclass

import numpy as np

from service.quotes.answer import Assumption, Band
from service.quotes.band import band_of
from service.quotes.money import Money
from service.specs import Ask, Place, Weather

__all__ = ["Change", "Commute", "CommuteMonth", "FuelOnly", "HardestDay", "Night", "Tally", "Use", "Year", "YearMonth"]


@dataclass(frozen=True, eq=False, slots=True)
class Use:
    """What a month takes, a value a car; car 0 is the typical one. Months add up."""

    days: float  # driven
    distance_m: float
    electric_days: np.ndarray
    electric_m: np.ndarray
    home_j: np.ndarray  # at the socket
    work_j: np.ndarray

    def __add__(self, other: "Use") -> "Use":
        """Two months, car by car."""
        return Use(
            self.days + other.days,
            self.distance_m + other.distance_m,
            self.electric_days + other.electric_days,
            self.electric_m + other.electric_m,
            self.home_j + other.home_j,
            self.work_j + other.work_j,
        )


@dataclass(frozen=True, slots=True)
class Tally:
    """Sums of a month or of the year. Fuel is zero for a car without an engine."""

    days: float
    distance_m: float
    electric_days: Band  # driven without the engine; for a battery-electric car: without a charge on the way
    electric_share: Band  # of the distance
    wall_j: Band
    fuel_m3: Band
    cost: Band
    co2_kg: Band

    @classmethod
    def of(cls, use: Use, money: Money) -> "Tally":
        """Bands over the cars."""

        def band(column: np.ndarray) -> Band:
            return band_of(column[0], column[1:])

        fuel_m = use.distance_m - use.electric_m if money.fuel_m3_per_m > 0 else 0.0 * use.electric_m
        wall_j = use.home_j + use.work_j
        return cls(
            days=use.days,
            distance_m=use.distance_m,
            electric_days=band(use.electric_days),
            electric_share=band(use.electric_m / use.distance_m),
            wall_j=band(wall_j),
            fuel_m3=band(fuel_m * money.fuel_m3_per_m),
            cost=band(money.cost(use.home_j, use.work_j, fuel_m)),
            co2_kg=band(money.co2_kg(wall_j, fuel_m)),
        )


@dataclass(frozen=True, slots=True)
class YearMonth:
    """A journey in one month: its mean day at the hour asked for."""

    name: str
    weather: Weather
    range_m: Band  # over cars and days of the month
    tally: Tally


@dataclass(frozen=True, slots=True)
class FuelOnly:
    """The same year of a car with an engine that is never plugged in."""

    fuel_m3: float
    cost: float
    co2_kg: float


@dataclass(frozen=True, slots=True)
class Year:
    """Twelve months of a journey driven so many times a day. `ask` is the completed question of the first month."""

    ask: Ask
    place: Place
    hour: float
    needed_m: float  # a day
    months: tuple[YearMonth, ...]
    year: Tally
    fuel_only: FuelOnly | None
    money: Money
    assumptions: tuple[Assumption, ...]
    notes: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class HardestDay:
    """Of the sampled days of a month the one that leaves the typical car least: in charge, or short of home."""

    out_k: float
    back_k: float
    electric: bool
    short_m: float  # left to drive when the charge was gone; 0 where it was not
    morning_charge: float  # less than wanted where the night was too short
    charge_left: float
    cause: str  # what takes most more than on the mildest day of the year, each metre; "" where nothing does
    cause_j_per_m: float
    too_weak: bool  # the motor does not keep up, or the pack can no longer hold the speed


@dataclass(frozen=True, slots=True)
class CommuteMonth:
    """There and back in one month."""

    name: str
    out: Weather  # mean day at the hour of leaving home
    back: Weather
    range_m: Band  # in the morning's air, as `YearMonth.range_m`
    tally: Tally
    hardest: HardestDay
    heat_days: float  # driving days on which the cabin asks for heat that only the engine gives


@dataclass(frozen=True, slots=True)
class Change:
    """What one change does to the year of the typical car."""

    id: str
    sentence: str
    electric_days: float
    wall_j: float
    cost: float


@dataclass(frozen=True, slots=True)
class Night:
    """The home socket against the night: the month whose refills take longest, typical car."""

    month: str
    seconds: float  # a whole refill; infinite where the socket gives nothing
    parked_s: float
    too_short_share: float  # of the sampled nights of the year


@dataclass(frozen=True, slots=True)
class Commute:
    """A year of there and back. `ask` is the completed question of the first month's morning, both ways."""

    ask: Ask
    place: Place
    one_way_m: float
    back_m: float
    months: tuple[CommuteMonth, ...]
    year: Tally
    fuel_only: FuelOnly | None
    helps: tuple[Change, ...]
    night: Night
    money: Money
    assumptions: tuple[Assumption, ...]
    notes: tuple[str, ...]
