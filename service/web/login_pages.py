"""Entering with the key and leaving again. Where no key is set, there is nothing to enter."""

from dataclasses import dataclass

from fastapi import APIRouter, Request
from fastapi.responses import HTMLResponse, RedirectResponse, Response

from service.errors import ServiceError
from service.web.forms import form_token, posted, refused, rendered, told
from service.web.house import Link, links_from
from service.web.rates import client_of

__all__ = ["router"]

router = APIRouter(include_in_schema=False)


@dataclass(frozen=True, slots=True)
class LoginPage:
    """The page that asks for the key."""

    next: str
    fault: str
    form_token: str
    links: tuple[Link, ...]
    answer: None = None


@router.get("/login", response_class=HTMLResponse)
def ask_for_key(request: Request) -> Response:
    """The page."""
    after = _own_path(request.query_params.get("next", ""))
    if request.app.state.recognised is None or request.state.visit.has_key:
        return RedirectResponse(after, 303)
    return _page(request, after)


@router.post("/login")
async def enter(request: Request) -> Response:
    """Check the key; a wrong one is slow, and ten a minute are enough."""
    recognised = request.app.state.recognised
    try:
        given = await posted(request)
    except ServiceError as error:
        return refused(request, error, "Please try again", "/login")
    after = _own_path(given.get("next", ""))
    if recognised is None:
        return RedirectResponse(after, 303)
    wait_s = request.app.state.tries.wait_s(client_of(request.scope, request.app.state.settings.proxies))
    if wait_s:
        answer = told(request, 429, "Too many tries", f"Try again in {wait_s:.0f} s.", back="/login")
        answer.headers["Retry-After"] = f"{wait_s:.0f}"
        return answer
    if not await recognised.in_turn(given.get("key", "").strip()):
        return _page(request, after, "This is not the key.", 403)
    request.state.visit = request.app.state.visits.new(has_key=True)
    return RedirectResponse(after, 303)


@router.post("/logout")
async def leave(request: Request) -> Response:
    """Forget the key in this browser."""
    try:
        await posted(request)
    except ServiceError as error:
        return refused(request, error, "Please try again", "/sheets")
    request.state.visit = request.app.state.visits.new()
    return RedirectResponse("/", 303)


def _page(request: Request, after: str, fault: str = "", status: int = 200) -> HTMLResponse:
    return rendered(request, "login.html", LoginPage(after, fault, form_token(request), links_from("", {})), status)


def _own_path(text: str) -> str:
    """A path of ours to go on to; anything else leads to the first page.

    >>> _own_path("/year?units=us"), _own_path("//elsewhere.example"), _own_path("https://elsewhere.example")
    ('/year?units=us', '/', '/')
    """
    good = text.startswith("/") and not text.startswith(("//", "/\\")) and text.isprintable()
    return text if good else "/"
