"""What a failed job says: the rows that its worker kept, in the one shape."""

import json

from service.errors import BadInput, BadInputs, ErrorRow
from service.intake.errors import plain_row
from service.store import Job

__all__ = ["fault_of", "rows_of"]


def rows_of(job: Job) -> list[dict[str, object]]:
    """As JSON; empty unless it failed."""
    return [plain_row(row) for row in _rows(job)]


def fault_of(job: Job) -> BadInputs:
    """As an error."""
    return BadInputs(BadInput(row.field, row.value, row.message, row.remedy) for row in _rows(job))


def _rows(job: Job) -> list[ErrorRow]:
    return [ErrorRow(**row) for row in json.loads(job.errors or "[]")]
