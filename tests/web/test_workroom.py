"""Work goes to as many threads as cores, in a line that ends; the event loop stays free; answers are kept, bounded."""

import asyncio
import json
import re
import signal
import socket
import threading
import time

import httpx
import pytest

from service.web import workroom
from service.web.app import create_app
from service.web.kept_answers import KeptAnswer, KeptAnswers
from service.web.settings import Settings
from service.web.workroom import Busy, Workroom

PATIENCE_S = 60


@pytest.fixture
def hold(monkeypatch):
    """Quotes that wait until they are let go: how many are at work, and the release."""
    from service.web import api

    real, go, at_work = api.build_quote, threading.Event(), threading.Semaphore(0)
    threads = set()

    def held(*given):
        threads.add(threading.current_thread().name)
        at_work.release()
        assert go.wait(PATIENCE_S)
        return real(*given)

    monkeypatch.setattr(api, "build_quote", held)
    yield at_work, go, threads
    go.set()


def full_service(start, threads=2, **settings):
    app = start(Settings(**settings))
    app.state.workroom = Workroom(threads, settings.get("queue", 1), settings.get("longest_s", PATIENCE_S))
    return app


async def client_of(app):
    return httpx.AsyncClient(transport=httpx.ASGITransport(app), base_url="http://127.0.0.1:8000", timeout=PATIENCE_S)


def test_a_full_line_refuses_by_the_convention_and_everything_else_goes_on(start, hold, question):
    at_work, go, threads = hold
    app = full_service(start, cache_mb=0)

    async def exchange():
        async with await client_of(app) as client:
            sent = [asyncio.create_task(client.post("/api/quotes", json=question)) for _ in range(3)]
            await asyncio.to_thread(at_work.acquire)
            await asyncio.to_thread(at_work.acquire)  # both threads are at work, one question waits
            refused = await client.post("/api/quotes", json=question)
            page = await client.get("/", headers={"accept": "text/html"})
            alive = await client.get("/healthz")
            entries = await client.get("/api/vehicles")
            go.set()
            return refused, page, alive, entries, await asyncio.gather(*sent)

    refused, page, alive, entries, answers = asyncio.run(exchange())
    assert refused.status_code == 503
    assert 1 <= int(refused.headers["retry-after"]) <= 60
    (row,) = refused.json()["errors"]
    assert "every core is at work" in row["message"]
    assert page.status_code == 503
    assert "Every core is at work" in page.text
    assert page.headers["retry-after"]
    assert alive.json() == {"status": "ok"}
    assert entries.status_code == 200
    assert [answer.status_code for answer in answers] == [200, 200, 200]
    assert len(threads) == 2


def test_who_takes_too_long_is_told_to_come_again_and_leaves_the_answer_behind(start, hold, question):
    at_work, go, _ = hold
    app = full_service(start, threads=1, longest_s=0.3, cache_mb=1)

    async def exchange():
        async with await client_of(app) as client:
            runs = asyncio.create_task(client.post("/api/quotes", json=question))
            await asyncio.to_thread(at_work.acquire)
            waits = asyncio.create_task(client.post("/api/quotes", json=question | {"band": False}))
            late = await asyncio.gather(runs, waits)
            still_inside = app.state.workroom.inside
            go.set()
            while app.state.workroom.inside:
                await asyncio.sleep(0.01)
            return late, still_inside, await client.post("/api/quotes", json=question)

    late, still_inside, again = asyncio.run(exchange())
    assert [answer.status_code for answer in late] == [503, 503]
    assert "longer than 0.3 s" in late[0].json()["errors"][0]["message"]
    assert still_inside == 1  # the one that waited is out of the line
    assert again.status_code == 200
    assert not at_work.acquire(blocking=False)  # the kept answer: nothing was worked out again, nor for the one in line


def test_a_comparison_that_nobody_waits_for_any_more_ends_between_its_routes(start, monkeypatch):
    from service.fleet import compare as fleet

    app, solved, real = full_service(start, longest_s=0.3), [], fleet.route_cells

    def slow(question, route, *given):
        time.sleep(0.2)
        solved.append(route.name)
        return real(question, route, *given)

    monkeypatch.setattr(fleet, "route_cells", slow)
    journey = {"legs": [{"distance_km": 5, "speed_km_h": 50}]}
    body = {
        "vehicles": [{"id": "small-electric-hatch"}],
        "routes": [{"name": str(number), "journey": journey} for number in range(50)],
        "months": [{"name": "day", "temperature_c": 20}],
    }

    async def exchange():
        async with await client_of(app) as client:
            late = await client.post("/api/comparisons", json=body)
            ends_s = time.monotonic() + PATIENCE_S
            while app.state.workroom.inside and time.monotonic() < ends_s:
                await asyncio.sleep(0.01)
            return late

    late = asyncio.run(exchange())
    assert late.status_code == 503
    assert "/api/comparison-jobs" in late.json()["errors"][0]["remedy"]
    assert app.state.workroom.inside == 0
    assert 2 <= len(solved) <= 10  # two at a time


def test_a_time_limit_of_the_work_itself_passes_unchanged():
    async def run():
        def work():
            raise TimeoutError("its own")

        with pytest.raises(TimeoutError, match="its own"):
            await Workroom(1, 1, PATIENCE_S).run(work)

    asyncio.run(run())


def test_closing_waits_for_who_runs_and_takes_out_who_waits():
    room, begun, go, ended = Workroom(1, 5, PATIENCE_S), threading.Event(), threading.Event(), []

    def work(number):
        begun.set()
        go.wait(PATIENCE_S)
        ended.append(number)
        return number

    async def run():
        tasks = [asyncio.create_task(room.run(work, number)) for number in range(3)]
        await asyncio.to_thread(begun.wait)
        threading.Timer(0.1, go.set).start()
        await asyncio.to_thread(room.close)
        done = await asyncio.gather(*tasks, return_exceptions=True)
        return done, await room.run(work, 9)

    done, later = asyncio.run(run())
    assert done[0] == 0
    assert all(isinstance(each, asyncio.CancelledError) for each in done[1:])
    assert later == 9
    assert ended == [0, 9]


def test_advice_grows_with_the_line(monkeypatch):
    monkeypatch.setattr(workroom, "FIRST_GUESS_S", 4.0)
    room, go = Workroom(2, 4, PATIENCE_S), threading.Event()

    async def run():
        tasks = [asyncio.create_task(room.run(go.wait, PATIENCE_S)) for _ in range(6)]
        await asyncio.sleep(0)
        with pytest.raises(Busy) as full:
            await room.run(go.wait)
        go.set()
        await asyncio.gather(*tasks)
        return full.value.retry_after_s

    assert asyncio.run(run()) == 12  # six of four seconds on two threads


def test_the_same_question_in_other_words_is_worked_out_once(start, ask, question, monkeypatch):
    from service.web import api

    app, real, count = start(Settings()), api.build_quote, []
    monkeypatch.setattr(api, "build_quote", lambda *given: count.append(1) or real(*given))
    first = ask("POST", "/api/quotes", to=app, json=question)
    turned = json.dumps(dict(reversed(question.items()))).replace("-5", "-5.0")
    second = ask("POST", "/api/quotes", to=app, content=turned, headers={"content-type": "application/json"})
    assert first.content == second.content
    assert len(count) == 1
    other = ask("POST", "/api/quotes", to=app, json=question | {"band": True})  # the default, but said: not assumed
    assert len(count) == 2
    assert other.json()["range_km"] == first.json()["range_km"]
    assert ask("POST", "/api/quotes", to=app, json=question | {"reserve": 1}).status_code == 422


def test_a_table_and_its_json_are_kept_apart(start, ask):
    app = start(Settings())
    body = {
        "vehicles": [{"id": "small-electric-hatch"}],
        "routes": [{"name": "A", "journey": {"legs": [{"distance_km": 5, "speed_km_h": 50}]}}],
        "months": [{"name": "day", "temperature_c": 20}],
    }
    for _ in range(2):
        table = ask("POST", "/api/comparisons?format=csv", to=app, json=body)
        assert table.headers["content-type"].startswith("text/csv")
        assert table.headers["content-disposition"].startswith("attachment")
        assert ask("POST", "/api/comparisons", to=app, json=body).json()["cells"]
    assert len(app.state.kept_answers) == 2


def test_kept_answers_stay_within_their_bounds():
    kept = KeptAnswers(most_bytes=100, most_entries=3)
    for name in "abcd":
        kept.put(name, KeptAnswer(b"x" * 20, "text/plain"))
        kept.get("a")
    assert [name for name in "abcd" if kept.get(name)] == ["a", "c", "d"]
    kept.put("large", KeptAnswer(b"x" * 26, "text/plain"))
    assert kept.get("large") is None
    kept = KeptAnswers(most_bytes=100, most_entries=99)
    for number in range(40):
        kept.put(str(number % 13), KeptAnswer(b"x" * (number % 26), "text/plain"))
        assert kept.bytes == sum(len(each.body) for each in kept._held.values()) <= 100
    none = KeptAnswers(most_bytes=0)
    none.put("a", KeptAnswer(b"x", "text/plain"))
    assert len(none) == 0


def test_the_room_has_as_many_threads_as_this_process_has_cores():
    assert create_app(Settings()).state.workroom.threads == workroom.cores()
    assert create_app(Settings(workers=64)).state.workroom.threads == 1


def test_a_stop_finishes_what_runs_and_takes_nothing_new(serving):
    body = json.dumps(
        {
            "vehicles": [{"id": "electric-delivery-van"}, {"id": "small-electric-hatch"}],
            "routes": [{"name": str(n), "journey": {"cycle": "hwfet"}, "payload_kg": n} for n in range(20)],
            "place": "helsinki",
        }
    ).encode()
    with serving() as (server, base):
        address = tuple(re.search(r"//([\d.]+):(\d+)", base).groups())
        with socket.create_connection(address, PATIENCE_S) as asked:
            asked.sendall(
                b"POST /api/comparisons HTTP/1.1\r\nHost: 127.0.0.1\r\nContent-Type: application/json\r\n"
                b"Content-Length: %d\r\n\r\n" % len(body) + body
            )
            with socket.create_connection(address, PATIENCE_S) as other:  # served after it, so it is inside
                other.sendall(b"GET /healthz HTTP/1.1\r\nHost: 127.0.0.1\r\n\r\n")
                assert b"200 OK" in other.recv(4096)
            server.send_signal(signal.SIGTERM)
            answer = b""
            while part := asked.recv(65_536):
                answer += part
        assert answer.startswith(b"HTTP/1.1 200 OK")
        assert len(json.loads(answer.partition(b"\r\n\r\n")[2])["cells"]) == 20 * 2 * 12
        assert server.wait(PATIENCE_S) in (0, -signal.SIGTERM)
        with pytest.raises(ConnectionRefusedError):
            socket.create_connection(address, 1)
