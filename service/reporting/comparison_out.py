"""A comparison as it leaves: the contract's names, people's units, JSON or a table.

Scope    `fleet.answer` in SI → pydantic models, and the cells as a table in which no text is a formula.
Use      `ComparisonOut.from_comparison(comparison)`, `table_of(out)`.
"""

from dataclasses import replace
from typing import Self

from pydantic import Field

from service import units
from service.fleet.answer import Cell, Comparison, FleetVehicle, RouteLine, Verdict
from service.fleet.ask import Month
from service.quotes.answer import CAUSES
from service.reporting.answers import (
    MODEL_VERSION,
    WH_PER_KM,
    AssumptionOut,
    CircuitOut,
    Outgoing,
    assumption_out,
    rounded,
)
from service.reporting.comparison_reasons import reason
from service.reporting.table_out import Table
from service.reporting.words import NBSP, Units
from service.specs import Ask

__all__ = ["CellOut", "ComparisonOut", "table_of"]

COLUMNS = (
    "route", "vehicle", "month", "temperature_c", "verdict", "margin_km", "needed_km", "range_km", "low_km",
    "wh_per_km", "cause", "cause_wh_per_km", "charge_left_pct", "charging_hours", "wall_kwh", "reason",
)  # fmt: skip


class CellOut(Outgoing):
    """One vehicle on one route in one month."""

    vehicle: str
    route: str
    month: str
    temperature_c: float
    verdict: Verdict = Field(description="pass: nine days in ten; margin: only the usual day; fail: not even that one")
    margin_km: float = Field(description="range_km less needed_km; negative where it falls short")
    reason: str
    needed_km: float = Field(description="of a day on one charge, reserve included; of a trip if refilled after each")
    range_km: float = Field(description="the middle: p50 of the single quote")
    low_km: float = Field(description="nine days in ten")
    low_month: str = Field(description="month in which the draw behind low_km was looked for")
    wh_per_km: float = Field(description="leaving the cells, on the way to empty")
    cause: str | None = Field(description="what takes most more than in the mildest month; null in that month itself")
    cause_wh_per_km: float | None
    mildest_month: str
    ended_by: str = Field(description="empty, cannot_hold_speed or distance_limit")
    keeps_up: bool = Field(description="false: the motor is too weak for this route's speeds")
    charge_left_pct: float = Field(description="when plugged in after the day's driving, reserve not driven")
    charging_hours: float | None = Field(description="of one refill; null where nothing is charged")
    wall_kwh: float | None = Field(description="at the socket, for a day's driving")

    @classmethod
    def of(cls, cell: Cell, ask: Ask, reader: Units) -> Self:
        """From SI. `ask`: the cell's vehicle and weather."""
        cause = max(CAUSES, key=cell.extra_j_per_m.__getitem__)
        more = cell.extra_j_per_m[cause] > 0
        return cls(
            vehicle=cell.vehicle,
            route=cell.route,
            month=cell.month,
            temperature_c=celsius(ask.weather.ambient_k),
            verdict=cell.verdict,
            margin_km=rounded(cell.margin_m / 1000),
            reason=reason(cell, ask, reader).replace(NBSP, " "),
            needed_km=rounded(cell.needed_m / 1000),
            range_km=rounded(cell.range_m / 1000),
            low_km=rounded(cell.low_m / 1000),
            low_month=cell.low_month,
            wh_per_km=rounded(cell.battery_j_per_m * WH_PER_KM),
            cause=cause if more else None,
            cause_wh_per_km=rounded(cell.extra_j_per_m[cause] * WH_PER_KM) if more else None,
            mildest_month=cell.mildest,
            ended_by=cell.ended_by,
            keeps_up=cell.keeps_up,
            charge_left_pct=rounded(cell.charge_left * 100),
            charging_hours=hours(cell.charging_s),
            wall_kwh=None if cell.wall_j is None else rounded(cell.wall_j / units.KWH_J),
        )


class RouteLineOut(Outgoing):
    """One vehicle on one route over all months, by its worst."""

    route: str
    vehicle: str
    verdict: Verdict
    worst_month: str
    margin_km: float
    shortfall_km: float = Field(description="by which nine days in ten falls short of what is needed; 0 if it does not")
    needed_km: float
    range_km: float
    low_km: float
    reason: str
    charging_hours: float | None
    wall_kwh: float | None
    margin_months: list[str]
    fail_months: list[str]

    @classmethod
    def of(cls, line: RouteLine, worst: CellOut) -> Self:
        """From the line and its worst cell as it leaves."""
        shared = worst.model_dump(include=set(cls.model_fields) & set(CellOut.model_fields))
        return cls(
            **shared,
            worst_month=worst.month,
            shortfall_km=rounded(max(line.worst.needed_m - line.worst.low_m, 0.0) / 1000),
            margin_months=list(line.margins),
            fail_months=list(line.fails),
        )


class FleetVehicleOut(Outgoing):
    """A vehicle as it was compared, and its longest night."""

    vehicle: str
    id: str
    name: str
    kind: str
    circuit: CircuitOut | None
    charging_hours: float | None = Field(description="most that a refill takes on any route in any month")
    longest_route: str | None
    longest_month: str | None
    assumptions: list[AssumptionOut]
    notes: list[str]

    @classmethod
    def of(cls, each: FleetVehicle) -> Self:
        """From the record."""
        car, circuit, longest = each.ask.vehicle, each.ask.circuit, each.longest
        return cls(
            vehicle=each.key,
            id=car.id,
            name=car.name,
            kind=car.kind,
            circuit=None if circuit is None else CircuitOut.of(circuit),
            charging_hours=hours(longest and longest.charging_s),
            longest_route=longest and longest.route,
            longest_month=longest and longest.month,
            assumptions=[assumption_out(one) for one in each.assumptions],
            notes=list(each.notes),
        )


class MonthOut(Outgoing):
    """The day that stands for a month; null is unknown, and typical values were assumed."""

    month: str
    temperature_c: float
    humidity_pct: float | None
    wind_km_h: float | None
    sun_w_m2: float | None
    altitude_m: float
    surface: str

    @classmethod
    def of(cls, month: Month) -> Self:
        """From SI."""
        day = month.weather
        return cls(
            month=month.name,
            temperature_c=celsius(day.ambient_k),
            humidity_pct=None if day.relative_humidity is None else rounded(day.relative_humidity * 100),
            wind_km_h=None if day.wind_m_s is None else rounded(day.wind_m_s / units.KM_H),
            sun_w_m2=rounded(day.sun_w_m2),
            altitude_m=day.altitude_m,
            surface=day.surface,
        )


class ComparisonOut(Outgoing):
    """Which vehicle keeps which route electric in which month, by how much, and why."""

    model_version: str
    place: str | None
    reserve_km: float
    cells: list[CellOut] = Field(description="by route, vehicle and month, as asked")
    routes: list[RouteLineOut] = Field(description="a route and a vehicle each, what fails first at the top")
    vehicles: list[FleetVehicleOut]
    months: list[MonthOut]
    assumptions: list[AssumptionOut]

    @classmethod
    def from_comparison(cls, comparison: Comparison, reader: Units = Units.METRIC) -> Self:
        """The whole answer. `reader`: units of the sentences; the fields' units are in their names."""
        ask = comparison.ask
        asks = {
            (each.key, month.name): replace(each.ask, weather=month.weather)
            for each in comparison.vehicles
            for month in ask.months
        }
        cells = [CellOut.of(cell, asks[cell.vehicle, cell.month], reader) for cell in comparison.cells]
        by_key = {(cell.route, cell.vehicle, cell.month): cell for cell in cells}
        return cls(
            model_version=MODEL_VERSION,
            place=ask.place and ask.place.name,
            reserve_km=rounded(ask.reserve_m / 1000),
            cells=cells,
            routes=[
                RouteLineOut.of(line, by_key[line.worst.route, line.worst.vehicle, line.worst.month])
                for line in comparison.lines
            ],
            vehicles=[FleetVehicleOut.of(each) for each in comparison.vehicles],
            months=[MonthOut.of(month) for month in ask.months],
            assumptions=[assumption_out(one) for one in comparison.assumptions],
        )


def celsius(kelvin: float) -> float:
    """Degrees as given: the way to kelvin and back leaves dust behind the comma."""
    return round(units.celsius_from_kelvin(kelvin), 6)


def hours(seconds: float | None) -> float | None:
    """Hours, None for unknown."""
    return None if seconds is None else rounded(seconds / 3600)


def table_of(out: ComparisonOut) -> Table:
    """The cells, a row each, units in the header; empty is unknown."""
    return Table("comparison", COLUMNS, [{name: getattr(cell, name) for name in COLUMNS} for cell in out.cells])
