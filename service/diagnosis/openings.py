"""What nobody told: the plausible span of every open input, and whether it could change the verdict.

Method   the typical car is driven at both ends of each span, one input at a time, and at every corner of the weighty
         inputs together; the band moves with it in proportion. If the verdict at an end or a corner is another than at
         the assumed values, the inputs decide.
Leaves   wind, health at a known odometer, driver and rest of the day are sampled in the band itself.
Source   spans are common practice unless a line says else; health is `ageing`.
"""

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import groupby, product

from service.catalogue import Catalogue
from service.diagnosis.ageing import central_health
from service.diagnosis.bench import Bench, bench_for, distance_m, drive
from service.diagnosis.complaint import Complaint, Missing, Parked, Verdict
from service.specs import Climate, Journey, Leg
from service.units import KM_H, kelvin_from_celsius

__all__ = ["MIXED_JOURNEY", "OPENINGS", "Moves", "Opening", "in_order", "missing_of", "moves_of", "verdict_at"]

WORTH_ASKING = 0.01  # of the expected distance
COLD_TEST_K, HOT_TEST_K = (
    kelvin_from_celsius(-7),
    kelvin_from_celsius(35),
)  # US cold and hot tests, 40 CFR 1066, rounded
FULL, LIMITED = 1.0, 0.8  # charge limits of 80-100 % are common settings
LEAST_SPAN = 0.02  # of charge, between start and end
COOL_K, SNUG_K = kelvin_from_celsius(19), kelvin_from_celsius(23)
LOAD_KG = 150.0  # two passengers
LITTLE_DRIVEN_M, MUCH_DRIVEN_M = 10e6, 150e6  # one year and ten

MIXED_JOURNEY = Journey(legs=(Leg(8e3, 45 * KM_H, 0.001), Leg(16e3, 80 * KM_H), Leg(16e3, 105 * KM_H)))  # stands in
TOWN_JOURNEY = Journey(legs=(Leg(8e3, 35 * KM_H, 0.002),))
MOTORWAY_JOURNEY = Journey(legs=(Leg(50e3, 125 * KM_H),))

Change = Callable[[Complaint], Complaint]


@dataclass(frozen=True, slots=True)
class Opening:
    """An input that may be left open: what to ask, why, and how the complaint looks at both ends of its span."""

    question: str
    why: str
    ends: tuple[Change, Change]
    weighty: bool = False  # meets the other weighty ones in corners


@dataclass(frozen=True, slots=True)
class Moves:
    """Distances over the expected one: at the ends of each open input, and at the corners of the weighty ones."""

    ends: Mapping[str, tuple[float, ...]]
    corners: tuple[float, ...]


def part(name: str, **fields: object) -> Change:
    """A change of fields in one part of the question."""

    def change(complaint: Complaint) -> Complaint:
        ask = complaint.ask
        return replace(complaint, ask=replace(ask, **{name: replace(getattr(ask, name), **fields)}))

    return change


def whole(**fields: object) -> Change:
    """A change of fields of the question itself."""
    return lambda complaint: replace(complaint, ask=replace(complaint.ask, **fields))


def stood(parked: Parked) -> Change:
    """Another parking place."""
    return lambda complaint: replace(complaint, parked=parked)


def charged(share: float) -> Change:
    """Another charge at the start, never at or below the end's."""

    def change(complaint: Complaint) -> Complaint:
        charge = max(share, complaint.end_charge + LEAST_SPAN)
        return part("start", state_of_charge=min(charge, FULL))(complaint)

    return change


def driven(odometer_m: float) -> Change:
    """Another odometer, so another typical health."""
    return part("start", state_of_health=central_health(odometer_m))


OPENINGS: Mapping[str, Opening] = {  # by the path of the input in the question; journeys first, see `moves_of`
    "journey": Opening(
        "Where was it driven, and how fast: town, country road, motorway?",
        "speed and stops change consumption more than anything else",
        (whole(journey=TOWN_JOURNEY), whole(journey=MOTORWAY_JOURNEY)),
        weighty=True,
    ),
    "weather.temperature_c": Opening(
        "How cold or warm was it outside?",
        "heating, tyres, air and pack all depend on it",
        (part("weather", ambient_k=COLD_TEST_K), part("weather", ambient_k=HOT_TEST_K)),
        weighty=True,
    ),
    "start.state_of_charge_pct": Opening(
        "How full was the battery at the start?",
        "distance follows the charge almost in proportion",
        (charged(LIMITED), charged(FULL)),
        weighty=True,
    ),
    "cabin.climate": Opening(
        "Was the heating or cooling on?",
        "heating and cooling draw power the whole time",
        (part("cabin", climate=Climate.OFF), part("cabin", climate=Climate.AUTO)),
        weighty=True,
    ),
    "odometer_km": Opening(
        "What does the odometer say, or better, what capacity was measured?",
        "a worn pack holds less",
        (driven(LITTLE_DRIVEN_M), driven(MUCH_DRIVEN_M)),
        weighty=True,
    ),
    "weather.surface": Opening(
        "Was the road dry or wet?",
        "water on the road adds to rolling resistance",
        (part("weather", surface="dry"), part("weather", surface="wet")),
    ),
    "cabin.set_point_c": Opening(
        "What temperature was asked for inside?",
        "a warmer cabin takes more heat",
        (part("cabin", set_point_k=COOL_K), part("cabin", set_point_k=SNUG_K)),
    ),
    "start.preconditioned": Opening(
        "Was the cabin warmed or cooled at the plug before leaving?",
        "then the first minutes of heating come from the wall",
        (part("start", preconditioned=False), part("start", preconditioned=True)),
    ),
    "parked": Opening(
        "Where was the car parked before: outside, in a garage, or just driven?",
        "a cold pack, cold tyres and a cold cabin cost energy at the start",
        (stood(Parked.OUTSIDE), stood(Parked.WARM)),
    ),
    "payload_kg": Opening(
        "What was carried, and how many people sat in the car?",
        "weight adds to rolling resistance and to every start and climb",
        (whole(payload_kg=0.0), whole(payload_kg=LOAD_KG)),
    ),
}


def open_of(complaint: Complaint) -> dict[str, Opening]:
    """The openings of one complaint. An odometer says nothing more where health was measured."""
    known = {"odometer_km"} if complaint.health_stated else set()
    return {path: each for path, each in OPENINGS.items() if path in complaint.left_open - known}


def at_corner(complaint: Complaint, changes: Iterable[Change]) -> Complaint:
    """One change after the other."""
    for change in changes:
        complaint = change(complaint)
    return complaint


def moves_of(complaint: Complaint, expected_m: float, catalogue: Catalogue, values: Mapping[str, float]) -> Moves:
    """Drive the typical car at every end and corner."""
    openings = open_of(complaint)
    ends = [change(complaint) for each in openings.values() for change in each.ends]
    weighty = [each.ends for each in openings.values() if each.weighty]
    corners = [at_corner(complaint, changes) for changes in product(*weighty)] if len(weighty) > 1 else []
    benches = [bench_for(each, catalogue, values) for each in ends + corners]
    ratios = [metres / max(expected_m, 1.0) for metres in driven_m(benches, catalogue)]
    by_input = {path: (ratios[2 * k], ratios[2 * k + 1]) for k, path in enumerate(openings)}
    return Moves(by_input, tuple(ratios[len(ends) :]))


def driven_m(benches: Sequence[Bench], catalogue: Catalogue) -> list[float]:
    """Distances in order; neighbours on the same journey drive together."""
    metres: list[float] = []
    for _, group in groupby(benches, key=lambda each: each.ask.journey):
        metres += distance_m(drive(list(group), catalogue)).tolist()
    return metres


def verdict_at(reported_m: float, low_m: float, high_m: float, ratio: float = 1.0) -> Verdict:
    """Normal or outside against a band moved by a ratio."""
    return Verdict.NORMAL if low_m * ratio <= reported_m <= high_m * ratio else Verdict.OUTSIDE


def missing_of(moves: Moves, reported_m: float, low_m: float, high_m: float, expected_m: float) -> tuple[Missing, ...]:
    """Open inputs worth asking for."""
    stated = verdict_at(reported_m, low_m, high_m)

    def flips(ratios: Iterable[float]) -> bool:
        return any(verdict_at(reported_m, low_m, high_m, ratio) is not stated for ratio in ratios)

    alone = any(flips(ends) for ends in moves.ends.values())
    together = not alone and flips(moves.corners)
    found = []
    for path, ends in moves.ends.items():
        opening = OPENINGS[path]
        decides = flips(ends) or (together and opening.weighty)
        narrows_m = high_m * (max(*ends, 1.0) - 1) + low_m * (1 - min(*ends, 1.0))
        if decides or narrows_m >= WORTH_ASKING * expected_m:
            found.append(Missing(path, opening.question, opening.why, narrows_m, decides))
    return in_order(found)


def in_order(found: Iterable[Missing]) -> tuple[Missing, ...]:
    """Those that decide, then those that narrow the band most."""
    return tuple(sorted(found, key=lambda each: (not each.decides, -each.narrows_m)))
