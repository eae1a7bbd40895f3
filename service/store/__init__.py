"""Saved sheets: question, frozen answer and printed page, in SQLite or PostgreSQL. No other room knows a database."""

from service.store.failures import StoreAway
from service.store.sheets import NewSheet, Sheet, SheetStore, Summary

__all__ = ["NewSheet", "Sheet", "SheetStore", "StoreAway", "Summary"]
