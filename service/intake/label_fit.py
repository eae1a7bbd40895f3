"""A label and the little that is known of its car, and a car with a test to run, as they arrive.

Use      `LabelFitRequest.vehicle(catalogue)` in SI; `here` renames the faults of a fit to this request's names.
"""

from collections.abc import Mapping
from typing import Annotated, Any

from pydantic import Field, model_validator

from service import specs
from service.catalogue import Catalogue
from service.errors import BadInput, BadInputs, UnknownEntry
from service.intake.fields import Incoming, Number, limited, optional, said
from service.intake.label import LabelIn
from service.intake.quote import unknown_ids
from service.intake.vehicle import BatteryIn, ShortText, VehicleIn
from service.quotes.procedures import Recipe, recipe_of

__all__ = ["LabelFitRequest", "ProcedureRunRequest", "here"]

PREFIXES = ("vehicle.spec.label.", "vehicle.spec.")


class LabelFitRequest(LabelIn):
    """A label with its range, and whatever is known of the car. Everything else is found, or assumed and listed."""

    kind: specs.Kind
    range_km: Number = limited("range_km")
    name: ShortText = "own car"
    mass_kg: Number | None = optional("mass_kg")
    mass_basis: specs.MassBasis = specs.MassBasis.KERB
    size_class: ShortText | None = Field(None, description="id of a body size: small, medium, large, pickup or van")
    motor_kw: Number | None = optional("motor_kw")
    battery: BatteryIn | None = Field(None, description="what is known of it; usable energy is found if unknown")
    onboard_charger_kw: Number | None = optional("onboard_charger_kw")

    @model_validator(mode="before")
    @classmethod
    def _battery_may_be_partly_known(cls, given: Any) -> Any:
        if isinstance(given, Mapping) and isinstance(given.get("battery"), Mapping):
            return {**given, "battery": {"usable_kwh": None, **given["battery"]}}
        return given

    @model_validator(mode="after")
    def _plugs_in(self) -> "LabelFitRequest":
        if not self.kind.plugs_in:
            raise said(
                "a hybrid without a plug has no consumption at the socket",
                "choose one of: bev, phev",
                at="kind",
                value=str(self.kind),
            )
        return self

    def vehicle(self, catalogue: Catalogue) -> specs.Vehicle:
        """The car in SI; raises BadInputs with every id that the catalogue does not hold."""
        chemistry = self.battery and self.battery.chemistry
        ids = (
            ("size_class", self.size_class, catalogue.bodies),
            ("battery.chemistry", chemistry, catalogue.chemistries),
        )
        unknown = [UnknownEntry(field, id_, known) for field, id_, known in ids if id_ is not None and id_ not in known]
        if unknown:
            raise BadInputs(unknown)
        return specs.Vehicle(
            id="own",
            name=self.name,
            kind=self.kind,
            mass_kg=self.mass_kg,
            mass_basis=self.mass_basis,
            road_load=None,
            battery=self.battery.battery() if self.battery else specs.Battery(None),
            motor_w=None if self.motor_kw is None else self.motor_kw * 1000,
            onboard_charger_w=None if self.onboard_charger_kw is None else self.onboard_charger_kw * 1000,
            body=self.size_class,
            label=self.label(),
        )


def here(fault: BadInput) -> BadInput:
    """A fault of a fit, by the names of this request.

    >>> here(BadInput("vehicle.spec.label.range_km", 1, "it is short", "correct it")).row.field
    'range_km'
    """
    row, field = fault.row, fault.row.field
    for prefix in PREFIXES:
        field = field.removeprefix(prefix)
    return BadInput(field, row.value, row.message, row.remedy)


class ProcedureRunRequest(Incoming):
    """A car and a test."""

    vehicle: VehicleIn
    procedure: Annotated[str, Field(max_length=80, description="id from GET /api/procedures")]

    def asked(self, catalogue: Catalogue) -> tuple[specs.Vehicle, Recipe]:
        """Both in SI; raises BadInputs with every unknown id."""
        faults: list[BadInput] = list(unknown_ids(self.model_dump(exclude_none=True), catalogue))
        try:
            recipe = recipe_of(self.procedure)
        except UnknownEntry as fault:
            faults.append(fault)
        if faults:
            raise BadInputs(faults)
        return self.vehicle.vehicle(catalogue.vehicles), recipe
