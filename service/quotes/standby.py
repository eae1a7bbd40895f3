"""How long a pack lasts with the car ready and not moving.

Method   the 12 V consumers and the cabin at its set point, at standstill, until the charge is at the car's own
         low-charge trigger where that is known, else at the end of the usable window; the band's draws as in a quote.
Scope    heating and cooling by electricity. A car that heats with its engine starts it: then it is fuel that counts.
Source   a power-split hybrid does not charge its high-voltage battery in neutral, even with the engine running: answers
         of a maker to owners, and the manuals of most such cars, from memory.
"""

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from service.catalogue import Catalogue
from service.physics.lasting import LONGEST_S, stand_rows
from service.physics.precondition import warm_on_the_wall_j
from service.physics.rows import DRAW
from service.physics.tables import central_draw, start_state
from service.quotes.answer import Assumption, Band
from service.quotes.assume import complete
from service.quotes.band import band_of, draws_for
from service.quotes.electric_side import layout_of
from service.quotes.label import anchored
from service.quotes.scenarios import rows_for, wants_preconditioning
from service.specs import Ask, Climate, Heating, Layout

__all__ = ["ENDS", "Standby", "build_standby", "cautions_for"]

BY_FLOOR, BY_TRIGGER, BY_TIME, AT_ONCE = "empty", "low_charge_trigger", "longer_than_told", "already_there"
ENDS = (BY_FLOOR, BY_TRIGGER, BY_TIME, AT_ONCE)
ASKED_S = 1800.0  # half an hour, where no time is asked for
ON_THIS = ("12 V consumers", "humidity", "sun", "cabin", "heat pump", "cells", "cell", "pack")  # assumptions that count


@dataclass(frozen=True, slots=True)
class Standby:
    """The answer, in SI."""

    ask: Ask
    seconds: Band
    ended_by: str
    floor: float
    cells_j: Band  # drawn until then
    holding_w: Band  # at the terminals, once the cabin has settled
    climate_w: float  # of that for heating and cooling, typical car
    asked_s: float
    charge_after: Band  # at that time; the floor if it does not last
    lasts: bool  # nine days in ten, that long
    engine_heats: bool
    assumptions: tuple[Assumption, ...]
    notes: tuple[str, ...]
    cautions: tuple[str, ...]


def build_standby(ask: Ask, catalogue: Catalogue, asked_s: float | None = None) -> Standby:
    """How long the car may stand ready on its battery.

    Args:
        ask: gaps allowed; its journey and circuit do not matter.
        asked_s: a time whose charge is told; None: half an hour.
    Errors: as `build_quote`.
    """
    ask, _ = anchored(ask, catalogue)
    ask, assumptions = complete(ask, catalogue, with_engine=False)
    values = {name: typical.value for name, typical in catalogue.typical.items()}
    until_s = ASKED_S if asked_s is None else asked_s
    floor, ended_by = floor_of(ask)
    rows, charge_at_start = stood(ask, catalogue, values, floor, until_s), ask.start.state_of_charge
    if charge_at_start <= floor:
        ended_by = AT_ONCE
    elif rows.seconds[0] >= LONGEST_S:
        ended_by = BY_TIME
    seconds = bands(rows.seconds)
    return Standby(
        ask=ask,
        seconds=seconds,
        ended_by=ended_by,
        floor=floor,
        cells_j=bands(rows.cells_j),
        holding_w=bands(rows.holding_w),
        climate_w=float(rows.climate_w[0]),
        asked_s=until_s,
        charge_after=bands(rows.charge_at),
        lasts=(seconds.p50 if seconds.p10 is None else seconds.p10) >= until_s,
        engine_heats=engine_heats(ask),
        assumptions=tuple(each for each in assumptions if any(word in each.name for word in ON_THIS)),
        notes=notes_on(ask, ended_by),
        cautions=cautions_for(ask),
    )


def bands(column: np.ndarray) -> Band:
    """A column of central row and draws as a band."""
    return band_of(column[0], column[1:])


def floor_of(ask: Ask) -> tuple[float, str]:
    """Charge at which it ends, and why there."""
    triggers = ask.vehicle.triggers
    low = triggers.low_charge if triggers else None
    if not ask.vehicle.kind.has_engine or not low:
        return 0.0, BY_FLOOR
    return low, BY_TRIGGER


def stood(ask: Ask, catalogue: Catalogue, values: Mapping[str, float], floor: float, asked_s: float) -> np.recarray:
    """Central row and draws, ready until the floor."""
    cars, days = rows_for(ask, catalogue, values)
    sampled = draws_for(ask, values) if ask.band else np.zeros(0, DRAW)
    draws = np.concatenate([central_draw(), sampled]).view(np.recarray)
    states = start_state(ask.start, cars[0], days[0], len(draws))
    if wants_preconditioning(ask):
        for draw, state in zip(draws, states, strict=True):
            warm_on_the_wall_j(cars[0], days[0], draw, state)
    return stand_rows(cars[0], days[0], draws, states, floor, asked_s)


def engine_heats(ask: Ask) -> bool:
    """True where the day asks for heat that only the engine gives."""
    cold = ask.weather.ambient_k < ask.cabin.set_point_k
    return ask.cabin.climate is Climate.AUTO and cold and ask.vehicle.heating is Heating.ENGINE


def notes_on(ask: Ask, ended_by: str) -> tuple[str, ...]:
    """What has to be said beside the figures."""
    notes = []
    if engine_heats(ask):
        notes.append("This car heats with its engine, which will start; the hours hold with an unheated cabin.")
    if ended_by == BY_TIME:
        notes.append("It lasts longer than 1 000 hours; the car will have switched itself off long before.")
    if ask.vehicle.kind.has_engine and ended_by == BY_FLOOR:
        notes.append("At what charge this car starts its engine is not known; it will be before the battery is empty.")
    if ask.vehicle.kind.has_engine:
        notes.append("Then the engine starts by itself, in park or in drive, and charges; in neutral it may not.")
    notes.append("Many cars switch themselves off after some time; the handbook says.")
    return tuple(notes)


def cautions_for(ask: Ask) -> tuple[str, ...]:
    """What a person must know before leaving a car ready; nothing here is a promise."""
    cautions = []
    vehicle = ask.vehicle
    if vehicle.kind.has_engine:
        if layout_of(vehicle) is Layout.POWER_SPLIT:
            cautions.append(
                "A power-split hybrid does not charge its high-voltage battery in neutral, even with the engine "
                "running: leave it in park, or in drive with the brake on, not in neutral."
            )
        elif vehicle.layout is None:
            cautions.append(
                "If this car has a power split, it does not charge its high-voltage battery in neutral, even with the "
                "engine running: leave it in park, or in drive with the brake on, not in neutral."
            )
        cautions.append("Never run it in a closed garage: the engine may start by itself, and its exhaust kills.")
    cautions.append(
        "The handbook rules. A car that is ready may move: park, parking brake on, nobody left alone in it."
    )
    cautions.append("Estimates only: none of these hours is a promise.")
    return tuple(cautions)
