"""Forms that change something: their token is checked before they are read on; and pages that only say something."""

from dataclasses import dataclass
from typing import Any

from fastapi import Request
from fastapi.responses import HTMLResponse
from starlette.exceptions import HTTPException

from service.errors import BadInput, ErrorRow, ServiceError
from service.reporting.words import bound
from service.store import StoreAway
from service.web.house import Link, links_from
from service.web.workroom import Busy

__all__ = ["Told", "WrongForm", "form_token", "posted", "refused", "rendered", "told"]

LARGEST_FORM = 64 * 1024  # bytes; a whole question is 2 kB
FORM = "application/x-www-form-urlencoded"


class WrongForm(BadInput):
    """A form that this browser did not get from us lately."""

    def __init__(self) -> None:
        super().__init__("form_token", None, "the page was open for too long, or came from elsewhere", "open it again")


@dataclass(frozen=True, slots=True)
class Told:
    """A page that says something and nothing else."""

    headline: str
    sentences: tuple[str, ...]
    back: str
    links: tuple[Link, ...]
    answer: None = None


def form_token(request: Request) -> str:
    """For a form of the page that is being made."""
    return request.app.state.visits.form_token(request.state.visit)


async def posted(request: Request, largest: int = LARGEST_FORM) -> dict[str, str]:
    """What was filled in; raises WrongForm if the form is not from a page of this visit."""
    length = request.headers.get("content-length", "")
    if not length.isdigit() or int(length) > largest:
        raise HTTPException(413, headers={"Connection": "close"})
    if request.headers.get("content-type", "").partition(";")[0].strip().lower() != FORM:
        raise BadInput("header.content-type", None, "this is not a filled form", f"send it as {FORM}")
    async with request.form(max_files=0, max_fields=50) as form:
        given = {name: value for name, value in form.items() if isinstance(value, str)}
    if not request.app.state.visits.is_form_token(request.state.visit, given.pop("form_token", "")):
        raise WrongForm
    return given


def told(request: Request, status: int, headline: str, *sentences: str, back: str = "") -> HTMLResponse:
    """The page."""
    page = Told(headline, tuple(bound(each) for each in sentences), back, links_from("", {}))
    return rendered(request, "told.html", page, status)


def refused(request: Request, error: ServiceError, headline: str, back: str = "") -> HTMLResponse:
    """What went wrong, as a page with the ways out."""
    answer = told(request, _status(error), headline, *(_sentence(row) for row in error.rows()), back=back)
    if isinstance(error, StoreAway | Busy):
        answer.headers["Retry-After"] = str(error.retry_after_s)
    return answer


def rendered(request: Request, template: str, page: Any, status: int = 200, **more: Any) -> HTMLResponse:
    """A page that no cache keeps."""
    html = request.app.state.templates.get_template(template).render(page=page, **more)
    return HTMLResponse(html, status, {"Cache-Control": "private, no-store", "X-Robots-Tag": "noindex"})


def _status(error: ServiceError) -> int:
    return {StoreAway: 503, Busy: 503, WrongForm: 403}.get(type(error), 422)


def _sentence(row: ErrorRow) -> str:
    text = f"{row.message}; {row.remedy}."
    return text[:1].upper() + text[1:]
