"""The form that keeps the answer of a page, the same on every page that answers, and how it is read."""

from collections.abc import Mapping
from dataclasses import dataclass

from fastapi import Request
from pydantic import ValidationError

from service.errors import BadInputs
from service.intake.errors import faults_of
from service.intake.sheet import KeepIn
from service.web.forms import form_token
from service.web.kinds import AnsweredPage, Kind

__all__ = ["KeepForm", "how_kept", "keep_form", "keep_job_form"]

MOST_DIGITS = 9  # of a number of days; Python refuses to read very long ones
CHOICES = (("", "until it is deleted"), ("30", "30 days"), ("90", "90 days"), ("365", "a year"))


@dataclass(frozen=True, slots=True)
class KeepForm:
    """What the template gets. `hidden`: what was answered."""

    action: str
    hidden: tuple[tuple[str, str], ...]
    choices: tuple[tuple[str, str], ...] = CHOICES


def keep_form(request: Request, kind: Kind, page: AnsweredPage) -> KeepForm | None:
    """The form, where sheets are kept at all and there is something to keep."""
    return _form(request, page, "/sheets", ("kind", kind.name), ("question", page.asked), *page.held)


def keep_job_form(request: Request, page: AnsweredPage, path: str) -> KeepForm | None:
    """The same for long work, whose question and answer are at its own address."""
    return _form(request, page, f"{path}/sheet")


def _form(request: Request, page: AnsweredPage, action: str, *hidden: tuple[str, str]) -> KeepForm | None:
    if page.solved is None or request.app.state.keeping.store is None:
        return None
    return KeepForm(action, (("form_token", form_token(request)), *hidden))


def how_kept(given: Mapping[str, str]) -> KeepIn:
    """How the filled form says that the sheet is kept; raises BadInputs."""
    days = given.get("expires_in_days", "")
    whole = int(days) if days.isdecimal() and len(days) <= MOST_DIGITS else days
    fields = {"note": given.get("note", ""), "expires_in_days": whole or None}
    try:
        return KeepIn.model_validate(fields)
    except ValidationError as error:
        raise BadInputs(faults_of(error.errors())) from None
