"""The pages of kept sheets: keep the answer that is shown, open it by its link, find it by its number, delete it."""

from dataclasses import dataclass
from datetime import date

from fastapi import APIRouter, Request
from fastapi.responses import HTMLResponse, RedirectResponse, Response
from pydantic import ValidationError

from service.errors import BadInputs, ServiceError
from service.intake.errors import faults_of
from service.intake.sheet import KeepIn
from service.reporting.sheet_out import SheetLine, link_path, sheet_line
from service.store import Sheet, SheetStore, StoreAway
from service.store.references import is_token, read_reference
from service.web.deps import CatalogueDep
from service.web.forms import form_token, posted, refused, rendered, told
from service.web.house import Link, links_from
from service.web.keeping import sheet_of_query
from service.web.work_routes import WorkRoute, at_work

__all__ = ["router"]

router = APIRouter(include_in_schema=False, route_class=WorkRoute)
NOT_KEPT = "The sheet is not kept"


@dataclass(frozen=True, slots=True)
class Answer:
    """What the foot of every page asks of an answer."""

    version: str


@dataclass(frozen=True, slots=True)
class SheetPage:
    """A kept sheet. `kept` is our own finished HTML."""

    line: SheetLine
    kept: str
    address: str
    again: str
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
        given = await posted(request)
        back = f"/?{given.get('question', '')}"
        keep = _keep(given)
        templates = request.app.state.templates
        new = await at_work(sheet_of_query, given.get("question", ""), keep, catalogue, templates, date.today())
        sheet = await request.app.state.keeping.call(SheetStore.save, new)
    except ServiceError as error:
        return refused(request, error, NOT_KEPT, back)
    return RedirectResponse(link_path(sheet), 303)


def _keep(given: dict[str, str]) -> KeepIn:
    """How the form says that it is kept."""
    days = given.get("expires_in_days", "")
    fields = {"note": given.get("note", ""), "expires_in_days": (int(days) if days.isdecimal() else days) or None}
    try:
        return KeepIn.model_validate(fields)
    except ValidationError as error:
        raise BadInputs(faults_of(error.errors())) from None


@router.get("/sheets/{token}", response_class=HTMLResponse)
async def show_sheet(request: Request, token: str) -> HTMLResponse:
    """The sheet as it was printed."""
    try:
        sheet = await request.app.state.keeping.call(SheetStore.open, token) if is_token(token) else None
    except StoreAway as error:
        return refused(request, error, "The sheet cannot be opened now")
    return rendered(request, "sheet.html", _sheet_page(request, sheet)) if sheet else _none(request)


def _sheet_page(request: Request, sheet: Sheet) -> SheetPage:
    line = sheet_line(sheet)
    may_delete = request.app.state.recognised is None or request.state.may_find
    return SheetPage(
        line=line,
        kept=sheet.page,
        address=(request.app.state.settings.public_url or str(request.base_url).rstrip("/")) + line.path,
        again=sheet.query,
        form_token=form_token(request) if may_delete else "",
        answer=Answer(sheet.model_version),
        links=links_from("", {}),
    )


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
            lines = tuple(sheet_line(line) for line in await request.app.state.keeping.call(SheetStore.latest))
            return _found(request, lines, "", "Kept sheets", "The newest first." if lines else "There are none yet.")
        line = await request.app.state.keeping.call(SheetStore.find, number)
    except StoreAway as error:
        return refused(request, error, "The kept sheets cannot be looked through now")
    if line is None:
        return _found(request, (), typed, "No sheet found", f"There is no sheet {number}, or no longer.")
    return _found(request, (sheet_line(line),), typed, f"Sheet {number}", "")


def _found(
    request: Request, lines: tuple[SheetLine, ...], typed: str, headline: str, second: str, fault: str = ""
) -> HTMLResponse:
    leave_token = form_token(request) if request.state.visit.has_key else ""
    page = SheetsPage(headline, second, lines, typed, fault, leave_token, links_from("", {}))
    return rendered(request, "sheets.html", page, 422 if fault else 200)
