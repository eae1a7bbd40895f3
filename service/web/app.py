"""The application: settings in, everything put together. Nothing is loaded on import.

Order    headers → known host → rate → visit → access → origin → upload limits → HEAD → own faults → routes, from the
         outside in, so that every answer carries the headers and nothing is read that is refused.
"""

import asyncio
import gc
import hashlib
import hmac
import multiprocessing
import os
import signal
import threading
from collections.abc import AsyncIterator
from contextlib import asynccontextmanager, suppress
from datetime import date
from pathlib import Path

from fastapi import FastAPI
from starlette.staticfiles import StaticFiles

from service.catalogue import load_catalogue
from service.quotes import drives
from service.quotes.build import build_quote
from service.quotes.label import behind_label
from service.reporting.answers import MODEL_VERSION, QuoteOut
from service.specs import Ask, Journey, Weather
from service.store import jobs_at, store_at
from service.trips.journey import trace_of
from service.web import (
    api,
    charging_pages,
    comparison_jobs_api,
    comparisons_api,
    complaint_pages,
    complaints_api,
    docs,
    electric_api,
    envelope_pages,
    evidence_pages,
    files_api,
    labels_api,
    login_pages,
    pages,
    pilot_api,
    plan_pages,
    plans_api,
    routes_jobs_pages,
    routes_pages,
    sessions_api,
    sheets_api,
    sheets_pages,
    speeds_api,
    speeds_pages,
    year_pages,
    years_api,
)
from service.web.access import Access, Recognised
from service.web.errors import OwnFaults, add_error_handlers
from service.web.headers import HeadLikeGet, SafeHeaders
from service.web.keeping import Keeping
from service.web.kept_answers import KeptAnswers
from service.web.long_work import LongWork
from service.web.origins import KnownHost, SameOrigin
from service.web.rates import Buckets, RateLimit
from service.web.rendering import template_environment
from service.web.settings import Settings, is_loopback
from service.web.uploads import HeldUploads
from service.web.visits import Visits, WithVisit
from service.web.workroom import Workroom, cores

__all__ = ["app_from_environment", "create_app", "warm_up"]

STATIC = Path(__file__).parent / "static"
TRIES_A_MINUTE = 10  # wrong keys from one address, all processes together
ABOUT = """How far a plug-in car goes on electricity alone, how long it takes to charge, and why:
from first-principles physics. Units are in the names; null is unknown. Every failure has one shape:
a list `errors` of field, value, message and remedy."""


def app_from_environment() -> FastAPI:
    """For a server that starts its own processes; each ends with the one that started it."""
    starter = multiprocessing.parent_process()
    if starter is not None:
        threading.Thread(target=_end_after, args=(starter,), daemon=True).start()
    return create_app(Settings.from_environment(os.environ))


def _end_after(starter: multiprocessing.process.BaseProcess) -> None:
    """Nobody would stop or replace this process any more, and it would keep the port from the next start."""
    starter.join()
    os.kill(os.getpid(), signal.SIGTERM)


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
    app.state.workroom = Workroom(max(1, cores() // settings.workers), settings.queue, settings.longest_s)
    app.state.kept_answers = KeptAnswers(settings.cache_mb * 1_000_000)
    app.state.keeping = Keeping(store_at(settings.database) if settings.database else None)
    app.state.long_work = LongWork(
        jobs_at(settings.database) if settings.database else None, app.state.workroom.threads
    )
    app.state.visits = Visits(_signing_secret(settings))
    app.state.recognised = Recognised(settings.access_key) if settings.access_key else None
    app.state.tries = Buckets(max(1, TRIES_A_MINUTE // settings.workers))
    _add_routes(app)
    _add_wrappers(app, settings)
    return app


def _signing_secret(settings: Settings) -> bytes:
    """Another for another key, so that a new key ends the visits that the old one opened."""
    key = settings.access_key.text if settings.access_key else ""
    return hmac.new(settings.secret, key.encode(), hashlib.sha256).digest()


def _add_wrappers(app: FastAPI, settings: Settings) -> None:
    """From the inside out."""
    app.add_middleware(OwnFaults)
    app.add_middleware(HeadLikeGet)
    app.add_middleware(HeldUploads, longest_s=settings.sending_s)
    app.add_middleware(SameOrigin, settings=settings)
    app.add_middleware(Access, settings=settings, recognised=app.state.recognised, tries=app.state.tries)
    app.add_middleware(WithVisit, visits=app.state.visits, secure=settings.is_https)
    if settings.rate_per_minute:
        app.add_middleware(RateLimit, buckets=Buckets(settings.rate_per_minute), proxies=settings.proxies)
    if is_loopback(settings.host):
        app.add_middleware(KnownHost, settings=settings)
    app.add_middleware(SafeHeaders, https=settings.is_https)


@asynccontextmanager
async def _lifespan(app: FastAPI) -> AsyncIterator[None]:
    app.state.catalogue = load_catalogue()
    await app.state.keeping.start()
    warm_up(app)
    if not gc.isenabled():  # `__main__` turned it off
        gc.enable()
        gc.freeze()  # what a start builds stays: nobody need look through it again
    app.state.long_work.start(app.state.catalogue)
    purging = asyncio.create_task(app.state.keeping.purge_for_ever())
    yield
    purging.cancel()
    with suppress(asyncio.CancelledError):
        await purging
    app.state.workroom.close()
    app.state.long_work.close()
    app.state.keeping.close()


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
    app.include_router(sheets_api.router)
    app.include_router(sheets_pages.router)
    app.include_router(login_pages.router)
    app.include_router(plans_api.tariffs)
    app.include_router(plans_api.router)
    app.include_router(plan_pages.router)
    app.include_router(sessions_api.router)
    app.include_router(charging_pages.router)
    app.include_router(files_api.router)
    app.include_router(comparison_jobs_api.router)
    app.include_router(routes_jobs_pages.router)
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
    drives.warm_up(trace_of(Journey(cycle=cycle), catalogue))
    speeds_pages.warm_up(catalogue)
    session = charging_pages.page_of({}, catalogue, date.today())
    app.state.templates.get_template("charging.html").render(page=session)
    for tariff in ({}, {"tariff": "depot-demand-usd"}):  # two ways of finding the cheapest
        plan = plan_pages.page_of(tariff, catalogue, date.today())
    app.state.templates.get_template("plan.html").render(page=plan)
    for name in app.state.templates.list_templates():
        app.state.templates.get_template(name)
    app.openapi()
