"""How the service is run, from the environment; checked once, before anything listens.

RANGEWRIGHT_HOST        address to listen on; 127.0.0.1, this machine only
RANGEWRIGHT_PORT        0 to 65535; 8000. 0 takes any free port
RANGEWRIGHT_WORKERS     processes, 1 to 64; 1
RANGEWRIGHT_PUBLIC_URL  address under which others reach the service, for printed links; none
RANGEWRIGHT_ACCESS_KEY  key that every request must show; none
RANGEWRIGHT_OPEN        1 lets anyone in beyond this machine; 0
"""

import ipaddress
from collections.abc import Mapping
from dataclasses import dataclass, field
from urllib.parse import urlsplit

from service.errors import BadInput, BadInputs

__all__ = ["PREFIX", "Settings", "is_loopback"]

PREFIX = "RANGEWRIGHT_"
SHORTEST_KEY = 16  # characters; shorter ones can be guessed, common practice


@dataclass(frozen=True, slots=True)
class Settings:
    """Where and for whom the service listens. The key is kept out of every print."""

    host: str = "127.0.0.1"
    port: int = 8000
    workers: int = 1
    public_url: str | None = None
    access_key: str | None = field(default=None, repr=False)
    open: bool = False

    @classmethod
    def from_environment(cls, environment: Mapping[str, str]) -> "Settings":
        """Read and check; raises BadInputs with every bad variable at once."""
        faults: list[BadInput] = []
        settings = cls(
            host=_text(environment, "HOST") or "127.0.0.1",
            port=_whole(environment, "PORT", 8000, 0, 65_535, faults),
            workers=_whole(environment, "WORKERS", 1, 1, 64, faults),
            public_url=_url(environment, "PUBLIC_URL", faults),
            access_key=_key(environment, "ACCESS_KEY", faults),
            open=_yes_no(environment, "OPEN", faults),
        )
        if not is_loopback(settings.host) and not settings.open and not _text(environment, "ACCESS_KEY"):
            faults.append(_unguarded(settings.host))
        if faults:
            raise BadInputs(faults)
        return settings


def is_loopback(host: str) -> bool:
    """True if only this machine can reach the address.

    >>> is_loopback("127.0.0.1"), is_loopback("::1"), is_loopback("0.0.0.0"), is_loopback("example.org")
    (True, True, False, False)
    """
    if host == "localhost":
        return True
    try:
        return ipaddress.ip_address(host).is_loopback
    except ValueError:
        return False


def _unguarded(host: str) -> BadInput:
    return BadInput(
        f"{PREFIX}HOST",
        host,
        f"{host} can be reached from other machines, and no access key is set",
        f"set {PREFIX}ACCESS_KEY to {SHORTEST_KEY} characters or more, or {PREFIX}OPEN=1 to let anyone in",
    )


def _text(environment: Mapping[str, str], name: str) -> str | None:
    return environment.get(PREFIX + name, "").strip() or None


def _whole(environment: Mapping[str, str], name: str, default: int, low: int, high: int, faults: list[BadInput]) -> int:
    text = _text(environment, name)
    if text is None:
        return default
    if text.isascii() and text.isdigit() and low <= int(text[:12]) <= high:
        return int(text)
    faults.append(
        BadInput(PREFIX + name, text, f"{text!r} is not a whole number from {low} to {high}", f"give {low} to {high}")
    )
    return default


def _url(environment: Mapping[str, str], name: str, faults: list[BadInput]) -> str | None:
    text = _text(environment, name)
    if text is None:
        return None
    try:
        parts = urlsplit(text)
        good = parts.scheme in ("http", "https") and bool(parts.hostname) and not (parts.query or parts.fragment)
    except ValueError:
        good = False
    if not good:
        faults.append(
            BadInput(PREFIX + name, text, f"{text!r} is not a web address", "give https://host or http://host")
        )
    return text.rstrip("/")


def _key(environment: Mapping[str, str], name: str, faults: list[BadInput]) -> str | None:
    text = _text(environment, name)
    if text is not None and (len(text) < SHORTEST_KEY or not text.isascii() or not text.isprintable()):
        faults.append(
            BadInput(
                PREFIX + name,
                None,  # a key is never shown
                "the key is too short or holds unusual characters",
                f"give {SHORTEST_KEY} or more letters, digits and signs",
            )
        )
    return text


def _yes_no(environment: Mapping[str, str], name: str, faults: list[BadInput]) -> bool:
    text = _text(environment, name)
    if text not in (None, "0", "1"):
        faults.append(BadInput(PREFIX + name, text, f"{text!r} is neither 0 nor 1", "give 0 or 1"))
    return text == "1"
