"""The page of routes compared: a table of routes in, what fails first out, and the cells as CSV or .xlsx.

Kept     nothing, except a long table until a day after it is worked out, and what the reader keeps.
Scope    one call, present. GET answers links, POST the form, whose table may be long.
"""

import json
from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from datetime import date
from functools import partial

from fastapi import APIRouter, Request, Response
from fastapi.responses import HTMLResponse, RedirectResponse
from starlette.datastructures import FormData, UploadFile

from service.catalogue import Catalogue
from service.errors import BadInputs, ErrorRow, ServiceError
from service.fleet.answer import Comparison
from service.fleet.ask import ComparisonAsk
from service.fleet.compare import cells_in, compare
from service.intake.comparison import with_defaults
from service.intake.form import FIELDS, OWN, default_of, unit_of
from service.intake.routes_csv import LARGEST_TABLE, MOST_ROWS
from service.intake.table_file import text_of_table
from service.reporting.comparison_out import ComparisonOut, table_of
from service.reporting.form_layouts import ROUTES_LAYOUT, names_in
from service.reporting.form_view import Choices, FormView, form_view
from service.reporting.routes_view import RoutesView
from service.reporting.words import Units, bound
from service.store import StoreAway
from service.web.comparison_answers import comparison_solved, solve
from service.web.deps import CatalogueDep
from service.web.errors import error_response
from service.web.house import Link, as_asked, links_from, stowed
from service.web.keep_form import keep_form
from service.web.kinds import Kind, Solved
from service.web.pages import choices_of
from service.web.routes_asked import Asked, asked_by, rows_told
from service.web.tables import table_sent
from service.web.work_routes import WorkRoute, at_work
from service.web.workroom import go_on

__all__ = ["KIND", "PATH", "ROUTES_PAGE", "RoutesPage", "Solve", "page_of", "router"]

PATH = "/routes"
ROUTES_PAGE = "routes_page"  # what long work calls a form of this page
LARGEST_FORM = 2 * LARGEST_TABLE  # the table, typed and as a file
MOST_AT_ONCE = 2_400  # cells: about a second on two cores; a longer table becomes long work, which shows how far it is
Solve = Callable[[ComparisonAsk, Catalogue], Comparison]
_at_once: Solve = partial(compare, progress=go_on)
router = APIRouter(include_in_schema=False, route_class=WorkRoute)


@dataclass(frozen=True, slots=True)
class RoutesPage:
    """Everything the templates get."""

    answer: RoutesView | None
    form: FormView
    links: tuple[Link, ...]
    status: int
    solved: Solved[RoutesView] | None
    asked: str
    held: tuple[tuple[str, str], ...] = ()


@router.get(PATH, response_class=HTMLResponse)
def show_page(request: Request, catalogue: CatalogueDep) -> HTMLResponse:
    """The whole page for a link."""
    given = _flat(request.query_params)
    return _rendered(request, page_of(given, catalogue, date.today()))


@router.post(PATH, response_class=HTMLResponse)
async def answer_form(request: Request, catalogue: CatalogueDep) -> Response:
    """The whole page for a filled form."""
    given = await _form(request, catalogue)
    if isinstance(given, Response):
        return given
    long = await _as_long_work(request, given, catalogue)
    return long or _rendered(request, await at_work(page_of, given, catalogue, date.today()))


async def _as_long_work(request: Request, given: dict[str, str], catalogue: Catalogue) -> Response | None:
    """The way to the page that shows how far it is, for a long table where there is a line for it."""
    asked = await at_work(asked_by, given, catalogue)
    if asked.question is None or cells_in(asked.question[0]) <= MOST_AT_ONCE:
        return None
    try:
        total = len(asked.question[0].routes)
        job = await request.app.state.long_work.add(ROUTES_PAGE, json.dumps(given), total)
    except StoreAway:  # then whoever asks waits
        return None
    return RedirectResponse(f"{PATH}/jobs/{job.token}", 303)


@router.post("/routes.csv")
@router.post("/routes.xlsx")
async def send_table(request: Request, catalogue: CatalogueDep) -> Response:
    """Every cell as a table; the page with what is wrong, if anything is."""
    given = await _form(request, catalogue)
    if isinstance(given, Response):
        return given
    found, comparison = await at_work(_answered, given, catalogue)
    if comparison is None or found.errors:
        return _rendered(request, await at_work(page_of, given, catalogue, date.today()), 422)
    out = await at_work(ComparisonOut.from_comparison, comparison, _units(found.values))
    return await at_work(table_sent, request, table_of(out))


def _rendered(request: Request, page: RoutesPage, status: int = 0) -> HTMLResponse:
    keep = keep_form(request, KIND, page)
    html = request.app.state.templates.get_template("routes.html").render(page=page, keep=keep)
    return HTMLResponse(html, status or page.status)


async def _form(request: Request, catalogue: Catalogue) -> dict[str, str] | Response:
    """What was filled in, or the refusal: too large; or the page that says what is wrong with the file."""
    length = request.headers.get("content-length", "")
    if not length.isdigit() or int(length) > LARGEST_FORM:
        row = ErrorRow("body", None, "the form is larger than 2 MB, or does not say how large", "send at most 2 MB")
        return error_response(413, [row], {"Connection": "close"})
    async with request.form(max_files=1, max_fields=200, max_part_size=LARGEST_TABLE) as form:
        given = _flat(form)
        file = form.get("file")
        content = await file.read() if isinstance(file, UploadFile) and file.size else b""
    try:
        return given | ({"table": await at_work(text_of_table, content, LARGEST_TABLE, MOST_ROWS)} if content else {})
    except BadInputs as error:
        unread = tuple(error.rows())
        return _rendered(request, await at_work(page_of, given, catalogue, date.today(), _at_once, unread))


def _flat(given: Mapping[str, str] | FormData) -> dict[str, str]:
    """One text for each name; ticks with commas between them."""
    texts = {name: value for name, value in given.items() if isinstance(value, str)}
    ticks = [value for value in given.getlist("vehicles") if isinstance(value, str)]
    return texts | ({"vehicles": ",".join(ticks)} if ticks else {})


def page_of(
    given: Mapping[str, str],
    catalogue: Catalogue,
    today: date,
    solve: Solve = _at_once,
    unread: tuple[ErrorRow, ...] = (),
) -> RoutesPage:
    """Routes in, page out.

    Args:
        given: form or query string by name; a link without a table gets the starting question.
        today: printed on the sheet.
        solve: compares, or takes the comparison from where it is kept.
        unread: why the file that came with the form could not be read; then nothing is compared.
    """
    found, comparison = (asked_by(given, catalogue), None) if unread else _answered(given, catalogue, solve)
    units = _units(found.values)
    solved = None
    if comparison and found.question:
        solved = comparison_solved(comparison, found.question[1], units, today, _left_out(found))
    answer = solved.view if solved else None
    form = form_view(
        found.values,
        found.errors | ({"file": unread[0]} if unread else {}),
        {name: unit_of(name, units) for name in FIELDS},
        {name: default_of(name, units) for name in FIELDS},
        _choices(catalogue),
        {row.name: row.value for row in answer.question} if answer else {},
        ROUTES_LAYOUT,
        {"table": found.bad_rows, "file": rows_told(unread[1:])},
    )
    form = replace(form, hidden=form.hidden + stowed(given, names_in(ROUTES_LAYOUT)))
    links, table = links_from(PATH, _to_carry(given, found.values)), given.get("table")
    held = (("table", table),) if table else ()
    return RoutesPage(answer, form, links, 200 if answer else 422, solved, as_asked(given), held)


KIND = Kind("comparison", "Routes compared", PATH, "routes_part.html", "routes", page_of, solve)


def _answered(
    given: Mapping[str, str], catalogue: Catalogue, solve: Solve = _at_once
) -> tuple[Asked, Comparison | None]:
    """The form as read, and what comes of it."""
    asked = asked_by(given, catalogue)
    if asked.question is None:
        return asked, None
    ask, request = asked.question
    try:
        return asked, with_defaults(solve(ask, catalogue), request)
    except ServiceError as error:
        faults = {f"form{number}": row for number, row in enumerate(error.rows())}
        return replace(asked, errors={**asked.errors, **faults}), None


def _left_out(found: Asked) -> tuple[str, ...]:
    """What of the table is not in the answer: it is said on a kept sheet, too, which has no form."""
    row = found.errors.get("table")
    return (bound(f"Of the table, {row.message}."),) if row else ()


def _to_carry(given: Mapping[str, str], values: Mapping[str, str]) -> dict[str, str]:
    """What the links take along: what came in by one, and what both kinds of page ask."""
    if not given:
        return {}
    return {name: value for name, value in {**given, **values}.items() if name != "table" and given.get(name)}


def _units(values: Mapping[str, str]) -> Units:
    return Units.US if values["units"] == Units.US else Units.METRIC


def _choices(catalogue: Catalogue) -> Choices:
    """What may be chosen."""
    lists = choices_of(catalogue)
    cars = tuple((one.id, one.name) for one in catalogue.vehicles.values())
    places = tuple((one.id, f"{one.name}, {one.country}") for one in catalogue.places.values())
    return {**lists, "vehicles": (*cars, (OWN, "one of your own, by its figures")), "place": places}
