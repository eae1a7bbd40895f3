"""The electric side as it leaves: envelope, pack sizes, standing ready. The contract's names, people's units."""

from typing import Self

from pydantic import Field

from service import units
from service.quotes.envelope import Envelope
from service.quotes.pack_size import PackSizes
from service.quotes.standby import Standby
from service.reporting.answers import (
    MODEL_VERSION,
    WH_PER_KM,
    AssumptionOut,
    BandOut,
    Outgoing,
    VehicleOut,
    assumption_out,
    rounded,
)
from service.reporting.standby_sentences import standby_sentences
from service.specs import Ask, Layout

__all__ = ["ElectricSideOut", "EnvelopeOut", "PackSizesOut", "StandbyOut"]

LIMIT_WORDS = (
    "motor_torque, motor_power, motor_heat, pack, grip, generator_speed (the planetary gear), control_speed or "
    "control_power (the car's own thresholds)"
)


def _vehicle(ask: Ask) -> VehicleOut:
    return VehicleOut(id=ask.vehicle.id, name=ask.vehicle.name, kind=ask.vehicle.kind)


def _km_h(speed_m_s: float) -> float:
    return rounded(speed_m_s / units.KM_H)


def _rpm(rad_s: float) -> float:
    return rounded(rad_s / units.RPM)


class TopSpeedOut(Outgoing):
    """Fastest steady speed on one grade."""

    grade_pct: float
    speed_km_h: float = Field(description="0 where it cannot even start")
    limited_by: str = Field(description=LIMIT_WORDS)


class GearOut(Outgoing):
    """The planetary gear at one road speed and one engine speed; negative turns backwards."""

    road_speed_km_h: float
    engine_rpm: float
    ring_rpm: float
    sun_rpm: float = Field(description="the generator motor")
    within_limit: bool = Field(description="the generator motor may turn so fast")


class JourneyPointOut(Outgoing):
    """Part of a journey about one speed and force."""

    speed_km_h: float
    force_n: float
    share_of_time_pct: float


class EnvelopeOut(Outgoing):
    """What it pulls on electricity alone. Arrays have one entry a speed."""

    model_version: str
    vehicle: VehicleOut
    layout: Layout
    speeds_km_h: list[float]
    force_n: list[float] = Field(description="for ten seconds, at the tyres")
    limited_by: list[str] = Field(description=LIMIT_WORDS)
    held_force_n: list[float] = Field(description="for as long as one likes")
    held_limited_by: list[str]
    road_load_n: list[float] = Field(description="on the level, tyres warmed")
    electric_top_speed_km_h: float = Field(description="held on the level")
    top_speeds: list[TopSpeedOut]
    minutes_at_top_speed: float = Field(description="until the charge is gone or at the car's low-charge trigger")
    pack_kw: float = Field(description="what the pack gives as the car stands")
    load_kw: float = Field(description="of that for cabin and electronics")
    generator_push_n: float = Field(description="what the generator motor adds through a held engine")
    gear_top_speed_km_h: float | None = Field(description="where the gear ends with the engine still; null without one")
    gears: list[GearOut]
    journey_points: list[JourneyPointOut] = Field(description="standing and braking have none")
    beyond_pct: float | None = Field(description="of the driving time, asking for more than force_n; null: no journey")
    assumptions: list[AssumptionOut]
    notes: list[str]

    @classmethod
    def of(cls, answer: Envelope) -> Self:
        """From SI."""
        limit_m_s = answer.gear_limit_m_s
        return cls(
            model_version=MODEL_VERSION,
            vehicle=_vehicle(answer.ask),
            layout=answer.layout,
            speeds_km_h=[_km_h(speed) for speed in answer.moment.speed_m_s],
            force_n=[rounded(force) for force in answer.moment.force_n],
            limited_by=list(answer.moment.limited_by),
            held_force_n=[rounded(force) for force in answer.held.force_n],
            held_limited_by=list(answer.held.limited_by),
            road_load_n=[rounded(force) for force in answer.road_load_n],
            electric_top_speed_km_h=_km_h(answer.top.speed_m_s),
            top_speeds=[
                TopSpeedOut(
                    grade_pct=rounded(100 * each.grade),
                    speed_km_h=_km_h(each.speed_m_s),
                    limited_by=each.limited_by,
                )
                for each in answer.top_speeds
            ],
            minutes_at_top_speed=rounded(answer.seconds_at_top / 60),
            pack_kw=rounded(answer.pack_w / 1000),
            load_kw=rounded(answer.load_w / 1000),
            generator_push_n=rounded(answer.push_n),
            gear_top_speed_km_h=None if limit_m_s is None else _km_h(limit_m_s),
            gears=[
                GearOut(
                    road_speed_km_h=_km_h(row.speed_m_s),
                    engine_rpm=_rpm(row.engine_rad_s),
                    ring_rpm=_rpm(row.ring_rad_s),
                    sun_rpm=_rpm(row.sun_rad_s),
                    within_limit=row.within,
                )
                for row in answer.gears
            ],
            journey_points=[
                JourneyPointOut(
                    speed_km_h=_km_h(point.speed_m_s),
                    force_n=rounded(point.force_n),
                    share_of_time_pct=rounded(100 * point.share),
                )
                for point in answer.points
            ],
            beyond_pct=None if answer.beyond is None else rounded(100 * answer.beyond),
            assumptions=[assumption_out(each) for each in answer.assumptions],
            notes=[*answer.findings, *answer.notes],
        )


class PackSizeOut(Outgoing):
    """The car with one pack."""

    usable_kwh: float
    nominal_kwh: float
    pack_kg: float
    kerb_kg: float
    range_km: float
    battery_wh_per_km: float = Field(description="leaving the cells")
    wall_wh_per_km: float | None = Field(description="at the socket; null for a car without an inlet")
    payload_left_kg: float = Field(description="below the gross limit with the people aboard; negative: too heavy")
    charging_hours: float | None = Field(description="from empty to full; null for a car without an inlet")
    own: bool = Field(description="the pack it has")


class PackSizesOut(Outgoing):
    """The same question with other packs, smallest first; the central car."""

    model_version: str
    vehicle: VehicleOut
    sizes: list[PackSizeOut]
    pack_wh_per_kg: float
    gross_kg: float
    assumptions: list[AssumptionOut]
    notes: list[str]

    @classmethod
    def of(cls, answer: PackSizes) -> Self:
        """From SI."""
        return cls(
            model_version=MODEL_VERSION,
            vehicle=_vehicle(answer.ask),
            sizes=[
                PackSizeOut(
                    usable_kwh=rounded(each.usable_j / units.KWH_J),
                    nominal_kwh=rounded(each.nominal_j / units.KWH_J),
                    pack_kg=rounded(each.pack_kg),
                    kerb_kg=rounded(each.kerb_kg),
                    range_km=rounded(each.range_m / 1000),
                    battery_wh_per_km=rounded(each.battery_j_per_m * WH_PER_KM),
                    wall_wh_per_km=None if each.wall_j_per_m is None else rounded(each.wall_j_per_m * WH_PER_KM),
                    payload_left_kg=rounded(each.payload_left_kg),
                    charging_hours=None if each.charging_s is None else rounded(each.charging_s / 3600),
                    own=each.own,
                )
                for each in answer.sizes
            ],
            pack_wh_per_kg=rounded(answer.j_per_kg / 3600),
            gross_kg=rounded(answer.gross_kg),
            assumptions=[assumption_out(each) for each in answer.assumptions],
            notes=list(answer.notes),
        )


class AfterOut(Outgoing):
    """The charge after a time."""

    hours: float
    state_of_charge_pct: BandOut
    lasts: bool = Field(description="nine days in ten it lasts so long")


class StandbyOut(Outgoing):
    """Ready and not moving."""

    model_version: str
    vehicle: VehicleOut
    hours: BandOut = Field(description="nine in ten at least p10")
    ended_by: str = Field(description="empty, low_charge_trigger, longer_than_told or already_there")
    ends_at_pct: float = Field(description="charge at which it ends")
    battery_kwh: BandOut = Field(description="leaving the cells until then")
    holding_kw: BandOut = Field(description="once the cabin has settled")
    climate_kw: float = Field(description="of that for heating and cooling, typical car")
    engine_heats: bool = Field(description="the day asks for heat that only the engine gives")
    after: AfterOut
    sentences: list[str]
    assumptions: list[AssumptionOut]
    notes: list[str]
    cautions: list[str]

    @classmethod
    def of(cls, answer: Standby) -> Self:
        """From SI."""
        return cls(
            model_version=MODEL_VERSION,
            vehicle=_vehicle(answer.ask),
            hours=BandOut.of(answer.seconds, 1 / 3600),
            ended_by=answer.ended_by,
            ends_at_pct=rounded(100 * answer.floor),
            battery_kwh=BandOut.of(answer.cells_j, 1 / units.KWH_J),
            holding_kw=BandOut.of(answer.holding_w, 1 / 1000),
            climate_kw=rounded(answer.climate_w / 1000),
            engine_heats=answer.engine_heats,
            after=AfterOut(
                hours=rounded(answer.asked_s / 3600),
                state_of_charge_pct=BandOut.of(answer.charge_after, 100),
                lasts=answer.lasts,
            ),
            sentences=list(standby_sentences(answer)),
            assumptions=[assumption_out(each) for each in answer.assumptions],
            notes=list(answer.notes),
            cautions=list(answer.cautions),
        )


class ElectricSideOut(Outgoing):
    """The three together, of one question: what its page shows."""

    envelope: EnvelopeOut
    pack_sizes: PackSizesOut
    standby: StandbyOut
