"""Packed files (ZIP) from outside, unpacked within bounds before anything else looks at them.

Scope    a copy that holds only the parts that are wanted, none of them packed, so that a reader of it cannot be made to
         swell. What an archive says of its own sizes is looked at first and believed never: bytes are counted as they
         come.
Bounds   parts, bytes of all, and for each part what its reader says; tags are counted as marks, "<", since each costs
         a reader of XML time and memory, however small the part is when packed.
Source   PKWARE's description of ZIP, methods 0 (stored) and 8 (deflated); flag bit 0 (encrypted).
"""

import io
import re
import zipfile
import zlib
from collections.abc import Callable
from dataclasses import dataclass
from itertools import pairwise

from service.errors import BadInput, BadInputs

__all__ = ["LARGEST_UNPACKED", "MOST_PARTS", "Bounds", "part_names", "unpacked"]

LARGEST_UNPACKED = 32 * 1024 * 1024  # bytes: 60 000 rows of eight columns as a spreadsheet are about 17 MB
MOST_PARTS = 500
METHODS = (zipfile.ZIP_STORED, zipfile.ZIP_DEFLATED)
ENCRYPTED = 0x1
PIECE = 64 * 1024
TOO_MUCH = "unpacked it would be too large for a table"
REMEDY = "keep the one sheet that is wanted, or save it as CSV"


def part_names(content: bytes) -> list[str]:
    """Names of the parts of an archive; raises BadInputs for what is none, or has too many."""
    with _opened(content) as archive:
        return archive.namelist()


@dataclass(frozen=True, slots=True)
class Bounds:
    """What a part may hold: bytes, marks ("<"), and marks between places where its reader lets go of what it holds."""

    size: int
    marks: int
    lets_go: re.Pattern[bytes] | None = None
    marks_held: int = 0


def unpacked(content: bytes, bounds_of: Callable[[str], Bounds | None]) -> io.BytesIO:
    """The wanted parts as an archive that holds them as they are.

    Args:
        bounds_of: of a part by its name; None: it is not wanted.

    Errors: `BadInputs` for what is no archive, is encrypted, packed by another method, too large, or damaged.
    """
    held = io.BytesIO()
    with _opened(content) as archive, zipfile.ZipFile(held, "w", zipfile.ZIP_STORED) as copy:
        parts = [(part, bounds) for part in archive.infolist() if (bounds := bounds_of(part.filename))]
        if sum(part.file_size for part, _ in parts) > LARGEST_UNPACKED:
            raise _refusal(TOO_MUCH, REMEDY)
        left = LARGEST_UNPACKED
        for part, bounds in parts:
            if part.flag_bits & ENCRYPTED or part.compress_type not in METHODS:
                raise _refusal("it is locked, or packed in an unusual way", "save it again without a password")
            data = _bytes_of(archive, part, min(left, bounds.size))
            left -= len(data)
            if data.count(b"<") > bounds.marks or _held(data, bounds) > bounds.marks_held:
                raise _refusal(TOO_MUCH, REMEDY)
            copy.writestr(part.filename, data)
    return held


def _held(data: bytes, bounds: Bounds) -> int:
    """Most marks that a reader of a part holds at once."""
    if bounds.lets_go is None:
        return 0
    places = [0, *(found.start() for found in bounds.lets_go.finditer(data)), len(data)]
    return max(data.count(b"<", first, after) for first, after in pairwise(places))


def _opened(content: bytes) -> zipfile.ZipFile:
    try:
        archive = zipfile.ZipFile(io.BytesIO(content))
    except (zipfile.BadZipFile, ValueError, NotImplementedError, OSError) as error:
        raise _damaged() from error
    if len(archive.infolist()) > MOST_PARTS:
        raise _refusal(f"it holds more than {MOST_PARTS} parts", REMEDY)
    return archive


def _bytes_of(archive: zipfile.ZipFile, part: zipfile.ZipInfo, most: int) -> bytes:
    """One part, unpacked a piece at a time: reading it at once would unpack all that is there before it is cut."""
    data = bytearray()
    try:
        with archive.open(part) as stream:
            while piece := stream.read(PIECE):
                data += piece
                if len(data) > most:
                    raise _refusal(TOO_MUCH, REMEDY)
    except (zipfile.BadZipFile, zlib.error, EOFError, ValueError, NotImplementedError, OSError, RuntimeError) as error:
        raise _damaged() from error
    return bytes(data)


def _damaged() -> BadInputs:
    return _refusal("the file is damaged or cut short", "save it again as .xlsx, or as CSV")


def _refusal(message: str, remedy: str) -> BadInputs:
    return BadInputs([BadInput("table", None, message, remedy)])
