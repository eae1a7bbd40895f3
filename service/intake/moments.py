"""Times as recorders and spreadsheets write them: text to seconds since 1970, with the zone they were written in.

Scope    ISO 8601 (2026-01-15T07:00:00Z, 2026-01-15 07:00, with or without an offset) and day.month.year. 03/04/2026 is
         refused: it means two days. A time without an offset needs a zone by its IANA name.
Clock    an hour that a clock passes twice in autumn is the second one where it would otherwise run back; one that it
         leaves out in spring is a fault.
Source   ISO 8601-1:2019; the IANA time zone database.
"""

import re
from collections.abc import Sequence
from datetime import datetime, timedelta
from zoneinfo import ZoneInfo

import numpy as np

from service.errors import BadInput

__all__ = ["moments_of"]

DOTTED = re.compile(r"(\d{1,2})\.(\d{1,2})\.(\d{4})(.*)", re.ASCII)
SLASHED = re.compile(r"\d{1,4}/\d{1,2}/\d{1,4}.*", re.ASCII | re.DOTALL)
NUMBER = re.compile(r"-?\d+([.,]\d*)?", re.ASCII)
YEARS = range(1970, 2200)
EXAMPLE = "give a time such as 2026-01-15T07:00:00Z or 2026-01-15 07:00"
NO_ZONE = "give an offset with each time, such as +01:00 or Z, or name the time zone, such as Europe/Berlin"


def moments_of(
    texts: Sequence[str], rows: Sequence[int], column: str, zone: str | None
) -> tuple[np.ndarray, list[BadInput]]:
    """Seconds since 1970 in universal time, NaN where a text is no time, and a fault for each of those.

    Args:
        texts: as written, in their order.
        rows, column: for the report.
        zone: IANA name, for times without an offset; None: they are faults.

    >>> moments_of(["1970-01-01T01:00:00+01:00", "01.01.1970 00:01"], [2, 3], "time", "UTC")[0]
    array([ 0., 60.])
    """
    clock = ZoneInfo(zone) if zone else None
    seconds, faults, before = np.full(len(texts), np.nan), [], None
    for place, text in enumerate(texts):
        try:
            moment = _moment(text, clock, before)
        except ValueError as error:
            message, _, remedy = str(error).partition("|")
            faults.append(BadInput(f"row {rows[place]}, {column}", text[:80], message, remedy))
            continue
        before = moment
        seconds[place] = moment.timestamp()
    return seconds, faults


def _moment(text: str, clock: ZoneInfo | None, before: datetime | None) -> datetime:
    """One time; ValueError with message and remedy, a bar between them."""
    if SLASHED.fullmatch(text):
        raise ValueError(f"{text[:40]!r} may be day/month or month/day|{EXAMPLE}")
    dotted = DOTTED.fullmatch(text)
    if dotted:
        day, month, year, rest = dotted.groups()
        text = f"{year}-{month:0>2}-{day:0>2}{rest}"
    try:
        moment = datetime.fromisoformat(text)
    except ValueError:
        counts = "; if the column counts seconds, name it time_s" if NUMBER.fullmatch(text) else ""
        raise ValueError(f"{text[:40]!r} is not a time|{EXAMPLE}{counts}") from None
    if moment.year not in YEARS:
        raise ValueError(f"the year {moment.year} is outside {YEARS[0]} to {YEARS[-1]}|{EXAMPLE}")
    if moment.tzinfo is not None:
        return moment
    if clock is None:
        raise ValueError(f"it is not said in which time zone {text[:40]!r} is|{NO_ZONE}")
    return _on_the_clock(moment, clock, before)


def _on_the_clock(moment: datetime, clock: ZoneInfo, before: datetime | None) -> datetime:
    """A local time with its zone; ValueError for one that the clock leaves out."""
    first, second = moment.replace(tzinfo=clock), moment.replace(tzinfo=clock, fold=1)
    apart = second.timestamp() - first.timestamp()
    if apart < 0:
        gap = timedelta(seconds=-apart)
        raise ValueError(f"clocks were put forward by {gap} over this time|give universal time, or mend the zone")
    return second if apart > 0 and before is not None and first.timestamp() <= before.timestamp() else first
