"""Routes compared, as a comparison arrives: the contract's names, checked at once, turned into SI once.

Use      the web reads a body as `ComparisonRequest`, then `ask`; `read_comparison` does both for plain data.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from typing import Annotated

from pydantic import Field, ValidationError, model_validator

from service.catalogue import Catalogue
from service.errors import BadInput, BadInputs, UnknownEntry
from service.fleet.answer import Comparison
from service.fleet.ask import ComparisonAsk, Month, Route, months_of, moved_to
from service.intake.assumed import assumed
from service.intake.conditions import CabinIn, CircuitIn, OutfitIn, StartIn, WeatherIn
from service.intake.errors import faults_of
from service.intake.fields import Incoming, Number, Whole, YesNo, limited, said
from service.intake.journey import JourneyIn
from service.intake.quote import unknown_ids
from service.intake.vehicle import ShortText, SpecIn, VehicleIn

__all__ = [
    "MOST_MONTHS",
    "MOST_ROUTES",
    "MOST_VEHICLES",
    "ComparisonRequest",
    "MonthIn",
    "RouteIn",
    "across_faults",
    "read_comparison",
    "with_defaults",
]

MOST_VEHICLES, MOST_ROUTES, MOST_MONTHS = 20, 50, 12  # a bound on work, not on fleets
LONGEST_LIST = max(MOST_VEHICLES, MOST_ROUTES, MOST_MONTHS)


class RouteIn(Incoming):
    """A journey, how often a day, and the load besides people."""

    name: ShortText
    journey: JourneyIn
    trips_per_day: Whole = limited("trips_per_day", 1)
    payload_kg: Number = limited("payload_kg", 0.0)

    def route(self) -> Route:
        """The same in SI."""
        return Route(self.name, self.journey.journey(), self.trips_per_day, self.payload_kg)


class MonthIn(WeatherIn):
    """A named day. Without a surface it has the comparison's."""

    name: ShortText
    temperature_c: Number = limited("temperature_c")
    surface: Annotated[str, Field(max_length=80)] | None = Field(None, description="null: that of the comparison")

    def month(self, surface: str) -> Month:
        """The same in SI."""
        whole = self.model_copy(update={"surface": self.surface or surface})
        return Month(self.name, whole.weather())


class ComparisonRequest(Incoming):
    """Vehicles × routes × months. Either a place, whose twelve months are taken, or months by their weather."""

    vehicles: Annotated[list[VehicleIn], Field(min_length=1, max_length=MOST_VEHICLES)]
    routes: Annotated[list[RouteIn], Field(min_length=1, max_length=MOST_ROUTES)]
    place: Annotated[str, Field(max_length=80)] | None = Field(None, description="id from GET /api/places")
    months: Annotated[list[MonthIn], Field(min_length=1, max_length=MOST_MONTHS)] | None = None
    reserve_km: Number = limited("reserve_km", 0.0)
    start: StartIn = StartIn()
    cabin: CabinIn = CabinIn()
    outfit: OutfitIn = OutfitIn()
    circuit: CircuitIn | None = Field(None, description="the depot's; null: the usual circuit of the region")
    surface: Annotated[str, Field(max_length=80)] = Field("dry", description="what lies on the road: id of a surface")
    charge_at_depot_between_trips: YesNo = Field(False, description="true: refilled after every trip, not overnight")

    @model_validator(mode="after")
    def _one_of_two(self) -> "ComparisonRequest":
        if (self.place is None) == (self.months is None):
            which = "neither" if self.place is None else "both"
            raise said(f"it gives {which} of place and months", "give exactly one of place and months", at="months")
        return self

    def ask(self, catalogue: Catalogue) -> ComparisonAsk:
        """The comparison in SI; raises BadInputs with every unknown id and every name that stands twice."""
        faults = across_faults(self.model_dump(exclude_none=True), catalogue)
        if faults:
            raise BadInputs(faults)
        place = catalogue.places[self.place] if self.place else None
        cabin = self.cabin.cabin()
        months = tuple(month.month(self.surface) for month in self.months or ())
        return ComparisonAsk(
            vehicles=tuple(each.vehicle(catalogue.vehicles) for each in self.vehicles),
            routes=tuple(route.route() for route in self.routes),
            months=months_of(place, cabin.set_point_k, self.surface) if place else months,
            reserve_m=self.reserve_km * 1000,
            start=self.start.start(),
            cabin=cabin,
            outfit=self.outfit.outfit(catalogue.tyre_classes),
            circuit=self.circuit and self.circuit.circuit(catalogue.circuits),
            between_trips=self.charge_at_depot_between_trips,
            place=place,
        )


def read_comparison(raw: object, catalogue: Catalogue) -> ComparisonAsk:
    """The comparison in SI from plain data; raises BadInputs with every fault of it, unknown ids included."""
    try:
        request = ComparisonRequest.model_validate(raw)
    except ValidationError as error:
        raise BadInputs(faults_of(error.errors()) + across_faults(raw, catalogue)) from None
    return request.ask(catalogue)


def with_defaults(comparison: Comparison, request: ComparisonRequest) -> Comparison:
    """The answer, with the request's own defaults among its assumptions."""
    return replace(comparison, assumptions=(*assumed(request), *comparison.assumptions))


def across_faults(raw: object, catalogue: Catalogue) -> list[BadInput]:
    """Ids that the catalogue does not hold and names that stand twice. Works on data wrong in other ways, too."""
    if not isinstance(raw, Mapping):
        return []
    unknown = [moved_to(fault, old, new) for part, old, new in parts_of(raw) for fault in unknown_ids(part, catalogue)]
    twice = [fault for part in ("vehicles", "routes", "months") for fault in repeated(part, listed(raw, part))]
    return [*unknown, *unknown_place(raw.get("place"), catalogue), *twice]


def repeated(part: str, entries: Sequence[object]) -> list[BadInput]:
    """A fault for each name that stands once before: cells are told apart by names."""
    faults, seen = [], set()
    for at, entry in enumerate(entries):
        path, name = name_of(entry)
        if name in seen:
            message, remedy = f"{name!r} stands already among the {part}", "leave it out, or give another name"
            faults.append(BadInput(f"{part}[{at}].{path}", name, message, remedy))
        elif name is not None:
            seen.add(name)
    return faults


def name_of(entry: object) -> tuple[str, str | None]:
    """Where a vehicle, route or month says what it is called, and what."""
    if isinstance(entry, Mapping):
        spec = entry.get("spec")
        own = spec.get("name", SpecIn.model_fields["name"].default) if isinstance(spec, Mapping) else None
        for path, name in (("spec.name", own), ("id", entry.get("id")), ("name", entry.get("name"))):
            if isinstance(name, str):
                return path, name
    return "name", None


def parts_of(raw: Mapping) -> Iterator[tuple[dict, str, str]]:
    """Pieces of a comparison as a single question would hold them, the piece's path there, and its path here."""
    for at, vehicle in enumerate(listed(raw, "vehicles")):
        yield {"vehicle": vehicle}, "vehicle", f"vehicles[{at}]"
    for at, route in enumerate(listed(raw, "routes")):
        journey = route.get("journey") if isinstance(route, Mapping) else None
        yield {"journey": journey}, "journey", f"routes[{at}].journey"
    for at, month in enumerate(listed(raw, "months")):
        yield {"weather": month}, "weather", f"months[{at}]"
    yield {"weather": {"surface": raw.get("surface")}}, "weather.surface", "surface"
    yield {"circuit": raw.get("circuit")}, "circuit", "circuit"
    yield {"outfit": raw.get("outfit")}, "outfit", "outfit"


def listed(raw: Mapping, name: str) -> list:
    """A list of the data as far as one may be long, or nothing where it is none."""
    value = raw.get(name)
    return value[:LONGEST_LIST] if isinstance(value, list) else []


def unknown_place(place: object, catalogue: Catalogue) -> list[BadInput]:
    """The place, if the catalogue does not hold it."""
    if not isinstance(place, str) or len(place) > 80 or place in catalogue.places:
        return []
    return [UnknownEntry("place", place, catalogue.places)]
