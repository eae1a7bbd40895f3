"""A complaint and what is found about it: frozen records in SI.

Scope    what a workshop knows of one complained drive, and the answer. Sizes of causes stay in the unit of their row of
         data/separating_tests.csv, for that is how they are said and tested.
"""

from dataclasses import dataclass
from enum import StrEnum

from service.catalogue.separating_tests import SeparatingTest
from service.quotes.answer import Assumption, Band
from service.specs import Ask

__all__ = ["CauseFound", "Complaint", "ComplaintAnswer", "Expected", "Missing", "Parked", "Verdict"]


class Parked(StrEnum):
    """Where the car stood before the drive."""

    OUTSIDE = "outside"
    GARAGE = "garage"  # unheated
    WARM = "warm"  # driven shortly before


class Verdict(StrEnum):
    """What the distance says."""

    NORMAL = "normal"
    OUTSIDE = "outside"
    INSUFFICIENT = "insufficient"


@dataclass(frozen=True, slots=True)
class Complaint:
    """One drive that somebody complains of."""

    ask: Ask  # the conditions; its state of health counts only where `health_stated`
    reported_m: float
    end_charge: float = 0.0  # of the usable window, when the reported distance was reached
    parked: Parked | None = None  # None: as `ask.start.soaked` says
    tyre_pa: float | None = None  # gauge, measured; None: taken to be right
    placard_pa: float = 250e3  # usual for cars: common practice
    odometer_m: float | None = None
    health_stated: bool = False
    left_open: frozenset[str] = frozenset()  # inputs that nobody gave, by their path in the question
    words: str = ""  # the customer's


@dataclass(frozen=True, slots=True)
class Expected:
    """The band of distances that healthy cars reach; 95 in 100 lie from p2_5 to p97_5."""

    band: Band
    p2_5: float
    p97_5: float


@dataclass(frozen=True, slots=True)
class Missing:
    """An input that nobody gave: what to ask, and what knowing it would be worth."""

    input: str
    question: str
    why: str
    narrows_m: float  # width of p2_5 to p97_5 over the plausible values, less the width at one value
    decides: bool  # its plausible values lead to different verdicts


@dataclass(frozen=True, slots=True)
class CauseFound:
    """One explanation: what an ordinary case costs in these conditions, and how large it would have to be."""

    about: SeparatingTest
    size: float  # typical, or as measured
    lost_m: float  # at that size
    apparent_j_per_m: float  # the same as consumption: energy expected between the two charges over each distance
    needed_size: float | None  # explains the whole shortfall; None where nothing is missing or no size does
    plausible: bool
    counted: bool = False  # measured, so already part of the expectation; then `lost_m` is what it costs


@dataclass(frozen=True, slots=True)
class ComplaintAnswer:
    """The whole finding. `complaint.ask` has every gap filled."""

    complaint: Complaint
    expected: Expected
    at_placard_m: float | None  # typical car with tyres at placard pressure; None where nothing was measured
    percentile: float  # of the reported distance, 0 to 100
    verdict: Verdict
    sentence: str
    missing: tuple[Missing, ...]
    ledger_j_per_m: dict[str, float]  # typical car, at the cells
    measured_j_per_m: float  # what the cells give between the two charges over the reported distance
    causes: tuple[CauseFound, ...]
    cautions: tuple[str, ...]
    assumptions: tuple[Assumption, ...]
    notes: tuple[str, ...]
