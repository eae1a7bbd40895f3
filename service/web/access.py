"""Who may do what: the access key, and what goes without it.

Free     /healthz, the styles, the page to enter, and a single sheet for whoever has its link.
Key      everything else, where a key is set. With RANGEWRIGHT_OPEN=1 beside it only what concerns other people's
         sheets: finding and deleting them.
No key   on this machine alone everything is free. Where others can reach the service, nobody finds sheets by number.
Shown    as bearer token (programs) or on the page to enter (people), which a signed cookie remembers. Use TLS.
Source   RFC 6750 (bearer).
"""

import asyncio
import hashlib
import hmac
import re
import secrets
from enum import Enum, auto
from urllib.parse import quote

from fastapi.concurrency import run_in_threadpool
from starlette.datastructures import Headers
from starlette.responses import RedirectResponse
from starlette.types import ASGIApp, Receive, Scope, Send

from service.errors import ErrorRow
from service.web.errors import error_response
from service.web.keys import KeyHash
from service.web.rates import Buckets, client_of, too_many
from service.web.settings import Settings

__all__ = ["Access", "Need", "Recognised", "need_of"]

LONGEST_KEY = 200
ENTER = "/login"
FREE_PATHS = frozenset({"/healthz", ENTER})
LISTS = frozenset({"/sheets", "/api/sheets"})
ONE_SHEET = re.compile(r"(/api)?/sheets/[^/]+")
LEAVES = re.compile(r"/api/sheets/[^/]+|/sheets/[^/]+/delete")


class Need(Enum):
    """What a request is about."""

    FREE = auto()
    USE = auto()  # asking and keeping
    DELETE = auto()
    FIND = auto()  # sheets of others


def need_of(method: str, path: str) -> Need:
    """By method and path.

    >>> need_of("GET", "/"), need_of("GET", "/sheets/abc"), need_of("DELETE", "/api/sheets/abc")
    (<Need.USE: 2>, <Need.FREE: 1>, <Need.DELETE: 3>)
    >>> need_of("GET", "/api/sheets"), need_of("POST", "/api/sheets")
    (<Need.FIND: 4>, <Need.USE: 2>)
    """
    reads = method in ("GET", "HEAD")
    if path in FREE_PATHS or path.startswith("/static/") or (reads and ONE_SHEET.fullmatch(path)):
        return Need.FREE
    if LEAVES.fullmatch(path):
        return Need.DELETE
    return Need.FIND if reads and path in LISTS else Need.USE


class Recognised:
    """Recognises the key: slowly the first time, which a guess pays each time, and at once from then on."""

    def __init__(self, key: KeyHash) -> None:
        self._key = key
        self._salt = secrets.token_bytes(32)
        self._seen = b""
        self._one = asyncio.Lock()

    def at_once(self, candidate: str) -> bool:
        """True for the key once it has been recognised."""
        return bool(self._seen) and hmac.compare_digest(self._quick(candidate), self._seen)

    async def in_turn(self, candidate: str) -> bool:
        """True for the key. One after the other: many who guess take 16 MB and a core together, not each."""
        async with self._one:
            return await run_in_threadpool(self.slowly, candidate)

    def slowly(self, candidate: str) -> bool:
        """True for the key. Takes 0.2 s of a thread."""
        if len(candidate) > LONGEST_KEY or not self._key.matches(candidate):
            return False
        self._seen = self._quick(candidate)
        return True

    def _quick(self, candidate: str) -> bytes:
        return hmac.new(self._salt, candidate.encode("utf-8", "surrogateescape"), hashlib.sha256).digest()


class Access:
    """Lets through who may; `request.state.may_find` says whether the reader may look for sheets."""

    def __init__(self, app: ASGIApp, settings: Settings, recognised: Recognised | None, tries: Buckets) -> None:
        self.app = app
        self.recognised = recognised
        self.tries = tries
        self.open = settings.open
        self.reachable = settings.is_reachable
        self.proxies = settings.proxies

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Serve one request."""
        if scope["type"] != "http":
            await self.app(scope, receive, send)
            return
        need = need_of(scope["method"], scope["path"])
        refusal = None
        if self.recognised is None:
            scope["state"]["may_find"] = not self.reachable
            if need is Need.FIND and self.reachable:
                refusal = _nobody_finds()
        else:
            entered = scope["state"]["visit"].has_key
            if not entered and (need is not Need.FREE or "authorization" in Headers(scope=scope)):
                entered, refusal = await self._by_bearer(scope)
            scope["state"]["may_find"] = entered
            free = need is Need.FREE or (need is Need.USE and self.open)
            if free or entered:
                refusal = None
            elif refusal is None:
                refusal = _enter(scope)
        await (refusal or self.app)(scope, receive, send)

    async def _by_bearer(self, scope: Scope) -> tuple[bool, ASGIApp | None]:
        """Whether the key is shown; the refusal of somebody who tries too many."""
        scheme, _, candidate = Headers(scope=scope).get("authorization", "").partition(" ")
        candidate = candidate.strip()
        if scheme.lower() != "bearer" or not candidate:
            return False, None
        if self.recognised.at_once(candidate):
            return True, None
        wait_s = self.tries.wait_s(client_of(scope, self.proxies))
        if wait_s:
            return False, too_many(wait_s)
        return await self.recognised.in_turn(candidate), None


def _enter(scope: Scope) -> ASGIApp:
    """To people the page to enter, to programs the refusal."""
    if scope["method"] in ("GET", "HEAD") and "text/html" in Headers(scope=scope).get("accept", ""):
        query = scope["query_string"].decode("ascii", "replace")
        here = scope["path"] + (f"?{query}" if query else "")
        return RedirectResponse(f"{ENTER}?next={quote(here, safe='')}", 303)
    row = ErrorRow(
        "header.authorization",
        None,
        "no valid access key was shown",
        "send the key as bearer token, or enter at /login",
    )
    return error_response(401, [row], {"WWW-Authenticate": 'Bearer realm="Rangewright"'})


def _nobody_finds() -> ASGIApp:
    row = ErrorRow(
        "path",
        None,
        "anyone can reach this service, so nobody may look for sheets by number",
        "open a sheet by its link; whoever runs the service sets RANGEWRIGHT_ACCESS_KEY to find them by number",
    )
    return error_response(403, [row])
