"""Packed files (ZIP) from outside, unpacked within bounds before anything else looks at them.

Scope    a copy that holds only the parts that are wanted, none of them packed, so that a reader of it cannot be made to
         swell. What an archive says of its own sizes is looked at first and believed never: bytes are counted as they
         come.
Bounds   parts, bytes of all and marks ("<") of all: own choice, room for four times the longest table we read.
Source   PKWARE's description of ZIP, methods 0 (stored) and 8 (deflated); flag bit 0 (encrypted).
"""

import io
import zipfile
import zlib
from collections.abc import Callable

from service.errors import BadInput, BadInputs

__all__ = ["LARGEST_UNPACKED", "MOST_PARTS", "part_names", "unpacked"]

LARGEST_UNPACKED = 32 * 1024 * 1024  # bytes: 60 000 rows of eight columns as a spreadsheet are about 17 MB
MOST_PARTS = 500
MOST_MARKS = 3_000_000  # tags: each costs memory in any reader of XML; the same table has two million
METHODS = (zipfile.ZIP_STORED, zipfile.ZIP_DEFLATED)
ENCRYPTED = 0x1
PIECE = 64 * 1024
TOO_MUCH = "unpacked it would be too large for a table"
REMEDY = "keep the one sheet that is wanted, or save it as CSV"


def part_names(content: bytes) -> list[str]:
    """Names of the parts of an archive; raises BadInputs for what is none, or has too many."""
    with _opened(content) as archive:
        return archive.namelist()


def unpacked(content: bytes, wanted: Callable[[str], bool]) -> io.BytesIO:
    """The wanted parts as an archive that holds them as they are.

    Errors: `BadInputs` for what is no archive, is encrypted, packed by another method, too large, or damaged.
    """
    held = io.BytesIO()
    with _opened(content) as archive, zipfile.ZipFile(held, "w", zipfile.ZIP_STORED) as copy:
        parts = [part for part in archive.infolist() if wanted(part.filename)]
        if sum(part.file_size for part in parts) > LARGEST_UNPACKED:
            raise _refusal(TOO_MUCH, REMEDY)
        left, marks = LARGEST_UNPACKED, MOST_MARKS
        for part in parts:
            if part.flag_bits & ENCRYPTED or part.compress_type not in METHODS:
                raise _refusal("it is locked, or packed in an unusual way", "save it again without a password")
            data = _bytes_of(archive, part, left)
            left, marks = left - len(data), marks - data.count(b"<")
            if marks < 0:
                raise _refusal(TOO_MUCH, REMEDY)
            copy.writestr(part.filename, data)
    return held


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
