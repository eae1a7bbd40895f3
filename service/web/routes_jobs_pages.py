"""A long table of routes: the page that shows how far it is, by itself and without a script, and then its answer."""

import json
from dataclasses import dataclass
from datetime import date

from fastapi import APIRouter, Request, Response
from fastapi.responses import HTMLResponse, RedirectResponse

from service.catalogue import Catalogue
from service.errors import BadInput, ServiceError
from service.fleet.answer import Comparison
from service.fleet.ask import ComparisonAsk
from service.jobs.task import comparison_from
from service.reporting.job_out import progress_sentence
from service.store import Job, JobState
from service.web.deps import CatalogueDep
from service.web.forms import form_token, posted, refused, rendered, told
from service.web.house import Link, links_from
from service.web.job_errors import fault_of
from service.web.long_work import LongWork
from service.web.routes_pages import PATH, ROUTES_PAGE, Solve, page_of
from service.web.work_routes import WorkRoute, at_work

__all__ = ["router"]

LOOK_AGAIN_S = 2
STOPPED = BadInput("form", None, "the comparison was stopped", "send the form to begin again")
router = APIRouter(include_in_schema=False, route_class=WorkRoute)


@dataclass(frozen=True, slots=True)
class JobPage:
    """Everything the template gets."""

    path: str
    total: int
    done: int
    sentence: str
    look_again_s: int
    form_token: str
    links: tuple[Link, ...]
    answer: None = None


@router.get(f"{PATH}/jobs/{{token}}", response_class=HTMLResponse)
async def show_job(request: Request, token: str, catalogue: CatalogueDep) -> Response:
    """How far it is; once it is over the whole page with answer and form."""
    line: LongWork = request.app.state.long_work
    try:
        job = await line.get(ROUTES_PAGE, token)
        if job is None:
            return told(request, 404, "There is no such comparison", "A day after its end it is gone.", back=PATH)
        if not job.state.is_over:
            return rendered(request, "routes_job.html", _progress(request, job))
        results = await line.chunks(job) if job.state is JobState.DONE else {}
    except ServiceError as error:
        answer = refused(request, error, "The comparison cannot be opened now", PATH)
        answer.headers["Refresh"] = str(10 * LOOK_AGAIN_S)
        return answer
    page = await at_work(page_of, json.loads(job.question), catalogue, date.today(), _solved(job, results))
    return rendered(request, "routes.html", page, page.status)


@router.post(f"{PATH}/jobs/{{token}}/cancel")
async def cancel_job(request: Request, token: str) -> Response:
    """Stop it, and show the form again."""
    try:
        await posted(request)
        await request.app.state.long_work.cancel(ROUTES_PAGE, token)
    except ServiceError as error:
        return refused(request, error, "The comparison is not stopped", f"{PATH}/jobs/{token}")
    return RedirectResponse(f"{PATH}/jobs/{token}", 303)


def _progress(request: Request, job: Job) -> JobPage:
    return JobPage(
        path=f"{PATH}/jobs/{job.token}",
        total=job.total,
        done=job.done,
        sentence=progress_sentence(job),
        look_again_s=LOOK_AGAIN_S,
        form_token=form_token(request),
        links=links_from(PATH, {}),
    )


def _solved(job: Job, results: dict[int, str]) -> Solve:
    """What stands for the comparison when the page is made: the kept routes, or why there are none."""

    def solve(question: ComparisonAsk, catalogue: Catalogue) -> Comparison:
        if job.state is JobState.DONE:
            return comparison_from(question, results, catalogue)
        raise fault_of(job) if job.state is JobState.FAILED else STOPPED

    return solve
