"""Rows of tariffs.csv and tariff_periods.csv as specs, and the words and rules that tariffs from outside share.

Scope    months as "6-9 12", days as "weekday holiday", times as "23:30"; gaps and overlaps of the clock.
Errors   the readers of single cells raise `ValueError` with a message; who calls them knows the row or the field.
"""

import re
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from pathlib import Path
from zoneinfo import ZoneInfo, available_timezones

from service.catalogue.tables import Row, read_table
from service.specs import DayKind, Tariff, TariffPeriod, TariffTier
from service.units import KWH_J

__all__ = [
    "CoverFault",
    "clock_s",
    "clock_text",
    "cover_faults",
    "day_kinds",
    "holiday",
    "months_in",
    "months_text",
    "read_tariffs",
    "zone_named",
]

DAY_S = 86_400
HIGHEST_PER_KWH = 100_000.0  # any currency: as for the prices of a year
TIME = re.compile(r"(\d{1,2}):(\d\d)", re.ASCII)
YEARLY = re.compile(r"\d\d-\d\d", re.ASCII)


@dataclass(frozen=True, slots=True)
class CoverFault:
    """A time with no price or with two; `period` is the index of the later of the two, None for a gap."""

    message: str
    remedy: str
    period: int | None = None


def read_tariffs(folder: Path) -> dict[str, Tariff]:
    """Tariffs by id, in file order.

    Raises: BadTable for prices, times or dates that cannot be, gaps and overlaps, a period of an unknown tariff.
    """
    heads = list(read_table(folder, "tariffs").rows())
    known = {row.text("id"): row for row in heads}
    periods: dict[str, list[TariffPeriod]] = {id_: [] for id_ in known}
    for row in read_table(folder, "tariff_periods", ("tariff", "months", "days", "from")).rows():
        periods[row.known("tariff", known)].append(_period(row))
    return {id_: _tariff(row, tuple(periods[id_])) for id_, row in known.items()}


def _period(row: Row) -> TariffPeriod:
    return TariffPeriod(
        months=_read(row, "months", months_in),
        days=_read(row, "days", day_kinds),
        starts_s=_read(row, "from", clock_s),
        ends_s=_read(row, "to", clock_s),
        price_per_j=row.number_in("price_per_kwh", 0, HIGHEST_PER_KWH) / KWH_J,
        name=row.text("name"),
    )


def _tariff(row: Row, periods: tuple[TariffPeriod, ...]) -> Tariff:
    faults = cover_faults(periods)
    if faults:
        raise row.fault("id", faults[0].message)
    return Tariff(
        id=row.text("id"),
        name=row.text("name"),
        currency=row.text("currency"),
        zone=_read(row, "zone", zone_named),
        periods=periods,
        holidays=tuple(_each(row, "holidays", holiday)),
        tiers=_tiers(row),
        demand_per_w=row.number_in("demand_per_kw", 0, HIGHEST_PER_KWH) / 1000,
        daily=row.number_in("daily", 0, HIGHEST_PER_KWH),
    )


def _tiers(row: Row) -> tuple[TariffTier, ...]:
    def tier(text: str) -> TariffTier:
        end, _, adds = text.partition(":")
        return TariffTier(float(end) * KWH_J if end else None, float(adds) / KWH_J)

    return tuple(_each(row, "tiers", tier))


def _each(row: Row, column: str, read) -> list:
    try:
        return [read(piece) for piece in (row.optional_text(column) or "").split()]
    except ValueError as error:
        raise row.fault(column, str(error)) from None


def _read(row: Row, column: str, read):
    try:
        return read(row.text(column))
    except ValueError as error:
        raise row.fault(column, str(error)) from None


def clock_s(text: str) -> float:
    """A time of the clock as seconds after midnight, 0 to 86 400.

    >>> clock_s("23:30"), clock_s("24:00")
    (84600.0, 86400.0)
    """
    found = TIME.fullmatch(text.strip())
    if not found:
        raise ValueError(f"{text[:20]!r} is not a time of day")
    hours, minutes = int(found[1]), int(found[2])
    if minutes > 59:
        raise ValueError(f"{text[:20]!r} has more than 59 minutes")
    if hours * 60 + minutes > DAY_S / 60:
        raise ValueError(f"{text[:20]!r} is beyond 24:00")
    return float(hours * 3600 + minutes * 60)


def clock_text(seconds: float) -> str:
    """Seconds after midnight as a time of the clock.

    >>> clock_text(84_600)
    '23:30'
    """
    return f"{int(seconds // 3600):02d}:{int(seconds % 3600 // 60):02d}"


def months_in(text: str) -> tuple[int, ...]:
    """Months as numbers and spans; a span may pass the end of the year.

    >>> months_in("6-8 12"), months_in("11-2")
    ((6, 7, 8, 12), (1, 2, 11, 12))
    """
    months: set[int] = set()
    for piece in text.replace(",", " ").split():
        low, _, high = piece.partition("-")
        if not low.isdecimal() or not (high or low).isdecimal():
            raise ValueError(f"{piece[:20]!r} is not a month or a span of months")
        first, last = int(low), int(high or low)
        if not (1 <= first <= 12 and 1 <= last <= 12):
            raise ValueError(f"{piece[:20]!r} is outside 1 to 12")
        months |= {(first + step - 1) % 12 + 1 for step in range((last - first) % 12 + 1)}
    if not months:
        raise ValueError("there is no month")
    return tuple(sorted(months))


def months_text(months: Sequence[int]) -> str:
    """The same, written back.

    >>> months_text((6, 7, 8, 12))
    '6-8 12'
    """
    runs: list[list[int]] = []
    for month in months:
        if runs and month == runs[-1][-1] + 1:
            runs[-1].append(month)
        else:
            runs.append([month])
    return " ".join(str(run[0]) if len(run) == 1 else f"{run[0]}-{run[-1]}" for run in runs)


def day_kinds(text: str) -> tuple[DayKind, ...]:
    """Kinds of day.

    >>> day_kinds("weekend holiday")
    (<DayKind.WEEKEND: 'weekend'>, <DayKind.HOLIDAY: 'holiday'>)
    """
    words = text.replace(",", " ").lower().split()
    for word in words:
        if word not in set(DayKind):
            raise ValueError(f"{word[:20]!r} is none of {', '.join(DayKind)}")
    if not words:
        raise ValueError("there is no kind of day")
    return tuple(kind for kind in DayKind if kind in words)


def holiday(text: str) -> str:
    """A date that is a holiday every year (MM-DD) or once (YYYY-MM-DD), checked."""
    try:
        date.fromisoformat(f"2024-{text}" if YEARLY.fullmatch(text) else text)  # 2024: 29 February is a date
    except ValueError:
        raise ValueError(f"{text[:20]!r} is not a date") from None
    return text


def zone_named(text: str) -> str:
    """A time zone of the IANA list, checked."""
    try:
        if text in available_timezones():
            return ZoneInfo(text).key
    except (ValueError, OSError):
        pass
    raise ValueError(f"there is no time zone {text[:40]!r}")


def cover_faults(periods: Sequence[TariffPeriod]) -> list[CoverFault]:
    """Every stretch of a day without a price or with two; one fault for months and kinds of day that share it.

    Holidays need no price of their own: where no period of the tariff names them they count as weekend.
    """
    kinds = [kind for kind in DayKind if kind is not DayKind.HOLIDAY or any(kind in each.days for each in periods)]
    found: dict[tuple[float, float, int | None, int | None], list[tuple[int, DayKind]]] = {}
    for month in range(1, 13):
        for kind in kinds:
            for fault in _day_faults(periods, month, kind):
                found.setdefault(fault, []).append((month, kind))
    return [_told(fault, where) for fault, where in found.items()]


def _day_faults(periods: Sequence[TariffPeriod], month: int, kind: DayKind):
    """(from, to, first period, second period) of one day; both periods None for a gap."""
    day = sorted((each.starts_s, each.ends_s, at) for at, each in enumerate(periods)
                 if month in each.months and kind in each.days)  # fmt: skip
    ends_s, last = 0.0, None
    for starts_s, until_s, at in day:
        if starts_s > ends_s:
            yield ends_s, starts_s, None, None
        elif starts_s < ends_s:
            yield starts_s, min(ends_s, until_s), *sorted((last, at))
        if until_s > ends_s:
            ends_s, last = until_s, at
    if ends_s < DAY_S:
        yield ends_s, float(DAY_S), None, None


def _told(fault: tuple[float, float, int | None, int | None], where: list[tuple[int, DayKind]]) -> CoverFault:
    starts_s, ends_s, _, second = fault
    months = months_text(sorted({month for month, _ in where}))
    days = ", ".join(kind for kind in DayKind if kind in {each for _, each in where})
    span = f"{clock_text(starts_s)} to {clock_text(ends_s)} ({days}; months {months})"
    if second is None:
        return CoverFault(f"no price from {span}", "add a period there, or let a neighbour begin or end there")
    return CoverFault(f"two prices from {span}", "let one period end where the other begins", second)
