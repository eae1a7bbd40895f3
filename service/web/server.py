"""Listening: one process or several, and one printed line when the service can be asked.

Scope    the socket is bound first, so that a taken port is told at once; the line comes when /healthz answers.
"""

import math
import os
import socket
import threading
import time
import urllib.error
import urllib.request
from functools import partial

import uvicorn
from uvicorn.supervisors import Multiprocess

from service.errors import BadInput
from service.web.connections import LARGEST_HEAD, HeldConnection
from service.web.settings import PREFIX, Settings

__all__ = ["address_of", "serve"]

APPLICATION = "service.web.app:app_from_environment"
POLL_S = 0.05
LAST_WORDS_S = 5  # to send what was worked out; then a stop does not wait for a client any longer
PATIENCE_S = 120.0  # a first start compiles the formulas


def serve(settings: Settings) -> int:
    """Serve until stopped; the exit status. Raises BadInput if the address cannot be had."""
    _hand_on(settings)
    listener = _listener(settings)
    config = uvicorn.Config(
        APPLICATION,
        factory=True,
        host=settings.host,
        port=settings.port,
        workers=settings.workers,
        log_level="warning",
        server_header=False,
        proxy_headers=False,
        http=partial(HeldConnection, longest_s=settings.sending_s),
        h11_max_incomplete_event_size=LARGEST_HEAD,
        ws="none",
        timeout_graceful_shutdown=math.ceil(settings.longest_s) + LAST_WORDS_S,
    )
    threading.Thread(target=_announce, args=(settings, listener.getsockname()), daemon=True).start()
    return _run(config, listener)


def _run(config: uvicorn.Config, listener: socket.socket) -> int:
    if config.workers > 1:
        Multiprocess(config, sockets=[listener]).run()
        return 0
    server = uvicorn.Server(config)
    try:
        server.run(sockets=[listener])
    except KeyboardInterrupt:
        return 0
    return 0 if server.started else 1


def _hand_on(settings: Settings) -> None:
    """Processes of our own read the environment: put the settings there, flags included."""
    os.environ[f"{PREFIX}HOST"] = settings.host
    os.environ[f"{PREFIX}PORT"] = str(settings.port)
    os.environ[f"{PREFIX}WORKERS"] = str(settings.workers)
    os.environ[f"{PREFIX}SECRET"] = os.environ.get(f"{PREFIX}SECRET") or settings.secret.hex()
    if settings.access_key is not None:
        os.environ[f"{PREFIX}ACCESS_KEY"] = settings.access_key.text  # the key itself goes no further


def _listener(settings: Settings) -> socket.socket:
    """A bound socket."""
    try:
        family, kind, protocol, _name, address = socket.getaddrinfo(
            settings.host, settings.port, type=socket.SOCK_STREAM, flags=socket.AI_PASSIVE
        )[0]
        listener = socket.socket(family, kind, protocol)
        listener.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        if hasattr(socket, "TCP_USER_TIMEOUT"):  # Linux; inherited by each connection
            listener.setsockopt(socket.IPPROTO_TCP, socket.TCP_USER_TIMEOUT, math.ceil(1000 * settings.sending_s))
        listener.bind(address)
    except OSError as error:
        where = f"{settings.host} port {settings.port}"
        raise BadInput(
            f"{PREFIX}PORT",
            settings.port,
            f"cannot listen on {where}: {error.strerror}",
            "stop what listens there, or give another host or port",
        ) from None
    listener.set_inheritable(True)
    return listener


def address_of(settings: Settings, bound: tuple) -> str:
    """Where people find the service.

    >>> address_of(Settings(), ("127.0.0.1", 8000)), address_of(Settings(host="::1"), ("::1", 80, 0, 0))
    ('http://127.0.0.1:8000', 'http://[::1]:80')
    """
    if settings.public_url is not None:
        return settings.public_url
    return _local(bound[0], bound[1])


def _local(host: str, port: int) -> str:
    return f"http://[{host}]:{port}" if ":" in host else f"http://{host}:{port}"


def _announce(settings: Settings, bound: tuple) -> None:
    """Wait until the service answers, then print one line."""
    reachable = {"0.0.0.0": "127.0.0.1", "::": "::1"}.get(bound[0], bound[0])
    health = f"{_local(reachable, bound[1])}/healthz"
    ask = urllib.request.build_opener(urllib.request.ProxyHandler({})).open  # this machine: no proxy
    give_up = time.monotonic() + PATIENCE_S
    while time.monotonic() < give_up:
        try:
            ask(health, timeout=PATIENCE_S).close()
        except (OSError, urllib.error.URLError):
            time.sleep(POLL_S)
            continue
        print(f"Rangewright answers at {address_of(settings, bound)} (stop with Ctrl+C)", flush=True)
        return
