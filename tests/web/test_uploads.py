"""Packed, oversized and slow bodies are stopped; only workbooks are unpacked, within bounds, so nothing can swell."""

import ast
import asyncio
import gzip
import io
import time
import zipfile
from pathlib import Path

import httpx
import pytest

from service.web.files import WORKBOOK
from service.web.uploads import LARGEST_REQUEST, HeldUploads

ROOT = Path(__file__).parents[2]
ENTITIES = b'<?xml version="1.0"?><!DOCTYPE a [<!ENTITY b "bbbbbbbb"><!ENTITY c "&b;&b;&b;&b;">]><a>&c;&c;&c;</a>'


def zipped():
    held = io.BytesIO()
    with zipfile.ZipFile(held, "w", zipfile.ZIP_DEFLATED) as archive:
        archive.writestr("routes.csv", b"0" * 10_000_000)
    return held.getvalue()


@pytest.mark.parametrize("coding", ["gzip", "deflate", "br", "gzip, gzip", "x"])
def test_packed_bodies_are_refused_unread(ask, coding):
    headers = {"content-type": "application/json", "content-encoding": coding}
    reply = ask("POST", "/api/quotes", content=gzip.compress(b" " * 50_000_000), headers=headers)
    assert reply.status_code == 415
    assert reply.json()["errors"][0]["field"] == "header.content-encoding"


def test_a_body_with_two_ends_is_refused_unread(ask):
    async def stream():
        yield b'{"vehicle": 1}'

    headers = {"content-type": "application/json", "content-length": "5", "transfer-encoding": "chunked"}
    reply = ask("POST", "/api/quotes", content=stream(), headers=headers)
    assert (reply.status_code, reply.headers["connection"]) == (400, "close")
    assert reply.json()["errors"][0]["field"] == "header.content-length"


@pytest.mark.parametrize("content", [gzip.compress(b"0" * 10_000_000), zipped(), ENTITIES], ids=["gzip", "zip", "xml"])
def test_archives_and_xml_in_place_of_a_table_are_no_table(ask, content):
    reply = ask("POST", "/api/comparisons/routes", content=content, headers={"content-type": "text/csv"})
    assert reply.status_code == 422 or (reply.json()["routes"] == [] and reply.json()["errors"])
    form = ask("POST", "/routes", files={"file": ("routes.csv", content, "text/csv")}, data={"typed_units": "metric"})
    assert form.status_code in (200, 422)
    assert "bbbbbbbb" * 4 not in form.text


def test_only_one_place_unpacks_and_nothing_reads_xml_by_the_careless_parsers():
    unpacking = {"archive.py": {"zipfile", "zlib"}, "workbook.py": {"zipfile"}}
    careless = {"xml", "gzip", "zipfile", "tarfile", "bz2", "lzma", "zlib", "lxml", "pickle", "marshal", "shelve"}
    for path in (ROOT / "service").rglob("*.py"):
        tree = ast.parse(path.read_text("utf-8"))
        names = {alias.name for node in ast.walk(tree) if isinstance(node, ast.Import) for alias in node.names}
        names |= {node.module for node in ast.walk(tree) if isinstance(node, ast.ImportFrom)}
        found = {name.partition(".")[0] for name in names if name} - unpacking.get(path.name, set())
        assert found.isdisjoint(careless), path


@pytest.mark.parametrize("path", ["/api/tracks", "/api/weather-files", "/api/drive-logs", "/api/comparisons/routes"])
def test_a_workbook_that_unpacks_to_a_gigabyte_is_refused_soon(ask, path):
    held = io.BytesIO()
    with zipfile.ZipFile(held, "w", zipfile.ZIP_DEFLATED, compresslevel=9) as archive:
        archive.writestr("xl/workbook.xml", "<workbook/>")
        with archive.open("xl/worksheets/sheet1.xml", "w", force_zip64=True) as stream:
            for _ in range(1000):
                stream.write(b" " * 2**20)
    started = time.monotonic()
    reply = ask("POST", path, content=held.getvalue(), headers={"content-type": WORKBOOK})
    assert time.monotonic() - started < 5
    assert reply.status_code in (413, 422)
    assert "large" in reply.json()["errors"][0]["message"]


@pytest.mark.parametrize("path", ["/routes", "/sheets", "/login", "/api/comparisons/routes", "/api/quotes"])
def test_no_route_takes_more_than_the_most(ask, path):
    async def stream():
        for _ in range(LARGEST_REQUEST // 65_536 + 2):
            yield b"a" * 65_536

    for kind in ("application/json", "text/csv", "application/x-www-form-urlencoded"):
        reply = ask("POST", path, content=stream(), headers={"content-type": kind})
        assert reply.status_code in (413, 415, 422)
        assert reply.json()["errors"][0]["remedy"]


def test_a_body_that_does_not_come_is_not_waited_for(app, question):
    """The wrapper around the real service, with a shorter patience."""

    async def drip():
        yield b'{"vehicle": '
        await asyncio.sleep(30)
        yield b"{}}"

    async def exchange():
        transport = httpx.ASGITransport(HeldUploads(app, longest_s=0.2))
        async with httpx.AsyncClient(transport=transport, base_url="http://127.0.0.1:8000") as client:
            return await client.post("/api/quotes", content=drip(), headers={"content-type": "application/json"})

    started = time.monotonic()
    reply = asyncio.run(exchange())
    assert time.monotonic() - started < 20  # the sender alone would take 30 s
    assert reply.status_code == 408
    assert reply.json()["errors"][0]["field"] == "body"
