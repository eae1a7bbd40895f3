"""Routes compared: which vehicle stays electric on which route in which month, by how much, and why.

Path     find the cars behind labels → complete the months → solve each route (two at a time) → cells → lines, sorted.
Threads  a route is one task: the march releases the interpreter's lock, so two Python threads use two cores, and
         numba's own threads, which must not be started from several threads at once, are not needed.
"""

from collections.abc import Callable, Iterator
from concurrent.futures import ThreadPoolExecutor
from contextlib import closing
from dataclasses import dataclass

import numpy as np

from service.catalogue import Catalogue
from service.errors import BadInput, BadInputs
from service.fleet.answer import Cell, Comparison, FleetVehicle, RouteLine, Verdict
from service.fleet.ask import ComparisonAsk, Route, moved_to, vehicle_key
from service.fleet.route import RouteResult, ask_for, solve_route
from service.quotes.answer import CAUSES, Assumption
from service.quotes.assume import Filling, complete, complete_weather
from service.quotes.build import ledger_j_per_m
from service.quotes.label import anchored
from service.quotes.notes import ENDED_BY, notes_for
from service.specs import Procedure, Vehicle, Weather

__all__ = [
    "ORDER",
    "Prepared",
    "Progress",
    "cells_in",
    "compare",
    "compared_routes",
    "gathered",
    "prepared",
    "route_cells",
    "urgency",
    "verdict_of",
]

WORKERS = 2  # threads for one comparison
EVERY_SPREAD_UP_TO = 400  # cells: so many can have a spread of their own within a second on one core
ORDER = (Verdict.FAIL, Verdict.MARGIN, Verdict.PASS)
FIXED = (
    Assumption(
        "trips of a day",
        "driven one after the other on one charge",
        "",
        "cooling down between trips is not counted; more than one charge a day only where it is asked for",
    ),
    Assumption(
        "span of a distance",
        "first order",
        "",
        "the likeliest draw that one day in ten falls short of, from the ledger and a drive for each factor it does "
        "not show: first-order reliability, Hasofer and Lind 1974, from memory",
    ),
)
PLACE_DAY = Assumption(
    "temperature of a month",
    "the end of its mean day farther from the cabin's set point",
    "",
    "mean daily minimum in months that need heat, maximum in those that need cooling: a day starts soaked near the "
    "minimum, and the days of a month differ by about as much as the minimum lies below the mean (common practice)",
)
Progress = Callable[[int, int], None]


@dataclass(frozen=True, slots=True)
class Prepared:
    """What all routes share."""

    vehicles: tuple[Vehicle, ...]  # labels replaced by the cars behind them
    moved: tuple[tuple[Assumption, ...], ...]  # what that found, a vehicle each
    weathers: tuple[Weather, ...]  # completed
    assumptions: tuple[Assumption, ...]


def compare(question: ComparisonAsk, catalogue: Catalogue, progress: Progress | None = None) -> Comparison:
    """The whole comparison.

    Args:
        question: names unique; gaps of vehicles and months allowed, what fills them is listed.
        progress: called with cells done and cells in all, once before the first and after each route; what it raises
            stops the work after the routes at hand.
    Errors: `BadInputs` for labels that contradict the rest of their vehicle, `BadInput` for a journey of nothing.
    """
    ready = prepared(question, catalogue)
    cells: list[Cell] = []
    total = cells_in(question)
    if progress:
        progress(0, total)
    with closing(compared_routes(question, ready, catalogue)) as each_route:
        for found in each_route:
            cells.extend(found)
            if progress:
                progress(len(cells), total)
    return gathered(question, ready, cells, catalogue)


def gathered(question: ComparisonAsk, ready: Prepared, cells: list[Cell], catalogue: Catalogue) -> Comparison:
    """The comparison from its cells: by route, vehicle and month, in the order asked."""
    return Comparison(
        ask=question,
        cells=tuple(cells),
        lines=lines_of(question, cells),
        vehicles=fleet_vehicles(question, ready, cells, catalogue),
        assumptions=(*((PLACE_DAY,) if question.place else ()), *FIXED, *ready.assumptions),
    )


def cells_in(question: ComparisonAsk) -> int:
    """How many cells it has."""
    return len(question.routes) * len(question.vehicles) * len(question.months)


def prepared(question: ComparisonAsk, catalogue: Catalogue) -> Prepared:
    """Cars behind labels, months without gaps."""
    with ThreadPoolExecutor(WORKERS) as pool:
        found = list(pool.map(lambda car: behind_label(question, car, catalogue), question.vehicles))
    faults = [
        moved_to(each, "vehicle", f"vehicles[{at}]") for at, each in enumerate(found) if isinstance(each, BadInput)
    ]
    if faults:
        raise BadInputs(faults)
    filling = Filling(catalogue)
    weathers = tuple(complete_weather(month.weather, Procedure.ROAD, filling) for month in question.months)
    return Prepared(
        vehicles=tuple(car for car, _ in found),
        moved=tuple(moved for _, moved in found),
        weathers=weathers,
        assumptions=tuple(dict.fromkeys(filling.listed)),
    )


def behind_label(
    question: ComparisonAsk, vehicle: Vehicle, catalogue: Catalogue
) -> tuple[Vehicle, tuple[Assumption, ...]] | BadInput:
    """The vehicle with a road load, and what was found; or the fault, so that all of them can be told together."""
    try:
        ask, moved = anchored(ask_for(question, question.routes[0], vehicle, question.months[0].weather), catalogue)
    except BadInput as fault:
        return fault
    return ask.vehicle, moved


def compared_routes(question: ComparisonAsk, ready: Prepared, catalogue: Catalogue) -> Iterator[list[Cell]]:
    """The cells of one route after the other, as they are done, in the order asked."""
    pool = ThreadPoolExecutor(WORKERS)
    try:
        yield from pool.map(lambda route: route_cells(question, route, ready, catalogue), question.routes)
    finally:
        pool.shutdown(cancel_futures=True)  # whoever stops listening stops the work


def route_cells(question: ComparisonAsk, route: Route, ready: Prepared, catalogue: Catalogue) -> list[Cell]:
    """One route of it; the others do not matter, except that in a small comparison each cell has its own spread."""
    first = [ask_for(question, route, car, ready.weathers[0]) for car in ready.vehicles]
    asks = [complete(each, catalogue, with_engine=False)[0] for each in first]
    every = cells_in(question) <= EVERY_SPREAD_UP_TO
    return cells_of(question, route, solve_route(question, route, asks, ready.weathers, catalogue, every))


def cells_of(question: ComparisonAsk, route: Route, result: RouteResult) -> list[Cell]:
    """Arrays of one route as records, by vehicle and month."""
    cells = []
    for row, vehicle in enumerate(question.vehicles):
        best = int(result.range_m[row].argmax())
        mildest = ledger_j_per_m(result.ledgers[row, best])
        for month in range(len(question.months)):
            ledger = ledger_j_per_m(result.ledgers[row, month])
            range_m, low_m = float(result.range_m[row, month]), float(result.low_m[row, month])
            cells.append(
                Cell(
                    vehicle=vehicle_key(vehicle),
                    route=route.name,
                    month=question.months[month].name,
                    verdict=verdict_of(low_m, range_m, result.needed_m),
                    needed_m=result.needed_m,
                    range_m=range_m,
                    low_m=low_m,
                    low_month=question.months[int(result.low_month[row, month])].name,
                    battery_j_per_m=battery_j_per_m_of(result, row, month),
                    ledger_j_per_m=ledger,
                    ended_by=ENDED_BY[int(result.ended[row, month])],
                    keeps_up=bool(result.keeps_up[row, month]),
                    charge_left=float(result.charge_left[row, month]),
                    charging_s=known(result.charging_s[row, month]),
                    wall_j=known(result.wall_j[row, month]),
                    mildest=question.months[best].name,
                    mildest_range_m=float(result.range_m[row, best]),
                    extra_j_per_m={cause: ledger[cause] - mildest[cause] for cause in CAUSES},
                )
            )
    return cells


def verdict_of(low_m: float, range_m: float, needed_m: float) -> Verdict:
    """Pass where nine days in ten reach what is needed, margin where only the middle does.

    >>> verdict_of(80.0, 100.0, 80.0).value, verdict_of(80.0, 100.0, 100.0).value, verdict_of(80.0, 100.0, 101.0).value
    ('pass', 'margin', 'fail')
    """
    if low_m >= needed_m:
        return Verdict.PASS
    return Verdict.MARGIN if range_m >= needed_m else Verdict.FAIL


def battery_j_per_m_of(result: RouteResult, row: int, month: int) -> float:
    """Energy leaving the cells over the distance driven on the way to empty, J/m."""
    ledger = result.ledgers[row, month]
    return float(ledger.cells_j) / max(float(ledger.distance_m), 1.0)


def known(value: float) -> float | None:
    """None for NaN."""
    return None if np.isnan(value) else float(value)


def lines_of(question: ComparisonAsk, cells: list[Cell]) -> tuple[RouteLine, ...]:
    """Each route and vehicle by its worst month; what fails comes first, the furthest short at the top."""
    months = len(question.months)
    lines = []
    for start in range(0, len(cells), months):
        row = cells[start : start + months]
        of = {verdict: tuple(cell.month for cell in row if cell.verdict is verdict) for verdict in Verdict}
        lines.append(RouteLine(min(row, key=urgency), of[Verdict.MARGIN], of[Verdict.FAIL]))
    return tuple(sorted(lines, key=lambda line: urgency(line.worst)))


def urgency(cell: Cell) -> tuple[int, float]:
    """Sorts what fails before what is tight before what passes, and within each the smallest margin first."""
    return ORDER.index(cell.verdict), cell.margin_m


def fleet_vehicles(
    question: ComparisonAsk, ready: Prepared, cells: list[Cell], catalogue: Catalogue
) -> tuple[FleetVehicle, ...]:
    """Each vehicle with its longest refill, and what was assumed of it."""
    harshest = min(ready.weathers, key=lambda weather: weather.ambient_k)
    fleet = []
    for vehicle, moved in zip(ready.vehicles, ready.moved, strict=True):
        key, route = vehicle_key(vehicle), question.routes[0]
        ask, assumptions = complete(ask_for(question, route, vehicle, harshest), catalogue, with_engine=False)
        charged = [cell for cell in cells if cell.vehicle == key and cell.charging_s is not None]
        longest = max(charged, key=lambda cell: cell.charging_s, default=None)
        fleet.append(FleetVehicle(key, ask, longest, moved + assumptions, notes_for(ask)))
    return tuple(fleet)
