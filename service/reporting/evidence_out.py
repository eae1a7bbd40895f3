"""The evidence table as it leaves for programs."""

from typing import Self

from pydantic import Field

from service.catalogue.evidence import Check, Mark
from service.reporting.answers import Outgoing

__all__ = ["EvidenceEntry"]


class EvidenceEntry(Outgoing):
    """One comparison. Numbers are in `unit`; 1 is a ratio; null is unknown or an open end."""

    id: str
    subject: str
    condition: str
    source: str
    mark: Mark = Field(description="what the published side rests on")
    published: float | None = Field(description="null where a span stands for it")
    published_low: float | None
    published_high: float | None
    model: float = Field(description="for a population its mean")
    model_low: float | None = Field(description="for a population: one car in ten stays below")
    model_high: float | None = Field(description="for a population: one car in ten exceeds it")
    unit: str
    tolerance: float
    agrees: bool
    remark: str | None = Field(description="where both sides differ in what they count")

    @classmethod
    def of(cls, row: Check) -> Self:
        """From the record."""
        return cls(**{name: getattr(row, name) for name in cls.model_fields})
