"""What is kept of an answer: the question, the answer as JSON and the finished part of the page.

Scope    a later release opens all of it as it is: numbers, words and drawings stay those of the version that gave them.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from typing import Any
from urllib.parse import parse_qsl, urlencode

from jinja2 import Environment

from service.catalogue import Catalogue
from service.errors import BadInput, BadInputs
from service.intake.sheet import KeepIn
from service.reporting.answers import MODEL_VERSION
from service.reporting.form_view import FormView
from service.store import NewSheet
from service.web.kinds import AnsweredPage, Kind, Solved

__all__ = ["frozen", "question_in", "sheet_of_form", "sheet_of_page"]

DAY_S = 86_400
LONGEST_TITLE = 300  # characters the store holds
MOST_INPUTS = 300  # of a question


@dataclass(frozen=True, slots=True)
class FrozenPage:
    """What the template of an answer gets when it is kept: no form, no links."""

    answer: Any
    form: None = None
    asking: bool = False


def sheet_of_form(
    kind: Kind,
    given: Mapping[str, str],
    keep: KeepIn,
    catalogue: Catalogue,
    templates: Environment,
    today: date,
) -> NewSheet:
    """Answer a page's question, ready to be kept; raises ServiceError if it has no answer."""
    return sheet_of_page(kind, kind.page_of(given, catalogue, today), keep, templates)


def sheet_of_page(kind: Kind, page: AnsweredPage, keep: KeepIn, templates: Environment) -> NewSheet:
    """What a page shows, ready to be kept; raises BadInputs where it shows no answer."""
    if page.solved is None:
        raise BadInputs(
            BadInput(fault.target, None, f"{fault.label}: {fault.text.rstrip('.')}", "ask it again on the page")
            for fault in page.form.faults
        )
    return frozen(kind, page.solved, urlencode(_filled(page.form)), keep, templates)


def frozen(kind: Kind, solved: Solved[Any], query: str, keep: KeepIn, templates: Environment) -> NewSheet:
    """An answer, ready to be kept.

    Args:
        query: the filled form that asked; empty where a program did.
    """
    page = templates.get_template(kind.part).render(page=FrozenPage(solved.view))
    return NewSheet(
        model_version=MODEL_VERSION,
        kind=kind.name,
        title=_storable(solved.view.title)[:LONGEST_TITLE],
        question=solved.question.model_dump_json(exclude_unset=True),
        query=query,
        answer=solved.out().model_dump_json(),
        page=_storable(page),
        note=keep.note,
        lasts_s=None if keep.expires_in_days is None else keep.expires_in_days * DAY_S,
    )


def question_in(query: str) -> dict[str, str]:
    """Inputs by name, as a form's query holds them; raises BadInput for too many."""
    try:
        return dict(parse_qsl(query, keep_blank_values=True, max_num_fields=MOST_INPUTS))
    except ValueError:
        raise BadInput("question", None, "the question has too many inputs", "ask it again on the page") from None


def _filled(form: FormView) -> dict[str, str]:
    """The form as a browser would send it, inputs left empty left out."""
    inputs = [each for group in form.groups for block in group.blocks for each in block.inputs]
    return {name: text for name, text in [*form.hidden, *((each.name, each.value) for each in inputs)] if text}


def _storable(text: str) -> str:
    """Without the one character that PostgreSQL does not hold."""
    return text.replace("\x00", "")
