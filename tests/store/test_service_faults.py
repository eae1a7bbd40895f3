"""The real service, in a process of its own, while its database is killed, filled or restarted under it."""

import json
import os
import re
import resource
import signal
import subprocess
import sys
import threading
import urllib.error
import urllib.request
from concurrent.futures import ThreadPoolExecutor
from contextlib import contextmanager
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
QUESTION = {"vehicle": {"id": "compact-plug-in"}, "journey": {"cycle": "nycc"}, "band": False}
SAVES, KILLED_AFTER = 200, 90
LONGEST_S = 60


def environment(address):
    clean = {key: value for key, value in os.environ.items() if not key.startswith("RANGEWRIGHT_")}
    kind = "URL" if "://" in address else "FILE"
    return clean | {"PYTHONPATH": str(ROOT), f"RANGEWRIGHT_DATABASE_{kind}": address}


@contextmanager
def serving(address):
    """The process and where it answers."""
    command = [sys.executable, "-m", "service", "--port", "0"]
    with subprocess.Popen(
        command, stdout=subprocess.PIPE, stderr=subprocess.DEVNULL, text=True, env=environment(address)
    ) as server:
        try:
            yield server, re.search(r"http://127\.0\.0\.1:\d+", server.stdout.readline()).group()
        finally:
            server.kill()


def send(method, url, body=None):
    """Status, headers and what was answered; None where the service is gone."""
    data = None if body is None else json.dumps(body).encode()
    request = urllib.request.Request(url, data, {"Content-Type": "application/json"}, method=method)
    try:
        with urllib.request.urlopen(request, timeout=LONGEST_S) as reply:
            return reply.status, reply.headers, json.loads(reply.read() or b"null")
    except urllib.error.HTTPError as error:
        return error.code, error.headers, json.loads(error.read())
    except OSError:
        return None


def save(base, **more):
    return send("POST", f"{base}/api/sheets", QUESTION | more)


def away(reply):
    """The refusal by the convention, with a way out and nothing about the machine."""
    status, headers, body = reply
    assert status == 503
    assert int(headers["Retry-After"]) > 0
    (row,) = body["errors"]
    assert set(row) == {"field", "value", "message", "remedy"}
    assert "quotes go on working" in row["remedy"]
    assert not re.search(r"/|sqlite|psycopg|Traceback", json.dumps(body), re.IGNORECASE)
    return row["message"]


def quotes_work(base):
    status, _, quote = send("POST", f"{base}/api/quotes", QUESTION)
    return status == 200 and quote["range_km"]["p50"] > 0


@pytest.fixture(params=["sqlite", "postgresql"])
def address(request, tmp_path):
    if request.param == "sqlite":
        return str(tmp_path / "kept" / "sheets.sqlite3")
    return request.getfixturevalue("postgres").fresh()


def save_until(base, count, enough, stop):
    """Save from eight threads; stop the other side once `enough` are acknowledged. What was acknowledged."""
    acknowledged, lock = [], threading.Lock()

    def one(number):
        reply = save(base, note=str(number))
        if reply is None or reply[0] != 201:
            return
        with lock:
            acknowledged.append(reply[2])
            if len(acknowledged) == enough:
                stop()

    with ThreadPoolExecutor(8) as people:
        list(people.map(one, range(count)))
    return acknowledged


def all_are_there(base, acknowledged):
    for sheet in acknowledged:
        status, _, kept = send("GET", f"{base}/api{sheet['link_path']}")
        assert status == 200
        assert {name: kept[name] for name in sheet} == sheet
        assert kept["answer"]["range_km"]["p50"] > 0


def test_nothing_acknowledged_is_lost_when_the_service_is_killed(address):
    with serving(address) as (server, base):
        first = save_until(base, SAVES, KILLED_AFTER, lambda: server.send_signal(signal.SIGKILL))
        assert server.wait(LONGEST_S) == -signal.SIGKILL
    assert KILLED_AFTER <= len(first) < SAVES
    with serving(address) as (_, base):
        all_are_there(base, first)
        rest = save_until(base, SAVES - len(first), 0, lambda: None)
        assert len(first) + len(rest) == SAVES
        all_are_there(base, rest)


def test_nothing_acknowledged_is_lost_when_postgresql_falls_over(postgres):
    with serving(postgres.fresh()) as (_, base):
        acknowledged = save_until(base, 120, 50, lambda: postgres.stop("immediate"))
        try:
            assert 50 <= len(acknowledged) < 120
            assert "does not answer" in away(save(base))
            assert quotes_work(base)
        finally:
            postgres.start()
        all_are_there(base, acknowledged)
        assert save(base)[0] == 201


def test_a_full_disk_stops_saving_and_nothing_else(tmp_path):
    with serving(str(tmp_path / "sheets.sqlite3")) as (server, base):
        kept = save(base)[2]
        largest = max(path.stat().st_size for path in tmp_path.iterdir())
        unlimited = resource.prlimit(server.pid, resource.RLIMIT_FSIZE)
        resource.prlimit(server.pid, resource.RLIMIT_FSIZE, (largest, unlimited[1]))  # no file grows any more
        replies = [save(base) for _ in range(20)]
        assert "disk" in away(replies[-1])
        assert quotes_work(base)
        done = [reply[2] for reply in replies if reply[0] == 201]
        all_are_there(base, [kept, *done])
        resource.prlimit(server.pid, resource.RLIMIT_FSIZE, unlimited)
        assert save(base)[0] == 201
        all_are_there(base, [kept, *done])
