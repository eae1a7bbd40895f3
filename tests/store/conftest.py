"""Both databases: a fresh SQLite file, and a PostgreSQL server of the tests' own.

Without PostgreSQL's programs its tests skip and say so; with RANGEWRIGHT_REQUIRE_POSTGRES=1 they fail instead.
"""

import itertools
import os
import shutil
import socket
import subprocess
import tempfile
from contextlib import closing
from pathlib import Path

import psycopg
import pytest

from service.store import NewSheet, SheetStore
from service.store.database import postgres_url, sqlite_url

OTHER_PLACES = "postgresql/*/bin/initdb"  # below /usr/lib, where Debian keeps them off the path
LONGEST_S = 60


class Postgres:
    """A server in a folder of its own, on a free port of this machine, run by a user who is not root."""

    def __init__(self, programs):
        self.programs = programs
        self.user = {"user": "postgres", "group": "postgres"} if os.geteuid() == 0 else {}
        self.folder = Path(tempfile.mkdtemp(prefix="rangewright-postgres-"))
        if self.user:
            shutil.chown(self.folder, "postgres", "postgres")
        with closing(socket.socket()) as probe:
            probe.bind(("127.0.0.1", 0))
            self.port = probe.getsockname()[1]
        self.names = itertools.count()
        self.run("initdb", "-U", "tester", "-A", "trust", "-D", self.folder / "data")
        self.start()

    def run(self, program, *arguments):
        command = [self.programs / program, *arguments]
        done = subprocess.run(
            command, cwd=self.folder, stdin=subprocess.DEVNULL, stdout=subprocess.DEVNULL, stderr=subprocess.PIPE,
            timeout=LONGEST_S, check=False, **self.user,
        )  # fmt: skip
        assert done.returncode == 0, done.stderr.decode("utf-8", "replace")

    def start(self):
        options = f"-p {self.port} -k {self.folder} -c listen_addresses=127.0.0.1"
        self.run("pg_ctl", "-D", self.folder / "data", "-l", self.folder / "log", "-o", options, "-w", "start")

    def stop(self, mode="fast"):
        self.run("pg_ctl", "-D", self.folder / "data", "-m", mode, "-w", "stop")

    def address(self, database):
        return f"postgresql://tester@127.0.0.1:{self.port}/{database}"

    def fresh(self):
        """The address of a new, empty database."""
        name = f"sheets_{next(self.names)}"
        with psycopg.connect(self.address("postgres"), autocommit=True) as connection:
            connection.execute(f"CREATE DATABASE {name}")
        return self.address(name)


@pytest.fixture(scope="session")
def postgres():
    """The server, for the whole run."""
    found = [shutil.which("initdb"), *map(str, sorted(Path("/usr/lib").glob(OTHER_PLACES), reverse=True))]
    places = [Path(each).parent for each in found if each and (Path(each).parent / "pg_ctl").exists()]
    if not places:
        if os.environ.get("RANGEWRIGHT_REQUIRE_POSTGRES") == "1":
            pytest.fail("RANGEWRIGHT_REQUIRE_POSTGRES=1, but PostgreSQL's programs are not on this machine")
        pytest.skip("PostgreSQL's programs are not on this machine")
    server = Postgres(places[0])
    yield server
    server.stop("immediate")
    shutil.rmtree(server.folder)


@pytest.fixture(params=["sqlite", "postgresql"])
def url(request, tmp_path):
    """An empty database, once of each kind."""
    if request.param == "sqlite":
        return sqlite_url(tmp_path / "kept" / "sheets.sqlite3")
    return postgres_url(request.getfixturevalue("postgres").fresh())


class Clock:
    """Time that a test sets."""

    now_s = 1_795_620_000.0  # 25 November 2026

    def __call__(self):
        return self.now_s


@pytest.fixture
def clock():
    return Clock()


@pytest.fixture
def store(url, clock):
    opened = SheetStore(url, clock)
    yield opened
    opened.close()


@pytest.fixture
def new_sheet():
    """A sheet to keep; fields by keyword."""

    def make(**changed):
        usual = {
            "model_version": "0.2.0",
            "title": "At −5 °C, nine days in ten at least 31 km",
            "question": '{"vehicle": {"id": "compact-plug-in"}}',
            "query": "temperature=-5",
            "answer": '{"range_km": {"p10": 31.0, "p50": 36.0, "p90": 41.0}}',
            "page": "<h1>At −5 °C</h1>",
        }
        return NewSheet(**usual | changed)

    return make
