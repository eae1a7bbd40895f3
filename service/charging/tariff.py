"""What electricity costs: a tariff as steps of price over time, and the exact cost of a profile of power.

Scope    energy by the clock, blocks of a calendar month's energy, a demand charge, a fixed charge a day. No taxes that
         depend on anything else, no feed-in.
Symbols  times are POSIX seconds; prices a joule and a watt, in the tariff's currency
Clock    the local one of the tariff's zone, daylight saving included: a night of 23 or 25 hours costs what its hours
         cost, and an hour that comes twice is priced twice by the same rule.
Method   price can change only at an edge of a period, at a local midnight or where the clock is put forward or back;
         between two such instants it is read off the clock once. The sum of a profile is exact, not sampled.
Demand   highest mean over a quarter of an hour of the clock (data: common practice), beyond what the month already has.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import UTC, date, datetime, timedelta
from itertools import pairwise
from zoneinfo import ZoneInfo

import numpy as np

from service.specs import DayKind, Tariff, TariffPeriod

__all__ = ["QUARTER_S", "Cost", "MonthSoFar", "PriceSteps", "Stretch", "cost_of", "peak_w", "price_at", "price_steps"]

HOUR_S, DAY_S = 3600, 86_400
QUARTER_S = 900.0  # demand is metered over quarters of an hour of the clock: common practice


@dataclass(frozen=True, eq=False, slots=True)
class PriceSteps:
    """Price as steps: `price_per_j[i]` holds from `edges_s[i]` to `edges_s[i + 1]`."""

    edges_s: np.ndarray  # (n + 1,)
    price_per_j: np.ndarray  # (n,)

    def at(self, instants_s: np.ndarray | float) -> np.ndarray:
        """Price at instants within the steps; at an edge that of the step which begins there."""
        place = np.searchsorted(self.edges_s, instants_s, side="right") - 1
        return self.price_per_j[np.clip(place, 0, len(self.price_per_j) - 1)]


@dataclass(frozen=True, slots=True)
class Stretch:
    """Steady power at the socket for a while."""

    starts_s: float
    ends_s: float
    wall_w: float


@dataclass(frozen=True, slots=True)
class MonthSoFar:
    """What the calendar month's bill already holds, the rest of the house included."""

    energy_j: float = 0.0
    peak_w: float = 0.0


@dataclass(frozen=True, slots=True)
class Cost:
    """Parts of a cost. `daily` is owed whether anything is drawn or not, so it stands outside the total."""

    energy: float
    tiers: float
    demand: float
    daily: float

    @property
    def total(self) -> float:
        """What the profile adds to the bill."""
        return self.energy + self.tiers + self.demand


def price_at(tariff: Tariff, instant_s: float) -> float:
    """Price of energy at an instant, in the currency a joule, blocks of a month left out."""
    local = datetime.fromtimestamp(instant_s, ZoneInfo(tariff.zone))
    clock_s = local.hour * HOUR_S + local.minute * 60 + local.second + local.microsecond * 1e-6
    kind = _kind(tariff, local.date())
    for period in tariff.periods:
        if local.month in period.months and kind in period.days and period.starts_s <= clock_s < period.ends_s:
            return period.price_per_j
    raise ValueError(f"the tariff {tariff.id!r} has no price at {local.isoformat()}")


def _kind(tariff: Tariff, day: date) -> DayKind:
    """What a tariff takes a date for; a holiday is a weekend day to a tariff that names no holidays in its periods."""
    listed = {day.isoformat(), f"{day:%m-%d}"} & set(tariff.holidays)
    if listed and any(DayKind.HOLIDAY in period.days for period in tariff.periods):
        return DayKind.HOLIDAY
    return DayKind.WEEKEND if listed or day.weekday() >= 5 else DayKind.WEEKDAY


def price_steps(tariff: Tariff, starts_s: float, ends_s: float) -> PriceSteps:
    """Price from one instant to another, neighbours of one price merged.

    Args:
        tariff: without gaps or overlaps.
        starts_s, ends_s: POSIX seconds, the second after the first.
    """
    edges = [starts_s, *(edge for edge in _edges(tariff, starts_s, ends_s) if starts_s < edge < ends_s), ends_s]
    middles = [0.5 * (low + high) for low, high in pairwise(edges)]
    prices = [price_at(tariff, middle) for middle in middles]
    kept = [0, *(at for at in range(1, len(prices)) if prices[at] != prices[at - 1])]
    return PriceSteps(np.array([*(edges[at] for at in kept), ends_s]), np.array([prices[at] for at in kept]))


def _edges(tariff: Tariff, starts_s: float, ends_s: float) -> list[float]:
    """Instants at which the price may change, in order: both meanings of a time of the clock that comes twice."""
    zone = ZoneInfo(tariff.zone)
    times = {edge for period in tariff.periods for edge in _ends(period)} | {0.0}
    edges = set(_clock_changes(zone, starts_s, ends_s))
    day = datetime.fromtimestamp(starts_s, zone).date() - timedelta(days=1)
    while day <= datetime.fromtimestamp(ends_s, zone).date():
        midnight = datetime(day.year, day.month, day.day)
        for seconds in times:
            wall = midnight + timedelta(seconds=seconds)
            edges |= {wall.replace(tzinfo=zone, fold=fold).timestamp() for fold in (0, 1)}
        day += timedelta(days=1)
    return sorted(edges)


def _ends(period: TariffPeriod) -> tuple[float, float]:
    return period.starts_s, period.ends_s


def _clock_changes(zone: ZoneInfo, starts_s: float, ends_s: float) -> Iterator[float]:
    """Instants at which the clock is put forward or back, to the second."""

    def offset(instant: float) -> timedelta | None:
        return datetime.fromtimestamp(instant, UTC).astimezone(zone).utcoffset()

    hour = int(starts_s // HOUR_S) * HOUR_S
    while hour < ends_s:
        if offset(hour) != offset(hour + HOUR_S):
            low, high = hour, hour + HOUR_S
            while high - low > 1:
                middle = (low + high) // 2
                low, high = (middle, high) if offset(middle) == offset(low) else (low, middle)
            yield float(high)
        hour += HOUR_S


def cost_of(tariff: Tariff, profile: tuple[Stretch, ...], so_far: MonthSoFar | None = None) -> Cost:
    """What a profile adds to the bill, exactly.

    Args:
        profile: stretches in order of time, none over another; may be empty.
        so_far: of the calendar month in which the profile begins; a month that begins on the way begins empty.
    """
    so_far = so_far or MonthSoFar()
    if not profile:
        return Cost(0.0, 0.0, 0.0, 0.0)
    starts_s, ends_s = profile[0].starts_s, profile[-1].ends_s
    steps = price_steps(tariff, starts_s, ends_s)
    zone = ZoneInfo(tariff.zone)
    last_s = ends_s - 1e-3  # midnight itself belongs to no further day
    days = (datetime.fromtimestamp(last_s, zone).date() - datetime.fromtimestamp(starts_s, zone).date()).days + 1
    months = months_of(tariff, starts_s, ends_s)
    tiers = demand = 0.0
    for at, (low_s, high_s) in enumerate(months):
        before = so_far if at == 0 else MonthSoFar()
        drawn_j = energy_between_j(profile, low_s, high_s)
        tiers += tier_cost(tariff, before.energy_j + drawn_j) - tier_cost(tariff, before.energy_j)
        demand += tariff.demand_per_w * max(0.0, peak_w(profile, low_s, high_s) - before.peak_w)
    return Cost(_energy_cost(profile, steps), tiers, demand, days * tariff.daily)


def months_of(tariff: Tariff, starts_s: float, ends_s: float) -> list[tuple[float, float]]:
    """The calendar months of the tariff's clock between two instants, cut at these."""
    zone = ZoneInfo(tariff.zone)
    edges, local = [starts_s], datetime.fromtimestamp(starts_s, zone)
    while True:
        year, month = (local.year, local.month + 1) if local.month < 12 else (local.year + 1, 1)
        local = datetime(year, month, 1, tzinfo=zone)
        if local.timestamp() >= ends_s:
            return list(zip(edges, [*edges[1:], ends_s], strict=True))
        edges.append(local.timestamp())


def tier_cost(tariff: Tariff, energy_j: float) -> float:
    """What blocks add to a month of so much energy, beside the prices by the clock."""
    cost, low_j = 0.0, 0.0
    for tier in tariff.tiers:
        high_j = float("inf") if tier.up_to_j is None else tier.up_to_j
        cost += tier.adds_per_j * max(0.0, min(energy_j, high_j) - low_j)
        low_j = high_j
    return cost


def energy_between_j(profile: tuple[Stretch, ...], low_s: float, high_s: float) -> float:
    """Energy of a profile between two instants, J."""
    return sum(each.wall_w * max(0.0, min(each.ends_s, high_s) - max(each.starts_s, low_s)) for each in profile)


def _energy_cost(profile: tuple[Stretch, ...], steps: PriceSteps) -> float:
    """Every stretch cut at the edges of price."""
    cost = 0.0
    for each in profile:
        inside = steps.edges_s[(steps.edges_s > each.starts_s) & (steps.edges_s < each.ends_s)]
        edges = np.array([each.starts_s, *inside, each.ends_s])
        cost += each.wall_w * float(np.sum(np.diff(edges) * steps.at(edges[:-1])))
    return cost


def peak_w(profile: tuple[Stretch, ...], low_s: float, high_s: float) -> float:
    """Highest mean over a quarter of an hour of the clock that touches a month; POSIX quarters are the clock's."""
    drawn: dict[int, float] = {}
    for each in profile:
        first, last = max(each.starts_s, low_s), min(each.ends_s, high_s)
        quarter = int(first // QUARTER_S)
        while quarter * QUARTER_S < last:
            span_s = min(last, (quarter + 1) * QUARTER_S) - max(first, quarter * QUARTER_S)
            drawn[quarter] = drawn.get(quarter, 0.0) + each.wall_w * span_s
            quarter += 1
    return max(drawn.values(), default=0.0) / QUARTER_S
