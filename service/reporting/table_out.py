"""A table that leaves, whatever it is written as. Units stand in the names of its columns."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from service.reporting.csv_out import csv_text
from service.reporting.workbook_out import workbook_bytes

__all__ = ["Table"]


@dataclass(frozen=True, slots=True)
class Table:
    """Columns and rows under a file's name without its ending; what a row lacks or leaves None is empty."""

    name: str
    columns: Sequence[str]
    rows: Iterable[Mapping[str, object]]

    def csv(self) -> bytes:
        """As text for any program."""
        return csv_text(self.columns, self.rows).encode()

    def workbook(self) -> bytes:
        """As .xlsx."""
        return workbook_bytes(self.name, self.columns, self.rows)
