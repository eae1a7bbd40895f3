"""The cheapest way to charge by a deadline, to its optimum.

Model    in each slot t the charger is on (y) for a time τ and moves g, energy at the socket beyond its overhead; what
         has been moved before it is u. Energy drawn is g + overhead·τ, at the slot's own price: a slot never spans a
         change of price. All in kWh and hours.
Pace     g is at most G(u) of `pace`, without binaries. A slot used in part moves at most G(u) − pace·(rest of the
         slot): exact before the taper, careful within it.
On, off  an on charger draws at least six amperes, but in the taper, where the car asks for less. Within a run of slots
         all but the first and the last are used whole, so that nothing is switched within a quarter of an hour, and a
         further start must be worth what the overhead costs in five minutes. At most three starts.
Heating  a cold pack that is heated first is charged in one go, since a pause would have to heat it again; until it is
         warm the pace is the heater's.
Bill     blocks of a month's energy as pieces of it (with binaries where a later block is cheaper). Among equals the
         earlier slot wins, by a millionth.
Method   a mixed-integer linear programme, solved by HiGHS. Where peaks cost, every slot but that in which the charge
         ends is used whole, the current turned down rather than switched, and `peaks` finds the optimum, which HiGHS
         alone proves late or not at all.
"""

from collections.abc import Sequence

import numpy as np

from service.charging.course import Course
from service.charging.night import EARLIER, MOST_STARTS, NOTHING_KWH, START_WORTH_H, bill_of, night_of
from service.charging.pace import HOUR_S, least_pace_kw, pace_lines, paces_kw
from service.charging.peaks import cheapest_under_peaks
from service.charging.programme import Programme
from service.charging.tariff import MonthSoFar, PriceSteps, Stretch, energy_between_j, months_of
from service.specs import Tariff
from service.units import KWH_J

__all__ = ["cheapest_slots"]

GAP = 1e-4  # of the cost, at which a plan counts as proven
PEAK_GAP = 2e-4  # the same where peaks cost; levels of energy allow no less
A_HAIR = 5e-4  # of the cost, that an end at the usual power instead of at full pace may take
TIME_LIMIT_S = 3.0  # far more than any night has taken
MOST_KWH = 1e4  # more than any plan draws


def cheapest_slots(
    course: Course,
    tariff: Tariff,
    edges: np.ndarray,
    steps: PriceSteps,
    readying: Sequence[Stretch],
    so_far: MonthSoFar,
) -> tuple[list[tuple[float, float, float]] | None, float]:
    """Stretches (from, to, J moved beyond the overhead) of the cheapest plan, and by what share of its cost, at
    most, a still cheaper one was not ruled out.

    Args:
        edges: of the slots, POSIX seconds, from arrival to the deadline; the charge is done by the last.
    None where the programme finds no plan, which happens when hardly any time is to spare.
    """
    if tariff.demand_per_w > 0:
        night = night_of(course, tariff, edges, steps, readying, so_far)
        bill = bill_of(night, tariff)
        moved, gap = cheapest_under_peaks(night, bill, PEAK_GAP)
        if moved is None:
            return None, gap
        used, steady = night.used_h(moved), night.steady_h(moved)
        more = float((steady - used) @ night.price) * night.overhead_kw / bill(moved)
        if more < A_HAIR:
            used, gap = steady, gap + more
        return _used(edges, moved, used), gap
    hours = np.diff(edges) / HOUR_S
    price = steps.at(edges[:-1]) * KWH_J
    above = course.above_j / KWH_J
    programme, count = Programme(), len(hours)
    on = programme.columns(count, 1.0, whole=True)
    start = programme.columns(count, 1.0)
    time = programme.columns(count)
    gain = programme.columns(count)
    moved = programme.columns(count + 1, float(above[-1]))
    overhead_kw = course.overhead_w / 1000
    late = 1 + EARLIER * np.arange(count) / count
    for t in range(count):
        programme.cost[gain[t]] = price[t] * late[t]
        programme.cost[time[t]] = price[t] * late[t] * overhead_kw
        programme.cost[start[t]] = START_WORTH_H * overhead_kw * float(price.mean())
    _runs(programme, on, start, time, hours, one=course.heating_s > 0)
    _progress(programme, gain, moved, float(above[-1]))
    _pace(programme, course, on, time, gain, moved, hours)
    _blocks(programme, tariff, edges, (gain, time, overhead_kw), readying, so_far)
    found = programme.solved(mip_rel_gap=GAP, time_limit=TIME_LIMIT_S)
    if found.x is None:
        return None, 0.0
    return _stretches(edges, hours, found.x[time], found.x[gain]), float(found.mip_gap or 0.0)


def _runs(programme: Programme, on, start, time, hours: np.ndarray, one: bool) -> None:
    """When it is on: starts, whole slots within a run, and one run only for a pack that is heated."""
    for t, span in enumerate(hours):
        programme.row([(time[t], 1), (on[t], -span)], high=0)
        programme.row([(start[t], 1), (on[t], -1), *([(on[t - 1], 1)] if t else [])], low=0)
        if 0 < t < len(hours) - 1:
            around = [(on[at], -span) for at in (t - 1, t, t + 1)]
            programme.row([(time[t], 1), *around], low=-2 * span)
    programme.row([(each, 1) for each in start], high=1 if one else MOST_STARTS)


def _progress(programme: Programme, gain, moved, whole_kwh: float) -> None:
    """What has been moved, slot by slot, from nothing to the whole."""
    programme.upper[moved[0]] = 0.0
    programme.row([(moved[-1], 1)], low=whole_kwh)
    for t, each in enumerate(gain):
        programme.row([(moved[t + 1], 1), (moved[t], -1), (each, -1)], low=0, high=0)


def _pace(programme: Programme, course: Course, on, time, gain, moved, hours: np.ndarray) -> None:
    """Least and most of every slot."""
    above, paces = course.above_j / KWH_J, paces_kw(course)
    most = float(paces.max())
    heated = course.heating_s > 0
    heating_kwh = float(above[1]) if heated else 0.0
    heater_kw = float(paces[0]) if heated else most
    lines_of = {float(span): pace_lines(course, float(span)) for span in set(np.round(hours, 9))}
    least = least_pace_kw(course, lines_of)
    slow_heater = heated and heater_kw < most * (1 - 1e-9)
    warm = programme.columns(len(hours), 1.0, whole=True) if slow_heater else None
    for t, span in enumerate(hours):
        lines = lines_of[round(float(span), 9)]
        programme.row([(gain[t], 1), (time[t], -most)], high=0)
        for height, slope in lines:
            rest = [(on[t], most * span), (time[t], -most)]  # of a slot that is on
            programme.row([(gain[t], 1), (moved[t], -slope), *rest], high=height)
        if warm is not None:
            programme.row([(moved[t], 1), (warm[t], -heating_kwh)], low=0)
            programme.row([(gain[t], 1), (time[t], -heater_kw), (warm[t], -(most - heater_kw) * span)], high=0)
        tapers = [(least * span - height) / slope for height, slope in lines if slope < -1e-12]
        at_least = [(gain[t], 1), (time[t], -least)]
        if tapers and min(tapers) < above[-1]:
            tapering = programme.columns(1, 1.0, whole=True)[0]
            programme.row([(moved[t], 1), (tapering, -max(min(tapers), 0.0))], low=0)
            at_least.append((tapering, least * span))
        programme.row(at_least, low=0)


def _blocks(
    programme: Programme, tariff: Tariff, edges, drawn, readying: Sequence[Stretch], so_far: MonthSoFar
) -> None:
    """Blocks of each calendar month that the plan touches."""
    if not tariff.tiers:
        return
    gain, time, overhead_kw = drawn
    ends_s = readying[-1].ends_s if readying else float(edges[-1])
    for at, (low_s, high_s) in enumerate(months_of(tariff, float(edges[0]), ends_s)):
        before = so_far if at == 0 else MonthSoFar()
        slots = np.flatnonzero((edges[:-1] >= low_s) & (edges[:-1] < high_s))
        terms = [term for t in slots for term in ((gain[t], 1.0), (time[t], overhead_kw))]
        ready_kwh = energy_between_j(tuple(readying), low_s, high_s) / KWH_J
        _tiers(programme, tariff, terms, ready_kwh, before.energy_j / KWH_J)


def _tiers(programme: Programme, tariff: Tariff, terms, ready_kwh: float, before_kwh: float) -> None:
    """Energy of a month shared out to blocks, each filled before the next."""
    ends = [MOST_KWH + before_kwh if tier.up_to_j is None else tier.up_to_j / KWH_J for tier in tariff.tiers]
    adds = [tier.adds_per_j * KWH_J for tier in tariff.tiers]
    widths = [max(0.0, end - max(low, before_kwh)) for low, end in zip([0.0, *ends], ends, strict=False)]
    blocks = programme.columns(len(ends))
    for block, width, add in zip(blocks, widths, adds, strict=True):
        programme.upper[block], programme.cost[block] = min(width, MOST_KWH), add
    programme.row([*terms, *((block, -1.0) for block in blocks)], low=-ready_kwh, high=-ready_kwh)
    if sorted(adds) != adds:
        full = programme.columns(len(ends) - 1, 1.0, whole=True)
        for k, each in enumerate(full):
            programme.row([(blocks[k], 1), (each, -widths[k])], low=0)
            programme.row([(blocks[k + 1], 1), (each, -min(widths[k + 1], MOST_KWH))], high=0)


def _used(edges: np.ndarray, moved: np.ndarray, used_h: np.ndarray) -> list[tuple[float, float, float]]:
    """Slots that are on, from their beginning for as long as they are used."""
    slots = np.flatnonzero(moved > NOTHING_KWH)
    return [(float(edges[t]), float(edges[t] + HOUR_S * used_h[t]), float(moved[t]) * KWH_J) for t in slots]


def _stretches(edges, hours, time, gain) -> list[tuple[float, float, float]]:
    """Slots in use. One used in part ends where the next begins, or begins where the one before ended."""
    used = gain > NOTHING_KWH
    stretches = []
    for t in np.flatnonzero(used):
        span_s = min(float(time[t]) * HOUR_S, float(edges[t + 1] - edges[t]))
        follows = t + 1 < len(hours) and used[t + 1] and not (t and used[t - 1])
        starts_s = float(edges[t + 1]) - span_s if follows else float(edges[t])
        stretches.append((starts_s, starts_s + span_s, float(gain[t]) * KWH_J))
    return stretches
