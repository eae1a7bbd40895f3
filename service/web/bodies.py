"""JSON bodies held to type and size before anything reads them, and read strictly.

Scope    a route class for routes that take JSON: 415 for another type, 413 for too many bytes, counted as they come,
         400 for what is no JSON.
"""

from collections.abc import Callable, Coroutine
from email.message import Message
from typing import Any

from fastapi import Request, Response
from fastapi.exceptions import RequestValidationError

from service.catalogue import Catalogue
from service.errors import BadInput, BadInputs, ErrorRow
from service.intake.errors import faults_of
from service.intake.json_text import read_json
from service.web.errors import error_response
from service.web.work_routes import WorkRoute

__all__ = ["LARGEST_BODY", "AcrossRoute", "JsonRoute"]

LARGEST_BODY = 256 * 1024  # bytes; the longest sensible question is 10 kB


class _TooLarge(Exception):
    """More bytes than allowed."""


class _HeldRequest(Request):
    """A request whose body stops at the limit. The bytes are kept, as Starlette's own `body` does."""

    async def body(self) -> bytes:
        """All bytes, or `_TooLarge`."""
        if not hasattr(self, "_held"):
            chunks, size = [], 0
            async for chunk in self.stream():
                size += len(chunk)
                if size > LARGEST_BODY:
                    raise _TooLarge
                chunks.append(chunk)
            self._held = b"".join(chunks)
        return self._held

    async def json(self) -> object:
        """The data, read once; raises BadInput."""
        if not hasattr(self, "_read"):
            self._read = read_json(await self.body())
        return self._read


class JsonRoute(WorkRoute):
    """A route that takes a JSON body."""

    def get_route_handler(self) -> Callable[[Request], Coroutine[Any, Any, Response]]:
        """The usual handler behind the two checks."""
        handle = super().get_route_handler()

        async def checked(request: Request) -> Response:
            content_type = request.headers.get("content-type", "")
            if not _is_json(content_type):
                return _wrong_type(content_type)
            held = _HeldRequest(request.scope, request.receive)
            if _stated_length(request) > LARGEST_BODY:
                return _too_large()
            try:
                if await held.body():  # a missing one is told by the model
                    await held.json()
            except _TooLarge:
                return _too_large()
            except BadInput as error:
                return error_response(400, error.rows())
            return await handle(held)

        return checked


class AcrossRoute(JsonRoute):
    """A JSON route whose faults are told together with those that only the catalogue shows."""

    @staticmethod
    def across(_body: object, _catalogue: Catalogue) -> list[BadInput]:
        """Faults beside the models' own, on data that may be wrong in other ways, too; each route has its own."""
        raise NotImplementedError

    def get_route_handler(self) -> Callable[[Request], Coroutine[Any, Any, Response]]:
        """The usual handler."""
        handle = super().get_route_handler()

        async def checked(request: Request) -> Response:
            try:
                return await handle(request)
            except RequestValidationError as error:
                across = self.across(error.body, request.app.state.catalogue)
                raise BadInputs(faults_of(error.errors()) + across) from None

        return checked


def _is_json(content_type: str) -> bool:
    """True for application/json and application/…+json, whatever the parameters."""
    message = Message()
    message["content-type"] = content_type
    kind = message.get_content_type() if content_type else ""
    return kind == "application/json" or (kind.startswith("application/") and kind.endswith("+json"))


def _stated_length(request: Request) -> int:
    text = request.headers.get("content-length", "0")
    return int(text) if text.isascii() and text.isdigit() and len(text) < 16 else LARGEST_BODY + 1


def _wrong_type(content_type: str) -> Response:
    message = f"the body is sent as {content_type!r}" if content_type else "the type of the body is not stated"
    row = ErrorRow("header.content-type", content_type or None, message, "send JSON as application/json")
    return error_response(415, [row], {"Accept-Post": "application/json"})


def _too_large() -> Response:
    limit = f"{LARGEST_BODY // 1024} kB"
    row = ErrorRow("body", None, f"the body is larger than {limit}", f"send at most {limit}")
    return error_response(413, [row], {"Connection": "close"})
