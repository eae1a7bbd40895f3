"""Twelve months as they arrive: a place of the catalogue, or a month's means typed or taken from a weather file.

Scope    lows and highs of all months; humidity, wind and sun of those that are known, null for the others.
"""

from typing import Annotated, Self

from pydantic import Field, model_validator

from service import specs
from service.catalogue import Catalogue
from service.intake.fields import MEMBERS, Incoming, Number, optional, said
from service.units import KM_H, KWH_J, kelvin_from_celsius

__all__ = ["MONTHS", "TWELVE", "WEATHER", "MonthsIn"]

MONTHS = 12
TYPED_LATITUDE_DEG = 45.0  # north or south by the warmer half year: half-way to the pole, own choice
SUMMER_HALF = slice(3, 9)  # April to September
TEMPERATURES, WEATHER = ("lows_c", "highs_c"), ("humidities_pct", "winds_km_h", "suns_kwh_m2_day")
TWELVE = (*TEMPERATURES, *WEATHER)
Twelve = Annotated[list[Number], Field(min_length=MONTHS, max_length=MONTHS)]
TwelveOrNone = Annotated[list[Number | None], Field(min_length=MONTHS, max_length=MONTHS)]


def _known(name: str, words: str) -> TwelveOrNone | None:
    limit = MEMBERS[name]
    span = f"{limit.low:g} to {limit.high:g} {limit.unit}"
    return Field(None, description=f"{words} of each month beside lows_c, {span}; null where unknown, and assumed")


class MonthsIn(Incoming):
    """A place, or its months."""

    place: Annotated[str, Field(max_length=80)] | None = Field(None, description="id from GET /api/places")
    lows_c: Twelve | None = Field(None, description="mean daily minimum of each month, January first, °C")
    highs_c: Twelve | None = Field(None, description="mean daily maximum of each month, °C")
    humidities_pct: TwelveOrNone | None = _known("humidities_pct", "mean relative humidity")
    winds_km_h: TwelveOrNone | None = _known("winds_km_h", "mean wind at about 10 m")
    suns_kwh_m2_day: TwelveOrNone | None = _known("suns_kwh_m2_day", "sun on level ground a day")
    latitude_deg: Number | None = optional("latitude_deg")

    @model_validator(mode="after")
    def _months_in_one_way(self) -> Self:
        given = [name for name in TEMPERATURES if getattr(self, name) is not None]
        if (self.place is None) == (not given):
            which = "neither" if self.place is None else "both"
            raise said(f"it gives {which} of place and typed months", "give a place, or lows_c and highs_c", at="place")
        for name in WEATHER:
            if self.place is not None and getattr(self, name) is not None:
                remedy = "leave it out, or give lows_c and highs_c in place of the place"
                raise said("it stands beside a place, which has its own", remedy, at=name)
        for name in TWELVE:
            if given and name in TEMPERATURES and name not in given:
                raise said("it is missing", "give twelve lows and twelve highs together", at=name)
            _refuse_months(name, getattr(self, name) or [])
        for month, (low, high) in enumerate(zip(self.lows_c or [], self.highs_c or [], strict=True)):
            if high < low:
                message = f"a high of {high:g} °C is below its low of {low:g} °C"
                remedy = f"check the two of month {month + 1}: give at least {low:g} °C, or a lower low"
                raise said(message, remedy, at=f"highs_c[{month}]", value=high)
        return self

    def latitude(self) -> float:
        """Stated, or assumed from the warmer half of the typed year."""
        if self.latitude_deg is not None:
            return self.latitude_deg
        means = [low + high for low, high in zip(self.lows_c or [], self.highs_c or [], strict=True)]
        north = 2 * sum(means[SUMMER_HALF]) >= sum(means)
        return TYPED_LATITUDE_DEG if north else -TYPED_LATITUDE_DEG

    def where(self, catalogue: Catalogue) -> specs.Place:
        """A place of the catalogue, or the typed months as one."""
        if self.place is not None:
            return catalogue.places[self.place]
        return specs.Place(
            id="own",
            name="typed months",
            country="",
            latitude_deg=self.latitude(),
            longitude_deg=0.0,
            elevation_m=None,
            coldest_k=tuple(kelvin_from_celsius(low) for low in self.lows_c),
            warmest_k=tuple(kelvin_from_celsius(high) for high in self.highs_c),
            relative_humidity=_scaled(self.humidities_pct, 1 / 100),
            wind_m_s=_scaled(self.winds_km_h, KM_H),
            sun_j_m2_day=_scaled(self.suns_kwh_m2_day, KWH_J),
        )


def _refuse_months(name: str, months: list[float | None]) -> None:
    """Raise for the first value that no inhabited place has."""
    limit = MEMBERS[name]
    for value in months:
        if value is not None and not limit.low <= value <= limit.high:
            span = f"{limit.low:g} to {limit.high:g} {limit.unit}"
            raise said(f"{value:g} {limit.unit} is outside {span}", f"give {span}", at=name, value=value)


def _scaled(months: list[float | None] | None, factor: float) -> tuple[float | None, ...]:
    """In SI; all unknown where nothing was given."""
    return tuple(None if value is None else value * factor for value in months or [None] * MONTHS)
