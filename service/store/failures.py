"""What becomes of a database that cannot be used: one error, with a reason that people can act upon.

Scope    the reason is told, never the driver's words: those hold paths, addresses and statements.
Source   SQLite result codes (sqlite.org/rescode.html); PostgreSQL error classes (its manual, appendix A).
"""

import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager

from sqlalchemy import exc

from service.errors import ErrorRow, ServiceError

__all__ = ["StoreAway", "told_as_away"]

SOON_S, LATER_S = 5, 60  # when to try again: what passes by itself; what somebody has to mend
ASK = "quotes go on working; tell whoever runs the service"
FULL = ("the disk that holds the saved sheets is full", f"free some space there, then save again; {ASK}", LATER_S)
READ_ONLY = ("the saved sheets can be read but not written", f"make their disk or file writable; {ASK}", LATER_S)
CLOSED = (
    "the file of the saved sheets cannot be opened",
    f"check that its folder can be written; {ASK}",
    LATER_S,
)
BROKEN = ("the file of the saved sheets is damaged", f"put a backup in its place, or move it away; {ASK}", LATER_S)
DISK = ("the disk that holds the saved sheets fails or is full", f"check the disk, then save again; {ASK}", LATER_S)
BUSY = ("the saved sheets are busy", "try again in a few seconds; quotes go on working", SOON_S)
AWAY = ("the database of the saved sheets does not answer", f"try again in a few seconds; {ASK}", SOON_S)

SQLITE = {  # primary result code → reason
    sqlite3.SQLITE_FULL: FULL,
    sqlite3.SQLITE_READONLY: READ_ONLY,
    sqlite3.SQLITE_CANTOPEN: CLOSED,
    sqlite3.SQLITE_PERM: CLOSED,
    sqlite3.SQLITE_AUTH: CLOSED,
    sqlite3.SQLITE_CORRUPT: BROKEN,
    sqlite3.SQLITE_NOTADB: BROKEN,
    sqlite3.SQLITE_IOERR: DISK,
    sqlite3.SQLITE_BUSY: BUSY,
    sqlite3.SQLITE_LOCKED: BUSY,
}
POSTGRES = {"53100": FULL, "25006": READ_ONLY, "XX001": BROKEN, "XX002": BROKEN}
NO_FAULT_OF_THE_STORE = (exc.IntegrityError, exc.DataError, exc.ProgrammingError)


class StoreAway(ServiceError):
    """The saved sheets cannot be read or written now; everything else works."""

    def __init__(self, message: str, remedy: str, retry_after_s: int) -> None:
        super().__init__(f"{message}; {remedy}")
        self.message, self.remedy, self.retry_after_s = message, remedy, retry_after_s

    def rows(self) -> list[ErrorRow]:
        """Just this one."""
        return [ErrorRow("store", None, self.message, self.remedy)]


@contextmanager
def told_as_away() -> Iterator[None]:
    """Turn what a database or its disk says into `StoreAway`. Mistakes of our own statements pass unchanged."""
    try:
        yield
    except NO_FAULT_OF_THE_STORE:
        raise
    except exc.DBAPIError as error:
        raise StoreAway(*_reason(error.orig)) from error
    except exc.TimeoutError as error:  # no free connection
        raise StoreAway(*BUSY) from error
    except sqlite3.Error as error:
        raise StoreAway(*_reason(error)) from error
    except OSError as error:
        raise StoreAway(*CLOSED) from error


def _reason(error: BaseException | None) -> tuple[str, str, int]:
    """By the driver's code, not by its words."""
    code = getattr(error, "sqlite_errorcode", None)
    if code is not None:
        return SQLITE.get(code & 0xFF, DISK)  # the low byte is the primary code
    return POSTGRES.get(getattr(error, "sqlstate", None) or "", AWAY)
