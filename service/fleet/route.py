"""All cells of one route: every vehicle in every month through one call of the march, then lower ends and refills.

Shape    cars, days and draws are tables joined by index; row v·M + m is vehicle v in month m.
Same     every central row is the central row of the single quote: the same tables, the same march (a test compares).
Spread   each cell drives once more with the draw that nine days in ten beat (`first_order`). Cells whose verdict may
         hang on it, and the worst month of each vehicle, march what their ledger does not tell of that draw; the
         others take it from the nearest temperature of the same vehicle, and say from which.
"""

from collections.abc import Mapping
from dataclasses import dataclass, replace

import numpy as np

from service.catalogue import Catalogue
from service.charging import CHARGER, charger_row, sessions
from service.charging.session import NO_POWER, TOO_LONG
from service.fleet.ask import ComparisonAsk, Route
from service.fleet.first_order import (
    FACTORS,
    MARCHED,
    draws_at,
    one_at_a_time,
    places_of,
    slopes,
    slopes_by_ledger,
    toward_low,
)
from service.physics.laps import DISTANCE_LIMIT, FURTHEST_M
from service.physics.march import COMPLETED
from service.physics.rows import table
from service.physics.tables import central_draw, start_state
from service.quotes.band import mixing_for, scatter
from service.quotes.build import KEPT_UP
from service.quotes.scenarios import Outcome, Scenarios, rows_for, run, wants_preconditioning
from service.specs import Ask, BodyAndTyres, Vehicle, Weather
from service.trips.journey import trace_of

__all__ = ["RouteResult", "ask_for", "solve_route"]

MATTERS = (0.6, 1.0)  # needed over middle distance between which a verdict may hang on the spread


@dataclass(frozen=True, eq=False, slots=True)
class RouteResult:
    """Arrays of shape (vehicles, months)."""

    needed_m: float
    range_m: np.ndarray
    low_m: np.ndarray
    low_month: np.ndarray  # index of the month from which its draw comes
    ended: np.ndarray
    keeps_up: np.ndarray
    charge_left: np.ndarray
    charging_s: np.ndarray  # NaN where nothing is charged
    wall_j: np.ndarray
    ledgers: np.recarray


def ask_for(question: ComparisonAsk, route: Route, vehicle: Vehicle, weather: Weather) -> Ask:
    """The single quote's question of one cell."""
    return Ask(
        vehicle=vehicle,
        journey=route.journey,
        weather=weather,
        start=question.start,
        cabin=question.cabin,
        circuit=question.circuit,
        payload_kg=route.payload_kg,
        band=False,
        outfit=question.outfit,
    )


def solve_route(
    question: ComparisonAsk, route: Route, asks: list[Ask], weathers: tuple[Weather, ...], catalogue: Catalogue,
    every_spread: bool,
) -> RouteResult:  # fmt: skip
    """Everything about one route.

    Args:
        asks: from `ask_for`, completed, a vehicle each; any month.
        weathers: completed, a month each.
        every_spread: look for the lower draw of every cell, whether its verdict hangs on it or not.
    """
    values = {name: typical.value for name, typical in catalogue.typical.items()}
    tables = joined(asks, weathers, catalogue, values)
    shape = (len(asks), len(weathers))
    outcome = run(tables, asks[0], catalogue)
    trace_m = trace_of(route.journey, catalogue).distance_m
    trips = 1 if question.between_trips else route.trips_per_day
    needed_m = trips * trace_m + question.reserve_m
    range_m = reached_m(outcome).reshape(shape)
    chosen = np.ones(shape, bool) if every_spread else worth_a_spread(range_m, needed_m)
    low_m, low_month = lower_end(tables, asks, weathers, chosen, outcome, catalogue, values)
    charge_left, driven_share = after_the_day(tables, outcome, trips)
    charging_s, wall_j = refills(tables, asks, weathers, outcome, charge_left, driven_share, values)
    return RouteResult(
        needed_m=needed_m,
        range_m=range_m,
        low_m=low_m,
        low_month=low_month,
        ended=outcome.ended.reshape(shape),
        keeps_up=((outcome.first_ended != COMPLETED) | (outcome.first.distance_m >= KEPT_UP * trace_m)).reshape(shape),
        charge_left=charge_left.reshape(shape),
        charging_s=charging_s.reshape(shape),
        wall_j=(wall_j * (route.trips_per_day if question.between_trips else 1)).reshape(shape),
        ledgers=outcome.total.reshape(shape),
    )


def joined(
    asks: list[Ask], weathers: tuple[Weather, ...], catalogue: Catalogue, values: Mapping[str, float]
) -> Scenarios:
    """Every vehicle in every month, typical car and day."""
    cars = [rows_for(ask, catalogue, values)[0] for ask in asks]
    days = [rows_for(with_weather(asks[0], weather), catalogue, values)[1] for weather in weathers]
    starts = [start_state(asks[0].start, car[0], day[0]) for car in cars for day in days]
    rows = len(asks) * len(weathers)
    day_of = np.tile(np.arange(len(weathers)), len(asks))
    return Scenarios(
        cars=np.concatenate(cars).view(np.recarray),
        days=np.concatenate(days).view(np.recarray),
        draws=central_draw(),
        car_of=np.repeat(np.arange(len(asks)), len(weathers)),
        day_of=day_of,
        draw_of=np.zeros(rows, int),
        states=np.concatenate(starts).view(np.recarray),
        precondition=np.full(rows, wants_preconditioning(asks[0])),
        asks=tuple(asks),
        sampled=0,
    )


def with_weather(ask: Ask, weather: Weather) -> Ask:
    """The same question on another day."""
    return replace(ask, weather=weather)


def reached_m(outcome: Outcome) -> np.ndarray:
    """Distance to empty of every row, as a quote tells it, m."""
    return np.where(outcome.ended == DISTANCE_LIMIT, FURTHEST_M, outcome.total.distance_m)


def worth_a_spread(range_m: np.ndarray, needed_m: float) -> np.ndarray:
    """Cells whose verdict may hang on their spread, and each vehicle's worst month."""
    low, high = MATTERS
    with_worst = np.arange(range_m.shape[1]) == range_m.argmin(axis=1)[:, None]
    return with_worst | ((needed_m >= low * range_m) & (needed_m <= high * range_m))


def lower_end(
    tables: Scenarios, asks: list[Ask], weathers: tuple[Weather, ...], chosen: np.ndarray, outcome: Outcome,
    catalogue: Catalogue, values: Mapping[str, float],
) -> tuple[np.ndarray, np.ndarray]:  # fmt: skip
    """Nine-days-in-ten distance of every cell, m, and the month in which its slopes were found."""
    range_m = reached_m(outcome)
    sigma = sigmas(asks, weathers, values).reshape(-1, len(FACTORS))
    cell = np.flatnonzero(chosen)
    repeated = np.repeat(cell, len(MARCHED))
    moved = drawn(tables, repeated, draws_at(sigma[repeated], one_at_a_time(len(cell))))
    moved_m = reached_m(run(moved, asks[0], catalogue)).reshape(len(cell), len(MARCHED))
    marched = np.zeros((range_m.size, len(MARCHED)))
    marched[cell] = slopes(moved_m, range_m[cell])
    lender = nearest_chosen(chosen, np.array([weather.ambient_k for weather in weathers]))
    marched = np.take_along_axis(marched.reshape(*chosen.shape, len(MARCHED)), lender[..., None], axis=1)
    slope = slopes_by_ledger(marched.reshape(-1, len(MARCHED)), outcome.total, sigma)
    place = lower_places(asks, weathers, slope, sigma, values)
    low = drawn(tables, np.arange(range_m.size), draws_at(sigma, place))
    low_m = np.minimum(reached_m(run(low, asks[0], catalogue)), range_m)
    return low_m.reshape(chosen.shape), lender


def lower_places(
    asks: list[Ask], weathers: tuple[Weather, ...], slope: np.ndarray, sigma: np.ndarray, values: Mapping[str, float]
) -> np.ndarray:
    """The draw that nine days in ten beat, for every cell; cars held by a label have their factors tied together."""
    place = np.zeros_like(slope)
    months = len(weathers)
    for row, ask in enumerate(asks):
        cells = slice(row * months, (row + 1) * months)
        mix = None
        if ask.vehicle.anchor is not None:
            tied = [mixing_for(with_weather(ask, weather), values) for weather in weathers]
            mix = np.stack([places_of(each, of) for each, of in zip(tied, sigma[cells], strict=True)])
        place[cells] = toward_low(slope[cells], sigma[cells], mix)
    return place


def drawn(tables: Scenarios, cells: np.ndarray, draws: np.recarray) -> Scenarios:
    """The same cells, any number of times, each with a draw of its own."""
    return replace(
        tables,
        draws=draws,
        car_of=tables.car_of[cells],
        day_of=tables.day_of[cells],
        draw_of=np.arange(len(cells)),
        states=tables.states[cells].view(np.recarray),
        precondition=tables.precondition[cells],
    )


def nearest_chosen(chosen: np.ndarray, kelvin: np.ndarray) -> np.ndarray:
    """For each vehicle and month the chosen month nearest in temperature, its own first; at least one is chosen.

    >>> nearest_chosen(np.array([[True, False, True]]), np.array([270.0, 276.0, 290.0]))
    array([[0, 0, 2]])
    """
    apart_k = np.where(chosen[:, None, :], np.abs(kelvin[:, None] - kelvin), np.inf)  # vehicle, month, lender
    return np.where(chosen, np.arange(len(kelvin)), apart_k.argmin(axis=2))


def sigmas(asks: list[Ask], weathers: tuple[Weather, ...], values: Mapping[str, float]) -> np.ndarray:
    """Standard deviation of each factor's logarithm, shape (vehicles, months, factors).

    How a car was given and how cold the day is are all that it depends on within one comparison.
    """
    kinds = [known_by(ask.vehicle) for ask in asks]
    sigma = np.zeros((len(asks), len(weathers), len(FACTORS)))
    for kind in set(kinds):
        of_kind = [row for row, other in enumerate(kinds) if other == kind]
        for month, weather in enumerate(weathers):
            of = scatter(with_weather(asks[of_kind[0]], weather), values)
            sigma[of_kind, month] = [of[name] for name in FACTORS]
    return sigma


def known_by(vehicle: Vehicle) -> tuple[bool, bool]:
    """What the scatter of a car depends on: given by parts, and by nothing but its label."""
    guessed = vehicle.anchor is not None and vehicle.anchor.drag_guessed
    return isinstance(vehicle.road_load, BodyAndTyres), guessed


def after_the_day(tables: Scenarios, outcome: Outcome, trips: int) -> tuple[np.ndarray, np.ndarray]:
    """Charge when plugged in, and how much of the distance to empty has been driven, both a row each, 0 to 1.

    The first journey as marched; from there to the end of the drive to empty the stored energy goes evenly with the
    distance, and the charge follows from it through the open-circuit voltage. Within 0.025 of the marched day (tested);
    most where a day of two or three short trips ends before the pack is warm.
    """
    laps = np.maximum(outcome.total.distance_m / np.maximum(outcome.first.distance_m, 1.0), 1.0)
    beyond = np.clip((trips - 1) / np.maximum(laps - 1, 1e-9), 0.0, 1.0)
    charge = np.empty(len(laps))
    for row, car in enumerate(tables.car_of):
        volt = tables.cars.ocv_v[car]
        grid = np.linspace(0, 1, len(volt))
        stored = np.concatenate([[0.0], np.cumsum(0.5 * (volt[1:] + volt[:-1]))])
        upper, lower = np.interp([outcome.first_charge[row], outcome.states.charge[row]], grid, stored)
        charge[row] = np.interp(upper + beyond[row] * (lower - upper), stored, grid)
    return charge, np.clip(trips / laps, 0.0, 1.0)


def refills(
    tables: Scenarios, asks: list[Ask], weathers: tuple[Weather, ...], outcome: Outcome, charge_left: np.ndarray,
    driven_share: np.ndarray, values: Mapping[str, float],
) -> tuple[np.ndarray, np.ndarray]:  # fmt: skip
    """Time and socket energy of one refill to the starting charge, a row each; NaN where nothing can be charged.

    The pack has warmed over ambient in proportion to how much of the drive to empty the day was. What preheating on
    the wall took counts as socket energy.
    """
    fixed = (values["charger_conversion"], values["charger_fixed_w"])
    chargers = table(CHARGER, len(asks))
    for row, ask in enumerate(asks):
        if ask.circuit is not None and ask.vehicle.kind.plugs_in:
            chargers[row] = charger_row(ask.vehicle, ask.circuit, *fixed)
    ambient_k = tables.days.ambient_k[tables.day_of]
    pack_k = ambient_k + driven_share * (outcome.states.pack_k - ambient_k)
    filled = sessions(
        tables.cars[tables.car_of], tables.draws, chargers[tables.car_of], charge_left, asks[0].start.state_of_charge,
        ambient_k, pack_k,
    )  # fmt: skip
    plugged = np.array([ask.circuit is not None and ask.vehicle.kind.plugs_in for ask in asks])[tables.car_of]
    ends = plugged & (filled.ended != NO_POWER) & (filled.ended != TOO_LONG)
    into = np.where(filled.terminals_j > 0, filled.terminals_j, np.inf)
    wall_j = filled.wall_j + outcome.preheat_j * filled.wall_j / into
    return np.where(ends, filled.seconds, np.nan), np.where(ends, wall_j, np.nan)
