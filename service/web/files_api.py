"""The programs' side of files: recorded drives, hourly weather and workshop logs, read and reported by row."""

from typing import Annotated

from fastapi import APIRouter, Query, Request, Response
from fastapi.concurrency import run_in_threadpool

from service.intake.drive_log import LARGEST_LOG, read_drive_log
from service.intake.errors import plain_row
from service.intake.track import LARGEST_FILE, read_track
from service.intake.weather_file import LARGEST_FILE as LARGEST_WEATHER
from service.intake.weather_file import read_weather_file
from service.web.errors import error_responses
from service.web.files import WrongKind, described, file_body
from service.web.files_out import DriveLogOut, TrackOut, WeatherOut

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


@router.post(
    "/weather-files",
    response_model=WeatherOut,
    responses=error_responses(413, 415, 422),
    openapi_extra=described(TABLE),
)
async def read_hours_of_weather(request: Request, time_zone: Zone = None) -> WeatherOut | Response:
    """The twelve months of a CSV of hours (time, temperature, humidity, wind, sun), ready for a year; bad rows told."""
    try:
        content = await file_body(request, (TABLE,), LARGEST_WEATHER)
    except WrongKind as error:
        return error.response
    found = await run_in_threadpool(read_weather_file, content, time_zone)
    return WeatherOut.of(found, [plain_row(row) for row in found.errors])


@router.post(
    "/drive-logs",
    response_model=DriveLogOut,
    responses=error_responses(413, 415, 422),
    openapi_extra=described(TABLE),
)
async def read_log_of_drive(request: Request, time_zone: Zone = None) -> DriveLogOut | Response:
    """Sums of a workshop's log (time, speed, pack power or volts and amps, charge, temperatures); bad rows are told."""
    try:
        content = await file_body(request, (TABLE,), LARGEST_LOG)
    except WrongKind as error:
        return error.response
    found = await run_in_threadpool(read_drive_log, content, time_zone)
    return DriveLogOut.of(found, [plain_row(row) for row in found.errors])
