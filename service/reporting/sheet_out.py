"""A kept sheet as it leaves: for programs, and as what its page shows beside the frozen answer."""

import json
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import UTC, datetime
from typing import Any, Self

from pydantic import Field

from service.reporting.answers import Outgoing
from service.store import Sheet, Summary

__all__ = ["SheetLine", "SheetOut", "SheetSavedOut", "link_path", "sheet_line"]


def link_path(sheet: Summary) -> str:
    """Where the sheet's page is."""
    return f"/sheets/{sheet.token}"


class SheetSavedOut(Outgoing):
    """What names a kept sheet."""

    kind: str = Field(description="what was asked: quote, complaint, comparison and so on")
    reference: str = Field(description="a number to say; the last digit checks the others")
    link_path: str = Field(description="of the sheet's page; whoever has it can open the sheet")
    saved_at: str = Field(description="ISO 8601 with offset")
    expires_at: str | None = Field(description="ISO 8601 with offset; null: kept until deleted")
    model_version: str = Field(description="of the model that answered")
    title: str
    note: str

    @classmethod
    def of(cls, sheet: Summary, **more: object) -> Self:
        """From the record."""
        return cls(
            kind=sheet.kind,
            reference=sheet.reference,
            link_path=link_path(sheet),
            saved_at=_iso(sheet.saved_at_s),
            expires_at=None if sheet.expires_at_s is None else _iso(sheet.expires_at_s),
            model_version=sheet.model_version,
            title=sheet.title,
            note=sheet.note,
            **more,
        )


class SheetOut(SheetSavedOut):
    """A kept sheet, frozen: question and answer in the shape of the version that gave them."""

    question: dict[str, Any] = Field(description="as it was sent")
    answer: dict[str, Any] = Field(description="as programs got it then")

    @classmethod
    def of_sheet(cls, sheet: Sheet) -> Self:
        """From the record."""
        return cls.of(sheet, question=json.loads(sheet.question), answer=json.loads(sheet.answer))


@dataclass(frozen=True, slots=True)
class SheetLine:
    """A sheet's particulars in words."""

    kind: str
    reference: str
    path: str
    saved_on: str
    expires_on: str
    version: str
    title: str
    note: str


def sheet_line(sheet: Summary, kinds: Mapping[str, str]) -> SheetLine:
    """For a page, dates by the clock of this machine.

    Args:
        kinds: what each kind is called; one that is not known any more keeps the name it was kept under.
    """
    return SheetLine(
        kind=kinds.get(sheet.kind, sheet.kind),
        reference=sheet.reference,
        path=link_path(sheet),
        saved_on=_day(sheet.saved_at_s),
        expires_on="" if sheet.expires_at_s is None else _day(sheet.expires_at_s),
        version=sheet.model_version,
        title=sheet.title,
        note=sheet.note,
    )


def _iso(seconds: int) -> str:
    return datetime.fromtimestamp(seconds, UTC).isoformat()


def _day(seconds: int) -> str:
    day = datetime.fromtimestamp(seconds).astimezone()
    return f"{day.day} {day:%B %Y}"
