"""The programs' side of kept sheets: keep an answer, open it by its link, find it by its number, delete it."""

from datetime import date
from typing import Annotated

from fastapi import APIRouter, Body, Path, Query, Request, Response
from jinja2 import Environment

from service.catalogue import Catalogue
from service.errors import BadInput, BadInputs, ErrorRow, ServiceError
from service.fleet.ask import moved_to
from service.intake.sheet import KeepIn, SheetBody, SheetRequest
from service.reporting.sheet_out import SheetOut, SheetSavedOut
from service.reporting.words import Units
from service.store import NewSheet, SheetStore
from service.store.references import is_token, read_reference
from service.web.bodies import JsonRoute
from service.web.deps import CatalogueDep
from service.web.errors import ErrorsOut, error_response, error_responses
from service.web.frozen import frozen
from service.web.kept_kinds import KINDS
from service.web.kinds import Solved
from service.web.work_routes import at_work

__all__ = ["router"]

router = APIRouter()
keeping = APIRouter(prefix="/api/sheets", tags=["sheets"], route_class=JsonRoute)
kept = APIRouter(prefix="/api/sheets", tags=["sheets"])

EXAMPLES = {
    "kept for a month": {
        "summary": "A winter quote, kept for thirty days",
        "value": {
            "vehicle": {"id": "compact-plug-in"},
            "journey": {"legs": [{"distance_km": 13, "speed_km_h": 60, "stops_per_km": 0.5}]},
            "weather": {"temperature_c": -5},
            "note": "second desk, Tuesday",
            "expires_in_days": 30,
        },
    },
    "a finding": {
        "summary": "The finding on a complaint: any other kind is kept in the same way",
        "value": {
            "kind": "complaint",
            "question": {
                "vehicle": {"id": "compact-plug-in"},
                "journey": {"legs": [{"distance_km": 13, "speed_km_h": 60, "stops_per_km": 0.5}]},
                "weather": {"temperature_c": -5},
                "reported_km": 24,
            },
            "note": "bay three",
        },
    },
}
AWAY = {503: {"model": ErrorsOut, "description": "The saved sheets cannot be used now; quotes can"}}
NONE = error_responses(422) | {404: {"model": ErrorsOut, "description": "No such sheet, or no longer"}}
REFUSED = {403: {"model": ErrorsOut, "description": "Anyone can reach the service, so nobody finds sheets"}}
PRIVATE = {"Cache-Control": "private, no-store", "X-Robots-Tag": "noindex"}
Token = Annotated[str, Path(description="the last part of link_path")]


@keeping.post("", status_code=201, responses=error_responses(400, 413, 415, 422) | AWAY)
async def keep_sheet(
    request: Request, body: Annotated[SheetBody, Body(openapi_examples=EXAMPLES)], catalogue: CatalogueDep
) -> SheetSavedOut:
    """Answer a question as the address of its kind does, and keep the answer. It is on the disk when this answers.

    Without a kind the body is a question as for POST /api/quotes.
    """
    new = await at_work(_answered, body, catalogue, request.app.state.templates)
    return SheetSavedOut.of(await request.app.state.keeping.call(SheetStore.save, new))


def _answered(body: SheetBody, catalogue: Catalogue, templates: Environment) -> NewSheet:
    short = isinstance(body, SheetRequest)
    sheet = body.whole() if short else body
    kind = KINDS[sheet.kind]
    try:
        solved: Solved = kind.solve(sheet.question, Units(sheet.reader), catalogue, date.today())
    except (BadInput, BadInputs) as error:
        raise error if short else BadInputs(_inside(error)) from None
    return frozen(kind, solved, "", KeepIn(note=sheet.note, expires_in_days=sheet.expires_in_days), templates)


def _inside(error: ServiceError) -> list[BadInput]:
    """Faults of the question as faults of a body that holds it."""
    faults = error.faults if isinstance(error, BadInputs) else [error]
    return [moved_to(fault, "", "question.") for fault in faults]


@kept.get("", responses=error_responses(422) | REFUSED | AWAY)
async def find_sheets(
    request: Request,
    reference: Annotated[str | None, Query(description="a sheet's number; without one the newest fifty")] = None,
) -> list[SheetSavedOut]:
    """Sheets by number, or the newest; only for whoever runs the service."""
    call = request.app.state.keeping.call
    if reference is None:
        return [SheetSavedOut.of(line) for line in await call(SheetStore.latest)]
    number = read_reference(reference)
    if number is None:
        raise BadInput(
            "reference", reference[:80], "it is not the number of a sheet", "give its eight digits; one may be misheard"
        )
    line = await call(SheetStore.find, number)
    return [] if line is None else [SheetSavedOut.of(line)]


@kept.get("/{token}", response_model=SheetOut, responses=NONE | AWAY)
async def open_sheet(request: Request, token: Token, response: Response) -> SheetOut | Response:
    """A kept sheet, as it was answered."""
    sheet = await request.app.state.keeping.call(SheetStore.open, token) if is_token(token) else None
    if sheet is None:
        return _none()
    response.headers.update(PRIVATE)
    return SheetOut.of_sheet(sheet)


@kept.delete("/{token}", status_code=204, response_class=Response, responses=NONE | AWAY)
async def delete_sheet(request: Request, token: Token) -> Response:
    """Delete a sheet for good."""
    gone = await request.app.state.keeping.call(SheetStore.delete, token) if is_token(token) else False
    return Response(status_code=204) if gone else _none()


def _none() -> Response:
    row = ErrorRow("path", None, "there is no such sheet, or no longer", "check the link; a deleted sheet is gone")
    return error_response(404, [row])


router.include_router(keeping)
router.include_router(kept)
