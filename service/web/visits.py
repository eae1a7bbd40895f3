"""A browser's visit: one signed cookie, which says whether the key was shown, and tokens for forms.

Scope    nothing is remembered here: the cookie holds a random name, its time and whether the key was shown, under a
         signature. A visit ends after twelve hours, or when secret or key change.
Source   RFC 6265 (cookies, SameSite in its revision); OWASP cheat sheet on cross-site request forgery (signed tokens).
"""

import hashlib
import hmac
import secrets
import time
from collections.abc import Callable
from dataclasses import dataclass
from http.cookies import CookieError, SimpleCookie

from starlette.datastructures import Headers, MutableHeaders
from starlette.types import ASGIApp, Message, Receive, Scope, Send

__all__ = ["COOKIE", "LASTS_S", "Visit", "Visits", "WithVisit"]

COOKIE = "rangewright"
LASTS_S = 12 * 3600  # a working day with its breaks


@dataclass(frozen=True, slots=True)
class Visit:
    """One browser, for some hours."""

    name: str
    since_s: int
    has_key: bool = False


class Visits:
    """Writes and reads cookies and form tokens under one secret."""

    def __init__(self, secret: bytes, clock: Callable[[], float] = time.time) -> None:
        self._secret = secret
        self._clock = clock

    def new(self, has_key: bool = False) -> Visit:
        """A visit that begins now."""
        return Visit(secrets.token_urlsafe(16), int(self._clock()), has_key)

    def cookie(self, visit: Visit) -> str:
        """Its text, signed."""
        text = f"{visit.name}.{visit.since_s}.{int(visit.has_key)}"
        return f"{text}.{self._signed('visit', text)}"

    def read(self, cookie: str) -> Visit | None:
        """The visit of a cookie; None if it is not ours or too old."""
        text, _, signature = cookie.rpartition(".")
        if not hmac.compare_digest(signature.encode(), self._signed("visit", text).encode()):
            return None
        name, since_s, has_key = text.split(".")
        visit = Visit(name, int(since_s), has_key == "1")
        return visit if 0 <= self._clock() - visit.since_s < LASTS_S else None

    def form_token(self, visit: Visit) -> str:
        """What a form of this visit carries."""
        return self._signed("form", visit.name)

    def is_form_token(self, visit: Visit, token: str) -> bool:
        """True for that."""
        return hmac.compare_digest(self.form_token(visit).encode(), token.encode("utf-8", "surrogateescape"))

    def _signed(self, purpose: str, text: str) -> str:
        return hmac.new(
            self._secret, f"{purpose}:{text}".encode("utf-8", "surrogateescape"), hashlib.sha256
        ).hexdigest()


class WithVisit:
    """Gives every request its visit as `request.state.visit`, and the browser its cookie with a page.

    A route that sets another visit (entering, leaving) changes the cookie.
    """

    def __init__(self, app: ASGIApp, visits: Visits, secure: bool) -> None:
        self.app, self.visits, self.secure = app, visits, secure

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Serve one request."""
        if scope["type"] != "http":
            await self.app(scope, receive, send)
            return
        known = self.visits.read(_cookie_of(Headers(scope=scope)))
        state = scope.setdefault("state", {})
        state["visit"] = known or self.visits.new()
        first = state["visit"]

        async def with_cookie(message: Message) -> None:
            if message["type"] == "http.response.start":
                headers, visit = MutableHeaders(scope=message), state["visit"]
                is_page = headers.get("content-type", "").startswith("text/html")
                if visit is not first or (known is None and is_page):
                    headers.append("set-cookie", self._set(visit, scope["scheme"]))
            await send(message)

        await self.app(scope, receive, with_cookie)

    def _set(self, visit: Visit, scheme: str) -> str:
        """Lax, so that a link from a message still opens; forms have their tokens."""
        secure = "; Secure" if self.secure or scheme == "https" else ""
        return f"{COOKIE}={self.visits.cookie(visit)}; Path=/; Max-Age={LASTS_S}; HttpOnly; SameSite=Lax{secure}"


def _cookie_of(headers: Headers) -> str:
    """Ours, or nothing."""
    try:
        cookies = SimpleCookie("; ".join(headers.getlist("cookie")))
    except CookieError:
        return ""
    return cookies[COOKIE].value if COOKIE in cookies else ""
