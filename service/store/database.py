"""Opening the database and bringing it to the present shape.

Scope    SQLite by default: write-ahead log, every commit on the disk before it is acknowledged, a file that only its
         owner reads. PostgreSQL by URL, for several machines.
Source   SQLite manual: pragma journal_mode, synchronous, secure_delete; PostgreSQL manual: synchronous_commit, explicit
         locking; SQLAlchemy manual, "Serializable isolation / Savepoints / Transactional DDL" of its SQLite dialect.
"""

import os
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from alembic import command
from alembic.config import Config
from alembic.runtime.migration import MigrationContext
from alembic.script import ScriptDirectory
from alembic.util.exc import CommandError
from sqlalchemy import Connection, Engine, create_engine, event, make_url, text
from sqlalchemy.engine import URL

from service.store.failures import LATER_S, StoreAway

__all__ = ["empty_side_files", "migrate", "open_engine", "postgres_url", "sqlite_url", "transaction"]

MIGRATIONS = Path(__file__).parent / "migrations"
BUSY_S = 5  # how long one writer waits for another
CONNECT_S = 3
STATEMENT_MS = 10_000
CONNECTIONS = 5  # a process
MIGRATION_LOCK = 0x72616E67  # any number of our own: processes that start together migrate one after the other
PRAGMAS = ("journal_mode=WAL", "synchronous=FULL", "secure_delete=ON")
ON_CONNECT = {
    "sqlite": tuple(f"PRAGMA {pragma}" for pragma in PRAGMAS),
    "postgresql": ("SET synchronous_commit = on", f"SET statement_timeout = {STATEMENT_MS}"),
}


def sqlite_url(path: Path) -> URL:
    """The URL of a file."""
    return URL.create("sqlite+pysqlite", database=str(path))


def postgres_url(address: str) -> URL:
    """The URL of a PostgreSQL database, with the driver that we ship.

    >>> postgres_url("postgres://reader@db.example.org/sheets").drivername
    'postgresql+psycopg'
    """
    return make_url(address).set(drivername="postgresql+psycopg")


def open_engine(url: URL) -> Engine:
    """An engine that has not connected yet."""
    if url.get_backend_name() == "sqlite":
        engine = create_engine(url, connect_args={"timeout": BUSY_S}, **_alike())
        event.listen(engine, "do_connect", lambda *_: _make_private(Path(url.database)))
        event.listen(engine, "begin", _begin)
    else:
        engine = create_engine(
            url,
            connect_args={"connect_timeout": CONNECT_S},
            pool_pre_ping=True,  # a restarted server is noticed before a statement is lost
            pool_timeout=CONNECT_S,
            **_alike(),
        )
    event.listen(engine, "connect", _prepare)
    return engine


def _alike() -> dict[str, object]:
    """Whatever the database: errors tell no values, for links and notes would stand in a log."""
    return {"pool_size": CONNECTIONS, "max_overflow": 0, "hide_parameters": True}


def _make_private(path: Path) -> None:
    """The file and its folder, if they are new, for their owner only. SQLite gives its side files the same rights."""
    path.parent.mkdir(mode=0o700, parents=True, exist_ok=True)
    if not path.exists():
        os.close(os.open(path, os.O_RDWR | os.O_CREAT, 0o600))


def _prepare(raw: object, _record: object) -> None:
    """Every new connection, before its first statement."""
    is_sqlite = type(raw).__module__.startswith("sqlite3")
    if is_sqlite:
        raw.isolation_level = None  # the driver begins nothing by itself; `_begin` does
    else:
        raw.autocommit = True
    cursor = raw.cursor()
    try:
        for statement in ON_CONNECT["sqlite" if is_sqlite else "postgresql"]:
            cursor.execute(statement)
    finally:
        cursor.close()
        if not is_sqlite:
            raw.autocommit = False


def _begin(connection: Connection) -> None:
    immediate = connection.get_execution_options().get("immediate", False)
    connection.exec_driver_sql("BEGIN IMMEDIATE" if immediate else "BEGIN")


@contextmanager
def transaction(engine: Engine, *, immediate: bool = False) -> Iterator[Connection]:
    """A connection in a transaction: committed at the end, undone by an exception.

    Args:
        immediate: SQLite: be the only writer from the start.
    """
    with engine.execution_options(immediate=immediate).begin() as connection:
        yield connection


def empty_side_files(engine: Engine) -> None:
    """SQLite: bring what the write-ahead log holds into the file and cut the log, where old rows would still stand.

    Gives up at once where somebody reads; the next call does it. PostgreSQL frees its own space in its own time.
    Source: SQLite manual, pragma wal_checkpoint and busy_timeout.
    """
    if engine.dialect.name != "sqlite":
        return
    raw = engine.raw_connection()
    try:
        raw.execute("PRAGMA busy_timeout = 0")
        raw.execute("PRAGMA wal_checkpoint(TRUNCATE)")
    finally:
        raw.execute(f"PRAGMA busy_timeout = {1000 * BUSY_S}")
        raw.close()


def migrate(engine: Engine, shape: str = "head") -> None:
    """Bring the database to the present shape, or to an older one that a test begins with, in one transaction.

    One that has it already is only read: sheets on a disk that cannot be written open all the same.

    Raises: StoreAway if the database is newer than this program.
    """
    config = Config()
    config.set_main_option("script_location", str(MIGRATIONS).replace("%", "%%"))
    if shape == "head" and _shape_of(engine) == ScriptDirectory.from_config(config).get_current_head():
        return
    with transaction(engine, immediate=True) as connection:
        if engine.dialect.name == "postgresql":
            connection.execute(text("SELECT pg_advisory_xact_lock(:number)"), {"number": MIGRATION_LOCK})
        config.attributes["connection"] = connection
        try:
            command.upgrade(config, shape)
        except CommandError as error:
            raise StoreAway(
                "the saved sheets were kept by a newer release", "run that release or a newer one", LATER_S
            ) from error


def _shape_of(engine: Engine) -> str | None:
    """The newest step that the database has been through."""
    with transaction(engine) as connection:
        return MigrationContext.configure(connection).get_current_revision()
