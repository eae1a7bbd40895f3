"""The whole question, and the values that fill its gaps."""

from dataclasses import dataclass, field

from service.specs.day import Procedure, Weather
from service.specs.journey import Journey
from service.specs.supply import Circuit, Prices
from service.specs.use import Cabin, EngineUse, Outfit, Start
from service.specs.vehicle import Vehicle

__all__ = ["Ask", "Typical"]


@dataclass(frozen=True, slots=True)
class Typical:
    """A default and where it comes from; used, and listed, wherever a car, day or choice leaves a value open."""

    name: str
    value: float
    unit: str
    spread: float  # 1 σ as a fraction of the value; 0 where it is a definition
    source: str


@dataclass(frozen=True, slots=True)
class Ask:
    """One question, whole: the only argument of `service.quotes.build.build_quote` besides the catalogue."""

    vehicle: Vehicle
    journey: Journey
    weather: Weather
    procedure: Procedure = Procedure.ROAD
    start: Start = field(default_factory=Start)
    cabin: Cabin = field(default_factory=Cabin)
    circuit: Circuit | None = None
    payload_kg: float = 0.0
    band: bool = True
    outfit: Outfit = field(default_factory=Outfit)
    engine_use: EngineUse = field(default_factory=EngineUse)
    prices: Prices = field(default_factory=Prices)
