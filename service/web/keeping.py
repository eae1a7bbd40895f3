"""The store of kept sheets as the web sees it: calls that hold nobody up.

Threads  the store has a few of its own, so that a database that hangs does not hold up those who ask for quotes.
"""

import asyncio
import logging
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from typing import TypeVar

from service.store import SheetStore, StoreAway

__all__ = ["Keeping"]

logger = logging.getLogger("rangewright")
THREADS = 4
DAY_S = 86_400
PURGE_EVERY_S = 3600

Result = TypeVar("Result")


class Keeping:
    """The store as the web sees it; without one every call says that nothing is kept."""

    def __init__(self, store: SheetStore | None) -> None:
        self.store = store
        self._threads = ThreadPoolExecutor(THREADS, thread_name_prefix="store")

    async def call(self, work: Callable[..., Result], *given: object) -> Result:
        """`work(store, *given)` in a thread of the store's; raises StoreAway."""
        if self.store is None:
            raise StoreAway("this service keeps no sheets", "whoever runs it sets RANGEWRIGHT_DATABASE_FILE", DAY_S)
        return await asyncio.get_running_loop().run_in_executor(self._threads, work, self.store, *given)

    async def start(self) -> None:
        """Bring the database to its shape, if it can be had; quotes do not wait for it."""
        if self.store is not None:
            try:
                await self.call(SheetStore.prepare)
            except StoreAway as error:
                logger.warning("the saved sheets cannot be used: %s", error)

    async def purge_for_ever(self) -> None:
        """Delete what has expired, now and every hour."""
        while self.store is not None:
            try:
                await self.call(SheetStore.purge)
            except StoreAway as error:
                logger.warning("expired sheets are not deleted yet: %s", error)
            await asyncio.sleep(PURGE_EVERY_S)

    def close(self) -> None:
        """Give the connections back."""
        if self.store is not None:
            self.store.close()
