"""A completed car's electric side as it stands at the start: machines, heat, supply, and where its controls end it.

Scope    what the layout makes of motor, gear, pack and triggers; the envelope asks here.
"""

import math
from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from service.catalogue import Catalogue
from service.physics.auxiliaries import electronics_w
from service.physics.battery import drive_power_limit_w, open_circuit_v, pack_resistance_ohm
from service.physics.cabin import climate_power_w
from service.physics.envelope import Controls, Heat, Machines, Supply, grip_n, heat_from_ratings
from service.physics.power_split import engine_still_limit_m_s, generator_push_n
from service.physics.precondition import warm_on_the_wall_j
from service.physics.tables import central_draw, drives_both_axles, start_state
from service.quotes.answer import Assumption
from service.quotes.scenarios import wants_preconditioning
from service.specs import Ask, Layout, Vehicle
from service.units import KM_H

__all__ = ["MOMENT_S", "Electric", "electric_side", "layout_assumptions", "layout_of", "traction"]

MOMENT_S = 10.0  # an overtaking, a slip road: what "for a moment" means here
CLIMATE_M_S = 50 * KM_H  # at which the cabin's first draw is taken


@dataclass(frozen=True, slots=True)
class Electric:
    """A completed car as it stands at the start: everything that the envelope needs."""

    car: np.record
    day: np.record
    machines: Machines
    heat: Heat
    supply: Supply
    controls: Controls
    pack_k: float


def layout_of(vehicle: Vehicle) -> Layout:
    """The stated layout; one motor without an engine; else what the rest suggests."""
    if vehicle.layout is not None:
        return vehicle.layout
    if not vehicle.kind.has_engine:
        return Layout.SINGLE_MOTOR
    return Layout.POWER_SPLIT if vehicle.power_split else Layout.PARALLEL


def layout_assumptions(vehicle: Vehicle, layout: Layout, oil: float | None, catalogue: Catalogue) -> list[Assumption]:
    """What the envelope rests on besides the quote's own assumptions."""
    listed = []

    def typical(entry: str, name: str) -> None:
        found = catalogue.typical_entry(entry)
        listed.append(Assumption(name, found.value, found.unit, found.source))

    if vehicle.layout is None and vehicle.kind.has_engine:
        source = "its gear is known" if vehicle.power_split else "the commonest where nothing is stated: from memory"
        listed.append(Assumption("layout", layout.value.replace("_", " "), "", source))
    both = drives_both_axles(vehicle, {name: each.value for name, each in catalogue.typical.items()})
    if both:
        typical("two_axle_grip", "grip of both driven axles over the weight")
    else:
        typical("grip", "grip of the driven axle over the weight")
    if layout is Layout.PARALLEL:
        typical("parallel_base_speed_m_s", "end of constant torque in the lowest gear")
        typical("parallel_gear_share", "loss added by the gearbox")
    else:
        typical("two_axle_base_speed_m_s" if both else "base_speed_m_s", "end of the motor's constant torque")
    typical("motor_continuous_share", "what the motor holds over its peak")
    typical("motor_peak_s", "how long it holds its peak")
    if oil is None:
        typical(oil_entry(layout), "oil circulation in the motor")
    typical("motor_oil_share", "share of its cooling by oil")
    return listed


def oil_entry(layout: Layout) -> str:
    """Row of data/typical.csv."""
    return "oil_circulation_power_split" if layout is Layout.POWER_SPLIT else "oil_circulation"


def electric_side(
    ask: Ask, layout: Layout, oil: float | None, car: np.record, day: np.record, values: Mapping[str, float]
) -> Electric:
    """Machines, heat, supply and controls of a completed question.

    Args:
        oil: circulation in the motor; None: typical.
        car, day: its rows, as `scenarios.rows_for` makes them.
    """
    circulation = values[oil_entry(layout)] if oil is None else oil
    pack_k, supply = supply_at_start(ask, car, day)
    trailer_kg = ask.outfit.trailer.mass_kg if ask.outfit.trailer else 0.0
    grip = values["two_axle_grip" if drives_both_axles(ask.vehicle, values) else "grip"]
    return Electric(
        car=car,
        day=day,
        machines=machines_of(ask.vehicle, layout, car, grip_n(grip, car.mass_kg - trailer_kg), values),
        heat=heat_from_ratings(
            values["motor_peak_s"], values["motor_continuous_share"], circulation, values["motor_oil_share"]
        ),
        supply=supply,
        controls=controls_of(ask.vehicle, layout),
        pack_k=pack_k,
    )


def traction(electric: Electric) -> tuple[Machines, Heat, Supply, Controls]:
    """The arguments that every function of the envelope takes."""
    return electric.machines, electric.heat, electric.supply, electric.controls


def machines_of(
    vehicle: Vehicle, layout: Layout, car: np.record, axle_n: float, values: Mapping[str, float]
) -> Machines:
    """The machines as the layout puts them to the wheels.

    A second motor is taken as the same make as the first: as efficient at the same share of its peak, so windings
    side by side lose as one machine of both sizes does.
    """
    motor_n, gear_share = float(car.motor_n), float(car.gear_share)
    if layout is Layout.PARALLEL:
        motor_n = min(vehicle.motor_w / values["parallel_base_speed_m_s"], axle_n)
        gear_share += values["parallel_gear_share"]
    split = vehicle.power_split if layout is Layout.POWER_SPLIT else None
    push_n = generator_push_n(split) if split else 0.0
    size = (motor_n + push_n) / motor_n
    return Machines(
        motor_n=motor_n,
        motor_w=float(car.motor_w),
        push_n=push_n,
        grip_n=axle_n,
        copper_w_n2=float(car.copper_w_n2) / size,
        inverter_w_n=float(car.inverter_w_n),
        gear_share=gear_share,
        ready_w=float(car.ready_w) * size,
    )


def supply_at_start(ask: Ask, car: np.record, day: np.record) -> tuple[float, Supply]:
    """The pack's temperature, K, and what it gives as the car stands, with the cabin's first draw on it."""
    state, draw = start_state(ask.start, car, day)[0], central_draw()[0]
    if wants_preconditioning(ask):
        warm_on_the_wall_j(car, day, draw, state)
    pack_k = float(state.pack_k)
    ohm = pack_resistance_ohm(car.resistance_ohm, car.activation_j_mol, pack_k, state.charge)
    pack_w = drive_power_limit_w(open_circuit_v(car.ocv_v, state.charge), ohm, car.min_v, car.drive_limit_a)
    heating_w, cooling_w = climate_power_w(car, day, draw, state, CLIMATE_M_S, MOMENT_S)
    load_w = electronics_w(car.base_w, car.headlamp_w, day.lights) + heating_w + cooling_w
    return pack_k, Supply(float(pack_w), float(min(load_w, pack_w)))


def controls_of(vehicle: Vehicle, layout: Layout) -> Controls:
    """Where the car's own triggers and its gear end electric driving; what is not known does not."""
    triggers = vehicle.triggers
    speed_m_s = triggers.speed_m_s if triggers else None
    power_w = triggers.power_w if triggers else None
    split = vehicle.power_split if layout is Layout.POWER_SPLIT else None
    return Controls(
        speed_m_s=math.inf if speed_m_s is None else speed_m_s,
        power_w=math.inf if power_w is None else power_w,
        gear_m_s=engine_still_limit_m_s(split) if split else math.inf,
    )
