"""The worker of a process: takes jobs from the line one after the other, their chunks several at a time.

Courtesy  its threads run at a lower priority than those that answer questions, where the system knows such (Linux).
Death     what is not kept yet is lost with the process, and nothing else: the lease ends, and any worker goes on with
          the chunks that are left. An orderly stop finishes the chunks at hand and gives the job back at once.
Away      while the database does not answer the worker tries again; a job whose lease ran out meanwhile is dropped.
"""

import json
import logging
import os
import secrets
import socket
import sys
import threading
import time
from collections.abc import Callable, Mapping
from concurrent.futures import ThreadPoolExecutor
from contextlib import suppress
from dataclasses import asdict

from service.errors import ErrorRow, ServiceError
from service.jobs.task import Task
from service.store import Claim, JobStore, StoreAway

__all__ = ["LEASE_S", "Runner"]

logger = logging.getLogger("rangewright")
LEASE_S = 10.0  # a dead worker's job is taken over after this
BEATS = 4  # renewals in that time
POLL_S = 1.0  # a job that another process put in the line waits for this at most
PURGE_EVERY_S = 3600.0
NICE = 10  # of 19
UNKNOWN = ErrorRow("job", None, "the service failed to answer", "try again; tell whoever runs the service")


class Runner:
    """One process's worker; `kinds` turn a kept question into its task."""

    def __init__(
        self,
        store: JobStore,
        kinds: Mapping[str, Callable[[str], Task]],
        model_version: str,
        threads: int = 1,
        lease_s: float = LEASE_S,
    ) -> None:
        self.owner = f"{socket.gethostname()[:40]}-{os.getpid()}-{secrets.token_hex(8)}"
        self._store, self._kinds, self._version = store, kinds, model_version
        self._threads, self._lease_s = threads, lease_s
        self._stopping, self._news = threading.Event(), threading.Event()
        self._thread: threading.Thread | None = None
        self._purged_at_s = -PURGE_EVERY_S

    def start(self) -> None:
        """Begin to work."""
        self._stopping.clear()
        self._thread = threading.Thread(target=self._work_for_ever, name="long-work", daemon=True)
        self._thread.start()

    def stop(self) -> None:
        """Finish the chunks at hand, give the job back, and end."""
        self._stopping.set()
        self._news.set()
        if self._thread is not None:
            self._thread.join()
            self._thread = None

    def wake(self) -> None:
        """There is something in the line."""
        self._news.set()

    def work_once(self) -> bool:
        """Take a job and work on it until it is over; False if there is none."""
        claim = self._store.claim(self.owner, self._lease_s, self._version)
        if claim is None:
            return False
        self._work(claim)
        return True

    def _work_for_ever(self) -> None:
        _step_back()
        away = False
        while not self._stopping.is_set():
            worked = False
            try:
                self._purge_at_times()
                worked = self.work_once()
                away = False
            except StoreAway as error:
                if not away:  # told once, not every second
                    logger.warning("long work waits: %s", error)
                away = True
            except Exception:
                logger.exception("long work failed outside of its job")
            if not worked:
                self._news.wait(POLL_S)
                self._news.clear()

    def _purge_at_times(self) -> None:
        if time.monotonic() - self._purged_at_s >= PURGE_EVERY_S:
            self._store.purge()
            self._purged_at_s = time.monotonic()

    def _work(self, claim: Claim) -> None:
        lost, over = threading.Event(), threading.Event()
        beating = threading.Thread(target=self._beat, args=(claim, lost, over), daemon=True)
        beating.start()
        try:
            self._solve(claim, lost)
        except StoreAway as error:  # the lease runs out, or the database comes back and it is claimed again
            logger.warning("a long comparison is interrupted: %s", error)
            with suppress(StoreAway):
                self._store.release(claim.id, self.owner)
        except ServiceError as error:
            self._store.fail(claim.id, self.owner, _text(error.rows()))
        except Exception:
            logger.exception("a long comparison failed")
            self._store.fail(claim.id, self.owner, _text([UNKNOWN]))
        finally:
            over.set()
            beating.join()

    def _solve(self, claim: Claim, lost: threading.Event) -> None:
        task = self._kinds[claim.kind](claim.question)
        results = self._store.chunks(claim.id)

        def solve(number: int) -> None:
            if lost.is_set() or self._stopping.is_set():
                return
            try:
                result = task.solve(number)
                if self._store.keep_chunk(claim.id, self.owner, number, result):
                    results[number] = result
                else:
                    lost.set()
            except BaseException:
                lost.set()  # the other chunks need not be begun
                raise

        with ThreadPoolExecutor(self._threads, thread_name_prefix="long-work") as pool:
            list(pool.map(solve, [number for number in range(task.total) if number not in results]))
        if lost.is_set():
            return
        if len(results) < task.total:
            self._store.release(claim.id, self.owner)
        else:
            self._store.finish(claim.id, self.owner, task.finish(results))

    def _beat(self, claim: Claim, lost: threading.Event, over: threading.Event) -> None:
        """Move the lease on until the work is over."""
        good_until_s = time.monotonic() + self._lease_s
        while not over.wait(self._lease_s / BEATS):
            try:
                owned = self._store.renew(claim.id, self.owner, self._lease_s)
            except StoreAway:
                owned = time.monotonic() < good_until_s
            else:
                good_until_s = time.monotonic() + self._lease_s
            if not owned:
                lost.set()
                return


def _step_back() -> None:
    """This thread, and those that it starts, after the ones that answer. Linux: niceness belongs to a thread."""
    if sys.platform == "linux":
        with suppress(OSError):
            os.setpriority(os.PRIO_PROCESS, threading.get_native_id(), NICE)


def _text(rows: list[ErrorRow]) -> str:
    return json.dumps([asdict(row) for row in rows], default=str)
