"""The question of a charging session: the car, what it is plugged into, charge from and to, temperatures.

Scope    records, and what no circuit can carry. A circuit's own current is what it carries for hours.
"""

from dataclasses import dataclass, replace

from service.errors import BadInput, OutOfRange
from service.specs import Circuit, Vehicle

__all__ = ["SessionAsk", "Station", "as_found", "check_supply"]


@dataclass(frozen=True, slots=True)
class Station:
    """A direct-current station: most power and current at its plug."""

    power_w: float
    current_a: float | None = None  # None: as much as the power makes


@dataclass(frozen=True, slots=True)
class SessionAsk:
    """One session, from plugging in to the end. Charges are of the usable window, 0 to 1."""

    vehicle: Vehicle
    supply: Circuit | Station
    from_charge: float
    to_charge: float
    pack_k: float
    ambient_k: float | None = None  # None: as warm as the pack
    health: float = 1.0
    pilot_a: float | None = None  # what the supply equipment allows; None: as much as the circuit carries
    phases_live: int | None = None  # phases that carry current; None: all of the circuit's


def as_found(ask: SessionAsk) -> Circuit:
    """The circuit with the current and the phases that it really gives."""
    circuit = ask.supply
    amps = circuit.continuous_a if ask.pilot_a is None else ask.pilot_a
    return replace(circuit, continuous_a=amps, phases=ask.phases_live or circuit.phases)


def check_supply(ask: SessionAsk) -> None:
    """Refuse what the circuit cannot carry, and cars without a plug.

    Errors: `BadInput` naming vehicle, pilot_amps or phases_live.
    """
    if not ask.vehicle.kind.plugs_in:
        message = "a hybrid without a plug cannot be charged from outside"
        raise BadInput("vehicle", ask.vehicle.id, message, "choose a plug-in hybrid or a battery-electric car")
    circuit = ask.supply
    for name, value in (("pilot_amps", ask.pilot_a), ("phases_live", ask.phases_live)):
        if value is not None and isinstance(circuit, Station):
            raise BadInput(name, value, "a direct-current station has neither", "leave it out")
    if isinstance(circuit, Station):
        return
    if ask.pilot_a is not None and ask.pilot_a > circuit.continuous_a:
        message = f"{ask.pilot_a:g} A is above the {circuit.continuous_a:g} A that this circuit may carry for hours"
        raise BadInput("pilot_amps", ask.pilot_a, message, f"give at most {circuit.continuous_a:g} A")
    if ask.phases_live is not None and ask.phases_live > circuit.phases:
        raise OutOfRange("phases_live", ask.phases_live, 1, circuit.phases, "phases")
