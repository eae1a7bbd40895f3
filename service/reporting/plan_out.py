"""A charging plan as it leaves, as JSON and CSV: the contract's names, people's units, the clock of the tariff."""

from datetime import datetime
from itertools import pairwise
from math import isfinite
from typing import Self
from zoneinfo import ZoneInfo

from pydantic import Field

from service import units
from service.charging.plan import PlanLine
from service.quotes.charging_plan import ChargingPlan
from service.quotes.plan_band import PlanBand
from service.reporting.answers import (
    MODEL_VERSION,
    AssumptionOut,
    BandOut,
    Outgoing,
    VehicleOut,
    assumption_out,
    rounded,
)
from service.reporting.table_out import Table
from service.specs import Tariff

__all__ = ["ChargingPlanOut", "ProfileRowOut", "TariffOut", "profile_rows", "table_of"]

COLUMNS = ("starts", "ends", "use", "wall_kw", "price_per_kwh", "state_of_charge_pct")


class ProfileRowOut(Outgoing):
    """Steady power for at most a quarter of an hour, within one price."""

    starts: str
    ends: str
    use: str = Field(description="charging, or readying: cabin and pack on the wall")
    wall_kw: float
    price_per_kwh: float = Field(description="by the clock, without blocks of a month and demand")
    state_of_charge_pct: float = Field(description="at the end")


class PlanLineOut(Outgoing):
    """One way to do it."""

    cost: float
    starts_at: str | None
    ready_at: str | None


class ComparedOut(Outgoing):
    """The three ways."""

    at_once: PlanLineOut
    as_late_as_possible: PlanLineOut
    cheapest: PlanLineOut


class CostPartsOut(Outgoing):
    """What the cost is made of; `daily` is owed anyway and stands outside it."""

    energy: float
    tiers: float
    demand: float
    daily: float


class TariffOut(Outgoing):
    """Which tariff."""

    id: str
    name: str
    currency: str
    time_zone: str


class PlanBandOut(Outgoing):
    """What is not known of car and supply, on the plan's own timetable; p50 is the plan."""

    cost: BandOut
    wall_kwh: BandOut
    ready_at_p10: str
    ready_at_p90: str = Field(description="nine in ten are ready by then")
    ready_in_time_pct: float
    margin_minutes: float = Field(description="from the ninth of ten to the time it must be ready; negative: late")

    @classmethod
    def of(cls, band: PlanBand, found: ChargingPlan) -> Self:
        """From SI."""
        tariff, readying = found.question.tariff, found.plans.cheapest.readying
        deadline_s = readying[0].starts_s if readying else found.question.departs_s
        return cls(
            cost=BandOut.of(band.cost, 1.0),
            wall_kwh=BandOut.of(band.wall_j, 1 / units.KWH_J),
            ready_at_p10=instant(band.ready_s.p10, tariff),
            ready_at_p90=instant(band.ready_s.p90, tariff),
            ready_in_time_pct=rounded(100 * band.in_time),
            margin_minutes=round((deadline_s - band.ready_s.p90) / 60, 1),
        )


class ChargingPlanOut(Outgoing):
    """The cheapest plan, and the two it is compared with."""

    model_version: str
    vehicle: VehicleOut
    tariff: TariffOut
    feasible: bool
    short_kwh: float = Field(description="missing in the battery at departure; 0 where it is feasible")
    late_minutes: float | None = Field(description="0 where feasible; null where the target is never reached")
    cost: float
    currency: str
    cost_parts: CostPartsOut
    wall_kwh: float = Field(description="at the meter, before any run of cable")
    band: PlanBandOut | None = Field(description="of this plan, followed by cars like this one; null if not feasible")
    starts_at: str | None
    ready_at: str | None
    compared: ComparedOut
    profile: list[ProfileRowOut]
    limited_by_sentence: str
    heating_minutes: float = Field(description="of a cold pack, within the charge")
    gap_pct: float = Field(description="by which a still cheaper plan is not ruled out; 0 where it is proven")
    assumptions: list[AssumptionOut]
    notes: list[str]

    @classmethod
    def of(cls, found: ChargingPlan) -> Self:
        """The answer in people's units."""
        plans, tariff, ask = found.plans, found.question.tariff, found.question.ask
        best = plans.cheapest
        cost = best.cost
        profile = profile_rows(best, found)
        return cls(
            model_version=MODEL_VERSION,
            vehicle=VehicleOut(id=ask.vehicle.id, name=ask.vehicle.name, kind=ask.vehicle.kind),
            tariff=TariffOut(id=tariff.id, name=tariff.name, currency=tariff.currency, time_zone=tariff.zone),
            feasible=plans.feasible,
            short_kwh=rounded(plans.short_j / units.KWH_J),
            late_minutes=round(plans.late_s / 60, 1) if isfinite(plans.late_s) else None,
            cost=money(cost.total),
            currency=tariff.currency,
            cost_parts=CostPartsOut(
                **{name: money(getattr(cost, name)) for name in ("energy", "tiers", "demand", "daily")}
            ),
            wall_kwh=rounded(best.wall_j / units.KWH_J),
            band=found.band and PlanBandOut.of(found.band, found),
            starts_at=None if best.starts_s is None else instant(best.starts_s, tariff),
            ready_at=None if best.ready_s is None else instant(best.ready_s, tariff),
            compared=ComparedOut(
                at_once=_line(plans.at_once, tariff),
                as_late_as_possible=_line(plans.as_late, tariff),
                cheapest=_line(best, tariff),
            ),
            profile=profile,
            limited_by_sentence=found.limited_by_sentence,
            heating_minutes=round(found.heating_s / 60, 1),
            gap_pct=rounded(100 * plans.gap),
            assumptions=[assumption_out(each) for each in found.assumptions],
            notes=list(found.notes),
        )


def money(value: float) -> float:
    """Four places: a hundredth of a cent."""
    return round(value, 4) + 0.0


def instant(instant_s: float, tariff: Tariff) -> str:
    """ISO 8601 with the offset of the tariff's clock, whole seconds."""
    return datetime.fromtimestamp(round(instant_s), ZoneInfo(tariff.zone)).isoformat()


def _line(line: PlanLine, tariff: Tariff) -> PlanLineOut:
    return PlanLineOut(
        cost=money(line.cost.total),
        starts_at=None if line.starts_s is None else instant(line.starts_s, tariff),
        ready_at=None if line.ready_s is None else instant(line.ready_s, tariff),
    )


def _drawn(line: PlanLine) -> tuple:
    return (*line.pieces, *line.readying)


def profile_rows(line: PlanLine, found: ChargingPlan) -> list[ProfileRowOut]:
    """Every stretch of a plan; readying is cut where the price changes."""
    tariff, steps = found.question.tariff, found.plans.steps
    charge, rows = found.question.ask.start.state_of_charge, []

    def row(starts_s: float, ends_s: float, wall_w: float, use: str) -> ProfileRowOut:
        return ProfileRowOut(
            starts=instant(starts_s, tariff),
            ends=instant(ends_s, tariff),
            use=use,
            wall_kw=rounded(wall_w / 1000),
            price_per_kwh=money(float(steps.at(0.5 * (starts_s + ends_s))) * units.KWH_J),
            state_of_charge_pct=rounded(100 * charge),
        )

    for piece in line.pieces:
        charge = piece.charge
        rows.append(row(piece.starts_s, piece.ends_s, piece.wall_w, "charging"))
    for each in line.readying:
        inside = [float(edge) for edge in steps.edges_s if each.starts_s < edge < each.ends_s]
        cuts = [each.starts_s, *inside, each.ends_s]
        rows += [row(low, high, each.wall_w, "readying") for low, high in pairwise(cuts)]
    return rows


def table_of(out: ChargingPlanOut) -> Table:
    """The profile as a table."""
    return Table("charging-plan", COLUMNS, [{name: getattr(row, name) for name in COLUMNS} for row in out.profile])
