"""Saved sheets and long work, in SQLite or PostgreSQL. No other room knows a database."""

from pathlib import Path

from sqlalchemy.engine import URL

from service.store.database import postgres_url, sqlite_url
from service.store.failures import StoreAway
from service.store.jobs import Claim, Job, JobState, JobStore
from service.store.sheets import NewSheet, Sheet, SheetStore, Summary

__all__ = [
    "Claim",
    "Job",
    "JobState",
    "JobStore",
    "NewSheet",
    "Sheet",
    "SheetStore",
    "StoreAway",
    "Summary",
    "jobs_at",
    "store_at",
]


def store_at(place: str) -> SheetStore:
    """The sheets of a PostgreSQL address or of a file. Nothing is opened yet."""
    return SheetStore(_url(place))


def jobs_at(place: str) -> JobStore:
    """The long work in the same place."""
    return JobStore(_url(place))


def _url(place: str) -> URL:
    is_address = place.startswith(("postgresql://", "postgres://"))
    return postgres_url(place) if is_address else sqlite_url(Path(place).expanduser())
