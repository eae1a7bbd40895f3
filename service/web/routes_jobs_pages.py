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
from service.reporting.answers import MODEL_VERSION
from service.reporting.job_out import progress_sentence
from service.reporting.sheet_out import link_path
from service.store import Job, JobState, SheetStore, StoreAway
from service.web.deps import CatalogueDep
from service.web.forms import form_token, posted, refused, rendered, told
from service.web.frozen import sheet_of_page
from service.web.house import Link, links_from
from service.web.job_errors import fault_of
from service.web.keep_form import how_kept, keep_job_form
from service.web.long_work import LongWork
from service.web.routes_pages import KIND, PATH, ROUTES_PAGE, RoutesPage, Solve, page_of
from service.web.work_routes import WorkRoute, at_work

__all__ = ["router"]

LOOK_AGAIN_S = 2
STOPPED = BadInput("form", None, "the comparison was stopped", "send the form to begin again")
AGED = BadInput("form", None, "an older version of the model compared them", "send the form to compare them anew")
GONE = ("There is no such comparison", "A day after its end it is gone.")
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
            return told(request, 404, *GONE, back=PATH)
        if not job.state.is_over:
            return rendered(request, "routes_job.html", _progress(request, job))
        page = await _finished(line, job, catalogue)
    except StoreAway as error:
        answer = refused(request, error, "The comparison cannot be opened now", PATH)
        answer.headers["Refresh"] = str(10 * LOOK_AGAIN_S)
        return answer
    return rendered(request, "routes.html", page, page.status, keep=keep_job_form(request, page, _path(job)))


@router.post(f"{PATH}/jobs/{{token}}/sheet")
async def keep_job(request: Request, token: str, catalogue: CatalogueDep) -> Response:
    """Keep its answer beyond the day that it is there."""
    line: LongWork = request.app.state.long_work
    try:
        keep = how_kept(await posted(request))
        job = await line.get(ROUTES_PAGE, token)
        if job is None:
            return told(request, 404, *GONE, back=PATH)
        page = await _finished(line, job, catalogue)
        new = await at_work(sheet_of_page, KIND, page, keep, request.app.state.templates)
        sheet = await request.app.state.keeping.call(SheetStore.save, new)
    except ServiceError as error:
        return refused(request, error, "The sheet is not kept", f"{PATH}/jobs/{token}")
    return RedirectResponse(link_path(sheet), 303)


async def _finished(line: LongWork, job: Job, catalogue: Catalogue) -> RoutesPage:
    """The whole page of a job that is over; raises StoreAway."""
    results = await line.chunks(job) if job.state is JobState.DONE else {}
    return await at_work(page_of, json.loads(job.question), catalogue, date.today(), _solved(job, results))


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
        path=_path(job),
        total=job.total,
        done=job.done,
        sentence=progress_sentence(job),
        look_again_s=LOOK_AGAIN_S,
        form_token=form_token(request),
        links=links_from(PATH, {}),
    )


def _path(job: Job) -> str:
    return f"{PATH}/jobs/{job.token}"


def _solved(job: Job, results: dict[int, str]) -> Solve:
    """What stands for the comparison when the page is made: the kept routes, or why there are none."""

    def solve(question: ComparisonAsk, catalogue: Catalogue) -> Comparison:
        if job.state is not JobState.DONE:
            raise fault_of(job) if job.state is JobState.FAILED else STOPPED
        if job.model_version != MODEL_VERSION:  # never cells of one version under sentences of another
            raise AGED
        return comparison_from(question, results, catalogue)

    return solve
