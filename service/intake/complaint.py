"""A complained drive as it arrives: the quote's own parts, and what a workshop knows besides.

Use      `ComplaintRequest.complaint(catalogue)` in SI; what was not sent counts as left open, not as known.
"""

from typing import Annotated

from pydantic import AfterValidator, Field, model_validator

from service import specs
from service.catalogue import Catalogue
from service.diagnosis.complaint import Complaint, Parked
from service.diagnosis.openings import MIXED_JOURNEY, OPENINGS
from service.intake.conditions import CabinIn, CircuitIn, OutfitIn, StartIn, WeatherIn
from service.intake.fields import Incoming, Number, limited, optional, said
from service.intake.journey import JourneyIn
from service.intake.quote import QuoteRequest
from service.intake.vehicle import VehicleIn

__all__ = ["LONGEST_COMPLAINT", "ComplaintRequest", "EndIn"]

LONGEST_COMPLAINT = 500  # characters


def _end_charge(value: float) -> float:
    if not 0 <= value <= 99:
        raise said(f"{value:g} % is outside 0 to 99 %", "give 0 to 99 %", value=value)
    return value


def _short_and_whole(text: str) -> str:
    if len(text) > LONGEST_COMPLAINT:
        raise said(f"it has {len(text)} characters", f"give at most {LONGEST_COMPLAINT} characters")
    if any("\ud800" <= character <= "\udfff" for character in text):  # no encoder takes halves of surrogate pairs
        raise said("the text holds half a character", "correct the encoding of the text")
    return text


class EndIn(Incoming):
    """How the drive ended."""

    state_of_charge_pct: Annotated[Number, AfterValidator(_end_charge)] = Field(
        0.0, description="charge left when the reported distance was reached, 0 to 99 %"
    )


class ComplaintRequest(Incoming):
    """The conditions of one drive, and how far it went."""

    vehicle: VehicleIn
    journey: JourneyIn | None = Field(None, description="null: unknown; a mixed journey stands in for it")
    weather: WeatherIn = WeatherIn()
    start: StartIn = StartIn()
    end: EndIn = EndIn()
    cabin: CabinIn = CabinIn()
    circuit: CircuitIn | None = Field(None, description="as in a quote; the distance does not depend on it")
    payload_kg: Number = limited("payload_kg", 0.0)
    outfit: OutfitIn = OutfitIn()
    parked: Parked | None = Field(None, description="refines start.soaked")
    tyre_pressure_kpa: Number | None = optional("tyre_pressure_kpa")
    placard_pressure_kpa: Number = limited("placard_pressure_kpa", 250.0)
    odometer_km: Number | None = optional("odometer_km")
    reported_km: Number = limited("reported_km")
    complaint: Annotated[str, AfterValidator(_short_and_whole)] = Field("", description="in the customer's words")

    @model_validator(mode="after")
    def _ends_below_its_start(self) -> "ComplaintRequest":
        end, start = self.end.state_of_charge_pct, self.start.state_of_charge_pct
        if end >= start:
            raise said(
                f"{end:g} % left is not less than {start:g} % at the start",
                f"give less than {start:g} %",
                at="end.state_of_charge_pct",
                value=end,
            )
        return self

    @model_validator(mode="after")
    def _parked_in_one_way(self) -> "ComplaintRequest":
        stated = "soaked" in self.start.model_fields_set and self.parked is not None
        if stated and self.start.soaked == (self.parked is Parked.WARM):
            raise said(
                f"{str(self.parked)!r} contradicts start.soaked",
                "leave one of the two out",
                at="parked",
                value=str(self.parked),
            )
        if self.start.in_sun and self.parked is Parked.GARAGE:
            raise said(
                "'garage' contradicts start.in_sun",
                "leave one of the two out",
                at="parked",
                value=str(self.parked),
            )
        return self

    @model_validator(mode="after")
    def _one_pressure(self) -> "ComplaintRequest":
        tyres = self.outfit.tyres
        if self.tyre_pressure_kpa is not None and (tyres.tyre_pressure_kpa is not None or tyres.set_at_c is not None):
            raise said(
                "tyre_pressure_kpa and outfit.tyres both tell the tyres' pressure",
                "leave one of the two out",
                at="tyre_pressure_kpa",
                value=self.tyre_pressure_kpa,
            )
        return self

    def question(self) -> QuoteRequest:
        """The same conditions as a question for a quote. Only what was sent is set, so its defaults can be listed."""
        shared = self.model_fields_set & QuoteRequest.model_fields.keys()
        parts = {name: getattr(self, name) for name in shared if getattr(self, name) is not None}
        parts["start"] = self._start()
        if self.journey is None:
            parts["journey"] = JourneyIn.model_validate({"legs": [_leg(leg) for leg in MIXED_JOURNEY.legs]})
        return QuoteRequest(**parts)

    def _start(self) -> StartIn:
        """Where the car was parked says whether it soaked; health that nobody stated is not the quote's to assume."""
        known = {} if self.parked is None else {"soaked": self.parked is not Parked.WARM}
        health = {"state_of_health_pct": self.start.state_of_health_pct}
        return self.start.model_copy(update=known | health)

    def complaint_of(self, catalogue: Catalogue) -> Complaint:
        """The complaint in SI; raises BadInputs with every id that the catalogue does not hold."""
        return Complaint(
            ask=self.question().ask(catalogue),
            reported_m=self.reported_km * 1000,
            end_charge=self.end.state_of_charge_pct / 100,
            parked=self.parked,
            tyre_pa=None if self.tyre_pressure_kpa is None else self.tyre_pressure_kpa * 1000,
            placard_pa=self.placard_pressure_kpa * 1000,
            odometer_m=None if self.odometer_km is None else self.odometer_km * 1000,
            health_stated="state_of_health_pct" in self.start.model_fields_set,
            left_open=self.left_open(),
            words=self.complaint,
        )

    def left_open(self) -> frozenset[str]:
        """Paths of the inputs that bear on the verdict and that nobody gave."""
        paths = {*OPENINGS, "placard_pressure_kpa"} - {"parked"}
        unknown = {path for path in paths if not _given(self, path.split("."))}
        if self.parked is None and not _given(self, ["start", "soaked"]):
            unknown.add("parked")
        return frozenset(unknown)


def _given(model: Incoming, steps: list[str]) -> bool:
    """True where the last name was sent, and not as null."""
    for step in steps:
        if step not in model.model_fields_set or getattr(model, step) is None:
            return False
        model = getattr(model, step)
    return True


def _leg(leg: specs.Leg) -> dict[str, float]:
    """A leg of the stand-in journey as it would arrive."""
    return {
        "distance_km": leg.distance_m / 1000,
        "speed_km_h": leg.speed_m_s * 3.6,
        "stops_per_km": leg.stops_per_m * 1000,
    }
