"""Explanations of a short distance: each is one changed row, driven in exactly the complaint's conditions.

Scope    single causes, one at a time; sizes, tests and limits are data/separating_tests.csv.
Symbols  size  in the unit of that table      drag on each of four wheels F = 4·τ/r
Method   the size that explains the whole shortfall is found by false position and halving on consumption, 1/distance,
         in which forces and powers are nearly straight; all causes step together, a row each.
"""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np

from service.catalogue import Catalogue
from service.catalogue.separating_tests import SeparatingTest
from service.diagnosis.bench import Bench, distance_m, drive, pressure_share, window_j
from service.diagnosis.complaint import CauseFound, Complaint
from service.physics.air import wind_at_car_m_s
from service.physics.battery import health_resistance_factor
from service.physics.tyres import pressure_factor
from service.units import KM_H

__all__ = ["CHANGES", "WHEEL_RADIUS_M", "at_placard_m", "causes_of", "changed", "needed_sizes"]

WHEEL_RADIUS_M = 0.31  # rolling radius of a usual car tyre: common practice
WHEELS = 4
FLATTEST = 0.3  # of the placard pressure: softer tyres would be seen, common practice
COLDEST_K = 233.15  # −40 °C, end of the model's range
STEPS = 40
AGREES = 5e-4  # of the distance; laps are skipped to within 0.06 %
NARROW = 2e-3  # of the size
Change = Callable[[Bench, Complaint, float], None]


def soft_tyres(bench: Bench, complaint: Complaint, kpa: float) -> None:
    """All four below the placard; in place of the measured pressure."""
    left_pa = max(complaint.placard_pa - 1000 * kpa, FLATTEST * complaint.placard_pa)
    soft = pressure_factor(left_pa, complaint.placard_pa)
    bench.car.tyre_n *= soft / pressure_share(complaint)


def dragging_brakes(bench: Bench, complaint: Complaint, newton_m: float) -> None:
    """A steady torque on each wheel.

    1 N·m at 0.31 m on four wheels: 4/0.31 = 12.9 N, so 12.9 J/m or 3.6 Wh/km of work.
    """
    bench.car.bearing_n += WHEELS * newton_m / WHEEL_RADIUS_M


def misalignment(bench: Bench, complaint: Complaint, percent: float) -> None:
    """Scrub, as a share of rolling resistance."""
    bench.car.tyre_n *= 1 + percent / 100


def larger_drag(bench: Bench, complaint: Complaint, percent: float) -> None:
    """Drag area."""
    bench.car.drag_area_m2 *= 1 + percent / 100


def standing_load(bench: Bench, complaint: Complaint, watt: float) -> None:
    """Drawn at the battery the whole time."""
    bench.car.base_w += watt


def regeneration_lost(bench: Bench, complaint: Complaint, percent: float) -> None:
    """Braking left to the discs."""
    bench.car.regen_share *= 1 - percent / 100


def worn_pack(bench: Bench, complaint: Complaint, points: float) -> None:
    """Less capacity than assumed, and the resistance that goes with it."""
    assumed = bench.ask.start.state_of_health
    left = max(assumed - points / 100, 0.1)
    bench.car.capacity_c *= left / assumed
    bench.car.resistance_ohm *= health_resistance_factor(left) / health_resistance_factor(assumed)


def not_fully_charged(bench: Bench, complaint: Complaint, points: float) -> None:
    """Started lower; the state's charge is a share of what lies above the end charge."""
    lower = bench.state.charge - points / 100 / (1 - complaint.end_charge)
    bench.state.charge[:] = np.maximum(lower, 0.01)


def headwind(bench: Bench, complaint: Complaint, km_h: float) -> None:
    """Straight ahead all the way, beside the day's wind: ½ρA·(v + u)² less ½ρA·v² is ρA·u·v + ½ρA·u²."""
    wind_m_s = wind_at_car_m_s(km_h * KM_H)
    density_area = bench.day.air_kg_m3 * bench.car.drag_area_m2
    bench.car.bearing_n_s_m += density_area * wind_m_s
    bench.car.bearing_n += 0.5 * density_area * wind_m_s**2


def colder_pack(bench: Bench, complaint: Complaint, kelvin: float) -> None:
    """Only the pack, only at the start."""
    bench.state.pack_k[:] = np.maximum(bench.state.pack_k - kelvin, COLDEST_K)


CHANGES: Mapping[str, Change] = {  # by id of data/separating_tests.csv
    "soft_tyres": soft_tyres,
    "dragging_brakes": dragging_brakes,
    "misalignment": misalignment,
    "roof_load": larger_drag,
    "open_windows": larger_drag,
    "heater_running": standing_load,
    "consumers_12v": standing_load,
    "regeneration_lost": regeneration_lost,
    "worn_pack": worn_pack,
    "not_fully_charged": not_fully_charged,
    "headwind": headwind,
    "colder_pack": colder_pack,
}


def changed(bench: Bench, complaint: Complaint, cause: str, size: float) -> Bench:
    """A copy of the bench with one cause of that size."""
    copy = replace(bench, car=bench.car.copy(), day=bench.day.copy(), state=bench.state.copy())
    CHANGES[cause](copy, complaint, size)
    return copy


def reached_m(
    bench: Bench, complaint: Complaint, trials: Sequence[tuple[str, float]], catalogue: Catalogue
) -> np.ndarray:
    """Distance with each cause at a size, m."""
    benches = [changed(bench, complaint, cause, size) for cause, size in trials]
    return distance_m(drive(benches, catalogue)) if benches else np.zeros(0)


def causes_of(bench: Bench, complaint: Complaint, expected_m: float, catalogue: Catalogue) -> tuple[CauseFound, ...]:
    """Every cause: its effect at the typical size, the size that explains the shortfall; largest effect first."""
    tests = catalogue.separating_tests
    free = [each for each in tests.values() if not (each.id == "soft_tyres" and complaint.tyre_pa is not None)]
    typical_m = reached_m(bench, complaint, [(each.id, each.typical_size) for each in free], catalogue)
    needed = needed_sizes(bench, complaint, free, expected_m, catalogue)
    found = [
        cause_found(each, bench, expected_m, float(reached), size)
        for each, reached, size in zip(free, typical_m, needed, strict=True)
    ]
    if complaint.tyre_pa is not None and complaint.tyre_pa < complaint.placard_pa:
        found.append(measured_tyres(tests["soft_tyres"], bench, complaint, expected_m, catalogue))
    return tuple(sorted(found, key=lambda each: -each.lost_m))


def apparent_j_per_m(bench: Bench, more_m: float, less_m: float) -> float:
    """Rise of consumption as a workshop works it out, J/m: what the cells hold over both distances."""
    return window_j(bench) * (1 / max(less_m, 1.0) - 1 / max(more_m, 1.0))


def cause_found(
    about: SeparatingTest, bench: Bench, expected_m: float, reached: float, needed: float | None
) -> CauseFound:
    """One cause at its typical size."""
    apparent = apparent_j_per_m(bench, expected_m, reached)
    plausible = needed is not None and needed <= about.plausible_size
    return CauseFound(about, about.typical_size, expected_m - reached, apparent, needed, plausible)


def at_placard_m(bench: Bench, complaint: Complaint, catalogue: Catalogue) -> float:
    """Distance of the typical car with tyres at placard pressure, m."""
    return float(reached_m(bench, complaint, [("soft_tyres", 0.0)], catalogue)[0])


def measured_tyres(
    about: SeparatingTest, bench: Bench, complaint: Complaint, expected_m: float, catalogue: Catalogue
) -> CauseFound:
    """What the measured pressure costs against the placard's; it is part of the expectation already."""
    right_m = at_placard_m(bench, complaint, catalogue)
    size = (complaint.placard_pa - complaint.tyre_pa) / 1000
    apparent = apparent_j_per_m(bench, right_m, expected_m)
    return CauseFound(about, size, right_m - expected_m, apparent, None, False, counted=True)


@dataclass(slots=True)
class Search:
    """A span of sizes that holds the one looked for, with the excess of 1/distance at both of its ends."""

    cause: str
    low: float
    high: float
    low_y: float
    high_y: float
    tried: int = 0
    found: bool = False

    def trial(self) -> float:
        """Where the chord crosses zero; every third time the middle, for curves that bend or jump."""
        self.tried += 1
        if self.tried % 3 == 0:
            return 0.5 * (self.low + self.high)
        return self.high - self.high_y * (self.high - self.low) / (self.high_y - self.low_y)

    def narrow(self, size: float, metres: float, reported_m: float) -> None:
        """Take a driven trial in.

        Distance jumps where the pack runs empty just before a stop or just after, by what braking gives back: then
        no size meets it exactly, and a narrow span is the answer.
        """
        excess = 1 / max(metres, 1.0) - 1 / reported_m
        met = abs(metres - reported_m) <= AGREES * reported_m
        if excess < 0 and not met:
            self.low, self.low_y = size, excess
        else:
            self.high, self.high_y = size, excess
        self.found = met or self.high - self.low <= NARROW * self.high


def needed_sizes(
    bench: Bench, complaint: Complaint, about: Sequence[SeparatingTest], expected_m: float, catalogue: Catalogue
) -> list[float | None]:
    """Size of each cause that alone brings the expected distance down to the reported one.

    None where there is no shortfall, or where even the largest size of the table leaves more than was reported.
    """
    reported_m = complaint.reported_m
    if reported_m >= expected_m:
        return [None] * len(about)
    least_m = reached_m(bench, complaint, [(each.id, each.largest_size) for each in about], catalogue)
    searches = {
        each.id: Search(
            each.id, 0.0, each.largest_size, 1 / expected_m - 1 / reported_m, 1 / max(least, 1.0) - 1 / reported_m
        )
        for each, least in zip(about, least_m, strict=True)
        if least <= reported_m
    }
    for _ in range(STEPS):
        going_on = [each for each in searches.values() if not each.found]
        trials = [(each.cause, each.trial()) for each in going_on]
        metres = reached_m(bench, complaint, trials, catalogue)
        for each, (_, size), reached in zip(going_on, trials, metres, strict=True):
            each.narrow(size, float(reached), reported_m)
    found = {each.cause: each.high for each in searches.values() if each.found}
    return [found.get(each.id) for each in about]
