"""The evidence table as a page: what does not agree first, then subject by subject.

Scope    words and figures only; agreement is decided by the row itself. Effects measured on cars stand beside a
         population and are counted apart from formulas and printed tables, of which there are many more and which are
         easier to meet. Differences of per cents are in points, of other values in per cent of the published one.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import groupby

from service.catalogue.evidence import Check
from service.reporting.answers import MODEL_VERSION
from service.reporting.words import MINUS, NBSP, bound, plain

__all__ = ["EvidenceView", "SourceView", "SubjectView", "evidence_view"]

SECOND = (
    "What this model says beside what others published, measured or worked out. Both sides agree where they meet "
    "within a tolerance that was set before they were compared. Nothing was moved to make a comparison fit."
)
SAME, POINTS = "0", "points"


@dataclass(frozen=True, slots=True)
class RowView:
    """One comparison in words."""

    condition: str
    published: str
    model: str
    difference: str
    outside: bool
    remark: str


@dataclass(frozen=True, slots=True)
class SourceView:
    """Comparisons of one source, one below the other."""

    source: str
    mark: str
    rows: tuple[RowView, ...]


@dataclass(frozen=True, slots=True)
class SubjectView:
    """One subject with its sources."""

    name: str
    summary: str
    outside: int
    sources: tuple[SourceView, ...]


@dataclass(frozen=True, slots=True)
class EvidenceView:
    """Everything the page prints."""

    title: str
    headline: str
    second: str
    outside: tuple[SubjectView, ...]
    subjects: tuple[SubjectView, ...]
    version: str


def evidence_view(rows: Sequence[Check]) -> EvidenceView:
    """The page from the table's rows, in their order."""
    cars = [row for row in rows if row.model_low is not None]
    others = [row for row in rows if row.model_low is None]
    headline = f"{_met(cars)} effects measured on cars are met, and {_met(others)} formulas and printed tables."
    return EvidenceView(
        title=headline.rstrip("."),
        headline=headline,
        second=SECOND,
        outside=_subjects([row for row in rows if not row.agrees]),
        subjects=_subjects(rows),
        version=MODEL_VERSION,
    )


def _met(rows: Sequence[Check]) -> str:
    return f"{sum(row.agrees for row in rows)} of {len(rows)}"


def _subjects(rows: Iterable[Check]) -> tuple[SubjectView, ...]:
    """Rows by subject, in order of first appearance."""
    by_subject: dict[str, list[Check]] = {}
    for row in rows:
        by_subject.setdefault(row.subject, []).append(row)
    return tuple(_subject(name, found) for name, found in by_subject.items())


def _subject(name: str, rows: list[Check]) -> SubjectView:
    outside = sum(not row.agrees for row in rows)
    summary = f"all {len(rows)} agree" if not outside else f"{_met(rows)} agree"
    if len(rows) == 1:
        summary = "one comparison, outside" if outside else "one comparison, agrees"
    ordered = sorted(rows, key=lambda row: _first(rows, row))
    sources = tuple(
        SourceView(bound(source), str(mark), tuple(_row(row) for row in found))
        for (source, mark), found in groupby(ordered, lambda row: (row.source, row.mark))
    )
    return SubjectView(name, summary, outside, sources)


def _first(rows: list[Check], row: Check) -> int:
    """Where the source of a row first stands."""
    return next(place for place, each in enumerate(rows) if (each.source, each.mark) == (row.source, row.mark))


def _row(row: Check) -> RowView:
    return RowView(
        condition=bound(row.condition),
        published=_published(row),
        model=_model(row),
        difference=_difference(row),
        outside=not row.agrees,
        remark=row.remark or "",
    )


def _published(row: Check) -> str:
    if row.published is not None:
        return _with_unit(_figure(row.published), row.unit)
    if row.published_low is None:
        return _with_unit(f"at most {_figure(row.published_high)}", row.unit)
    if row.published_high is None:
        return _with_unit(f"at least {_figure(row.published_low)}", row.unit)
    return _with_unit(f"{_figure(row.published_low)} to {_figure(row.published_high)}", row.unit)


def _model(row: Check) -> str:
    """The value; for a population its mean and the span that eight cars in ten lie in."""
    if row.model_low is None:
        return _figure(row.model) if row.published is not None else _figure(float(f"{row.model:.4g}"))
    return f"{plain(row.model)} ({plain(row.model_low)} to {plain(row.model_high)})"


def _difference(row: Check) -> str:
    """How far the model lies from what is published, or from the nearer end of a span."""
    aim = row.published
    if aim is None:
        low = row.published_low if row.published_low is not None else -float("inf")
        high = row.published_high if row.published_high is not None else float("inf")
        if low <= row.model <= high:
            return "within"
        aim = low if row.model < low else high
    gap = row.model - aim
    if row.unit == "%":
        return _signed(gap, 1, POINTS)
    if aim == 0:
        return _signed(gap, 3, row.unit)
    return _signed(100 * gap / abs(aim), 1 if abs(gap) > 0.1 * abs(aim) else 2, "%")


def _signed(value: float, decimals: int, unit: str) -> str:
    """A difference with its sign; nothing but a zero where it rounds away. A narrow column may break before a word."""
    text = plain(value, decimals)
    if not text.strip("0."):
        return SAME
    return f"{'' if text.startswith(MINUS) else '+'}{text}{' ' if unit == POINTS else NBSP}{unit}"


def _figure(value: float) -> str:
    """A figure as its table holds it."""
    return f"{value:.10g}".replace("-", MINUS)


def _with_unit(text: str, unit: str) -> str:
    """A figure and its unit, which may stand below it in a narrow column."""
    return text if unit == "1" else f"{text} {_pretty(unit)}"


def _pretty(unit: str) -> str:
    """A unit with its exponents raised.

    >>> _pretty("kg/m3"), _pretty("N/(km/h)2")
    ('kg/m³', 'N/(km/h)²')
    """
    return unit.replace("m3", "m³").replace("m2", "m²").replace("s2", "s²").replace(")2", ")²")
