"""Long work as it leaves: where it stands and how fast it goes, for programs and in a sentence for people."""

from typing import Any, Self

from pydantic import Field

from service.reporting.answers import Outgoing
from service.reporting.comparison_out import ComparisonOut
from service.store import Job, JobState

__all__ = ["ComparisonJobOut", "JobProgressOut", "job_path", "progress_sentence"]


def job_path(job: Job) -> str:
    """Where a program finds it."""
    return f"/api/comparison-jobs/{job.token}"


class JobProgressOut(Outgoing):
    """Where a job stands."""

    id: str = Field(description="whoever has it can read and cancel the job")
    link_path: str
    state: JobState = Field(description="waiting and running go on; done, failed and cancelled are the end")
    routes_done: int
    routes_total: int
    routes_per_s: float | None = Field(description="of the present worker; null until it has finished one")
    left_s: float | None = Field(description="at that rate; 0 at the end, null where nobody knows")

    @classmethod
    def of(cls, job: Job, **more: object) -> Self:
        """From the record."""
        return cls(
            id=job.token,
            link_path=job_path(job),
            state=job.state,
            routes_done=job.done,
            routes_total=job.total,
            routes_per_s=None if job.per_s is None else round(job.per_s, 3),
            left_s=None if job.left_s is None else round(job.left_s, 1),
            **more,
        )


class ComparisonJobOut(JobProgressOut):
    """A job with its answer."""

    errors: list[dict[str, Any]] = Field(description="rows of field, value, message, remedy; empty unless it failed")
    answer: ComparisonOut | None = Field(description="as POST /api/comparisons gives it; null until it is done")


def progress_sentence(job: Job) -> str:
    """Where it stands, in words."""
    if job.state is JobState.WAITING:
        return "It waits for its turn."
    told = f"{job.done} of {job.total} routes are done"
    if job.per_s is None or job.left_s is None:
        return f"{told}."
    left = f"{job.left_s:.0f} s" if job.left_s < 120 else f"{job.left_s / 60:.0f} minutes"
    return f"{told}, {job.per_s:.2g} a second; about {left} left."
