"""The programs' side of long comparisons: put one in the line, watch it, stop it, take its answer, and keep it."""

from collections.abc import AsyncIterator
from datetime import date
from typing import Annotated

from fastapi import APIRouter, Body, Header, Path, Request, Response
from fastapi.responses import StreamingResponse
from jinja2 import Environment

from service.catalogue import Catalogue
from service.errors import ErrorRow
from service.intake.comparison import ComparisonRequest, with_defaults
from service.intake.sheet import JobSheet
from service.jobs.task import comparison_from
from service.reporting.answers import MODEL_VERSION
from service.reporting.job_out import ComparisonJobOut, JobProgressOut, job_path
from service.reporting.sheet_out import SheetSavedOut
from service.reporting.words import Units
from service.store import Job, JobState, NewSheet, SheetStore, StoreAway
from service.web.bodies import JsonRoute
from service.web.comparison_answers import comparison_solved
from service.web.comparisons_api import EXAMPLES, ComparisonRoute
from service.web.deps import CatalogueDep
from service.web.errors import ErrorsOut, error_response, error_responses
from service.web.frozen import frozen
from service.web.job_errors import rows_of
from service.web.long_work import COMPARISON, LongWork
from service.web.routes_pages import KIND
from service.web.work_routes import at_work

__all__ = ["router"]

router = APIRouter()
posted = APIRouter(prefix="/api/comparison-jobs", tags=["long comparisons"], route_class=ComparisonRoute)
kept = APIRouter(prefix="/api/comparison-jobs", tags=["long comparisons"])
kept_sheets = APIRouter(prefix="/api/comparison-jobs", tags=["long comparisons"], route_class=JsonRoute)

AWAY = {503: {"model": ErrorsOut, "description": "The line is full or cannot be used now"}}
NONE = error_responses(422) | {404: {"model": ErrorsOut, "description": "No such job, or no longer"}} | AWAY
PROGRESS = JobProgressOut.model_json_schema(ref_template="#/components/schemas/{model}")
EVENT = {
    "type": "object",
    "properties": {
        "event": {"const": "progress"},
        "data": {
            "type": "string",
            "contentMediaType": "application/json",
            "contentSchema": {name: part for name, part in PROGRESS.items() if name != "$defs"},
        },
    },
    "required": ["event", "data"],
}
STREAM = {
    200: {"description": "server-sent events, each of this kind", "content": {"text/event-stream": {"schema": EVENT}}},
    204: {"description": "The job is over, and the reader has seen its end"},
}
LONGEST_STREAM_S = 20.0  # then the reader comes again by itself; a stop of the service waits no longer than this
COME_AGAIN_MS = 1000
PRIVATE = {"Cache-Control": "private, no-store"}
NOT_DONE = {409: {"model": ErrorsOut, "description": "The job is not done, or an older version of the model did it"}}
Token = Annotated[str, Path(description="`id` of the job")]


@posted.post("", status_code=202, response_model=ComparisonJobOut, responses=error_responses(400, 413, 415, 422) | AWAY)
async def create_comparison_job(
    request: Request, question: Annotated[ComparisonRequest, Body(openapi_examples=EXAMPLES)], catalogue: CatalogueDep
) -> Response:
    """Compare as POST /api/comparisons does, but behind other questions: the answer is kept for a day."""
    question.ask(catalogue)  # every fault that the question shows is told now
    text = question.model_dump_json(exclude_unset=True)
    job = await _line(request).add(COMPARISON, text, len(question.routes))
    return Response(_text(job), 202, PRIVATE | {"Location": job_path(job)}, "application/json")


@kept.get("/{token}", response_model=ComparisonJobOut, responses=NONE)
async def read_comparison_job(request: Request, token: Token) -> Response:
    """Where the job stands, and its answer once it is done."""
    job = await _line(request).get(COMPARISON, token)
    return _none() if job is None else Response(_text(job), 200, PRIVATE, "application/json")


@kept.delete("/{token}", status_code=204, response_class=Response, responses=NONE)
async def cancel_comparison_job(request: Request, token: Token) -> Response:
    """Stop after the routes at hand. A job that is over stays as it is."""
    return Response(status_code=204) if await _line(request).cancel(COMPARISON, token) else _none()


@kept.get("/{token}/events", response_class=StreamingResponse, responses=NONE | STREAM)
async def watch_comparison_job(
    request: Request,
    token: Token,
    last_event_id: Annotated[str, Header(description="what a reader that comes again saw last")] = "",
) -> Response:
    """Server-sent events: `progress` with where the job stands, at each change, until it is over.

    The stream ends after some seconds; a reader that comes again goes on where it was, and is told to stop at the end.
    """
    line = _line(request)
    job = await line.get(COMPARISON, token)
    if job is None:
        return _none()
    if job.state.is_over and last_event_id == _moment(job):
        return Response(status_code=204, headers=PRIVATE)  # a browser's reader stops at this
    return StreamingResponse(_events(line, token, last_event_id), 200, PRIVATE, "text/event-stream")


@kept_sheets.post(
    "/{token}/sheet",
    status_code=201,
    response_model=SheetSavedOut,
    responses=error_responses(400, 413, 415) | NONE | NOT_DONE,
)
async def keep_comparison_job(
    request: Request, token: Token, body: JobSheet, catalogue: CatalogueDep
) -> SheetSavedOut | Response:
    """Keep the answer of a finished job as a sheet of kind comparison, beyond the day that the job is there."""
    line = _line(request)
    job = await line.get(COMPARISON, token)
    if job is None:
        return _none()
    if job.state is not JobState.DONE or job.model_version != MODEL_VERSION:
        row = ErrorRow("path", str(job.state), "there is no answer of this version to keep", "wait for it, or ask anew")
        return error_response(409, [row])
    results = await line.chunks(job)
    new = await at_work(_sheet, job, results, body, catalogue, request.app.state.templates)
    return SheetSavedOut.of(await request.app.state.keeping.call(SheetStore.save, new))


def _sheet(job: Job, results: dict[int, str], body: JobSheet, catalogue: Catalogue, templates: Environment) -> NewSheet:
    question = ComparisonRequest.model_validate_json(job.question)
    comparison = with_defaults(comparison_from(question.ask(catalogue), results, catalogue), question)
    solved = comparison_solved(comparison, question, Units(body.units), date.today())
    return frozen(KIND, solved, "", body, templates)


async def _events(line: LongWork, token: str, seen: str) -> AsyncIterator[str]:
    yield f"retry: {COME_AGAIN_MS}\n\n"
    try:
        async for job in line.changes(COMPARISON, token, LONGEST_STREAM_S):
            if (moment := _moment(job)) != seen:
                seen = moment
                yield f"id: {moment}\nevent: progress\ndata: {JobProgressOut.of(job).model_dump_json()}\n\n"
    except StoreAway:
        return  # the reader comes again


def _moment(job: Job) -> str:
    """What tells one event of a job from the others; a worker that takes over makes a new one."""
    return f"{job.state}-{job.done}-{job.begun_at_s:.3f}"


def _line(request: Request) -> LongWork:
    return request.app.state.long_work


def _text(job: Job) -> str:
    """The job as JSON, with its answer as it was written."""
    plain = ComparisonJobOut.of(job, errors=rows_of(job), answer=None).model_dump_json(exclude={"answer"})
    return f'{plain[:-1]},"answer":{job.answer or "null"}}}'


def _none() -> Response:
    row = ErrorRow("path", None, "there is no such job, or no longer", "check the id; jobs are kept for a day")
    return error_response(404, [row])


router.include_router(posted)
router.include_router(kept)
router.include_router(kept_sheets)
