"""A question about one charging session as it arrives: car, supply, charge from and to, temperatures.

Use      `ChargingSessionRequest.question(catalogue)` in SI; `read_session` does both for plain data.
"""

from collections.abc import Callable, Mapping

from pydantic import ValidationError, model_validator

from service import specs, units
from service.catalogue import Catalogue
from service.errors import BadInput, BadInputs
from service.intake.conditions import CircuitIn
from service.intake.errors import Scale, faults_of, unit_of_path
from service.intake.fields import Incoming, Number, Whole, limited, optional, said
from service.intake.quote import unknown_ids
from service.intake.vehicle import VehicleIn
from service.quotes.charging_ask import SessionAsk, Station, check_supply

__all__ = ["ChargingSessionRequest", "SupplyIn", "read_session"]

THREE_WAYS = "give an id, or volts and amps, or dc_kw"
PILOT_NULL = "as much as the circuit carries if null"
LIVE_NULL = "all of the circuit's if null"


class SupplyIn(CircuitIn):
    """A circuit of the catalogue, one by volts and continuous amps, or a direct-current station."""

    dc_kw: Number | None = optional("dc_kw", "a direct-current station: most power at its plug")
    dc_amps: Number | None = optional("dc_amps", "its most current; as much as its power makes if null")

    @model_validator(mode="after")
    def _one_of_two(self) -> "SupplyIn":
        if self.dc_kw is None and self.dc_amps is None:
            return CircuitIn._one_of_two(self)
        if self.dc_kw is None:
            raise said("it is missing", "give dc_kw beside dc_amps", at="dc_kw")
        others = {"id": self.id, "volts": self.volts, "amps": self.amps, "phases": self.phases, "run": self.run}
        for name, value in others.items():
            if value is not None:
                raise said(f"it gives both dc_kw and {name}", THREE_WAYS, at=name, value=str(value))
        return self

    def supply(self, circuits: Mapping[str, specs.Circuit]) -> specs.Circuit | Station:
        """The same in SI. The id must be known."""
        if self.dc_kw is not None:
            return Station(1000 * self.dc_kw, self.dc_amps)
        return self.circuit(circuits)


class ChargingSessionRequest(Incoming):
    """One session. Per cent are of the usable window."""

    vehicle: VehicleIn
    circuit: SupplyIn
    from_pct: Number = limited("from_pct")
    to_pct: Number = limited("to_pct")
    pack_temperature_c: Number = limited("pack_temperature_c")
    outside_temperature_c: Number | None = optional("outside_temperature_c", "as warm as the pack if null")
    state_of_health_pct: Number = limited("state_of_health_pct", 100.0)
    pilot_amps: Number | None = optional("pilot_amps", PILOT_NULL)
    phases_live: Whole | None = optional("phases_live", LIVE_NULL)

    @model_validator(mode="after")
    def _upwards(self) -> "ChargingSessionRequest":
        if self.from_pct >= self.to_pct:
            raise said(
                f"{self.from_pct:g} % is not below the {self.to_pct:g} % to charge to",
                f"give less than {self.to_pct:g} %, or charge to more",
                at="from_pct",
                value=self.from_pct,
            )
        return self

    def question(self, catalogue: Catalogue) -> SessionAsk:
        """The question in SI; raises BadInputs with every id that the catalogue does not hold."""
        unknown = unknown_ids(self.model_dump(exclude_none=True), catalogue)
        if unknown:
            raise BadInputs(unknown)
        outside_c = self.outside_temperature_c
        if outside_c is None:  # a pack hotter than any air stands in the hottest
            outside_c = min(self.pack_temperature_c, 50.0)
        ask = SessionAsk(
            vehicle=self.vehicle.vehicle(catalogue.vehicles),
            supply=self.circuit.supply(catalogue.circuits),
            from_charge=self.from_pct / 100,
            to_charge=self.to_pct / 100,
            pack_k=units.kelvin_from_celsius(self.pack_temperature_c),
            ambient_k=units.kelvin_from_celsius(outside_c),
            health=self.state_of_health_pct / 100,
            pilot_a=self.pilot_amps,
            phases_live=self.phases_live,
        )
        try:
            check_supply(ask)
        except BadInput as fault:
            raise BadInputs([fault]) from None
        return ask


def read_session(
    raw: object, catalogue: Catalogue, scale_of: Callable[[str], Scale] = unit_of_path
) -> ChargingSessionRequest:
    """A checked question from plain data; raises BadInputs with every fault of it, unknown ids included."""
    try:
        request = ChargingSessionRequest.model_validate(raw)
    except ValidationError as error:
        raise BadInputs(faults_of(error.errors(), scale_of) + unknown_ids(raw, catalogue)) from None
    unknown = unknown_ids(raw, catalogue)
    if unknown:
        raise BadInputs(unknown)
    return request
