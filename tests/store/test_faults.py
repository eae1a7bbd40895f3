"""A store that cannot be used says so in people's words, without a path, and works again once mended."""

import os
import re
import shutil
import sqlite3
import tempfile
import time
import traceback
from contextlib import closing, contextmanager
from dataclasses import asdict
from pathlib import Path

import pytest
from sqlalchemy import event, insert
from sqlalchemy.exc import IntegrityError

from service.store import SheetStore, StoreAway
from service.store.database import empty_side_files, postgres_url, sqlite_url
from service.store.tables import SHEETS

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


def test_a_file_that_can_only_be_read_is_read(folder, new_sheet):
    file = folder / "sheets.sqlite3"
    first = SheetStore(sqlite_url(file))
    kept = first.save(new_sheet())
    first.close()
    folder.chmod(0o777)  # a reader of a write-ahead log needs its side files
    store = SheetStore(sqlite_url(file))
    with locked_out(file):
        assert store.open(kept.token) == kept
        assert store.find(kept.reference).token == kept.token
        with pytest.raises(StoreAway) as caught:
            store.save(new_sheet())
        assert told(caught) == "the saved sheets can be read but not written"
        with pytest.raises(StoreAway):
            store.delete(kept.token)
        store.close()
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


@pytest.mark.parametrize("damage", ["noise", "cut", "a byte in the middle"])
def test_a_damaged_write_ahead_log_costs_what_it_held_and_nothing_else(folder, new_sheet, damage):
    """As after a crash of the machine: SQLite takes the log up to its first wrong sum, and the file is whole."""
    file, log, killed = folder / "sheets.sqlite3", folder / "sheets.sqlite3-wal", folder / "killed"
    first = SheetStore(sqlite_url(file))
    settled = [first.save(new_sheet(note=str(number))) for number in range(5)]
    empty_side_files(first._engine)
    late = [first.save(new_sheet(note=f"late {number}")) for number in range(5)]
    killed.mkdir()
    for path in (file, log):  # what a killed process leaves behind
        shutil.copy(path, killed)
    first.close()
    torn = killed / log.name
    whole = torn.read_bytes()
    middle = len(whole) // 2
    spoiled = {"noise": os.urandom(len(whole)), "cut": whole[:middle]}
    torn.write_bytes(spoiled.get(damage, whole[:middle] + bytes([whole[middle] ^ 0xFF]) + whole[middle + 1 :]))
    store = SheetStore(sqlite_url(killed / file.name))
    assert [store.open(sheet.token) for sheet in settled] == settled
    there = [store.open(sheet.token) for sheet in late]
    assert there == late[: store.count() - 5] + [None] * (10 - store.count())  # the first ones, whole, or none
    assert store.count() < 10
    again = store.save(new_sheet(note="afterwards"))
    assert store.open(again.token) == again
    store.close()


def files_hold(folder, text):
    """Names of the files that hold it."""
    return [path.name for path in folder.iterdir() if text.encode() in path.read_bytes()]


@pytest.mark.parametrize("how", ["deleted", "expired"])
def test_what_is_gone_is_gone_from_the_disk(folder, new_sheet, clock, how):
    store = SheetStore(sqlite_url(folder / "sheets.sqlite3"), clock)
    secret = "the blue one of the mayor"
    for _ in range(3):
        store.save(new_sheet())
    kept = store.save(new_sheet(note=secret, page=f"<p>{secret}</p>" * 3000, question=f'"{secret}"', lasts_s=60))
    assert files_hold(folder, secret)
    clock.now_s += 61
    assert store.delete(kept.token) if how == "deleted" else store.purge() == 1
    assert files_hold(folder, secret) == []
    assert store.count() == 3
    store.close()


def test_a_reader_delays_that_until_the_next_purge(folder, new_sheet):
    store = SheetStore(sqlite_url(folder / "sheets.sqlite3"))
    kept = store.save(new_sheet(note="the blue one"))
    with closing(sqlite3.connect(folder / "sheets.sqlite3")) as reader:
        reader.execute("BEGIN")
        reader.execute("SELECT count(*) FROM sheets").fetchone()
        began = time.monotonic()
        assert store.delete(kept.token)
        assert time.monotonic() - began < 2  # it is not waited for
        assert files_hold(folder, "the blue one")
    assert store.purge() == 0
    assert files_hold(folder, "the blue one") == []
    store.close()


def test_errors_of_the_database_tell_no_link(url, new_sheet):
    store = SheetStore(url)
    kept = store.save(new_sheet(note="of somebody"))
    with pytest.raises(IntegrityError) as caught:
        store._run(lambda connection: connection.execute(insert(SHEETS).values(asdict(kept))))
    told_by_it = "".join(traceback.format_exception(caught.value))
    assert kept.token not in told_by_it or url.get_backend_name() == "postgresql"  # its server tells the key
    assert "of somebody" not in told_by_it
    store.close()


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
