"""The access key: one secret that every request shows, where one is set.

Scope    `Authorization: Bearer KEY`, `X-Access-Key: KEY`, or the password of `Authorization: Basic` with any name, so
         that a browser can ask for it. /healthz stays open: it tells nothing. Use it behind TLS only.
Source   RFC 6750 (bearer), RFC 7617 (basic).
"""

import base64
import binascii
import hmac
from collections.abc import Iterator

from starlette.datastructures import Headers
from starlette.types import ASGIApp, Receive, Scope, Send

from service.errors import ErrorRow
from service.web.errors import error_response

__all__ = ["KeyRequired"]

OPEN_PATHS = frozenset({"/healthz"})


class KeyRequired:
    """Lets only requests with the key through."""

    def __init__(self, app: ASGIApp, key: str) -> None:
        self.app = app
        self.key = key.encode()

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Serve one request."""
        if scope["type"] != "http" or scope["path"] in OPEN_PATHS or self._shown(Headers(scope=scope)):
            await self.app(scope, receive, send)
            return
        row = ErrorRow(
            "header.authorization",
            None,
            "no valid access key was shown",
            "send the key as bearer token, as X-Access-Key, or as password with any name",
        )
        challenge = {"WWW-Authenticate": 'Basic realm="Rangewright", charset="UTF-8"'}
        await error_response(401, [row], challenge)(scope, receive, send)

    def _shown(self, headers: Headers) -> bool:
        """Compare in constant time, every candidate."""
        matches = [hmac.compare_digest(candidate, self.key) for candidate in _candidates(headers)]
        return any(matches)


def _candidates(headers: Headers) -> Iterator[bytes]:
    """Every key that the request shows."""
    if "x-access-key" in headers:
        yield headers["x-access-key"].encode()
    scheme, _, rest = headers.get("authorization", "").partition(" ")
    if scheme.lower() == "bearer":
        yield rest.strip().encode()
    if scheme.lower() == "basic":
        yield _password(rest.strip())


def _password(credentials: str) -> bytes:
    """What follows the first colon.

    >>> _password(base64.b64encode(b"anyone:the key").decode())
    b'the key'
    """
    try:
        return base64.b64decode(credentials, validate=True).partition(b":")[2]
    except (binascii.Error, ValueError):
        return b""
