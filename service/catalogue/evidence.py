"""Rows of evidence.csv: what the model says beside what others published, measured or worked out.

The table is written by `python -m tests.evidence`; nobody types it. A row agrees where the model's value or span meets
the published value or span, widened by the tolerance; misses stay in the table.
"""

from dataclasses import dataclass
from enum import StrEnum
from math import inf
from pathlib import Path

from service.catalogue.tables import Row, read_table

__all__ = ["Check", "Mark", "read_evidence"]


class Mark(StrEnum):
    """What a published figure rests on."""

    PUBLISHED = "published"
    COMPUTED = "computed"  # by hand or with an independent library, from the formula named
    PRACTICE = "common practice"
    MEMORY = "from memory"


@dataclass(frozen=True, slots=True)
class Check:
    """One comparison. Numbers in `unit`; a published span has at least one end, a single value none."""

    id: str
    subject: str
    condition: str
    source: str
    mark: Mark
    published: float | None
    published_low: float | None
    published_high: float | None
    model: float
    model_low: float | None  # tenth per cent of a population
    model_high: float | None  # ninetieth
    unit: str
    tolerance: float
    remark: str | None  # where both sides differ in what they count

    @property
    def span(self) -> tuple[float, float]:
        """What the published side allows, an open end infinite."""
        if self.published is not None:
            return self.published - self.tolerance, self.published + self.tolerance
        low = -inf if self.published_low is None else self.published_low
        high = inf if self.published_high is None else self.published_high
        return low - self.tolerance, high + self.tolerance

    @property
    def agrees(self) -> bool:
        """Whether both sides meet."""
        low, high = self.span
        ours_low = self.model if self.model_low is None else self.model_low
        ours_high = self.model if self.model_high is None else self.model_high
        return ours_low <= high and ours_high >= low


def read_evidence(folder: Path) -> dict[str, Check]:
    """Comparisons by id, in file order.

    Raises: BadTable for a row without anything published, half a span of the model, or a stated agreement that its own
        numbers contradict.
    """
    return {row.text("id"): _check(row) for row in read_table(folder, "evidence").rows()}


def _check(row: Row) -> Check:
    check = Check(
        id=row.text("id"),
        subject=row.text("subject"),
        condition=row.text("condition"),
        source=row.text("source"),
        mark=row.choice("mark", Mark),
        published=row.optional_number_in("published", -1e9, 1e9),
        published_low=row.optional_number_in("published_low", -1e9, 1e9),
        published_high=row.optional_number_in("published_high", -1e9, 1e9),
        model=row.number_in("model", -1e9, 1e9),
        model_low=row.optional_number_in("model_low", -1e9, 1e9),
        model_high=row.optional_number_in("model_high", -1e9, 1e9),
        unit=row.text("unit"),
        tolerance=row.number_in("tolerance", 0, 1e9),
        remark=row.optional_text("remark"),
    )
    if check.published is None and check.published_low is None and check.published_high is None:
        raise row.fault("published", "there is neither a value nor an end of a span")
    if (check.model_low is None) != (check.model_high is None):
        raise row.fault("model_low", "a span of the model has both ends or none")
    if row.text("agrees") != ("yes" if check.agrees else "no"):
        raise row.fault("agrees", "it contradicts the numbers of its row")
    return check
