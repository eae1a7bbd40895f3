"""What the engine does in a quote: the four distances, each start with its reason and advice, fuel, electric share.

Distances  to first fuel (all-electric range); to the charge-sustaining level (actual charge-depleting range, R_CDA);
           whole cycles up to the transition cycle (R_CDC); equivalent all-electric range.
EAER       (M_CS − M_CD,avg)/M_CS·R_CDC, UN R154 annex B8 § 4.4.4 from memory. With M_CD,avg·R_CDC = fuel burnt while
           depleting + (R_CDC − R_CDA)·M_CS it is R_CDA − fuel while depleting/M_CS.
Fuel       the model's, times official over modelled charge-sustaining consumption where the former is known.
"""

from functools import lru_cache

import numpy as np

from service.catalogue import Catalogue
from service.constants import DIESEL_J_M3, PETROL_J_M3
from service.physics.laps import DISTANCE_LIMIT
from service.physics.march import COMPLETED, EVENT_KINDS, march_one
from service.physics.rows import EVENT, LEDGER, RECORD, START, table
from service.physics.tables import central_draw, start_state
from service.physics.triggers import TRIGGERS
from service.quotes.answer import Band, Distances, EngineAnswer, EngineStart
from service.quotes.assume import complete, speaks_us
from service.quotes.band import band_of
from service.quotes.scenarios import Outcome, Scenarios, rows_for
from service.specs import Ask, Cabin, Climate, Fuel, Heating, Journey, Kind, Procedure, Start, Vehicle, Weather
from service.trips.journey import trace_of

__all__ = [
    "advice_for",
    "burns_no_fuel",
    "electric_m",
    "engine_answer",
    "fuel_j_m3",
    "sustaining_j_m",
]

A_HAIR = 1e-9  # of a cycle: rounding
US_PARTS, US_ADJUSTMENT = (("udds", 0.55), ("hwfet", 0.45)), 0.7  # 40 CFR 600.210-12
WLTP_PARTS = (("wltc_class3b", 1.0),)
TEST_K = 296.15  # 23 °C, UN R154; within the 20–30 °C of 40 CFR 1066
ADVICE = {  # trigger: avoidable by the driver, and how
    "charge_mode": (True, "Choose electric priority instead of holding or making charge."),
    "fuel_age": (True, "Drive the old fuel out, or refuel as the handbook says."),
    "upkeep": (True, "Let the engine run warm once every few weeks, when it suits you."),
    "low_charge": (True, "Charge before the drive or on the way."),
    "cold_pack": (True, "Park out of the cold, or leave it plugged in until you go."),
    "hot_pack": (False, "Park in the shade; otherwise the car needs it to spare its battery."),
    "cabin_heat": (True, "Warm the cabin on the plug, use seat heat, or keep the heater off."),
    "defrost": (True, "Clear the windscreen on the plug, and switch defrost off once it is clear."),
    "speed": (True, "Stay below the speed at which the engine joins in."),
    "power": (True, "Ask for less at once: gentler pedal, longer gaps, less load."),
    "full_pack": (True, "Leave room in the battery before a long descent; this run burns no fuel."),
}
HEAT_BY_ENGINE = {  # instead, where the plug warms nothing
    "cabin_heat": (True, "Use seat heat, or keep the heater off."),
    "defrost": (True, "Clear the windscreen by hand, and switch defrost off once it is clear."),
}
NO_PACK_HEATER = {"cold_pack": (True, "Park out of the cold.")}
NO_INLET = (
    HEAT_BY_ENGINE
    | NO_PACK_HEATER
    | {
        "low_charge": (False, "Nothing: a car without a plug makes its own charge."),
    }
)


def advice_for(trigger: str, vehicle: Vehicle) -> tuple[bool, str]:
    """Whether the driver can avoid such a start of this car, and how."""
    own = {} if vehicle.heating is not Heating.ENGINE else HEAT_BY_ENGINE
    own = own if vehicle.battery.heater_w else own | NO_PACK_HEATER
    return (NO_INLET if not vehicle.kind.plugs_in else own).get(trigger, ADVICE[trigger])


def fuel_j_m3(fuel: Fuel) -> float:
    """Lower heating value, J/m³."""
    return DIESEL_J_M3 if fuel is Fuel.DIESEL else PETROL_J_M3


def electric_m(outcome: Outcome, range_m: np.ndarray) -> np.ndarray:
    """Distance to the first fuel of each row, or to empty where none is burnt before."""
    return np.minimum(outcome.first_fuel_m, range_m)


def engine_answer(
    ask: Ask, catalogue: Catalogue, scenarios: Scenarios, outcome: Outcome, range_m: np.ndarray, rows: slice
) -> EngineAnswer | None:
    """The engine's side of a completed question; None for a car without one, or where it is left out.

    Args:
        range_m: distance of the drive to empty, or its stand-in, by row.
        rows: central row and draws.
    """
    if ask.vehicle.engine is None:
        return None
    scale = fuel_scale(ask.vehicle, catalogue)
    heat_j_m3 = fuel_j_m3(ask.vehicle.engine.fuel)
    sustaining = scale * sustaining_j_m(ask, catalogue, scenarios.cars[:1], scenarios.days[:1])
    first = outcome.first[rows]
    distance_m = np.maximum(first.distance_m, 1.0)
    return EngineAnswer(
        distances=distances(ask, catalogue, outcome, range_m, rows, sustaining / scale),
        starts=tuple(start_of(row, ask.vehicle, scale / heat_j_m3) for row in outcome.starts),
        fuel_m3_m=bands(scale * first.fuel_j / distance_m / heat_j_m3),
        sustaining_m3_m=sustaining / heat_j_m3,
        electric_share=bands(first.electric_m / distance_m),
        engine_j_m=float(first.engine_j[0] / distance_m[0]),
        depleting_engine_j_m=float(outcome.total.engine_j[0] / max(float(outcome.total.distance_m[0]), 1.0)),
    )


def bands(column: np.ndarray) -> Band:
    """A column of central row and draws as a band."""
    return band_of(column[0], column[1:])


def middle_only(column: np.ndarray) -> Band:
    """The typical car alone."""
    return band_of(column[0], column[:0])


def start_of(row: np.record, vehicle: Vehicle, m3_j: float) -> EngineStart:
    """One start, told."""
    trigger = TRIGGERS[int(row.trigger)]
    avoidable, advice = advice_for(trigger, vehicle)
    return EngineStart(
        trigger, float(row.at_m), float(row.at_s), float(row.run_s), float(row.fuel_j) * m3_j, avoidable, advice
    )


def distances(
    ask: Ask, catalogue: Catalogue, outcome: Outcome, range_m: np.ndarray, rows: slice, sustaining: float
) -> Distances:
    """The four distances; None where the typical car's charge never runs out, and for a plain hybrid those of the plug.

    Where it never runs out in some draws, the middle is told without its ends.

    Args:
        sustaining: modelled heat of fuel for each metre at a sustained charge, J/m.
    """
    electric = bands(electric_m(outcome, range_m)[rows])
    endless = outcome.ended[rows] == DISTANCE_LIMIT
    if endless[0]:
        return Distances(electric, None, None, None)
    told = middle_only if endless.any() else bands
    actual_m = range_m[rows]
    cycle_m = max(trace_of(ask.journey, catalogue).distance_m, 1.0)
    cycles_m = cycle_m * np.ceil(actual_m / cycle_m - A_HAIR)  # the one in which the charge is used up included
    saved_m = np.maximum(actual_m - outcome.total.fuel_j[rows] / max(sustaining, 1e-9), 0.0)
    plug = ask.vehicle.kind is not Kind.HYBRID
    return Distances(electric, told(actual_m), told(cycles_m), told(saved_m) if plug else None)


def sustaining_j_m(ask: Ask, catalogue: Catalogue, car: np.recarray, day: np.recarray) -> float:
    """Heat of fuel for each metre of the question's journey with the charge at its sustained level, modelled, J/m.

    Args:
        car, day: the question's rows, as `rows_for` makes them.
    What the drive puts into the pack, or takes out, is counted as the fuel that would have made it.
    """
    state = start_state(ask.start, car[0], day[0])
    state.charge, state.goes_on = car.low_charge[0], 1.0
    ledger, events = table(LEDGER, 1), table(EVENT, len(EVENT_KINDS))
    path = trace_of(ask.journey, catalogue).path
    none = table(START, 0), table(RECORD, 0)
    march_one(car[0], day[0], central_draw()[0], path, state[0], ledger[0], events, *none)
    made_j = float(ledger.cells_j[0]) / float(car.engine_marginal[0] * car.generator_path[0])
    return max(float(ledger.fuel_j[0]) + made_j, 0.0) / max(float(ledger.distance_m[0]), 1.0)


def fuel_scale(vehicle: Vehicle, catalogue: Catalogue) -> float:
    """Official over modelled charge-sustaining consumption; 1 where no official one is known."""
    if vehicle.engine.sustaining_m3_m is None:
        return 1.0
    return scale_of(vehicle, Known(catalogue))


class Known:
    """A catalogue as part of a cache's key: the same catalogue is the same key."""

    def __init__(self, catalogue: Catalogue) -> None:
        self.catalogue = catalogue

    def __eq__(self, other: object) -> bool:
        return isinstance(other, Known) and self.catalogue is other.catalogue

    def __hash__(self) -> int:
        return id(self.catalogue)


@lru_cache(maxsize=64)
def scale_of(vehicle: Vehicle, known: Known) -> float:
    """The ratio by the car's own procedure: 23 °C, rolls, climate off."""
    catalogue = known.catalogue
    values = {name: typical.value for name, typical in catalogue.typical.items()}
    us = speaks_us(Ask(vehicle, Journey(), Weather(TEST_K)))
    modelled = 0.0
    for cycle, share in US_PARTS if us else WLTP_PARTS:
        test = Ask(vehicle, Journey(cycle=cycle), Weather(TEST_K), Procedure.DYNAMOMETER, Start(), Cabin(Climate.OFF))
        filled, _ = complete(test, catalogue)
        modelled += share * sustaining_j_m(filled, catalogue, *rows_for(filled, catalogue, values))
    modelled /= US_ADJUSTMENT if us else 1.0
    return vehicle.engine.sustaining_m3_m * fuel_j_m3(vehicle.engine.fuel) / modelled


def burns_no_fuel(outcome: Outcome) -> bool:
    """True if the central row does its journey without a drop."""
    return bool(outcome.first_ended[0] == COMPLETED and outcome.first.fuel_j[0] == 0.0)
