"""A store that cannot be used says so in people's words, without a path, and works again once mended."""

import os
import re
import shutil
import tempfile
from contextlib import contextmanager
from pathlib import Path

import pytest
from sqlalchemy import event

from service.store import SheetStore, StoreAway
from service.store.database import postgres_url, sqlite_url

NOBODY = 65_534


@pytest.fixture
def folder():
    """A folder that others may enter, unlike pytest's own."""
    made = Path(tempfile.mkdtemp(prefix="rangewright-faults-"))
    made.chmod(0o755)
    yield made
    made.chmod(0o755)
    shutil.rmtree(made)


@contextmanager
def locked_out(*paths):
    """Nobody may write there: root neither, for it becomes somebody else."""
    for path in paths:
        path.chmod(0o555 if path.is_dir() else 0o444)
    root = os.geteuid() == 0
    if root:
        os.seteuid(NOBODY)
    try:
        yield
    finally:
        if root:
            os.seteuid(0)
        for path in paths:
            path.chmod(0o755 if path.is_dir() else 0o600)


def told(caught):
    """The one row, which tells nothing about the machine."""
    (row,) = caught.value.rows()
    text = f"{row.field} {row.value} {row.message} {row.remedy}"
    assert row.field == "store"
    assert not re.search(r"/|sqlite|psycopg|INSERT|Traceback|127\.0", text, re.IGNORECASE)
    assert "quotes go on working" in row.remedy
    assert caught.value.retry_after_s > 0
    return row.message


def test_a_full_disk(folder, new_sheet):
    store = SheetStore(sqlite_url(folder / "sheets.sqlite3"))
    kept = store.save(new_sheet())

    @event.listens_for(store._engine, "begin")
    def hold(connection):  # as many pages as there are: what a full disk says, too
        connection.exec_driver_sql("PRAGMA max_page_count = 1")

    with pytest.raises(StoreAway) as caught:
        store.save(new_sheet(page="x" * 100_000))
    assert told(caught) == "the disk that holds the saved sheets is full"
    assert store.open(kept.token) == kept
    event.remove(store._engine, "begin", hold)
    event.listen(store._engine, "begin", lambda each: each.exec_driver_sql("PRAGMA max_page_count = 100000"))
    store.save(new_sheet(page="x" * 100_000))
    assert store.count() == 2
    store.close()


def test_a_disk_that_cannot_be_written(folder, new_sheet):
    file = folder / "sheets.sqlite3"
    first = SheetStore(sqlite_url(file))
    kept = first.save(new_sheet())
    first.close()
    store = SheetStore(sqlite_url(file))
    with locked_out(file, folder):
        with pytest.raises(StoreAway) as caught:
            store.save(new_sheet())
        assert "written" in told(caught) or "opened" in told(caught)
    assert store.save(new_sheet()).reference
    assert store.open(kept.token) == kept
    store.close()


def test_a_folder_that_cannot_be_made(folder, new_sheet):
    store = SheetStore(sqlite_url(folder / "deep" / "sheets.sqlite3"))
    with locked_out(folder):
        with pytest.raises(StoreAway) as caught:
            store.save(new_sheet())
        assert "cannot be opened" in told(caught)
    assert store.save(new_sheet()).reference
    store.close()


@pytest.mark.parametrize("damage", ["another file", "torn"])
def test_a_damaged_file(folder, new_sheet, damage):
    file = folder / "sheets.sqlite3"
    first = SheetStore(sqlite_url(file))
    for _ in range(20):
        first.save(new_sheet(page="x" * 5000))
    first.close()
    whole = file.read_bytes()
    torn = whole[:4096] + b"\xff" * (len(whole) - 4096)
    file.write_bytes(b"not a database\n" * 1000 if damage == "another file" else torn)
    store = SheetStore(sqlite_url(file))
    with pytest.raises(StoreAway) as caught:
        store.save(new_sheet())
    assert "damaged" in told(caught)
    store.close()
    file.write_bytes(whole)  # the backup
    mended = SheetStore(sqlite_url(file))
    assert mended.count() == 20
    mended.close()


def test_new_files_are_their_owners_only(folder, new_sheet):
    store = SheetStore(sqlite_url(folder / "kept" / "sheets.sqlite3"))
    store.save(new_sheet())
    modes = {path.name: path.stat().st_mode & 0o777 for path in (folder / "kept").iterdir()}
    assert set(modes.values()) == {0o600}
    assert "sheets.sqlite3-wal" in modes
    assert (folder / "kept").stat().st_mode & 0o777 == 0o700
    store.close()


def test_a_restarted_server_is_met_again(postgres, new_sheet):
    store = SheetStore(postgres_url(postgres.fresh()))
    kept = store.save(new_sheet())
    postgres.stop("immediate")  # as after a power cut
    try:
        with pytest.raises(StoreAway) as caught:
            store.save(new_sheet())
        assert "does not answer" in told(caught)
    finally:
        postgres.start()
    assert store.open(kept.token) == kept
    assert store.save(new_sheet()).reference
    store.close()


def test_a_server_that_is_not_there_at_the_start_is_met_later(postgres, new_sheet):
    address = postgres.fresh()
    postgres.stop()
    store = SheetStore(postgres_url(address))
    try:
        with pytest.raises(StoreAway):
            store.prepare()
    finally:
        postgres.start()
    assert store.save(new_sheet()).reference
    store.close()
