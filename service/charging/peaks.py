"""The cheapest way to charge where peaks cost: a search over the peak, each peak's night solved by levels of energy.

Model    that of `cheapest` with a demand charge: every slot but that in which the charge ends is used whole, an on
         charger draws at least six amperes but in the taper, a heated pack is charged in one go, at most three starts.
Method   the peak of each month is one number, and under a cap on it what is left is a night without peaks
         (`levels.climbed`). Its cost C falls as the cap rises, so between two caps a and b nothing costs less than
         demand(a) + C(b): intervals that cannot undercut the best plan found are dropped, the others halved. The slots
         that are on under a cap make a plan by a linear programme, powers and peak left free (`night_programme`), whose
         relaxation is a second floor: sharper where energy sets the peak, blunter where the least current does.
Proof    levels are rounded so that no plan costs less than C; what lies between the best plan and the least interval
         left is the gap that is told.
Blocks   of a month's energy are exact for the charge itself, if one month holds it; beside it C counts the cheapest
         block that a plan can reach, the plan's own bill all exactly.
"""

import heapq
from collections.abc import Callable, Iterator
from itertools import count

import numpy as np

from service.charging.levels import climbed, on_of
from service.charging.night import QUARTER_H, Night
from service.charging.night_programme import floor_between, plan_with

__all__ = ["cheapest_under_peaks"]

LEVELS = 2400  # of the whole energy: the finer, the smaller the gap that rounding leaves
MOST_LEVELS = 5 * LEVELS  # where the power allowed is hardly more than the least
WITHIN = 6  # levels between the least and the most of a slot
MOST_NIGHTS = 120  # solved in one search; what is then left is told as the gap
FINEST = 0.25  # of the gap: what a further halving could bring at most
NEAR = 1e-9  # of a level: rounding of floats


def cheapest_under_peaks(
    night: Night, bill: Callable[[np.ndarray], float], gap: float
) -> tuple[np.ndarray | None, float]:
    """What each slot moves in the cheapest plan, kWh, −1 where it is off, and the share of its cost not ruled out.

    Args:
        bill: cost of a plan given so, everything included.
        gap: at which a plan counts as proven.
    None where no plan is found, which happens when hardly any time is to spare.
    """
    search = _Search(night, bill, gap)
    low = tuple(max(each) for each in zip(night.before_kw, night.ready_kw, strict=True))
    search.look(low, tuple(max(each, night.most_kw) for each in low))
    while search.left and search.left[0][0] < search.best * (1 - gap) and search.nights < MOST_NIGHTS:
        floor, _, low, high = heapq.heappop(search.left)
        at = int(np.argmax(np.subtract(high, low)))
        if night.demand * (high[at] - low[at]) < FINEST * gap * min(search.best, 2 * floor):
            search.closed = min(search.closed, floor)
            continue
        middle, pinned = 0.5 * (low[at] + high[at]), night.least_kw + night.overhead_kw
        if low[at] < pinned < high[at]:
            middle = pinned  # below it an on charger draws too much
        search.look(low, tuple(middle if k == at else b for k, b in enumerate(high)))
        search.look(tuple(middle if k == at else a for k, a in enumerate(low)), high)
    if search.plan is None:
        return None, 0.0
    least = min([search.closed, *(each[0] for each in search.left[:1])])
    return search.plan, max(0.0, 1 - least / search.best) if search.best > 0 else 0.0


class _Search:
    """Intervals of caps not yet ruled out, the best plan so far, and what each cap's night costs at least."""

    def __init__(self, night: Night, bill: Callable[[np.ndarray], float], gap: float) -> None:
        self.night, self.bill, self.gap = night, bill, gap
        self.best, self.plan, self.closed = np.inf, None, np.inf
        self.left: list[tuple[float, int, tuple[float, ...], tuple[float, ...]]] = []
        self.nights, self.order = 0, count()
        self.known: dict[tuple[float, ...], float] = {}

    def look(self, low: tuple[float, ...], high: tuple[float, ...]) -> None:
        """Solve the night under the upper caps, try its plan; keep the interval if it may hold something cheaper."""
        if high not in self.known:
            self.nights += 1
            self.known[high], on = under_caps(self.night, high)
            if on is not None and self.floor(high, high) * (1 - self.gap) < self.best:
                self._try(on, self.floor(high, high))
        floor = self.floor(low, high)
        if floor < self.best * (1 - self.gap):
            floor = max(floor, floor_between(self.night, low, high))
        if floor < self.best:
            heapq.heappush(self.left, (floor, next(self.order), low, high))

    def floor(self, low: tuple[float, ...], high: tuple[float, ...]) -> float:
        """What no plan undercuts whose peaks lie between two caps, as far as levels of energy tell."""
        above = sum(max(0.0, a - b) for a, b in zip(low, self.night.before_kw, strict=True))
        return self.known[high] + self.night.demand * above

    def _try(self, on: np.ndarray, promised: float) -> None:
        """Plans with these slots on; where rounding promised too much, with one slot more or less, too."""
        for each in (on, *_beside(on)):
            moved = plan_with(self.night, each)
            if moved is None:
                continue
            cost = self.bill(moved)
            if cost < self.best:
                self.best, self.plan = cost, moved
            if cost <= promised * (1 + self.gap):
                return


def _beside(on: np.ndarray) -> Iterator[np.ndarray]:
    """The same slots and one more after or before a run, or without the last."""
    more = np.flatnonzero(~on[1:] & on[:-1])[::-1] + 1, np.flatnonzero(~on[:-1] & on[1:])
    for slot in (*more[0], *more[1], np.flatnonzero(on)[-1]):
        changed = on.copy()
        changed[slot] = not on[slot]
        yield changed


def under_caps(night: Night, caps_kw: tuple[float, ...]) -> tuple[float, np.ndarray | None]:
    """What no plan under a cap of each month undercuts, peaks left out, and the slots on; inf where there is none."""
    caps = night.caps_kwh(caps_kw)
    full = min(float(caps.max()), night.most_kw * QUARTER_H)
    if full <= 0:
        return np.inf, None
    level_kwh = full / _levels_of(night, full)
    levels = 1 + int(night.whole_kwh / level_kwh + NEAR)
    reach, threshold, kind = _reach(night, caps, level_kwh, levels)
    least_kwh = night.least_kw * night.hours
    least = np.floor(least_kwh / level_kwh + NEAR).astype(np.int64)
    least[caps < least_kwh * (1 - NEAR)] = levels  # no cap may be below what an on charger draws
    pace = night.pace_kw * night.hours / level_kwh
    price = night.gain_price
    kept = (len(price), night.runs, levels)
    way = np.zeros(kept, np.int32), np.zeros(kept, np.int8), np.zeros(kept, np.int8)
    on_cost = (night.price + night.adds) * night.overhead_kw * night.hours
    slots = price * level_kwh, on_cost, night.start_cost, least, pace
    cost, ends = climbed(*slots, threshold, reach, kind, levels, night.runs, *way)
    if not np.isfinite(cost):
        return np.inf, None
    rounding = level_kwh * float(np.maximum(np.diff(price), 0.0).sum())
    return cost - rounding + night.surely, on_of(ends, *way)


def _levels_of(night: Night, full_kwh: float) -> int:
    """Into how many levels the most of a slot is parted: more where hardly more than six amperes are allowed."""
    per_slot = LEVELS * full_kwh / night.whole_kwh
    spare = 1 - night.least_kw * QUARTER_H / full_kwh
    if NEAR < spare < WITHIN / per_slot:
        per_slot = min(WITHIN / spare, MOST_LEVELS * full_kwh / night.whole_kwh)
    return max(1, round(per_slot))


def _reach(night: Night, caps: np.ndarray, level_kwh: float, levels: int) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """Highest level that each slot leads to from each level; by length of slot the level from which it may draw less
    than its least; and which length each slot has.
    """
    spans, kind = np.unique(np.round(night.hours, 9), return_inverse=True)
    at, own = np.arange(levels) * level_kwh, np.arange(levels)
    threshold, most_of = np.empty(len(spans), np.int64), []
    for k, span in enumerate(spans):
        threshold[k] = int(min(levels, night.taper_kwh(float(span)) / level_kwh))
        most = np.min([height + slope * at for height, slope in night.lines(float(span))], axis=0)
        heating = at < night.heating_kwh - level_kwh
        most_of.append(np.where(heating, np.minimum(most, night.heater_kw * span), most))
    reach = np.empty((len(caps), levels), np.int64)
    for cap, k in {(float(cap), int(k)) for cap, k in zip(caps, kind, strict=True)}:
        gains = np.ceil(np.clip(most_of[k], 0.0, cap) / level_kwh - NEAR).astype(np.int64)
        reach[(caps == cap) & (kind == k)] = np.maximum.accumulate(own + gains)
    return reach, threshold, kind.astype(np.int64)
