"""The question of a charging plan as it arrives: a car, a circuit, a charge, two instants, a tariff.

Use      `ChargingPlanRequest.question(catalogue)` in SI; `read_charging_plan` does both for plain data.
"""

from collections.abc import Callable, Mapping
from dataclasses import replace
from datetime import datetime
from typing import Annotated

from pydantic import AfterValidator, Field, ValidationError, model_validator

from service import specs, units
from service.catalogue import Catalogue
from service.charging.tariff import MonthSoFar
from service.errors import BadInput, BadInputs
from service.intake.assumed import assumed
from service.intake.conditions import CabinIn, CircuitIn, WeatherIn
from service.intake.errors import Scale, faults_of, unit_of_path
from service.intake.fields import Incoming, Number, YesNo, limited, said
from service.intake.quote import unknown_ids
from service.intake.tariff import TariffIn
from service.intake.vehicle import VehicleIn
from service.quotes.answer import Assumption
from service.quotes.charging_plan import ChargingPlan, PlanAsk

__all__ = ["LONGEST_H", "ChargingPlanRequest", "plan_faults", "plan_listed", "read_charging_plan"]

LONGEST_H = 72  # three days: a plan is for a night or a weekend
SHORTEST_S = 60.0
OUTSIDE = ("outside temperature",)
FIRST_YEAR, LAST_YEAR = 2000, 2100
INSTANT = "give date, time and offset, such as 2026-11-25T18:00:00+01:00"


def _checked(text: str) -> str:
    """The text of an instant with its offset."""
    try:
        found = datetime.fromisoformat(text.strip())
    except ValueError:
        raise said(f"{text[:40]!r} is not a date and time", INSTANT, value=text[:80]) from None
    if found.tzinfo is None or found.utcoffset() is None:
        raise said(f"{text[:40]!r} has no offset from UTC", INSTANT, value=text[:80])
    if not FIRST_YEAR <= found.year < LAST_YEAR:
        raise said(f"{found.year} is outside {FIRST_YEAR} to {LAST_YEAR - 1}", INSTANT, value=text[:80])
    return text.strip()


def _seconds(text: str) -> float:
    return datetime.fromisoformat(text).timestamp()


Instant = Annotated[str, Field(max_length=60), AfterValidator(_checked)]


class ChargingPlanRequest(Incoming):
    """Ready by when, from what, on which circuit, at what prices."""

    vehicle: VehicleIn
    circuit: CircuitIn | None = Field(None, description="null: the usual circuit of the region is assumed and listed")
    from_pct: Number = limited("from_pct")
    to_pct: Number = limited("to_pct", 100.0)
    arrives: Instant = Field(description="plugged in: ISO 8601 with offset")
    departs: Instant = Field(description="ready by then: ISO 8601 with offset")
    tariff: TariffIn
    weather: WeatherIn = WeatherIn()
    cabin: CabinIn = CabinIn()
    state_of_health_pct: Number = limited("state_of_health_pct", 100.0)
    preconditioned: YesNo = Field(False, description="cabin and pack readied on the wall just before departure")
    month_kwh: Number = limited("month_kwh", 0.0)  # on this month's bill so far: where its blocks stand
    month_peak_kw: Number = limited("month_peak_kw", 0.0)  # highest quarter of an hour of the month so far

    @model_validator(mode="after")
    def _upwards(self) -> "ChargingPlanRequest":
        if self.to_pct <= self.from_pct:
            raise said(
                f"{self.to_pct:g} % is not above {self.from_pct:g} %", f"give more than {self.from_pct:g} %",
                at="to_pct", value=self.to_pct,
            )  # fmt: skip
        return self

    @model_validator(mode="after")
    def _forward(self) -> "ChargingPlanRequest":
        seconds, told = _seconds(self.departs) - _seconds(self.arrives), self.departs
        if seconds < SHORTEST_S:
            raise said("departure is not after arrival", "give a later departure", at="departs", value=told)
        if seconds > LONGEST_H * 3600:
            raise said(
                f"departure is {seconds / 3600:.0f} h after arrival", f"give at most {LONGEST_H} h",
                at="departs", value=told,
            )  # fmt: skip
        return self

    def question(self, catalogue: Catalogue) -> PlanAsk:
        """The question in SI; raises BadInputs with unknown ids, and gaps and overlaps of a tariff."""
        unknown = unknown_ids(self.model_dump(exclude_none=True), catalogue)
        if unknown:
            raise BadInputs(unknown + (plan_faults({"tariff": self.tariff}, catalogue) if self.tariff.spec else []))
        ask = specs.Ask(
            vehicle=self.vehicle.vehicle(catalogue.vehicles),
            journey=specs.Journey(),
            weather=self.weather.weather(),
            start=specs.Start(self.from_pct / 100, True, self.preconditioned, self.state_of_health_pct / 100),
            cabin=self.cabin.cabin(),
            circuit=self.circuit and self.circuit.circuit(catalogue.circuits),
            band=False,
        )
        return PlanAsk(
            ask=ask,
            to_charge=self.to_pct / 100,
            arrives_s=_seconds(self.arrives),
            departs_s=_seconds(self.departs),
            tariff=self.tariff.tariff(catalogue.tariffs),
            so_far=MonthSoFar(self.month_kwh * units.KWH_J, self.month_peak_kw * 1000),
        )


def read_charging_plan(
    raw: object, catalogue: Catalogue, scale_of: Callable[[str], Scale] = unit_of_path
) -> tuple[PlanAsk, ChargingPlanRequest]:
    """The question in SI and as it came, from plain data; raises BadInputs with every fault of it."""
    try:
        request = ChargingPlanRequest.model_validate(raw)
    except ValidationError as error:
        raise BadInputs(faults_of(error.errors(), scale_of) + plan_faults(raw, catalogue)) from None
    return request.question(catalogue), request


def plan_listed(found: ChargingPlan, request: ChargingPlanRequest) -> ChargingPlan:
    """The answer, with what the request left to the service among its assumptions: those that count here."""
    counts = ("outside temperature", "cabin temperature asked for") if request.preconditioned else OUTSIDE
    defaults = [each for each in assumed(request) if each.name in counts]
    if "state_of_health_pct" not in request.model_fields_set:
        defaults.append(Assumption("battery health", request.state_of_health_pct, "%", "a new battery"))
    return replace(found, assumptions=(*defaults, *found.assumptions))


def plan_faults(raw: object, catalogue: Catalogue) -> list[BadInput]:
    """Unknown ids, and gaps, overlaps and bad cells of a tariff, in data that may be wrong in other ways, too."""
    faults: list[BadInput] = list(unknown_ids(raw, catalogue))
    try:
        tariff = TariffIn.model_validate(raw.get("tariff") if isinstance(raw, Mapping) else None)
    except ValidationError:
        return faults  # told by the request itself
    try:
        if tariff.spec is not None:
            tariff.spec.tariff()
    except BadInputs as error:
        faults += error.faults
    return faults
