"""What people choose: how the car stands, its cabin, its engine, what it wears and tows."""

from dataclasses import dataclass
from enum import StrEnum

__all__ = ["Cabin", "CabinAir", "Climate", "DriveMode", "EngineUse", "Outfit", "Start", "Trailer", "TyreClass"]


class Climate(StrEnum):
    """What the driver asks of the cabin."""

    AUTO = "auto"
    OFF = "off"


class CabinAir(StrEnum):
    """Where the air of the cabin comes from."""

    AUTO = "auto"  # fresh air as the people and clear windows need it, partly recirculated while cooling
    FRESH = "fresh"
    RECIRCULATE = "recirculate"  # as far as the windows stay clear


class DriveMode(StrEnum):
    """What the driver asked of engine and battery."""

    ELECTRIC_PRIORITY = "electric_priority"
    CHARGE_HOLD = "charge_hold"
    CHARGE_WHILE_DRIVING = "charge_while_driving"


@dataclass(frozen=True, slots=True)
class TyreClass:
    """A fuel-efficiency class of the tyre label, as a rolling-resistance coefficient at 25 °C (ISO 28580)."""

    id: str
    name: str
    crr: float


@dataclass(frozen=True, slots=True)
class Trailer:
    """What is towed, laden. Drag area is what it adds to the car's."""

    mass_kg: float
    cd_a_m2: float | None = None


@dataclass(frozen=True, slots=True)
class Outfit:
    """How the car goes out: its tyres, what it carries outside, what its body draws and loses."""

    tyre_class: TyreClass | None = None  # None: the tyres it was measured or labelled with
    winter_tyres: bool = False
    tyre_pa: float | None = None  # gauge, cold, today
    placard_pa: float | None = None  # gauge, as the placard asks
    tyres_set_k: float | None = None  # air temperature when they were last set to the placard; None: set today
    roof_box: bool = False
    trailer: Trailer | None = None
    body_load_w: float = 0.0  # cooler, tail lift or tools on the traction battery
    door_openings_per_m: float = 0.0


@dataclass(frozen=True, slots=True)
class Start:
    """How the car stands before the journey. `soaked`: everything at the day's temperature.

    `in_sun`: it stood in the day's sun with its windows shut, so the cabin is warmer than the day.
    """

    state_of_charge: float = 1.0
    soaked: bool = True
    preconditioned: bool = False
    state_of_health: float = 1.0
    in_sun: bool = False


@dataclass(frozen=True, slots=True)
class Cabin:
    """What the driver asks for, and who sits inside (driver counted)."""

    climate: Climate = Climate.AUTO
    set_point_k: float = 294.15
    occupants: int = 1
    air: CabinAir = CabinAir.AUTO
    seat_heat: bool = False  # seats of all people, and the wheel; used on days colder than the set point


@dataclass(frozen=True, slots=True)
class EngineUse:
    """What the driver asked for, and how long engine and fuel have waited."""

    mode: DriveMode = DriveMode.ELECTRIC_PRIORITY
    defrost: bool = False
    unused_s: float | None = None  # None: ran lately
    fuel_age_s: float | None = None  # None: fresh
