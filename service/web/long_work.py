"""Long work as the web sees it: the line of jobs, this process's worker, and what the kinds of job are.

Kinds    `comparison`: the body of POST /api/comparison-jobs, answered as JSON. `routes_page`: the form of the page,
         whose answer is its finished routes; the page is made of them when it is opened.
"""

import asyncio
import json
from collections.abc import AsyncIterator, Callable, Mapping
from concurrent.futures import ThreadPoolExecutor
from typing import TypeVar

from service.catalogue import Catalogue
from service.errors import BadInputs
from service.fleet.answer import Comparison
from service.intake.comparison import ComparisonRequest, with_defaults
from service.jobs import Runner, Task, comparison_task
from service.reporting.answers import MODEL_VERSION
from service.reporting.comparison_out import ComparisonOut
from service.store import Job, JobStore, StoreAway
from service.store.references import is_token
from service.web.routes_asked import asked_by
from service.web.routes_pages import ROUTES_PAGE

__all__ = ["COMPARISON", "LongWork"]

COMPARISON = "comparison"
THREADS = 2  # that ask the database
LOOK_EVERY_S = 0.5
LATER_S = 86_400

Result = TypeVar("Result")


class LongWork:
    """The line; without a database every call says that there is none."""

    def __init__(self, store: JobStore | None, threads: int) -> None:
        self.store = store
        self._work_threads = threads
        self._threads = ThreadPoolExecutor(THREADS, thread_name_prefix="jobs")
        self._runner: Runner | None = None

    def start(self, catalogue: Catalogue) -> None:
        """Begin to work on what is in the line."""
        if self.store is not None:
            kinds = {
                COMPARISON: lambda question: _comparison(question, catalogue),
                ROUTES_PAGE: lambda question: _routes_page(question, catalogue),
            }
            self._runner = Runner(self.store, kinds, MODEL_VERSION, self._work_threads)
            self._runner.start()

    def close(self) -> None:
        """Give back what is at hand."""
        if self._runner is not None:
            self._runner.stop()
            self._runner = None
        if self.store is not None:
            self.store.close()

    async def add(self, kind: str, question: str, total: int) -> Job:
        """Put one in the line; raises StoreAway."""
        job = await self._call(JobStore.add, kind, question, total, MODEL_VERSION)
        if self._runner is not None:
            self._runner.wake()
        return job

    async def get(self, kind: str, token: str) -> Job | None:
        """The job of a link, if it is of this kind; raises StoreAway."""
        job = await self._call(JobStore.get, token) if is_token(token) else None
        return job if job is not None and job.kind == kind else None

    async def cancel(self, kind: str, token: str) -> bool:
        """Stop it; False if there is none. Raises StoreAway."""
        if await self.get(kind, token) is None:
            return False
        return await self._call(JobStore.cancel, token)

    async def chunks(self, job: Job) -> dict[int, str]:
        """What is finished of it; raises StoreAway."""
        return await self._call(JobStore.chunks_of, job.token)

    async def changes(self, kind: str, token: str, longest_s: float) -> AsyncIterator[Job]:
        """The job each time that it has changed, until it is over or gone or the time is; raises StoreAway."""
        ends_s, last = asyncio.get_running_loop().time() + longest_s, None
        while asyncio.get_running_loop().time() < ends_s:
            job = await self.get(kind, token)
            if job is None:
                return
            if job != last:
                yield job
            if job.state.is_over:
                return
            last = job
            await asyncio.sleep(LOOK_EVERY_S)

    async def _call(self, work: Callable[..., Result], *given: object) -> Result:
        if self.store is None:
            remedy = "send it to /api/comparisons; whoever runs the service sets RANGEWRIGHT_DATABASE_FILE"
            raise StoreAway("this service does no long work", remedy, LATER_S)
        return await asyncio.get_running_loop().run_in_executor(self._threads, work, self.store, *given)


def _comparison(question: str, catalogue: Catalogue) -> Task:
    request = ComparisonRequest.model_validate_json(question)

    def written(comparison: Comparison) -> str:
        return ComparisonOut.from_comparison(with_defaults(comparison, request)).model_dump_json()

    return comparison_task(request.ask(catalogue), catalogue, written)


def _routes_page(question: str, catalogue: Catalogue) -> Task:
    given: Mapping[str, str] = json.loads(question)
    asked = asked_by(given, catalogue)
    if asked.question is None:  # an upgrade between two starts reads forms in another way
        raise BadInputs([])
    return comparison_task(asked.question[0], catalogue)
