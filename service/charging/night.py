"""A night of charging slot by slot where peaks cost, and the bill of a plan for it.

Model    that of `cheapest`, every slot but the last used whole: prices, caps, least and most of each slot, months and
         their peaks.
Demand   highest mean over a quarter of an hour of the clock, each calendar month, beyond what the month already has;
         the quarter in which the charge ends counts as if the charger stayed on, so that nothing is hurried at the end.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import cache

import numpy as np

from service.charging.course import Course
from service.charging.pace import HOUR_S, least_pace_kw, pace_lines, paces_kw
from service.charging.tariff import (
    QUARTER_S,
    MonthSoFar,
    PriceSteps,
    Stretch,
    energy_between_j,
    months_of,
    peak_w,
    tier_cost,
)
from service.specs import Tariff
from service.units import KWH_J

__all__ = ["EARLIER", "MOST_STARTS", "NOTHING_KWH", "QUARTER_H", "START_WORTH_H", "Night", "bill_of", "night_of"]

START_WORTH_H = 5 / 60  # of overhead, that a further start must save: own choice
EARLIER = 1e-6  # of the price of a slot, by which the end of the night counts as dearer
MOST_STARTS = 3  # in one plan: a car is not switched on and off all night to shave a peak; own choice
QUARTER_H = QUARTER_S / HOUR_S
NOTHING_KWH = 1e-7


@dataclass(frozen=True, eq=False, slots=True)
class Night:
    """What a search rests on. Energies in kWh at the socket, beyond the overhead where nothing else is said."""

    hours: np.ndarray  # of each slot
    price: np.ndarray  # of each slot, a kWh
    month: np.ndarray  # of each slot: index
    quarter: np.ndarray  # of each slot: number of the clock's quarter of an hour
    ready_kwh: np.ndarray  # drawn in each slot's quarter by readying
    lines: Callable[[float], Sequence[tuple[float, float]]]  # most of a slot of so many hours, as (height, slope)
    whole_kwh: float
    least_kw: float
    overhead_kw: float
    heating_kwh: float  # before which the heater sets the pace
    heater_kw: float
    runs: int
    start_cost: float
    demand: float  # a kW
    before_kw: tuple[float, ...]  # of each month: what costs nothing more
    ready_kw: tuple[float, ...]  # of each month: highest quarter of readying alone
    surely: float  # what blocks add to the charge itself, where one month holds it
    adds: float  # a kWh: of what is drawn beside that, the cheapest block within reach
    drawn_before_kwh: tuple[float, ...]  # of each month: what its blocks already hold, readying included

    @property
    def pace_kw(self) -> float:
        """Full pace while nothing tapers."""
        return max(height for height, _ in self.lines(QUARTER_H)) / QUARTER_H

    @property
    def most_kw(self) -> float:
        """Highest quarter of an hour that a plan can have, readying in it included."""
        return self.pace_kw + self.overhead_kw + float(self.ready_kwh.max(initial=0.0)) / QUARTER_H

    def caps_kwh(self, caps_kw: Sequence[float]) -> np.ndarray:
        """Most that each slot may move under a cap of each month, if nothing else of its quarter is used."""
        room = np.asarray(caps_kw)[self.month] * QUARTER_H - self.ready_kwh
        return np.maximum(room - self.overhead_kw * self.hours, 0.0)

    @property
    def gain_price(self) -> np.ndarray:
        """Price of what a slot moves, a kWh."""
        return self.price if len(self.before_kw) == 1 else self.price + self.adds

    def used_h(self, moved: np.ndarray) -> np.ndarray:
        """How long each slot is on, h, in a plan given as kWh moved in each slot, −1 where it is off."""
        used = np.where(moved >= 0, self.hours, 0.0)
        last = int(np.flatnonzero(moved > NOTHING_KWH)[-1])
        begins = self.whole_kwh - float(moved[last])
        if begins < self.taper_kwh(round(float(self.hours[last]), 9)):
            used[last] = min(used[last], float(moved[last]) / self.pace_kw)
        return used

    def steady_h(self, moved: np.ndarray) -> np.ndarray:
        """The same with the slot that ends the charge at the pace of the one before, where that fits into it."""
        used = self.used_h(moved)
        on = np.flatnonzero(moved > NOTHING_KWH)
        if len(on) > 1 and on[-2] == on[-1] - 1:
            last, pace_kw = on[-1], float(moved[on[-2]] / used[on[-2]])
            used[last] = max(used[last], min(self.hours[last], moved[last] / pace_kw))
        return used

    def taper_kwh(self, span_h: float) -> float:
        """What has been moved before a slot may fall below its least; inf where it never may."""
        least_kwh = self.least_kw * span_h
        tapers = [(least_kwh - height) / slope for height, slope in self.lines(span_h) if slope < -1e-12]
        return max(min(tapers, default=np.inf), 0.0)


def night_of(
    course: Course,
    tariff: Tariff,
    edges: np.ndarray,
    steps: PriceSteps,
    readying: Sequence[Stretch],
    so_far: MonthSoFar,
) -> Night:
    """Args as those of `cheapest.cheapest_slots`."""
    hours, slots = np.diff(edges) / HOUR_S, len(edges) - 1
    price = steps.at(edges[:-1]) * KWH_J
    overhead_kw, paces = course.overhead_w / 1000, paces_kw(course)
    whole_kwh = float(course.above_j[-1]) / KWH_J
    heated = course.heating_s > 0
    months = months_of(tariff, float(edges[0]), readying[-1].ends_s if readying else float(edges[-1]))
    starts = np.array([low for low, _ in months])
    quarter = (edges[:-1] // QUARTER_S).astype(np.int64)
    ready = tuple(readying)
    first = [energy_between_j(ready, each * QUARTER_S, (each + 1) * QUARTER_S) / KWH_J for each in quarter]
    before_j = so_far.energy_j + energy_between_j(ready, 0.0, np.inf)
    sure_j = before_j + whole_kwh * KWH_J if len(months) == 1 else 0.0
    most_j = before_j + (whole_kwh + overhead_kw * float(hours.sum())) * KWH_J
    return Night(
        hours=hours,
        price=price * (1 + EARLIER * np.arange(slots) / slots),
        month=np.searchsorted(starts, edges[:-1], side="right") - 1,
        quarter=quarter,
        ready_kwh=np.array(first),
        lines=cache(lambda span_h: pace_lines(course, span_h)),
        whole_kwh=whole_kwh,
        least_kw=least_pace_kw(course, {float(span) for span in np.round(hours, 9)}),
        overhead_kw=overhead_kw,
        heating_kwh=float(course.above_j[1]) / KWH_J if heated else 0.0,
        heater_kw=float(paces[0]) if heated else float(paces.max()),
        runs=1 if heated else MOST_STARTS,
        start_cost=START_WORTH_H * overhead_kw * float(price.mean()),
        demand=tariff.demand_per_w * 1000,
        before_kw=tuple([so_far.peak_w / 1000] + [0.0] * (len(months) - 1)),
        ready_kw=tuple(peak_w(ready, low, high) / 1000 for low, high in months),
        surely=tier_cost(tariff, sure_j) - tier_cost(tariff, before_j) if len(months) == 1 else 0.0,
        adds=cheapest_block(tariff, sure_j, most_j),
        drawn_before_kwh=tuple(
            (so_far.energy_j * (at == 0) + energy_between_j(ready, low, high)) / KWH_J
            for at, (low, high) in enumerate(months)
        ),
    )


def cheapest_block(tariff: Tariff, from_j: float, to_j: float) -> float:
    """Least that a further kWh adds, of the blocks between two energies of a month; 0 without blocks."""
    low_j, reached = 0.0, []
    for tier in tariff.tiers:
        high_j = np.inf if tier.up_to_j is None else tier.up_to_j
        if low_j <= to_j and high_j > from_j:
            reached.append(tier.adds_per_j * KWH_J)
        low_j = high_j
    return min(reached, default=0.0)


def bill_of(night: Night, tariff: Tariff) -> Callable[[np.ndarray], float]:
    """Cost of a plan given as kWh moved in each slot, −1 where it is off; starts and earliness count as in a search."""
    first = int(night.quarter.min())
    quarters_in_all = int(night.quarter.max()) - first + 1

    def bill(moved: np.ndarray) -> float:
        on = moved >= 0
        drawn = np.where(on, moved + night.overhead_kw * night.used_h(moved), 0.0)
        begun = int(on[0]) + int(np.sum(on[1:] & ~on[:-1]))
        cost = float(drawn @ night.price) + begun * night.start_cost
        for month, (before_kw, ready_kw, kwh) in enumerate(
            zip(night.before_kw, night.ready_kw, night.drawn_before_kwh, strict=True)
        ):
            own = night.month == month
            at = night.quarter[own] - first
            quarters = np.zeros(quarters_in_all)
            quarters[at] = night.ready_kwh[own]
            np.add.at(quarters, at, np.where(on, moved + night.overhead_kw * night.hours, 0.0)[own])
            top_kw = max(ready_kw, float(quarters.max()) / QUARTER_H)
            cost += night.demand * max(0.0, top_kw - before_kw)
            more_j = float(drawn[own].sum()) * KWH_J
            cost += tier_cost(tariff, kwh * KWH_J + more_j) - tier_cost(tariff, kwh * KWH_J)
        return cost

    return bill
