"""Every failure as one JSON shape: {"errors": [{"field", "value", "message", "remedy"}]}. The domain knows no HTTP.

Scope    faults of the request, unknown paths, wrong methods, and our own failures, which never show a trace.
"""

import logging

from fastapi import FastAPI, Request, Response
from fastapi.exceptions import RequestValidationError
from fastapi.responses import JSONResponse
from pydantic import BaseModel
from starlette.exceptions import HTTPException
from starlette.requests import ClientDisconnect
from starlette.routing import Match, Mount
from starlette.types import ASGIApp, Message, Receive, Scope, Send

from service.errors import BadTable, ErrorRow, ServiceError
from service.intake.errors import faults_of, plain_row
from service.intake.quote import unknown_ids
from service.store import StoreAway
from service.web.forms import refused
from service.web.workroom import Busy

__all__ = ["ErrorsOut", "OwnFaults", "add_error_handlers", "error_response", "error_responses"]

logger = logging.getLogger("rangewright")
STATUS = {BadTable: 500}  # everything else raised on purpose is a fault of the request
METHODS = ("GET", "HEAD", "POST", "PUT", "PATCH", "DELETE")


class ErrorRowOut(BaseModel):
    """One fault."""

    field: str
    value: object
    message: str
    remedy: str


class ErrorsOut(BaseModel):
    """Every fault of a request at once."""

    errors: list[ErrorRowOut]


def error_responses(*statuses: int) -> dict[int | str, dict[str, object]]:
    """For the description of a route."""
    words = {
        400: "The body is not JSON",
        413: "The body is too large",
        415: "The body is not sent as JSON",
        422: "Values that cannot be used, every one of them",
        503: "Every core is at work, or the answer takes too long; Retry-After says when to ask again",
    }
    told = (*statuses, 503) if 413 in statuses else statuses  # what takes a body is worked out
    return {status: {"model": ErrorsOut, "description": words[status]} for status in told}


def error_response(status: int, rows: list[ErrorRow], headers: dict[str, str] | None = None) -> JSONResponse:
    """The one shape."""
    return JSONResponse({"errors": [plain_row(row) for row in rows]}, status, headers)


def add_error_handlers(app: FastAPI) -> None:
    """Teach an application the one shape."""
    app.add_exception_handler(ServiceError, _service_error)
    app.add_exception_handler(StoreAway, _later)
    app.add_exception_handler(Busy, _later)
    app.add_exception_handler(RequestValidationError, _bad_request)
    app.add_exception_handler(HTTPException, _http_error)


async def _service_error(_request: Request, error: ServiceError) -> JSONResponse:
    return error_response(STATUS.get(type(error), 422), error.rows())


async def _later(request: Request, error: StoreAway | Busy) -> Response:
    """To people a page, to programs the one shape."""
    if "text/html" in request.headers.get("accept", ""):
        return refused(request, error, "Please try again in a moment")
    return error_response(503, error.rows(), {"Retry-After": str(error.retry_after_s)})


async def _bad_request(request: Request, error: RequestValidationError) -> JSONResponse:
    """What the models found, and ids that the catalogue does not hold, together."""
    findings = error.errors()
    root = "query" if any(finding["loc"][:1] == ("query",) for finding in findings) else "body"
    faults = faults_of(findings, root=root) + unknown_ids(error.body, request.app.state.catalogue)
    return error_response(422, [fault.row for fault in faults])


async def _http_error(request: Request, error: HTTPException) -> JSONResponse:
    path, method = request.url.path, request.method
    headers = dict(error.headers or {})
    if error.status_code == 404:
        row = ErrorRow("path", path, "there is nothing at this address", "see / for people and /docs for programs")
    elif error.status_code == 405:
        allowed = ", ".join(_allowed(request))
        headers["Allow"] = allowed
        row = ErrorRow("method", method, f"{path} does not take {method}", f"use one of: {allowed}")
    elif error.status_code == 408:
        row = ErrorRow("body", None, "the body did not arrive in time", "send it again, faster or smaller")
    elif error.status_code == 413:
        row = ErrorRow("body", None, "the body is too large", "send less; the description at /docs says how much")
    elif error.status_code == 400:
        row = ErrorRow("body", None, "the form cannot be read", "open the page again and send it from there")
    else:
        row = ErrorRow("request", None, str(error.detail), "see the description at /docs")
    return error_response(error.status_code, [row], headers)


def _allowed(request: Request) -> list[str]:
    """Every method that some route takes at this path. HEAD goes wherever GET goes."""
    whole = {**request.scope, "root_path": request.scope.get("app_root_path", request.scope.get("root_path", ""))}
    return [
        method
        for method in METHODS
        if any(_takes(route, whole, "GET" if method == "HEAD" else method) for route in request.app.routes)
    ]


def _takes(route: object, scope: Scope, method: str) -> bool:
    if isinstance(route, Mount) and method != "GET":  # files are only read
        return False
    return route.matches({**scope, "method": method})[0] is Match.FULL


class OwnFaults:
    """Innermost wrapper: whatever escapes is logged here and told without a trace.

    Starlette's own would answer outside of our other wrappers, without their headers.
    """

    def __init__(self, app: ASGIApp) -> None:
        self.app = app

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Serve one request."""
        started = False

        async def watch(message: Message) -> None:
            nonlocal started
            started = started or message["type"] == "http.response.start"
            await send(message)

        try:
            await self.app(scope, receive, watch)
        except ClientDisconnect:  # nobody is left to be answered, and nothing went wrong here
            return
        except Exception:
            if scope["type"] != "http" or started:
                raise
            route = getattr(scope.get("route"), "path", "an unknown path")  # no token of a link, as the path itself has
            logger.exception("failed to answer %s %s", scope["method"], route)
            row = ErrorRow("request", None, "the service failed to answer", "try again; tell whoever runs the service")
            await error_response(500, [row])(scope, receive, send)
