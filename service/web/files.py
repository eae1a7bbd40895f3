"""Files that are sent as they are, as the whole body: held to type and size, counted as they come."""

from fastapi import Request
from starlette.exceptions import HTTPException

from service.errors import ErrorRow
from service.web.errors import error_response

__all__ = ["CSV", "TABLES", "WORKBOOK", "WrongKind", "described", "file_body"]

CSV = "text/csv"
WORKBOOK = "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet"
WITH_MACROS = "application/vnd.ms-excel.sheet.macroEnabled.12"  # never run, not even unpacked
TABLES = (CSV, WORKBOOK, WITH_MACROS.lower())  # what a table may be sent as


class WrongKind(Exception):
    """A body of another type, or too large a one; `response` says so."""

    def __init__(self, status: int, row: ErrorRow, headers: dict[str, str]) -> None:
        super().__init__(row.message)
        self.response = error_response(status, [row], headers)


def described(*kinds: str) -> dict[str, object]:
    """The body of such a route, for the description of the interface."""
    content = {
        kind: {"schema": {"type": "string"} | ({"format": "binary"} if kind in TABLES[1:] else {})} for kind in kinds
    }
    return {"requestBody": {"required": True, "content": content}}


async def file_body(request: Request, kinds: tuple[str, ...], largest: int) -> bytes:
    """The bytes; raises WrongKind. Reading stops beyond the limit."""
    kind = request.headers.get("content-type", "").partition(";")[0].strip().lower()
    if kind not in kinds:
        message = f"the body is sent as {kind!r}" if kind else "the type of the body is not stated"
        row = ErrorRow("header.content-type", kind or None, message, f"send the file as {' or '.join(kinds)}")
        raise WrongKind(415, row, {"Accept-Post": ", ".join(kinds)})
    content = bytearray()
    try:
        async for chunk in request.stream():
            content += chunk
            if len(content) > largest:
                break
    except HTTPException as error:
        if error.status_code != 413:
            raise
    if len(content) > largest:
        limit = f"{largest / 1024**2:g} MB"
        row = ErrorRow("body", None, f"the file is larger than {limit}", f"send at most {limit}")
        raise WrongKind(413, row, {"Connection": "close"})
    return bytes(content)
