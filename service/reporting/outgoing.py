"""What all that leaves has in common: frozen models, bands, figures rounded to what they are worth."""

from typing import Self

from pydantic import BaseModel, ConfigDict

from service.quotes import answer

__all__ = ["BandOut", "Outgoing", "rounded"]

DIGITS = 5  # significant; the model is good for three, the rest lets sums be checked


def rounded(value: float | None, digits: int = DIGITS) -> float | None:
    """To significant digits.

    >>> rounded(0.0123456789), rounded(123456.7), rounded(None)
    (0.012346, 123460.0, None)
    """
    return None if value is None else float(f"{value:.{digits}g}")


class Outgoing(BaseModel):
    """Base of everything that leaves."""

    model_config = ConfigDict(frozen=True, protected_namespaces=())


class BandOut(Outgoing):
    """Nine in ten reach p10, half reach p50, one in ten reaches p90."""

    p10: float | None
    p50: float
    p90: float | None

    @classmethod
    def of(cls, band: answer.Band, factor: float = 1.0) -> Self:
        """A band in the unit that `factor` gives."""
        scaled = band.scaled(factor)
        return cls(p10=rounded(scaled.p10), p50=rounded(scaled.p50), p90=rounded(scaled.p90))

    @classmethod
    def of_optional(cls, band: answer.Band | None, factor: float = 1.0) -> Self | None:
        """The same, null where there is none."""
        return None if band is None else cls.of(band, factor)
