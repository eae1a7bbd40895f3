"""A commute through the year: on how many days it is driven on electricity, what it takes, costs and gives off.

Path     find the car behind a label → twelve mornings and afternoons → the days of every month driven one after the
         other (`commute_days`) → sums of a month over the cars → the same with one thing changed, typical car.
Counts   a day counts as electric where both drives end on electricity; days are counted for a car, and the band is over
         cars and drivers.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field, replace

import numpy as np

from service.catalogue import Catalogue
from service.charging.circuit import offered_power_w
from service.errors import BadInput
from service.quotes.answer import CAUSES, Assumption
from service.quotes.assume import Filling, complete
from service.quotes.calendar import MONTH_NAMES, Pattern
from service.quotes.car_and_days import day_normals
from service.quotes.commute_days import DaysDriven, Manner, Stage, Times, drive_year, stage_for
from service.quotes.commute_hours import MONTHS, day_scatter_k, moved
from service.quotes.label import anchored
from service.quotes.money import Factors, Money, Prices, complete_money
from service.quotes.notes import notes_for
from service.quotes.parking import Overnight
from service.quotes.scenarios import wants_preconditioning
from service.quotes.year import AIR, MonthRange, fuel_only, month_weathers, plugs_in_or_refused, ranges
from service.quotes.year_answer import Change, Commute, CommuteMonth, HardestDay, Night, Tally, Use
from service.specs import Ask, Circuit, Climate, Heating, Journey, Place, Weather
from service.trips.journey import trace_of
from service.trips.trace import Trace
from service.trips.track import one_after_the_other, turned

__all__ = ["CommuteAsk", "build_commute", "way_back"]

CARS = 16  # sampled beside the typical car
LONGEST_WAY_H = 4.0  # a bound on work, not on commuters
WALL_UNITS = {  # by region of data/circuits.csv: what an electrician usually puts in, common practice
    "north_america": "na-wall-unit-30a",
    "united_kingdom": "uk-wall-unit-32a",
    "continental_europe": "eu-three-phase-16a",
}
SLOWER = 0.9  # of the cruising speed
DAY_H, HOUR_S = 24.0, 3600.0
WHOLE_DAY = 0.5  # a change in days, or a share of the energy below, that is worth saying
WORTH_SAYING = 0.02
FIXED = (
    Assumption("days of a month", "each quantile of their scatter once", "", "one after the other, in a mixed order"),
    Assumption(
        "before driving back",
        "at the afternoon's temperature",
        "",
        "parked in the open since the morning: sun in the cabin is counted, warmth left in the battery is not",
    ),
)
GARAGE = Assumption(
    "in the garage", "half-way between outside and 15 °C", "", "an unheated garage beside a house: common practice"
)
ON_THE_WAY = Assumption(
    "what one charge does not reach", "charged on the way", "", "at the home price and the day's own consumption"
)
ON_FUEL = Assumption("the rest of a day", "on the engine", "", "the same for every kilometre; cold engines take more")


@dataclass(frozen=True, slots=True)
class CommuteAsk:
    """There and back. `ask.journey` is the way there; `ask.weather` gives the road's surface only."""

    ask: Ask
    place: Place
    leaves_home_hour: float = 7.5
    leaves_work_hour: float = 17.0
    overnight: Overnight = Overnight.OUTSIDE
    charges_at_work: bool = False
    work_circuit: Circuit | None = None  # None: one like that at home
    pattern: Pattern = field(default_factory=Pattern)
    prices: Prices = field(default_factory=Prices)
    factors: Factors = field(default_factory=Factors)


def way_back(journey: Journey) -> Journey:
    """The same road the other way round: slopes turn over; a cycle stays as it is."""
    if journey.cycle is not None:
        return journey
    if journey.track is not None:
        return Journey(track=turned(journey.track))
    return Journey(legs=tuple(replace(leg, grade=-leg.grade) for leg in reversed(journey.legs)))


def there_and_back(journey: Journey) -> Journey:
    """Both ways as one journey, for the range."""
    if journey.track is not None:
        return Journey(track=one_after_the_other(journey.track, turned(journey.track)))
    return journey if journey.cycle is not None else Journey(legs=journey.legs + way_back(journey).legs)


def build_commute(question: CommuteAsk, catalogue: Catalogue) -> Commute:
    """The year.

    Errors: `BadInput` for a car without a plug, times that leave no stay at work, a journey or id that does not exist,
    a label that contradicts the rest.
    """
    plugs_in_or_refused(question.ask)
    asked, relabelled = anchored(question.ask, catalogue)
    traces = trace_of(asked.journey, catalogue), trace_of(way_back(asked.journey), catalogue)
    times = times_of(question, traces)
    filling, surface = Filling(catalogue), asked.weather.surface
    weathers = tuple(
        month_weathers(question.place, hour, surface, filling)
        for hour in (question.leaves_home_hour, question.leaves_work_hour)
    )
    both = replace(asked, journey=there_and_back(asked.journey), weather=weathers[0][0], band=False)
    ask, assumptions = complete(both, catalogue, with_engine=False)
    weeks = filling.value(question.pattern.weeks_a_year, "weeks_a_year", "weeks driven in a year")
    money = complete_money(
        question.prices, question.factors, ask.vehicle.kind.has_engine, filling, question.place.country
    )
    values = {name: typical.value for name, typical in catalogue.typical.items()}
    scatter_k = [day_scatter_k(question.place, month, values) for month in range(MONTHS)]
    reach = ranges(ask, weathers[0], question.place, catalogue, values, refilled=False)
    stage = stage_for(ask, weathers, scatter_k, traces, times, CARS, catalogue, values)
    manner = manner_of(question, ask)
    driven = drive_year(stage, manner, values, CARS)
    days = [question.pattern.days_in(month, weeks) for month in range(MONTHS)]
    uses = uses_of(driven, stage, days)
    year = Tally.of(sum(uses[1:], uses[0]), money)
    changes = changes_for(stage, manner, stronger_circuit(driven, ask, catalogue))
    return Commute(
        ask=ask,
        place=question.place,
        one_way_m=traces[0].distance_m,
        back_m=traces[1].distance_m,
        months=months_told(ask, weathers, scatter_k, reach, uses, hardest_days(driven, stage), money),
        year=year,
        fuel_only=fuel_only(year, money),
        helps=helps_of(stage, changes, values, days, money, year),
        night=night_of(driven, times),
        money=money,
        assumptions=(
            *relabelled,
            *AIR,
            *FIXED,
            *((GARAGE,) if question.overnight is Overnight.GARAGE else ()),
            ON_FUEL if ask.vehicle.kind.has_engine else ON_THE_WAY,
            *dict.fromkeys((*filling.listed, *assumptions)),
        ),
        notes=notes_for(replace(ask, weather=min(weathers[0], key=lambda each: each.ambient_k))),
    )


def times_of(question: CommuteAsk, traces: tuple[Trace, Trace]) -> Times:
    """Hours at work and at home. A working day may pass midnight."""
    out_h, back_h = (trace.duration_s / HOUR_S for trace in traces)
    if max(out_h, back_h) > LONGEST_WAY_H:
        message = f"one way takes {max(out_h, back_h):.1f} h; a commute takes {LONGEST_WAY_H:g} h at most here"
        raise BadInput("journey", None, message, "give a shorter way, or ask for a year of the journey instead")
    away_h = (question.leaves_work_hour - question.leaves_home_hour) % DAY_H
    if away_h <= out_h or away_h + back_h >= DAY_H:
        raise BadInput(
            "leaves_work_hour",
            question.leaves_work_hour,
            f"the way there takes {out_h:.1f} h and the way back {back_h:.1f} h: no time is left at work or at home",
            "leave home earlier or work at another hour",
        )
    nights = tuple((DAY_H * gap - away_h - back_h) * HOUR_S for gap in question.pattern.sampled_gaps())
    return Times((away_h - out_h) * HOUR_S, nights)


def manner_of(question: CommuteAsk, ask: Ask) -> Manner:
    """How the year is driven, from the completed question."""
    return Manner(
        start_charge=ask.start.state_of_charge,
        precondition=wants_preconditioning(ask),
        overnight=question.overnight,
        circuit=ask.circuit,
        work_circuit=(question.work_circuit or ask.circuit) if question.charges_at_work else None,
    )


def uses_of(found: DaysDriven, stage: Stage, days: list[float]) -> list[Use]:
    """Sums of the months, car by car."""
    whole_m = sum(trace.distance_m for trace in stage.traces)
    missing_j = found.missing_j * (not stage.ask.vehicle.kind.has_engine)
    return [
        Use(
            days=days[month],
            distance_m=days[month] * whole_m,
            electric_days=days[month] * found.electric[month].mean(axis=-1),
            electric_m=days[month] * found.electric_m[month].mean(axis=-1),
            home_j=days[month] * (found.home_j[month] + missing_j[month]).mean(axis=-1),
            work_j=days[month] * found.work_j[month].mean(axis=-1),
        )
        for month in range(MONTHS)
    ]


def j_per_m(ledger: np.record, cause: str) -> float:
    """One cause of a day, J/m."""
    return float(ledger[f"{cause}_j"]) / max(float(ledger.distance_m), 1.0)


def hardest_days(found: DaysDriven, stage: Stage) -> list[HardestDay]:
    """Of each month, typical car. What makes it hard is told against the day of the year that takes least."""
    ledgers, whole_m = found.ledgers[:, 0], sum(trace.distance_m for trace in stage.traces)
    takes = ledgers.cells_j / np.maximum(ledgers.distance_m, 1.0)
    mildest = ledgers[np.unravel_index(takes.argmin(), takes.shape)]
    told = []
    for month in range(MONTHS):
        electric_m, left = found.electric_m[month, 0], found.charge_left[month, 0]
        left = np.where(found.electric[month, 0], left, electric_m / whole_m - 1)
        day = int(left.argmin())
        ledger = ledgers[month, day]
        more = {cause: j_per_m(ledger, cause) - j_per_m(mildest, cause) for cause in CAUSES}
        cause = max(more, key=more.__getitem__)
        electric = bool(found.electric[month, 0, day])
        told.append(
            HardestDay(
                out_k=float(stage.days.ambient_k[month, day, 0]),
                back_k=float(stage.days.ambient_k[month, day, 1]),
                electric=electric,
                short_m=0.0 if electric else float(whole_m - found.electric_m[month, 0, day]),
                morning_charge=float(found.morning_charge[month, 0, day]),
                charge_left=float(found.charge_left[month, 0, day]),
                cause=cause if more[cause] > 0 else "",
                cause_j_per_m=max(more[cause], 0.0),
                too_weak=bool(found.too_weak[month, 0, day]),
            )
        )
    return told


def months_told(
    ask: Ask,
    weathers: tuple[tuple[Weather, ...], ...],
    scatter_k: list[float],
    reach: list[MonthRange],
    uses: list[Use],
    hardest: list[HardestDay],
    money: Money,
) -> tuple[CommuteMonth, ...]:
    """Twelve lines."""
    return tuple(
        CommuteMonth(
            name=MONTH_NAMES[month],
            out=weathers[0][month],
            back=weathers[1][month],
            range_m=reach[month].band,
            tally=Tally.of(uses[month], money),
            hardest=hardest[month],
            heat_days=uses[month].days * heat_share(ask, weathers[0][month], scatter_k[month]),
        )
        for month in range(MONTHS)
    )


def heat_share(ask: Ask, morning: Weather, scatter_k: float) -> float:
    """Share of mornings on which a cabin that only the engine heats asks for heat; 0 for every other car."""
    if ask.vehicle.heating is not Heating.ENGINE or ask.cabin.climate is not Climate.AUTO:
        return 0.0
    colder = [moved(morning, scatter_k * z).ambient_k < ask.cabin.set_point_k for z in day_normals(16)]
    return sum(colder) / len(colder)


def helps_of(
    stage: Stage,
    changes: list[tuple[str, str, Manner]],
    values: Mapping[str, float],
    days: list[float],
    money: Money,
    year: Tally,
) -> tuple[Change, ...]:
    """The year of the typical car with one thing changed, where it gains a day or saves money or fuel to speak of."""
    told = []
    for id_, sentence, changed in changes:
        uses = uses_of(drive_year(stage, changed, values, 0), stage, days)
        tally = Tally.of(sum(uses[1:], uses[0]), money)
        change = Change(
            id_,
            sentence,
            tally.electric_days.p50 - year.electric_days.p50,
            tally.wall_j.p50 - year.wall_j.p50,
            tally.cost.p50 - year.cost.p50,
        )
        cheaper = change.cost <= -WORTH_SAYING * year.cost.p50
        less_fuel = tally.fuel_m3.p50 - year.fuel_m3.p50 < -WORTH_SAYING * year.fuel_m3.p50
        if change.electric_days >= WHOLE_DAY or cheaper or less_fuel:
            told.append(change)
    return tuple(sorted(told, key=lambda each: (-each.electric_days, each.cost)))


def changes_for(stage: Stage, manner: Manner, stronger: Circuit | None) -> list[tuple[str, str, Manner]]:
    """What a commuter can change."""
    ask, changes = stage.ask, []
    if stronger is not None:
        name = stronger.name.removesuffix(" (reference)")
        changes.append(("circuit", f"A stronger circuit at home ({name})", replace(manner, circuit=stronger)))
    if manner.work_circuit is None:
        at_work = replace(manner, work_circuit=manner.circuit)
        changes.append(("charges_at_work", "Charging at work, on a circuit like that at home", at_work))
    heated = ask.cabin.climate is Climate.AUTO and ask.vehicle.heating is not Heating.ENGINE
    if heated and not manner.precondition:
        ready = replace(manner, precondition=True)
        changes.append(("preconditioned", "Readying the cabin while still plugged in", ready))
    if manner.overnight is Overnight.OUTSIDE:
        garage = replace(manner, overnight=Overnight.GARAGE)
        changes.append(("garage", "An unheated garage at night", garage))
    changes.append(("speed", "Driving ten per cent slower", replace(manner, slower=SLOWER)))
    return changes


def stronger_circuit(found: DaysDriven, ask: Ask, catalogue: Catalogue) -> Circuit | None:
    """The usual wall unit of the region, where some night is too short for the circuit asked for; else None."""
    unit = WALL_UNITS.get(ask.circuit.region)
    if unit is None or not found.night_short[:, 0].any():
        return None
    stronger = catalogue.circuit(unit)
    return stronger if offered_power_w(stronger) > offered_power_w(ask.circuit) else None


def night_of(found: DaysDriven, times: Times) -> Night:
    """The month whose nights are hardest on the home socket, typical car; the night is the shortest of a week."""
    seconds = found.night_s[:, 0].max(axis=1)
    worst = int(seconds.argmax())
    short = float(found.night_short[:, 0].mean())
    return Night(MONTH_NAMES[worst], float(seconds[worst]), min(times.nights_s), short)
