"""What the model has been compared with: the page, and the same table for programs."""

from collections.abc import Mapping
from dataclasses import dataclass

from fastapi import APIRouter, Request
from fastapi.responses import HTMLResponse

from service.catalogue import Catalogue
from service.reporting.evidence_out import EvidenceEntry
from service.reporting.evidence_view import EvidenceView, evidence_view
from service.web.deps import CatalogueDep
from service.web.house import Link, links_from
from service.web.work_routes import WorkRoute

__all__ = ["EvidencePage", "page_of", "router"]

PATH = "/evidence"
router = APIRouter(route_class=WorkRoute)


@dataclass(frozen=True, slots=True)
class EvidencePage:
    """Everything the template gets."""

    answer: EvidenceView
    links: tuple[Link, ...]


@router.get(PATH, response_class=HTMLResponse, include_in_schema=False)
def show_page(request: Request, catalogue: CatalogueDep) -> HTMLResponse:
    """The page."""
    page = page_of(request.query_params, catalogue)
    return HTMLResponse(request.app.state.templates.get_template("evidence.html").render(page=page))


@router.get(f"/api{PATH}", tags=["service"])
def list_evidence(catalogue: CatalogueDep) -> list[EvidenceEntry]:
    """What the model says beside what others published, measured or worked out, misses included."""
    return [EvidenceEntry.of(row) for row in catalogue.evidence.values()]


def page_of(given: Mapping[str, str], catalogue: Catalogue) -> EvidencePage:
    """The table, and links back that keep the question.

    Args:
        given: the query string by name: a question carried here from another page.
    """
    return EvidencePage(evidence_view(list(catalogue.evidence.values())), links_from(PATH, given))
