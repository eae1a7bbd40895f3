"""The programs' side of files: recorded drives, hourly weather and workshop logs, read and reported by row."""

from typing import Annotated

from fastapi import APIRouter, Query, Request, Response
from fastapi.concurrency import run_in_threadpool

from service.intake.errors import plain_row
from service.intake.track import LARGEST_FILE, read_track
from service.web.errors import error_responses
from service.web.files import WrongKind, described, file_body
from service.web.files_out import TrackOut

__all__ = ["router"]

router = APIRouter(prefix="/api", tags=["files"])
TABLE = "text/csv"
TRACKS = ("application/gpx+xml", "application/xml", "text/xml", TABLE)
Zone = Annotated[str | None, Query(max_length=80, description="IANA zone of times without an offset")]


@router.post(
    "/tracks",
    response_model=TrackOut,
    responses=error_responses(413, 415, 422),
    openapi_extra=described(*TRACKS),
)
async def read_recorded_drive(request: Request, time_zone: Zone = None) -> TrackOut | Response:
    """A drive from a GPX 1.1 track, or a CSV of time and place or time and speed; bad rows are told, good ones kept."""
    try:
        content = await file_body(request, TRACKS, LARGEST_FILE)
    except WrongKind as error:
        return error.response
    found = await run_in_threadpool(read_track, content, time_zone)
    return TrackOut.of(found, [plain_row(row) for row in found.errors])
