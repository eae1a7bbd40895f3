"""What a window label or a brochure says, as people give it: the contract's names, units and checks.

Scope    the label itself; the car it belongs to is `vehicle.SpecIn` or `label_fit.LabelFitRequest`. Whether the figures
         go together is found by the fit (`service.quotes.label`), which refuses them by the same names.
"""

from collections.abc import Mapping
from typing import Annotated, Any

from pydantic import Discriminator, Field, Tag, model_validator

from service import specs, units
from service.intake.fields import Incoming, Number, limited, optional, said

__all__ = ["CityHighway", "LabelIn", "PhasesIn", "with_gaps_of_a_label"]

J_M = units.KWH_J / (100 * 1000)  # in one kWh/100 km
CITY_SHARE = 0.55  # 40 CFR 600.210-12(c)
USE = "consumption_kwh_per_100_km"


class CityHighway(Incoming):
    """The two consumptions of a US label."""

    city: Number = limited("city")
    highway: Number = limited("highway")

    def combined(self) -> float:
        """55 to 45: harmonic for fuel economy, so arithmetic for consumption."""
        return CITY_SHARE * self.city + (1 - CITY_SHARE) * self.highway


class PhasesIn(Incoming):
    """The four phases of a WLTP cycle."""

    low: Number = limited("low")
    medium: Number = limited("medium")
    high: Number = limited("high")
    extra_high: Number = limited("extra_high")


def _kind_of_consumption(value: Any) -> str:
    """One figure, or city and highway."""
    return "parts" if isinstance(value, Mapping | CityHighway) else "combined"


Consumption = Annotated[
    Annotated[Annotated[Number, Field(ge=4, le=120)], Tag("combined")] | Annotated[CityHighway, Tag("parts")],
    Discriminator(_kind_of_consumption),
]


class LabelIn(Incoming):
    """The official consumption, and whatever else the label or brochure says."""

    procedure: specs.LabelProcedure
    consumption_kwh_per_100_km: Consumption = Field(
        description="4 to 120 kWh/100 km combined, or of a US label city and highway"
    )
    adjustment: Number | None = optional("adjustment")
    range_km: Number | None = optional("range_km")
    all_electric_range_km: Number | None = optional("all_electric_range_km")
    basis: specs.Meter = Field(specs.Meter.SOCKET, description="where the consumption is metered: socket or battery")
    phases: PhasesIn | None = Field(None, description="WLTP: consumption of each phase, kWh/100 km")
    recharge_hours: Number | None = optional("recharge_hours")

    @model_validator(mode="after")
    def _parts_belong_to_their_procedure(self) -> "LabelIn":
        us = self.procedure is specs.LabelProcedure.US
        if not us and isinstance(self.consumption_kwh_per_100_km, CityHighway):
            raise said("only a US label has city and highway", "give the combined figure, and phases", at=USE)
        if us and self.phases is not None:
            raise said("only a WLTP consumption has phases", "give city and highway instead", at="phases")
        return self

    def shown_kwh(self) -> float:
        """The combined consumption, kWh/100 km."""
        given = self.consumption_kwh_per_100_km
        return given.combined() if isinstance(given, CityHighway) else given

    def electric_range_km(self) -> float | None:
        """The distance that goes with the consumption."""
        return self.all_electric_range_km or self.range_km

    def parts(self) -> tuple[tuple[str, float], ...]:
        """What the combined figure is made of, J/m; nothing where it is not told."""
        given = self.consumption_kwh_per_100_km if isinstance(self.consumption_kwh_per_100_km, CityHighway) else None
        told = given or self.phases
        return tuple((name, value * J_M) for name, value in told) if told else ()

    def label(self) -> specs.Label:
        """The same in SI."""
        return specs.Label(
            procedure=self.procedure,
            consumption_j_m=self.shown_kwh() * J_M,
            adjustment=self.adjustment if self.procedure is specs.LabelProcedure.US else None,
            parts_j_m=self.parts(),
            range_m=_scaled(self.range_km, 1000),
            all_electric_range_m=_scaled(self.all_electric_range_km, 1000),
            basis=self.basis,
            recharge_s=_scaled(self.recharge_hours, 3600),
        )


def with_gaps_of_a_label(given: Mapping[str, Any]) -> dict[str, Any]:
    """A car's figures as data, with what its label may leave open set to unknown: mass, and usable energy."""
    filled = dict(given)
    label = given.get("label")
    if isinstance(label, LabelIn):
        label = label.model_dump(exclude_none=True)
    if not isinstance(label, Mapping):
        return filled
    filled.setdefault("mass_kg", None)
    if label.get("range_km") is not None or label.get("all_electric_range_km") is not None:
        battery = filled.get("battery") or {}
        if isinstance(battery, Mapping):
            filled["battery"] = {"usable_kwh": None, **battery}
    return filled


def _scaled(value: float | None, factor: float) -> float | None:
    return None if value is None else value * factor
