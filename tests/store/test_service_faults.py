"""The real service, in a process of its own, while its database is killed, filled or restarted under it."""

import contextlib
import json
import os
import random
import re
import resource
import signal
import subprocess
import sys
import threading
import time
import urllib.error
import urllib.request
from concurrent.futures import ThreadPoolExecutor
from contextlib import contextmanager
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
QUESTION = {"vehicle": {"id": "compact-plug-in"}, "journey": {"cycle": "nycc"}, "band": False}
CHARGE = {  # another kind, kept in between
    "vehicle": {"id": "compact-plug-in"}, "circuit": {"id": "eu-household-10a"}, "from_pct": 20, "to_pct": 60,
    "pack_temperature_c": 5,
}  # fmt: skip
SAVES, KILLS, SEED = 200, 3, 20_261_127
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


def save(base, note="", odd=False):
    body = {"kind": "charging_session", "question": CHARGE} if odd else QUESTION
    return send("POST", f"{base}/api/sheets", body | {"note": note})


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
        reply = save(base, str(number), number % 2 == 1)
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
        assert kept["answer"]["hours" if kept["kind"] == "charging_session" else "range_km"]
        assert send_for_page(base + sheet["link_path"]) == 200


def send_for_page(url):
    with urllib.request.urlopen(url, timeout=LONGEST_S) as reply:
        assert b'<h1 id="headline">' in reply.read()
        return reply.status


def test_nothing_acknowledged_is_lost_when_the_service_is_killed(address):
    """Killed again and again, a moment of up to a save's time after a random one of 200 saves is acknowledged."""
    moments, kept = random.Random(SEED), []
    for _ in range(KILLS):
        with serving(address) as (server, base):
            all_are_there(base, kept[-20:])
            enough, later_s = moments.randint(10, SAVES // KILLS - 10), moments.uniform(0, 0.05)

            def kill(server=server, later_s=later_s):
                time.sleep(later_s)
                server.send_signal(signal.SIGKILL)

            done = save_until(base, SAVES - len(kept), enough, kill)
            assert server.wait(LONGEST_S) == -signal.SIGKILL
        assert enough <= len(done) < SAVES - len(kept)
        kept += done
    with serving(address) as (_, base):
        kept += save_until(base, SAVES - len(kept), 0, lambda: None)
        assert len(kept) == len({sheet["reference"] for sheet in kept}) == SAVES
        all_are_there(base, kept)


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


def test_long_work_goes_on_after_postgresql_falls_over(postgres):
    routes = [{"name": f"round {n}", "journey": {"cycle": "udds"}, "payload_kg": n} for n in range(30)]
    vehicles = [{"id": name} for name in ("electric-delivery-van", "compact-plug-in", "family-suv-plug-in")]
    body = {"vehicles": vehicles, "routes": routes, "place": "helsinki"}
    with serving(postgres.fresh()) as (_, base):
        path = send("POST", f"{base}/api/comparison-jobs", body)[2]["link_path"]
        before = reached(base + path, lambda job: job["routes_done"] >= 3)
        postgres.stop("immediate")
        try:
            assert send("GET", base + path)[0] == 503
            assert quotes_work(base)
        finally:
            postgres.start()
        first = reached(base + path, lambda job: True)
        assert first["routes_done"] >= before["routes_done"]  # finished chunks are there
        job = reached(base + path, lambda job: job["state"] not in ("waiting", "running"))
        assert job["state"] == "done", job["errors"]
        assert job["answer"] == send("POST", f"{base}/api/comparisons", body)[2]


def reached(url, condition):
    """The job once it is so far."""
    ends = time.monotonic() + LONGEST_S
    while time.monotonic() < ends:
        status, _, job = send("GET", url)
        if status == 200 and condition(job):
            return job
        time.sleep(0.02)
    raise AssertionError("it does not come so far")


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


@pytest.fixture
def small_disk(tmp_path):
    """A disk of its own with 400 kB, and how to mount it in another way."""
    place = tmp_path / "disk"
    place.mkdir()

    def mount(*options):
        done = subprocess.run(["mount", "-t", "tmpfs", *options, "none", place], capture_output=True, check=False)
        return done.returncode == 0

    if not mount("-o", "size=400k"):
        pytest.skip("this user may not mount a disk; limits of a process stand in for it in the test before")
    yield place, lambda how: mount("-o", f"remount,{how}")
    subprocess.run(["umount", "-l", place], check=True)


def test_a_disk_that_runs_full_and_is_freed(small_disk):
    place, _ = small_disk
    with serving(str(place / "sheets.sqlite3")) as (_, base):
        kept = save(base)[2]
        ballast = place / "ballast"
        with contextlib.suppress(OSError):
            ballast.write_bytes(b"x" * 1_000_000)
        replies = [save(base, odd=number % 2 == 1) for number in range(30)]
        assert "disk" in away(replies[-1])
        assert quotes_work(base)
        done = [kept, *(reply[2] for reply in replies if reply[0] == 201)]
        all_are_there(base, done)
        ballast.unlink()
        assert save(base)[0] == 201
        all_are_there(base, done)


@pytest.mark.parametrize(("stop", "message"), [
    (signal.SIGKILL, "the saved sheets can be read but not written"),
    (signal.SIGTERM, "the file of the saved sheets cannot be opened"),  # its log, cut at the stop, cannot be made anew
])  # fmt: skip
def test_a_read_only_disk_takes_no_sheets_and_loses_none(small_disk, stop, message):
    place, remount = small_disk
    file = str(place / "sheets.sqlite3")
    with serving(file) as (server, base):
        kept = save(base)[2]
        server.send_signal(stop)
        server.wait(LONGEST_S)
    assert remount("ro")
    with serving(file) as (_, base):
        assert away(save(base)) == message
        assert quotes_work(base)
        if "can be read" in message:
            all_are_there(base, [kept])
    assert remount("rw")
    with serving(file) as (_, base):
        all_are_there(base, [kept, save(base)[2]])
