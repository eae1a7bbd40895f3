"""What long work is made of, and a comparison as such: a chunk a route."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass

from service.catalogue import Catalogue
from service.fleet.answer import Comparison
from service.fleet.ask import ComparisonAsk
from service.fleet.compare import gathered, prepared, route_cells
from service.jobs.cells import cells_from, cells_text

__all__ = ["Task", "comparison_from", "comparison_task"]


@dataclass(frozen=True, slots=True)
class Task:
    """Work in chunks that know nothing of each other; `solve` is called from several threads."""

    total: int
    solve: Callable[[int], str]  # number of a chunk, its result
    finish: Callable[[Mapping[int, str]], str]  # every result by number, the answer


def comparison_task(
    question: ComparisonAsk, catalogue: Catalogue, written: Callable[[Comparison], str] = lambda _: ""
) -> Task:
    """A comparison, a chunk a route.

    Args:
        written: the comparison as it is to be kept.
    Errors: as `compare`.
    """
    ready = prepared(question, catalogue)

    def solve(number: int) -> str:
        return cells_text(route_cells(question, question.routes[number], ready, catalogue))

    def finish(results: Mapping[int, str]) -> str:
        cells = [cell for number in range(len(question.routes)) for cell in cells_from(results[number])]
        return written(gathered(question, ready, cells, catalogue))

    return Task(len(question.routes), solve, finish)


def comparison_from(question: ComparisonAsk, results: Mapping[int, str], catalogue: Catalogue) -> Comparison:
    """The comparison from its finished chunks."""
    cells = [cell for number in range(len(question.routes)) for cell in cells_from(results[number])]
    return gathered(question, prepared(question, catalogue), cells, catalogue)
