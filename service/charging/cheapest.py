"""The cheapest way to charge by a deadline: a mixed-integer linear programme, solved to its optimum by HiGHS.

Model    in each slot t the charger is on (y) for a time τ and moves g, energy at the socket beyond its overhead; what
         has been moved before it is u. Energy drawn is g + overhead·τ, at the slot's own price: a slot never spans a
         change of price. All in kWh and hours.
Pace     within a slot g cannot exceed G(u), what the session at full pace moves in the slot's length from u on. The
         taper makes G concave and falling, so it is the least of a few straight lines and needs no binaries. Its
         chords lie below the curve: a plan may be a hair slower than the car, never faster. Where G is not concave (a
         cold pack without heater that warms as it charges) the largest concave curve below it stands for it, found by
         a linear programme. A slot used in part moves at most G(u) − pace·(rest of the slot): exact before the taper,
         careful within it.
On, off  an on charger draws at least six amperes, but in the taper, where the car asks for less. Within a run of slots
         all but the first and the last are used whole, so that nothing is switched within a quarter of an hour, and a
         further start must be worth what the overhead costs in five minutes. At most three starts. Where peaks cost,
         every slot is used whole: the current is turned down rather than switched.
Heating  a cold pack that is heated first is charged in one go, since a pause would have to heat it again; until it is
         warm the pace is the heater's.
Bill     blocks of a month's energy as pieces of it (with binaries where a later block is cheaper), the demand charge as
         the highest quarter of an hour of each calendar month. Among equals the earlier slot wins, by a millionth.
"""

from collections.abc import Sequence

import numpy as np

from service.charging.course import Course
from service.charging.tariff import QUARTER_S, MonthSoFar, PriceSteps, Stretch, energy_between_j, months_of
from service.specs import Tariff
from service.units import KWH_J

__all__ = ["START_WORTH_H", "cheapest_slots", "pace_lines"]

HOUR_S = 3600.0
START_WORTH_H = 5 / 60  # of overhead, that a further start must save: own choice
EARLIER = 1e-6  # of the price of a slot, by which the end of the night counts as dearer
MOST_STARTS = 3  # in one plan: a car is not switched on and off all night to shave a peak; own choice
GAP, PEAK_GAP = 1e-4, 1e-3  # of the cost, at which a plan counts as proven; with a demand charge
TIME_LIMIT_S = 3.0  # a peak shaved by a small pack is found at once and proven late
LINES = 6  # straight lines of a taper
MOST_KWH = 1e4  # more than any plan draws
NOTHING_KWH = 1e-7


class _Programme:
    """Rows and columns of a programme as they come."""

    def __init__(self) -> None:
        self.cost: list[float] = []
        self.upper: list[float] = []
        self.whole: list[int] = []
        self.entries: list[tuple[int, int, float]] = []
        self.low: list[float] = []
        self.high: list[float] = []

    def columns(self, count: int, upper: float = np.inf, whole: bool = False, cost: float = 0.0) -> np.ndarray:
        """New variables from 0 to `upper`; their places."""
        start = len(self.cost)
        self.cost += [cost] * count
        self.upper += [upper] * count
        self.whole += [int(whole)] * count
        return np.arange(start, start + count)

    def row(self, terms: Sequence[tuple[int, float]], low: float = -np.inf, high: float = np.inf) -> None:
        """One constraint."""
        self.entries += [(len(self.low), int(column), float(value)) for column, value in terms]
        self.low.append(low)
        self.high.append(high)

    def solved(self, gap: float):
        """HiGHS's result."""
        from scipy.optimize import Bounds, LinearConstraint, milp  # heavy: only where a plan is asked for
        from scipy.sparse import coo_array

        rows, columns, values = zip(*self.entries, strict=True)
        matrix = coo_array((values, (rows, columns)), shape=(len(self.low), len(self.cost))).tocsr()
        return milp(
            self.cost,
            integrality=self.whole,
            bounds=Bounds(0, self.upper),
            constraints=LinearConstraint(matrix, self.low, self.high),
            options={"mip_rel_gap": gap, "time_limit": TIME_LIMIT_S},
        )


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
    hours = np.diff(edges) / HOUR_S
    price = steps.at(edges[:-1]) * KWH_J
    above = course.above_j / KWH_J
    programme, count = _Programme(), len(hours)
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
    _runs(programme, on, start, time, hours, one=course.heating_s > 0, whole=tariff.demand_per_w > 0)
    _progress(programme, gain, moved, float(above[-1]))
    least_kw, untapered_kwh = _pace(programme, course, on, time, gain, moved, hours)
    most_kw = float(np.max(np.diff(above) / np.diff(course.seconds)) * HOUR_S)
    never_less_kw = 0.0
    if np.allclose(hours[1:-1], QUARTER_S / HOUR_S) and untapered_kwh > 2 * MOST_STARTS * most_kw * QUARTER_S / HOUR_S:
        never_less_kw = least_kw + overhead_kw  # some run has a whole quarter within, and no taper: six amperes
    _bill(programme, tariff, edges, (gain, time, overhead_kw), readying, so_far, never_less_kw)
    found = programme.solved(PEAK_GAP if tariff.demand_per_w > 0 else GAP)
    if found.x is None:
        return None, 0.0
    return _stretches(edges, hours, found.x[time], found.x[gain]), float(found.mip_gap or 0.0)


def _runs(programme: _Programme, on, start, time, hours: np.ndarray, one: bool, whole: bool) -> None:
    """When it is on: starts, whole slots within a run or anywhere, and one run only for a pack that is heated."""
    for t, span in enumerate(hours):
        programme.row([(time[t], 1), (on[t], -span)], high=0)
        programme.row([(start[t], 1), (on[t], -1), *([(on[t - 1], 1)] if t else [])], low=0)
        if whole:
            programme.row([(time[t], 1), (on[t], -span)], low=0)
        elif 0 < t < len(hours) - 1:
            around = [(on[at], -span) for at in (t - 1, t, t + 1)]
            programme.row([(time[t], 1), *around], low=-2 * span)
    programme.row([(each, 1) for each in start], high=1 if one else MOST_STARTS)


def _progress(programme: _Programme, gain, moved, whole_kwh: float) -> None:
    """What has been moved, slot by slot, from nothing to the whole."""
    programme.upper[moved[0]] = 0.0
    programme.row([(moved[-1], 1)], low=whole_kwh)
    for t, each in enumerate(gain):
        programme.row([(moved[t + 1], 1), (moved[t], -1), (each, -1)], low=0, high=0)


def _pace(programme: _Programme, course: Course, on, time, gain, moved, hours: np.ndarray) -> tuple[float, float]:
    """Least and most of every slot; the least, kW, and what is moved before any slot may fall below it, kWh."""
    above = course.above_j / KWH_J
    paces = np.diff(above) / (np.diff(course.seconds) / HOUR_S)
    most = float(paces.max())
    heated = course.heating_s > 0
    heating_kwh = float(above[1]) if heated else 0.0
    heater_kw = float(paces[0]) if heated else most
    before_taper = float(paces[: int(np.argmax(paces)) + 1].min())  # a cold pack may begin below six amperes
    least = max(0.0, min((course.least_w - course.overhead_w) / 1000, heater_kw, before_taper))
    lines_of = {span: pace_lines(course, span) for span in set(np.round(hours, 9))}
    least = min(least, *(min(height for height, _ in lines) / span for span, lines in lines_of.items()))
    slow_heater = heated and heater_kw < most * (1 - 1e-9)
    warm = programme.columns(len(hours), 1.0, whole=True) if slow_heater else None
    untapered_kwh = float(above[-1])
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
            untapered_kwh = min(untapered_kwh, max(min(tapers), 0.0))
            tapering = programme.columns(1, 1.0, whole=True)[0]
            programme.row([(moved[t], 1), (tapering, -max(min(tapers), 0.0))], low=0)
            at_least.append((tapering, least * span))
        programme.row(at_least, low=0)
    return least, untapered_kwh


def pace_lines(course: Course, span_h: float) -> list[tuple[float, float]]:
    """Straight lines (height, slope) whose least, at what has been moved (kWh), is the most that a slot can move.

    Args:
        span_h: length of the slot, h.
    Chords of the course, or of the largest concave curve below it; heating counts as the highest pace here.
    """
    above, clock = course.above_j / KWH_J, course.seconds / HOUR_S
    if course.heating_s > 0:
        above, clock = above[1:], clock[1:]
    last = (above[-1] - above[-2]) / (clock[-1] - clock[-2])
    reach = np.append(clock, clock[-1] + span_h), np.append(above, above[-1] + last * span_h)
    most = float(np.max(np.diff(above) / np.diff(clock))) * span_h
    room = np.interp(clock + span_h, *reach) - above
    kink = int(np.flatnonzero(room >= most * (1 - 1e-6))[-1]) if np.any(room >= most * (1 - 1e-6)) else 0
    kept = np.unique(np.concatenate([[0, kink], np.linspace(kink, len(above) - 1, LINES + 1).astype(int)]))
    if np.any(np.diff(np.diff(room[kept]) / np.diff(above[kept])) > 1e-9):
        kept, room = np.arange(len(above)), _concave_below(above, room)
    at, slopes = above[kept], np.diff(room[kept]) / np.diff(above[kept])
    lines = [(float(room.max()), 0.0)]
    for k, slope in enumerate(slopes):
        height = float(room[kept][k] - slope * at[k])
        if abs(slope - lines[-1][1]) > 1e-7:
            lines.append((height, float(slope)))
    return lines


def _concave_below(x: np.ndarray, y: np.ndarray) -> np.ndarray:
    """The concave curve through a grid that lies nowhere above y and in sum nearest to it."""
    from scipy.optimize import linprog

    bend = np.zeros((len(x) - 2, len(x)))
    for k in range(len(x) - 2):
        left, right = x[k + 1] - x[k], x[k + 2] - x[k + 1]
        bend[k, k : k + 3] = 1 / left, -1 / left - 1 / right, 1 / right
    return linprog(-np.ones(len(x)), bend, np.zeros(len(x) - 2), bounds=[(0, float(each)) for each in y]).x


def _bill(
    programme: _Programme,
    tariff: Tariff,
    edges,
    drawn,
    readying: Sequence[Stretch],
    so_far: MonthSoFar,
    never_less_kw: float,
) -> None:
    """Blocks and demand of each calendar month that the plan touches.

    `never_less_kw` bounds the peak from below where one month holds the plan: it spares HiGHS a long proof.
    """
    gain, time, overhead_kw = drawn
    ends_s = readying[-1].ends_s if readying else float(edges[-1])
    months = months_of(tariff, float(edges[0]), ends_s)
    for at, (low_s, high_s) in enumerate(months):
        before = so_far if at == 0 else MonthSoFar()
        slots = np.flatnonzero((edges[:-1] >= low_s) & (edges[:-1] < high_s))
        terms = [term for t in slots for term in ((gain[t], 1.0), (time[t], overhead_kw))]
        ready_kwh = energy_between_j(tuple(readying), low_s, high_s) / KWH_J
        if tariff.tiers:
            _tiers(programme, tariff, terms, ready_kwh, before.energy_j / KWH_J)
        if tariff.demand_per_w > 0:
            peak = programme.columns(1, cost=tariff.demand_per_w * 1000)[0]
            _demand(programme, peak, edges, slots, drawn, readying, (low_s, high_s), before.peak_w / 1000)
            if len(months) == 1:
                programme.row([(peak, 1.0)], low=never_less_kw - before.peak_w / 1000)


def _tiers(programme: _Programme, tariff: Tariff, terms, ready_kwh: float, before_kwh: float) -> None:
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


def _demand(programme, peak, edges, slots, drawn, readying, month, before_kw: float) -> None:
    """The month's peak beyond what it had, above the mean of every quarter of an hour."""
    gain, time, overhead_kw = drawn
    quarters: dict[int, list[tuple[int, float]]] = {}
    for t in slots:
        quarter = quarters.setdefault(int(edges[t] // QUARTER_S), [])
        quarter += [(gain[t], 1.0), (time[t], overhead_kw)]
    for each in readying:
        for quarter in range(int(each.starts_s // QUARTER_S), int(-(-each.ends_s // QUARTER_S))):
            if month[0] <= quarter * QUARTER_S < month[1] or quarter in quarters:
                quarters.setdefault(quarter, [])
    for quarter, terms in quarters.items():
        low_s = quarter * QUARTER_S
        ready_kwh = energy_between_j(tuple(readying), low_s, low_s + QUARTER_S) / KWH_J
        per_h = HOUR_S / QUARTER_S
        programme.row(
            [(peak, 1.0), *((column, -per_h * value) for column, value in terms)], low=per_h * ready_kwh - before_kw
        )


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
