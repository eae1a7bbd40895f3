"""The finding on a complaint as it leaves: the contract's names, people's units.

Scope    `diagnosis.complaint` in SI → pydantic models; the page has a view of its own.
"""

from typing import Self

from pydantic import Field

from service import units
from service.catalogue.separating_tests import SeparatingTest
from service.diagnosis.complaint import CauseFound, ComplaintAnswer, Expected, Missing
from service.reporting.answers import (
    MODEL_VERSION,
    WH_PER_KM,
    AssumptionOut,
    BandOut,
    Outgoing,
    VehicleOut,
    assumption_out,
    ledger_out,
    rounded,
)

__all__ = ["CauseOut", "ComplaintOut", "ExpectedOut", "MissingOut"]


class ExpectedOut(BandOut):
    """95 in 100 healthy cars end from p2_5 to p97_5."""

    p2_5: float
    p97_5: float

    @classmethod
    def of_expected(cls, expected: Expected) -> Self:
        """In km."""
        band = expected.band.scaled(1 / 1000)
        return cls(
            p2_5=rounded(expected.p2_5 / 1000),
            p10=rounded(band.p10),
            p50=rounded(band.p50),
            p90=rounded(band.p90),
            p97_5=rounded(expected.p97_5 / 1000),
        )


class MissingOut(Outgoing):
    """An input that nobody gave."""

    input: str = Field(description="its path in the question")
    question: str
    why: str
    narrows_km: float = Field(description="off the width from p2_5 to p97_5, if it were known")
    decides: bool = Field(description="its plausible values lead to different verdicts")

    @classmethod
    def of(cls, missing: Missing) -> Self:
        """In km."""
        return cls(
            input=missing.input,
            question=missing.question,
            why=missing.why,
            narrows_km=rounded(missing.narrows_m / 1000),
            decides=missing.decides,
        )


class CauseOut(Outgoing):
    """One explanation, alone."""

    cause: str
    name: str
    family: str = Field(description="constant_force, speed_squared, standing_load, regeneration or capacity")
    typical: str = Field(description="the case that wh_per_km and km hold for; as measured where counted")
    wh_per_km: float = Field(description="what it adds to the consumption that a workshop would work out")
    km: float = Field(description="what it takes off the expected distance")
    needed: str | None = Field(
        description="how large it would have to be to explain the whole shortfall; null: no size"
    )
    needed_size: float | None
    unit: str
    plausible: bool = Field(description="that size is one that workshops meet")
    counted: bool = Field(description="measured, so part of the expectation already")
    test: str
    limit: str
    limit_source: str
    limit_mark: str = Field(description="standard, common practice, maker's figure or from memory")
    size_source: str

    @classmethod
    def of(cls, found: CauseFound) -> Self:
        """With its row of the table."""
        about = found.about
        needed = None if found.needed_size is None else _said(about, found.needed_size)
        return cls(
            cause=about.id,
            name=about.name,
            family=about.family,
            typical=_said(about, found.size),
            wh_per_km=rounded(found.apparent_j_per_m * WH_PER_KM),
            km=rounded(found.lost_m / 1000),
            needed=needed,
            needed_size=rounded(found.needed_size),
            unit=about.unit,
            plausible=found.plausible,
            counted=found.counted,
            test=about.test,
            limit=about.limit,
            limit_source=about.limit_source,
            limit_mark=about.limit_mark,
            size_source=about.size_source,
        )


class ComplaintOut(Outgoing):
    """Is the distance normal in these conditions, and what would explain it if not?"""

    model_version: str
    vehicle: VehicleOut
    complaint: str = Field(description="the customer's words, as sent")
    reported_km: float
    expected_km: ExpectedOut = Field(description="tyre pressure as measured")
    expected_at_placard_km: float | None = Field(description="typical car at placard pressure; null: nothing measured")
    percentile: float = Field(description="share of healthy cars that go less far than reported, 0 to 100")
    verdict: str = Field(description="normal, outside or insufficient")
    verdict_sentence: str
    missing: list[MissingOut]
    expected_ledger_wh_per_km: dict[str, float] = Field(description="by cause, leaving the cells, typical car")
    measured_wh_per_km: float = Field(description="what the cells give between both charges over the reported distance")
    causes: list[CauseOut] = Field(description="each alone, the largest at its typical size first")
    cautions: list[str]
    assumptions: list[AssumptionOut]
    notes: list[str]

    @classmethod
    def from_answer(cls, answer: ComplaintAnswer) -> Self:
        """The whole finding in people's units."""
        car = answer.complaint.ask.vehicle
        at_placard = answer.at_placard_m
        return cls(
            model_version=MODEL_VERSION,
            vehicle=VehicleOut(id=car.id, name=car.name, kind=car.kind),
            complaint=answer.complaint.words,
            reported_km=rounded(answer.complaint.reported_m / 1000),
            expected_km=ExpectedOut.of_expected(answer.expected),
            expected_at_placard_km=None if at_placard is None else rounded(at_placard / 1000),
            percentile=rounded(answer.percentile),
            verdict=answer.verdict,
            verdict_sentence=answer.sentence,
            missing=[MissingOut.of(each) for each in answer.missing],
            expected_ledger_wh_per_km=ledger_out(answer.ledger_j_per_m),
            measured_wh_per_km=rounded(answer.measured_j_per_m / units.WH_PER_KM),
            causes=[CauseOut.of(each) for each in answer.causes],
            cautions=list(answer.cautions),
            assumptions=[assumption_out(each) for each in answer.assumptions],
            notes=list(answer.notes),
        )


def _said(about: SeparatingTest, size: float) -> str:
    """A size in words, to two digits."""
    return about.wording.format(f"{rounded(size, 2):g}")
