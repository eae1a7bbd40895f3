"""Where answers are worked out: as many threads as cores, a line that does not grow, and an end to waiting.

Scope    the physics releases the interpreter's lock, so threads use every core while the event loop goes on serving
         forms, files and refusals. A body is read before its question comes here: who sends slowly holds no core.
Full     a question that finds the line full, or waits and runs for longer than the limit, is told to come again. One
         that waits is taken out of the line; one that runs keeps its thread until it ends, some seconds, and then
         leaves its answer for whoever asks again (`kept_answers`). Work that may take minutes calls `go_on` on its
         way, and ends there once nobody waits for it.
Source   RFC 9110: 503 and Retry-After. Sizes and times: own choice.
"""

import asyncio
import math
import os
import threading
import time
from collections.abc import Callable
from concurrent.futures import Future, ThreadPoolExecutor
from contextvars import ContextVar, copy_context
from typing import TypeVar

from service.errors import ErrorRow, ServiceError

__all__ = ["Busy", "Unwanted", "Workroom", "cores", "go_on"]

LONGEST_ADVICE_S = 60
FIRST_GUESS_S = 0.1  # of one answer, until some have been timed; a quote takes 0.02 to 0.1 s
SHARE_OF_THE_NEW = 0.1  # in the running mean of an answer's time

_left: ContextVar[threading.Event] = ContextVar("left")  # set once whoever asked does not wait any more
Result = TypeVar("Result")


class Busy(ServiceError):
    """The service cannot take the question now."""

    def __init__(self, message: str, remedy: str, retry_after_s: int) -> None:
        super().__init__(f"{message}; {remedy}")
        self.message, self.remedy, self.retry_after_s = message, remedy, retry_after_s

    def rows(self) -> list[ErrorRow]:
        """Just this one."""
        return [ErrorRow("request", None, self.message, self.remedy)]


class Unwanted(Exception):
    """Nobody waits for the work at hand any more."""


def go_on(*_progress: object) -> None:
    """To be called by long work between its parts; raises Unwanted where it is for nothing."""
    left = _left.get(None)
    if left is not None and left.is_set():
        raise Unwanted


class Workroom:
    """Threads and their line. `waiting_room` is how many may stand in line, `longest_s` waiting and work together."""

    def __init__(self, threads: int, waiting_room: int, longest_s: float) -> None:
        self.threads, self.waiting_room, self.longest_s = threads, waiting_room, longest_s
        self._pool: ThreadPoolExecutor | None = None
        self._book = threading.Lock()
        self._inside = 0
        self._mean_s = FIRST_GUESS_S

    async def run(self, work: Callable[..., Result], *given: object) -> Result:
        """`work(*given)` in a thread. Raises Busy where the line is full or the time is over."""
        left = threading.Event()
        future = self._enter(left, work, given)
        try:
            async with asyncio.timeout(self.longest_s):
                return await asyncio.wrap_future(future)
        except TimeoutError:
            if not future.cancelled() and future.done():  # the work's own
                raise
            message = f"the answer takes longer than {self.longest_s:g} s"
            remedy = "ask again later, or for less at once; POST /api/comparison-jobs has time for long comparisons"
            raise Busy(message, remedy, self._advice_s()) from None
        finally:
            left.set()

    @property
    def inside(self) -> int:
        """How many run and wait."""
        return self._inside

    def close(self) -> None:
        """Take out who waits, and stay until who runs has ended. A later question opens the room again."""
        with self._book:
            pool, self._pool = self._pool, None
        if pool is not None:
            pool.shutdown(cancel_futures=True)

    def _enter(self, left: threading.Event, work: Callable[..., Result], given: tuple) -> "Future[Result]":
        context = copy_context()
        context.run(_left.set, left)
        with self._book:
            if self._inside >= self.threads + self.waiting_room:
                many = self.waiting_room
                message = f"every core is at work, and {many} question{'s wait' if many != 1 else ' waits'} already"
                raise Busy(message, "try again in a few seconds", self._advice_s())
            if self._pool is None:
                self._pool = ThreadPoolExecutor(self.threads, thread_name_prefix="work")
            self._inside += 1
            future = self._pool.submit(context.run, self._timed, work, given)
        future.add_done_callback(self._leave)
        return future

    def _timed(self, work: Callable[..., Result], given: tuple) -> Result:
        began_s = time.monotonic()
        try:
            return work(*given)
        finally:
            taken_s = time.monotonic() - began_s
            with self._book:
                self._mean_s += SHARE_OF_THE_NEW * (taken_s - self._mean_s)

    def _leave(self, _future: Future) -> None:
        with self._book:
            self._inside -= 1

    def _advice_s(self) -> int:
        """When those who are inside now will be done, by what an answer took lately."""
        return max(1, min(LONGEST_ADVICE_S, math.ceil(self._inside * self._mean_s / self.threads)))


def cores() -> int:
    """Cores that this process may use."""
    return len(os.sched_getaffinity(0)) if hasattr(os, "sched_getaffinity") else os.cpu_count() or 1
