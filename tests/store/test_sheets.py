"""Sheets in both databases: what goes in comes out, letter by letter, until it is deleted or has expired."""

from concurrent.futures import ThreadPoolExecutor
from dataclasses import asdict

import pytest
from alembic.autogenerate import compare_metadata
from alembic.runtime.migration import MigrationContext
from sqlalchemy import text
from sqlalchemy.exc import DBAPIError

from service.store import SheetStore, StoreAway
from service.store import sheets as sheets_module
from service.store.database import migrate, open_engine, transaction
from service.store.tables import METADATA

DAY_S = 86_400


def test_a_sheet_comes_back_as_it_was_kept(store, new_sheet, clock):
    odd = new_sheet(note="Ü ' \" \\ % ; -- ü", answer='{"b": 1.10, "a": null}', page="<p>\u202f°C\n</p>" * 20_000)
    kept = store.save(odd)
    again = store.open(kept.token)
    assert again == kept
    assert (again.answer, again.page, again.note) == (odd.answer, odd.page, odd.note)
    assert (again.saved_at_s, again.expires_at_s) == (int(clock.now_s), None)


def test_it_is_there_for_the_next_process(url, new_sheet):
    first = SheetStore(url)
    kept = first.save(new_sheet())
    first.close()
    second = SheetStore(url)
    assert second.open(kept.token) == kept
    second.close()


def test_links_and_numbers_are_each_sheets_own(store, new_sheet):
    kept = [store.save(new_sheet()) for _ in range(50)]
    assert len({sheet.token for sheet in kept}) == len({sheet.reference for sheet in kept}) == 50


def test_a_taken_number_is_not_given_twice(store, new_sheet, monkeypatch):
    numbers = iter(["0000-0000", "0000-0000", "5724-0000"])
    monkeypatch.setattr(sheets_module, "new_reference", lambda: next(numbers))
    assert store.save(new_sheet()).reference == "0000-0000"
    assert store.save(new_sheet()).reference == "5724-0000"
    assert store.count() == 2


def test_a_sheet_is_found_by_its_number(store, new_sheet):
    kept = store.save(new_sheet(note="Tuesday"))
    assert store.find(kept.reference).token == kept.token
    assert store.find("0000-0000") is None


def test_the_newest_stand_first(store, new_sheet, clock):
    for title in ("old", "middle", "new"):
        store.save(new_sheet(title=title))
        clock.now_s += 60
    assert [line.title for line in store.latest()] == ["new", "middle", "old"]


def test_deleted_is_gone(store, new_sheet):
    kept, other = store.save(new_sheet()), store.save(new_sheet())
    assert store.delete(kept.token)
    assert store.open(kept.token) is None
    assert store.find(kept.reference) is None
    assert not store.delete(kept.token)
    assert store.open(other.token) == other


def test_expired_is_gone_at_once_and_purged_later(store, new_sheet, clock):
    brief, lasting = store.save(new_sheet(lasts_s=30 * DAY_S)), store.save(new_sheet())
    clock.now_s += 30 * DAY_S - 1
    assert store.open(brief.token) == brief
    assert store.purge() == 0
    clock.now_s += 1
    assert store.open(brief.token) is None
    assert store.find(brief.reference) is None
    assert [line.token for line in store.latest()] == [lasting.token]
    assert store.purge() == 1
    assert store.purge() == 0
    assert store.open(lasting.token) == lasting


def test_many_at_once(store, new_sheet):
    with ThreadPoolExecutor(16) as people:
        kept = list(people.map(lambda _: store.save(new_sheet()), range(100)))
    assert store.count() == 100
    assert all(store.open(sheet.token) == sheet for sheet in kept)


def test_processes_that_start_together_make_one_table(url, new_sheet):
    stores = [SheetStore(url) for _ in range(4)]
    with ThreadPoolExecutor(4) as processes:
        list(processes.map(lambda each: each.prepare(), stores))
    stores[0].save(new_sheet())
    assert [each.count() for each in stores] == [1, 1, 1, 1]
    for each in stores:
        each.close()


def test_sheets_from_before_there_were_kinds_are_quotes_and_unchanged(url, new_sheet):
    engine, new = open_engine(url), new_sheet(note="old one", page="<p>as it was</p>\n" * 1000)
    migrate(engine, "0002")
    old = {name: value for name, value in asdict(new).items() if name not in ("kind", "lasts_s")}
    old |= {"token": "a" * 32, "reference": "0000-0000", "saved_at_s": 1_795_620_000, "expires_at_s": None}
    with transaction(engine) as connection:
        connection.execute(text(f"INSERT INTO sheets ({', '.join(old)}) VALUES (:{', :'.join(old)})"), old)
    engine.dispose()
    store = SheetStore(url)
    assert asdict(store.open("a" * 32)) == old | {"kind": "quote"}
    assert store.save(new_sheet(kind="complaint")).kind == "complaint"
    assert [line.kind for line in store.latest()] == ["complaint", "quote"]
    store.close()


def test_the_steps_make_the_tables_that_the_program_sees(store, url):
    store.prepare()
    with transaction(open_engine(url)) as connection:
        assert compare_metadata(MigrationContext.configure(connection), METADATA) == []


def test_a_newer_database_is_left_alone(store, url, new_sheet):
    store.save(new_sheet())
    engine = open_engine(url)
    with transaction(engine) as connection:
        connection.execute(text("UPDATE alembic_version SET version_num = '9999'"))
    later = SheetStore(url)
    with pytest.raises(StoreAway, match="newer release"):
        later.count()
    with transaction(engine) as connection:
        assert connection.execute(text("SELECT version_num FROM alembic_version")).scalar_one() == "9999"
    engine.dispose()
    later.close()


def test_a_failing_statement_tells_no_values(url):
    engine = open_engine(url)
    with pytest.raises(DBAPIError) as caught, transaction(engine) as connection:
        connection.execute(text("SELECT :token FROM no_such_table"), {"token": "of-one-sheet"})
    assert "no_such_table" in str(caught.value)
    assert "of-one-sheet" not in str(caught.value)
    engine.dispose()


def test_commits_wait_for_the_disk(url):
    engine = open_engine(url)
    with transaction(engine) as connection:
        if url.get_backend_name() == "sqlite":
            assert connection.execute(text("PRAGMA journal_mode")).scalar_one() == "wal"
            assert connection.execute(text("PRAGMA synchronous")).scalar_one() == 2  # FULL, sqlite.org/pragma.html
        else:
            assert connection.execute(text("SHOW synchronous_commit")).scalar_one() == "on"
            assert connection.execute(text("SHOW statement_timeout")).scalar_one() == "10s"
    engine.dispose()
