"""The finding on one complaint: expected band, place of the reported distance in it, verdict, explanations.

Path     complete the question → typical car and its draws to the end charge → band and percentile → what is open and
         whether it decides → one changed row a cause.
Verdict  outside only below P2.5 or above P97.5 of the draws; insufficient where an input that nobody gave decides.
"""

from dataclasses import replace

import numpy as np

from service.catalogue import Catalogue
from service.constants import ZERO_CELSIUS_K
from service.diagnosis.ageing import CLUB_ODOMETER_M, TYPICAL_ODOMETER_M, central_health
from service.diagnosis.bench import (
    GARAGE_AIMS_K,
    bench_for,
    distance_m,
    drive,
    health_normals,
    relative_health,
    sampled_draws,
    window_j,
)
from service.diagnosis.causes import WHEEL_RADIUS_M, at_placard_m, causes_of
from service.diagnosis.complaint import Complaint, ComplaintAnswer, Expected, Missing, Parked, Verdict
from service.diagnosis.openings import Moves, in_order, missing_of, moves_of, verdict_at
from service.physics.tables import central_draw
from service.quotes.answer import Assumption, Band
from service.quotes.assume import complete
from service.quotes.band import band_of
from service.quotes.build import answer_notes, ledger_j_per_m
from service.quotes.label import CHARGER_LOSSES, anchored
from service.quotes.notes import notes_for
from service.quotes.scenarios import Outcome
from service.units import MILE_M

__all__ = ["CAUTIONS", "check_complaint", "expected_of", "percentile_of"]

LOWEST, HIGHEST = 0.025, 0.975  # outside of 95 in 100
SOFTER_PA_PER_10_K = 12e3  # ideal gas at about 2.5 bar gauge, rounded
CHARGING_ONLY = {  # no distance rests on them
    "charging circuit",
    "onboard charger",
    "onboard charger phases",
    "charging power that a warm pack accepts",
    "efficiency of the onboard charger alone",
    "drawn by the car while charging",
    CHARGER_LOSSES,
}
CAUTIONS = (
    "These figures are estimates from a model. They do not replace the maker's procedures, and no limit or time given "
    "here is a promise that something is free of danger.",
    "Work on the high-voltage system (above 60 V DC or 30 V AC) is for qualified people only, by the maker's "
    "procedure, with the system made dead and proved dead.",
    "Tests on the road are for trained and insured drivers, with a second person reading the instruments.",
    "A driven wheel that turns, turns the motor, which then gives voltage and may move the car: lift and wheel-spin "
    "tests only as the maker's procedure describes them.",
    "Discs, callipers and heaters can be hot enough to burn: measure without touching.",
)


def check_complaint(complaint: Complaint, catalogue: Catalogue) -> ComplaintAnswer:
    """Is this distance normal in these conditions, and if not, what would explain it?

    Args:
        complaint: gaps allowed; what fills them is listed in the answer.
    Errors: `BadInput` for a journey or an id that does not exist, or a label that contradicts the rest.
    """
    values = {name: typical.value for name, typical in catalogue.typical.items()}
    complaint, assumptions = completed(complaint, catalogue)
    bench = bench_for(complaint, catalogue, values)
    draws = sampled_draws(complaint, values)
    outcome = drive([bench], catalogue, np.concatenate([central_draw(), draws]).view(np.recarray))
    reached_m = distance_m(outcome)
    expected = expected_of(reached_m)
    expected_m = expected.band.p50
    moves = moves_of(complaint, expected_m, catalogue, values)
    missing = all_missing(complaint, moves, expected, reached_m[1:])
    verdict = verdict_of(complaint, missing, expected)
    return ComplaintAnswer(
        complaint=complaint,
        expected=expected,
        at_placard_m=None if complaint.tyre_pa is None else at_placard_m(bench, complaint, catalogue),
        percentile=percentile_of(complaint.reported_m, reached_m[1:]),
        verdict=verdict,
        sentence=sentence_of(complaint, verdict, expected, missing),
        missing=missing,
        ledger_j_per_m=ledger_j_per_m(outcome.total[0]),
        measured_j_per_m=window_j(bench) / complaint.reported_m,
        causes=causes_of(bench, complaint, expected_m, catalogue),
        cautions=CAUTIONS,
        assumptions=assumptions,
        notes=notes_of(complaint, outcome, expected.band, catalogue),
    )


def completed(complaint: Complaint, catalogue: Catalogue) -> tuple[Complaint, tuple[Assumption, ...]]:
    """The complaint without gaps, and what filled them; health from the odometer where nobody measured it."""
    ask, moved = anchored(replace(complaint.ask, band=True), catalogue)
    ask, filled = complete(ask, catalogue, with_engine=False)
    if not complaint.health_stated:
        odometer_m = TYPICAL_ODOMETER_M if complaint.odometer_m is None else complaint.odometer_m
        ask = replace(ask, start=replace(ask.start, state_of_health=central_health(odometer_m)))
    whole = replace(complaint, ask=ask)
    of_the_drive = (each for each in (*moved, *filled) if each.name not in CHARGING_ONLY)
    return whole, (*own_assumptions(whole), *of_the_drive)


def own_assumptions(complaint: Complaint) -> list[Assumption]:
    """What the finding assumes beside the quote's own."""
    listed = []
    if not complaint.health_stated:
        if complaint.odometer_m is None:
            listed.append(
                Assumption("odometer", TYPICAL_ODOMETER_M / 1000, "km", "four or five years: common practice")
            )
        source = "half the loss of a club's benchmarks (92 % at 50 000 km, 80 % at 200 000 km), spread to it and beyond"
        listed.append(Assumption("battery health", 100 * complaint.ask.start.state_of_health, "%", source))
    if complaint.tyre_pa is None:
        listed.append(Assumption("tyre pressure", "as on the placard", "", "nothing measured"))
    elif "placard_pressure_kpa" in complaint.left_open:
        listed.append(
            Assumption("placard pressure", complaint.placard_pa / 1000, "kPa", "usual for cars: common practice")
        )
    if complaint.parked is Parked.GARAGE:
        garage_c = 0.5 * (complaint.ask.weather.ambient_k + GARAGE_AIMS_K) - ZERO_CELSIUS_K
        listed.append(Assumption("garage", garage_c, "°C", "half-way between the day and 15 °C: common practice"))
    listed.append(Assumption("rolling radius of the tyres", WHEEL_RADIUS_M, "m", "usual car tyre: common practice"))
    return listed


def expected_of(reached_m: np.ndarray) -> Expected:
    """Band of the typical car (first) and its draws (the rest)."""
    low, high = np.quantile(reached_m[1:], (LOWEST, HIGHEST), method="hazen")
    return Expected(band_of(reached_m[0], reached_m[1:]), float(low), float(high))


def percentile_of(reported_m: float, sampled_m: np.ndarray) -> float:
    """Share of the draws that go less far, 0…100, interpolated between draws (Hazen's positions, as in the band).

    >>> percentile_of(15.0, np.array([10.0, 20.0])), percentile_of(9.0, np.array([10.0, 20.0]))
    (50.0, 0.0)
    """
    place = 100 * (np.arange(len(sampled_m)) + 0.5) / len(sampled_m)
    return float(np.interp(reported_m, np.sort(sampled_m), place, left=0.0, right=100.0))


def all_missing(complaint: Complaint, moves: Moves, expected: Expected, sampled_m: np.ndarray) -> tuple[Missing, ...]:
    """Open inputs, and a measured capacity where the odometer stands for it."""
    found = missing_of(moves, complaint.reported_m, expected.p2_5, expected.p97_5, expected.band.p50)
    narrows_m = health_narrows_m(complaint, expected, sampled_m)
    if complaint.health_stated or complaint.odometer_m is None or narrows_m <= 0:
        return found
    question, why = "What capacity does the battery still have?", "the odometer only says what is usual"
    return in_order((*found, Missing("start.state_of_health_pct", question, why, narrows_m, False)))


def health_narrows_m(complaint: Complaint, expected: Expected, sampled_m: np.ndarray) -> float:
    """Width that health alone gives the band: distance follows capacity, so take each draw's health out again."""
    alike_m = sampled_m / relative_health(complaint, health_normals())
    low, high = np.quantile(alike_m, (LOWEST, HIGHEST), method="hazen")
    return float((expected.p97_5 - expected.p2_5) - (high - low))


def verdict_of(complaint: Complaint, missing: tuple[Missing, ...], expected: Expected) -> Verdict:
    """Normal or outside; insufficient where open inputs, alone or together, would change that."""
    if any(each.decides for each in missing):
        return Verdict.INSUFFICIENT
    return verdict_at(complaint.reported_m, expected.p2_5, expected.p97_5)


def km(metres: float) -> str:
    """As people read it, in both systems."""
    return f"{metres / 1000:.3g} km ({metres / MILE_M:.3g} mi)"


def sentence_of(complaint: Complaint, verdict: Verdict, expected: Expected, missing: tuple[Missing, ...]) -> str:
    """The verdict in words."""
    reported = km(complaint.reported_m)
    span = f"{km(expected.p2_5)} and {km(expected.p97_5)}"
    if verdict is Verdict.INSUFFICIENT:
        asked = " ".join(each.question for each in missing if each.decides)
        return f"There is not enough information to say whether {reported} is normal. {asked}"
    if verdict is Verdict.NORMAL:
        return f"{reported} is normal in these conditions: 95 in 100 such drives end between {span}."
    if complaint.reported_m > expected.p97_5:
        return (
            f"{reported} is farther than expected, which is between {span}: "
            "check the trip meter, the charge, or the stated conditions."
        )
    return f"{reported} is less than expected: in these conditions 95 in 100 such drives end between {span}."


def notes_of(complaint: Complaint, outcome: Outcome, band: Band, catalogue: Catalogue) -> tuple[str, ...]:
    """What has to be said beside the numbers."""
    ask = complaint.ask
    notes = list(notes_for(ask) + answer_notes(ask, catalogue, outcome, band))
    if complaint.tyre_pa is not None:
        notes.append(
            "Tyre pressure is taken as it was on the drive, cold. It falls by about "
            f"{SOFTER_PA_PER_10_K / 1000:.0f} kPa (0.12 bar) when it gets 10 °C colder: a warm workshop reads higher."
        )
    if (complaint.odometer_m or 0) > CLUB_ODOMETER_M[-1] and not complaint.health_stated:
        notes.append("Beyond 200 000 km the battery's health is extrapolated: measure it.")
    notes.append(
        "Each explanation is taken alone. Two at once share the shortfall, so a test that finds one does not rule out "
        "another."
    )
    return tuple(notes)
