"""Chunks are worked once, kept as they are finished, and resumed by whoever comes next."""

import json
import threading
import time

import pytest

from service.errors import BadInput
from service.fleet.answer import Comparison
from service.fleet.compare import compare
from service.intake.comparison import read_comparison
from service.jobs import Runner, Task, comparison_task
from service.jobs.task import comparison_from
from service.store import JobState, JobStore, StoreAway
from service.store.database import sqlite_url

PATIENCE_S = 30


@pytest.fixture
def store(tmp_path):
    opened = JobStore(sqlite_url(tmp_path / "kept.sqlite3"))
    yield opened
    opened.close()


class Counting:
    """A task of so many chunks that counts how often each is solved, and does something before one of them."""

    def __init__(self, total=6, before=None):
        self.total, self.before, self.solved = total, before or {}, []

    def __call__(self, question):
        return Task(
            self.total, self.solve, lambda results: f"{question}:{'|'.join(map(results.get, range(self.total)))}"
        )

    def solve(self, number):
        if number in self.before:
            self.before.pop(number)()
        self.solved.append(number)
        return f"r{number}"


def runner(store, kind, version="1", threads=1, lease_s=10.0):
    return Runner(store, {"count": kind}, version, threads, lease_s)


def put(store, total=6):
    return store.add("count", "q", total, "1").token


def wait_for(condition):
    until = time.monotonic() + PATIENCE_S
    while not condition():
        assert time.monotonic() < until
        time.sleep(0.01)


@pytest.mark.parametrize("threads", [1, 4])
def test_every_chunk_once_and_the_answer_in_order(store, threads):
    token, kind = put(store), Counting()
    worker = runner(store, kind, threads=threads)
    assert worker.work_once()
    assert not worker.work_once()
    assert sorted(kind.solved) == list(range(6))
    job = store.get(token)
    assert (job.state, job.done, job.answer) == (JobState.DONE, 6, "q:r0|r1|r2|r3|r4|r5")


class Died(BaseException):
    """Stands for the end of a process: nothing after it is done."""


def test_a_dead_workers_chunks_are_not_worked_again(store, monkeypatch):
    def die():
        raise Died

    token, kind = put(store), Counting(before={3: die})
    first = runner(store, kind, lease_s=0.5)
    with pytest.raises(Died):
        first.work_once()
    assert kind.solved == [0, 1, 2]
    second = runner(store, kind)
    assert not second.work_once()  # the lease of the dead one
    wait_for(second.work_once)
    assert sorted(kind.solved) == list(range(6))  # each once
    assert store.get(token).answer == "q:r0|r1|r2|r3|r4|r5"


def test_a_stop_gives_the_job_back_with_its_chunks(store):
    token, kind = put(store), Counting()
    first = runner(store, kind)
    kind.before[2] = first._stopping.set
    assert first.work_once()
    assert kind.solved == [0, 1, 2]
    assert store.get(token).state is JobState.WAITING
    assert runner(store, kind).work_once()  # at once, no lease to wait for
    assert sorted(kind.solved) == list(range(6))


def test_cancelled_between_chunks(store):
    kind = Counting()
    token = put(store)
    kind.before[2] = lambda: store.cancel(token)
    runner(store, kind).work_once()
    assert kind.solved == [0, 1, 2]
    job = store.get(token)
    assert (job.state, job.done) == (JobState.CANCELLED, 2)  # what was at hand is not kept


def test_a_long_chunk_keeps_its_lease(store):
    token = put(store)
    kind = Counting(before={1: lambda: time.sleep(1.2)})
    working = threading.Thread(target=runner(store, kind, lease_s=0.4).work_once)
    working.start()
    wait_for(lambda: store.get(token).done == 1)
    other = runner(store, kind)
    assert not any(other.work_once() for _ in range(20) if not time.sleep(0.05))
    working.join()
    assert store.get(token).state is JobState.DONE
    assert sorted(kind.solved) == list(range(6))


def test_faults_of_the_question_are_told_and_faults_of_ours_are_not(store):
    def bad(_question):
        raise BadInput("vehicles[0].spec", None, "the label contradicts itself", "check it")

    token = put(store)
    runner(store, bad).work_once()
    job = store.get(token)
    assert job.state is JobState.FAILED
    assert json.loads(job.errors)[0]["field"] == "vehicles[0].spec"

    def broken():
        raise ZeroDivisionError("secret")

    token = put(store)
    runner(store, Counting(before={0: broken})).work_once()
    assert store.get(token).state is JobState.FAILED
    assert "secret" not in store.get(token).errors


def test_a_database_that_goes_away_for_a_moment_loses_no_chunk(store):
    def away():
        raise StoreAway("away", "wait", 1)

    token, kind = put(store), Counting(before={3: away})
    worker = runner(store, kind)
    worker.work_once()
    assert store.get(token).state is JobState.WAITING
    worker.work_once()
    assert sorted(kind.solved) == list(range(6))
    assert store.get(token).state is JobState.DONE


def test_a_database_that_is_not_there_is_told_once_and_waited_for(store, monkeypatch, caplog):
    from service.jobs import runner as module

    monkeypatch.setattr(module, "POLL_S", 0.01)
    token, kind, real, tries = put(store), Counting(), store.claim, []

    def claim(*given):
        tries.append(1)
        if len(tries) < 20:
            raise StoreAway("away", "wait", 1)
        return real(*given)

    monkeypatch.setattr(store, "claim", claim)
    worker = runner(store, kind)
    worker.start()
    wait_for(lambda: store.get(token).state is JobState.DONE)
    worker.stop()
    assert [record.getMessage() for record in caplog.records] == ["long work waits: away; wait"]


def test_many_workers_empty_the_line_together(store):
    kind = Counting(total=4)
    tokens = [put(store, 4) for _ in range(12)]
    workers = [runner(store, kind) for _ in range(4)]
    for worker in workers:
        worker.start()
    wait_for(lambda: all(store.get(token).state is JobState.DONE for token in tokens))
    for worker in workers:
        worker.stop()
    assert sorted(kind.solved) == sorted([*range(4)] * 12)


def test_a_comparison_in_chunks_is_the_comparison(store, catalogue):
    raw = {
        "vehicles": [{"id": "electric-delivery-van"}, {"id": "family-suv-plug-in"}],
        "routes": [
            {"name": name, "journey": {"legs": [{"distance_km": km, "speed_km_h": 60}]}, "trips_per_day": trips}
            for name, km, trips in (("short", 9, 3), ("long", 90, 1), ("middle", 30, 2))
        ],
        "place": "helsinki",
    }
    question = read_comparison(raw, catalogue)
    whole: list[Comparison] = []
    task = comparison_task(question, catalogue, lambda comparison: whole.append(comparison) or "kept")
    results = {number: task.solve(number) for number in reversed(range(task.total))}
    assert task.finish(results) == "kept"
    assert whole == [compare(question, catalogue)] == [comparison_from(question, results, catalogue)]
