"""What the pages of one question share: two routes each, a form, and an answer or what is wrong with the question.

Scope    a page says how its question is read, worked and shown; the rest is here. Its templates are NAME.html and
         NAME_part.html, at /NAME and /NAME-part.
"""

from collections.abc import Callable, Collection, Mapping
from dataclasses import dataclass, replace
from datetime import date
from typing import Any, Generic, TypeVar

from fastapi import APIRouter, Request
from fastapi.responses import HTMLResponse

from service.catalogue import Catalogue
from service.errors import BadInput, BadInputs, ErrorRow, ServiceError
from service.intake.form import FIELDS, Filled, default_of, unit_of
from service.reporting.form_layouts import names_in
from service.reporting.form_view import Choices, FormView, Layout, form_view
from service.reporting.words import Units
from service.web.deps import CatalogueDep
from service.web.form_files import NOTHING_READ, Reading
from service.web.house import Link, as_asked, beside_inputs, carried, links_from, stowed
from service.web.keep_form import keep_form
from service.web.kinds import Kind, Solved
from service.web.work_routes import WorkRoute

__all__ = ["Form", "QuestionPage", "answered", "page_router", "question_of", "question_page", "units_of"]

Answer = TypeVar("Answer")
View = TypeVar("View")
Question = TypeVar("Question")


@dataclass(frozen=True, slots=True)
class QuestionPage(Generic[View]):
    """Everything the templates get. `query` leads to the same question elsewhere, as a table for instance."""

    answer: View | None
    form: FormView
    links: tuple[Link, ...]
    query: str
    status: int
    solved: Solved[View] | None
    asked: str
    held: tuple[tuple[str, str], ...] = ()
    read: tuple[str, ...] = ()  # what became of a file that came with the form


@dataclass(frozen=True, slots=True)
class Form:
    """A page's form: its layout, what may be chosen, and what differs from the other forms.

    beside, usual: units and meanings of an empty input that replace the common ones, by name.
    apart: names that the page reads, but that are no field of a question.
    """

    layout: Layout
    choices: Choices
    beside: Mapping[str, str] | None = None
    usual: Mapping[str, str] | None = None
    apart: Collection[str] = ()


def page_router(kind: Kind) -> APIRouter:
    """The whole page and the part of it that refreshes in place."""
    router = APIRouter(include_in_schema=False, route_class=WorkRoute)

    def rendered(request: Request, catalogue: Catalogue, template: str) -> HTMLResponse:
        page: QuestionPage[Any] = kind.page_of(request.query_params, catalogue, date.today())
        keep = keep_form(request, kind, page)
        html = request.app.state.templates.get_template(template).render(page=page, keep=keep)
        return HTMLResponse(html, page.status)

    @router.get(kind.path, response_class=HTMLResponse)
    def show_page(request: Request, catalogue: CatalogueDep) -> HTMLResponse:
        return rendered(request, catalogue, f"{kind.path[1:]}.html")

    @router.get(f"{kind.path}-part", response_class=HTMLResponse)
    def show_part(request: Request, catalogue: CatalogueDep) -> HTMLResponse:
        return rendered(request, catalogue, kind.part)

    return router


def units_of(values: Mapping[str, str]) -> Units:
    """The reader's units, from the values of a form."""
    return Units.US if values["units"] == Units.US else Units.METRIC


def question_of(filled: Filled[Question]) -> Question:
    """The question of a form; its errors raised where it is none, for a program that asked."""
    if filled.question is None:
        raise BadInputs(BadInput(row.field, row.value, row.message, row.remedy) for row in filled.errors.values())
    return filled.question


def answered(
    work: Callable[[], Answer], others: Mapping[str, str] | None = None
) -> tuple[Answer | None, Mapping[str, ErrorRow]]:
    """What the work gives, or what it finds wrong, by input; `others` as in `beside_inputs`."""
    try:
        return work(), {}
    except ServiceError as error:
        return None, beside_inputs(error, others)


def question_page(
    path: str,
    given: Mapping[str, str],
    whole: Mapping[str, str],
    values: Mapping[str, str],
    errors: Mapping[str, ErrorRow],
    solved: Solved[View] | None,
    form: Form,
    reading: Reading = NOTHING_READ,
) -> QuestionPage[View]:
    """The page of a question that was answered or not.

    Args:
        given: the query as it came, for the links and for keeping.
        whole: the query over the starting question: what has no input here travels along.
        values: of the form's inputs, as they are shown.
        solved: its view has the `question` as rows, for the folded lines of the form.
        reading: of a file that came with the form.
    """
    units, answer = units_of(values), solved.view if solved else None
    view = form_view(
        values,
        errors,
        {name: unit_of(name, units) for name in FIELDS} | dict(form.beside or {}),
        {name: default_of(name, units) for name in FIELDS} | dict(form.usual or {}),
        form.choices,
        {row.name: row.value for row in answer.question} if answer else {},
        form.layout,
        {name: reading.lines for name in reading.errors},
    )
    view = replace(view, hidden=view.hidden + stowed(whole, {*names_in(form.layout), *form.apart}))
    status = 200 if answer else 422
    asked = as_asked(given)
    return QuestionPage(answer, view, links_from(path, given), carried(given), status, solved, asked, read=reading.read)
