"""The answer as it leaves: the contract's names, people's units, numbers rounded to what they are worth.

Scope    `quotes.answer` in SI → pydantic models. Quantities with scatter are bands; p10 and p90 are null without one.
Use      `QuoteOut.from_quote(quote)`; the page and the sheet have views of their own.
"""

from typing import Self

from pydantic import Field

from service import units
from service.charging.run import Delivered
from service.quotes import answer
from service.quotes.own_share import own_share_of_drive
from service.reporting.cautions import CIRCUIT_CAUTIONS
from service.reporting.engine_sentences import closing
from service.reporting.outgoing import BandOut, Outgoing, rounded
from service.reporting.share_out import UtilityFactorsOut
from service.reporting.words import Units
from service.specs import Circuit

__all__ = ["MODEL_VERSION", "BandOut", "QuoteOut", "rounded"]

MODEL_VERSION = "0.5.0"  # rises whenever a quoted number moves
WH_PER_KM = 1 / units.WH_PER_KM  # Wh/km in one J/m


class VehicleOut(Outgoing):
    """The car that was asked about."""

    id: str
    name: str
    kind: str


class JourneyOut(Outgoing):
    """One journey from the stated start."""

    distance_km: float
    duration_s: float
    battery_wh_per_km: BandOut = Field(description="leaving the cells")
    wall_wh_per_km: BandOut | None = Field(description="at the socket; null for a car without an inlet")
    ledger_wh_per_km: dict[str, float] = Field(
        description="by cause, central row; the causes add up to what battery and engine give"
    )
    engine_wh_per_km: float = Field(description="work of the engine, central row; 0 where it stands or there is none")
    arrives_with_pct: BandOut
    completed_on_electricity: bool

    @classmethod
    def of(cls, journey: answer.JourneyAnswer, engine_j_m: float) -> Self:
        """From SI."""
        return cls(
            distance_km=rounded(journey.distance_m / 1000),
            duration_s=rounded(journey.duration_s),
            battery_wh_per_km=BandOut.of(journey.battery_j_per_m, WH_PER_KM),
            wall_wh_per_km=BandOut.of_optional(journey.wall_j_per_m, WH_PER_KM),
            ledger_wh_per_km=ledger_out(journey.ledger_j_per_m),
            engine_wh_per_km=rounded(engine_j_m * WH_PER_KM),
            arrives_with_pct=BandOut.of(journey.arrives_with, 100),
            completed_on_electricity=journey.completed_on_electricity,
        )


class ToEmptyOut(Outgoing):
    """The same journey repeated until the usable energy is gone or the speed can no longer be held."""

    distance_km: BandOut
    duration_s: float
    battery_wh_per_km: BandOut
    wall_wh_per_km: BandOut | None
    ledger_wh_per_km: dict[str, float]
    engine_wh_per_km: float
    ended_by: str = Field(description="empty, cannot_hold_speed or distance_limit")

    @classmethod
    def of(cls, to_empty: answer.ToEmptyAnswer, engine_j_m: float) -> Self:
        """From SI."""
        return cls(
            distance_km=BandOut.of(to_empty.distance_m, 1 / 1000),
            duration_s=rounded(to_empty.duration_s),
            battery_wh_per_km=BandOut.of(to_empty.battery_j_per_m, WH_PER_KM),
            wall_wh_per_km=BandOut.of_optional(to_empty.wall_j_per_m, WH_PER_KM),
            ledger_wh_per_km=ledger_out(to_empty.ledger_j_per_m),
            engine_wh_per_km=rounded(engine_j_m * WH_PER_KM),
            ended_by=to_empty.ended_by,
        )


class CircuitOut(Outgoing):
    """What the car is plugged into."""

    id: str
    name: str
    region: str
    volts: float
    amps: float = Field(description="continuous, per phase")
    phases: int

    @classmethod
    def of(cls, circuit: Circuit) -> Self:
        """From the record."""
        return cls(
            id=circuit.id,
            name=circuit.name,
            region=circuit.region,
            volts=rounded(circuit.volts),
            amps=rounded(circuit.continuous_a),
            phases=circuit.phases,
        )


class OutletOut(Outgoing):
    """The same refill on another circuit."""

    circuit: CircuitOut
    hours: float | None = Field(description="null where it cannot charge this car")


class CableOut(Outgoing):
    """A run of cable up to the socket, while nothing tapers; the socket's energy does not hold its loss."""

    amps: float = Field(description="in each phase in use")
    volts: float = Field(description="at the socket")
    drop_v: float
    drop_pct: float = Field(description="of the supply's voltage")
    heat_w: float = Field(description="given off by the whole run")
    heat_w_per_m: float
    advice: list[str]

    @classmethod
    def of(cls, found: Delivered, advice: tuple[str, ...]) -> Self:
        """From SI."""
        return cls(
            amps=rounded(found.current_a),
            volts=rounded(found.volts),
            drop_v=rounded(found.drop_v),
            drop_pct=rounded(100 * found.drop_share),
            heat_w=rounded(found.heat_w),
            heat_w_per_m=rounded(found.heat_w_m),
            advice=list(advice),
        )


class ChargingOut(Outgoing):
    """Refilling from empty to full."""

    hours: BandOut
    wall_kwh: BandOut
    efficiency: float = Field(description="energy into the pack over energy at the socket, 0 to 1")
    limited_by: str = Field(description="onboard_charger, circuit or pack: the weakest of links_kw")
    limited_by_sentence: str
    power_kw: float = Field(description="at the socket, while nothing tapers")
    circuit: CircuitOut
    outlets: list[OutletOut] = Field(description="the region's circuits, slowest first, typical car")
    links_kw: dict[str, float] = Field(description="at the socket: what each link would let through alone, by name")
    cable: CableOut | None = Field(description="null where the circuit has no run")
    cautions: list[str] = Field(description="to be shown wherever these figures are")

    @classmethod
    def of(cls, charging: answer.ChargingAnswer) -> Self:
        """From SI."""
        return cls(
            hours=BandOut.of(charging.seconds, 1 / 3600),
            wall_kwh=BandOut.of(charging.wall_j, 1 / units.KWH_J),
            efficiency=rounded(charging.efficiency),
            limited_by=charging.limited_by,
            limited_by_sentence=charging.limited_by_sentence,
            power_kw=rounded(charging.power_w / 1000),
            circuit=CircuitOut.of(charging.circuit),
            outlets=[
                OutletOut(
                    circuit=CircuitOut.of(each.circuit),
                    hours=None if each.seconds is None else rounded(each.seconds / 3600),
                )
                for each in charging.outlets
            ],
            links_kw={name: rounded(power_w / 1000) for name, power_w in charging.links_w.items()},
            cable=charging.cable and CableOut.of(charging.cable, charging.cable_advice),
            cautions=list(CIRCUIT_CAUTIONS),
        )


class EventOut(Outgoing):
    """A limit met on the way, central row, first journey."""

    kind: str
    at_s: float
    at_km: float
    run_s: float
    sentence: str


class EngineStartOut(Outgoing):
    """Why, where and how long the engine ran on the journey, central row."""

    trigger: str
    at_km: float
    at_s: float
    run_s: float
    fuel_l: float
    avoidable: bool = Field(description="by what the driver does")
    advice: str


class DistancesOut(Outgoing):
    """The distances of a car with an engine; null where one is not defined."""

    all_electric: BandOut | None = Field(description="to the first fuel")
    actual_charge_depleting: BandOut | None = Field(description="to the charge-sustaining level")
    charge_depleting_cycle: BandOut | None = Field(description="whole cycles, the transition cycle included")
    equivalent_all_electric: BandOut | None

    @classmethod
    def of(cls, distances: answer.Distances | None) -> Self:
        """From SI; all null for a car without an engine."""
        names = cls.model_fields
        return cls(**{name: BandOut.of_optional(getattr(distances, name, None), 1 / 1000) for name in names})


class SensitivityOut(Outgoing):
    """What one change does to the range."""

    input: str
    effect_km: float
    sentence: str


class AssumptionOut(Outgoing):
    """A value nobody gave, and its source."""

    name: str
    value: float | str | None
    unit: str
    source: str


ALL_ELECTRIC = BandOut(p10=100.0, p50=100.0, p90=100.0)


class QuoteOut(Outgoing):
    """How far, how much, how long to charge, and why."""

    model_version: str
    vehicle: VehicleOut
    range_km: BandOut
    journey: JourneyOut
    to_empty: ToEmptyOut
    charging: ChargingOut | None = Field(description="null for a car without an inlet")
    distances_km: DistancesOut
    engine_starts: list[EngineStartOut] = Field(description="on one journey, central row, as far as 60 reach")
    fuel_l_per_100_km: BandOut | None = Field(description="of one journey; null for a car without an engine")
    sustaining_l_per_100_km: float | None = Field(description="the same journey with the battery used up")
    journey_cost: float | None = Field(description="in the prices' currency; null where a price is missing")
    electric_share_pct: BandOut = Field(description="of the journey's distance, driven with the engine standing")
    utility_factors: UtilityFactorsOut | None = Field(
        description="the electric share of this drive, once a day, beside fleets'; null without plug or engine"
    )
    electric_top_speed_km_h: float | None = Field(description="on the level, on electricity alone")
    events: list[EventOut]
    sensitivities: list[SensitivityOut]
    assumptions: list[AssumptionOut]
    notes: list[str]

    @classmethod
    def from_quote(cls, quote: answer.Quote, units_told: Units = Units.METRIC) -> Self:
        """The whole answer in people's units.

        Args:
            units_told: of the closing sentence; every figure's unit is in its name.
        """
        car, engine = quote.ask.vehicle, quote.engine
        return cls(
            model_version=MODEL_VERSION,
            vehicle=VehicleOut(id=car.id, name=car.name, kind=car.kind),
            range_km=BandOut.of(quote.range_m, 1 / 1000),
            journey=JourneyOut.of(quote.journey, engine.engine_j_m if engine else 0.0),
            to_empty=ToEmptyOut.of(quote.to_empty, engine.depleting_engine_j_m if engine else 0.0),
            charging=None if quote.charging is None else ChargingOut.of(quote.charging),
            distances_km=DistancesOut.of(engine.distances if engine else None),
            engine_starts=[_engine_start(each) for each in engine.starts] if engine else [],
            fuel_l_per_100_km=BandOut.of(engine.fuel_m3_m, 1e8) if engine else None,
            sustaining_l_per_100_km=rounded(engine.sustaining_m3_m * 1e8) if engine else None,
            journey_cost=rounded(quote.journey_cost),
            electric_share_pct=BandOut.of(engine.electric_share, 100) if engine else ALL_ELECTRIC,
            utility_factors=UtilityFactorsOut.of_optional(own_share_of_drive(quote)),
            electric_top_speed_km_h=_scaled(quote.electric_top_speed_m_s, 1 / units.KM_H),
            events=[_event(event) for event in quote.events],
            sensitivities=[_sensitivity(each) for each in quote.sensitivities],
            assumptions=[assumption_out(each) for each in quote.assumptions],
            notes=[*quote.notes, *([closing(quote, units_told).replace("\u00a0", " ")] if engine else [])],
        )


def ledger_out(joules_per_metre: dict[str, float]) -> dict[str, float]:
    """By cause, Wh/km."""
    return {cause: rounded(joules * WH_PER_KM) for cause, joules in joules_per_metre.items()}


def _engine_start(start: answer.EngineStart) -> EngineStartOut:
    return EngineStartOut(
        trigger=start.trigger,
        at_km=rounded(start.at_m / 1000),
        at_s=rounded(start.at_s),
        run_s=rounded(start.run_s),
        fuel_l=rounded(start.fuel_m3 * 1000),
        avoidable=start.avoidable,
        advice=start.advice,
    )


def _scaled(value: float | None, factor: float) -> float | None:
    return None if value is None else rounded(value * factor)


def _event(event: answer.Event) -> EventOut:
    return EventOut(
        kind=event.kind,
        at_s=rounded(event.at_s),
        at_km=rounded(event.at_m / 1000),
        run_s=rounded(event.run_s),
        sentence=event.sentence,
    )


def _sensitivity(each: answer.Sensitivity) -> SensitivityOut:
    return SensitivityOut(input=each.input, effect_km=rounded(each.effect_m / 1000), sentence=each.sentence)


def assumption_out(each: answer.Assumption) -> AssumptionOut:
    """From the record, numbers rounded."""
    value = rounded(each.value) if isinstance(each.value, float) else each.value
    return AssumptionOut(name=each.name, value=value, unit=each.unit, source=each.source)
