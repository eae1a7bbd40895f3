"""The line of long work: claimed by one, leased, resumed with what is there, stopped, forgotten after a day."""

from concurrent.futures import ThreadPoolExecutor

import pytest

from service.store import JobState, JobStore, StoreAway
from service.store import jobs as jobs_module

LEASE_S, VERSION = 10, "0.2.0"


@pytest.fixture
def jobs(url, clock):
    opened = JobStore(url, clock)
    yield opened
    opened.close()


def put(jobs, total=3):
    return jobs.add("comparison", '{"routes": []}', total, VERSION)


def claim(jobs, owner="a", version=VERSION):
    return jobs.claim(owner, LEASE_S, version)


def test_a_job_goes_through_the_line(jobs, clock):
    job = put(jobs)
    assert jobs.get(job.token) == job
    assert (job.state, job.done, job.total, job.per_s, job.left_s) == (JobState.WAITING, 0, 3, None, None)
    mine = claim(jobs)
    assert (mine.kind, mine.question, mine.total) == ("comparison", '{"routes": []}', 3)
    clock.now_s += 4
    assert jobs.keep_chunk(mine.id, "a", 1, "one")
    now = jobs.get(job.token)
    assert (now.state, now.done, now.per_s, now.left_s) == (JobState.RUNNING, 1, 0.25, 8.0)
    assert jobs.keep_chunk(mine.id, "a", 0, "nought")
    assert jobs.keep_chunk(mine.id, "a", 2, "two")
    assert jobs.chunks(mine.id) == jobs.chunks_of(job.token) == {0: "nought", 1: "one", 2: "two"}
    assert jobs.finish(mine.id, "a", "the answer")
    over = jobs.get(job.token)
    assert (over.state, over.answer, over.left_s) == (JobState.DONE, "the answer", 0.0)
    assert claim(jobs) is None


def test_the_oldest_comes_first_and_each_is_claimed_once(jobs):
    tokens = [put(jobs).token for _ in range(8)]
    with ThreadPoolExecutor(8) as workers:
        claims = list(workers.map(lambda number: claim(jobs, f"worker {number}"), range(12)))
    claims += [claim(jobs, "late") for _ in range(8)]  # a locked row is passed over by those who come at once
    ids = [each.id for each in claims if each]
    assert len(ids) == len(set(ids)) == 8
    assert all(jobs.get(token).state is JobState.RUNNING for token in tokens)


def test_who_lives_keeps_the_job_and_who_died_loses_it(jobs, clock):
    job = put(jobs)
    mine = claim(jobs)
    assert jobs.keep_chunk(mine.id, "a", 0, "of a")
    clock.now_s += LEASE_S - 1
    assert jobs.renew(mine.id, "a", LEASE_S)
    clock.now_s += LEASE_S - 1
    assert claim(jobs, "b") is None
    clock.now_s += 2
    assert claim(jobs, "b").id == mine.id
    assert jobs.get(job.token).done == 1
    assert not jobs.renew(mine.id, "a", LEASE_S)  # a was only slow: whatever it does now is not kept
    assert not jobs.keep_chunk(mine.id, "a", 1, "of a")
    assert not jobs.finish(mine.id, "a", "of a")
    assert not jobs.release(mine.id, "a")
    assert jobs.keep_chunk(mine.id, "b", 1, "of b")
    assert jobs.chunks(mine.id) == {0: "of a", 1: "of b"}


def test_rate_and_time_left_are_those_of_who_works_now(jobs, clock):
    """After a night without a worker neither the night nor the chunks of the dead one count."""
    job = put(jobs, 10)
    mine = claim(jobs)
    for number in range(4):
        clock.now_s += 1
        jobs.keep_chunk(mine.id, "a", number, "fast")
    assert (jobs.get(job.token).per_s, jobs.get(job.token).left_s) == (1.0, 6.0)
    clock.now_s += 30_000
    claim(jobs, "b")
    resumed = jobs.get(job.token)
    assert (resumed.done, resumed.per_s, resumed.left_s) == (4, None, None)  # nobody knows yet
    clock.now_s += 5
    jobs.keep_chunk(mine.id, "b", 4, "slow")
    assert (jobs.get(job.token).per_s, jobs.get(job.token).left_s) == (0.2, 25.0)
    clock.now_s -= 3600  # somebody sets the clock back
    jobs.keep_chunk(mine.id, "b", 5, "odd")
    odd = jobs.get(job.token)
    assert (odd.done, odd.per_s, odd.left_s) == (6, None, None)


def test_a_worker_that_stops_gives_the_job_back_at_once(jobs):
    job = put(jobs)
    mine = claim(jobs)
    jobs.keep_chunk(mine.id, "a", 0, "x")
    assert jobs.release(mine.id, "a")
    assert jobs.get(job.token).state is JobState.WAITING
    assert claim(jobs, "b").id == mine.id
    assert jobs.chunks(mine.id) == {0: "x"}


def test_a_cancelled_job_keeps_nothing_more(jobs):
    waits, runs = put(jobs), put(jobs)
    assert jobs.cancel(waits.token)
    mine = claim(jobs)
    assert jobs.cancel(runs.token)
    assert not jobs.keep_chunk(mine.id, "a", 0, "x")
    assert not jobs.renew(mine.id, "a", LEASE_S)
    assert {jobs.get(each.token).state for each in (waits, runs)} == {JobState.CANCELLED}
    assert claim(jobs) is None
    assert not jobs.cancel("x" * 32)


def test_a_finished_job_stays_finished(jobs):
    job = put(jobs)
    mine = claim(jobs)
    jobs.finish(mine.id, "a", "answer")
    assert jobs.cancel(job.token)
    assert jobs.get(job.token).state is JobState.DONE


def test_a_job_that_kills_its_workers_is_given_up_and_a_finished_chunk_is_a_new_start(jobs, clock):
    job = put(jobs)
    for owner in "abc":
        mine = claim(jobs, owner)
        assert mine
        clock.now_s += LEASE_S + 1
    assert claim(jobs, "d") is None
    over = jobs.get(job.token)
    assert over.state is JobState.FAILED
    assert "three times" in over.errors
    slow = put(jobs, 9)
    for number in range(6):  # dies after a chunk each time: goes on
        mine = claim(jobs, str(number))
        assert jobs.keep_chunk(mine.id, str(number), number, "x")
        clock.now_s += LEASE_S + 1
    assert jobs.get(slow.token).done == 6


def test_chunks_of_another_model_are_not_mixed_in(jobs, clock):
    job = put(jobs)
    mine = claim(jobs)
    jobs.keep_chunk(mine.id, "a", 0, "old")
    clock.now_s += LEASE_S + 1
    assert claim(jobs, "b", "0.3.0").id == mine.id
    assert jobs.chunks(mine.id) == {}
    assert jobs.get(job.token).done == 0


def test_the_line_ends(jobs, monkeypatch):
    monkeypatch.setattr(jobs_module, "MOST_WAITING", 2)
    put(jobs), put(jobs)
    with pytest.raises(StoreAway, match="wait already"):
        put(jobs)
    claim(jobs)
    put(jobs)


def test_a_day_after_its_end_a_job_is_gone(jobs, clock):
    job = put(jobs)
    mine = claim(jobs)
    jobs.keep_chunk(mine.id, "a", 0, "x")
    clock.now_s += 3600
    jobs.finish(mine.id, "a", "answer")
    clock.now_s += 86_399
    assert jobs.get(job.token).answer == "answer"
    assert jobs.purge() == 0
    clock.now_s += 1
    assert jobs.get(job.token) is None
    assert jobs.purge() == 1
    assert jobs.chunks(mine.id) == {}
