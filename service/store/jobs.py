"""Keeping long work: a line in the database, claimed by one worker at a time, its chunks kept as they are finished.

Lease    who claims a job owns it until a moment that the owner moves on while it lives. Afterwards anybody may claim
         it, with the chunks that are there. A chunk is kept only for the owner, so that two never work to the same end.
Clock    of the machine; machines that share a database keep their clocks together within a few seconds.
"""

from dataclasses import dataclass
from enum import StrEnum

from sqlalchemy import Connection, delete, func, insert, or_, select, update

from service.store.failures import StoreAway
from service.store.opened import Opened
from service.store.references import new_token
from service.store.tables import CHUNKS, JOBS

__all__ = ["Claim", "Job", "JobState", "JobStore"]

MOST_WAITING = 100  # jobs; more are refused
MOST_TRIES = 3  # workers that died or gave up since the last finished chunk
LASTS_S = 86_400  # a day, from the last change
FULL = (f"{MOST_WAITING} long comparisons wait already", "try again in a minute", 60)
GIVEN_UP = (
    '[{"field": "job", "value": null, "message": "its worker stopped three times at the same place", '
    '"remedy": "ask for less at once; tell whoever runs the service"}]'
)


class JobState(StrEnum):
    """Where a job stands."""

    WAITING = "waiting"
    RUNNING = "running"
    DONE = "done"
    FAILED = "failed"
    CANCELLED = "cancelled"

    @property
    def is_over(self) -> bool:
        """True if it does not change any more."""
        return self not in (JobState.WAITING, JobState.RUNNING)


@dataclass(frozen=True, slots=True)
class Job:
    """A job as readers see it. Times in seconds since 1970."""

    token: str
    kind: str
    question: str
    model_version: str  # of the chunks that are there
    state: JobState
    done: int  # chunks
    total: int
    begun_at_s: float
    begun_with: int
    changed_at_s: float
    answer: str  # empty until it is done
    errors: str  # JSON rows; empty unless it failed

    @property
    def per_s(self) -> float | None:
        """Chunks a second of the present worker; None until one is finished."""
        finished, taken_s = self.done - self.begun_with, self.changed_at_s - self.begun_at_s
        return finished / taken_s if finished > 0 and taken_s > 0 else None

    @property
    def left_s(self) -> float | None:
        """How long it still takes at that rate; 0 if it is over, None if nobody knows."""
        if self.state.is_over:
            return 0.0
        return None if self.per_s is None or self.state is JobState.WAITING else (self.total - self.done) / self.per_s


@dataclass(frozen=True, slots=True)
class Claim:
    """A job in the hands of a worker."""

    id: int
    kind: str
    question: str
    total: int


READ = tuple(JOBS.c[name] for name in Job.__dataclass_fields__)


class JobStore(Opened):
    """The jobs of one database."""

    def add(self, kind: str, question: str, total: int, model_version: str) -> Job:
        """Put one in the line. Raises StoreAway if the line is full."""
        now_s = self._clock()
        row = {
            "token": new_token(), "kind": kind, "question": question, "model_version": model_version,
            "state": JobState.WAITING.value, "done": 0, "total": total, "tries": 0, "owner": "", "leased_until_s": 0.0,
            "begun_at_s": now_s, "begun_with": 0, "changed_at_s": now_s, "expires_at_s": int(now_s) + LASTS_S,
            "answer": "", "errors": "",
        }  # fmt: skip

        def put(connection: Connection) -> None:
            waiting = select(func.count()).select_from(JOBS).where(JOBS.c.state == JobState.WAITING.value)
            if connection.execute(waiting).scalar_one() >= MOST_WAITING:
                raise StoreAway(*FULL)
            connection.execute(insert(JOBS).values(row))

        self._run(put, immediate=True)
        return Job(**{name: row[name] for name in Job.__dataclass_fields__} | {"state": JobState.WAITING})

    def get(self, token: str) -> Job | None:
        """The job of a link; None if there is none, or no longer."""
        one = select(*READ).where(JOBS.c.token == token, JOBS.c.expires_at_s > self._clock())
        row = self._run(lambda connection: connection.execute(one).mappings().one_or_none())
        return None if row is None else Job(**{**row, "state": JobState(row["state"])})

    def cancel(self, token: str) -> bool:
        """Take it out of the line, or have its worker stop after the chunks at hand; False if there is none."""
        this_one = JOBS.c.token == token
        stop = update(JOBS).where(this_one, JOBS.c.state.in_([JobState.WAITING.value, JobState.RUNNING.value]))
        values = {"state": JobState.CANCELLED.value, "owner": "", "changed_at_s": self._clock()}

        def run(connection: Connection) -> bool:
            connection.execute(stop.values(values))
            return connection.execute(select(JOBS.c.id).where(this_one)).one_or_none() is not None

        return self._run(run, immediate=True)

    def claim(self, owner: str, lease_s: float, model_version: str) -> Claim | None:
        """The oldest job that nobody works on, for `owner`; chunks of another model version are thrown away."""
        now_s = self._clock()
        free = or_(
            JOBS.c.state == JobState.WAITING.value,
            (JOBS.c.state == JobState.RUNNING.value) & (JOBS.c.leased_until_s < now_s),
        )

        def run(connection: Connection) -> Claim | None:
            oldest = select(JOBS).where(free).order_by(JOBS.c.id).limit(1).with_for_update(skip_locked=True)
            job = connection.execute(oldest).mappings().one_or_none()
            if job is None:
                return None
            this_one = update(JOBS).where(JOBS.c.id == job["id"])
            if job["tries"] >= MOST_TRIES:
                failed = {"state": JobState.FAILED.value, "errors": GIVEN_UP, "owner": "", "changed_at_s": now_s}
                connection.execute(this_one.values(failed))
                return None
            done = job["done"]
            if job["model_version"] != model_version:
                connection.execute(delete(CHUNKS).where(CHUNKS.c.job_id == job["id"]))
                done = 0
            connection.execute(
                this_one.values(
                    state=JobState.RUNNING.value, owner=owner, leased_until_s=now_s + lease_s, tries=job["tries"] + 1,
                    model_version=model_version, done=done, begun_with=done, begun_at_s=now_s, changed_at_s=now_s,
                )
            )  # fmt: skip
            return Claim(job["id"], job["kind"], job["question"], job["total"])

        return self._run(run, immediate=True)

    def renew(self, job_id: int, owner: str, lease_s: float) -> bool:
        """Go on owning it; False if it is cancelled or somebody else's."""
        return self._changed(job_id, owner, leased_until_s=self._clock() + lease_s)

    def keep_chunk(self, job_id: int, owner: str, number: int, result: str) -> bool:
        """Keep a finished chunk; False, and nothing kept, if the job is cancelled or somebody else's."""
        now_s = self._clock()
        change = self._mine(job_id, owner).values(done=JOBS.c.done + 1, tries=0, changed_at_s=now_s)
        chunk = {"job_id": job_id, "number": number, "owner": owner, "result": result}

        def run(connection: Connection) -> bool:
            if connection.execute(change).rowcount == 0:
                return False
            connection.execute(insert(CHUNKS).values(chunk))
            return True

        return self._run(run)

    def chunks(self, job_id: int) -> dict[int, str]:
        """Those that are finished."""
        found = select(CHUNKS.c.number, CHUNKS.c.result).where(CHUNKS.c.job_id == job_id).order_by(CHUNKS.c.number)
        return {number: result for number, result in self._run(lambda one: one.execute(found).all())}

    def chunks_of(self, token: str) -> dict[int, str]:
        """The same by the link."""
        job_id = self._run(lambda one: one.execute(select(JOBS.c.id).where(JOBS.c.token == token)).scalar_one_or_none())
        return {} if job_id is None else self.chunks(job_id)

    def finish(self, job_id: int, owner: str, answer: str) -> bool:
        """Done; False if it is cancelled or somebody else's."""
        return self._ended(job_id, owner, JobState.DONE, answer=answer)

    def fail(self, job_id: int, owner: str, errors: str) -> bool:
        """Not done, and why: JSON rows."""
        return self._ended(job_id, owner, JobState.FAILED, errors=errors)

    def release(self, job_id: int, owner: str) -> bool:
        """Put it back in the line, for a worker that stops in an orderly way: no try is counted."""
        back = {"state": JobState.WAITING.value, "owner": "", "tries": 0}
        return self._changed(job_id, owner, **back)

    def purge(self) -> int:
        """Delete what has expired; how many."""
        old = select(JOBS.c.id).where(JOBS.c.expires_at_s <= self._clock())

        def run(connection: Connection) -> int:
            connection.execute(delete(CHUNKS).where(CHUNKS.c.job_id.in_(old)))
            return connection.execute(delete(JOBS).where(JOBS.c.expires_at_s <= self._clock())).rowcount

        return self._erase(run, immediate=True)

    def _ended(self, job_id: int, owner: str, state: JobState, **values: str) -> bool:
        now_s = self._clock()
        last = {"state": state.value, "owner": "", "changed_at_s": now_s, "expires_at_s": int(now_s) + LASTS_S}
        return self._changed(job_id, owner, **last, **values)

    def _changed(self, job_id: int, mine: str, /, **values: object) -> bool:
        change = self._mine(job_id, mine).values(**values)
        return self._run(lambda connection: connection.execute(change).rowcount > 0)

    def _mine(self, job_id: int, owner: str) -> object:
        return update(JOBS).where(JOBS.c.id == job_id, JOBS.c.owner == owner, JOBS.c.state == JobState.RUNNING.value)
