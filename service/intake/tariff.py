"""A tariff as people give it: an id, its periods as JSON, or its periods as a table of CSV text.

Scope    names and units of the outside, times of the clock, gaps and overlaps; every fault at its field or table row.
CSV      columns months, days, from, to, price_per_kwh and, if wanted, name; months and days left empty mean all.
"""

from collections.abc import Callable, Mapping
from typing import Annotated

from pydantic import AfterValidator, ConfigDict, Field, model_validator

from service import specs
from service.catalogue.tariffs import clock_s, cover_faults, day_kinds, holiday, months_in, zone_named
from service.errors import BadInput, BadInputs
from service.intake.errors import range_text, unit_of_path
from service.intake.fields import LIMITS, MEMBERS, Incoming, Number, Whole, limited, said
from service.intake.number_text import Marks, marks_between, number_from
from service.intake.table_text import Line, TextTable, marks_of, read_table_text, too_wide
from service.units import KWH_J

__all__ = ["MOST_PERIODS", "PeriodIn", "TariffIn", "TariffSpecIn", "TierIn", "tariff_rows"]

MOST_PERIODS, MOST_TIERS, MOST_HOLIDAYS = 200, 12, 200
LARGEST_TABLE = 64 * 1024
EVERY_MONTH = tuple(range(1, 13))
NEEDED = ("from", "to", "price_per_kwh")
COLUMNS = ("months", "days", *NEEDED, "name")
REMEDIES = {
    "months": "give months such as 6-9 12, or leave it empty for all",
    "days": "give weekday, weekend or holiday, several with spaces between, or leave it empty for all",
    "from": "give a time such as 07:00",
    "to": "give a time such as 23:00, at most 24:00",
    "time_zone": "give a name of the IANA list, such as Europe/Berlin",
    "holidays": "give a date such as 12-25 or 2026-12-25",
}


def _clocked(name: str) -> AfterValidator:
    """A text that `clock_s` reads."""

    def check(text: str) -> str:
        try:
            clock_s(text)
        except ValueError as error:
            raise said(str(error), REMEDIES[name], value=text) from None
        return text

    return AfterValidator(check)


def _in_year(month: int) -> int:
    limit = MEMBERS["months"]
    if not limit.low <= month <= limit.high:
        raise said(f"{month} is outside 1 to 12", "give numbers of months, 1 to 12", value=month)
    return month


def _dated(text: str) -> str:
    try:
        return holiday(text)
    except ValueError as error:
        raise said(str(error), REMEDIES["holidays"], value=text) from None


def _zoned(text: str) -> str:
    try:
        return zone_named(text)
    except ValueError as error:
        raise said(str(error), REMEDIES["time_zone"], value=text) from None


Text = Annotated[str, Field(min_length=1, max_length=80)]


class PeriodIn(Incoming):
    """A price, on days of some kinds in some months, between two times of the clock."""

    model_config = ConfigDict(extra="forbid", frozen=True, allow_inf_nan=False, populate_by_name=False)

    months: Annotated[list[Annotated[Whole, AfterValidator(_in_year)]], Field(min_length=1, max_length=12)] = Field(
        list(EVERY_MONTH), description="1 to 12; all if left out"
    )
    days: Annotated[list[specs.DayKind], Field(min_length=1, max_length=3)] = Field(
        list(specs.DayKind), description="weekday, weekend, holiday; all if left out"
    )
    start: Annotated[Text, _clocked("from")] = Field(alias="from", description="HH:MM of the local clock")
    end: Annotated[Text, _clocked("to")] = Field(alias="to", description="HH:MM, after `from`, at most 24:00")
    price_per_kwh: Number = limited("price_per_kwh")
    name: Text | None = None

    @model_validator(mode="after")
    def _forward(self) -> "PeriodIn":
        if clock_s(self.end) <= clock_s(self.start):
            raise said(
                f"it ends at {self.end}, not after {self.start}",
                "split a period that passes midnight in two: to 24:00, and from 00:00",
                at="to",
                value=self.end,
            )
        return self

    def period(self) -> specs.TariffPeriod:
        """The same in SI."""
        return specs.TariffPeriod(
            months=tuple(sorted(set(self.months))),
            days=tuple(kind for kind in specs.DayKind if kind in self.days),
            starts_s=clock_s(self.start),
            ends_s=clock_s(self.end),
            price_per_j=self.price_per_kwh / KWH_J,
            name=self.name or "",
        )


class TierIn(Incoming):
    """A block of a calendar month's energy."""

    up_to_kwh: Number | None = Field(None, gt=0, le=LIMITS["up_to_kwh"].high, description="null: the last block")
    adds_per_kwh: Number = limited("adds_per_kwh")


class TariffSpecIn(Incoming):
    """A tariff by its figures: periods as a list or as a table, one of the two."""

    name: Text = "own tariff"
    currency: Annotated[str, Field(max_length=12)] = ""
    time_zone: Annotated[Text, AfterValidator(_zoned)] = Field(description="IANA name, such as America/New_York")
    periods: Annotated[list[PeriodIn], Field(min_length=1, max_length=MOST_PERIODS)] | None = None
    table: Annotated[str, Field(max_length=LARGEST_TABLE)] | None = Field(None, description="the periods as CSV text")
    holidays: Annotated[list[Annotated[Text, AfterValidator(_dated)]], Field(max_length=MOST_HOLIDAYS)] = Field(
        default_factory=list
    )
    tiers: Annotated[list[TierIn], Field(max_length=MOST_TIERS)] = Field(default_factory=list)
    demand_per_kw: Number = limited("demand_per_kw", 0.0)
    daily: Number = limited("daily", 0.0)

    @model_validator(mode="after")
    def _one_of_two(self) -> "TariffSpecIn":
        if (self.periods is None) == (self.table is None):
            which = "neither" if self.periods is None else "both"
            raise said(f"it gives {which} of periods and table", "give exactly one of periods and table")
        return self

    @model_validator(mode="after")
    def _blocks_rise(self) -> "TariffSpecIn":
        ends = [tier.up_to_kwh for tier in self.tiers]
        for at, end in enumerate(ends):
            last = at == len(ends) - 1
            if (end is None) != last:
                wrong = "the last block has an end" if last else "a block without an end is not the last"
                raise said(wrong, "give every block an end but the last", at=f"tiers[{at}].up_to_kwh", value=end)
            if at and end is not None and end <= ends[at - 1]:
                raise said(
                    f"{end:g} kWh is not above the block before it", f"give more than {ends[at - 1]:g} kWh",
                    at=f"tiers[{at}].up_to_kwh", value=end,
                )  # fmt: skip
        return self

    def tariff(self, field: str = "tariff.spec") -> specs.Tariff:
        """In SI; raises BadInputs with every gap and overlap, and every faulty cell of a table."""
        if self.table is None:
            periods, places = tuple(each.period() for each in self.periods), None
        else:
            periods, places = tariff_rows(self.table, f"{field}.table")
        faults = []
        for fault in cover_faults(periods):
            where = f"{field}.table" if places else f"{field}.periods"
            if fault.period is not None:
                where = places[fault.period] if places else f"{field}.periods[{fault.period}]"
            faults.append(BadInput(where, None, fault.message, fault.remedy))
        if faults:
            raise BadInputs(faults)
        return specs.Tariff(
            id="own",
            name=self.name,
            currency=self.currency,
            zone=self.time_zone,
            periods=periods,
            holidays=tuple(self.holidays),
            tiers=tuple(
                specs.TariffTier(None if tier.up_to_kwh is None else tier.up_to_kwh * KWH_J, tier.adds_per_kwh / KWH_J)
                for tier in self.tiers
            ),
            demand_per_w=self.demand_per_kw / 1000,
            daily=self.daily,
        )


class TariffIn(Incoming):
    """Either an id of the catalogue or a spec."""

    id: Annotated[str, Field(max_length=80)] | None = Field(None, description="id from GET /api/tariffs")
    spec: TariffSpecIn | None = None

    @model_validator(mode="after")
    def _one_of_two(self) -> "TariffIn":
        if (self.id is None) == (self.spec is None):
            which = "neither" if self.id is None else "both"
            raise said(f"it gives {which} of id and spec", "give exactly one of id and spec")
        return self

    def tariff(self, tariffs: Mapping[str, specs.Tariff]) -> specs.Tariff:
        """The tariff in SI. The id must be known."""
        return self.spec.tariff() if self.spec else tariffs[self.id]


def tariff_rows(text: str, field: str) -> tuple[tuple[specs.TariffPeriod, ...], tuple[str, ...]]:
    """Periods of a table, and the place of each; raises BadInputs with every fault, by row and column."""
    try:
        table = read_table_text(text.encode("utf-8", "replace"), LARGEST_TABLE, MOST_PERIODS)
    except BadInputs as error:
        raise BadInputs(BadInput(field, None, row.message, row.remedy) for row in error.rows()) from None
    faults = _of_header(table, field) + [_within(field, each) for each in table.broken]
    if not faults:
        prices = marks_of(table, (table.header.cells.index("price_per_kwh"),))
        marks = marks_between(prices, table.delimiter)
        read = [_row(line, table, marks, f"{field}, row {line.number}", faults) for line in table.lines]
    if faults:
        raise BadInputs(faults)
    return tuple(read), tuple(f"{field}, row {line.number}" for line in table.lines)


def _within(field: str, fault: BadInput) -> BadInput:
    return BadInput(f"{field}, {fault.row.field}", fault.row.value, fault.row.message, fault.row.remedy)


def _of_header(table: TextTable, field: str) -> list[BadInput]:
    """Columns that are unknown, missing or doubled; a table without rows."""
    where, names = f"{field}, row {table.header.number}", table.header.cells
    example = f"name columns as in {','.join(COLUMNS)}"
    faults = [
        BadInput(f"{where}, {each[:40]}", each[:80], "there is no such column", example)
        for each in names if each and each not in COLUMNS
    ]  # fmt: skip
    faults += [BadInput(f"{where}, {each}", None, "the column is missing", example)
               for each in NEEDED if each not in names]  # fmt: skip
    faults += [BadInput(f"{where}, {each}", None, "it is given in two columns", "keep one of the two")
               for each in COLUMNS if names.count(each) > 1]  # fmt: skip
    if not table.lines:
        faults.append(BadInput(where, None, "there is no row below the names", "give a row a period"))
    return faults


def _row(line: Line, table: TextTable, marks: Marks, where: str, faults: list[BadInput]) -> specs.TariffPeriod | None:
    """One period; its faults are added to the list."""
    if wide := too_wide(line, table, where):
        faults.append(wide)
        return None
    cells = dict(zip(table.header.cells, line.cells, strict=False))
    before = len(faults)

    def read(column: str, reader: Callable, empty: object = None) -> object:
        text = cells.get(column, "")
        if not text and empty is not None:
            return empty
        try:
            return reader(text)
        except ValueError as error:
            faults.append(BadInput(f"{where}, {column}", text[:80], str(error), REMEDIES[column]))
            return None

    months = read("months", months_in, EVERY_MONTH)
    days = read("days", day_kinds, tuple(specs.DayKind))
    starts_s, ends_s = read("from", clock_s), read("to", clock_s)
    price = _price(cells.get("price_per_kwh", ""), marks, f"{where}, price_per_kwh", faults)
    if starts_s is not None and ends_s is not None and ends_s <= starts_s:
        message = f"it ends at {cells['to']}, not after {cells['from']}"
        remedy = "split a period that passes midnight in two: to 24:00, and from 00:00"
        faults.append(BadInput(f"{where}, to", cells["to"], message, remedy))
    if len(faults) > before:
        return None
    return specs.TariffPeriod(months, days, starts_s, ends_s, price / KWH_J, cells.get("name", "")[:80])


def _price(text: str, marks: Marks, where: str, faults: list[BadInput]) -> float | None:
    """A price of a table, not below zero."""
    limit = LIMITS["price_per_kwh"]
    allowed = range_text(limit, unit_of_path("price_per_kwh"))
    value = number_from(text, marks)
    if value is None:
        faults.append(BadInput(where, text[:80], f"{text[:40]!r} is not a number", f"give {allowed}"))
    elif not limit.low <= value <= limit.high:
        faults.append(BadInput(where, text[:80], f"{value:g} is outside {allowed}", f"give {allowed}"))
    else:
        return value
    return None
