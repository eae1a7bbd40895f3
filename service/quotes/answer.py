"""What a quote says: frozen records in SI. `service.reporting` turns them into people's units and pages."""

from collections.abc import Mapping
from dataclasses import dataclass, field

from service.charging.run import Delivered
from service.specs import Ask, Circuit

__all__ = [
    "CAUSES",
    "Assumption",
    "Band",
    "ChargingAnswer",
    "Distances",
    "EngineAnswer",
    "EngineStart",
    "Event",
    "JourneyAnswer",
    "OutletTime",
    "Quote",
    "Sensitivity",
    "ToEmptyAnswer",
]

CAUSES = (
    "air",
    "rolling",
    "climbing",
    "brakes",
    "drivetrain",
    "pack",
    "heating",
    "cooling",
    "pack_conditioning",
    "electronics",
)


@dataclass(frozen=True, slots=True)
class Band:
    """Nine in ten reach p10, half reach p50, one in ten reaches p90. Without a band only p50 is known."""

    p10: float | None
    p50: float
    p90: float | None

    def scaled(self, factor: float) -> "Band":
        """The same band in another unit."""
        return Band(
            None if self.p10 is None else self.p10 * factor,
            self.p50 * factor,
            None if self.p90 is None else self.p90 * factor,
        )


@dataclass(frozen=True, slots=True)
class JourneyAnswer:
    """One journey from the stated start; energy per metre over the part driven on electricity."""

    distance_m: float
    duration_s: float
    battery_j_per_m: Band  # at the cells
    wall_j_per_m: Band | None  # at the socket; None for a car without an inlet
    ledger_j_per_m: dict[str, float]  # by cause, central row
    arrives_with: Band  # state of charge, 0 to 1
    completed_on_electricity: bool


@dataclass(frozen=True, slots=True)
class ToEmptyAnswer:
    """The same journey repeated until the usable energy is gone or the speed can no longer be held."""

    distance_m: Band
    duration_s: float
    battery_j_per_m: Band
    wall_j_per_m: Band | None
    ledger_j_per_m: dict[str, float]
    ended_by: str  # "empty", "cannot_hold_speed" or "distance_limit"


@dataclass(frozen=True, slots=True)
class OutletTime:
    """The same refill, typical car, on another circuit of the region; None where it cannot charge this car."""

    circuit: Circuit
    seconds: float | None


@dataclass(frozen=True, slots=True)
class ChargingAnswer:
    """Refilling from empty to full after the drive to empty, on one circuit."""

    circuit: Circuit
    seconds: Band
    wall_j: Band
    efficiency: float  # energy into the pack's terminals over energy at the socket
    limited_by: str  # "onboard_charger", "circuit" or "pack"
    limited_by_sentence: str
    power_w: float  # at the socket, while nothing tapers
    outlets: tuple[OutletTime, ...] = ()
    links_w: Mapping[str, float] = field(default_factory=dict)  # at the socket: what each link lets through alone
    cable: Delivered | None = None  # on the run of cable while nothing tapers; None without one
    cable_advice: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Event:
    """A limit met on the way, central row, first journey."""

    kind: str
    at_s: float
    at_m: float
    run_s: float
    sentence: str


@dataclass(frozen=True, slots=True)
class EngineStart:
    """Why, where and how long the engine ran, central row, first journey."""

    trigger: str  # of service.physics.triggers.TRIGGERS
    at_m: float
    at_s: float
    run_s: float
    fuel_m3: float
    avoidable: bool
    advice: str


@dataclass(frozen=True, slots=True)
class Distances:
    """The four distances of a car with an engine; None where one is not defined."""

    all_electric: Band | None  # to the first fuel
    actual_charge_depleting: Band | None  # to the charge-sustaining level
    charge_depleting_cycle: Band | None  # whole cycles, the transition cycle included
    equivalent_all_electric: Band | None


@dataclass(frozen=True, slots=True)
class EngineAnswer:
    """The engine's side of an answer; journeys from the stated start."""

    distances: Distances
    starts: tuple[EngineStart, ...]
    fuel_m3_m: Band  # over one journey
    sustaining_m3_m: float  # the same journey with the charge sustained
    electric_share: Band  # of the journey's distance, engine standing
    engine_j_m: float  # work of the engine for each metre of the journey, beside the ledger
    depleting_engine_j_m: float  # the same over the drive to empty


@dataclass(frozen=True, slots=True)
class Sensitivity:
    """What one change does to the range."""

    input: str
    effect_m: float
    sentence: str
    starts_engine: bool = False  # at once, so that nothing is driven on electricity alone


@dataclass(frozen=True, slots=True)
class Assumption:
    """A value nobody gave, and its source."""

    name: str
    value: float | str | None
    unit: str
    source: str


@dataclass(frozen=True, slots=True)
class Quote:
    """The whole answer. `ask` is the question with every gap filled; what filled it is in `assumptions`."""

    ask: Ask
    range_m: Band
    journey: JourneyAnswer
    to_empty: ToEmptyAnswer
    charging: ChargingAnswer | None
    events: tuple[Event, ...]
    sensitivities: tuple[Sensitivity, ...]
    assumptions: tuple[Assumption, ...]
    notes: tuple[str, ...]
    engine: EngineAnswer | None = None
    electric_top_speed_m_s: float | None = None  # on the level, on electricity alone

    @property
    def journey_cost(self) -> float | None:
        """What one journey takes, central figures, in the currency of the stated prices; None where one is missing."""
        prices, sums = self.ask.prices, 0.0
        wall, fuel_m3_m = self.journey.wall_j_per_m, self.engine.fuel_m3_m.p50 if self.engine else 0.0
        for amount, price in (
            (wall.p50 if wall else 0.0, prices.electricity_per_j), (fuel_m3_m, prices.fuel_per_m3),
        ):  # fmt: skip
            if amount > 0 and price is None:
                return None
            sums += amount * (price or 0.0)
        stated = prices.electricity_per_j is not None or prices.fuel_per_m3 is not None
        return sums * self.journey.distance_m if stated else None
