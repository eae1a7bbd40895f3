"""One question for a quote as it arrives: the contract's names, checked at once, turned into SI once.

Use      web and command line read a body with `read_ask`; a `QuoteRequest` that is already valid knows `ask`.
"""

from collections.abc import Callable, Iterator, Mapping
from enum import StrEnum

from pydantic import Field, ValidationError

from service import specs
from service.catalogue import Catalogue
from service.errors import BadInputs, UnknownEntry
from service.intake.conditions import CabinIn, CircuitIn, OutfitIn, StartIn, WeatherIn
from service.intake.engine import EngineUseIn
from service.intake.errors import Scale, faults_of, unit_of_path
from service.intake.fields import Incoming, Number, YesNo, limited
from service.intake.journey import JourneyIn
from service.intake.prices import PricesIn
from service.intake.vehicle import VehicleIn

__all__ = ["QuoteRequest", "ReaderUnits", "read_ask", "read_request", "unknown_ids"]

ID_FIELDS = {  # where an id stands, and which part of the catalogue must hold it
    ("vehicle", "id"): "vehicles",
    ("vehicle", "spec", "battery", "chemistry"): "chemistries",
    ("vehicle", "spec", "body"): "bodies",
    ("journey", "cycle"): "cycles",
    ("weather", "surface"): "surfaces",
    ("circuit", "id"): "circuits",
    ("outfit", "tyres", "label_class"): "tyre_classes",
    ("tariff", "id"): "tariffs",
}


class ReaderUnits(StrEnum):
    """In which units sentences speak."""

    METRIC = "metric"
    US = "us"


class QuoteRequest(Incoming):
    """A car, a journey, a day, a starting state and a person's choices."""

    vehicle: VehicleIn
    journey: JourneyIn
    procedure: specs.Procedure = specs.Procedure.ROAD
    weather: WeatherIn = WeatherIn()
    start: StartIn = StartIn()
    cabin: CabinIn = CabinIn()
    circuit: CircuitIn | None = Field(None, description="null: the usual circuit of the region is assumed and listed")
    payload_kg: Number = limited("payload_kg", 0.0)
    outfit: OutfitIn = OutfitIn()
    engine_use: EngineUseIn = EngineUseIn()
    prices: PricesIn = Field(PricesIn(), description="for the sums of one journey; null: not told")
    band: YesNo = Field(True, description="false: only the central value, p10 and p90 are null")
    units: ReaderUnits = Field(
        ReaderUnits.METRIC, description="of the closing sentence, and of a kept sheet's page; figures keep their own"
    )

    def ask(self, catalogue: Catalogue) -> specs.Ask:
        """The question in SI; raises BadInputs with every id that the catalogue does not hold."""
        unknown = unknown_ids(self.model_dump(exclude_none=True), catalogue)
        if unknown:
            raise BadInputs(unknown)
        return specs.Ask(
            vehicle=self.vehicle.vehicle(catalogue.vehicles),
            journey=self.journey.journey(),
            weather=self.weather.weather(),
            procedure=self.procedure,
            start=self.start.start(),
            cabin=self.cabin.cabin(),
            circuit=self.circuit and self.circuit.circuit(catalogue.circuits),
            payload_kg=self.payload_kg,
            outfit=self.outfit.outfit(catalogue.tyre_classes),
            engine_use=self.engine_use.engine_use(),
            prices=self.prices.prices(),
            band=self.band,
        )


def read_request(raw: object, catalogue: Catalogue, scale_of: Callable[[str], Scale] = unit_of_path) -> QuoteRequest:
    """A checked question from plain data; raises BadInputs with every fault of it, unknown ids included."""
    try:
        request = QuoteRequest.model_validate(raw)
    except ValidationError as error:
        raise BadInputs(faults_of(error.errors(), scale_of) + unknown_ids(raw, catalogue)) from None
    unknown = unknown_ids(raw, catalogue)
    if unknown:
        raise BadInputs(unknown)
    return request


def read_ask(raw: object, catalogue: Catalogue) -> specs.Ask:
    """The question in SI from plain data (a JSON body, a form, a file); raises BadInputs."""
    return read_request(raw, catalogue).ask(catalogue)


def unknown_ids(raw: object, catalogue: Catalogue) -> list[UnknownEntry]:
    """Ids in the data that the catalogue does not hold. Works on data that is wrong in other ways, too."""
    return list(_unknown(raw, catalogue))


def _unknown(raw: object, catalogue: Catalogue) -> Iterator[UnknownEntry]:
    for path, part in ID_FIELDS.items():
        value = _at(raw, path)
        known = getattr(catalogue, part)
        if isinstance(value, str) and len(value) <= 80 and value not in known:
            yield UnknownEntry(".".join(path), value, known)


def _at(raw: object, path: tuple[str, ...]) -> object:
    """What stands at a path of keys, or None."""
    for key in path:
        if not isinstance(raw, Mapping):
            return None
        raw = raw.get(key)
    return raw
