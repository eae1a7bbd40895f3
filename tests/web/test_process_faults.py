"""The real service while it is killed in the middle of long work, and while clients send and read slowly."""

import json
import os
import re
import signal
import socket
import sqlite3
import time
import urllib.parse
import urllib.request
from contextlib import ExitStack, closing

PATIENCE_S = 90
QUESTION = {"vehicle": {"id": "compact-plug-in"}, "journey": {"cycle": "nycc"}, "band": False}
ROUTES = 40
LONG = {
    "vehicles": [
        {"id": "electric-delivery-van"}, {"id": "compact-plug-in"}, {"id": "small-electric-hatch"},
        {"id": "family-suv-plug-in"}
    ],
    "routes": [{"name": f"round {n}", "journey": {"cycle": "udds"}, "payload_kg": n} for n in range(ROUTES)],
    "place": "helsinki",
}  # fmt: skip


def send(method, url, body=None):
    data = None if body is None else json.dumps(body).encode()
    request = urllib.request.Request(url, data, {"Content-Type": "application/json"}, method=method)
    with urllib.request.urlopen(request, timeout=PATIENCE_S) as reply:
        return json.loads(reply.read() or b"null")


def until(base, path, reached):
    ends = time.monotonic() + PATIENCE_S
    while not reached(job := send("GET", base + path)):
        assert time.monotonic() < ends, job
        time.sleep(0.02)
    return job


def kept(file):
    """Finished chunks by number: who finished them, and the text."""
    with closing(sqlite3.connect(file)) as raw:
        rows = raw.execute("SELECT number, owner, result FROM job_chunks").fetchall()
    return {number: (owner, result) for number, owner, result in rows}


def test_a_killed_service_goes_on_where_it_was(serving, tmp_path):
    file = tmp_path / "sheets.sqlite3"
    with serving(DATABASE_FILE=file) as (server, base):
        path = send("POST", f"{base}/api/comparison-jobs", LONG)["link_path"]
        waits = send("POST", f"{base}/api/comparison-jobs", LONG | {"routes": LONG["routes"][:2]})["link_path"]
        until(base, path, lambda job: job["routes_done"] >= 3)
        server.send_signal(signal.SIGKILL)
        assert server.wait(PATIENCE_S) == -signal.SIGKILL
    before = kept(file)
    assert 3 <= len(before) < ROUTES
    with serving(DATABASE_FILE=file) as (_, base):
        job = until(base, path, lambda job: job["state"] == "done")
        assert until(base, waits, lambda job: job["state"] == "done")["routes_done"] == 2  # the line is not lost
        answer = send("POST", f"{base}/api/comparisons", LONG)
    with closing(sqlite3.connect(file)) as raw:
        (first,) = raw.execute("SELECT min(job_id) FROM job_chunks").fetchone()
        after = {
            number: (owner, result)
            for number, owner, result in raw.execute(
                "SELECT number, owner, result FROM job_chunks WHERE job_id = ?", (first,)
            )
        }
        (begun_with,) = raw.execute("SELECT begun_with FROM jobs WHERE id = ?", (first,)).fetchone()
    assert begun_with == len(before)
    assert {number: after[number] for number in before} == before  # not worked again, not written again
    (dead,) = {owner for owner, _ in before.values()}
    assert sum(owner != dead for owner, _ in after.values()) == ROUTES - len(before)
    assert job["answer"] == answer


def test_an_ordinary_stop_gives_the_job_back_for_the_next_start(serving, tmp_path):
    file = tmp_path / "sheets.sqlite3"
    with serving(DATABASE_FILE=file) as (server, base):
        path = send("POST", f"{base}/api/comparison-jobs", LONG)["link_path"]
        until(base, path, lambda job: job["routes_done"] >= 2)
        server.send_signal(signal.SIGTERM)
        assert server.wait(PATIENCE_S) in (0, -signal.SIGTERM)
    with closing(sqlite3.connect(file)) as raw:
        assert raw.execute("SELECT state, owner FROM jobs").fetchall() == [("waiting", "")]
    before = kept(file)
    with serving(DATABASE_FILE=file) as (_, base):
        until(base, path, lambda job: job["state"] == "done")
    assert {number: each for number, each in kept(file).items() if number in before} == before


def test_a_dead_process_of_several_is_replaced_and_its_job_taken_over(serving, tmp_path):
    file = tmp_path / "sheets.sqlite3"
    with serving(DATABASE_FILE=file, WORKERS=2) as (server, base):
        path = send("POST", f"{base}/api/comparison-jobs", LONG)["link_path"]
        until(base, path, lambda job: job["routes_done"] >= 3)
        with closing(sqlite3.connect(file)) as raw:
            (owner,) = raw.execute("SELECT owner FROM jobs").fetchone()
        pid = int(re.search(r"-(\d+)-[0-9a-f]{16}$", owner).group(1))
        assert pid != server.pid
        assert parent_of(pid) == server.pid  # one of ours, and the one that works on it
        os.kill(pid, signal.SIGKILL)
        job = until(base, path, lambda job: job["state"] == "done")
        assert job["routes_done"] == ROUTES
        assert send("POST", f"{base}/api/quotes", QUESTION)["range_km"]["p50"] > 0
    owners = {each[0] for each in kept(file).values()}
    assert len(kept(file)) == ROUTES
    assert owner in owners
    assert len(owners) == 2


def test_processes_end_with_the_one_that_started_them(serving, tmp_path):
    """And so leave the port to the next start."""
    with serving(DATABASE_FILE=tmp_path / "sheets.sqlite3", WORKERS=2) as (server, base):
        workers = [int(name) for name in os.listdir("/proc") if name.isdigit() and parent_of(int(name)) == server.pid]
        assert len(workers) >= 2
        server.send_signal(signal.SIGKILL)
        server.wait(PATIENCE_S)
        ends = time.monotonic() + PATIENCE_S
        while any(parent_of(pid) is not None for pid in workers):
            assert time.monotonic() < ends
            time.sleep(0.05)
        address = re.search(r"//([\d.]+):(\d+)", base).groups()
        with socket.socket() as again:
            again.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
            again.bind((address[0], int(address[1])))
            again.listen()


def parent_of(pid):
    """Of a process that runs."""
    try:
        with open(f"/proc/{pid}/stat") as file:
            state, parent, *_ = file.read().rpartition(")")[2].split()
    except OSError:
        return None
    return None if state == "Z" else int(parent)


def test_slow_senders_and_readers_hold_up_nobody_and_half_open_uploads_end_by_themselves(serving):
    """QUEUE=0: a core held by one of them would mean 503 sooner or later."""
    half = (
        b"POST /api/quotes HTTP/1.1\r\nHost: 127.0.0.1\r\nContent-Type: application/json\r\n"
        b'Content-Length: 500\r\n\r\n{"vehicle": '
    )
    with serving(DATABASE_FILE="", QUEUE=0, SENDING=5) as (_, base), ExitStack() as stack:
        address = tuple(re.search(r"//([\d.]+):(\d+)", base).groups())

        def dial(text):
            line = stack.enter_context(socket.create_connection(address, PATIENCE_S))
            line.sendall(text)
            return line

        half_open = [dial(half) for _ in range(30)]  # and no more
        for _ in range(30):
            dial(half[:40])  # not even a whole header
            dial(b"GET /openapi.json HTTP/1.1\r\nHost: 127.0.0.1\r\n\r\n" * 20)  # megabytes that nobody reads
            dial(half).close()  # hangs up in the middle
        quotes = [send("POST", f"{base}/api/quotes", QUESTION | {"weather": {"temperature_c": n}}) for n in range(3)]
        assert len({quote["range_km"]["p50"] for quote in quotes}) == 3
        for line in half_open:
            answer = b""
            while part := line.recv(65_536):
                answer += part
            assert answer.startswith(b"HTTP/1.1 408")
            assert json.loads(answer.partition(b"\r\n\r\n")[2])["errors"][0]["field"] == "body"
        assert send("GET", f"{base}/healthz") == {"status": "ok"}


def test_a_running_job_is_stopped_and_makes_room_at_once(serving, tmp_path):
    file = tmp_path / "sheets.sqlite3"
    with serving(DATABASE_FILE=file) as (_, base):
        path = send("POST", f"{base}/api/comparison-jobs", LONG)["link_path"]
        waits = send("POST", f"{base}/api/comparison-jobs", LONG | {"routes": LONG["routes"][:2]})["link_path"]
        until(base, path, lambda job: job["state"] == "running" and job["routes_done"] >= 2)
        send("DELETE", base + path)
        stopped = send("GET", base + path)
        assert (stopped["state"], stopped["left_s"], stopped["answer"]) == ("cancelled", 0, None)
        assert stopped["routes_done"] < ROUTES
        until(base, waits, lambda job: job["state"] == "done")
        assert send("GET", base + path) == stopped  # what was at hand is not kept
    with closing(sqlite3.connect(file)) as raw:
        count = "SELECT count(*) FROM job_chunks JOIN jobs ON job_id = jobs.id WHERE total = ?"
        (chunks,) = raw.execute(count, (ROUTES,)).fetchone()
    assert chunks == stopped["routes_done"]


def test_a_page_that_is_loaded_again_shows_the_same_job_in_any_process_and_window(serving, tmp_path):
    rows = "".join(f"round {n},{20 + n},60\n" for n in range(50))
    form = {
        "units": "metric", "typed_units": "metric", "months_by": "place", "place": "helsinki",
        "vehicles": "electric-delivery-van,compact-plug-in,small-electric-hatch,family-suv-plug-in,mid-electric-sedan",
        "table": f"route,distance_km,speed_km_h\n{rows}",
    }  # fmt: skip
    with serving(DATABASE_FILE=tmp_path / "sheets.sqlite3", WORKERS=2) as (_, base):
        request = urllib.request.Request(f"{base}/routes", urllib.parse.urlencode(form).encode(), {"Origin": base})
        with urllib.request.urlopen(request, timeout=PATIENCE_S) as reply:  # goes on to the page of the job
            address, text = reply.url, reply.read().decode()
        assert "/routes/jobs/" in address
        seen, ends = [], time.monotonic() + PATIENCE_S
        while "being compared" in text:
            assert time.monotonic() < ends
            seen += [int(done) for done in re.findall(r"(\d+) of 50 routes are done", text)]
            with urllib.request.urlopen(address, timeout=PATIENCE_S) as reply:  # no cookie: another window each time
                text = reply.read().decode()
        assert len(set(seen)) >= 2, "it was over before it was looked at"
        assert seen == sorted(seen)
        assert "What fails first" in text
