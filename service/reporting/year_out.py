"""Years and commutes as they leave: the contract's names, people's units.

Scope    `quotes.year_answer` in SI → pydantic models; the page has a view of its own.
"""

import math
from typing import Self

from pydantic import Field

from service import units
from service.quotes.money import LITRE_M3
from service.quotes.own_share import own_share_of_year
from service.quotes.year_answer import (
    Change,
    Commute,
    CommuteMonth,
    FuelOnly,
    HardestDay,
    Night,
    Tally,
    Year,
    YearMonth,
)
from service.reporting.answers import (
    MODEL_VERSION,
    WH_PER_KM,
    AssumptionOut,
    BandOut,
    CircuitOut,
    Outgoing,
    VehicleOut,
    assumption_out,
    rounded,
)
from service.reporting.share_out import UtilityFactorsOut
from service.specs import Place, Weather

__all__ = ["CommuteOut", "YearOut"]


def celsius(kelvin: float) -> float:
    """Degrees to a tenth."""
    return round(units.celsius_from_kelvin(kelvin), 1)


class PlaceOut(Outgoing):
    """Where the months come from."""

    id: str = Field(description="own for typed months")
    name: str
    country: str
    latitude_deg: float

    @classmethod
    def of(cls, place: Place) -> Self:
        """From the record."""
        return cls(id=place.id, name=place.name, country=place.country, latitude_deg=place.latitude_deg)


class AirOut(Outgoing):
    """The mean day of a month at an hour."""

    temperature_c: float
    humidity_pct: float
    wind_km_h: float
    sun_w_m2: float

    @classmethod
    def of(cls, weather: Weather) -> Self:
        """From completed weather."""
        return cls(
            temperature_c=celsius(weather.ambient_k),
            humidity_pct=rounded(weather.relative_humidity * 100, 3),
            wind_km_h=rounded(weather.wind_m_s / units.KM_H, 3),
            sun_w_m2=rounded(weather.sun_w_m2, 3),
        )


class TallyOut(Outgoing):
    """Sums of a month or of the year; bands are over cars and drivers, days are counted for each."""

    driving_days: float
    distance_km: float
    electric_days: BandOut = Field(description="without the engine; battery-electric: without a charge on the way")
    electric_km_pct: BandOut = Field(description="of the distance")
    wall_kwh: BandOut = Field(description="at the socket, home and work")
    fuel_l: BandOut | None = Field(description="null for a car without an engine")
    cost: BandOut = Field(description="in the currency of the prices")
    co2_kg: BandOut

    @classmethod
    def of(cls, tally: Tally, has_engine: bool) -> Self:
        """From SI."""
        return cls(
            driving_days=rounded(tally.days),
            distance_km=rounded(tally.distance_m / 1000),
            electric_days=BandOut.of(tally.electric_days),
            electric_km_pct=BandOut.of(tally.electric_share, 100),
            wall_kwh=BandOut.of(tally.wall_j, 1 / units.KWH_J),
            fuel_l=BandOut.of(tally.fuel_m3, 1 / LITRE_M3) if has_engine else None,
            cost=BandOut.of(tally.cost),
            co2_kg=BandOut.of(tally.co2_kg),
        )


class FuelOnlyOut(Outgoing):
    """The same year driven wholly on fuel."""

    fuel_l: float
    cost: float
    co2_kg: float

    @classmethod
    def of(cls, only: FuelOnly) -> Self:
        """From SI."""
        return cls(fuel_l=rounded(only.fuel_m3 / LITRE_M3), cost=rounded(only.cost), co2_kg=rounded(only.co2_kg))


class YearMonthOut(Outgoing):
    """A journey in one month."""

    month: str
    air: AirOut
    range_km: BandOut = Field(description="p50: the single quote of the mean day; p10, p90: cars and days of the month")
    tally: TallyOut

    @classmethod
    def of(cls, month: YearMonth, has_engine: bool) -> Self:
        """From SI."""
        return cls(
            month=month.name,
            air=AirOut.of(month.weather),
            range_km=BandOut.of(month.range_m, 1 / 1000),
            tally=TallyOut.of(month.tally, has_engine),
        )


class YearOut(Outgoing):
    """Twelve months of a journey."""

    model_version: str
    vehicle: VehicleOut
    place: PlaceOut
    leaves_hour: float
    needed_km: float = Field(description="of a driving day, on one charge")
    currency: str
    circuit: CircuitOut
    months: list[YearMonthOut]
    year: TallyOut
    fuel_only: FuelOnlyOut | None = Field(description="null for a car without an engine")
    utility_factors: UtilityFactorsOut | None = Field(
        description="the year's electric share beside fleets'; null without plug or engine"
    )
    assumptions: list[AssumptionOut]
    notes: list[str]

    @classmethod
    def from_year(cls, year: Year) -> Self:
        """The whole answer."""
        car = year.ask.vehicle
        engine = car.kind.has_engine
        return cls(
            model_version=MODEL_VERSION,
            vehicle=VehicleOut(id=car.id, name=car.name, kind=car.kind),
            place=PlaceOut.of(year.place),
            leaves_hour=year.hour,
            needed_km=rounded(year.needed_m / 1000),
            currency=year.money.currency,
            circuit=CircuitOut.of(year.ask.circuit),
            months=[YearMonthOut.of(month, engine) for month in year.months],
            year=TallyOut.of(year.year, engine),
            fuel_only=year.fuel_only and FuelOnlyOut.of(year.fuel_only),
            utility_factors=UtilityFactorsOut.of_optional(own_share_of_year(year)),
            assumptions=[assumption_out(each) for each in year.assumptions],
            notes=list(year.notes),
        )


class HardestDayOut(Outgoing):
    """Of the sampled days of a month the hardest one, typical car."""

    temperature_out_c: float
    temperature_back_c: float
    electric: bool
    short_km: float = Field(description="left to drive when the charge was gone")
    morning_charge_pct: float = Field(description="at leaving home: less than wanted where the night was too short")
    charge_left_pct: float
    cause: str | None = Field(description="what takes most more than on the mildest day, each kilometre")
    cause_wh_per_km: float
    too_weak: bool = Field(description="the motor does not keep up, or the battery cannot hold the speed")

    @classmethod
    def of(cls, day: HardestDay) -> Self:
        """From SI."""
        return cls(
            temperature_out_c=celsius(day.out_k),
            temperature_back_c=celsius(day.back_k),
            electric=day.electric,
            short_km=rounded(day.short_m / 1000),
            morning_charge_pct=rounded(day.morning_charge * 100),
            charge_left_pct=rounded(day.charge_left * 100),
            cause=day.cause or None,
            cause_wh_per_km=rounded(day.cause_j_per_m * WH_PER_KM),
            too_weak=day.too_weak,
        )


class CommuteMonthOut(Outgoing):
    """There and back in one month."""

    month: str
    leaving_home: AirOut
    leaving_work: AirOut
    range_km: BandOut = Field(description="in the morning's air, there and back again and again; p50: the single quote")
    tally: TallyOut
    engine_heat_days: float = Field(description="days on which the cabin asks for heat that only the engine gives")
    hardest_day: HardestDayOut

    @classmethod
    def of(cls, month: CommuteMonth, has_engine: bool) -> Self:
        """From SI."""
        return cls(
            month=month.name,
            leaving_home=AirOut.of(month.out),
            leaving_work=AirOut.of(month.back),
            range_km=BandOut.of(month.range_m, 1 / 1000),
            tally=TallyOut.of(month.tally, has_engine),
            engine_heat_days=rounded(month.heat_days),
            hardest_day=HardestDayOut.of(month.hardest),
        )


class ChangeOut(Outgoing):
    """What one change does to the year of the typical car; differences."""

    change: str
    sentence: str
    electric_days: float
    wall_kwh: float
    cost: float

    @classmethod
    def of(cls, change: Change) -> Self:
        """From SI."""
        return cls(
            change=change.id,
            sentence=change.sentence,
            electric_days=rounded(change.electric_days),
            wall_kwh=rounded(change.wall_j / units.KWH_J),
            cost=rounded(change.cost),
        )


class NightOut(Outgoing):
    """The home socket against the night."""

    month: str = Field(description="whose refills take longest")
    hours: float | None = Field(description="of a whole refill; null where the socket gives nothing")
    parked_hours: float = Field(description="the shortest night of the week")
    too_short_pct: float = Field(description="of the year's nights")

    @classmethod
    def of(cls, night: Night) -> Self:
        """From SI."""
        return cls(
            month=night.month,
            hours=rounded(night.seconds / 3600) if math.isfinite(night.seconds) else None,
            parked_hours=rounded(night.parked_s / 3600),
            too_short_pct=rounded(night.too_short_share * 100),
        )


class CommuteOut(Outgoing):
    """A year of there and back."""

    model_version: str
    vehicle: VehicleOut
    place: PlaceOut
    one_way_km: float
    there_and_back_km: float
    currency: str
    circuit: CircuitOut
    months: list[CommuteMonthOut]
    year: TallyOut
    fuel_only: FuelOnlyOut | None = Field(description="null for a car without an engine")
    utility_factors: UtilityFactorsOut | None = Field(
        description="the year's electric share beside fleets'; null without plug or engine"
    )
    helps: list[ChangeOut]
    night: NightOut
    assumptions: list[AssumptionOut]
    notes: list[str]

    @classmethod
    def from_commute(cls, commute: Commute) -> Self:
        """The whole answer."""
        car = commute.ask.vehicle
        engine = car.kind.has_engine
        return cls(
            model_version=MODEL_VERSION,
            vehicle=VehicleOut(id=car.id, name=car.name, kind=car.kind),
            place=PlaceOut.of(commute.place),
            one_way_km=rounded(commute.one_way_m / 1000),
            there_and_back_km=rounded((commute.one_way_m + commute.back_m) / 1000),
            currency=commute.money.currency,
            circuit=CircuitOut.of(commute.ask.circuit),
            months=[CommuteMonthOut.of(month, engine) for month in commute.months],
            year=TallyOut.of(commute.year, engine),
            fuel_only=commute.fuel_only and FuelOnlyOut.of(commute.fuel_only),
            utility_factors=UtilityFactorsOut.of_optional(own_share_of_year(commute)),
            helps=[ChangeOut.of(each) for each in commute.helps],
            night=NightOut.of(commute.night),
            assumptions=[assumption_out(each) for each in commute.assumptions],
            notes=list(commute.notes),
        )
