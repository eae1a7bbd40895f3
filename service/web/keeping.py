"""Sheets between pages, programs and the store: what is frozen, and calls that hold nobody up.

Frozen   the answer as JSON and the finished part of the page. A later release opens both as they are: numbers, words
         and drawings stay those of the version that gave them.
Threads  the store has a few of its own, so that a database that hangs does not hold up those who ask for quotes.
"""

import asyncio
import logging
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass
from datetime import date
from typing import TypeVar
from urllib.parse import parse_qsl, urlencode

from jinja2 import Environment

from service.catalogue import Catalogue
from service.errors import BadInput, BadInputs
from service.intake.assumed import listed
from service.intake.form import FormResult
from service.intake.sheet import KeepIn, SheetRequest
from service.quotes.answer import Quote
from service.quotes.build import build_quote
from service.reporting.answers import MODEL_VERSION, QuoteOut
from service.reporting.views import AnswerView, Setting, answer_view
from service.reporting.words import Units
from service.store import NewSheet, SheetStore, StoreAway
from service.web.house import carried
from service.web.pages import PLUG_IN_HOUR, answered, elsewhere, hour_of, read_question

__all__ = ["Keeping", "sheet_of_query", "sheet_of_request"]

logger = logging.getLogger("rangewright")
THREADS = 4
DAY_S = 86_400
PURGE_EVERY_S = 3600
LONGEST_TITLE = 300  # characters the store holds
MOST_INPUTS = 300  # of a query

Result = TypeVar("Result")


class Keeping:
    """The store as the web sees it; without one every call says that nothing is kept."""

    def __init__(self, store: SheetStore | None) -> None:
        self.store = store
        self._threads = ThreadPoolExecutor(THREADS, thread_name_prefix="store")

    async def call(self, work: Callable[..., Result], *given: object) -> Result:
        """`work(store, *given)` in a thread of the store's; raises StoreAway."""
        if self.store is None:
            raise StoreAway("this service keeps no sheets", "whoever runs it sets RANGEWRIGHT_DATABASE_FILE", DAY_S)
        return await asyncio.get_running_loop().run_in_executor(self._threads, work, self.store, *given)

    async def start(self) -> None:
        """Bring the database to its shape, if it can be had; quotes do not wait for it."""
        if self.store is not None:
            try:
                await self.call(SheetStore.prepare)
            except StoreAway as error:
                logger.warning("the saved sheets cannot be used: %s", error)

    async def purge_for_ever(self) -> None:
        """Delete what has expired, now and every hour."""
        while self.store is not None:
            try:
                await self.call(SheetStore.purge)
            except StoreAway as error:
                logger.warning("expired sheets are not deleted yet: %s", error)
            await asyncio.sleep(PURGE_EVERY_S)

    def close(self) -> None:
        """Give the connections back."""
        if self.store is not None:
            self.store.close()


@dataclass(frozen=True, slots=True)
class FrozenPage:
    """What the template of an answer gets when it is kept: no form, no links."""

    answer: AnswerView
    form: None = None


def sheet_of_request(request: SheetRequest, catalogue: Catalogue, templates: Environment, today: date) -> NewSheet:
    """Answer a question that came as JSON, ready to be kept."""
    quote = listed(build_quote(request.ask(catalogue), catalogue), request)
    units = Units(request.units)
    cycle = request.journey.cycle
    journey = f"test cycle, {catalogue.cycles[cycle].name}" if cycle else "drive"
    setting = Setting(units, journey, False, PLUG_IN_HOUR, today, MODEL_VERSION)
    view = answer_view(quote, elsewhere(quote, catalogue), setting)
    return _frozen(quote, view, units, request.question(), "", request.keep(), templates)


def sheet_of_query(query: str, keep: KeepIn, catalogue: Catalogue, templates: Environment, today: date) -> NewSheet:
    """Answer a page's question, ready to be kept; raises ServiceError if it has no answer."""
    try:
        given = dict(parse_qsl(query, max_num_fields=MOST_INPUTS))
    except ValueError:
        raise BadInput("question", None, "the question has too many inputs", "ask it again on the page") from None
    result: FormResult = read_question(given, catalogue)
    if result.ask is None or result.request is None:
        raise BadInputs(BadInput(row.field, row.value, row.message, row.remedy) for row in result.errors.values())
    hour = hour_of(given)
    quote, view = answered(result, hour, catalogue, today)
    values = dict(result.values)
    again = carried(values | {"plug_in_hour": str(hour)}) + "&" + urlencode({"typed_units": values["units"]})
    question = result.request.model_dump_json(exclude_unset=True)
    return _frozen(quote, view, Units(values["units"]), question, again, keep, templates)


def _frozen(
    quote: Quote, view: AnswerView, units: Units, question: str, query: str, keep: KeepIn, templates: Environment
) -> NewSheet:
    page = templates.get_template("part.html").render(page=FrozenPage(view))
    return NewSheet(
        model_version=MODEL_VERSION,
        title=_storable(view.title)[:LONGEST_TITLE],
        question=question,
        query=query,
        answer=QuoteOut.from_quote(quote, units).model_dump_json(),
        page=_storable(page),
        note=keep.note,
        lasts_s=None if keep.expires_in_days is None else keep.expires_in_days * DAY_S,
    )


def _storable(text: str) -> str:
    """Without the one character that PostgreSQL does not hold."""
    return text.replace("\x00", "")
