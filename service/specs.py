"""What is known about a car, a day and a person's choices: frozen records in SI, None where unknown.

Nothing here knows where a record comes from (catalogue, form, JSON) or what is done with it.
A None in a `Vehicle` is filled by `service.quotes.assume`, which lists the value and its source in the answer.
"""

from dataclasses import dataclass, field
from enum import StrEnum


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


class Procedure(StrEnum):
    """Open road, or rolls in a test cell."""

    ROAD = "road"
    DYNAMOMETER = "dynamometer"


class Climate(StrEnum):
    """What the driver asks of the cabin."""

    AUTO = "auto"
    OFF = "off"


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


class DriveMode(StrEnum):
    """What the driver asked of engine and battery."""

    ELECTRIC_PRIORITY = "electric_priority"
    CHARGE_HOLD = "charge_hold"
    CHARGE_WHILE_DRIVING = "charge_while_driving"


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


class CabinAir(StrEnum):
    """Where the air of the cabin comes from."""

    AUTO = "auto"  # fresh air as the people and clear windows need it, partly recirculated while cooling
    FRESH = "fresh"
    RECIRCULATE = "recirculate"  # as far as the windows stay clear


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


class LabelProcedure(StrEnum):
    """Whose official label."""

    US = "us"  # two cycles, adjusted for everyday driving
    WLTP = "wltp"


class Meter(StrEnum):
    """Where a label's consumption is metered."""

    SOCKET = "socket"  # AC, charger losses included
    BATTERY = "battery"  # DC, at the pack's terminals


@dataclass(frozen=True, slots=True)
class Label:
    """An official consumption and what stands beside it; `service.quotes.label` finds the car behind it.

    parts_j_m: what the combined figure is made of, by name: city and highway (US), or low, medium, high and extra_high
        (phases of the WLTP cycle); empty where only the combined figure is known.
    range_m: on electricity from full to empty; for a plug-in hybrid `all_electric_range_m` stands before it.
    adjustment: label over test distance of a US label, 40 CFR 600.210-12(d)(3); None where nobody knows it.
    """

    procedure: LabelProcedure
    consumption_j_m: float  # combined
    adjustment: float | None = None
    parts_j_m: tuple[tuple[str, float], ...] = ()
    range_m: float | None = None
    all_electric_range_m: float | None = None
    basis: Meter = Meter.SOCKET
    recharge_s: float | None = None  # empty to full

    @property
    def electric_range_m(self) -> float | None:
        """The distance that goes with the electric consumption."""
        return self.all_electric_range_m or self.range_m


@dataclass(frozen=True, slots=True)
class Anchor:
    """How far a label holds a car: what each factor of a draw does to the label's own figures, first order.

    Each row is a change of a figure for a doubled factor, as a share of the figure, in the order of `factors`.
    """

    factors: tuple[str, ...]  # names of `physics.rows.DRAW`
    combined: tuple[float, ...]  # consumption as the label meters it
    parts: tuple[tuple[float, ...], ...]  # of each part; empty where the label has none
    energy: tuple[float, ...]  # of a whole recharge; empty where the label gives no range
    combined_noise: float  # one sigma of the label's own figure: rounding, repeatability
    parts_noise: tuple[float, ...]  # of the parts against each other
    parts_common: float  # and of all of them together
    energy_noise: float
    energy_told: str  # the factor that a recharge tells: usable or charger
    usable_spread: float  # one sigma of usable energy before the label is looked at
    drag_known: bool  # coefficients of a coastdown stood beside the label
    drag_guessed: bool  # nothing did: neither they nor drag area and tyres
    adjustment_open: bool  # the adjustment is not known: sampled


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
class Surface:
    """What lies on the road: factor on tyre rolling resistance."""

    id: str
    name: str
    rolling_factor: float


@dataclass(frozen=True, slots=True)
class Typical:
    """A default and where it comes from; used, and listed, wherever a car, day or choice leaves a value open."""

    name: str
    value: float
    unit: str
    spread: float  # 1 σ as a fraction of the value; 0 where it is a definition
    source: str


@dataclass(frozen=True, slots=True)
class Place:
    """Monthly normals of one station. Twelve values each; None where the source has none."""

    id: str
    name: str
    country: str
    latitude_deg: float
    longitude_deg: float
    elevation_m: float | None
    coldest_k: tuple[float, ...]  # mean daily minimum of each month
    warmest_k: tuple[float, ...]  # mean daily maximum of each month
    relative_humidity: tuple[float | None, ...]
    wind_m_s: tuple[float | None, ...]
    sun_j_m2_day: tuple[float | None, ...]


@dataclass(frozen=True, slots=True)
class Cycle:
    """A regulatory drive cycle: one speed a second, from rest to rest."""

    id: str
    name: str
    source: str
    speed_m_s: tuple[float, ...]


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
class Clock:
    """When and where a drive starts. Solar time: the sun is highest at 12."""

    month: int  # 1 to 12
    hour: float  # 0 to 24
    latitude_deg: float  # north is positive


@dataclass(frozen=True, slots=True)
class Weather:
    """The day. Wind is the met office's, at 10 m, from any direction unless both it and the journey have one."""

    ambient_k: float
    relative_humidity: float | None = None
    wind_m_s: float | None = None
    sun_w_m2: float | None = None
    altitude_m: float = 0.0
    surface: str = "dry"  # id of data/surfaces.csv
    wind_from_rad: float | None = None  # clockwise from north; None: any direction
    clock: Clock | None = None  # tells the sun where `sun_w_m2` is not known


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


@dataclass(frozen=True, slots=True)
class Leg:
    """A stretch at one cruising speed, with evenly spread stops, one grade (0.01 is 1 % uphill) and one heading."""

    distance_m: float
    speed_m_s: float
    stops_per_m: float = 0.0
    grade: float = 0.0
    heading_rad: float | None = None  # clockwise from north; None: not known


@dataclass(frozen=True, slots=True)
class Track:
    """A drive as recorded: knots in time, and the road between each two of them."""

    time_s: tuple[float, ...]  # from 0, rising; n of them
    speed_m_s: tuple[float, ...]  # at the knots; straight lines between them
    grade: tuple[float, ...] = ()  # rise over run, n − 1; empty: level
    heading_rad: tuple[float, ...] = ()  # clockwise from north, NaN where not known, n − 1; empty: not known


@dataclass(frozen=True, slots=True)
class Journey:
    """A regulatory cycle by id, legs, or a track: one of the three."""

    cycle: str | None = None
    legs: tuple[Leg, ...] = ()
    track: Track | None = None


class Metal(StrEnum):
    """What conductors are made of."""

    COPPER = "copper"
    ALUMINIUM = "aluminium"


class LoadRule(StrEnum):
    """What sets the current that a circuit may carry for hours."""

    FOUR_FIFTHS = "four_fifths"  # of the breaker: North America's continuous load
    DOMESTIC_SOCKET = "domestic_socket"  # a household socket, held to what it bears for hours
    RATED = "rated"  # the rating itself
    STATED = "stated"  # as whoever asks says


@dataclass(frozen=True, slots=True)
class Run:
    """Cable between the meter and the socket: either a section or a gauge."""

    length_m: float  # one way
    section_mm2: float | None = None
    awg: int | None = None  # 0 is 1/0
    metal: Metal = Metal.COPPER
    conductor_k: float | None = None  # None: as hot as the cable's rating allows
    flexible: bool = False  # many thin strands, as in leads


@dataclass(frozen=True, slots=True)
class Circuit:
    """What the car is plugged into: volts between the conductors that feed it, continuous amps per phase."""

    id: str
    name: str
    region: str  # north_america, united_kingdom, continental_europe, own
    volts: float  # phase to neutral where there are three phases
    continuous_a: float
    phases: int = 1
    run: Run | None = None  # None: volts are those at the socket
    rating_a: float | None = None  # of breaker or fuse; None where only the continuous current is known
    rule: LoadRule = LoadRule.STATED
    wall_unit: bool | None = None  # a fixed unit; False: a socket; None: not known
    usual: bool = True  # listed beside others on a page; False: only where asked for
    source: str | None = None


@dataclass(frozen=True, slots=True)
class Prices:
    """In units of a currency; None where nobody said."""

    currency: str = ""
    electricity_per_j: float | None = None
    work_electricity_per_j: float | None = None  # None: as at home
    fuel_per_m3: float | None = None


@dataclass(frozen=True, slots=True)
class Ask:
    """One question, whole: the only argument of `service.quotes.build.build_quote` besides the catalogue."""

    vehicle: Vehicle
    journey: Journey
    weather: Weather
    procedure: Procedure = Procedure.ROAD
    start: Start = field(default_factory=Start)
    cabin: Cabin = field(default_factory=Cabin)
    circuit: Circuit | None = None
    payload_kg: float = 0.0
    band: bool = True
    outfit: Outfit = field(default_factory=Outfit)
    engine_use: EngineUse = field(default_factory=EngineUse)
    prices: Prices = field(default_factory=Prices)


class DayKind(StrEnum):
    """What a tariff tells apart."""

    WEEKDAY = "weekday"  # Monday to Friday
    WEEKEND = "weekend"
    HOLIDAY = "holiday"  # a date of the tariff's own list, whatever day of the week it is


@dataclass(frozen=True, slots=True)
class TariffPeriod:
    """A price of energy, on days of some kinds in some months, from one time of the clock to another."""

    months: tuple[int, ...]  # 1 to 12
    days: tuple[DayKind, ...]
    starts_s: float  # of the local clock, after midnight
    ends_s: float  # at most 86 400
    price_per_j: float
    name: str = ""


@dataclass(frozen=True, slots=True)
class TariffTier:
    """A block of a calendar month's energy, and what is added to every price within it."""

    up_to_j: float | None  # None: the last, without an end
    adds_per_j: float


@dataclass(frozen=True, slots=True)
class Tariff:
    """What electricity costs by the clock. Every minute of every month and kind of day has exactly one price.

    A holiday counts as weekend where no period names holidays. The demand charge is asked for once a calendar month.
    """

    id: str
    name: str
    currency: str
    zone: str  # IANA time zone whose clock counts
    periods: tuple[TariffPeriod, ...]
    holidays: tuple[str, ...] = ()  # MM-DD every year, or YYYY-MM-DD
    tiers: tuple[TariffTier, ...] = ()
    demand_per_w: float = 0.0  # of the month's highest mean over a quarter of an hour of the clock
    daily: float = 0.0  # fixed, a day
