"""A year as it arrives, of a journey or of a commute: the contract's names, checked at once, turned into SI once.

Scope    what both share stands in `_YearIn`: car, place or twelve typed months, driving days, prices and factors.
Use      `CommuteRequest.commute(catalogue)` and `YearRequest.year(catalogue)` in SI; raise BadInputs for unknown ids.
"""

from collections.abc import Mapping
from dataclasses import replace
from typing import Annotated, Literal, Self, TypeVar

from pydantic import Field, model_validator

from service import specs
from service.catalogue import Catalogue
from service.errors import BadInput, BadInputs
from service.fleet.ask import moved_to
from service.intake.assumed import assumed
from service.intake.comparison import unknown_place
from service.intake.conditions import CabinIn, CircuitIn, StartIn, WeatherIn
from service.intake.fields import LIMITS, Incoming, Number, Whole, YesNo, limited, optional, said
from service.intake.journey import JourneyIn
from service.intake.prices import PricesIn
from service.intake.quote import QuoteRequest, unknown_ids
from service.intake.vehicle import VehicleIn
from service.quotes.answer import Assumption
from service.quotes.calendar import WEEKDAYS, Pattern
from service.quotes.commute import CommuteAsk
from service.quotes.money import FUEL_M3_PER_M, G_PER_KWH, LITRE_M3, Factors
from service.quotes.parking import Overnight
from service.quotes.year import YearAsk
from service.units import kelvin_from_celsius

__all__ = ["CommuteRequest", "FactorsIn", "YearRequest", "with_defaults", "year_faults"]

MONTHS = 12
SAID_BEFORE = {"procedure": specs.Procedure.ROAD}  # a year is driven on the road: nothing to list
TYPED_LATITUDE_DEG = 45.0  # north or south by the warmer half year: half-way to the pole, own choice
SUMMER_HALF = slice(3, 9)  # April to September
TEMPERATURE = LIMITS["month_c"]
Twelve = Annotated[list[Number], Field(min_length=MONTHS, max_length=MONTHS)]
Answer = TypeVar("Answer")
DEFAULTS = {  # by name in the request: what it is called, unit, reason
    "leaves_home_hour": ("leaves home at", "h", "common practice"),
    "leaves_work_hour": ("leaves work at", "h", "common practice"),
    "leaves_hour": ("leaves at", "h", "common practice"),
    "parked_overnight": ("parked at night", "", "common practice"),
    "charge_at_work": ("charged at work", "", "nothing said of a plug there"),
    "trips_per_day": ("trips a day", "", "common practice"),
}


class FactorsIn(Incoming):
    """What is given off, and what the engine takes."""

    grid_g_per_kwh: Number | None = optional("grid_g_per_kwh")
    fuel_g_per_l: Number | None = optional("fuel_g_per_l")
    fuel_l_per_100_km: Number | None = optional("fuel_l_per_100_km")

    def factors(self) -> Factors:
        """The same in SI."""
        return Factors(
            grid_kg_per_j=_scaled(self.grid_g_per_kwh, G_PER_KWH),
            fuel_kg_per_m3=_scaled(self.fuel_g_per_l, 1e-3 / LITRE_M3),
            fuel_m3_per_m=_scaled(self.fuel_l_per_100_km, FUEL_M3_PER_M),
        )


class MorningIn(Incoming):
    """How the car stands every morning when the night was long enough."""

    state_of_charge_pct: Number = limited("state_of_charge_pct", 100.0)
    preconditioned: YesNo = False
    state_of_health_pct: Number = limited("state_of_health_pct", 100.0)


class _YearIn(Incoming):
    """What a year of a journey and a year of a commute share."""

    vehicle: VehicleIn
    journey: JourneyIn
    place: Annotated[str, Field(max_length=80)] | None = Field(None, description="id from GET /api/places")
    lows_c: Twelve | None = Field(None, description="mean daily minimum of each month, January first, °C")
    highs_c: Twelve | None = Field(None, description="mean daily maximum of each month, °C")
    latitude_deg: Number | None = optional("latitude_deg")
    days_per_week: Whole | None = optional("days_per_week")
    weekdays: Annotated[list[Literal[WEEKDAYS]], Field(min_length=1, max_length=7)] | None = Field(
        None, description="days that are driven; null: as many as days_per_week from Monday on"
    )
    weeks_per_year: Number | None = optional("weeks_per_year")
    start: MorningIn = MorningIn()
    cabin: CabinIn = CabinIn()
    circuit: CircuitIn | None = Field(None, description="at home; null: the usual circuit of the region")
    payload_kg: Number = limited("payload_kg", 0.0)
    surface: Annotated[str, Field(max_length=80)] = Field("dry", description="what lies on the road: id of a surface")
    prices: PricesIn = PricesIn()
    factors: FactorsIn = FactorsIn()

    @model_validator(mode="after")
    def _months_in_one_way(self) -> Self:
        typed = {"lows_c": self.lows_c, "highs_c": self.highs_c}
        given = [name for name, months in typed.items() if months is not None]
        if (self.place is None) == (not given):
            which = "neither" if self.place is None else "both"
            raise said(f"it gives {which} of place and typed months", "give a place, or lows_c and highs_c", at="place")
        for name, months in typed.items():
            if given and months is None:
                raise said("it is missing", "give twelve lows and twelve highs together", at=name)
            _refuse_months(name, months or [])
        for month, (low, high) in enumerate(zip(self.lows_c or [], self.highs_c or [], strict=True)):
            if high < low:
                message = f"a high of {high:g} °C is below its low of {low:g} °C"
                remedy = f"check the two of month {month + 1}: give at least {low:g} °C, or a lower low"
                raise said(message, remedy, at=f"highs_c[{month}]", value=high)
        return self

    @model_validator(mode="after")
    def _days_in_one_way(self) -> Self:
        days = self.weekdays
        if days is not None and self.days_per_week is not None:
            raise said("it gives both weekdays and days_per_week", "give one of the two", at="weekdays")
        if days is not None and len(set(days)) < len(days):
            raise said("a day stands twice", "name each day once", at="weekdays", value=days)
        return self

    def question(self) -> QuoteRequest:
        """The parts that a single quote has, too. Only what was sent is set, so that its defaults can be listed."""
        shared = self.model_fields_set & {"vehicle", "journey", "cabin", "circuit", "payload_kg"}
        parts = {name: getattr(self, name) for name in shared if getattr(self, name) is not None}
        surface = {"surface": self.surface} if "surface" in self.model_fields_set else {}
        day = WeatherIn(temperature_c=20.0, altitude_m=0.0, **surface)  # a stand-in: the months bring their own
        return QuoteRequest(**SAID_BEFORE, **parts, weather=day, start=self._start())

    def _start(self) -> StartIn:
        return StartIn(soaked=True, **self.start.model_dump(exclude_unset=True))

    def pattern(self) -> Pattern:
        """The driving days."""
        days = range(5 if self.days_per_week is None else self.days_per_week)
        if self.weekdays is not None:
            days = sorted(WEEKDAYS.index(day) for day in self.weekdays)
        return Pattern(tuple(days), self.weeks_per_year)

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
        unknown = (None,) * MONTHS
        return specs.Place(
            id="own",
            name="typed months",
            country="",
            latitude_deg=self.latitude(),
            longitude_deg=0.0,
            elevation_m=None,
            coldest_k=tuple(kelvin_from_celsius(low) for low in self.lows_c),
            warmest_k=tuple(kelvin_from_celsius(high) for high in self.highs_c),
            relative_humidity=unknown,
            wind_m_s=unknown,
            sun_j_m2_day=unknown,
        )

    def refuse_unknown(self, catalogue: Catalogue) -> None:
        """Raise BadInputs with every id that the catalogue does not hold."""
        unknown = year_faults(self.model_dump(exclude_none=True), catalogue)
        if unknown:
            raise BadInputs(unknown)


class YearRequest(_YearIn):
    """A journey driven so many times a day, in each of the twelve months."""

    leaves_hour: Number = limited("leaves_hour", 8.0)
    trips_per_day: Whole = limited("trips_per_day", 1)

    def year(self, catalogue: Catalogue) -> YearAsk:
        """The question in SI."""
        self.refuse_unknown(catalogue)
        return YearAsk(
            ask=self.question().ask(catalogue),
            place=self.where(catalogue),
            hour=self.leaves_hour,
            trips_per_day=self.trips_per_day,
            pattern=self.pattern(),
            prices=self.prices.prices(),
            factors=self.factors.factors(),
        )


class CommuteRequest(_YearIn):
    """There in the morning, back in the afternoon. The journey is the way there."""

    leaves_home_hour: Number = limited("leaves_home_hour", 7.5)
    leaves_work_hour: Number = limited("leaves_work_hour", 17.0)
    parked_overnight: Overnight = Overnight.OUTSIDE
    charge_at_work: YesNo = False
    work_circuit: CircuitIn | None = Field(None, description="null: one like that at home")

    @model_validator(mode="after")
    def _plug_at_work(self) -> Self:
        if self.work_circuit is not None and not self.charge_at_work:
            raise said(
                "there is a circuit at work, but no charging", "set charge_at_work, or leave it out", at="work_circuit"
            )
        return self

    def commute(self, catalogue: Catalogue) -> CommuteAsk:
        """The question in SI."""
        self.refuse_unknown(catalogue)
        return CommuteAsk(
            ask=self.question().ask(catalogue),
            place=self.where(catalogue),
            leaves_home_hour=self.leaves_home_hour,
            leaves_work_hour=self.leaves_work_hour,
            overnight=self.parked_overnight,
            charges_at_work=self.charge_at_work,
            work_circuit=self.work_circuit and self.work_circuit.circuit(catalogue.circuits, "work_circuit"),
            pattern=self.pattern(),
            prices=self.prices.prices(),
            factors=self.factors.factors(),
        )


def _scaled(value: float | None, factor: float) -> float | None:
    return None if value is None else value * factor


def _refuse_months(name: str, months: list[float]) -> None:
    """Raise for the first temperature that no inhabited place has."""
    for value in months:
        if not TEMPERATURE.low <= value <= TEMPERATURE.high:
            span = f"{TEMPERATURE.low:g} to {TEMPERATURE.high:g} °C"
            raise said(f"{value:g} °C is outside {span}", f"give {span}", at=name, value=value)


def year_faults(raw: object, catalogue: Catalogue) -> list[BadInput]:
    """Ids that the catalogue does not hold. Works on data that is wrong in other ways, too."""
    if not isinstance(raw, Mapping):
        return []
    elsewhere = [
        moved_to(fault, old, new)
        for part, old, new in (
            ({"weather": {"surface": raw.get("surface")}}, "weather.surface", "surface"),
            ({"circuit": raw.get("work_circuit")}, "circuit", "work_circuit"),
        )
        for fault in unknown_ids(part, catalogue)
    ]
    return [*unknown_ids(raw, catalogue), *unknown_place(raw.get("place"), catalogue), *elsewhere]


def with_defaults(answer: Answer, request: YearRequest | CommuteRequest) -> Answer:
    """The answer, with the request's own defaults in front of its assumptions."""
    own = [
        Assumption(name, _plain(getattr(request, field)), unit, reason)
        for field, (name, unit, reason) in DEFAULTS.items()
        if field in type(request).model_fields and field not in request.model_fields_set
    ]
    if request.days_per_week is None and request.weekdays is None:
        own.append(Assumption("driving days", "Monday to Friday", "", "common practice"))
    if request.place is None and request.latitude_deg is None:
        source = "half-way to the pole, north or south by the warmer half of the year: own choice"
        own.append(Assumption("latitude", request.latitude(), "°", source))
    return replace(answer, assumptions=(*own, *assumed(request.question()), *answer.assumptions))


def _plain(value: object) -> float | str:
    if isinstance(value, bool):
        return "yes" if value else "no"
    return str(value) if isinstance(value, Overnight) else float(value)
