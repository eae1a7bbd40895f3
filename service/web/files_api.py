"""The programs' side of files: recorded drives, hourly weather and workshop logs, read and reported by row."""

from collections.abc import Callable
from typing import Annotated, Any

from fastapi import APIRouter, Query, Request, Response

from service.intake.drive_log import LARGEST_LOG, read_drive_log
from service.intake.errors import plain_row
from service.intake.track import LARGEST_FILE, read_track
from service.intake.weather_file import LARGEST_FILE as LARGEST_WEATHER
from service.intake.weather_file import read_weather_file
from service.web.errors import error_responses
from service.web.files import TABLES, WrongKind, described, file_body
from service.web.files_out import DriveLogOut, TrackOut, WeatherOut
from service.web.work_routes import WorkRoute, at_work

__all__ = ["router"]

router = APIRouter(prefix="/api", tags=["files"], route_class=WorkRoute)
TRACKS = ("application/gpx+xml", "application/xml", "text/xml", *TABLES)
Zone = Annotated[str | None, Query(max_length=80, description="IANA zone of times without an offset")]


@router.post(
    "/tracks",
    response_model=TrackOut,
    responses=error_responses(413, 415, 422),
    openapi_extra=described(*TRACKS),
)
async def read_recorded_drive(request: Request, time_zone: Zone = None) -> TrackOut | Response:
    """A drive from a GPX 1.1 track, or a table (CSV, .xlsx) of time and place or speed; bad rows told, good kept."""
    return await _read(request, TRACKS, LARGEST_FILE, read_track, time_zone, TrackOut)


@router.post(
    "/weather-files",
    response_model=WeatherOut,
    responses=error_responses(413, 415, 422),
    openapi_extra=described(*TABLES),
)
async def read_hours_of_weather(request: Request, time_zone: Zone = None) -> WeatherOut | Response:
    """The twelve months of a table (CSV, .xlsx) of hours (time, temperature, humidity, wind, sun), ready for a year."""
    return await _read(request, TABLES, LARGEST_WEATHER, read_weather_file, time_zone, WeatherOut)


@router.post(
    "/drive-logs",
    response_model=DriveLogOut,
    responses=error_responses(413, 415, 422),
    openapi_extra=described(*TABLES),
)
async def read_log_of_drive(request: Request, time_zone: Zone = None) -> DriveLogOut | Response:
    """Sums of a workshop's log, CSV or .xlsx: time, speed, pack power or volts and amps, charge, temperatures."""
    return await _read(request, TABLES, LARGEST_LOG, read_drive_log, time_zone, DriveLogOut)


async def _read(
    request: Request,
    kinds: tuple[str, ...],
    largest: int,
    read: Callable[[bytes, str | None], Any],
    time_zone: str | None,
    out: type[TrackOut | WeatherOut | DriveLogOut],
) -> TrackOut | WeatherOut | DriveLogOut | Response:
    """The file as what `read` makes of it, in the workroom, with every bad row told; the refusal of a wrong body."""
    try:
        content = await file_body(request, kinds, largest)
    except WrongKind as error:
        return error.response
    found = await at_work(read, content, time_zone)
    return out.of(found, [plain_row(row) for row in found.errors])
