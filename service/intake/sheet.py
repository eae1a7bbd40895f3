"""A question whose answer is to be kept: the quote's own fields, and two about the keeping.

Use      `SheetRequest` for a JSON body; `KeepIn` alone for the page's form, whose question is a query.
"""

from typing import Annotated

from pydantic import AfterValidator, Field

from service.intake.fields import Incoming, Whole, said
from service.intake.quote import QuoteRequest

__all__ = ["LONGEST_NOTE", "LONGEST_STAY_DAYS", "KeepIn", "SheetRequest"]

LONGEST_NOTE = 200  # characters: a word to know it by, no record of a person
LONGEST_STAY_DAYS = 3650


def _short_and_plain(text: str) -> str:
    if len(text) > LONGEST_NOTE:
        raise said(f"it has {len(text)} characters", f"give at most {LONGEST_NOTE} characters")
    if not text.replace("\r\n", " ").replace("\n", " ").isprintable():  # half characters, too
        raise said("it holds characters that cannot be printed", "give plain text")
    return " ".join(text.split())


def _some_days(days: int | None) -> int | None:
    if days is not None and not 1 <= days <= LONGEST_STAY_DAYS:
        raise said(
            f"{days} days is outside 1 to {LONGEST_STAY_DAYS} days", f"give 1 to {LONGEST_STAY_DAYS} days", value=days
        )
    return days


Note = Annotated[str, AfterValidator(_short_and_plain)]
Days = Annotated[Whole | None, AfterValidator(_some_days)]
NOTE = Field("", description=f"at most {LONGEST_NOTE} characters to know it by; no names needed")
DAYS = Field(None, description=f"1 to {LONGEST_STAY_DAYS}; null: until somebody deletes it")


class KeepIn(Incoming):
    """How a sheet is kept."""

    note: Note = NOTE
    expires_in_days: Days = DAYS


class SheetRequest(QuoteRequest):
    """A question as for a quote, and how its answer is kept."""

    note: Note = NOTE
    expires_in_days: Days = DAYS

    def keep(self) -> KeepIn:
        """The keeping alone."""
        return KeepIn(note=self.note, expires_in_days=self.expires_in_days)

    def question(self) -> str:
        """The question alone as JSON, with what was sent and nothing else."""
        own = {"note", "expires_in_days"}
        return self.model_dump_json(exclude_unset=True, exclude=own)
