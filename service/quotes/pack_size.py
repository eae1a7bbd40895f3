"""What a larger or smaller pack would do to the same car: range, consumption, payload and charging time.

Method   every size is the central row of a quote of the same question, with the pack's energy changed and its mass
         carried along. The window keeps its share of the whole pack, the pack its cells and voltage, so that resistance
         and accepted charging power follow its energy. Motor, charger, body and coefficients (at their own reference
         mass) stay.
Scope    no band; no room is checked for, and no stronger springs or brakes are added.
Source   pack-level energy over mass: data/typical.csv.
"""

from collections.abc import Mapping
from dataclasses import dataclass, replace

from service.catalogue import Catalogue
from service.constants import DRIVER_KG
from service.errors import BadInput
from service.physics.laps import DISTANCE_LIMIT, FURTHEST_M
from service.quotes.answer import Assumption
from service.quotes.assume import complete
from service.quotes.build import wall_band
from service.quotes.label import anchored
from service.quotes.loading import kerb_mass_kg, reference_mass_kg
from service.quotes.scenarios import refill, run, scenarios_for
from service.specs import Ask, Battery, Kind, RoadLoad, Vehicle
from service.units import POUND_KG

__all__ = ["FACTORS", "PackSize", "PackSizes", "build_pack_sizes", "pack_kg", "sized"]

FACTORS = {  # of the car's own pack, where no sizes are asked for
    Kind.BEV: (0.5, 0.75, 1.0, 1.25, 1.5, 2.0),
    Kind.PHEV: (0.25, 0.5, 0.75, 1.0, 1.5, 2.0, 3.0),
    Kind.HYBRID: (0.5, 1.0, 2.0, 4.0, 8.0),
}
ENERGY_ENTRIES = {Kind.BEV: "pack_wh_per_kg", Kind.PHEV: "pack_wh_per_kg_phev", Kind.HYBRID: "pack_wh_per_kg_hybrid"}
CARRIERS = ("pickup", "van")  # bodies built to carry: they have a gross limit of their own
WH_J = 3600.0


@dataclass(frozen=True, slots=True)
class PackSize:
    """The car with one pack. `own`: the one it has."""

    usable_j: float
    nominal_j: float
    pack_kg: float
    kerb_kg: float
    range_m: float
    battery_j_per_m: float
    wall_j_per_m: float | None
    payload_left_kg: float  # below the gross limit, people aboard; negative: too heavy
    charging_s: float | None
    own: bool


@dataclass(frozen=True, slots=True)
class PackSizes:
    """The curve, in SI."""

    ask: Ask
    sizes: tuple[PackSize, ...]
    j_per_kg: float
    gross_kg: float
    assumptions: tuple[Assumption, ...]
    notes: tuple[str, ...]


def build_pack_sizes(
    ask: Ask, catalogue: Catalogue, usable_j: tuple[float, ...] | None = None, gross_kg: float | None = None
) -> PackSizes:
    """The same question with other packs.

    Args:
        ask: gaps allowed, as in a quote; only the central car is asked for.
        usable_j: energies; None: `FACTORS` times the car's own. The car's own is always among the answers.
        gross_kg: largest mass the car may have, its load included; None: typical over the kerb mass.
    Errors: as `build_quote`; `BadInput` for a gross limit below the car itself.
    """
    ask, moved = anchored(replace(ask, band=False), catalogue)
    ask, assumptions = complete(ask, catalogue, with_engine=False)
    values = {name: typical.value for name, typical in catalogue.typical.items()}
    own_j = ask.vehicle.battery.usable_j
    energy = catalogue.typical_entry(ENERGY_ENTRIES[ask.vehicle.kind])
    j_per_kg = energy.value * WH_J
    listed = [*moved, Assumption("energy of the whole pack over its mass", energy.value, energy.unit, energy.source)]
    if gross_kg is None:
        carrier = f"_{ask.vehicle.body}" if ask.vehicle.body in CARRIERS else ""
        over = catalogue.typical_entry(f"gross_over_kerb{carrier}_kg")
        gross_kg = kerb_mass_kg(ask.vehicle) + over.value
        listed.append(Assumption("gross limit over kerb mass", over.value, over.unit, over.source))
    asked_j = tuple(factor * own_j for factor in FACTORS[ask.vehicle.kind]) if usable_j is None else usable_j
    if gross_kg <= kerb_mass_kg(ask.vehicle):
        kerb_kg = kerb_mass_kg(ask.vehicle)
        raise BadInput(
            "gross_kg", gross_kg, f"{gross_kg:g} kg is not more than the empty car's {kerb_kg:g} kg",
            f"give more than {kerb_kg:g} kg",
        )  # fmt: skip
    sizes = tuple(one_size(ask, each, j_per_kg, gross_kg, catalogue, values) for each in sorted({*asked_j, own_j}))
    own = next(each for each in sizes if each.own)
    listed += assumptions
    return PackSizes(ask, sizes, j_per_kg, gross_kg, tuple(listed), notes_on(sizes, own))


def pack_kg(nominal_j: float, j_per_kg: float) -> float:
    """Mass of a whole pack, kg."""
    return nominal_j / j_per_kg


def sized(vehicle: Vehicle, usable_j: float, j_per_kg: float) -> Vehicle:
    """A completed car with another pack, heavier or lighter by the difference.

    The kerb mass moves; coefficients keep the mass at which they were measured.
    """
    pack: Battery = vehicle.battery
    ratio = usable_j / pack.usable_j
    more_kg = pack_kg((ratio - 1) * pack.nominal_j, j_per_kg)
    load = vehicle.road_load
    if isinstance(load, RoadLoad):
        load = replace(load, reference_mass_kg=reference_mass_kg(vehicle, kerb_mass_kg(vehicle)))
    return replace(
        vehicle,
        mass_kg=vehicle.mass_kg + more_kg,
        road_load=load,
        battery=replace(pack, usable_j=usable_j, nominal_j=ratio * pack.nominal_j),
        charge_limit_w=ratio * vehicle.charge_limit_w,
    )


def one_size(
    ask: Ask, usable_j: float, j_per_kg: float, gross_kg: float, catalogue: Catalogue, values: Mapping[str, float]
) -> PackSize:
    """The central row of a quote with one pack."""
    own = usable_j == ask.vehicle.battery.usable_j
    ask = replace(ask, vehicle=sized(ask.vehicle, usable_j, j_per_kg))
    kerb_kg = kerb_mass_kg(ask.vehicle)
    scenarios = scenarios_for(ask, (), catalogue, values)
    outcome = run(scenarios, ask, catalogue)
    filling = refill(scenarios, outcome, ask, values) if ask.circuit is not None else None
    wall = wall_band(outcome.total, slice(0, 1), outcome, filling)
    distance_m = float(outcome.total.distance_m[0])
    return PackSize(
        usable_j=usable_j,
        nominal_j=ask.vehicle.battery.nominal_j,
        pack_kg=pack_kg(ask.vehicle.battery.nominal_j, j_per_kg),
        kerb_kg=kerb_kg,
        range_m=FURTHEST_M if outcome.ended[0] == DISTANCE_LIMIT else distance_m,
        battery_j_per_m=float(outcome.total.cells_j[0]) / max(distance_m, 1.0),
        wall_j_per_m=None if wall is None else wall.p50,
        payload_left_kg=gross_kg - kerb_kg - ask.cabin.occupants * DRIVER_KG,
        charging_s=None if filling is None else float(filling.seconds[0]),
        own=own,
    )


def notes_on(sizes: tuple[PackSize, ...], own: PackSize) -> tuple[str, ...]:
    """What the curve says in words, and where it stops being a car."""
    notes = []
    last = sizes[-1]
    if last.usable_j > own.usable_j and own.range_m > 0:
        energy, farther = last.usable_j / own.usable_j, last.range_m / own.range_m
        heavier_kg = last.kerb_kg - own.kerb_kg
        notes.append(
            f"{energy:.3g} times the energy goes {farther:.3g} times as far and makes the car {heavier_kg:.0f} kg "
            f"({heavier_kg / POUND_KG:.0f} lb) heavier."
        )
    if any(each.payload_left_kg < 0 for each in sizes):
        notes.append("A negative payload: with that pack and its people the car is over its gross limit.")
    notes.append("The pack is made larger or smaller and nothing else: no room, springs or brakes are added.")
    return tuple(notes)
