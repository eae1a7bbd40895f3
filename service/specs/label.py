"""An official consumption, and how far it holds a car."""

from dataclasses import dataclass
from enum import StrEnum

__all__ = ["Anchor", "Label", "LabelProcedure", "Meter"]


class LabelProcedure(StrEnum):
    """Whose official label."""

    US = "us"  # two cycles, adjusted for everyday driving
    WLTP = "wltp"


class Meter(StrEnum):
    """Where a label's consumption is metered."""

    SOCKET = "socket"  # AC, charger losses included
    BATTERY = "battery"  # DC, at the pack's terminals


@dataclass(frozen=True, slots=True)
class Label:
    """An official consumption and what stands beside it; `service.quotes.label` finds the car behind it.

    parts_j_m: what the combined figure is made of, by name: city and highway (US), or low, medium, high and extra_high
        (phases of the WLTP cycle); empty where only the combined figure is known.
    range_m: on electricity from full to empty; for a plug-in hybrid `all_electric_range_m` stands before it.
    adjustment: label over test distance of a US label, 40 CFR 600.210-12(d)(3); None where nobody knows it.
    """

    procedure: LabelProcedure
    consumption_j_m: float  # combined
    adjustment: float | None = None
    parts_j_m: tuple[tuple[str, float], ...] = ()
    range_m: float | None = None
    all_electric_range_m: float | None = None
    basis: Meter = Meter.SOCKET
    recharge_s: float | None = None  # empty to full

    @property
    def electric_range_m(self) -> float | None:
        """The distance that goes with the electric consumption."""
        return self.all_electric_range_m or self.range_m


@dataclass(frozen=True, slots=True)
class Anchor:
    """How far a label holds a car: what each factor of a draw does to the label's own figures, first order.

    Each row is a change of a figure for a doubled factor, as a share of the figure, in the order of `factors`.
    """

    factors: tuple[str, ...]  # names of `physics.rows.DRAW`
    combined: tuple[float, ...]  # consumption as the label meters it
    parts: tuple[tuple[float, ...], ...]  # of each part; empty where the label has none
    energy: tuple[float, ...]  # of a whole recharge; empty where the label gives no range
    combined_noise: float  # one sigma of the label's own figure: rounding, repeatability
    parts_noise: tuple[float, ...]  # of the parts against each other
    parts_common: float  # and of all of them together
    energy_noise: float
    energy_told: str  # the factor that a recharge tells: usable or charger
    usable_spread: float  # one sigma of usable energy before the label is looked at
    drag_known: bool  # coefficients of a coastdown stood beside the label
    drag_guessed: bool  # nothing did: neither they nor drag area and tyres
    adjustment_open: bool  # the adjustment is not known: sampled
