"""The car as its papers know it: road load, motors, engine, battery, cabin."""

from dataclasses import dataclass
from enum import StrEnum

from service.specs.label import Anchor, Label

__all__ = [
    "Battery",
    "Body",
    "BodyAndTyres",
    "Chemistry",
    "Engine",
    "Fuel",
    "Heating",
    "Kind",
    "Layout",
    "MassBasis",
    "PowerSplit",
    "RoadLoad",
    "Triggers",
    "Vehicle",
]


class Kind(StrEnum):
    """What drives the car."""

    BEV = "bev"
    PHEV = "phev"
    HYBRID = "hybrid"

    @property
    def has_engine(self) -> bool:
        """True for anything that carries fuel."""
        return self is not Kind.BEV

    @property
    def plugs_in(self) -> bool:
        """True for anything with an inlet."""
        return self is not Kind.HYBRID


class MassBasis(StrEnum):
    """What the stated mass includes."""

    KERB = "kerb"  # no driver
    RUNNING_ORDER = "running_order"  # driver of 75 kg included
    TEST = "test"  # as tested: people and load included


class Heating(StrEnum):
    """Where cabin heat comes from while the engine stands still."""

    HEAT_PUMP = "heat_pump"  # with a resistive heater behind it
    RESISTIVE = "resistive"
    ENGINE = "engine"  # none without the engine


class Layout(StrEnum):
    """How motors and engine reach the wheels."""

    SINGLE_MOTOR = "single_motor"  # no engine
    POWER_SPLIT = "power_split"  # planetary gear between engine, generator motor and wheels
    PARALLEL = "parallel"  # engine behind a clutch on the motor's shaft
    SERIES = "series"  # engine drives a generator only


class Fuel(StrEnum):
    """What the engine burns."""

    PETROL = "petrol"
    DIESEL = "diesel"


@dataclass(frozen=True, slots=True)
class PowerSplit:
    """The planetary gear: engine on the carrier, generator motor on the sun, wheels on the ring."""

    sun_teeth: int
    ring_teeth: int
    final_drive: float  # ring turns for each turn of a wheel
    wheel_radius_m: float
    generator_max_rad_s: float
    one_way_clutch: bool = False  # holds the engine still, so that the generator motor pushes too
    generator_n_m: float | None = None  # peak torque; None: unknown


@dataclass(frozen=True, slots=True)
class Engine:
    """The combustion engine. None where unknown."""

    max_w: float
    fuel: Fuel = Fuel.PETROL
    best_efficiency: float | None = None
    sustaining_m3_m: float | None = None  # official charge-sustaining consumption, fuel volume over distance


@dataclass(frozen=True, slots=True)
class Triggers:
    """What starts the engine while charge remains. None: not known for this car. False and 0: known not to."""

    speed_m_s: float | None = None
    power_w: float | None = None  # asked at the wheels
    cabin_heat_below_k: float | None = None  # outside air
    defrost_below_k: float | None = None  # outside air, windscreen heat asked for
    cold_pack_k: float | None = None
    hot_pack_k: float | None = None
    low_charge: float | None = None  # of the usable window
    spins_on_full_descent: bool | None = None  # turns without fuel where the pack takes no more
    upkeep_after_s: float | None = None  # time without the engine after which it runs for its own good
    fuel_age_s: float | None = None
    minimum_run_s: float | None = None


@dataclass(frozen=True, slots=True)
class RoadLoad:
    """Coastdown fit F = f0 + f1·v + f2·v², v in m/s, at a reference state of the air."""

    f0_n: float
    f1_n_s_m: float
    f2_n_s2_m2: float
    reference_mass_kg: float | None = None
    reference_k: float = 293.15
    reference_pa: float = 98_210.0  # 40 CFR 1066.305; WLTP uses 100 kPa


@dataclass(frozen=True, slots=True)
class BodyAndTyres:
    """Road load from its parts: drag area, and the rolling-resistance coefficient at 25 °C (ISO 28580)."""

    cd_a_m2: float
    crr: float


@dataclass(frozen=True, slots=True)
class Battery:
    """The traction battery as new. `usable_j` is terminal energy of a full C/3 discharge at 25 °C (SAE J1634)."""

    usable_j: float | None  # None only beside a label with a range, which tells it
    nominal_j: float | None = None  # the whole pack, of which `usable_j` is the window
    nominal_v: float | None = None
    chemistry: str | None = None  # id of data/chemistries.csv
    heater_w: float | None = None  # pack heater, drive and charge; 0 if there is none


@dataclass(frozen=True, slots=True)
class Chemistry:
    """A cell family: open-circuit voltage on a grid of cell charge from 0 to 1, and what temperature does to it."""

    id: str
    name: str
    cell_nominal_v: float
    cell_max_v: float
    cell_min_v: float
    soc_grid: tuple[float, ...]
    ocv_grid_v: tuple[float, ...]
    activation_j_mol: float  # Arrhenius energy of the whole-cell resistance
    drop_at_1c_energy: (
        float  # voltage drop at 1C, 25 °C over nominal voltage: cells built for energy (battery-electric)
    )
    drop_at_1c_power: float  # the same for cells built for power (hybrids)


@dataclass(frozen=True, slots=True)
class Body:
    """A size of car: what its cabin is to heat and cool."""

    id: str
    name: str
    ua_still_w_k: float  # conduction of the body shell, parked
    ua_per_m_s_w_k: float  # and what each m/s of speed adds
    air_j_k: float  # heat capacity of cabin air and what follows it at once
    interior_j_k: float  # seats, trim, glass
    coupling_w_k: float  # between the two
    sun_m2: float  # glazing area × transmittance × projection
    roof_w_k: float  # conduction of roof and one side's doors, behind their paint


@dataclass(frozen=True, slots=True)
class Vehicle:
    """One car. Everything but kind, mass, road load and battery may be unknown.

    Beside a label mass and usable energy may be unknown, too, and the road load, where it stands, is where the fit to
    the label starts; `anchor` marks a car that has been through that fit.
    """

    id: str
    name: str
    kind: Kind
    mass_kg: float | None
    mass_basis: MassBasis
    road_load: RoadLoad | BodyAndTyres | None
    battery: Battery
    motor_w: float | None = None  # peak mechanical power on electricity alone
    onboard_charger_w: float | None = None  # AC input rating
    onboard_charger_phases: int | None = None
    heating: Heating | None = None
    heater_w: float | None = None  # electric input of the cabin heater
    body: str | None = None  # id of data/bodies.csv: sets cabin size and frontal area
    base_load_w: float | None = None  # 12 V consumers while ready to drive
    charge_limit_w: float | None = None  # DC, what the pack accepts warm and half empty
    layout: Layout | None = None
    engine: Engine | None = None
    power_split: PowerSplit | None = None
    triggers: Triggers | None = None

    label: Label | None = None
    drive_loss: float | None = None  # drivetrain losses over typical ones
    charger_loss: float | None = None  # the onboard charger's losses over typical ones
    anchor: Anchor | None = None
