"""Questions about the electric side itself: its envelope, other packs in the same car, standing ready.

Use      each model knows its `ask` in SI; ids are checked there, as in a quote. What was not sent is listed by
         `service.intake.assumed`, whose places are the same here.
"""

from typing import Annotated

from pydantic import AfterValidator, Field

from service import specs, units
from service.catalogue import Catalogue
from service.errors import BadInputs
from service.intake.conditions import CabinIn, OutfitIn, StartIn, WeatherIn
from service.intake.errors import Scale, range_text
from service.intake.fields import LIMITS, Incoming, Number, YesNo, limited, optional, said
from service.intake.journey import JourneyIn
from service.intake.quote import QuoteRequest, unknown_ids
from service.intake.vehicle import VehicleIn

__all__ = ["MOST_ENGINE_SPEEDS", "MOST_SIZES", "EnvelopeRequest", "PackSizesRequest", "StandbyRequest"]

MOST_SIZES = 12
MOST_ENGINE_SPEEDS = 6


def _within(name: str):
    """A check for members of a list, which have no field of their own."""
    limit = LIMITS[name]

    def check(value: float) -> float:
        if not limit.low <= value <= limit.high:
            allowed = range_text(limit, Scale(limit.unit))
            raise said(f"{value:g} {limit.unit} is outside {allowed}", f"give {allowed}", value=value)
        return value

    return check


Energy = Annotated[Number, AfterValidator(_within("usable_kwh"))]
EngineSpeed = Annotated[Number, AfterValidator(_within("engine_rpm"))]


class _Parked(Incoming):
    """A car, a day, how it stands and what the driver asks of the cabin."""

    vehicle: VehicleIn
    weather: WeatherIn = WeatherIn()
    start: StartIn = StartIn()
    cabin: CabinIn = CabinIn()
    outfit: OutfitIn = OutfitIn()

    def _ask(self, catalogue: Catalogue, journey: specs.Journey, payload_kg: float, band: bool) -> specs.Ask:
        """In SI; raises BadInputs with every id that the catalogue does not hold."""
        unknown = unknown_ids(self.model_dump(exclude_none=True), catalogue)
        if unknown:
            raise BadInputs(unknown)
        return specs.Ask(
            vehicle=self.vehicle.vehicle(catalogue.vehicles),
            journey=journey,
            weather=self.weather.weather(),
            start=self.start.start(),
            cabin=self.cabin.cabin(),
            payload_kg=payload_kg,
            outfit=self.outfit.outfit(catalogue.tyre_classes),
            band=band,
        )


class EnvelopeRequest(_Parked):
    """What it pulls on electricity alone; a journey puts its points on the curve."""

    journey: JourneyIn | None = Field(None, description="null: no points of a journey")
    payload_kg: Number = limited("payload_kg", 0.0)
    oil_circulation_pct: Number | None = optional("oil_circulation_pct")
    engine_rpm: Annotated[list[EngineSpeed], Field(min_length=1, max_length=MOST_ENGINE_SPEEDS)] = Field(
        [0.0, 1000.0, 2000.0, 4000.0], description="engine speeds at which a planetary gear is told"
    )

    def ask(self, catalogue: Catalogue) -> specs.Ask:
        """The question in SI."""
        journey = self.journey.journey() if self.journey else specs.Journey()
        return self._ask(catalogue, journey, self.payload_kg, band=False)

    def oil(self) -> float | None:
        """Oil circulation as a fraction; None: typical."""
        return None if self.oil_circulation_pct is None else self.oil_circulation_pct / 100

    def engine_rad_s(self) -> tuple[float, ...]:
        """Engine speeds, each once, rising."""
        return tuple(sorted({rpm * units.RPM for rpm in self.engine_rpm}))


class StandbyRequest(_Parked):
    """How long it may stand ready."""

    hours: Number | None = limited("hours", None)  # a time whose charge is told; None: half an hour
    band: YesNo = Field(True, description="false: only the central value, p10 and p90 are null")

    def ask(self, catalogue: Catalogue) -> specs.Ask:
        """The question in SI."""
        return self._ask(catalogue, specs.Journey(), 0.0, self.band)

    def asked_s(self) -> float | None:
        """The time asked about, s."""
        return None if self.hours is None else self.hours * 3600


class PackSizesRequest(QuoteRequest):
    """A question for a quote, to be answered with other packs."""

    usable_kwh: Annotated[list[Energy], Field(min_length=1, max_length=MOST_SIZES)] | None = Field(
        None, description="sizes to try; null: some around the car's own, which is always among the answers"
    )
    gross_kg: Number | None = optional("gross_kg")

    def usable_j(self) -> tuple[float, ...] | None:
        """The sizes in SI."""
        return None if self.usable_kwh is None else tuple(each * units.KWH_J for each in self.usable_kwh)
