"""One client's connection: how long it may wait for its client, how much a request's head may hold, how many there are.

Waiting   until the first request is whole, and from the end of an answer until the next one. Whoever sends a head byte
          by byte, or nothing, is cut off. A body has its own time (`uploads`); an answer that nobody reads is given up
          by the system after as long (`server`).
Full      the connection that has waited longest makes room, so that idle ones shut nobody out.
Source    RFC 9112: what a request is, 400. Sizes, times and numbers: own choice.
"""

import asyncio
from typing import Any

import h11
from uvicorn.protocols.http.h11_impl import H11Protocol

try:
    import resource
except ImportError:  # Windows
    resource = None

from service.errors import ErrorRow
from service.web.errors import error_response
from service.web.headers import ALWAYS

__all__ = ["LARGEST_HEAD", "HeldConnection", "most_connections"]

LARGEST_HEAD = 64 * 1024  # bytes of address and headers; a whole question in a link is 4 kB
MOST_CONNECTIONS = 800  # of one process, so that heads hold 50 MB at most
NOT_READ = ErrorRow(
    "request",
    None,
    "the address or the headers are no HTTP, or longer than 64 kB",
    "correct them, and send what is long as the body of a POST",
)


class HeldConnection(H11Protocol):
    """The server's own connection with a clock, a place among a bounded number, and refusals in the one shape."""

    def __init__(self, *given: Any, longest_s: float, **named: Any) -> None:
        super().__init__(*given, **named)
        self.longest_s = longest_s
        self._clock: asyncio.TimerHandle | None = None

    @property
    def waits(self) -> bool:
        """True while it is the client's turn."""
        return self.cycle is None or self.cycle.response_complete

    @property
    def ends_s(self) -> float:
        """When the client's turn is over; never, while it is ours."""
        return self._clock.when() if self._clock else float("inf")

    def connection_made(self, transport: asyncio.Transport) -> None:  # type: ignore[override]
        """A client has come."""
        super().connection_made(transport)
        self._set_clock()
        if len(self.connections) > most_connections():
            _make_room(self.connections)

    def handle_events(self) -> None:
        """Something was sent."""
        super().handle_events()
        self._set_clock()

    def connection_lost(self, exc: Exception | None) -> None:
        """The client is gone."""
        super().connection_lost(exc)
        self._stop_clock()

    def send_400_response(self, msg: str) -> None:
        """What is no request is refused, if an answer has not begun yet."""
        if self.conn.our_state in (h11.IDLE, h11.SEND_RESPONSE):
            answer = error_response(400, [NOT_READ], ALWAYS | {"Connection": "close"})
            head = h11.Response(status_code=400, headers=answer.raw_headers, reason=b"Bad Request")
            for part in (head, h11.Data(bytes(answer.body)), h11.EndOfMessage()):
                self.transport.write(self.conn.send(part))
        self.transport.close()

    def _should_upgrade(self) -> bool:
        """Never: this service speaks plain HTTP/1.1 alone, and need not warn of who offers more."""
        return False

    def _set_clock(self) -> None:
        """It runs through while it is the client's turn, whatever drips in."""
        if not self.waits:
            self._stop_clock()
        elif self._clock is None:
            self._clock = self.loop.call_later(self.longest_s, self.transport.close)

    def _stop_clock(self) -> None:
        if self._clock is not None:
            self._clock.cancel()
            self._clock = None


def most_connections() -> int:
    """As many as the system leaves: a quarter of the files that a process may open is for answers."""
    if resource is None:
        return MOST_CONNECTIONS // 2
    files, _ = resource.getrlimit(resource.RLIMIT_NOFILE)
    return MOST_CONNECTIONS if files == resource.RLIM_INFINITY else min(MOST_CONNECTIONS, files * 3 // 4)


def _make_room(connections: set[HeldConnection]) -> None:
    longest = min(connections, key=lambda each: each.ends_s)
    if longest.waits:
        longest.transport.abort()
