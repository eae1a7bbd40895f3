"""Wrappers around the application: headers that every answer carries, and HEAD wherever there is GET.

Source   headers: OWASP secure headers recommendations and W3C Content Security Policy Level 3. Plain ASGI, no copying
         of bodies.
"""

from starlette.datastructures import MutableHeaders
from starlette.types import ASGIApp, Message, Receive, Scope, Send

__all__ = ["ALWAYS", "CONTENT_POLICY", "HeadLikeGet", "SafeHeaders"]

CONTENT_POLICY = (
    "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' data:; connect-src 'self'; "
    "form-action 'self'; base-uri 'none'; frame-ancestors 'none'"
)
ALWAYS = {
    "content-security-policy": CONTENT_POLICY,
    "x-content-type-options": "nosniff",
    "referrer-policy": "same-origin",  # with none at all, browsers hide the origin of our own forms
    "x-frame-options": "DENY",
    "cross-origin-opener-policy": "same-origin",
    "cross-origin-resource-policy": "same-origin",
    "permissions-policy": "camera=(), geolocation=(), microphone=()",
    "cache-control": "private, no-cache",  # pages hold a visit's tokens; files are asked for anew, by their tag
}

BY_TLS = {"strict-transport-security": "max-age=31536000"}  # a year, RFC 6797; other names of the domain are not ours


class SafeHeaders:
    """Adds the headers; one that the route has set itself is left alone."""

    def __init__(self, app: ASGIApp, https: bool = False) -> None:
        self.app, self.always = app, ALWAYS | (BY_TLS if https else {})

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Serve one request."""
        if scope["type"] != "http":
            await self.app(scope, receive, send)
            return

        async def with_headers(message: Message) -> None:
            if message["type"] == "http.response.start":
                headers = MutableHeaders(scope=message)
                for name, value in self.always.items():
                    headers.setdefault(name, value)
            await send(message)

        await self.app(scope, receive, with_headers)


class HeadLikeGet:
    """Answers HEAD with the headers of GET and no body."""

    def __init__(self, app: ASGIApp) -> None:
        self.app = app

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Serve one request."""
        if scope["type"] != "http" or scope["method"] != "HEAD":
            await self.app(scope, receive, send)
            return

        async def without_body(message: Message) -> None:
            if message["type"] == "http.response.body":
                message = {**message, "body": b""}
            await send(message)

        await self.app({**scope, "method": "GET"}, receive, without_body)
