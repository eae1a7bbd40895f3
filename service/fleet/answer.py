"""What a comparison says: frozen records in SI. `service.reporting` turns them into people's units and sentences."""

from dataclasses import dataclass
from enum import StrEnum

from service.fleet.ask import ComparisonAsk
from service.quotes.answer import Assumption
from service.specs import Ask

__all__ = ["Cell", "Comparison", "FleetVehicle", "RouteLine", "Verdict"]


class Verdict(StrEnum):
    """Whether a day's driving fits on one charge."""

    PASS = "pass"  # nine days in ten
    MARGIN = "margin"  # the typical car does, nine days in ten do not
    FAIL = "fail"  # not even the typical car; one with an engine uses fuel


@dataclass(frozen=True, slots=True)
class Cell:
    """One vehicle on one route in one month."""

    vehicle: str
    route: str
    month: str
    verdict: Verdict
    needed_m: float  # of a day, or of a trip where it is refilled after each; reserve included
    range_m: float  # the quote's middle
    low_m: float  # nine days in ten
    low_month: str  # where the draw behind `low_m` was looked for: here, or in the nearest temperature
    battery_j_per_m: float
    ledger_j_per_m: dict[str, float]
    ended_by: str  # as in a quote: "empty", "cannot_hold_speed" or "distance_limit"
    keeps_up: bool
    charge_left: float  # when plugged in, 0 to 1
    charging_s: float | None  # of one refill; None for a car without an inlet or a refill that does not end
    wall_j: float | None  # of all refills of a day, preheating included
    mildest: str  # month in which the same vehicle goes farthest on the same route
    mildest_range_m: float
    extra_j_per_m: dict[str, float]  # what each cause takes more than in that month

    @property
    def margin_m(self) -> float:
        """What the typical car has left; negative where it falls short."""
        return self.range_m - self.needed_m


@dataclass(frozen=True, slots=True)
class RouteLine:
    """One vehicle on one route over all months: its worst, and how many others do not pass."""

    worst: Cell
    margins: tuple[str, ...]  # months
    fails: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class FleetVehicle:
    """A vehicle as it was compared. `longest` is the cell with its longest refill; None where nothing is charged."""

    key: str
    ask: Ask  # completed, first route, harshest month
    longest: Cell | None
    assumptions: tuple[Assumption, ...]
    notes: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Comparison:
    """The whole answer. `lines` begin with what fails first."""

    ask: ComparisonAsk
    cells: tuple[Cell, ...]  # by route, vehicle, month, in the order asked
    lines: tuple[RouteLine, ...]
    vehicles: tuple[FleetVehicle, ...]
    assumptions: tuple[Assumption, ...]
