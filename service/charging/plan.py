"""Ready by a given hour: charged at once, as late as possible, and as cheaply as can be.

Scope    one car on one circuit, plugged in all the while; power is even within a quarter of an hour. At once and as
         late as possible follow the session's own course to the second. The cheapest is the optimum of `cheapest.py`,
         or one of these two, or a run at full pace that begins or ends with a price, whichever costs least.
Meter    costs are counted before a run of cable; the search for the cheapest leaves its heat out, the gap does not.
Ready    charging ends before the cabin and the pack are brought to temperature on the wall, which ends at departure.
Short    a charge that cannot be done in time is charged at once, until departure, and says what is missing.
"""

from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from itertools import pairwise

import numpy as np

from service.charging.cheapest import cheapest_slots
from service.charging.course import Course
from service.charging.onboard import run_loss_w
from service.charging.tariff import QUARTER_S, Cost, MonthSoFar, PriceSteps, Stretch, cost_of, months_of, price_steps
from service.specs import Tariff

__all__ = ["Piece", "PlanLine", "PlanTask", "Plans", "plan_for", "slot_edges"]

CHEAPER = 1e-4  # of a cost: less is no reason to wait


@dataclass(frozen=True, eq=False, slots=True)
class PlanTask:
    """Everything a plan rests on. Times are POSIX seconds."""

    course: Course
    tariff: Tariff
    arrives_s: float
    departs_s: float
    readying: tuple[Stretch, ...] = ()  # cabin and pack on the wall, ending at departure
    so_far: MonthSoFar = field(default_factory=MonthSoFar)
    run: tuple[float, float, float] = (1.0, 0.0, 0.0)  # phases in use, V and Ω of a run of cable up to the plug

    def meter_w(self, socket_w: float) -> float:
        """Power at the meter for a power at the socket, W: the heat of the run comes on top."""
        return socket_w + run_loss_w(socket_w, *self.run)

    def metered(self, drawn: Sequence[Stretch]) -> tuple[Stretch, ...]:
        """Stretches at the socket as the meter counts them."""
        return tuple(Stretch(each.starts_s, each.ends_s, self.meter_w(each.wall_w)) for each in drawn)

    @property
    def deadline_s(self) -> float:
        """When charging must be done."""
        return self.readying[0].starts_s if self.readying else self.departs_s


@dataclass(frozen=True, slots=True)
class Piece:
    """Steady power within a slot, and the charge at its end."""

    starts_s: float
    ends_s: float
    wall_w: float
    charge: float


@dataclass(frozen=True, slots=True)
class PlanLine:
    """One way to charge. `ready_s` is None where the target is not reached before departure."""

    name: str  # at_once, as_late_as_possible, cheapest
    pieces: tuple[Piece, ...]
    readying: tuple[Stretch, ...]
    cost: Cost  # at the meter
    ready_s: float | None
    wall_j: float = 0.0  # at the meter, readying included

    @property
    def starts_s(self) -> float | None:
        """When charging begins."""
        return self.pieces[0].starts_s if self.pieces else None


@dataclass(frozen=True, eq=False, slots=True)
class Plans:
    """The three lines, and what is missing where there is not time enough."""

    at_once: PlanLine
    as_late: PlanLine
    cheapest: PlanLine
    feasible: bool
    short_j: float  # in the cells at departure
    late_s: float  # how much later than the deadline it would be ready, charging at once; inf where never
    steps: PriceSteps
    gap: float  # share of the cost by which the cheapest might still be undercut; 0 where it is proven


def slot_edges(arrives_s: float, deadline_s: float, steps: PriceSteps) -> np.ndarray:
    """Edges of the slots: arrival, deadline, every quarter of an hour of the clock, every change of price."""
    first = np.floor(arrives_s / QUARTER_S) + 1
    quarters = np.arange(first, np.ceil(deadline_s / QUARTER_S)) * QUARTER_S
    inside = steps.edges_s[(steps.edges_s > arrives_s) & (steps.edges_s < deadline_s)]
    return np.unique(np.concatenate([[arrives_s], quarters, inside, [deadline_s]]))


def plan_for(task: PlanTask) -> Plans:
    """The three plans of a task; the target counts as reached where the pack is full below it."""
    steps = price_steps(task.tariff, task.arrives_s, task.departs_s)
    edges = slot_edges(task.arrives_s, task.deadline_s, steps)
    room_s, course = task.deadline_s - task.arrives_s, task.course
    feasible = course.complete and course.whole_s <= room_s
    at_once = _line("at_once", task, _run(course, task.arrives_s, task.deadline_s, edges), feasible)
    if not feasible:
        stored_j = float(np.interp(room_s, course.seconds, course.stored_j))
        late_s = course.whole_s - room_s if course.complete else float("inf")
        late, cheap = (_named(name, at_once) for name in ("as_late_as_possible", "cheapest"))
        return Plans(at_once, late, cheap, False, float(course.stored_j[-1]) - stored_j, late_s, steps, 0.0)
    as_late = _line("as_late_as_possible", task, _run(course, _last_start_s(task), task.deadline_s, edges), True)
    lines = [at_once, *_whole_runs(task, steps, edges), as_late]
    slots, gap = None, 0.0
    if not _all_alike(task, steps):
        slots, gap = cheapest_slots(course, task.tariff, edges, steps, task.readying, task.so_far)
    if slots is not None:
        lines.append(_line("cheapest", task, _placed(course, slots), True))
        gap = _metered_gap(task, lines[-1], gap)
    best = at_once
    for line in lines[1:]:
        if line.cost.total < best.cost.total - CHEAPER * abs(best.cost.total):
            best = line
    return Plans(at_once, as_late, _named("cheapest", best), True, 0.0, 0.0, steps, gap)


def _last_start_s(task: PlanTask) -> float:
    return task.deadline_s - task.course.whole_s


def _whole_runs(task: PlanTask, steps: PriceSteps, edges: np.ndarray) -> list[PlanLine]:
    """Full pace in one go, beginning or ending where the price changes; in order of time.

    The cost of one run is, but for the taper, linear in its start between two such instants, so the cheapest run is
    among these, to the second.
    """
    changes = steps.edges_s[1:-1]
    starts = np.unique(np.concatenate([changes, changes - task.course.whole_s]))
    kept = starts[(starts > task.arrives_s) & (starts < _last_start_s(task))]
    return [_line("cheapest", task, _run(task.course, float(each), task.deadline_s, edges), True) for each in kept]


def _all_alike(task: PlanTask, steps: PriceSteps) -> bool:
    """One price and no demand charge within one month: nothing is cheaper than full pace, whenever it is."""
    months = months_of(task.tariff, task.arrives_s, task.departs_s)
    return len(steps.price_per_j) == 1 and task.tariff.demand_per_w == 0 and len(months) == 1


def _metered_gap(task: PlanTask, line: PlanLine, gap: float) -> float:
    """The gap of a search without a run of cable, at the meter: every plan loses at least the least power's share."""
    if task.run[2] <= 0 or line.cost.total <= 0:
        return gap
    drawn = (*(Stretch(each.starts_s, each.ends_s, each.wall_w) for each in line.pieces), *task.readying)
    at_socket = cost_of(task.tariff, drawn, task.so_far).total
    least_w = min(each.wall_w for each in drawn)
    return max(gap, 1 - (1 - gap) * at_socket * task.meter_w(least_w) / least_w / line.cost.total)


def _named(name: str, line: PlanLine) -> PlanLine:
    return replace(line, name=name)


def _line(name: str, task: PlanTask, pieces: tuple[Piece, ...], ready: bool) -> PlanLine:
    drawn = task.metered((*(Stretch(each.starts_s, each.ends_s, each.wall_w) for each in pieces), *task.readying))
    ready_s = pieces[-1].ends_s if ready and pieces else None
    wall_j = sum(each.wall_w * (each.ends_s - each.starts_s) for each in drawn)
    return PlanLine(name, pieces, task.readying, cost_of(task.tariff, drawn, task.so_far), ready_s, wall_j)


def _run(course: Course, starts_s: float, until_s: float, edges: np.ndarray) -> tuple[Piece, ...]:
    """Full pace from an instant to the end of the charge, or until another instant, in pieces cut at the slots."""
    ends_s = min(starts_s + course.whole_s, until_s)
    cuts = [starts_s, *(float(edge) for edge in edges if starts_s < edge < ends_s), ends_s]
    wall_j = np.interp(np.array(cuts) - starts_s, course.seconds, course.wall_j)
    charge = np.interp(np.array(cuts) - starts_s, course.seconds, course.charge)
    return tuple(
        Piece(low, high, float(wall_j[at + 1] - wall_j[at]) / (high - low), float(charge[at + 1]))
        for at, (low, high) in enumerate(pairwise(cuts))
        if high - low > 1e-6
    )


def _placed(course: Course, slots: Sequence[tuple[float, float, float]]) -> tuple[Piece, ...]:
    """Slots of the optimum as pieces, with the charge that each reaches."""
    pieces, above_j = [], 0.0
    for starts_s, ends_s, gain_j in slots:
        above_j += gain_j
        charge = float(np.interp(above_j, course.above_j, course.charge))
        pieces.append(Piece(starts_s, ends_s, course.overhead_w + gain_j / (ends_s - starts_s), charge))
    return tuple(pieces)
