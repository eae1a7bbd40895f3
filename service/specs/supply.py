"""From the grid to the inlet, and what electricity costs."""

from dataclasses import dataclass
from enum import StrEnum

__all__ = ["Circuit", "DayKind", "LoadRule", "Metal", "Prices", "Run", "Tariff", "TariffPeriod", "TariffTier"]


class Metal(StrEnum):
    """What conductors are made of."""

    COPPER = "copper"
    ALUMINIUM = "aluminium"


class LoadRule(StrEnum):
    """What sets the current that a circuit may carry for hours."""

    FOUR_FIFTHS = "four_fifths"  # of the breaker: North America's continuous load
    DOMESTIC_SOCKET = "domestic_socket"  # a household socket, held to what it bears for hours
    RATED = "rated"  # the rating itself
    STATED = "stated"  # as whoever asks says


@dataclass(frozen=True, slots=True)
class Run:
    """Cable between the meter and the socket: either a section or a gauge."""

    length_m: float  # one way
    section_mm2: float | None = None
    awg: int | None = None  # 0 is 1/0
    metal: Metal = Metal.COPPER
    conductor_k: float | None = None  # None: as hot as the cable's rating allows
    flexible: bool = False  # many thin strands, as in leads


@dataclass(frozen=True, slots=True)
class Circuit:
    """What the car is plugged into: volts between the conductors that feed it, continuous amps per phase."""

    id: str
    name: str
    region: str  # north_america, united_kingdom, continental_europe, own
    volts: float  # phase to neutral where there are three phases
    continuous_a: float
    phases: int = 1
    run: Run | None = None  # None: volts are those at the socket
    rating_a: float | None = None  # of breaker or fuse; None where only the continuous current is known
    rule: LoadRule = LoadRule.STATED
    wall_unit: bool | None = None  # a fixed unit; False: a socket; None: not known
    usual: bool = True  # listed beside others on a page; False: only where asked for
    source: str | None = None


class DayKind(StrEnum):
    """What a tariff tells apart."""

    WEEKDAY = "weekday"  # Monday to Friday
    WEEKEND = "weekend"
    HOLIDAY = "holiday"  # a date of the tariff's own list, whatever day of the week it is


@dataclass(frozen=True, slots=True)
class TariffPeriod:
    """A price of energy, on days of some kinds in some months, from one time of the clock to another."""

    months: tuple[int, ...]  # 1 to 12
    days: tuple[DayKind, ...]
    starts_s: float  # of the local clock, after midnight
    ends_s: float  # at most 86 400
    price_per_j: float
    name: str = ""


@dataclass(frozen=True, slots=True)
class TariffTier:
    """A block of a calendar month's energy, and what is added to every price within it."""

    up_to_j: float | None  # None: the last, without an end
    adds_per_j: float


@dataclass(frozen=True, slots=True)
class Tariff:
    """What electricity costs by the clock. Every minute of every month and kind of day has exactly one price.

    A holiday counts as weekend where no period names holidays. The demand charge is asked for once a calendar month.
    """

    id: str
    name: str
    currency: str
    zone: str  # IANA time zone whose clock counts
    periods: tuple[TariffPeriod, ...]
    holidays: tuple[str, ...] = ()  # MM-DD every year, or YYYY-MM-DD
    tiers: tuple[TariffTier, ...] = ()
    demand_per_w: float = 0.0  # of the month's highest mean over a quarter of an hour of the clock
    daily: float = 0.0  # fixed, a day


@dataclass(frozen=True, slots=True)
class Prices:
    """In units of a currency; None where nobody said."""

    currency: str = ""
    electricity_per_j: float | None = None
    work_electricity_per_j: float | None = None  # None: as at home
    fuel_per_m3: float | None = None
