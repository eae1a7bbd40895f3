"""Who speaks to us: only pages of our own change anything, and only by a name that is ours.

Scope    a request that may change something is refused if a page of another site sent it. On a machine's own address
         the host's name must be one of that machine or of the public address, so that no foreign name that is made to
         point here can read the pages.
Source   W3C Fetch Metadata (Sec-Fetch-Site); RFC 6454 (Origin); OWASP cheat sheet on cross-site request forgery.
"""

from urllib.parse import urlsplit

from starlette.datastructures import Headers
from starlette.types import ASGIApp, Receive, Scope, Send

from service.errors import ErrorRow
from service.web.errors import error_response
from service.web.settings import Settings, is_loopback

__all__ = ["KnownHost", "SameOrigin"]

SAFE_METHODS = frozenset({"GET", "HEAD", "OPTIONS"})
OUR_OWN = frozenset({"same-origin", "none"})  # none: typed, or from a bookmark


class SameOrigin:
    """Refuses what pages of other sites send. Programs, which name no site, pass."""

    def __init__(self, app: ASGIApp, settings: Settings) -> None:
        self.app = app
        self.public = urlsplit(settings.public_url).netloc if settings.public_url else ""

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Serve one request."""
        foreign = (
            scope["type"] == "http" and scope["method"] not in SAFE_METHODS and self._foreign(Headers(scope=scope))
        )
        if foreign:
            name, value = foreign
            row = ErrorRow(
                f"header.{name}", value, "a page of another site sent this", "open our own page and send it there"
            )
            await error_response(403, [row])(scope, receive, send)
            return
        await self.app(scope, receive, send)

    def _foreign(self, headers: Headers) -> tuple[str, str] | None:
        """The header that tells, and what it says. The browser's own word on the site counts for more than a name."""
        site = headers.get("sec-fetch-site")
        if site is not None:
            return None if site in OUR_OWN else ("sec-fetch-site", site)
        origin = headers.get("origin")
        if origin is None or _place(origin) in {headers.get("host", ""), self.public}:
            return None
        return "origin", origin


class KnownHost:
    """Refuses names that are not ours; used where only this machine can reach the service."""

    def __init__(self, app: ASGIApp, settings: Settings) -> None:
        self.app = app
        self.public = urlsplit(settings.public_url).hostname if settings.public_url else None

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Serve one request."""
        if scope["type"] == "http":
            host = Headers(scope=scope).get("host", "")
            name = _name(host)
            if name is None or not (is_loopback(name) or name == self.public):
                row = ErrorRow(
                    "header.host",
                    host,
                    "the service is not known by this name",
                    "use its address, or set RANGEWRIGHT_PUBLIC_URL to the one under which others reach it",
                )
                await error_response(421, [row])(scope, receive, send)
                return
        await self.app(scope, receive, send)


def _place(origin: str) -> str | None:
    try:
        return urlsplit(origin).netloc or None
    except ValueError:
        return None


def _name(host: str) -> str | None:
    """Without the port.

    >>> _name("localhost:8000"), _name("[::1]:8000"), _name("[::1")
    ('localhost', '::1', None)
    """
    try:
        return urlsplit(f"//{host}").hostname
    except ValueError:
        return None
