"""`python -m tests.evidence`: run every comparison and write data/evidence.csv. A minute or two."""

import csv
import sys

import tests.conftest  # noqa: F401  its cache of compiled physics
from service.catalogue import data_folder
from service.catalogue.evidence import Check
from tests.evidence.comparisons import COMPARISONS, numbered

__all__ = ["main"]

COLUMNS = (
    "id", "subject", "condition", "source", "mark", "published", "published_low", "published_high", "model",
    "model_low", "model_high", "unit", "tolerance", "agrees", "remark",
)  # fmt: skip


def cells_of(row: Check) -> list[str]:
    """A row as text."""
    return [cell_of(getattr(row, column)) for column in COLUMNS]


def cell_of(value: object) -> str:
    """A cell as text: blank for unknown, yes or no, numbers to ten digits."""
    if value is None:
        return ""
    if isinstance(value, bool):
        return "yes" if value else "no"
    return f"{value:.10g}" if isinstance(value, float) else str(value)


def main() -> None:
    """Run, write, and say what does not agree."""
    rows = numbered(row for comparison in COMPARISONS for row in comparison.rows())
    with (data_folder() / "evidence.csv").open("w", encoding="utf-8", newline="") as file:
        writer = csv.writer(file, lineterminator="\n")
        writer.writerows([COLUMNS, *(cells_of(row) for row in rows)])
    outside = [row for row in rows if not row.agrees]
    for row in outside:
        sys.stdout.write(f"outside: {row.subject}: {row.condition}: {row.model:g} {row.unit}\n")
    sys.stdout.write(f"{len(rows)} comparisons, {len(outside)} outside\n")


if __name__ == "__main__":
    main()
