"""Long comparisons: the same answer in the end, progress on the way, stopped on request, by program and by page."""

import asyncio
import html
import json
import re
import time
from contextlib import asynccontextmanager

import httpx
import pytest

from service.web import comparison_jobs_api, routes_jobs_pages, routes_pages
from service.web.app import create_app
from service.web.settings import Settings

PATIENCE_S = 60
BODY = {
    "vehicles": [{"id": "electric-delivery-van"}, {"id": "compact-plug-in"}],
    "routes": [
        {"name": f"round {n}", "journey": {"legs": [{"distance_km": 10 + n, "speed_km_h": 50}]}, "payload_kg": n}
        for n in range(4)
    ],
    "months": [{"name": "cold", "temperature_c": -10}, {"name": "mild", "temperature_c": 20}],
}
TABLE = "route,distance_km,speed_km_h\n" + "".join(f"round {n},{10 + n},50\n" for n in range(6))
FORM = {
    "units": "metric",
    "typed_units": "metric",
    "vehicles": "electric-delivery-van,family-suv-plug-in",
    "months_by": "place",
    "place": "helsinki",
    "reserve": "20",
    "circuit": "eu-three-phase-16a",
    "table": TABLE,
}


@asynccontextmanager
async def serving(folder, works=True):
    app = create_app(Settings(database=str(folder / "sheets.sqlite3")))
    async with app.router.lifespan_context(app):
        if not works:  # as while every worker is busy elsewhere
            app.state.long_work._runner.stop()
        transport = httpx.ASGITransport(app)
        async with httpx.AsyncClient(
            transport=transport, base_url="http://127.0.0.1:8000", timeout=PATIENCE_S
        ) as client:
            yield app, client


async def over(client, path):
    for _ in range(PATIENCE_S * 20):
        job = (await client.get(path)).json()
        if job["state"] not in ("waiting", "running"):
            return job
        await asyncio.sleep(0.05)
    raise AssertionError("it does not end")


async def still(client, path):
    for _ in range(PATIENCE_S * 20):
        if "being compared" not in (await client.get(path)).text:
            return
        await asyncio.sleep(0.05)
    raise AssertionError("it does not end")


def headline(page):
    return re.search(r'<h1 id="headline">(.*?)</h1>', page)[1]


def test_a_job_ends_in_the_answer_of_the_synchronous_way(tmp_path):
    async def exchange():
        async with serving(tmp_path) as (_, client):
            put = await client.post("/api/comparison-jobs", json=BODY)
            assert put.status_code == 202
            first = put.json()
            assert put.headers["location"] == first["link_path"] == f"/api/comparison-jobs/{first['id']}"
            assert first["state"] in ("waiting", "running", "done")
            assert (first["routes_total"], first["answer"], first["errors"]) == (4, None, [])
            job = await over(client, first["link_path"])
            events = await client.get(first["link_path"] + "/events")
            return job, events, (await client.post("/api/comparisons", json=BODY)).json()

    job, events, answer = asyncio.run(exchange())
    assert (job["state"], job["routes_done"], job["left_s"]) == ("done", 4, 0)
    assert job["routes_per_s"] > 0
    assert job["answer"] == answer
    assert events.headers["content-type"].startswith("text/event-stream")
    last = json.loads(re.findall(r"^id: done-4-\S+\nevent: progress\ndata: (.*)\n\n", events.text, re.MULTILINE)[-1])
    assert last == {name: job[name] for name in last}
    assert "answer" not in last


def test_events_tell_each_step_until_the_end(tmp_path):
    async def exchange():
        async with serving(tmp_path, works=False) as (app, client):
            path = (await client.post("/api/comparison-jobs", json=BODY)).json()["link_path"]
            watching = asyncio.create_task(client.get(path + "/events"))
            await asyncio.sleep(0.8)
            assert (await client.delete(path)).status_code == 204
            text = (await watching).text
            assert (await client.get(path)).json()["state"] == "cancelled"
            assert app.state.long_work.store.claim("x", 1, "0") is None
            return text

    states = [json.loads(each)["state"] for each in re.findall(r"data: (.*)", asyncio.run(exchange()))]
    assert states == ["waiting", "cancelled"]


def test_a_reader_that_comes_again_goes_on_where_it_was(tmp_path):
    """The stream is cut while the job runs, as when a laptop sleeps; each part is what one connection brought."""

    async def exchange():
        async with serving(tmp_path, works=False) as (app, client):
            path = (await client.post("/api/comparison-jobs", json=BODY)).json()["link_path"]
            store, parts = app.state.long_work.store, []

            async def part(last):
                parts.append((await client.get(path + "/events", headers={"last-event-id": last})).text)
                return re.findall(r"^id: (.*)$", parts[-1], re.MULTILINE)

            claim = store.claim("somebody", 60, "0")
            store.keep_chunk(claim.id, "somebody", 0, "[]")
            seen = await part("")
            store.keep_chunk(claim.id, "somebody", 1, "[]")
            seen += await part(seen[-1])
            seen += await part(seen[-1])  # nothing is new
            store.cancel(path.rpartition("/")[2])
            seen += await part(seen[-1])
            over = await client.get(path + "/events", headers={"last-event-id": seen[-1]})
            anew = await client.get(path + "/events")  # a page that was opened again has seen nothing
            return seen, parts, over, anew

    patched = pytest.MonkeyPatch()
    patched.setattr(comparison_jobs_api, "LONGEST_STREAM_S", 0.3)
    try:
        seen, parts, over, anew = asyncio.run(exchange())
    finally:
        patched.undo()
    assert [each.rpartition("-")[0] for each in seen] == ["running-1", "running-2", "cancelled-2"]
    assert ["data" in each for each in parts] == [True, True, False, True]
    assert over.status_code == 204
    assert "id: cancelled-2" in anew.text


def test_what_waits_is_worked_after_a_restart(tmp_path):
    async def put():
        async with serving(tmp_path, works=False) as (_, client):
            return (await client.post("/api/comparison-jobs", json=BODY)).json()["link_path"]

    async def find(path):
        async with serving(tmp_path) as (_, client):
            return await over(client, path)

    assert asyncio.run(find(asyncio.run(put())))["state"] == "done"


def test_faults_are_told_at_once_and_those_found_on_the_way_in_the_end(tmp_path):
    label = {"procedure": "wltp", "consumption_kwh_per_100_km": 90}  # a lorry's consumption on a car
    odd = {"spec": {"kind": "bev", "mass_kg": 1500, "battery": {"usable_kwh": 45}, "label": label}}

    async def exchange():
        async with serving(tmp_path) as (_, client):
            bad = BODY | {"vehicles": [{"id": "no-such"}], "place": "atlantis"}
            refused = [await client.post(path, json=bad) for path in ("/api/comparison-jobs", "/api/comparisons")]
            assert [reply.status_code for reply in refused] == [422, 422]
            assert refused[0].json() == refused[1].json()
            sync = await client.post("/api/comparisons", json=BODY | {"vehicles": [odd]})
            put = await client.post("/api/comparison-jobs", json=BODY | {"vehicles": [odd]})
            return sync, await over(client, put.json()["link_path"])

    sync, job = asyncio.run(exchange())
    assert sync.status_code == 422
    assert job["state"] == "failed"
    assert job["answer"] is None
    assert job["errors"] == sync.json()["errors"]


def test_without_a_store_there_is_no_long_work_and_a_link_opens_nothing(ask):
    reply = ask("POST", "/api/comparison-jobs", json=BODY)
    assert reply.status_code == 503
    assert "RANGEWRIGHT_DATABASE_FILE" in reply.json()["errors"][0]["remedy"]


@pytest.mark.parametrize(("method", "tail"), [("GET", ""), ("DELETE", ""), ("GET", "/events")])
def test_unknown_jobs_are_not_there(tmp_path, method, tail):
    async def exchange():
        async with serving(tmp_path, works=False) as (app, client):
            page_job = await app.state.long_work.add("routes_page", "{}", 1)  # of the page: not for programs
            for token in ("x", "x" * 32, page_job.token):
                reply = await client.request(method, f"/api/comparison-jobs/{token}{tail}")
                assert reply.status_code == 404
                assert reply.json()["errors"][0]["message"]

    asyncio.run(exchange())


def test_a_long_table_on_the_page_shows_how_far_it_is_without_a_script(tmp_path, monkeypatch):
    monkeypatch.setattr(routes_pages, "MOST_AT_ONCE", 100)

    def plain(text):  # keeping asks for the job on its page, for the question on the other
        return re.sub(r'<form class="keep".*?</form>', "", text, flags=re.DOTALL)

    async def exchange():
        async with serving(tmp_path, works=False) as (app, client):
            sent = await client.post("/routes", data=FORM, headers={"origin": "http://127.0.0.1:8000"})
            assert sent.status_code == 303
            path = sent.headers["location"]
            waits = await client.get(path)
            assert waits.status_code == 200
            assert '<meta http-equiv="refresh" content="2">' in waits.text
            assert "<script" not in waits.text
            assert "6 routes are being compared." in waits.text
            assert "It waits for its turn." in waits.text
            claim = app.state.long_work.store.claim("somebody", 60, "other")
            app.state.long_work.store.keep_chunk(claim.id, "somebody", 0, "[]")
            assert "1 of 6 routes are done" in (await client.get(path)).text
            app.state.long_work.store.release(claim.id, "somebody")
            app.state.long_work.start(app.state.catalogue)
            await still(client, path)
            done = await client.get(path)
            monkeypatch.setattr(routes_pages, "MOST_AT_ONCE", 10_000)
            whole = await client.post("/routes", data=FORM, headers={"origin": "http://127.0.0.1:8000"})
            return done, whole

    done, whole = asyncio.run(exchange())
    assert done.status_code == whole.status_code == 200
    assert plain(done.text) == plain(whole.text)  # answer and form, table included


def test_a_finished_table_is_kept_beyond_its_day_without_being_worked_again(tmp_path, monkeypatch):
    monkeypatch.setattr(routes_pages, "MOST_AT_ONCE", 100)
    origin = {"origin": "http://127.0.0.1:8000"}

    async def exchange():
        async with serving(tmp_path) as (app, client):
            path = (await client.post("/routes", data=FORM, headers=origin)).headers["location"]
            await still(client, path)
            done = await client.get(path)
            form = re.search(r'<form class="keep" method="post" action="([^"]+)".*?</form>', done.text, re.DOTALL)
            token = re.search(r'name="form_token" value="([^"]+)"', form[0])[1]
            monkeypatch.setattr(routes_pages, "compare", None)  # whoever worked it again would fail
            kept = await client.post(form[1], data={"form_token": token, "note": "all rounds"}, headers=origin)
            assert kept.status_code == 303, kept.text
            monkeypatch.setattr(app.state.long_work.store, "_clock", lambda: time.time() + 90_000)
            gone = await client.get(path)
            late = await client.post(form[1], data={"form_token": token}, headers=origin)
            return done, gone, late, await client.get(kept.headers["location"])

    done, gone, late, sheet = asyncio.run(exchange())
    assert gone.status_code == late.status_code == 404
    assert headline(sheet.text) == headline(done.text)
    assert "all rounds" in sheet.text
    assert "round 5,15,50" in html.unescape(sheet.text).replace("%2C", ",").replace("+", " ")


def test_a_finished_job_is_kept_by_its_program(tmp_path):
    async def exchange():
        async with serving(tmp_path) as (app, client):
            job = await over(client, (await client.post("/api/comparison-jobs", json=BODY)).json()["link_path"])
            kept = await client.post(job["link_path"] + "/sheet", json={"note": "x"})
            assert kept.status_code == 201, kept.text
            sheet = (await client.get(f"/api{kept.json()['link_path']}")).json()
            page = await client.get(kept.json()["link_path"])
            none = await client.post("/api/comparison-jobs/" + "x" * 32 + "/sheet", json={})
            bad = await client.post(job["link_path"] + "/sheet", json={"expires_in_days": 0})
            app.state.long_work._runner.stop()
            early = await client.post("/api/comparison-jobs", json=BODY)
            waits = await client.post(early.json()["link_path"] + "/sheet", json={})
            return job, sheet, page, [none.status_code, bad.status_code, waits.status_code]

    job, sheet, page, refusals = asyncio.run(exchange())
    assert (sheet["kind"], sheet["note"], sheet["question"]) == ("comparison", "x", BODY)
    assert sheet["answer"] == job["answer"]
    assert headline(page.text)
    assert refusals == [404, 422, 409]


def test_cells_of_another_version_are_neither_shown_nor_kept_under_this_one(tmp_path, monkeypatch):
    monkeypatch.setattr(routes_pages, "MOST_AT_ONCE", 100)
    origin = {"origin": "http://127.0.0.1:8000"}

    async def exchange():
        async with serving(tmp_path) as (_, client):
            path = (await client.post("/routes", data=FORM, headers=origin)).headers["location"]
            await still(client, path)
            job = await over(client, (await client.post("/api/comparison-jobs", json=BODY)).json()["link_path"])
            for module in (routes_jobs_pages, comparison_jobs_api):
                monkeypatch.setattr(module, "MODEL_VERSION", "9.9.9")
            return await client.get(path), await client.post(job["link_path"] + "/sheet", json={})

    page, kept = asyncio.run(exchange())
    assert "n older version of the model compared them" in page.text
    assert "round 5,15,50" in page.text  # the form is there to ask anew
    assert kept.status_code == 409


def test_a_stopped_table_is_given_back_with_its_form(tmp_path, monkeypatch):
    monkeypatch.setattr(routes_pages, "MOST_AT_ONCE", 100)

    async def exchange():
        async with serving(tmp_path, works=False) as (_, client):
            origin = {"origin": "http://127.0.0.1:8000"}
            path = (await client.post("/routes", data=FORM, headers=origin)).headers["location"]
            token = re.search(r'name="form_token" value="([^"]+)"', (await client.get(path)).text).group(1)
            without = await client.post(path + "/cancel", data={"form_token": "x"}, headers=origin)
            assert without.status_code == 403
            stop = await client.post(path + "/cancel", data={"form_token": html.unescape(token)}, headers=origin)
            assert stop.status_code == 303
            return await client.get(stop.headers["location"]), await client.get("/routes/jobs/" + "x" * 32)

    stopped, none = asyncio.run(exchange())
    assert "he comparison was stopped" in stopped.text
    assert "round 5,15,50" in stopped.text
    assert none.status_code == 404
