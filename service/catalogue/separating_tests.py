"""Rows of separating_tests.csv: explanations of a short distance, and the quickest test that tells each one."""

from dataclasses import dataclass
from enum import StrEnum
from pathlib import Path

from service.catalogue.tables import Row, read_table

__all__ = ["Family", "Mark", "SeparatingTest", "read_separating_tests"]


class Family(StrEnum):
    """How a cause shows: what its energy depends on."""

    CONSTANT_FORCE = "constant_force"
    SPEED_SQUARED = "speed_squared"
    STANDING_LOAD = "standing_load"
    REGENERATION = "regeneration"
    CAPACITY = "capacity"


class Mark(StrEnum):
    """What a limit rests on."""

    STANDARD = "standard"
    PRACTICE = "common practice"
    MAKER = "maker's figure"
    MEMORY = "from memory"


@dataclass(frozen=True, slots=True)
class SeparatingTest:
    """One cause: its sizes in the unit of its row, the test, and the limit with its source."""

    id: str
    name: str
    family: Family
    typical_size: float
    plausible_size: float
    largest_size: float
    unit: str
    wording: str  # {} stands for the size
    size_source: str
    test: str
    limit: str
    limit_source: str
    limit_mark: Mark


def read_separating_tests(folder: Path) -> dict[str, SeparatingTest]:
    """Causes by id, in file order. Raises: BadTable for a size that falls from one column to the next."""
    return {row.text("id"): _entry(row) for row in read_table(folder, "separating_tests").rows()}


def _entry(row: Row) -> SeparatingTest:
    typical = row.number_in("typical_size", 0.1, 20_000)  # per cent, newtons or watts: common sense, not law
    plausible = row.number_in("plausible_size", typical, 20_000)
    return SeparatingTest(
        id=row.text("id"),
        name=row.text("name"),
        family=row.choice("family", Family),
        typical_size=typical,
        plausible_size=plausible,
        largest_size=row.number_in("largest_size", plausible, 20_000),
        unit=row.text("unit"),
        wording=_wording(row),
        size_source=row.text("size_source"),
        test=row.text("test"),
        limit=row.text("limit"),
        limit_source=row.text("limit_source"),
        limit_mark=row.choice("limit_mark", Mark),
    )


def _wording(row: Row) -> str:
    wording = row.text("wording")
    if wording.count("{}") != 1:
        raise row.fault("wording", "it does not hold {} once")
    return wording
