"""What a page that answers questions is to those that keep answers: one record a kind, for all of them alike.

Scope    each page module has its own `KIND`; `kept_kinds` is the list of them. A kind says how a form and how a
         program's question are answered; keeping, opening and listing sheets know no more of it.
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import date
from typing import Any, Generic, Protocol, TypeVar

from pydantic import BaseModel

from service.catalogue import Catalogue
from service.reporting.form_view import FormView
from service.reporting.words import Units

__all__ = ["AnsweredPage", "Kind", "Solved"]

View = TypeVar("View")


@dataclass(frozen=True, slots=True)
class Solved(Generic[View]):
    """A question with its answer: what the page shows, and what programs get, written only when it is kept."""

    view: View
    question: BaseModel
    out: Callable[[], BaseModel]


class AnsweredPage(Protocol):
    """A page of any kind, as far as keeping its answer is concerned; `solved` is None where there is no answer."""

    form: FormView
    solved: Solved[Any] | None
    asked: str  # the question as it came, as a query
    held: tuple[tuple[str, str], ...]  # inputs that are too long for one


@dataclass(frozen=True, slots=True)
class Kind:
    """One kind of question.

    name: in the store and for programs.
    words: what a sheet of it is, in the list of kept sheets.
    path: of the page that asks it.
    part: template of its answer.
    look: what the style sheet calls its page.
    page_of: a form, answered.
    solve: a program's question, answered for readers in these units; raises ServiceError.
    """

    name: str
    words: str
    path: str
    part: str
    look: str
    page_of: Callable[[Mapping[str, str], Catalogue, date], AnsweredPage]
    solve: Callable[[Any, Units, Catalogue, date], Solved[Any]]
