"""A recorded drive on a page's form: the file comes by POST, the page holds it as text, nothing is kept here.

Scope    reading the form with its file; what the page tells of it. Shared by the pages that drive a recording.
"""

from collections.abc import Mapping

from fastapi import Request

from service.errors import ErrorRow, ServiceError
from service.intake.form import BY_TRACK
from service.intake.track import read_track
from service.intake.track_text import LONGEST, packed
from service.reporting.form_view import Choices
from service.reporting.track_sentences import recording_lines
from service.reporting.words import Units
from service.web.form_files import Reading, posted_with_file, told_rows

__all__ = [
    "FILE",
    "TEXT",
    "ZONE",
    "beside",
    "held",
    "is_recorded",
    "posted_with_recording",
    "with_recording",
]

FILE, TEXT, ZONE = "track_file", "track", "track_zone"  # inputs: the file, what the page holds of it, its clock
WORDS = "a recording, as below"


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


async def posted_with_recording(request: Request) -> tuple[dict[str, str], Reading]:
    """Inputs by name, with the recording of the file among them; and what became of the file, if one was chosen."""
    return await posted_with_file(request, FILE, 2 * LONGEST, _read)


def _read(given: dict[str, str], content: bytes) -> tuple[dict[str, str], Reading]:
    units = Units.US if given.get("units") == Units.US else Units.METRIC
    try:
        found = read_track(content, given.get(ZONE, "").strip() or None)
        text = packed(found.journey.track)
    except ServiceError as error:
        rows = error.rows()
        name = ZONE if rows[0].field == "time_zone" else FILE
        first = ErrorRow(name, None, rows[0].message, rows[0].remedy)
        return given, Reading(told_rows(rows[1:]), {name: first})
    lines = (*recording_lines(found.recorded, units), *told_rows(found.errors))
    return given | {"journey": BY_TRACK, TEXT: text}, Reading(lines)
