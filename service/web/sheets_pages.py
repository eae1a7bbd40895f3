"""The pages of kept sheets: keep the answer that is shown, open it by its link, find it by its number, delete it."""

from dataclasses import dataclass
from datetime import date
from urllib.parse import parse_qsl

from fastapi import APIRouter, Request
from fastapi.responses import HTMLResponse, RedirectResponse, Response

from service.errors import ServiceError
from service.intake.routes_csv import LARGEST_TABLE
from service.reporting.qr import qr_svg
from service.reporting.sheet_out import SheetLine, link_path, sheet_line
from service.store import Sheet, SheetStore, StoreAway
from service.store.references import is_token, read_reference
from service.web.deps import CatalogueDep
from service.web.forms import form_token, posted, refused, rendered, told
from service.web.frozen import question_in, sheet_of_form
from service.web.house import Link, links_from
from service.web.keep_form import how_kept
from service.web.kept_kinds import KINDS
from service.web.kinds import Kind
from service.web.recordings import TEXT
from service.web.settings import Settings
from service.web.work_routes import WorkRoute, at_work

__all__ = ["router"]

router = APIRouter(include_in_schema=False, route_class=WorkRoute)
NOT_KEPT = "The sheet is not kept"
TOO_LONG = (TEXT, "table")  # for an address: they come as inputs of their own
LONGEST_LINK = 4000  # characters, half of what servers and proxies usually take: common practice
LARGEST_QUESTION = 3 * LARGEST_TABLE  # bytes; a table takes three times its size where every character is escaped
KIND_WORDS = {kind.name: kind.words for kind in KINDS.values()}


@dataclass(frozen=True, slots=True)
class Answer:
    """What the foot of every page asks of an answer."""

    version: str


@dataclass(frozen=True, slots=True)
class SheetPage:
    """A kept sheet. `kept` is our own finished HTML, `look` what the style sheet calls its page.

    again: address that asks the same question; held: what goes there as inputs of a form, because no address holds it.
    """

    line: SheetLine
    look: str
    kept: str
    address: str
    code: str  # the address as a square for phones; empty where none would reach it
    again: str
    held: tuple[tuple[str, str], ...]
    form_token: str  # empty: the reader may not delete it
    answer: Answer
    links: tuple[Link, ...]


@dataclass(frozen=True, slots=True)
class SheetsPage:
    """What was found."""

    headline: str
    second: str
    lines: tuple[SheetLine, ...]
    reference: str
    fault: str
    leave_token: str
    links: tuple[Link, ...]
    answer: None = None


@router.post("/sheets")
async def keep_answer(request: Request, catalogue: CatalogueDep) -> Response:
    """Keep the answer that the page shows, and go to its sheet."""
    back = ""
    try:
        given = await posted(request, LARGEST_QUESTION)
        kind = KINDS.get(given.get("kind", "quote")) or KINDS["quote"]
        held = {name: given[name] for name in TOO_LONG if name in given}
        back = "" if held else f"{kind.path}?{given.get('question', '')}"
        asked = question_in(given.get("question", "")) | held
        templates = request.app.state.templates
        new = await at_work(sheet_of_form, kind, asked, how_kept(given), catalogue, templates, date.today())
        sheet = await request.app.state.keeping.call(SheetStore.save, new)
    except ServiceError as error:
        return refused(request, error, NOT_KEPT, back)
    return RedirectResponse(link_path(sheet), 303)


@router.get("/sheets/{token}", response_class=HTMLResponse)
async def show_sheet(request: Request, token: str) -> HTMLResponse:
    """The sheet as it was printed."""
    try:
        sheet = await request.app.state.keeping.call(SheetStore.open, token) if is_token(token) else None
    except StoreAway as error:
        return refused(request, error, "The sheet cannot be opened now")
    return rendered(request, "sheet.html", _sheet_page(request, sheet)) if sheet else _none(request)


def _sheet_page(request: Request, sheet: Sheet) -> SheetPage:
    line, kind = sheet_line(sheet, KIND_WORDS), KINDS.get(sheet.kind)
    may_delete = request.app.state.recognised is None or request.state.may_find
    settings: Settings = request.app.state.settings
    again, held = _again(kind, sheet.query)
    return SheetPage(
        line=line,
        look=kind.look if kind else "",
        kept=sheet.page,
        address=(settings.public_url or str(request.base_url).rstrip("/")) + line.path,
        code=qr_svg(settings.shared_url + line.path) if settings.shared_url else "",
        again=again,
        held=held,
        form_token=form_token(request) if may_delete else "",
        answer=Answer(sheet.model_version),
        links=links_from("", {}),
    )


def _again(kind: Kind | None, query: str) -> tuple[str, tuple[tuple[str, str], ...]]:
    """Where the same question is asked, and what goes there by form; nowhere for one that a program asked."""
    if kind is None or not query:
        return "", ()
    asked = dict(parse_qsl(query))
    if len(query) > LONGEST_LINK or TEXT in asked:  # nor does a recording of somebody's drive belong into a history
        return kind.path, tuple(asked.items())
    return f"{kind.path}?{query}", ()


@router.post("/sheets/{token}/delete")
async def delete_sheet(request: Request, token: str) -> HTMLResponse:
    """Delete it for good."""
    try:
        await posted(request)
        gone = await request.app.state.keeping.call(SheetStore.delete, token) if is_token(token) else False
    except ServiceError as error:
        return refused(request, error, "The sheet is not deleted")
    return (
        told(request, 200, "The sheet is deleted", "Its number and its link open nothing any more.")
        if gone
        else _none(request)
    )


def _none(request: Request) -> HTMLResponse:
    return told(
        request, 404, "There is no such sheet", "It was deleted, its time is over, or the link is not whole.",
    )  # fmt: skip


@router.get("/sheets", response_class=HTMLResponse)
async def find_sheets(request: Request, reference: str = "") -> HTMLResponse:
    """The sheet of a number; without one, the newest."""
    typed = reference.strip()[:80]
    number = read_reference(typed)
    if typed and number is None:
        fault = "This is not the number of a sheet: it has eight digits, and the last one checks the others."
        return _found(request, (), typed, "No sheet found", "", fault)
    try:
        if number is None:
            lines = tuple(
                sheet_line(line, KIND_WORDS) for line in await request.app.state.keeping.call(SheetStore.latest)
            )
            return _found(request, lines, "", "Kept sheets", "The newest first." if lines else "There are none yet.")
        line = await request.app.state.keeping.call(SheetStore.find, number)
    except StoreAway as error:
        return refused(request, error, "The kept sheets cannot be looked through now")
    if line is None:
        return _found(request, (), typed, "No sheet found", f"There is no sheet {number}, or no longer.")
    return _found(request, (sheet_line(line, KIND_WORDS),), typed, f"Sheet {number}", "")


def _found(
    request: Request, lines: tuple[SheetLine, ...], typed: str, headline: str, second: str, fault: str = ""
) -> HTMLResponse:
    leave_token = form_token(request) if request.state.visit.has_key else ""
    page = SheetsPage(headline, second, lines, typed, fault, leave_token, links_from("", {}))
    return rendered(request, "sheets.html", page, 422 if fault else 200)
