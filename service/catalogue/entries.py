"""The whole catalogue: read-only mappings from id to spec, and look-ups that name the field they were asked for."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import TypeVar

from service.catalogue.evidence import Check
from service.catalogue.separating_tests import SeparatingTest
from service.errors import BadTable, UnknownEntry
from service.specs import Body, Chemistry, Circuit, Cycle, Place, Surface, Tariff, Typical, TyreClass, Vehicle

__all__ = ["Catalogue"]

Entry = TypeVar("Entry")


@dataclass(frozen=True, slots=True, eq=False)
class Catalogue:
    """Everything of data/, each mapping in file order. Hashed by identity, so that it can key a cache.

    The look-ups raise `UnknownEntry`, which names the field of the request and the nearest id.
    """

    vehicles: Mapping[str, Vehicle]
    cycles: Mapping[str, Cycle]
    circuits: Mapping[str, Circuit]
    places: Mapping[str, Place]
    chemistries: Mapping[str, Chemistry]
    bodies: Mapping[str, Body]
    surfaces: Mapping[str, Surface]
    tyre_classes: Mapping[str, TyreClass]
    typical: Mapping[str, Typical]
    separating_tests: Mapping[str, SeparatingTest]
    evidence: Mapping[str, Check]
    tariffs: Mapping[str, Tariff]

    def vehicle(self, entry_id: str, field: str = "vehicle.id") -> Vehicle:
        """A car of the catalogue."""
        return _entry(self.vehicles, entry_id, field)

    def cycle(self, entry_id: str, field: str = "journey.cycle") -> Cycle:
        """A regulatory drive cycle."""
        return _entry(self.cycles, entry_id, field)

    def circuit(self, entry_id: str, field: str = "circuit.id") -> Circuit:
        """An outlet or wall unit."""
        return _entry(self.circuits, entry_id, field)

    def tariff(self, entry_id: str, field: str = "tariff.id") -> Tariff:
        """What electricity costs by the clock."""
        return _entry(self.tariffs, entry_id, field)

    def place(self, entry_id: str, field: str = "place.id") -> Place:
        """A station with monthly climate normals."""
        return _entry(self.places, entry_id, field)

    def chemistry(self, entry_id: str, field: str = "vehicle.spec.battery.chemistry") -> Chemistry:
        """A cell family."""
        return _entry(self.chemistries, entry_id, field)

    def body(self, entry_id: str, field: str = "vehicle.spec.body") -> Body:
        """A size of car."""
        return _entry(self.bodies, entry_id, field)

    def surface(self, entry_id: str, field: str = "weather.surface") -> Surface:
        """What lies on the road."""
        return _entry(self.surfaces, entry_id, field)

    def typical_entry(self, name: str) -> Typical:
        """A default by name. Only code asks for one, so a missing one is a fault of the table: `BadTable`."""
        if name not in self.typical:
            raise BadTable("typical.csv", f"there is no row named {name!r}")
        return self.typical[name]


def _entry(entries: Mapping[str, Entry], entry_id: str, field: str) -> Entry:
    if entry_id not in entries:
        raise UnknownEntry(field, entry_id, entries)
    return entries[entry_id]
