"""Shared by all rooms' tests: the catalogue, a car and a day as rows, and one drive through the march."""

import hashlib
import os
import tempfile
from dataclasses import dataclass
from pathlib import Path

import numpy as np
import pytest

SOURCES = sorted((Path(__file__).parent.parent / "service").rglob("*.py"))
STAMP = hashlib.sha256(b"".join(path.read_bytes() for path in SOURCES)).hexdigest()[:16]
# numba's cache looks at the file of the outer function only, and would keep old code of what that function calls
os.environ.setdefault("NUMBA_CACHE_DIR", str(Path(tempfile.gettempdir()) / f"rangewright-tests-{STAMP}"))

from service.catalogue import load_catalogue  # noqa: E402
from service.physics.march import EVENT_KINDS, march_one  # noqa: E402
from service.physics.rows import DRAW, EVENT, LEDGER, RECORD, START, table  # noqa: E402
from service.physics.tables import central_draw, start_state  # noqa: E402
from service.quotes.assume import complete  # noqa: E402
from service.quotes.scenarios import rows_for  # noqa: E402
from service.specs import Ask, Start  # noqa: E402


@dataclass
class Drive:
    """What one march gave."""

    ended: int
    ledger: np.record
    events: dict[str, np.record]
    record: np.recarray
    state: np.record
    starts: np.recarray


@pytest.fixture(scope="session")
def catalogue():
    return load_catalogue()


@pytest.fixture(scope="session")
def values(catalogue):
    """Middles of data/typical.csv."""
    return {name: typical.value for name, typical in catalogue.typical.items()}


@pytest.fixture(scope="session")
def rows(catalogue, values):
    """The car's and the day's row of a question, as a quote makes them."""

    def rows_of(ask: Ask) -> tuple[np.record, np.record]:
        filled, _ = complete(ask, catalogue)
        car, day = rows_for(filled, catalogue, values)
        return car[0], day[0]

    return rows_of


@pytest.fixture(scope="session")
def march():
    """Drive a trace once. `start` is a `Start` or a row of `rows.STATE`; factors of the draw by keyword."""

    def drive(car, day, trace, start=None, recorded=False, **factors) -> Drive:
        state = start_state(start or Start(), car, day)[0] if start is None or isinstance(start, Start) else start
        draw = central_draw()
        for name, factor in factors.items():
            assert name in DRAW.names
            draw[name] = factor
        ledger, events = table(LEDGER, 1), table(EVENT, len(EVENT_KINDS))
        record = table(RECORD, len(trace.step_s) if recorded else 0)
        path = trace.path
        starts = table(START, 40)
        ended = march_one(car, day, draw[0], path, state, ledger[0], events, starts, record)
        by_kind = {kind: events[k] for k, kind in enumerate(EVENT_KINDS)}
        return Drive(ended, ledger[0], by_kind, record[record.time_s > 0], state, starts[: int(state.starts)])

    return drive
