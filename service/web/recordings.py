"""A recorded drive on a page's form: the file comes by POST, the page holds it as text, nothing is kept here.

Scope    reading the form with its file; what the page tells of it. Shared by the pages that drive a recording.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field

from fastapi import Request
from fastapi.concurrency import run_in_threadpool
from starlette.datastructures import UploadFile

from service.errors import ErrorRow, ServiceError
from service.intake.form import BY_TRACK
from service.intake.track import read_track
from service.intake.track_text import LONGEST, packed
from service.reporting.form_view import Choices
from service.reporting.track_sentences import recording_lines
from service.reporting.words import Units, bound

__all__ = [
    "FILE",
    "NOTHING_READ",
    "TEXT",
    "ZONE",
    "Reading",
    "beside",
    "held",
    "is_recorded",
    "posted_with_file",
    "with_recording",
]

FILE, TEXT, ZONE = "track_file", "track", "track_zone"  # inputs: the file, what the page holds of it, its clock
ROWS_TOLD = 40
WORDS = "a recording, as below"


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


def is_recorded(given: Mapping[str, str]) -> bool:
    """True where the page drives a recording that it holds."""
    return given.get("journey") == BY_TRACK and bool(given.get(TEXT))


def held(given: Mapping[str, str]) -> tuple[tuple[str, str], ...]:
    """The recording as a hidden input, whether it is driven at the moment or not."""
    text = given.get(TEXT, "")
    return ((TEXT, text),) if text and len(text) <= LONGEST else ()


def with_recording(choices: Choices) -> Choices:
    """Ways to drive, a recording among them."""
    first, *others = choices["journey"]
    return {**choices, "journey": (first, (BY_TRACK, WORDS), *others)}


def beside(errors: Mapping[str, ErrorRow], reading: Reading) -> Mapping[str, ErrorRow]:
    """Faults of the form and of the file; that no recording is there needs no word where one could not be read."""
    if not reading.errors:
        return errors
    return {name: row for name, row in errors.items() if name != "journey"} | reading.errors


async def posted_with_file(request: Request) -> tuple[dict[str, str], Reading]:
    """Inputs by name, with the recording of the file among them; and what became of the file, if one was chosen."""
    async with request.form(max_files=1, max_fields=300, max_part_size=2 * LONGEST) as form:
        given = {name: value for name, value in form.items() if isinstance(value, str)}
        file = form.get(FILE)
        content = await file.read() if isinstance(file, UploadFile) and file.size else b""
    if not content:
        return given, NOTHING_READ
    return await run_in_threadpool(_read, given, content)


def _read(given: dict[str, str], content: bytes) -> tuple[dict[str, str], Reading]:
    units = Units.US if given.get("units") == Units.US else Units.METRIC
    try:
        found = read_track(content, given.get(ZONE, "").strip() or None)
        text = packed(found.journey.track)
    except ServiceError as error:
        rows = error.rows()
        name = ZONE if rows[0].field == "time_zone" else FILE
        first = ErrorRow(name, None, rows[0].message, rows[0].remedy)
        return given, Reading(_told(rows[1:]), {name: first})
    lines = (*recording_lines(found.recorded, units), *_told(found.errors))
    return given | {"journey": BY_TRACK, TEXT: text}, Reading(lines)


def _told(rows) -> tuple[str, ...]:
    """Faults of rows, a line each, the first of many."""
    lines = [bound(f"{row.field}: {row.message}; {row.remedy}.") for row in rows[:ROWS_TOLD]]
    if len(rows) > ROWS_TOLD:
        lines.append(f"And {len(rows) - ROWS_TOLD} more.")
    return tuple(lines)
