"""A night where peaks cost as a linear programme: a floor under every plan, and the best plan with given slots on.

Model    that of `cheapest`, every slot but the last used whole. Whether a slot is on, ends the charge, tapers or finds
         the pack warm is 0 or 1: left free between them the programme's optimum is a floor, since every plan is one of
         its points.
Caps     between two caps a slot that is on moves at most what the higher leaves it, which makes the floor sharp:
         without it a slot that is a tenth on would pay a tenth of the overhead and of the peak.
"""

from dataclasses import dataclass

import numpy as np

from service.charging.night import QUARTER_H, Night
from service.charging.programme import Programme

__all__ = ["floor_between", "plan_with"]

MOST_NODES = 200  # of HiGHS, for a plan whose slots are known: a handful does


@dataclass(frozen=True, eq=False, slots=True)
class _Columns:
    """Places of the variables, a slot each but `moved`, which has one more, and `peaks`, a month each."""

    on: np.ndarray
    used: np.ndarray
    ends: np.ndarray
    tapers: np.ndarray
    warm: np.ndarray
    gain: np.ndarray
    moved: np.ndarray
    peaks: np.ndarray


def floor_between(night: Night, low_kw: tuple[float, ...], high_kw: tuple[float, ...]) -> float:
    """What no plan undercuts whose months' peaks lie between two caps; inf where there is no plan."""
    programme, columns = _programme(night, high_kw)
    for peak, low, before in zip(columns.peaks, low_kw, night.before_kw, strict=True):
        programme.row([(peak, 1)], low=max(0.0, low - before))
    found = programme.solved()
    return np.inf if found.x is None else float(found.fun) + night.surely


def plan_with(night: Night, on: np.ndarray) -> np.ndarray | None:
    """The cheapest plan with given slots on, kWh moved in each, −1 where it is off; None where there is none."""
    programme, columns = _programme(night, tuple(max(each, night.most_kw) for each in night.before_kw))
    for slot, used in enumerate(on):
        if used:
            programme.row([(columns.on[slot], 1)], low=1)
            for column in (columns.ends, columns.tapers, columns.warm):
                programme.whole[column[slot]] = 1
        else:
            for column in (columns.on, columns.ends, columns.tapers, columns.warm):
                programme.upper[column[slot]] = 0.0
    found = programme.solved(node_limit=MOST_NODES)
    return None if found.x is None else np.where(on, found.x[columns.gain], -1.0)


def _programme(night: Night, caps_kw: tuple[float, ...]) -> tuple[Programme, _Columns]:
    """Everything but what is fixed."""
    programme, slots = Programme(), len(night.hours)
    on, used, ends, start, tapers, warm = (programme.columns(slots, 1.0) for _ in range(6))
    gain, moved = programme.columns(slots), programme.columns(slots + 1, night.whole_kwh)
    peaks = programme.columns(len(night.before_kw), cost=night.demand)
    columns = _Columns(on, used, ends, tapers, warm, gain, moved, peaks)
    programme.upper[moved[0]] = 0.0
    programme.row([(moved[-1], 1)], low=night.whole_kwh)
    programme.row([(each, 1) for each in start], high=night.runs)
    programme.row([(each, 1) for each in ends], high=1)
    caps = night.caps_kwh(caps_kw)
    for t in range(slots):
        programme.cost[gain[t]] = float(night.gain_price[t])
        programme.cost[used[t]] = float((night.price[t] + night.adds) * night.overhead_kw * night.hours[t])
        programme.cost[start[t]] = night.start_cost
        programme.row([(start[t], 1), (on[t], -1), *([(on[t - 1], 1)] if t else [])], low=0)
        programme.row([(moved[t + 1], 1), (moved[t], -1), (gain[t], -1)], low=0, high=0)
        _slot(programme, night, columns, t, float(caps[t]))
    _peaks(programme, night, columns)
    return programme, columns


def _slot(programme: Programme, night: Night, columns: _Columns, t: int, cap_kwh: float) -> None:
    """Least and most of one slot."""
    span = round(float(night.hours[t]), 9)
    named = (columns.on, columns.used, columns.ends, columns.tapers, columns.warm, columns.gain, columns.moved)
    on, used, ends, tapers, warm, gain, moved = (int(each[t]) for each in named)
    programme.row([(gain, 1), (on, -cap_kwh)], high=0)
    programme.row([(gain, 1), (used, -night.pace_kw * span)], high=0)
    programme.row([(used, 1), (on, -1)], high=0)
    programme.row([(used, 1), (on, -1), (ends, 1)], low=0)
    programme.row([(int(columns.moved[t + 1]), 1), (ends, -night.whole_kwh)], low=0)
    for height, slope in night.lines(span):
        programme.row([(gain, 1), (moved, -slope)], high=height)
    taper_kwh = night.taper_kwh(span)
    if taper_kwh < night.whole_kwh:
        programme.row([(moved, 1), (tapers, -taper_kwh)], low=0)
        programme.row([(gain, 1), (used, -night.least_kw * span), (tapers, night.least_kw * span)], low=0)
        programme.row([(ends, 1), (tapers, 1)], high=1)
    else:
        programme.row([(gain, 1), (used, -night.least_kw * span)], low=0)
    most_kwh = max(height for height, _ in night.lines(span))
    if night.heating_kwh > 0 and night.heater_kw * span < most_kwh:
        programme.row([(moved, 1), (warm, -night.heating_kwh)], low=0)
        slack_kwh = most_kwh - night.heater_kw * span
        programme.row([(gain, 1), (on, -night.heater_kw * span), (warm, -slack_kwh)], high=0)


def _peaks(programme: Programme, night: Night, columns: _Columns) -> None:
    """Each month's peak above the mean of every quarter of an hour, beyond what it had."""
    for quarter in np.unique(night.quarter):
        slots = np.flatnonzero(night.quarter == quarter)
        month = int(night.month[slots[0]])
        terms = [(columns.gain[t], -1 / QUARTER_H) for t in slots]
        terms += [(columns.on[t], -night.overhead_kw * float(night.hours[t]) / QUARTER_H) for t in slots]
        low_kw = float(night.ready_kwh[slots[0]]) / QUARTER_H - night.before_kw[month]
        programme.row([(columns.peaks[month], 1), *terms], low=low_kw)
    for peak, ready_kw, before_kw in zip(columns.peaks, night.ready_kw, night.before_kw, strict=True):
        programme.row([(peak, 1)], low=max(0.0, ready_kw - before_kw))
