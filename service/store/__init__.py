"""Saved sheets: question, frozen answer and printed page, in SQLite or PostgreSQL. No other room knows a database."""

from pathlib import Path

from service.store.database import postgres_url, sqlite_url
from service.store.failures import StoreAway
from service.store.sheets import NewSheet, Sheet, SheetStore, Summary

__all__ = ["NewSheet", "Sheet", "SheetStore", "StoreAway", "Summary", "store_at"]


def store_at(place: str) -> SheetStore:
    """The store of a PostgreSQL address or of a file. Nothing is opened yet."""
    is_address = place.startswith(("postgresql://", "postgres://"))
    return SheetStore(postgres_url(place) if is_address else sqlite_url(Path(place).expanduser()))
