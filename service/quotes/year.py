"""A journey through the year: its range, energy and cost in each of the twelve months of a place.

Path     find the car behind a label → complete car and months → cars × days of every month through one call of the
         march, to empty → refills → sums of a month, over the cars.
Middle   a month's middle range is the single quote at its mean temperature; its ends are over sampled cars on sampled
         days, warm and cold ones of that month.
"""

from collections.abc import Mapping
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass, field, replace

import numpy as np

from service.catalogue import Catalogue
from service.charging import charger_row, sessions
from service.errors import BadInput
from service.physics.laps import DISTANCE_LIMIT, FURTHEST_M
from service.physics.tables import central_draw, start_state
from service.quotes.answer import Assumption, Band
from service.quotes.assume import Filling, complete, complete_weather
from service.quotes.band import band_of
from service.quotes.build import over
from service.quotes.calendar import MONTH_NAMES, Pattern
from service.quotes.car_and_days import crossed_draws, day_normals
from service.quotes.commute_hours import MONTHS, day_scatter_k, moved, weather_at
from service.quotes.label import anchored
from service.quotes.money import Factors, Money, Prices, complete_money
from service.quotes.notes import notes_for
from service.quotes.scenarios import FULL_CHARGE, Outcome, Scenarios, rows_for, run, wants_preconditioning
from service.quotes.year_answer import FuelOnly, Tally, Use, Year, YearMonth
from service.specs import Ask, Place, Procedure, Weather
from service.trips.journey import trace_of

__all__ = ["AIR", "MonthRange", "YearAsk", "build_year", "fuel_only", "month_weathers", "plugs_in_or_refused", "ranges"]

CARS, DAYS = 12, 8  # sampled beside the typical car and its mean day
WORKERS = 2  # threads: the march releases the interpreter's lock
AIR = (
    Assumption(
        "temperature by the clock",
        "half cosines, sunrise to 14 h",
        "",
        "between the month's mean daily minimum and maximum: shape of de Wit and others 1978, from memory; within "
        "3.2 K of two typical years at 7-8 h and 17-18 h, too cold in the morning and too warm in the evening",
    ),
    Assumption("clock", "solar time", "", "a time zone's offset and summer time are not known: common practice"),
)


@dataclass(frozen=True, slots=True)
class YearAsk:
    """A journey driven so many times a day. `ask.weather` gives the road's surface; its temperature is not used."""

    ask: Ask
    place: Place
    hour: float = 8.0
    trips_per_day: int = 1
    pattern: Pattern = field(default_factory=Pattern)
    prices: Prices = field(default_factory=Prices)
    factors: Factors = field(default_factory=Factors)


@dataclass(frozen=True, eq=False, slots=True)
class MonthRange:
    """Distances to empty of a month: central quote, and cars × days with car 0 the typical one, shape (1 + cars, days).

    `wall_j_per_m` is socket energy for each metre, same shape; empty where it was not asked for.
    """

    central_m: float
    range_m: np.ndarray
    wall_j_per_m: np.ndarray

    @property
    def band(self) -> Band:
        """Sampled cars on sampled days around the single quote."""
        return band_of(self.central_m, self.range_m[1:].ravel())


def build_year(question: YearAsk, catalogue: Catalogue) -> Year:
    """Twelve months of a journey.

    Errors: `BadInput` for a car without a plug, a journey or id that does not exist, a label that contradicts the rest.
    """
    plugs_in_or_refused(question.ask)
    ask, relabelled = anchored(question.ask, catalogue)
    filling = Filling(catalogue)
    weathers = month_weathers(question.place, question.hour, ask.weather.surface, filling)
    ask, assumptions = complete(replace(ask, weather=weathers[0], band=False), catalogue, with_engine=False)
    weeks = filling.value(question.pattern.weeks_a_year, "weeks_a_year", "weeks driven in a year")
    money = complete_money(
        question.prices, question.factors, ask.vehicle.kind.has_engine, filling, question.place.country
    )
    values = {name: typical.value for name, typical in catalogue.typical.items()}
    found = ranges(ask, weathers, question.place, catalogue, values, refilled=True)
    needed_m = question.trips_per_day * trace_of(ask.journey, catalogue).distance_m
    days = [question.pattern.days_in(month, weeks) for month in range(MONTHS)]
    uses = [month_use(each, needed_m, days[month], ask) for month, each in enumerate(found)]
    year = Tally.of(sum(uses[1:], uses[0]), money)
    return Year(
        ask=ask,
        place=question.place,
        hour=question.hour,
        needed_m=needed_m,
        months=tuple(
            YearMonth(MONTH_NAMES[m], weathers[m], found[m].band, Tally.of(uses[m], money)) for m in range(MONTHS)
        ),
        year=year,
        fuel_only=fuel_only(year, money),
        money=money,
        assumptions=(*relabelled, *AIR, *dict.fromkeys((*filling.listed, *assumptions))),
        notes=notes_for(replace(ask, weather=min(weathers, key=lambda each: each.ambient_k))),
    )


def plugs_in_or_refused(ask: Ask) -> None:
    """A year is counted from full every morning; a car without an inlet never is."""
    if not ask.vehicle.kind.plugs_in:
        own = ask.vehicle.id == "own"
        raise BadInput(
            "vehicle.spec.kind" if own else "vehicle.id",
            str(ask.vehicle.kind) if own else ask.vehicle.id,
            "it has no plug, so every kilometre comes from fuel and no day is electric",
            "choose a car that plugs in, or ask for one drive of this one: that tells its fuel",
        )


def month_weathers(place: Place, hour: float, surface: str, filling: Filling) -> tuple[Weather, ...]:
    """Twelve mean days at an hour, completed; what filled gaps is listed, and how far single days lie about them."""
    filling.value(None, "day_scatter_cold_k", "scatter of days, cold months")
    filling.value(None, "day_scatter_warm_k", "scatter of days, warm months")
    usual = filling.catalogue.typical_entry("clear_share").value
    if any(sun is None for sun in place.sun_j_m2_day):
        filling.value(None, "clear_share", "sun over a clear sky's")
    days = (weather_at(place, month, hour, usual, surface) for month in range(MONTHS))
    return tuple(complete_weather(day, Procedure.ROAD, filling) for day in days)


def ranges(
    ask: Ask,
    weathers: tuple[Weather, ...],
    place: Place,
    catalogue: Catalogue,
    values: Mapping[str, float],
    refilled: bool,
) -> list[MonthRange]:
    """Distance to empty in every month.

    Args:
        ask: completed.
        refilled: work out socket energy, too.
    """

    def solved(month: int) -> MonthRange:
        asked = replace(ask, weather=weathers[month])
        return one_month(asked, day_scatter_k(place, month, values), catalogue, values, refilled)

    with ThreadPoolExecutor(WORKERS) as pool:
        return list(pool.map(solved, range(MONTHS)))


def one_month(
    ask: Ask, scatter_k: float, catalogue: Catalogue, values: Mapping[str, float], refilled: bool
) -> MonthRange:
    """Cars × days of one month to empty; the first row is the single quote's central one."""
    weathers = [ask.weather, *(moved(ask.weather, scatter_k * z) for z in day_normals(DAYS))]
    pairs = [rows_for(replace(ask, weather=weather), catalogue, values) for weather in weathers]
    days = np.concatenate([day for _, day in pairs]).view(np.recarray)
    draws = np.concatenate([central_draw(), crossed_draws(ask, values, CARS, DAYS).ravel()]).view(np.recarray)
    rows = len(draws)
    day_of = np.concatenate([[0], np.tile(np.arange(1, 1 + DAYS), 1 + CARS)])
    states = np.concatenate([start_state(ask.start, pairs[0][0][0], day) for day in days])[day_of].view(np.recarray)
    scenarios = Scenarios(
        cars=pairs[0][0],
        days=days,
        draws=draws,
        car_of=np.zeros(rows, int),
        day_of=day_of,
        draw_of=np.arange(rows),
        states=states,
        precondition=np.full(rows, wants_preconditioning(ask)),
        asks=(ask,),
        sampled=0,
    )
    outcome = run(scenarios, ask, catalogue)
    range_m = np.where(outcome.ended == DISTANCE_LIMIT, FURTHEST_M, outcome.total.distance_m)
    wall = np.zeros(0)
    if refilled:
        charger = charger_row(ask.vehicle, ask.circuit, values["charger_conversion"], values["charger_fixed_w"])
        ambient_k = days.ambient_k[day_of]
        end = outcome.states
        filling = sessions(scenarios.cars, draws, charger, end.charge, FULL_CHARGE, ambient_k, end.pack_k)
        wall = wall_j_per_m(outcome, filling)[1:].reshape(1 + CARS, DAYS)
    return MonthRange(float(range_m[0]), range_m[1:].reshape(1 + CARS, DAYS), wall)


def wall_j_per_m(outcome: Outcome, filling: np.recarray) -> np.ndarray:
    """Socket energy for each metre driven, a row a scenario, as a quote tells it; zero where nothing is charged."""
    if filling.cells_j[0] <= 0:
        return np.zeros(len(filling))
    wall_j = outcome.total.cells_j * over(filling.wall_j, filling.cells_j)
    wall_j = wall_j + outcome.preheat_j * over(filling.wall_j, filling.terminals_j)
    return wall_j / np.maximum(outcome.total.distance_m, 1.0)


def month_use(found: MonthRange, needed_m: float, days: float, ask: Ask) -> Use:
    """A month's sums, car by car. A car without an engine charges on the way what it lacks, at the same rates."""
    reached_m = np.minimum(found.range_m, needed_m)
    plugged_m = reached_m if ask.vehicle.kind.has_engine else np.full_like(reached_m, needed_m)
    wall_j = days * (found.wall_j_per_m * plugged_m).mean(axis=1)
    return Use(
        days=days,
        distance_m=days * needed_m,
        electric_days=days * (found.range_m >= needed_m).mean(axis=1),
        electric_m=days * reached_m.mean(axis=1),
        home_j=wall_j,
        work_j=np.zeros_like(wall_j),
    )


def fuel_only(year: Tally, money: Money) -> FuelOnly | None:
    """The same distance on the engine; None for a car without one."""
    if money.fuel_m3_per_m <= 0:
        return None
    none, distance_m = np.zeros(1), np.array([year.distance_m])
    return FuelOnly(
        fuel_m3=year.distance_m * money.fuel_m3_per_m,
        cost=float(money.cost(none, none, distance_m)[0]),
        co2_kg=float(money.co2_kg(none, distance_m)[0]),
    )
