"""Labels that contradict themselves or the car they are said to belong to: refused by name, with the plausible span.

Spans    parts    against each other, `SURE` standard deviations of what air, rolling and losses may do, and rounding;
                  city and highway besides by `ADJUSTED_APART`
         energy   consumption × range against the stated battery: charger losses between their bounds, usable energy
                  within `USABLE_SLACK`
         time     recharge time against the charger's rating
Source   rounding and repeatability: labels round to whole kWh/100 miles or 0.1 kWh/100 km; SAE J1634 repeats within
         1–2 %, from memory. The other limits are common practice.
"""

import math

import numpy as np

from service.errors import BadInput
from service.quotes.procedure_run import Measured
from service.quotes.procedures import LABEL_RECIPES
from service.specs import BodyAndTyres, Label, LabelProcedure, RoadLoad, Vehicle
from service.units import KWH_J, MILE_M

__all__ = [
    "ADJUSTED_APART",
    "USABLE_SLACK",
    "agreeing_parts",
    "beyond_drag",
    "check_body",
    "check_energy",
    "check_pack",
    "check_parts",
    "check_ranges",
    "check_rating",
    "check_recharge",
    "check_whole",
    "not_drivable",
    "part_weights",
]

FIELD = "vehicle.spec.label"
SURE = 3.5  # standard deviations
ADJUSTED_APART = math.log(
    0.77 / 0.66
)  # city and highway may be adjusted by either: 40 CFR 600.210-12(d)(3), from memory
PARTS_SLACK = 0.03  # rounding and repeatability of two parts against each other
USABLE_SLACK = 0.06  # two standard deviations of scatter_usable_new
SUM_SLACK = 0.03  # phases against the whole cycle
QUICKEST, SLOWEST = 0.75, 1.6  # of the modelled recharge time: rounding to half hours, weaker supplies
HOUR_S = 3600.0
DRAG_AREA_M2, ROLLING = (0.2, 6.0), (0.003, 0.04)  # what a question may state
HEAVIEST_SHARE = 0.6  # of the kerb mass that a pack may be: no car's is, common practice
LEAST_PACK_J = 0.5 * KWH_J  # less than any car with an inlet has
LEAST_RATING_W, MOST_RATING_W = 800.0, 50_000.0  # from the weakest outlet to the strongest alternating-current charger
CITY_SHARE = 0.55  # 40 CFR 600.210-12(c)
PHASE_M = np.array([3095.0, 4756.0, 7162.0, 8254.0])  # WLTC class 3b, UN GTR 15
KWH_100_KM = KWH_J / 1e5  # J/m in one kWh/100 km
LABEL_PARTS = {
    LabelProcedure.US: ("city", "highway"),
    LabelProcedure.WLTP: ("low", "medium", "high", "extra_high"),
}


def consumption_words(j_m: float, label: Label) -> str:
    """As the label's own readers know it, and in kWh/100 km."""
    metric = f"{j_m / KWH_100_KM:.1f} kWh/100 km"
    if label.procedure is not LabelProcedure.US:
        return metric
    return f"{j_m * 100 * MILE_M / KWH_J:.1f} kWh/100 miles ({metric})"


def distance_words(metres: float, label: Label) -> str:
    """The same for a range."""
    metric = f"{metres / 1000:.0f} km"
    return metric if label.procedure is not LabelProcedure.US else f"{metres / MILE_M:.0f} miles ({metric})"


def part_weights(label: Label) -> np.ndarray:
    """Share of each part in the combined consumption."""
    if label.procedure is LabelProcedure.US:
        return np.array([CITY_SHARE, 1 - CITY_SHARE])
    return PHASE_M / PHASE_M.sum()


def agreeing_parts(label: Label) -> np.ndarray:
    """Parts that add up to the combined figure: rounding taken out. `BadInput` where it is more than rounding."""
    if not label.parts_j_m:
        return np.zeros(0)
    given = np.array([value for _, value in label.parts_j_m])
    whole = float(part_weights(label) @ given)
    if abs(whole / label.consumption_j_m - 1) > SUM_SLACK:
        least, most = (whole * factor for factor in (1 - SUM_SLACK, 1 + SUM_SLACK))
        raise BadInput(
            f"{FIELD}.consumption_kwh_per_100_km",
            round(label.consumption_j_m / KWH_100_KM, 2),
            f"{consumption_words(label.consumption_j_m, label)} does not go with its parts, which come to "
            f"{consumption_words(least, label)} to {consumption_words(most, label)}",
            "check the combined figure and its parts, or leave the parts out",
        )
    return given * label.consumption_j_m / whole


def check_ranges(label: Label) -> None:
    """A plug-in hybrid's all-electric range is part of its range."""
    electric, whole = label.all_electric_range_m, label.range_m
    if electric is not None and whole is not None and electric > whole:
        raise BadInput(
            f"{FIELD}.all_electric_range_km",
            round(electric / 1000, 1),
            f"{distance_words(electric, label)} on electricity alone is more than the range of "
            f"{distance_words(whole, label)}",
            f"give at most {whole / 1000:.0f} km, or correct range_km",
        )


def check_whole(label: Label, vehicle: Vehicle) -> None:
    """Without a range nothing tells the battery."""
    if vehicle.battery.usable_j is None and label.electric_range_m is None:
        raise BadInput(
            "vehicle.spec.battery.usable_kwh",
            None,
            "neither usable energy nor a range is given, and one of them tells the other",
            "give usable_kwh, or the label's range_km",
        )


def check_pack(label: Label, usable_j: float, kerb_kg: float, wh_per_kg: float) -> None:
    """A pack that only the label tells of must fit into the car."""
    most_j = HEAVIEST_SHARE * kerb_kg * wh_per_kg * 3600
    if LEAST_PACK_J <= usable_j <= most_j:
        return
    name, range_m = ("all_electric_range_km" if label.all_electric_range_m else "range_km"), label.electric_range_m
    low_m, high_m = (range_m * end_j / usable_j for end_j in (LEAST_PACK_J, most_j))
    raise BadInput(
        f"{FIELD}.{name}",
        round(range_m / 1000, 1),
        f"{distance_words(range_m, label)} at {consumption_words(label.consumption_j_m, label)} would take a "
        f"battery of {usable_j / KWH_J:.3g} kWh in a car of {kerb_kg:.0f} kg: batteries that fit give "
        f"{distance_words(low_m, label)} to {distance_words(high_m, label)}",
        "check range, consumption and their units, and the mass",
    )


def check_rating(label: Label, rating_w: float) -> None:
    """A charger that only the recharge time tells of must be one of a car."""
    if LEAST_RATING_W <= rating_w <= MOST_RATING_W:
        return
    hours = label.recharge_s / HOUR_S
    least, most = (hours * rating_w / end_w for end_w in (MOST_RATING_W, LEAST_RATING_W))
    raise BadInput(
        f"{FIELD}.recharge_hours",
        round(hours, 2),
        f"{hours:.3g} h would take a charger of {rating_w / 1000:.3g} kW: "
        f"chargers of cars need {least:.2g} to {most:.3g} h",
        "check that the time is from empty to full on alternating current, or leave it out",
    )


def check_body(label: Label, load: RoadLoad | BodyAndTyres) -> None:
    """The drag area and tyres found must be ones of a car."""
    if not isinstance(load, BodyAndTyres):
        return
    spans = (("a drag area", load.cd_a_m2, *DRAG_AREA_M2, "m²"), ("a rolling resistance", load.crr, *ROLLING, "N/N"))
    for name, value, least, most, unit in spans:
        if not least <= value <= most:
            raise BadInput(
                f"{FIELD}.consumption_kwh_per_100_km",
                round(label.consumption_j_m / KWH_100_KM, 2),
                f"the label asks for {name} of {value:.3g} {unit}, and cars have {least:g} to {most:g} {unit}",
                "check the figures of the label, the adjustment and the mass",
            )


def not_drivable(label: Label) -> BadInput:
    """The model cannot drive such a car through the test."""
    return BadInput(
        f"{FIELD}.consumption_kwh_per_100_km",
        round(label.consumption_j_m / KWH_100_KM, 2),
        "the label's test cannot be driven and recharged with these figures",
        "check battery, motor, charger and mass, and the label's unit",
    )


def beyond_drag(label: Label, least_j_m: float, most_j_m: float) -> BadInput:
    """No plausible car of this mass and battery has that consumption."""
    return BadInput(
        f"{FIELD}.consumption_kwh_per_100_km",
        round(label.consumption_j_m / KWH_100_KM, 2),
        f"{consumption_words(label.consumption_j_m, label)} does not go with this mass, battery and charger: "
        f"plausible bodies give {consumption_words(least_j_m, label)} to {consumption_words(most_j_m, label)}",
        "check the label's unit, the mass and whose procedure it is",
    )


def check_parts(label: Label, model_j_m: np.ndarray, combined_j_m: float, slopes: np.ndarray) -> None:
    """Each part against the first (city), or against the whole cycle.

    Args:
        model_j_m: parts of a typical car of this mass.
        slopes: change of the logarithm of each part for one sigma of air, rolling and losses.
    """
    given = np.array([value for _, value in label.parts_j_m])
    us = label.procedure is LabelProcedure.US
    whole = combined_j_m * given[0] / model_j_m[0] if us else label.consumption_j_m
    beside = slopes[0] if us else (part_weights(label) * model_j_m) @ slopes / combined_j_m
    base = model_j_m[0] / combined_j_m if us else 1.0
    for (name, value), model, slope in zip(label.parts_j_m, model_j_m, slopes, strict=True):
        if us and name == label.parts_j_m[0][0]:
            continue
        middle = whole * base * model / (combined_j_m * base)
        loose = SURE * float(np.linalg.norm(slope - beside)) + PARTS_SLACK + (ADJUSTED_APART if us else 0.0)
        least, most = middle * math.exp(-loose), middle * math.exp(loose)
        if not least <= value <= most:
            first = label.parts_j_m[0][0] if us else "the whole cycle"
            raise BadInput(
                part_field(label, name),
                round(value / KWH_100_KM, 2),
                f"{consumption_words(value, label)} ({name.replace('_', ' ')}) does not go with "
                f"{consumption_words(given[0] if us else label.consumption_j_m, label)} ({first}): plausible cars "
                f"have {consumption_words(least, label)} to {consumption_words(most, label)}",
                "check that the figures are not exchanged, or give the combined consumption alone",
            )


def part_field(label: Label, name: str) -> str:
    """Where a part stands in a question."""
    if label.procedure is LabelProcedure.US:
        return f"{FIELD}.consumption_kwh_per_100_km.{name}"
    return f"{FIELD}.phases.{name}"


def check_energy(label: Label, usable_j: float, model_j: float, span: tuple[float, float]) -> None:
    """Consumption × range against a stated battery.

    Args:
        model_j: what a typical car with that battery gives for consumption × range.
        span: logarithms over it that the charger's losses may add.
    """
    range_m = label.electric_range_m
    told_j = label.consumption_j_m * range_m
    least_j, most_j = model_j * math.exp(span[0] - USABLE_SLACK), model_j * math.exp(span[1] + USABLE_SLACK)
    if least_j <= told_j <= most_j:
        return
    name = "all_electric_range_km" if label.all_electric_range_m else "range_km"
    low_m, high_m = least_j / label.consumption_j_m, most_j / label.consumption_j_m
    raise BadInput(
        f"{FIELD}.{name}",
        round(range_m / 1000, 1),
        f"{distance_words(range_m, label)} at {consumption_words(label.consumption_j_m, label)} take "
        f"{told_j / KWH_J:.1f} kWh, which does not go with a battery of {usable_j / KWH_J:.1f} kWh usable: it gives "
        f"{distance_words(low_m, label)} to {distance_words(high_m, label)}",
        "check range and consumption, where it is metered (basis), and that the battery's figure is its usable energy",
    )


def check_recharge(label: Label, measured: Measured, vehicle: Vehicle, rating_known: bool) -> None:
    """The recharge time against the charger's rating."""
    if label.recharge_s is None or not rating_known:
        return
    hours, model = label.recharge_s / HOUR_S, float(measured.recharge_s[0]) / HOUR_S
    least, most = QUICKEST * model - 0.25, SLOWEST * model + 0.5
    if least <= hours <= most:
        return
    raise BadInput(
        f"{FIELD}.recharge_hours",
        round(hours, 2),
        f"{hours:.1f} h does not go with a charger of {vehicle.onboard_charger_w / 1000:.1f} kW, which needs "
        f"{max(least, 0.1):.1f} to {most:.1f} h for {float(measured.recharge_j[0]) / KWH_J:.1f} kWh at the socket",
        f"check that the time is for {LABEL_RECIPES[label.procedure].supply_volts:.0f} V from empty to full, or leave "
        "out the charger or the time",
    )
