"""The days of twelve months one after the other: out, parked, back, the night; for the typical car and sampled ones.

Scope    a month is as many whole weeks as it takes to see its weather, days in a fixed mixed order; it begins charged.
         Whatever a night does not refill is missing in the morning, and a weekend makes up for it.
Shape    row m·C + c of a table is car c in month m; each day is one call of the march out and one back.
Soak     the car leaves home soaked to its night place and leaves work soaked to the afternoon's air; where it stood
         outside, the sun of that hour has warmed its cabin. It is readied on the wall where that is wanted and there is
         a plug.
"""

from collections.abc import Mapping
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass, fields, replace

import numpy as np

from service.catalogue import Catalogue
from service.charging import charger_row
from service.physics.cabin import parked_in_sun_k
from service.physics.march import COMPLETED
from service.physics.rows import LEDGER, STATE, table
from service.physics.tables import start_state
from service.quotes.build import KEPT_UP
from service.quotes.car_and_days import crossed_draws, day_normals
from service.quotes.commute_hours import MONTHS, moved
from service.quotes.drives import Driven, Joined, drive_once
from service.quotes.parking import Charged, Overnight, charged_within, rest_k
from service.quotes.scenarios import rows_for
from service.specs import Ask, Circuit, Weather
from service.trips.trace import Trace

__all__ = ["DaysDriven", "Manner", "Stage", "Times", "drive_days", "drive_year", "stage_for"]

OUT, BACK = 0, 1
HALVES = (range(MONTHS // 2), range(MONTHS // 2, MONTHS))
EMPTY_BELOW = 0.02  # a drive that ends above it did not end for want of charge: own choice


@dataclass(frozen=True, slots=True)
class Times:
    """When the car stands: at work on each day, and at home from each day to the next driving day."""

    at_work_s: float
    nights_s: tuple[float, ...]


@dataclass(frozen=True, eq=False, slots=True)
class Stage:
    """What every way of driving the year shares: the car, its days by month, and the draws.

    days: (months, days, 2) rows of `rows.DAY`; draws: (months, 1 + cars, days) rows of `rows.DRAW`.
    """

    ask: Ask
    car: np.recarray
    days: np.recarray
    draws: np.recarray
    traces: tuple[Trace, Trace]
    times: Times


@dataclass(frozen=True, slots=True)
class Manner:
    """How the year is driven. `slower`: a factor on cruising speed."""

    start_charge: float
    precondition: bool
    overnight: Overnight
    circuit: Circuit
    work_circuit: Circuit | None  # None: no charging there
    slower: float = 1.0


@dataclass(frozen=True, eq=False, slots=True)
class DaysDriven:
    """What the days gave, arrays of shape (months, cars, days)."""

    electric: np.ndarray  # both drives without the engine or a charge on the way
    electric_m: np.ndarray
    home_j: np.ndarray  # at the socket, preheating included
    work_j: np.ndarray
    missing_j: np.ndarray  # that the rest of the way would take at the socket
    morning_charge: np.ndarray  # at leaving home
    charge_left: np.ndarray  # at home again, before plugging in
    too_weak: np.ndarray
    night_s: np.ndarray  # that a whole refill would take
    night_short: np.ndarray  # it was cut short by the morning
    ledgers: np.recarray  # out and back together


def stage_for(
    ask: Ask,
    weathers: tuple[tuple[Weather, ...], tuple[Weather, ...]],
    scatter_k: list[float],
    traces: tuple[Trace, Trace],
    times: Times,
    cars: int,
    catalogue: Catalogue,
    values: Mapping[str, float],
) -> Stage:
    """Tables of a completed question.

    Args:
        weathers: twelve mornings and twelve afternoons, completed.
        scatter_k: of each month's days; an afternoon is as far from its mean as its morning.
        cars: sampled beside the typical one.
    """
    normal = day_normals(len(times.nights_s))
    days = [
        rows_for(replace(ask, weather=moved(weathers[way][month], scatter_k[month] * z)), catalogue, values)[1]
        for month in range(MONTHS)
        for z in normal
        for way in (OUT, BACK)
    ]
    draws = [
        crossed_draws(replace(ask, weather=weathers[OUT][month]), values, cars, len(normal)) for month in range(MONTHS)
    ]
    return Stage(
        ask=ask,
        car=rows_for(ask, catalogue, values)[0],
        days=np.concatenate(days).reshape(MONTHS, len(normal), 2).view(np.recarray),
        draws=np.stack(draws).view(np.recarray),
        traces=traces,
        times=times,
    )


def drive_year(stage: Stage, manner: Manner, values: Mapping[str, float], cars: int) -> DaysDriven:
    """All twelve months, half of them in each of two threads: the march releases the interpreter's lock."""
    with ThreadPoolExecutor(len(HALVES)) as pool:
        found = list(pool.map(lambda months: drive_days(stage, manner, values, cars, months), HALVES))
    columns = {each.name: np.concatenate([getattr(half, each.name) for half in found]) for each in fields(DaysDriven)}
    return DaysDriven(**(columns | {"ledgers": columns["ledgers"].view(np.recarray)}))


def drive_days(stage: Stage, manner: Manner, values: Mapping[str, float], cars: int, months: range) -> DaysDriven:
    """Drive the days of some months, the typical car and the first `cars` sampled ones."""
    draws = stage.draws[months.start : months.stop, : 1 + cars].copy().view(np.recarray)
    draws.speed *= manner.slower
    shape = draws.shape
    charge = np.full(shape[0] * shape[1], manner.start_charge)
    found = [
        _one_day(stage, manner, values, draws[:, :, day].ravel().view(np.recarray), day, months, charge)
        for day in range(shape[2])
    ]
    columns = {name: np.stack([each[name] for each in found], axis=-1).reshape(shape) for name in found[0]}
    return DaysDriven(**(columns | {"ledgers": columns["ledgers"].view(np.recarray)}))


def _one_day(
    stage: Stage,
    manner: Manner,
    values: Mapping[str, float],
    draws: np.recarray,
    day: int,
    months: range,
    charge: np.ndarray,
) -> dict[str, np.ndarray]:
    """One day of every month and car; writes the next morning's `charge`."""
    ways = [_joined(stage, draws, months, day, way) for way in (OUT, BACK)]
    morning, night_s = charge.copy(), stage.times.nights_s[day]
    states = _parked(stage, ways[OUT], manner.overnight, morning)
    out = drive_once(ways[OUT], stage.traces[OUT], states, manner.precondition)
    at_work = _plugged(
        stage, manner, manner.work_circuit, values, ways[OUT], states, stage.times.at_work_s, Overnight.OUTSIDE
    )
    states = _parked(stage, ways[BACK], Overnight.OUTSIDE, at_work.charge)
    back = drive_once(ways[BACK], stage.traces[BACK], states, manner.precondition and manner.work_circuit is not None)
    charge_left = states.charge.copy()
    night = _plugged(stage, manner, manner.circuit, values, ways[BACK], states, night_s, manner.overnight)
    charge[:] = night.charge
    home_j = night.wall_j + out.preheat_j * _socket_share(night, values)
    work_j = at_work.wall_j + back.preheat_j * _socket_share(at_work, values)
    told = _told(stage, out, back, home_j, work_j, charge_left)
    return told | {"morning_charge": morning, "night_s": night.seconds, "night_short": night.seconds > night_s}


def _joined(stage: Stage, draws: np.recarray, months: range, day: int, way: int) -> Joined:
    """Every car in every month's air of that day, on its way there or back."""
    rows = np.arange(len(draws))
    days = stage.days[months.start : months.stop, day, way].copy().view(np.recarray)
    return Joined(stage.car, days, draws, np.zeros_like(rows), rows // (len(draws) // len(months)), rows)


def _air_k(joined: Joined) -> np.ndarray:
    """Temperature outside, a value a row."""
    return joined.days.ambient_k[joined.day_of]


def _parked(stage: Stage, joined: Joined, overnight: Overnight, charge: np.ndarray) -> np.recarray:
    """States of cars soaked all over to where they stood, with this charge; the sun reaches those outside."""
    states, car = table(STATE, len(joined.days)), stage.car[0]
    for row, day in enumerate(joined.days):
        states[row] = start_state(stage.ask.start, car, day)[0]
        warm_k = rest_k(float(day.ambient_k), overnight)
        cabin_k = warm_k, warm_k
        if overnight is Overnight.OUTSIDE:
            cabin_k = parked_in_sun_k(car, day.ambient_k, day.sun_w_m2, day.wind_m_s)
        states[row].pack_k, (states[row].cabin_air_k, states[row].cabin_interior_k) = warm_k, cabin_k
        states[row].tyre_rise_k = warm_k - day.ambient_k
    states = states[joined.day_of].view(np.recarray)
    states.charge = charge
    return states


def _plugged(
    stage: Stage,
    manner: Manner,
    circuit: Circuit | None,
    values: Mapping[str, float],
    joined: Joined,
    states: np.recarray,
    seconds: float,
    where: Overnight,
) -> Charged:
    """What a stay of so many seconds refills, in the air of the drive before it; nothing without a circuit."""
    charge = np.maximum(states.charge, 0.0)
    if circuit is None:
        return Charged(charge, *np.zeros((3, len(charge))))
    fixed = (values["charger_conversion"], values["charger_fixed_w"])
    charger = charger_row(stage.ask.vehicle, circuit, *fixed)
    around_k = np.array([rest_k(kelvin, where) for kelvin in _air_k(joined)])
    to = manner.start_charge
    return charged_within(stage.car, joined.draws, charger, charge, to, around_k, states.pack_k.copy(), seconds)


def _socket_share(charged: Charged, values: Mapping[str, float]) -> np.ndarray:
    """Joules at the socket for one at the pack's terminals; the charger's own where nothing was charged."""
    some = charged.terminals_j > 0
    share = charged.wall_j / np.where(some, charged.terminals_j, 1.0)
    return np.where(some, share, 1 / values["charger_conversion"])


def _told(
    stage: Stage,
    out: Driven,
    back: Driven,
    home_j: np.ndarray,
    work_j: np.ndarray,
    charge_left: np.ndarray,
) -> dict[str, np.ndarray]:
    """The day's columns."""
    whole_m = sum(trace.distance_m for trace in stage.traces)
    ledgers = table(LEDGER, len(home_j))
    for name in LEDGER.names:
        ledgers[name] = out.ledgers[name] + back.ledgers[name]
    held = np.ones(len(home_j), bool)
    done = np.ones(len(home_j), bool)
    for drive, trace in ((out, stage.traces[OUT]), (back, stage.traces[BACK])):
        completed = drive.ended == COMPLETED
        done &= completed
        held &= ~completed | (drive.ledgers.distance_m >= KEPT_UP * trace.distance_m)
    electric = done & held
    electric_m = np.where(electric, whole_m, np.minimum(ledgers.distance_m, whole_m))
    per_m = (home_j + work_j) / np.maximum(ledgers.distance_m, 1.0)
    return {
        "electric": electric,
        "electric_m": electric_m,
        "home_j": home_j,
        "work_j": work_j,
        "missing_j": per_m * (whole_m - electric_m),
        "charge_left": charge_left,
        "too_weak": ~electric & (~held | (charge_left > EMPTY_BELOW)),
        "ledgers": ledgers,
    }
