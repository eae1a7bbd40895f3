"""A charging session as it leaves: the contract's names, people's units, JSON or CSV.

Use      `SessionOut.from_answer(answer)`, `table_of(out)`.
"""

from typing import Literal, Self

from pydantic import Field

from service import units
from service.quotes.charging_session import FastCharge, SessionAnswer, SupplyEnds
from service.reporting.answers import (
    MODEL_VERSION,
    AssumptionOut,
    Outgoing,
    VehicleOut,
    assumption_out,
    rounded,
)
from service.reporting.cautions import CIRCUIT_CAUTIONS
from service.reporting.table_out import Table

__all__ = ["SessionOut", "table_of"]

COLUMNS = ("t_s", "wall_kw", "pack_kw", "state_of_charge_pct", "pack_temperature_c")
HOUR_S = 3600.0


class CurvePointOut(Outgoing):
    """The start of a stretch: powers hold until the next point, the last of which ends the session."""

    t_s: float
    wall_kw: float = Field(description="at the meter, before any run of cable; at a station's plug")
    pack_kw: float = Field(description="into the battery's terminals")
    state_of_charge_pct: float
    pack_temperature_c: float


class FastChargeOut(Outgoing):
    """Ten to eighty per cent at this station."""

    minutes_10_to_80: float = Field(description="from the battery temperature asked for")
    minutes_10_to_80_preheated: float
    preheated_to_c: float
    preheat_kwh: float = Field(description="heat that the battery takes up to get there, before plugging in")

    @classmethod
    def of(cls, fast: FastCharge) -> Self:
        """From SI."""
        return cls(
            minutes_10_to_80=rounded(fast.seconds / 60),
            minutes_10_to_80_preheated=rounded(fast.preheated_s / 60),
            preheated_to_c=celsius(fast.preheated_k),
            preheat_kwh=rounded(fast.preheat_j / units.KWH_J),
        )


class SupplyOut(Outgoing):
    """The same session at the ends of the supply's steady voltage; null hours: not within ten days."""

    volts_low: float
    volts_nominal: float
    volts_high: float
    hours_at_low: float | None
    hours_at_high: float | None

    @classmethod
    def of(cls, ends: SupplyEnds, nominal_v: float) -> Self:
        """From SI."""
        low, high = (None if each is None else rounded(each / HOUR_S) for each in (ends.low_s, ends.high_s))
        return cls(
            volts_low=rounded(ends.low_v),
            volts_nominal=rounded(nominal_v),
            volts_high=rounded(ends.high_v),
            hours_at_low=low,
            hours_at_high=high,
        )


class SessionOut(Outgoing):
    """One charging session: wall = stored + all losses."""

    model_version: str
    vehicle: VehicleOut
    hours: float = Field(
        description="from plugging in to the end, heating and balancing included; at a circuit's nominal voltage"
    )
    supply: SupplyOut | None = Field(description="null at a station")
    wall_kwh: float = Field(description="at the meter, before any run of cable; at a station's plug")
    stored_kwh: float = Field(description="in the cells, at open-circuit voltage")
    efficiency: float | None = Field(description="stored over wall; null where nothing was drawn")
    limited_by: Literal["onboard_charger", "circuit", "supply_equipment", "cable", "pack", "station"]
    limited_by_sentence: str
    losses_kwh: dict[str, float] = Field(
        description="cable, charger, overhead, pack, preheat, cooling, balancing: with stored_kwh they make up wall_kwh"
    )
    ended: Literal["reached", "full", "too long"] = Field(description="full: the taper ended below to_pct")
    reached_pct: float
    heating_hours: float = Field(description="before charging began")
    balancing_hours: float = Field(description="after the battery was full")
    fast_charge: FastChargeOut | None = Field(description="null at an AC circuit")
    curve: list[CurvePointOut]
    assumptions: list[AssumptionOut]
    notes: list[str]
    cautions: list[str]

    @classmethod
    def from_answer(cls, found: SessionAnswer) -> Self:
        """The whole answer in people's units."""
        car = found.ask.vehicle
        return cls(
            model_version=MODEL_VERSION,
            vehicle=VehicleOut(id=car.id, name=car.name, kind=car.kind),
            hours=rounded(found.seconds / HOUR_S),
            supply=found.ends and SupplyOut.of(found.ends, found.ask.supply.volts),
            wall_kwh=rounded(found.wall_j / units.KWH_J),
            stored_kwh=rounded(found.stored_j / units.KWH_J),
            efficiency=rounded(found.efficiency),
            limited_by=found.limited_by,
            limited_by_sentence=found.limited_by_sentence,
            losses_kwh={place: rounded(joule / units.KWH_J) for place, joule in found.losses_j.items()},
            ended=found.ended,
            reached_pct=rounded(100 * found.charge),
            heating_hours=rounded(found.heating_s / HOUR_S),
            balancing_hours=rounded(found.balancing_s / HOUR_S),
            fast_charge=found.fast and FastChargeOut.of(found.fast),
            curve=points_of(found),
            assumptions=[assumption_out(one) for one in found.assumptions],
            notes=list(found.notes),
            cautions=[*found.cautions, *CIRCUIT_CAUTIONS],
        )


def points_of(found: SessionAnswer) -> list[CurvePointOut]:
    """The starts of all stretches, and the end with no power."""
    points = [
        CurvePointOut(
            t_s=round(float(row.start_s), 1),
            wall_kw=rounded(float(row.meter_w) / 1000),
            pack_kw=rounded(float(row.terminal_w) / 1000),
            state_of_charge_pct=rounded(100 * float(row.charge)),
            pack_temperature_c=celsius(float(row.pack_k)),
        )
        for row in found.curve
    ]
    end = CurvePointOut(
        t_s=round(found.seconds, 1),
        wall_kw=0.0,
        pack_kw=0.0,
        state_of_charge_pct=rounded(100 * found.charge),
        pack_temperature_c=celsius(found.pack_k),
    )
    return [*points, end]


def celsius(kelvin: float) -> float:
    """To a tenth; never −0."""
    return round(units.celsius_from_kelvin(kelvin), 1) + 0.0


def table_of(out: SessionOut) -> Table:
    """The curve, a row a point, units in the header."""
    return Table("charging-session", COLUMNS, [point.model_dump() for point in out.curve])
