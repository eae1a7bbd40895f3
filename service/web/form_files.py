"""A file that comes with a page's form by POST: what is read of it goes back into the form, nothing is kept here."""

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field

from fastapi import Request
from starlette.datastructures import UploadFile

from service.errors import ErrorRow
from service.reporting.words import bound
from service.web.work_routes import at_work

__all__ = ["NOTHING_READ", "Reading", "posted_with_file", "told_rows"]

ROWS_TOLD = 40


@dataclass(frozen=True, slots=True)
class Reading:
    """What came of a file: what was read and which rows were bad, or the fault beside its input."""

    lines: tuple[str, ...] = ()
    errors: Mapping[str, ErrorRow] = field(default_factory=dict)

    @property
    def read(self) -> tuple[str, ...]:
        """The lines of a file that could be read."""
        return () if self.errors else self.lines


NOTHING_READ = Reading()
Read = Callable[[dict[str, str], bytes], tuple[dict[str, str], Reading]]


async def posted_with_file(request: Request, name: str, longest: int, read: Read) -> tuple[dict[str, str], Reading]:
    """Inputs by name as `read` completes them from the file of input `name`; and what became of it, if one was chosen.

    Args:
        longest: characters of any other input.
    """
    async with request.form(max_files=1, max_fields=300, max_part_size=longest) as form:
        given = {name: value for name, value in form.items() if isinstance(value, str)}
        file = form.get(name)
        content = await file.read() if isinstance(file, UploadFile) and file.size else b""
    if not content:
        return given, NOTHING_READ
    return await at_work(read, given, content)


def told_rows(rows: Iterable[ErrorRow]) -> tuple[str, ...]:
    """Faults of rows, a line each, the first of many."""
    rows = tuple(rows)
    lines = [bound(f"{row.field}: {row.message}; {row.remedy}.") for row in rows[:ROWS_TOLD]]
    if len(rows) > ROWS_TOLD:
        lines.append(f"And {len(rows) - ROWS_TOLD} more.")
    return tuple(lines)
