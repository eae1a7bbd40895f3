"""Rows of circuits.csv as specs."""

from enum import StrEnum
from pathlib import Path

from service.catalogue.tables import Row, read_table
from service.specs import Circuit, LoadRule

__all__ = ["REGIONS", "read_circuits"]

REGIONS = ("north_america", "united_kingdom", "continental_europe")


class Fitting(StrEnum):
    """What hangs on the wall."""

    SOCKET = "socket"
    WALL_UNIT = "wall_unit"


def read_circuits(folder: Path) -> dict[str, Circuit]:
    """Outlets and wall units by id, in file order.

    Raises: BadTable for an unknown region or implausible volts, amps, phases.
    """
    return {row.text("id"): _circuit(row) for row in read_table(folder, "circuits").rows()}


def _circuit(row: Row) -> Circuit:
    return Circuit(
        id=row.text("id"),
        name=row.text("name"),
        region=_region(row),
        volts=row.number_in("volts", 100, 277),  # lowest and highest mains phase voltage, IEC 60038 and North America
        continuous_a=row.number_in("continuous_a", 6, 80),  # span of the control pilot, SAE J1772
        phases=row.count_in("phases", 1, 3),
        rating_a=row.number_in("rating_a", 10, 100),  # household fuse to the breaker behind an 80 A station
        rule=row.choice("rule", LoadRule),
        wall_unit=row.choice("fitting", Fitting) is Fitting.WALL_UNIT,
        usual=row.yes("usual"),
        source=row.text("source"),
    )


def _region(row: Row) -> str:
    region = row.text("region")
    if region not in REGIONS:
        raise row.fault("region", f"{region!r} is none of {', '.join(REGIONS)}")
    return region
