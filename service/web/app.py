"""The application: settings in, everything put together. Nothing is loaded on import.

Order    headers → key → HEAD → own faults → routes, from the outside in, so that every answer carries the headers.
"""

import os
from collections.abc import AsyncIterator
from contextlib import asynccontextmanager
from datetime import date
from pathlib import Path

from fastapi import FastAPI
from starlette.staticfiles import StaticFiles

from service.catalogue import load_catalogue
from service.quotes.build import build_quote
from service.quotes.label import behind_label
from service.reporting.answers import MODEL_VERSION, QuoteOut
from service.specs import Ask, Journey, Weather
from service.web import (
    api,
    comparisons_api,
    complaint_pages,
    complaints_api,
    docs,
    electric_api,
    envelope_pages,
    evidence_pages,
    labels_api,
    pages,
    pilot_api,
    routes_pages,
    speeds_api,
    speeds_pages,
    year_pages,
    years_api,
)
from service.web.access import KeyRequired
from service.web.errors import OwnFaults, add_error_handlers
from service.web.headers import HeadLikeGet, SafeHeaders
from service.web.rendering import template_environment
from service.web.settings import Settings

__all__ = ["app_from_environment", "create_app", "warm_up"]

STATIC = Path(__file__).parent / "static"
ABOUT = """How far a plug-in car goes on electricity alone, how long it takes to charge, and why:
from first-principles physics. Units are in the names; null is unknown. Every failure has one shape:
a list `errors` of field, value, message and remedy."""


def app_from_environment() -> FastAPI:
    """For a server that starts its own processes."""
    return create_app(Settings.from_environment(os.environ))


def create_app(settings: Settings) -> FastAPI:
    """The whole service."""
    app = FastAPI(
        title="Rangewright",
        version=MODEL_VERSION,
        description=ABOUT,
        docs_url=None,
        redoc_url=None,
        redirect_slashes=False,
        lifespan=_lifespan,
    )
    app.state.settings = settings
    add_error_handlers(app)
    _add_routes(app)
    for wrapper in (OwnFaults, HeadLikeGet):
        app.add_middleware(wrapper)
    if settings.access_key is not None:
        app.add_middleware(KeyRequired, key=settings.access_key)
    app.add_middleware(SafeHeaders)
    return app


@asynccontextmanager
async def _lifespan(app: FastAPI) -> AsyncIterator[None]:
    app.state.catalogue = load_catalogue()
    warm_up(app)
    yield


def _add_routes(app: FastAPI) -> None:
    app.include_router(api.router)
    app.include_router(complaints_api.router)
    app.include_router(comparisons_api.router)
    app.include_router(years_api.router)
    app.include_router(labels_api.router)
    app.include_router(electric_api.router)
    app.include_router(docs.router)
    app.include_router(pages.router)
    app.include_router(year_pages.router)
    app.include_router(routes_pages.router)
    app.include_router(complaint_pages.router)
    app.include_router(evidence_pages.router)
    app.include_router(speeds_api.router)
    app.include_router(speeds_pages.router)
    app.include_router(envelope_pages.router)
    app.include_router(pilot_api.router)
    app.state.templates = template_environment()
    app.mount("/static", StaticFiles(directory=STATIC), name="static")


def warm_up(app: FastAPI) -> None:
    """The first page and one answer, so that nothing is compiled or built while somebody waits."""
    catalogue = app.state.catalogue
    for car in catalogue.vehicles.values():
        behind_label(car, catalogue)
    page = pages.page_of({}, catalogue, date.today())
    app.state.templates.get_template("page.html").render(page=page)
    page = envelope_pages.page_of({}, catalogue, date.today())
    app.state.templates.get_template("envelope.html").render(page=page)
    vehicle = next(iter(catalogue.vehicles.values()))
    cycle = next(iter(catalogue.cycles))
    quote = build_quote(Ask(vehicle, Journey(cycle=cycle), Weather(ambient_k=268.15)), catalogue)  # −5 °C: heats, too
    QuoteOut.from_quote(quote).model_dump_json()
    year = year_pages.page_of({}, catalogue, date.today())
    app.state.templates.get_template("year.html").render(page=year)
    speeds_pages.warm_up(catalogue)
    app.openapi()
