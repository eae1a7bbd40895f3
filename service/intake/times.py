"""The times of a table, however its columns tell them: one column, a date beside a clock or an hour, or a clock alone.

Scope    tables of a drive may have the times of a clock without a date, running past midnight; hours of weather not.
Zone     where neither the times nor anybody names one, the times are read as one clock that never changes, and that is
         said: a drive needs their differences only, and days of weather are those that are written.
"""

import re
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from service.errors import BadInput
from service.intake.columns import Figures
from service.intake.moments import DAY_FIRST, EITHER, moments_of, order_of
from service.intake.quantities import Texts
from service.units import HOUR_S, MINUTE_S

__all__ = ["DAY", "Times", "times_of"]

DAY = Texts("day", ("date", "day", "local date"))
CLOCK = re.compile(r"(\d{1,3}):(\d{2}):(\d{2}(?:[.,]\d+)?)\s*([AP]M)?", re.ASCII | re.IGNORECASE)
ONLY_CLOCK = re.compile(r"\d{1,2}(:\d{2}(:\d{2}([.,]\d+)?)?)?\s*([AP]\.?M\.?)?", re.ASCII | re.IGNORECASE)
ONLY_HOUR = re.compile(r"\d{1,2}", re.ASCII)
NO_CLOCK = re.compile(r"[T ]0{1,2}:00(:00)?$", re.ASCII)  # a date that a spreadsheet writes as its midnight
OFFSET = re.compile(r".*:\d{2}.*(?:Z|[+-]\d{2}(?::?\d{2})?|UTC|GMT)\s*", re.IGNORECASE | re.DOTALL)
LONGEST_TIME = 60  # characters; what is longer is no time
HALF_DAY_S, DAY_S = 12 * HOUR_S, 24 * HOUR_S
ONE_CLOCK = "No time zone is named: the times are one clock that never changes; name it if clocks changed meanwhile."
EITHER_DAY = "The date may be day/month or month/day; all times are of one day, so the drive is the same."
NO_DATE = "The times have no date: they are read as those of one drive, past midnight where they fall back."
NOT_A_CLOCK = "give a time such as 07:30:00, or a date and a time"


@dataclass(frozen=True, slots=True)
class Times:
    """Seconds, NaN where a row tells none; a fault for each of those; what was taken for granted."""

    seconds: np.ndarray
    faults: tuple[BadInput, ...] = ()
    notes: tuple[str, ...] = ()


def times_of(found: Figures, zone: str | None, dated: bool = False) -> Times:
    """The times of columns "moment" and `DAY`, of which there must be one.

    Args:
        zone: IANA name, for times without an offset.
        dated: times of a clock without a date are faults.
    """
    texts, column = _texts(found)
    rows = found.rows.tolist()
    filled = [text for text in texts if text]
    if not dated and filled and sum(bool(CLOCK.fullmatch(text)) for text in filled) > len(filled) / 2:
        return _of_a_clock(texts, rows, column)
    assumed = not zone and not any(OFFSET.fullmatch(text[:LONGEST_TIME]) for text in texts)
    order = 0 if dated or order_of(texts) else _of_one_day(texts)
    seconds, faults = moments_of(texts, rows, column, "UTC" if assumed else zone, order)
    return Times(seconds, tuple(faults), (*((ONE_CLOCK,) if assumed else ()), *((EITHER_DAY,) if order else ())))


def _of_one_day(texts: Sequence[str]) -> int:
    """An order for dates that may be two days, if all are the same: a drive is the same on both; else 0."""
    dates = {(found[1], found[3], found[4]) for text in texts if (found := EITHER.fullmatch(text))}
    return DAY_FIRST if len(dates) == 1 else 0


def _texts(found: Figures) -> tuple[Sequence[str], str]:
    """Times as written, a date before its clock where they stand in two columns; and the name for the report."""
    if "day" not in found.texts:
        return found.texts["moment"], found.headers["moment"]
    days = found.texts["day"]
    if "moment" not in found.texts:
        return days, found.headers["day"]
    clocks = found.texts["moment"]
    if not all(ONLY_CLOCK.fullmatch(text) for text in clocks if text):
        return clocks, found.headers["moment"]  # it tells the date, too
    joined = [_joined(day, clock) for day, clock in zip(days, clocks, strict=True)]
    return joined, f"{found.headers['day']} and {found.headers['moment']}"


def _joined(day: str, clock: str) -> str:
    """A date and its clock in one text; a text of one of them where the other is missing, which is no time."""
    if not day or not clock:
        return (day and f"{NO_CLOCK.sub('', day)} without a time") or clock
    hour = f"{clock:0>2}:00" if ONLY_HOUR.fullmatch(clock) else clock
    return f"{NO_CLOCK.sub('', day)} {hour}"


def _of_a_clock(texts: Sequence[str], rows: Sequence[int], column: str) -> Times:
    """Hours, minutes and seconds from the first midnight on."""
    seconds, faults, day_s, before = np.full(len(texts), np.nan), [], 0.0, 0.0
    for place, text in enumerate(texts):
        found = CLOCK.fullmatch(text)
        if not found or float(found[3].replace(",", ".")) >= MINUTE_S or int(found[2]) >= 60:
            message = f"{text[:40]!r} is not a time of the clock"
            faults.append(BadInput(f"row {rows[place]}, {column}", text[:80], message, NOT_A_CLOCK))
            continue
        hour = int(found[1]) if not found[4] else int(found[1]) % 12 + (12 if found[4][0] in "Pp" else 0)
        second = day_s + hour * HOUR_S + int(found[2]) * MINUTE_S + float(found[3].replace(",", "."))
        if second < before - HALF_DAY_S:
            day_s, second = day_s + DAY_S, second + DAY_S
        seconds[place] = before = second
    return Times(seconds, tuple(faults), (NO_DATE,))
