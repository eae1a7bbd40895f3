"""How often one client may ask: a bucket of requests each, filled evenly, in memory that does not grow.

Scope    a process counts for itself. A client is an address; of IPv6 the network of 64 bits, which one household has.
         The word of a proxy about whom it speaks for counts only if the settings name that proxy.
Source   token bucket: common practice; RFC 6585 (429) and RFC 9110 (Retry-After).
"""

import ipaddress
import math
import time
from collections import OrderedDict
from collections.abc import Callable

from starlette.datastructures import Headers
from starlette.types import ASGIApp, Receive, Scope, Send

from service.errors import ErrorRow
from service.web.errors import error_response

__all__ = ["Buckets", "RateLimit", "client_of", "too_many"]

MOST_CLIENTS = 10_000  # about 2 MB; the one not heard of for longest is forgotten
FREE_PATHS = frozenset({"/healthz"})


class Buckets:
    """A bucket for each name."""

    def __init__(self, per_minute: int, clock: Callable[[], float] = time.monotonic) -> None:
        self._full = float(per_minute)
        self._per_s = per_minute / 60
        self._clock = clock
        self._levels: OrderedDict[str, tuple[float, float]] = OrderedDict()  # requests left, when

    def wait_s(self, name: str) -> float:
        """Take one; 0 if there was one, else how long until there is.

        >>> two_a_minute = Buckets(2, clock=lambda: 0.0)
        >>> [two_a_minute.wait_s("a") for _ in range(3)]
        [0.0, 0.0, 30.0]
        """
        now = self._clock()
        left, then = self._levels.pop(name, (self._full, now))
        left = min(self._full, left + (now - then) * self._per_s)
        taken = left >= 1
        self._levels[name] = (left - 1 if taken else left, now)
        if len(self._levels) > MOST_CLIENTS:
            self._levels.popitem(last=False)
        return 0.0 if taken else (1 - left) / self._per_s

    def __len__(self) -> int:
        return len(self._levels)


class RateLimit:
    """Refuses a client that asks too often."""

    def __init__(self, app: ASGIApp, buckets: Buckets, proxies: frozenset[str]) -> None:
        self.app, self.buckets, self.proxies = app, buckets, proxies

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Serve one request."""
        wait_s = 0.0
        if scope["type"] == "http" and scope["path"] not in FREE_PATHS:
            wait_s = self.buckets.wait_s(client_of(scope, self.proxies))
        if wait_s:
            await too_many(wait_s)(scope, receive, send)
            return
        await self.app(scope, receive, send)


def too_many(wait_s: float) -> ASGIApp:
    """The refusal."""
    whole_s = math.ceil(wait_s)
    row = ErrorRow("request", None, "too many requests came from this address", f"try again in {whole_s} s")
    return error_response(429, [row], {"Retry-After": str(whole_s)})


def client_of(scope: Scope, proxies: frozenset[str]) -> str:
    """The name of who asks."""
    address = _plain((scope.get("client") or ("unknown", 0))[0])
    spoken_for = ",".join(Headers(scope=scope).getlist("x-forwarded-for")).split(",")
    while address in proxies and spoken_for:  # each proxy adds at the end whom it saw
        address = _plain(spoken_for.pop().strip()) or address
    return _network(address)


def _plain(address: str) -> str:
    """As it is usually written; an address of IPv4 inside of IPv6 as itself.

    >>> _plain("::ffff:10.0.0.7"), _plain("0:0:0:0:0:0:0:1"), _plain("who")
    ('10.0.0.7', '::1', 'who')
    """
    try:
        known = ipaddress.ip_address(address)
    except ValueError:
        return address
    return str(getattr(known, "ipv4_mapped", None) or known)


def _network(address: str) -> str:
    """What one client has.

    >>> _network("2001:db8:1:2:3:4:5:6"), _network("192.0.2.7"), _network("who")
    ('2001:db8:1:2::/64', '192.0.2.7', 'unknown')
    """
    try:
        known = ipaddress.ip_address(address)
    except ValueError:
        return "unknown"
    return str(known) if known.version == 4 else str(ipaddress.ip_network((known, 64), strict=False))
