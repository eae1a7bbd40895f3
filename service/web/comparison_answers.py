"""A comparison answered for its page and for programs, wherever it was worked out."""

from dataclasses import replace
from datetime import date

from service.catalogue import Catalogue
from service.fleet.answer import Comparison
from service.fleet.compare import compare
from service.intake.comparison import ComparisonRequest, with_defaults
from service.reporting.comparison_out import ComparisonOut
from service.reporting.routes_view import RoutesView, routes_view
from service.reporting.words import Units
from service.web.kinds import Solved

__all__ = ["comparison_solved", "solve"]


def solve(request: ComparisonRequest, units: Units, catalogue: Catalogue, today: date) -> Solved[RoutesView]:
    """A program's question."""
    comparison = with_defaults(compare(request.ask(catalogue), catalogue), request)
    return comparison_solved(comparison, request, units, today)


def comparison_solved(
    comparison: Comparison, request: ComparisonRequest, units: Units, today: date, told: tuple[str, ...] = ()
) -> Solved[RoutesView]:
    """One that is worked out already.

    Args:
        told: what is worth knowing besides.
    """
    view = routes_view(comparison, units, today)
    view = replace(view, notes=(*told, *view.notes))
    return Solved(view, request, lambda: ComparisonOut.from_comparison(comparison, units))
