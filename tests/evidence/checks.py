"""How one comparison is made: a source that several rows share, and three shapes of a row.

Scope    a single printed value, a span (either end may be open), a population of cars. The printed text of a value sets
         its tolerance unless another is given: 0.6 of its last digit, half a digit and the rounding of our own.
"""

from dataclasses import dataclass

import numpy as np

from service.catalogue.evidence import Check, Mark

__all__ = ["Source"]

LAST_DIGIT = 0.6


def decimals_of(text: str) -> int:
    """Decimals of a printed number.

    >>> decimals_of("-12"), decimals_of("0.914")
    (0, 3)
    """
    return len(text.partition(".")[2])


@dataclass(frozen=True, slots=True)
class Source:
    """Where the other side of some rows comes from."""

    subject: str
    source: str
    mark: Mark
    remark: str | None = None  # where both sides differ in what they count

    def value(self, condition: str, printed: str, model: float, unit: str, tolerance: float | None = None) -> Check:
        """A printed value; the model to one decimal more.

        Args:
            printed: as the source prints it, digits and all.
            tolerance: in `unit`, where the printed digits do not set it.
        """
        decimals = decimals_of(printed)
        allowed = LAST_DIGIT * 10.0**-decimals if tolerance is None else tolerance
        return self._check(condition, float(printed), None, None, round(float(model), decimals + 1), unit, allowed)

    def span(self, condition: str, low: float | None, high: float | None, model: float, unit: str) -> Check:
        """A span that holds the value, or a bound that it keeps."""
        return self._check(condition, None, low, high, float(f"{model:.5g}"), unit, 0.0)

    def population(
        self, condition: str, published: float | tuple[float | None, float | None], sampled: np.ndarray, unit: str
    ) -> Check:
        """A published effect beside the mean and the 10–90 % span of a population."""
        low, high = (round(float(end), 1) for end in np.quantile(sampled, (0.1, 0.9)))
        mean = round(float(np.mean(sampled)), 1)
        if isinstance(published, tuple):
            return self._check(condition, None, *published, mean, unit, 0.0, low, high)
        return self._check(condition, published, None, None, mean, unit, 0.0, low, high)

    def _check(self, condition, published, low, high, model, unit, tolerance, model_low=None, model_high=None) -> Check:
        return Check(
            id="",  # given when the table is put together
            subject=self.subject,
            condition=condition,
            source=self.source,
            mark=self.mark,
            published=published,
            published_low=low,
            published_high=high,
            model=model + 0.0,  # never -0.0
            model_low=model_low,
            model_high=model_high,
            unit=unit,
            tolerance=float(f"{tolerance:.3g}"),
            remark=self.remark,
        )
