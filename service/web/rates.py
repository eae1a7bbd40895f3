"""How often one client may ask: a bucket of requests each, filled evenly, in memory that does not grow.

Scope    a process counts for itself. A client is an address; of IPv6 the network of 64 bits, which one household has.
         The word of a proxy about whom it speaks for counts only if the settings name that proxy.
Source   token bucket: common practice; RFC 6585 (429) and RFC 9110 (Retry-After).
"""

import math
import time
from collections import OrderedDict
from collections.abc import Callable
from ipaddress import IPv4Address, IPv6Address, ip_address, ip_network

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
    address = _address((scope.get("client") or ("", 0))[0])
    spoken_for = [each for line in Headers(scope=scope).getlist("x-forwarded-for") for each in line.split(",")]
    while str(address) in proxies and spoken_for:  # each proxy adds at the end whom it saw
        address = _address(spoken_for.pop())
    return _network(address)


def _address(text: str) -> IPv4Address | IPv6Address | None:
    """What was written; an address of IPv4 inside of IPv6 as itself.

    >>> str(_address("::ffff:10.0.0.7")), str(_address(" 192.0.2.7:4711")), _address("who")
    ('10.0.0.7', '192.0.2.7', None)
    """
    plain = text.partition(":")[0] if text.count(":") == 1 else text  # some proxies add the port
    try:
        known = ip_address(plain.strip())
    except ValueError:
        return None
    return getattr(known, "ipv4_mapped", None) or known


def _network(address: IPv4Address | IPv6Address | None) -> str:
    """What one client has.

    >>> _network(ip_address("2001:db8:1:2:3:4:5:6")), _network(ip_address("192.0.2.7")), _network(None)
    ('2001:db8:1:2::/64', '192.0.2.7', 'unknown')
    """
    if address is None:
        return "unknown"
    return str(address) if address.version == 4 else str(ip_network((address, 64), strict=False))
