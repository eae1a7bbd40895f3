"""Times as recorders and spreadsheets write them: text to seconds since 1970, with the zone they were written in.

Scope    ISO 8601 (2026-01-15T07:00:00Z, 2026-01-15 7:00, with or without an offset), year/month/day and day.month.year;
         AM and PM; 24:00. 03/04/2026 is two days: it is read where another row of the column shows which comes first
         (15/04/2026), and refused where none does, or where they contradict each other. A time without an offset needs
         a zone by its IANA name.
Clock    an hour that a clock passes twice in autumn is the second one where it would otherwise run back; one that it
         leaves out in spring is a fault.
Source   ISO 8601-1:2019 and, for 24:00, its amendment 1:2022; the IANA time zone database.
"""

import re
from collections.abc import Sequence
from datetime import datetime, timedelta
from zoneinfo import ZoneInfo

import numpy as np

from service.errors import BadInput

__all__ = ["DAY_FIRST", "EITHER", "moments_of", "order_of"]

DOTTED = re.compile(r"(\d{1,2})\.(\d{1,2})\.(\d{4})(.*)", re.ASCII)
EITHER = re.compile(r"(\d{1,2})([/-])(\d{1,2})\2(\d{4})(\D.*)?", re.ASCII | re.DOTALL)  # day or month first
YEAR_FIRST = re.compile(r"(\d{4})/(\d{1,2})/(\d{1,2})(\D.*)?", re.ASCII | re.DOTALL)
HALF_DAY = re.compile(r"(.*)[T\s](\d{1,2})((?::\d{2}){0,2}(?:[.,]\d+)?)\s*([AP])\.?M\.?", re.ASCII | re.IGNORECASE)
MIDNIGHT = re.compile(r"(.*\d[T ])24(:00(?::00(?:[.,]0+)?)?)(\D.*)?", re.ASCII)
ONE_DIGIT = re.compile(r"(?<=[T ])(\d)(?=:)", re.ASCII)
APART = re.compile(r"\s+(?=(?:Z|[+-]\d{2}:?\d{2})$)", re.ASCII)
UNIVERSAL = re.compile(r"\s*(?:UTC|GMT)$", re.IGNORECASE)
DAY_FIRST, MONTH_FIRST = 1, -1
NUMBER = re.compile(r"-?\d+([.,]\d*)?", re.ASCII)
YEARS = range(1970, 2200)
EXAMPLE = "give a time such as 2026-01-15T07:00:00Z or 2026-01-15 07:00"
NO_ZONE = "give an offset with each time, such as +01:00 or Z, or name the time zone, such as Europe/Berlin"


def moments_of(
    texts: Sequence[str], rows: Sequence[int], column: str, zone: str | None, order: int = 0
) -> tuple[np.ndarray, list[BadInput]]:
    """Seconds since 1970 in universal time, NaN where a text is no time, and a fault for each of those.

    Args:
        texts: as written, in their order.
        rows, column: for the report.
        zone: IANA name, for times without an offset; None: they are faults.
        order: `DAY_FIRST` or `MONTH_FIRST` for 03/04/2026, where no row tells.

    >>> moments_of(["1970-01-01T01:00:00+01:00", "01.01.1970 00:01"], [2, 3], "time", "UTC")[0]
    array([ 0., 60.])
    """
    clock = ZoneInfo(zone) if zone else None
    order = order_of(texts) or order
    seconds, faults, before = np.full(len(texts), np.nan), [], None
    for place, text in enumerate(texts):
        try:
            moment = _moment(text, clock, before, order)
        except ValueError as error:
            message, _, remedy = str(error).partition("|")
            faults.append(BadInput(f"row {rows[place]}, {column}", text[:80], message, remedy))
            continue
        before = moment
        seconds[place] = moment.timestamp()
    return seconds, faults


def order_of(texts: Sequence[str]) -> int:
    """`DAY_FIRST` or `MONTH_FIRST` for a column of dates with slashes or dashes; 0 where its rows do not agree on one.

    >>> order_of(["03/04/2026", "13/04/2026"]), order_of(["3/4/2026"]), order_of(["13/4/2026", "4/13/2026"])
    (1, 0, 0)
    """
    dates = [(int(found[1]), int(found[3])) for text in texts if (found := EITHER.fullmatch(text))]
    return any(first > 12 for first, _ in dates) - any(second > 12 for _, second in dates)


def _moment(text: str, clock: ZoneInfo | None, before: datetime | None, order: int) -> datetime:
    """One time; ValueError with message and remedy, a bar between them."""
    either = EITHER.fullmatch(text)
    if either and not order:
        raise ValueError(f"{text[:40]!r} may be day/month or month/day, and no other row tells which|{EXAMPLE}")
    iso, days = _in_iso(text, order)
    try:
        moment = datetime.fromisoformat(iso) + timedelta(days=days)
    except (ValueError, OverflowError):
        counts = "; if the column counts seconds, name it time_s" if NUMBER.fullmatch(text) else ""
        raise ValueError(f"{text[:40]!r} is not a time|{EXAMPLE}{counts}") from None
    if moment.year not in YEARS:
        raise ValueError(f"the year {moment.year} is outside {YEARS[0]} to {YEARS[-1]}|{EXAMPLE}")
    if moment.tzinfo is not None:
        return moment
    if clock is None:
        raise ValueError(f"it is not said in which time zone {text[:40]!r} is|{NO_ZONE}")
    return _on_the_clock(moment, clock, before)


def _in_iso(text: str, order: int) -> tuple[str, int]:
    """A time as ISO 8601 writes it, and a day more where its hour is 24; what is none of ours stays as it is.

    >>> _in_iso("4/13/2026 7:05 PM", MONTH_FIRST), _in_iso("31.12.2026 24:00", 0)
    (('2026-04-13 19:05', 0), ('2026-12-31 00:00', 1))
    """
    if found := DOTTED.fullmatch(text):
        day, month, year, rest = found.groups()
        text = f"{year}-{month:0>2}-{day:0>2}{rest}"
    elif found := EITHER.fullmatch(text):
        first, _, second, year, rest = found.groups()
        day, month = (first, second) if order == DAY_FIRST else (second, first)
        text = f"{year}-{month:0>2}-{day:0>2}{rest or ''}"
    elif found := YEAR_FIRST.fullmatch(text):
        year, month, day, rest = found.groups()
        text = f"{year}-{month:0>2}-{day:0>2}{rest or ''}"
    if (found := HALF_DAY.fullmatch(text)) and 1 <= int(found[2]) <= 12:
        hour = int(found[2]) % 12 + (12 if found[4] in "Pp" else 0)
        text = f"{found[1].rstrip()} {hour:02d}{found[3] or ':00'}"
    text = APART.sub("", UNIVERSAL.sub("Z", ONE_DIGIT.sub(r"0\1", text)))
    if found := MIDNIGHT.fullmatch(text):
        return f"{found[1]}00{found[2]}{found[3] or ''}", 1
    return text, 0


def _on_the_clock(moment: datetime, clock: ZoneInfo, before: datetime | None) -> datetime:
    """A local time with its zone; ValueError for one that the clock leaves out."""
    first, second = moment.replace(tzinfo=clock), moment.replace(tzinfo=clock, fold=1)
    apart = second.timestamp() - first.timestamp()
    if apart < 0:
        gap = timedelta(seconds=-apart)
        raise ValueError(f"clocks were put forward by {gap} over this time|give universal time, or mend the zone")
    return second if apart > 0 and before is not None and first.timestamp() <= before.timestamp() else first
