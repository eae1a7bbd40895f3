"""A question whose answer is to be kept, of any kind, and two fields about the keeping.

Use      `SheetBody` for a JSON body; `KeepIn` alone for the pages' form, whose question is a query.
Shape    {"kind": "complaint", "question": {…}}, the question as its own address takes it. A body without a kind is a
         question for a quote as it stands.
"""

from collections.abc import Mapping
from typing import Annotated, Literal, Union, get_args

from pydantic import AfterValidator, Discriminator, Field, Tag

from service.intake.charging_plan import ChargingPlanRequest
from service.intake.charging_session import ChargingSessionRequest
from service.intake.comparison import ComparisonRequest
from service.intake.complaint import ComplaintRequest
from service.intake.fields import TAG, Incoming, Whole, said
from service.intake.quote import QuoteRequest, ReaderUnits
from service.intake.speed_table import SpeedTableRequest
from service.intake.year import CommuteRequest

__all__ = ["LONGEST_NOTE", "LONGEST_STAY_DAYS", "SHEETS", "JobSheet", "KeepIn", "SheetBody", "SheetRequest"]

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
    """A question as for a quote, and how its answer is kept: the short way to write a sheet of kind quote."""

    note: Note = NOTE
    expires_in_days: Days = DAYS

    def whole(self) -> "QuoteSheet":
        """The same at length, with what was sent and nothing else."""
        own = {name: getattr(self, name) for name in self.model_fields_set - KeepIn.model_fields.keys()}
        kept = {name: getattr(self, name) for name in self.model_fields_set & KeepIn.model_fields.keys()}
        return QuoteSheet(kind="quote", question=QuoteRequest(**own), **kept)


class QuoteSheet(KeepIn):
    """A quote to keep; its question says in which units its page speaks."""

    kind: Literal["quote"]
    question: QuoteRequest

    @property
    def reader(self) -> ReaderUnits:
        """Units of the kept page."""
        return self.question.units


class ElectricSideSheet(QuoteSheet):
    """Pull, other batteries and standing ready, for a question as for a quote."""

    kind: Literal["electric_side"]


class _OtherSheet(KeepIn):
    """A sheet of a kind whose question has no units of its own."""

    units: ReaderUnits = Field(ReaderUnits.METRIC, description="of the kept page; figures of the answer keep their own")

    @property
    def reader(self) -> ReaderUnits:
        """Units of the kept page."""
        return self.units


class JobSheet(_OtherSheet):
    """How the answer of finished long work is kept: the question is the job's."""


class CommuteSheet(_OtherSheet):
    """A year of a commute to keep."""

    kind: Literal["commute"]
    question: CommuteRequest


class SpeedTableSheet(_OtherSheet):
    """A table of speed and weather to keep."""

    kind: Literal["speed_table"]
    question: SpeedTableRequest


class ChargingSessionSheet(_OtherSheet):
    """A charging session to keep."""

    kind: Literal["charging_session"]
    question: ChargingSessionRequest


class ChargingPlanSheet(_OtherSheet):
    """A charging plan to keep."""

    kind: Literal["charging_plan"]
    question: ChargingPlanRequest


class ComparisonSheet(_OtherSheet):
    """A comparison of routes to keep."""

    kind: Literal["comparison"]
    question: ComparisonRequest


class ComplaintSheet(_OtherSheet):
    """The finding on a complaint to keep."""

    kind: Literal["complaint"]
    question: ComplaintRequest


SHEETS = (
    QuoteSheet,
    CommuteSheet,
    SpeedTableSheet,
    ChargingSessionSheet,
    ChargingPlanSheet,
    ComparisonSheet,
    ComplaintSheet,
    ElectricSideSheet,
)
KINDS = tuple(get_args(sheet.model_fields["kind"].annotation)[0] for sheet in SHEETS)
UNKNOWN_KIND = {
    "message": "there is no such kind of sheet",
    "remedy": f"choose one of: {', '.join(KINDS)}",
    "at": "kind",
    "value": None,
}


def _tag(body: object) -> str | None:
    """Which of the shapes a body has: with a kind, the kind says."""
    kind = body.get("kind", "") if isinstance(body, Mapping) else getattr(body, "kind", "")
    return TAG + kind if isinstance(kind, str) and kind in ("", *KINDS) else None


SheetBody = Annotated[
    Union[
        Annotated[SheetRequest, Tag(TAG)],
        *(Annotated[sheet, Tag(TAG + kind)] for sheet, kind in zip(SHEETS, KINDS, strict=True)),
    ],
    Discriminator(_tag, custom_error_type="said", custom_error_message="{message}", custom_error_context=UNKNOWN_KIND),
]
