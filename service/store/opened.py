"""An opened database: its first call brings it to the present shape, each call is a transaction of its own."""

import threading
import time
from collections.abc import Callable
from contextlib import suppress

from sqlalchemy import Connection
from sqlalchemy.engine import URL

from service.store.database import empty_side_files, migrate, open_engine, transaction
from service.store.failures import StoreAway, told_as_away

__all__ = ["Opened"]


class Opened:
    """What every kind of kept thing shares. Every method raises StoreAway where the database cannot be used."""

    def __init__(self, url: URL, clock: Callable[[], float] = time.time) -> None:
        self._engine = open_engine(url)
        self._clock = clock
        self._ready = False
        self._preparing = threading.Lock()

    def prepare(self) -> None:
        """Bring the database to the present shape, once."""
        with self._preparing:
            if not self._ready:
                with told_as_away():
                    migrate(self._engine)
                self._ready = True

    def close(self) -> None:
        """Give the connections back."""
        self._engine.dispose()

    def _run(self, work: Callable[[Connection], object], *, immediate: bool = False) -> object:
        """In one transaction of its own.

        Args:
            immediate: SQLite: be the only writer from the start, for work that reads before it writes.
        """
        self.prepare()
        with told_as_away(), transaction(self._engine, immediate=immediate) as connection:
            return work(connection)

    def _erase(self, work: Callable[[Connection], int], *, immediate: bool = False) -> int:
        """Delete rows, how many, and what the disk holds of them beside the table; as far as other readers let us."""
        gone = self._run(work, immediate=immediate)
        with suppress(StoreAway), told_as_away():
            empty_side_files(self._engine)
        return gone
