"""What may come in with a request at most: bytes, seconds, and nothing packed.

Scope    for every route; some hold their bodies tighter (`bodies`, `routes_pages`). A packed body is refused before it
         is read; what is packed by its nature, a workbook, is unpacked in one place only, within bounds
         (`intake.archive`).
Source   RFC 9110: 408, 413, 415 and Content-Encoding; RFC 9112 §6.3: one end of a body. Sizes and times: own choice.
"""

import asyncio

from starlette.datastructures import Headers
from starlette.exceptions import HTTPException
from starlette.types import ASGIApp, Message, Receive, Scope, Send

from service.errors import ErrorRow
from service.web.errors import error_response

__all__ = ["LARGEST_REQUEST", "HeldUploads"]

TWO_ENDS = "the body says twice where it ends, which hides a second request from proxies", "send one of both headers"
LARGEST_REQUEST = 4 * 1024 * 1024  # bytes; the largest form is a table of 1 MB, typed and as a file


class HeldUploads:
    """Stops a body that is packed, too large or too slow."""

    def __init__(self, app: ASGIApp, longest_s: float) -> None:
        self.app, self.longest_s = app, longest_s

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Serve one request."""
        if scope["type"] != "http":
            await self.app(scope, receive, send)
            return
        headers = Headers(scope=scope)
        if "content-length" in headers and "transfer-encoding" in headers:
            row = ErrorRow("header.content-length", headers["content-length"], *TWO_ENDS)
            await error_response(400, [row], {"Connection": "close"})(scope, receive, send)
            return
        packed = headers.get("content-encoding", "identity").strip().lower()
        if packed not in ("", "identity"):
            row = ErrorRow("header.content-encoding", packed, "packed bodies are not read", "send it as it is")
            await error_response(415, [row], {"Accept-Encoding": "identity"})(scope, receive, send)
            return
        await self.app(scope, _Body(receive, self.longest_s), send)


class _Body:
    """`receive` of one request, counted and timed until the body is whole."""

    def __init__(self, receive: Receive, longest_s: float) -> None:
        self.receive = receive
        self.ends_s = asyncio.get_running_loop().time() + longest_s
        self.size = 0
        self.whole = False

    async def __call__(self) -> Message:
        if self.whole:
            return await self.receive()
        try:
            async with asyncio.timeout_at(self.ends_s):
                message = await self.receive()
        except TimeoutError:
            raise HTTPException(408, headers={"Connection": "close"}) from None
        self.size += len(message.get("body", b""))
        self.whole = not message.get("more_body", False)
        if self.size > LARGEST_REQUEST:
            raise HTTPException(413, headers={"Connection": "close"})
        return message
