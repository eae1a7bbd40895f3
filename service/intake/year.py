"""A year as it arrives, of a journey or of a commute: the contract's names, checked at once, turned into SI once.

Scope    what both share stands in `_YearIn`: car, place or twelve typed months (`months`), days, prices and factors.
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
from service.intake.fields import Incoming, Number, Whole, YesNo, limited, optional, said
from service.intake.journey import JourneyIn
from service.intake.months import MonthsIn
from service.intake.prices import PricesIn
from service.intake.quote import QuoteRequest, unknown_ids
from service.intake.vehicle import VehicleIn
from service.quotes.answer import Assumption
from service.quotes.calendar import WEEKDAYS, Pattern
from service.quotes.commute import CommuteAsk
from service.quotes.money import FUEL_M3_PER_M, G_PER_KWH, LITRE_M3, Factors
from service.quotes.parking import Overnight
from service.quotes.year import YearAsk

__all__ = ["CommuteRequest", "FactorsIn", "YearRequest", "with_defaults", "year_faults"]

SAID_BEFORE = {"procedure": specs.Procedure.ROAD}  # a year is driven on the road: nothing to list
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


class _YearIn(MonthsIn):
    """What a year of a journey and a year of a commute share."""

    vehicle: VehicleIn
    journey: JourneyIn
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
