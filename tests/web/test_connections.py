"""Connections that wait for their client end by themselves, hold little and shut nobody out."""

import asyncio
import json
import socket
import time
from contextlib import asynccontextmanager
from functools import partial

import pytest
import uvicorn
from starlette.responses import PlainTextResponse
from uvicorn.server import ServerState

from service.web import connections
from service.web.connections import LARGEST_HEAD, HeldConnection
from service.web.headers import CONTENT_POLICY

LONGEST_S = 0.4
PATIENCE_S = 20
ASK = b"GET / HTTP/1.1\r\nHost: 127.0.0.1\r\n"


WELL = PlainTextResponse("well")


@asynccontextmanager
async def listening(app=WELL):
    """The server's connections around a small application."""
    config = uvicorn.Config(app, lifespan="off", log_level="critical", h11_max_incomplete_event_size=LARGEST_HEAD)
    config.load()
    made = partial(HeldConnection, config=config, server_state=ServerState(), app_state={}, longest_s=LONGEST_S)
    server = await asyncio.get_running_loop().create_server(made, "127.0.0.1", 0)
    try:
        yield partial(asyncio.open_connection, *server.sockets[0].getsockname())
    finally:
        server.close()


async def dripped(reader, writer, drop=b"X"):
    """Send a byte now and then until the other side ends it; how long that took."""
    began_s = time.monotonic()
    while time.monotonic() - began_s < PATIENCE_S:
        writer.write(drop)
        try:
            if await asyncio.wait_for(reader.read(65_536), 0.05) == b"":
                break
        except TimeoutError:
            continue
        except ConnectionError:
            break
    return time.monotonic() - began_s


@pytest.mark.parametrize(
    "begun",
    [
        b"",
        b"GET / HT",
        ASK + b"X: ",
        ASK + b"Content-Length: 9999\r\n\r\n",  # answered at once, and then its body drips in
        ASK + b"\r\n" + ASK + b"X: ",
    ],
    ids=["nothing", "line", "header", "body of an answered request", "second head"],
)
def test_whoever_drips_is_cut_off(begun):
    async def exchange():
        async with listening() as connect:
            reader, writer = await connect()
            writer.write(begun)
            taken_s = await dripped(reader, writer)
            writer.close()
            return taken_s

    assert asyncio.run(exchange()) == pytest.approx(LONGEST_S, abs=2)


def test_whoever_sends_nothing_is_cut_off_and_who_is_being_answered_is_not():
    async def slow(scope, receive, send):
        await asyncio.sleep(3 * LONGEST_S)
        await WELL(scope, receive, send)

    async def exchange():
        async with listening(slow) as connect:
            idle, _ = await connect()
            reader, writer = await connect()
            writer.write(ASK + b"Connection: close\r\n\r\n")
            began_s = time.monotonic()
            assert await asyncio.wait_for(idle.read(), PATIENCE_S) == b""
            return time.monotonic() - began_s, await asyncio.wait_for(reader.read(), PATIENCE_S)

    idle_s, answer = asyncio.run(exchange())
    assert idle_s < 2 * LONGEST_S + 1
    assert answer.endswith(b"well")


@pytest.mark.parametrize(
    "head",
    [
        b"GET /" + b"a" * 2_000_000,
        ASK + b"X: " + b"a" * 2_000_000,
        ASK + b"".join(b"X%d: a\r\n" % number for number in range(100_000)),
        b"no request at all\r\n\r\n",
        ASK + b"Host: elsewhere.example\r\n\r\n",
        b"POST / HTTP/1.1\r\nHost: 127.0.0.1\r\nContent-Length: 1\r\nContent-Length: 2\r\n\r\n",
        b"\x16\x03\x01\x02\x00\x01\x00\x01\r\n\r\n",
    ],
    ids=["address", "header", "headers", "nonsense", "two hosts", "two lengths", "TLS"],
)
def test_what_is_no_request_or_endless_is_refused_in_the_one_shape(head):
    async def exchange():
        async with listening() as connect:
            reader, writer = await connect()
            writer.write(head[: LARGEST_HEAD + 1])
            return await asyncio.wait_for(reader.readuntil(b"\r\n\r\n"), PATIENCE_S), await reader.read(65_536)

    top, body = asyncio.run(exchange())
    assert top.startswith(b"HTTP/1.1 400 Bad Request\r\n")
    assert f"content-security-policy: {CONTENT_POLICY}\r\n".encode() in top
    assert json.loads(body)["errors"][0].keys() == {"field", "value", "message", "remedy"}


def test_idle_connections_make_room(monkeypatch):
    monkeypatch.setattr(connections, "most_connections", lambda: 5)
    monkeypatch.setattr(f"{__name__}.LONGEST_S", PATIENCE_S)
    go = asyncio.Event()

    async def held(scope, receive, send):
        await go.wait()
        await WELL(scope, receive, send)

    async def exchange():
        async with listening(held) as connect:
            busy = await connect()
            busy[1].write(ASK + b"Connection: close\r\n\r\n")
            idle = [await connect() for _ in range(4)]
            idle[0][1].write(ASK)  # a drop does not make it younger
            await asyncio.sleep(0.1)
            await connect()
            assert await asyncio.wait_for(idle[0][0].read(), PATIENCE_S) == b""
            with pytest.raises(TimeoutError):
                await asyncio.wait_for(idle[1][0].read(), 0.1)
            go.set()
            return await asyncio.wait_for(busy[0].read(), PATIENCE_S)

    assert asyncio.run(exchange()).endswith(b"well")


def test_connections_leave_files_for_answers(monkeypatch):
    resource = pytest.importorskip("resource")
    for files, most in ((256, 192), (1024, 768), (20_000, 800), (resource.RLIM_INFINITY, 800)):
        monkeypatch.setattr(resource, "getrlimit", lambda _, soft=files: (soft, soft))
        assert connections.most_connections() == most


@pytest.mark.skipif(not hasattr(socket, "TCP_USER_TIMEOUT"), reason="Linux ends what is not read")
def test_an_answer_that_nobody_reads_is_given_up(serving):
    with serving(DATABASE_FILE="", SENDING=2) as (_, base), socket.socket() as line:
        host, _, port = base.removeprefix("http://").partition(":")
        line.setsockopt(socket.SOL_SOCKET, socket.SO_RCVBUF, 4096)
        line.settimeout(PATIENCE_S)
        line.connect((host, int(port)))
        line.sendall((b"GET /openapi.json HTTP/1.1\r\nHost: 127.0.0.1\r\n\r\n") * 20)  # megabytes
        time.sleep(8)
        with pytest.raises(ConnectionError):
            read_all(line)


def read_all(line):
    while line.recv(65_536):
        line.sendall(b"G")
    pytest.fail("the answers came to a good end")


def test_nothing_but_plain_requests_is_spoken(serving):
    """An upgrade is not taken up: every wrapper sees the request, which is answered as any other."""
    upgrade = (
        b"Connection: Upgrade\r\nUpgrade: websocket\r\nSec-WebSocket-Version: 13\r\nSec-WebSocket-Key: AAAA\r\n\r\n"
    )
    with serving(DATABASE_FILE="") as (_, base):
        host, _, port = base.removeprefix("http://").partition(":")
        for name, status in ((b"127.0.0.1", b"200"), (b"elsewhere.example", b"421")):
            with socket.create_connection((host, int(port)), PATIENCE_S) as line:
                line.sendall(b"GET /healthz HTTP/1.1\r\nHost: " + name + b"\r\n" + upgrade)
                answer = line.recv(65_536)
            assert answer.startswith(b"HTTP/1.1 " + status)
            assert b"content-security-policy" in answer
