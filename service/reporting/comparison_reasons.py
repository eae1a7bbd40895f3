"""Why a vehicle keeps or loses a route, in one plain sentence from the ledger. Every number goes through `words`."""

from service.fleet.answer import Cell, Verdict
from service.reporting.engine_sentences import heater_needs_engine
from service.reporting.sentences import CAUSE_NAMES
from service.reporting.words import Units, consumption, distance
from service.specs import Ask

__all__ = ["reason"]

WORTH_NAMING = 0.03  # of the drive's energy; a smaller difference explains nothing
EXTRA_NAMES = CAUSE_NAMES | {
    "air": "thicker air or more wind",
    "rolling": "stiffer tyres",
    "brakes": "braking that is not recovered",
    "pack": "losses inside the colder battery",
}


def reason(cell: Cell, ask: Ask, units: Units) -> str:
    """The verdict and what is behind it.

    Args:
        ask: the cell's vehicle and weather, completed.
    """
    return "; ".join([verdict_words(cell, ask, units), cause_words(cell, units), *limit_words(cell, ask)]) + "."


def verdict_words(cell: Cell, ask: Ask, units: Units) -> str:
    """How far it falls short of what is needed, or what is left."""
    if cell.verdict is Verdict.PASS:
        return f"Nine days in ten leave at least {distance(cell.low_m - cell.needed_m, units)} to spare"
    if cell.verdict is Verdict.MARGIN:
        return (
            f"The usual day fits, but one day in ten falls {distance(cell.needed_m - cell.low_m, units)} or more short"
        )
    short = distance(-cell.margin_m, units)
    if ask.vehicle.kind.has_engine:
        return f"It uses fuel: electricity alone falls {short} short"
    return f"Even the usual day falls {short} short"


def cause_words(cell: Cell, units: Units) -> str:
    """What takes most beyond the mildest month; or that the mildest month would not do, either."""
    if cell.mildest_range_m < cell.needed_m:
        return "the battery is simply smaller than the route" + (
            "" if cell.month == cell.mildest else f", even in the mildest month ({cell.mildest})"
        )
    cause = max(cell.extra_j_per_m, key=cell.extra_j_per_m.__getitem__)
    extra_j_m = cell.extra_j_per_m[cause]
    if extra_j_m >= WORTH_NAMING * cell.battery_j_per_m:
        return f"{consumption(extra_j_m, units)} more than in {cell.mildest} go into {EXTRA_NAMES[cause]}"
    most = max(cell.ledger_j_per_m, key=cell.ledger_j_per_m.__getitem__)
    return f"most of its energy goes into {CAUSE_NAMES[most]}, {consumption(cell.ledger_j_per_m[most], units)}"


def limit_words(cell: Cell, ask: Ask) -> list[str]:
    """Limits that the drive meets."""
    met = {
        "the electric motor is too weak to keep up with this route": not cell.keeps_up,
        "the drive ends where the battery can no longer hold the speed": cell.ended_by == "cannot_hold_speed",
        "the route hardly uses energy: 3 000 km (1 864 mi) stand for its distance": cell.ended_by == "distance_limit",
        "the engine starts to heat the cabin": heater_needs_engine(ask),
    }
    return [words for words, true in met.items() if true]
