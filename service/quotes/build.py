"""A quote, whole: the pure function from question to answer.

Path     complete the question → tables of scenarios → march to empty → charging sessions → bands and reasons.
"""

import math
from collections.abc import Mapping
from dataclasses import replace

import numpy as np

from service.catalogue import Catalogue
from service.charging import charger_row
from service.charging.run import current_for_a, delivered, run_advice
from service.charging.weakest import weakest_of, weakest_sentence
from service.physics.envelope import top_speed_m_s
from service.physics.laps import DISTANCE_LIMIT, FURTHEST_M
from service.physics.march import COMPLETED
from service.quotes.answer import CAUSES, Band, ChargingAnswer, JourneyAnswer, OutletTime, Quote, ToEmptyAnswer
from service.quotes.assume import complete
from service.quotes.band import band_of
from service.quotes.changes import changes_for, sensitivities
from service.quotes.electric_side import electric_side, layout_of, traction
from service.quotes.engine_side import burns_no_fuel, electric_m, engine_answer
from service.quotes.label import behind_label
from service.quotes.notes import ENDED_BY, LEVEL_M_M, events_of, note_on_sun, notes_for, notes_on_answer
from service.quotes.scenarios import Outcome, Scenarios, refill, refill_elsewhere, run, scenarios_for
from service.quotes.supply import supply_listed
from service.specs import Ask
from service.trips.journey import trace_of
from service.trips.trace import Trace

__all__ = ["build_quote"]

KEPT_UP = 0.98  # of the distance: a regulatory test allows a car less lag, common practice


def build_quote(ask: Ask, catalogue: Catalogue, with_engine: bool = True) -> Quote:
    """How far on electricity, how long to charge, and why.

    Args:
        ask: gaps allowed; what fills them is listed in the answer.
        with_engine: False asks what electricity alone does, as comparisons and tables do.
    Errors: `BadInput` for a journey or an id that does not exist, or a label that contradicts the rest.
    """
    found = behind_label(ask.vehicle, catalogue)
    moved, of_label = ((), ()) if found is None else (found.assumptions, found.notes)
    ask = ask if found is None else replace(ask, vehicle=found.vehicle)
    ask, assumptions = complete(ask, catalogue, with_engine)
    values = {name: typical.value for name, typical in catalogue.typical.items()}
    changes = changes_for(ask, values["sunny_w_m2"])
    scenarios = scenarios_for(ask, tuple((each.ask, each.factors) for each in changes), catalogue, values)
    outcome = run(scenarios, ask, catalogue, thin=True)
    filling = refill(scenarios, outcome, ask, values) if ask.circuit is not None else None
    rows = slice(0, 1 + scenarios.sampled)
    empty_m = np.where(outcome.ended == DISTANCE_LIMIT, FURTHEST_M, outcome.total.distance_m)
    range_m = electric_m(outcome, empty_m)
    return Quote(
        ask=ask,
        range_m=bands(range_m[rows]),
        journey=journey_answer(ask, catalogue, outcome, rows, filling),
        to_empty=to_empty_answer(outcome, empty_m, rows, filling),
        charging=None if filling is None else charging_answer(ask, catalogue, scenarios, outcome, filling, values),
        events=events_of(outcome.first_events),
        sensitivities=sensitivities(changes, float(range_m[0]), list(range_m[rows.stop :])),
        assumptions=moved + assumptions + supply_listed(ask),
        notes=(
            *of_label,
            *notes_for(ask),
            *note_on_sun(ask, float(scenarios.states.cabin_air_k[0])),
            *answer_notes(ask, catalogue, outcome, bands(range_m[rows])),
        ),
        engine=engine_answer(ask, catalogue, scenarios, outcome, empty_m, rows),
        electric_top_speed_m_s=top_speed(ask, scenarios, values),
    )


def top_speed(ask: Ask, scenarios: Scenarios, values: Mapping[str, float]) -> float:
    """On the level, on electricity alone, as the car stands at the start."""
    side = electric_side(ask, layout_of(ask.vehicle), None, scenarios.cars[0], scenarios.days[0], values)
    return top_speed_m_s(side.car, side.day, *traction(side))[0]


def bands(column: np.ndarray) -> Band:
    """A column of central row and draws as a band."""
    return band_of(column[0], column[1:])


def per_metre(ledgers: np.recarray, name: str) -> np.ndarray:
    """A column of a ledger over the distance driven, J/m."""
    return ledgers[name] / np.maximum(ledgers.distance_m, 1.0)


def ledger_j_per_m(ledger: np.record) -> dict[str, float]:
    """Central row by cause."""
    return {cause: float(ledger[f"{cause}_j"]) / max(float(ledger.distance_m), 1.0) for cause in CAUSES}


def over(energy_j: np.ndarray, stored_j: np.ndarray) -> np.ndarray:
    """Ratio of two columns of a refill; a draw that took no charge goes by the central row."""
    charged = stored_j > 0
    return np.where(charged, energy_j / np.where(charged, stored_j, 1.0), energy_j[0] / stored_j[0])


def wall_band(ledgers: np.recarray, rows: slice, outcome: Outcome, filling: np.recarray | None) -> Band | None:
    """Socket energy for each metre driven, J/m; None where nothing can be charged.

    What left the cells is put back, so the pack's loss is paid on the way out and on the way in; preheating on the wall
    passes the charger only.
    """
    if filling is None or filling.cells_j[0] <= 0:
        return None
    wall_j = ledgers.cells_j[rows] * over(filling.wall_j, filling.cells_j)
    wall_j += outcome.preheat_j[rows] * over(filling.wall_j, filling.terminals_j)
    return bands(wall_j / np.maximum(ledgers.distance_m[rows], 1.0))


def journey_answer(
    ask: Ask, catalogue: Catalogue, outcome: Outcome, rows: slice, filling: np.recarray | None
) -> JourneyAnswer:
    """One journey from the stated start."""
    trace = trace_of(ask.journey, catalogue)
    return JourneyAnswer(
        distance_m=trace.distance_m,
        duration_s=trace.duration_s,
        battery_j_per_m=bands(per_metre(outcome.first, "cells_j")[rows]),
        wall_j_per_m=wall_band(outcome.first, rows, outcome, filling),
        ledger_j_per_m=ledger_j_per_m(outcome.first[0]),
        arrives_with=bands(outcome.first_charge[rows]),
        completed_on_electricity=burns_no_fuel(outcome) and keeps_up(outcome, trace),
    )


def answer_notes(ask: Ask, catalogue: Catalogue, outcome: Outcome, range_m: Band) -> tuple[str, ...]:
    """What the central row and the band give reason to say."""
    trace = trace_of(ask.journey, catalogue)
    first_j_m, later_j_m = (per_metre(ledgers, "cells_j")[0] for ledgers in (outcome.first, outcome.total))
    comparable = later_j_m > 0 and outcome.total.fuel_j[0] == 0.0
    return notes_on_answer(
        ended=int(outcome.ended[0]),
        keeps_up=keeps_up(outcome, trace),
        climbs=abs(trace.climb_m) > LEVEL_M_M * trace.distance_m,
        range_m=range_m,
        first_over_later=float(first_j_m / later_j_m) if comparable else 1.0,
        label_m=ask.vehicle.label and ask.vehicle.label.electric_range_m,
        engine=ask.vehicle.engine is not None,
    )


def keeps_up(outcome: Outcome, trace: Trace) -> bool:
    """False if the central car drove the whole time and yet not the whole way: its motor is too weak for it."""
    return bool(outcome.first_ended[0] != COMPLETED or outcome.first.distance_m[0] >= KEPT_UP * trace.distance_m)


def to_empty_answer(outcome: Outcome, range_m: np.ndarray, rows: slice, filling: np.recarray | None) -> ToEmptyAnswer:
    """The journey again and again."""
    return ToEmptyAnswer(
        distance_m=bands(range_m[rows]),
        duration_s=float(outcome.total.duration_s[0]),
        battery_j_per_m=bands(per_metre(outcome.total, "cells_j")[rows]),
        wall_j_per_m=wall_band(outcome.total, rows, outcome, filling),
        ledger_j_per_m=ledger_j_per_m(outcome.total[0]),
        ended_by=ENDED_BY[int(outcome.ended[0])],
    )


def charging_answer(
    ask: Ask,
    catalogue: Catalogue,
    scenarios: Scenarios,
    outcome: Outcome,
    filling: np.recarray,
    values: Mapping[str, float],
) -> ChargingAnswer:
    """Time, energy and weakest link of the refill, and its time on the region's other outlets."""
    charger = charger_row(ask.vehicle, ask.circuit, values["charger_conversion"], values["charger_fixed_w"])
    link = weakest_of(ask.vehicle, ask.circuit, scenarios.cars[0], charger, float(outcome.states.pack_k[0]))
    central, in_use = filling[0], link.in_use
    current_a = current_for_a(ask.circuit, float(charger.ac_w), in_use)
    return ChargingAnswer(
        circuit=ask.circuit,
        seconds=bands(filling.seconds),
        wall_j=bands(filling.wall_j),
        efficiency=float(central.terminals_j / central.wall_j) if central.wall_j > 0 else 0.0,
        limited_by=link.name,
        limited_by_sentence=weakest_sentence(link),
        power_w=float(charger.ac_w),
        outlets=outlet_times(ask, catalogue, scenarios, outcome, values),
        links_w=link.links_w,
        cable=ask.circuit.run and delivered(ask.circuit, in_use, current_a),
        cable_advice=run_advice(ask.circuit, in_use, current_a),
    )


def outlet_times(
    ask: Ask, catalogue: Catalogue, scenarios: Scenarios, outcome: Outcome, values: Mapping[str, float]
) -> tuple[OutletTime, ...]:
    """The refill on every circuit of the asked one's region, slowest outlet first."""
    region = ask.circuit.region
    circuits = [each for each in catalogue.circuits.values() if region in (each.region, "own")]
    filling = refill_elsewhere(scenarios, outcome, ask, circuits, values)
    times = [
        OutletTime(circuit, float(row.seconds) if row.wall_j > 0 else None)
        for circuit, row in zip(circuits, filling, strict=True)
    ]
    return tuple(sorted(times, key=lambda each: -(each.seconds or math.inf)))
