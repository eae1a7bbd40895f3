"""The question of a speed table as it arrives: the quote's own parts without journey and temperature, and the grid.

Use      `SpeedTableRequest.question(catalogue)` in SI; `read_speed_table` does both for plain data.
Limits   of the grid bound the work: 8 speeds × 25 temperatures of 33 drives take about a second.
"""

from typing import Annotated

from pydantic import AfterValidator, BeforeValidator, Field, ValidationError

from service import specs, units
from service.catalogue import Catalogue
from service.errors import BadInputs
from service.intake.conditions import CabinIn, StartIn, WeatherIn
from service.intake.errors import faults_of
from service.intake.fields import MEMBERS, Incoming, Limit, Number, limited, said
from service.intake.quote import QuoteRequest, unknown_ids
from service.intake.vehicle import VehicleIn
from service.quotes.speed_table import SpeedAsk, TripKind, steady_journey

__all__ = ["SPEEDS_KM_H", "TEMPERATURES_C", "TRIP_DISTANCES_KM", "SpeedTableRequest", "TripIn", "read_speed_table"]

SPEEDS_KM_H = (50.0, 80.0, 100.0, 120.0, 130.0)  # town, country road, motorways of Europe
TEMPERATURES_C = tuple(float(celsius) for celsius in range(-20, 41, 5))
TRIP_DISTANCES_KM = (5.0, 10.0, 20.0)
MOST_SPEEDS, MOST_TEMPERATURES, MOST_TRIPS = 8, 25, 8


def _within(limit: Limit) -> AfterValidator:
    """Each number of a list held to a range."""
    text = f"{limit.low:g} to {limit.high:g} {limit.unit}"

    def check(value: float) -> float:
        if not limit.low <= value <= limit.high:
            raise said(f"{value:g} {limit.unit} is outside {text}", f"give {text}", value=value)
        return value

    return AfterValidator(check)


def _apart(values: list[float]) -> list[float]:
    """No number twice: cells are told apart by it."""
    for value in values:
        if values.count(value) > 1:
            raise said(f"{value:g} stands there twice", "give each once", value=value)
    return values


def _listed(limit: Limit, most: int, default: tuple[float, ...]) -> tuple[type, object]:
    """Type and default of a list of such numbers."""
    number = Annotated[Number, _within(limit)]
    text = f"each {limit.low:g} to {limit.high:g} {limit.unit}, none twice"
    field = Field(default_factory=lambda: list(default), min_length=1, max_length=most, description=text)
    return Annotated[list[number], AfterValidator(_apart)], field


SpeedsKmH, SPEEDS = _listed(MEMBERS["speeds_km_h"], MOST_SPEEDS, SPEEDS_KM_H)
TemperaturesC, TEMPERATURES = _listed(MEMBERS["temperatures_c"], MOST_TEMPERATURES, TEMPERATURES_C)
DistancesKm, DISTANCES = _listed(MEMBERS["distances_km"], MOST_TRIPS, TRIP_DISTANCES_KM)


def _none(value: object) -> None:
    if value is not None:
        raise said("the table goes through temperatures of its own", "leave it out: give temperatures_c", value=value)


class WeatherBesides(WeatherIn):
    """The day without its temperature, which the table goes through."""

    temperature_c: Annotated[None, BeforeValidator(_none)] = Field(None, description="not here: see temperatures_c")


class TripIn(Incoming):
    """What the short trips are like: one cruising speed, the stop at the end counted among the stops."""

    distances_km: DistancesKm = DISTANCES
    speed_km_h: Number = limited("speed_km_h", 50.0)
    stops_per_km: Number = limited("stops_per_km", 1.0)

    def kind(self) -> TripKind:
        """The same in SI."""
        distances_m = tuple(distance_km * 1000 for distance_km in self.distances_km)
        return TripKind(distances_m, self.speed_km_h * units.KM_H, self.stops_per_km / 1000)


class SpeedTableRequest(Incoming):
    """A car, the rest of the day, a start and a person's choices; which speeds, temperatures and trips."""

    vehicle: VehicleIn
    speeds_km_h: SpeedsKmH = SPEEDS
    temperatures_c: TemperaturesC = TEMPERATURES
    trip: TripIn = Field(default_factory=TripIn)
    procedure: specs.Procedure = specs.Procedure.ROAD
    weather: WeatherBesides = Field(default_factory=WeatherBesides, description="all but the temperature")
    start: StartIn = Field(default_factory=StartIn, description="before a long drive; short trips start soaked")
    cabin: CabinIn = Field(default_factory=CabinIn)
    payload_kg: Number = limited("payload_kg", 0.0)

    def quote(self) -> QuoteRequest:
        """The same conditions as a question for a quote, on one of the days. Only what was sent is set."""
        shared = self.model_fields_set & QuoteRequest.model_fields.keys()
        parts = {name: getattr(self, name) for name in shared}
        day = self.weather.model_dump(exclude_unset=True, exclude={"temperature_c"})
        parts["weather"] = WeatherIn.model_validate(day | {"temperature_c": self.temperatures_c[0]})
        leg = steady_journey(self.speeds_km_h[0] * units.KM_H).legs[0]
        parts["journey"] = {"legs": [{"distance_km": leg.distance_m / 1000, "speed_km_h": self.speeds_km_h[0]}]}
        return QuoteRequest(**parts)

    def question(self, catalogue: Catalogue) -> SpeedAsk:
        """The question in SI; raises BadInputs with every id that the catalogue does not hold."""
        return SpeedAsk(
            ask=self.quote().ask(catalogue),
            speeds_m_s=tuple(speed * units.KM_H for speed in self.speeds_km_h),
            temperatures_k=tuple(units.kelvin_from_celsius(celsius) for celsius in self.temperatures_c),
            trip=self.trip.kind(),
        )


def read_speed_table(raw: object, catalogue: Catalogue) -> SpeedTableRequest:
    """A checked question from plain data; raises BadInputs with every fault of it, unknown ids included."""
    try:
        request = SpeedTableRequest.model_validate(raw)
    except ValidationError as error:
        raise BadInputs(faults_of(error.errors()) + unknown_ids(raw, catalogue)) from None
    unknown = unknown_ids(raw, catalogue)
    if unknown:
        raise BadInputs(unknown)
    return request
