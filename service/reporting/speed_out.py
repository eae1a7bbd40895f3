"""A speed table as it leaves: the contract's names, people's units, JSON or CSV.

Use      `SpeedTableOut.from_table(table)`, `table_of(out)`.
"""

from collections.abc import Iterator
from typing import Literal, Self

from pydantic import Field

from service import units
from service.quotes.speed_table import InOneGo, ShortTrip, SpeedTable, SteadyCell
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
from service.reporting.table_out import Table

__all__ = ["SpeedTableOut", "table_of"]

COLUMNS = (
    "drive", "speed_km_h", "distance_km", "temperature_c", "range_km_p10", "range_km_p50", "range_km_p90",
    "battery_wh_per_km", "heating_wh_per_km", "cooling_wh_per_km", "pack_conditioning_wh_per_km", "trips_per_charge",
    "ended_by", "cannot_hold",
)  # fmt: skip


class RangeOut(Outgoing):
    """One steady speed at one temperature."""

    speed_km_h: float
    temperature_c: float
    range_km: BandOut = Field(description="p50 is the single quote's; of a slower drive where the speed cannot be held")
    battery_wh_per_km: float = Field(description="leaving the cells, central row")
    ended_by: str = Field(description="empty, cannot_hold_speed or distance_limit")
    cannot_hold: Literal["motor", "battery"] | None = Field(description="what is too weak for this speed; null: held")

    @classmethod
    def of(cls, cell: SteadyCell) -> Self:
        """From SI."""
        return cls(
            speed_km_h=km_h(cell.speed_m_s),
            temperature_c=celsius(cell.ambient_k),
            range_km=BandOut.of(cell.range_m, 1 / 1000),
            battery_wh_per_km=rounded(cell.battery_j_per_m * WH_PER_KM),
            ended_by=cell.ended_by,
            cannot_hold=cell.cannot_hold or None,
        )


class TripOut(Outgoing):
    """Trips of one length at one temperature, soaked before each; central row, mean of the trips of one charge."""

    distance_km: float
    temperature_c: float
    battery_wh_per_km: float
    heating_wh_per_km: float
    cooling_wh_per_km: float
    pack_conditioning_wh_per_km: float
    trips_per_charge: int = Field(description="whole trips; 0: not even the first is finished")

    @classmethod
    def of(cls, trip: ShortTrip) -> Self:
        """From SI."""
        return cls(
            distance_km=rounded(trip.distance_m / 1000),
            trips_per_charge=trip.trips_per_charge,
            **taken(trip),
        )


class InOneGoOut(Outgoing):
    """The longest of the trips again and again without a pause, soaked before the first."""

    temperature_c: float
    range_km: float
    battery_wh_per_km: float
    heating_wh_per_km: float
    cooling_wh_per_km: float
    pack_conditioning_wh_per_km: float

    @classmethod
    def of(cls, drive: InOneGo) -> Self:
        """From SI."""
        return cls(range_km=rounded(drive.range_m / 1000), **taken(drive))


class CannotHoldOut(Outgoing):
    """A speed that this car cannot drive at this temperature."""

    speed_km_h: float
    temperature_c: float
    limited_by: Literal["motor", "battery"]


class TripKindOut(Outgoing):
    """What the short trips are like."""

    speed_km_h: float
    stops_per_km: float


class SpeedTableOut(Outgoing):
    """Range against speed and temperature, and short trips beside the same driving in one go."""

    model_version: str
    vehicle: VehicleOut
    range_km: list[RangeOut] = Field(description="by temperature, then speed, as asked")
    cannot_hold: list[CannotHoldOut]
    trip: TripKindOut
    short_trips: list[TripOut] = Field(description="by temperature, then distance, as asked")
    in_one_go: list[InOneGoOut]
    assumptions: list[AssumptionOut]
    notes: list[str]

    @classmethod
    def from_table(cls, found: SpeedTable) -> Self:
        """The whole answer in people's units."""
        car, kind = found.ask.vehicle, found.question.trip
        cells = [RangeOut.of(cell) for cell in found.cells]
        return cls(
            model_version=MODEL_VERSION,
            vehicle=VehicleOut(id=car.id, name=car.name, kind=car.kind),
            range_km=cells,
            cannot_hold=[
                CannotHoldOut(speed_km_h=cell.speed_km_h, temperature_c=cell.temperature_c, limited_by=cell.cannot_hold)
                for cell in cells
                if cell.cannot_hold
            ],
            trip=TripKindOut(speed_km_h=km_h(kind.speed_m_s), stops_per_km=rounded(kind.stops_per_m * 1000)),
            short_trips=[TripOut.of(trip) for trip in found.trips],
            in_one_go=[InOneGoOut.of(drive) for drive in found.in_one_go],
            assumptions=[assumption_out(one) for one in found.assumptions],
            notes=list(found.notes),
        )


def taken(drive: ShortTrip | InOneGo) -> dict[str, float]:
    """What both kinds of drive say alike."""
    return {
        "temperature_c": celsius(drive.ambient_k),
        "battery_wh_per_km": rounded(drive.battery_j_per_m * WH_PER_KM),
        "heating_wh_per_km": rounded(drive.heating_j_per_m * WH_PER_KM),
        "cooling_wh_per_km": rounded(drive.cooling_j_per_m * WH_PER_KM),
        "pack_conditioning_wh_per_km": rounded(drive.conditioning_j_per_m * WH_PER_KM),
    }


def km_h(speed_m_s: float) -> float:
    """As given: the way to m/s and back leaves dust behind the comma."""
    return round(speed_m_s / units.KM_H, 6)


def celsius(kelvin: float) -> float:
    """The same for degrees; never −0."""
    return round(units.celsius_from_kelvin(kelvin), 6) + 0.0


def table_of(out: SpeedTableOut) -> Table:
    """All of it, a row a cell, units in the header; empty where a column does not belong to the drive."""
    return Table("speed-and-weather", COLUMNS, list(_rows(out)))


def _rows(out: SpeedTableOut) -> Iterator[dict[str, object]]:
    for cell in out.range_km:
        row = cell.model_dump()
        band = row.pop("range_km")
        row["cannot_hold"] = row["cannot_hold"] or ""
        yield {"drive": "steady"} | row | {f"range_km_{name}": value for name, value in band.items()}
    for trip in out.short_trips:
        yield {"drive": "short_trip", "speed_km_h": out.trip.speed_km_h} | trip.model_dump()
    for drive in out.in_one_go:
        row = drive.model_dump()
        row["range_km_p50"] = row.pop("range_km")
        yield {"drive": "in_one_go", "speed_km_h": out.trip.speed_km_h} | row
