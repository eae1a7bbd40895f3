"""Every line of a comparison in every month: words for each cell, and sentences where a table has no room."""

from collections.abc import Sequence
from dataclasses import dataclass

from service.fleet.answer import Comparison, RouteLine, Verdict
from service.reporting import routes_sentences as said
from service.reporting.view_parts import Row
from service.reporting.words import Units, joined, plain
from service.units import celsius_from_kelvin, fahrenheit_from_celsius

__all__ = ["MonthRow", "month_head", "month_rows", "others_pass"]


@dataclass(frozen=True, slots=True)
class MonthRow:
    """The same line in all months: a word for each, and the months of each word for narrow screens."""

    route: str
    vehicle: str
    words: tuple[str, ...]
    told: str
    on_paper: bool  # what passes all the year is told in a sentence there


def month_head(comparison: Comparison, at: int, units: Units) -> Row:
    """The head of a column: a short name, and the temperature that stands for it."""
    month, place = comparison.ask.months[at], comparison.ask.place
    celsius = celsius_from_kelvin(month.weather.ambient_k)
    degrees = plain(fahrenheit_from_celsius(celsius) if units is Units.US else celsius)
    return Row(said.shortened(month.name, place), f"{degrees}°", month.name)


def month_rows(
    comparison: Comparison, shown: Sequence[RouteLine], names: dict[str, str], on_paper: int
) -> tuple[MonthRow, ...]:
    """The shown lines in all months."""
    verdicts = {(cell.route, cell.vehicle, cell.month): cell.verdict for cell in comparison.cells}
    months = [month.name for month in comparison.ask.months]
    rows = []
    for at, line in enumerate(shown):
        found = [verdicts[line.worst.route, line.worst.vehicle, month] for month in months]
        words = tuple(said.VERDICT_WORDS[verdict] for verdict in found)
        rows.append(
            MonthRow(
                route=line.worst.route,
                vehicle=names[line.worst.vehicle],
                words=words,
                told=_told(months, words),
                on_paper=at < on_paper and line.worst.verdict is not Verdict.PASS,
            )
        )
    return tuple(rows)


def others_pass(comparison: Comparison) -> str:
    """How many lines pass in every month, for the sheet, which leaves them out of its table."""
    passing = sum(line.worst.verdict is Verdict.PASS for line in comparison.lines)
    if not passing:
        return ""
    if passing == len(comparison.lines):
        return "Every route passes with every vehicle in every month."
    return f"{'The other line passes' if passing == 1 else f'The other {passing} lines pass'} in every month."


def _told(months: Sequence[str], words: Sequence[str]) -> str:
    """The months of each word.

    >>> _told(["January", "February", "March"], ["fails", "fails", "passes"])
    'passes in March, fails in the other months'
    """
    if len(set(words)) == 1:
        return f"{words[0]} {'throughout' if len(words) > 1 else 'in ' + months[0]}"
    parts = []
    for word in said.VERDICT_WORDS.values():
        of = [month for month, each in zip(months, words, strict=True) if each == word]
        if len(of) > len(months) / 2:
            parts.append(f"{word} in the other months" if len(set(words)) > 1 else f"{word} throughout")
        elif of:
            parts.append(f"{word} in {joined(of)}")
    return ", ".join(sorted(parts, key=lambda part: part.endswith("other months")))
