"""data/ → `Catalogue`, once, at start. Nothing is kept here: the application holds what it loaded."""

from pathlib import Path
from types import MappingProxyType

from service.catalogue.bodies import read_bodies, read_surfaces, read_typical, read_tyre_classes
from service.catalogue.chemistries import read_chemistries
from service.catalogue.circuits import read_circuits
from service.catalogue.cycles import read_cycles
from service.catalogue.engines import with_engines
from service.catalogue.entries import Catalogue
from service.catalogue.evidence import read_evidence
from service.catalogue.folder import data_folder
from service.catalogue.places import read_places
from service.catalogue.power_splits import with_power_splits
from service.catalogue.separating_tests import read_separating_tests
from service.catalogue.tariffs import read_tariffs
from service.catalogue.vehicles import read_vehicles

__all__ = ["load_catalogue"]


def load_catalogue(folder: Path | None = None) -> Catalogue:
    """Read and check every table.

    Args:
        folder: where the tables lie; the installed or checked-out data/ if not given.
    Raises: BadTable at the first fault, naming file, row and column.
    """
    folder = data_folder() if folder is None else folder
    chemistries, bodies = read_chemistries(folder), read_bodies(folder)
    vehicles = with_engines(folder, with_power_splits(folder, read_vehicles(folder, chemistries, bodies)))
    return Catalogue(
        vehicles=MappingProxyType(vehicles),
        cycles=MappingProxyType(read_cycles(folder)),
        circuits=MappingProxyType(read_circuits(folder)),
        places=MappingProxyType(read_places(folder)),
        chemistries=MappingProxyType(chemistries),
        bodies=MappingProxyType(bodies),
        surfaces=MappingProxyType(read_surfaces(folder)),
        tyre_classes=MappingProxyType(read_tyre_classes(folder)),
        typical=MappingProxyType(read_typical(folder)),
        separating_tests=MappingProxyType(read_separating_tests(folder)),
        evidence=MappingProxyType(read_evidence(folder)),
        tariffs=MappingProxyType(read_tariffs(folder)),
    )
