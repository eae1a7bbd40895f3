"""Labels fitted and tests run, as they leave: the contract's names, people's units, rounded."""

from typing import Self

import numpy as np
from pydantic import Field

from service import units
from service.quotes.answer import Assumption
from service.quotes.label import Moved
from service.quotes.label_spread import Spread
from service.quotes.procedure_run import Measured
from service.quotes.procedures import Recipe
from service.reporting.answers import AssumptionOut, BandOut, Outgoing, VehicleOut, assumption_out, rounded
from service.reporting.entries import label_out, spec_out
from service.specs import Climate, Label, LabelProcedure, Vehicle

__all__ = ["LabelFitOut", "ProcedureOut", "ProcedureRunOut"]

J_M = units.KWH_J / 1e5  # in one kWh/100 km
DIGITS = 5


class MovedOut(Outgoing):
    """One figure of the car that the label told."""

    parameter: str
    value: float
    unit: str
    typical: float | None = Field(description="where the fit began; null where nothing is usual")
    plausible: bool

    @classmethod
    def of(cls, moved: Moved) -> Self:
        """From the record."""
        return cls(
            parameter=moved.parameter,
            value=rounded(moved.value),
            unit=moved.unit,
            typical=rounded(moved.typical),
            plausible=bool(moved.plausible),
        )


class SpreadOut(BandOut):
    """A figure over all cars that give this label."""

    parameter: str
    unit: str

    @classmethod
    def of_spread(cls, spread: Spread) -> Self:
        """From the record."""
        return cls(parameter=spread.parameter, unit=spread.unit, **BandOut.of(spread.band).model_dump())


class LabelFitOut(Outgoing):
    """The car behind a label."""

    vehicle: dict[str, object] = Field(description="may be sent as vehicle.spec")
    label: dict[str, object] = Field(description="as the fitted car reproduces it")
    moved: list[MovedOut]
    spread: list[SpreadOut] = Field(description="what the label leaves open; p10 to p90 of cars that give this label")
    assumptions: list[AssumptionOut]
    notes: list[str]

    @classmethod
    def of(
        cls, vehicle: Vehicle, label: Label, moved: tuple[Moved, ...], spread: tuple[Spread, ...],
        assumptions: tuple[Assumption, ...], notes: tuple[str, ...],
    ) -> Self:  # fmt: skip
        """From the records."""
        return cls(
            vehicle=spec_out(vehicle),
            label=_reproduced(label, bool(vehicle.label.parts_j_m)),
            moved=[MovedOut.of(each) for each in moved],
            spread=[SpreadOut.of_spread(each) for each in spread],
            assumptions=[assumption_out(each) for each in assumptions],
            notes=list(notes),
        )


def _reproduced(label: Label, apart: bool) -> dict[str, object]:
    """The label in the shape in which it was given, and besides it every figure that such a label may have."""
    shown, combined = label_out(label, DIGITS), rounded(label.consumption_j_m / J_M)
    if not apart:
        shown["consumption_kwh_per_100_km"] = combined
    us = label.procedure is LabelProcedure.US
    parts = {f"{name}_kwh_per_100_km": rounded(value / J_M) for name, value in label.parts_j_m} if us else {}
    return shown | {"combined_kwh_per_100_km": combined} | parts


class PartOut(Outgoing):
    """A drive of a test, or all of it."""

    name: str
    share: float = Field(description="in the combined consumption and range")
    socket_kwh_per_100_km: float | None = Field(description="null for a car without an inlet")
    battery_kwh_per_100_km: float
    range_km: float


class PhaseOut(Outgoing):
    """A stretch of the cycle metered by itself."""

    name: str
    socket_kwh_per_100_km: float | None
    battery_kwh_per_100_km: float


class AdjustedOut(Outgoing):
    """As a label for everyday driving states it."""

    adjustment: float
    consumption_kwh_per_100_km: float | None
    range_km: float


class ProcedureOut(Outgoing):
    """A test as a recipe."""

    id: str
    name: str
    kind: str = "procedure"
    parts: list[dict[str, object]] = Field(description="what is driven, and its share")
    meter: str
    mass: str
    cell_c: float
    cell: str
    soaked: bool
    climate: Climate
    supply_v: float
    coefficient_factor: float = Field(description="on all three target coefficients")
    adjustment: dict[str, float] | None = Field(description="label over test: least, usual and most")
    source: str

    @classmethod
    def of(cls, recipe: Recipe) -> Self:
        """From the record."""
        span = recipe.adjustment
        return cls(
            id=recipe.id,
            name=recipe.name,
            parts=[
                {
                    "name": part.name,
                    "share": part.share,
                    "cycle": part.journey.cycle,
                    "speed_km_h": rounded(part.journey.legs[0].speed_m_s / units.KM_H) if part.journey.legs else None,
                    "phases": [phase.name for phase in part.phases],
                }
                for part in recipe.parts
            ],
            meter=recipe.meter,
            mass=recipe.mass_rule,
            cell_c=round(units.celsius_from_kelvin(recipe.cell_k), 2),
            cell=recipe.cell_words,
            soaked=recipe.soaked,
            climate=recipe.climate,
            supply_v=recipe.supply_volts,
            coefficient_factor=recipe.coefficient_factor,
            adjustment=None if span is None else {"least": span.least, "usual": span.usual, "most": span.most},
            source=recipe.source,
        )


class ProcedureRunOut(Outgoing):
    """What a car gets in a test."""

    procedure: str
    vehicle: VehicleOut
    parts: list[PartOut]
    phases: list[PhaseOut]
    combined: PartOut
    adjusted: AdjustedOut | None = Field(description="US: by 0.7, or what the car's own label says")
    recharge_kwh: float | None = Field(description="at the socket, empty to full")
    recharge_hours: float | None
    assumptions: list[AssumptionOut]

    @classmethod
    def of(cls, measured: Measured, vehicle: Vehicle, assumptions: tuple[Assumption, ...]) -> Self:
        """From the arrays; the first row counts."""
        recipe = measured.recipe
        combined = _part("combined", 1.0, measured.socket[0], measured.battery[0], measured.range[0])
        return cls(
            procedure=recipe.id,
            vehicle=VehicleOut(id=vehicle.id, name=vehicle.name, kind=vehicle.kind),
            parts=[
                _part(
                    part.name, part.share, measured.socket_j_m[0, k], measured.battery_j_m[0, k], measured.range_m[0, k]
                )
                for k, part in enumerate(recipe.parts)
            ],
            phases=_phases(measured),
            combined=combined,
            adjusted=_adjusted(measured, vehicle),
            recharge_kwh=_known(measured.recharge_j[0] / units.KWH_J),
            recharge_hours=_known(measured.recharge_s[0] / 3600),
            assumptions=[assumption_out(each) for each in assumptions],
        )


def _part(name: str, share: float, socket_j_m: float, battery_j_m: float, range_m: float) -> PartOut:
    return PartOut(
        name=name,
        share=share,
        socket_kwh_per_100_km=_known(socket_j_m / J_M),
        battery_kwh_per_100_km=rounded(battery_j_m / J_M),
        range_km=rounded(range_m / 1000),
    )


def _phases(measured: Measured) -> list[PhaseOut]:
    phases = measured.recipe.parts[0].phases
    return [
        PhaseOut(
            name=phase.name,
            socket_kwh_per_100_km=_known(share * measured.socket[0] / J_M),
            battery_kwh_per_100_km=rounded(share * measured.battery[0] / J_M),
        )
        for phase, share in zip(phases, measured.phase_share[0], strict=bool(measured.phase_share.shape[1]))
    ]


def _adjusted(measured: Measured, vehicle: Vehicle) -> AdjustedOut | None:
    """By the label's own adjustment where the car has one."""
    span = measured.recipe.adjustment
    if span is None:
        return None
    known = vehicle.label.adjustment if vehicle.label else None
    adjustment = known or span.usual
    return AdjustedOut(
        adjustment=adjustment,
        consumption_kwh_per_100_km=_known(measured.socket[0] / J_M / adjustment),
        range_km=rounded(measured.range[0] / 1000 * adjustment),
    )


def _known(value: float) -> float | None:
    """Rounded; null for what a car without an inlet does not have."""
    return None if np.isnan(value) else rounded(float(value))
