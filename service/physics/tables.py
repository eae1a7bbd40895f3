"""Specs to rows: the one place where frozen records become the tables that the march reads.

Scope    a completed vehicle (nothing unknown), its chemistry and body, and the typical values of data/typical.csv.
         What a typical value means and where it comes from stands in that table, not here.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from types import SimpleNamespace

import numpy as np

from service.constants import STANDARD_GRAVITY_M_S2
from service.physics.air import air_density_kg_m3, humidity_ratio, pressure_at_altitude_pa, wind_at_car_m_s
from service.physics.battery import (
    LOW_CHARGE_DECAY,
    LOW_CHARGE_RISE,
    health_resistance_factor,
)
from service.physics.cabin import parked_in_sun_k
from service.physics.climate_machine import frost_share
from service.physics.engine import marginal_efficiency
from service.physics.fresh_air import AUTO, FRESH, RECIRCULATE, saturated_kg_kg
from service.physics.power_split import engine_still_limit_m_s
from service.physics.rows import CAR, DAY, DRAW, OCV_POINTS, STATE, draft, filled, table
from service.physics.tyres import (
    LABEL_REFERENCE_K,
    LABEL_SLOPE_PER_K,
    ROAD_LOAD_SLOPE_PER_K,
    WARM_RISE_K,
    load_factor,
    pressure_factor,
)
from service.specs import (
    Battery,
    Body,
    BodyAndTyres,
    Cabin,
    CabinAir,
    Chemistry,
    Climate,
    DriveMode,
    EngineUse,
    Heating,
    Kind,
    Outfit,
    Procedure,
    Start,
    Surface,
    Triggers,
    Vehicle,
    Weather,
)
from service.units import KWH_J

__all__ = ["Loading", "car_row", "central_draw", "day_row", "drives_both_axles", "start_state"]

SOFTEST = 0.3  # of the placard pressure: a softer tyre would be seen, common practice
WINDOW = np.linspace(0, 1, OCV_POINTS)  # the grid of the usable window
WIDEST_WINDOW = 0.97  # a car never uses the last per cents at either end of its cells: common practice
# A test's fan gives at most 2.5 m³/s in front of the car (40 CFR 1066.105, from memory), a speed-following one blows on
# 0.2 m² and more (UN GTR 15, from memory): either way about a square metre of plume over bonnet and windscreen.
TEST_FAN_M_S = 3.0
FACTORY, PLAIN_USE = Outfit(), EngineUse()
MODES = {DriveMode.ELECTRIC_PRIORITY: 0.0, DriveMode.CHARGE_HOLD: 1.0, DriveMode.CHARGE_WHILE_DRIVING: 2.0}
MADE_CHARGE = 0.8  # of the usable window: where making charge while driving stops, common practice
AIR_SETTINGS = {CabinAir.AUTO: AUTO, CabinAir.FRESH: FRESH, CabinAir.RECIRCULATE: RECIRCULATE}
Values = Mapping[str, float]


@dataclass(frozen=True, slots=True)
class Loading:
    """What the car weighs in this question."""

    mass_kg: float  # everything aboard
    inertia_kg: float  # rotating parts included
    reference_mass_kg: float  # at which coastdown coefficients hold
    trailer_kg: float = 0.0  # of `mass_kg`, what rolls on the trailer's tyres


def car_row(
    vehicle: Vehicle,
    chemistry: Chemistry,
    body: Body,
    loading: Loading,
    health: float,
    values: Values,
    outfit: Outfit = FACTORY,
) -> np.recarray:
    """One row of `rows.CAR`.

    Args:
        vehicle: completed; a None in it is a fault of the caller.
        health: state of health, 0.5…1: scales capacity, and resistance through `health_resistance_factor`.
        outfit: completed: drag area of a trailer known.
    """
    car = draft(CAR)
    car.mass_kg, car.inertia_kg = loading.mass_kg, loading.inertia_kg
    fill_road_load(car, vehicle, loading, values)
    fill_drive(car, vehicle, values)
    fill_pack(car, vehicle, chemistry, health, values)
    fill_cabin(car, vehicle, body, values)
    fill_engine(car, vehicle, values)
    fit_out(car, outfit, loading, values)
    return filled(CAR, car)


def fill_road_load(car: SimpleNamespace, vehicle: Vehicle, loading: Loading, values: Values) -> None:
    """Tyre, bearing and air terms, with the state at which they hold."""
    load = vehicle.road_load
    if isinstance(load, BodyAndTyres):
        car.tyre_n = load.crr * (loading.mass_kg - loading.trailer_kg) * STANDARD_GRAVITY_M_S2
        car.tyre_reference_k, car.tyre_slope_per_k = LABEL_REFERENCE_K, LABEL_SLOPE_PER_K
        car.bearing_n, car.bearing_n_s_m = values["no_load_n"], values["no_load_n_s_m"]
        car.drag_area_m2 = load.cd_a_m2
        return
    tyre_n = values["tyre_share"] * load.f0_n
    car.tyre_n = tyre_n * load_factor(loading.mass_kg - loading.trailer_kg, loading.reference_mass_kg)
    car.tyre_reference_k, car.tyre_slope_per_k = load.reference_k, ROAD_LOAD_SLOPE_PER_K
    car.bearing_n, car.bearing_n_s_m = load.f0_n - tyre_n, load.f1_n_s_m
    car.reference_air_kg_m3 = air_density_kg_m3(load.reference_k, load.reference_pa, 0.0)
    car.drag_area_m2 = 2 * load.f2_n_s2_m2 / car.reference_air_kg_m3


def fill_drive(car: SimpleNamespace, vehicle: Vehicle, values: Values) -> None:
    """Limits and loss coefficients of motor, inverter and gear, in wheel terms."""
    car.motor_w = vehicle.motor_w
    car.motor_n = peak_force_n(vehicle, values)
    car.regen_n = values["regen_g"] * car.mass_kg * STANDARD_GRAVITY_M_S2
    car.regen_share = values["regen_share"]
    sized_w = values["base_speed_m_s"] * car.motor_n  # what a machine of this torque gives at the benchmarks' speed
    ohmic_w = values["copper_share"] * sized_w + values["inverter_ohmic_share"] * vehicle.motor_w
    car.copper_w_n2 = ohmic_w / car.motor_n**2
    car.inverter_w_n = values["inverter_share"] * vehicle.motor_w / car.motor_n
    car.gear_share = values["gear_share"]
    car.ready_w = values["ready_share"] * sized_w


def drives_both_axles(vehicle: Vehicle, values: Values) -> bool:
    """True where one axle's grip would hold torque so low that power takes over later than strong drives let it."""
    one_axle_n = values["grip"] * vehicle.mass_kg * STANDARD_GRAVITY_M_S2
    return vehicle.motor_w > values["two_axle_base_speed_m_s"] * one_axle_n


def peak_force_n(vehicle: Vehicle, values: Values) -> float:
    """Tractive force that the drive is built for, N; it does not grow with the load."""
    weight_n = vehicle.mass_kg * STANDARD_GRAVITY_M_S2
    if drives_both_axles(vehicle, values):
        return min(vehicle.motor_w / values["two_axle_base_speed_m_s"], values["two_axle_grip"] * weight_n)
    return min(vehicle.motor_w / values["base_speed_m_s"], values["grip"] * weight_n)


def window_ocv_v(chemistry: Chemistry, cells: float, usable_share: float) -> np.ndarray:
    """Open-circuit voltage of the pack on the equally spaced grid of its usable window, V, shape (OCV_POINTS,).

    The unused part of the pack lies three quarters below the window and one quarter above (common practice).
    """
    low = 0.75 * (1 - usable_share)
    window = low + usable_share * WINDOW
    return cells * np.interp(window, chemistry.soc_grid, chemistry.ocv_grid_v)


def capacity_for_usable_c(usable_j: float, ocv_v: np.ndarray, drop_v: float) -> float:
    """Charge of the window, C, such that a C/3 discharge at 25 °C gives `usable_j` at the terminals.

    Args:
        drop_v: voltage lost at C/3, mid charge; it rises towards empty as `pack_resistance_ohm` does.
    """
    drop = drop_v * (1 + LOW_CHARGE_RISE * np.exp(-WINDOW / LOW_CHARGE_DECAY))
    return usable_j / float(np.trapezoid(ocv_v - drop, WINDOW))


def fill_pack(car: SimpleNamespace, vehicle: Vehicle, chemistry: Chemistry, health: float, values: Values) -> None:
    """Voltage, resistance, limits and heat of the traction battery."""
    pack: Battery = vehicle.battery
    cells = max(round(pack.nominal_v / chemistry.cell_nominal_v), 1)
    usable_share = min(pack.usable_j / pack.nominal_j, WIDEST_WINDOW)
    ocv_v = window_ocv_v(chemistry, cells, usable_share)
    power_cells = vehicle.kind is not Kind.BEV
    drop_at_1c_v = pack.nominal_v * (chemistry.drop_at_1c_power if power_cells else chemistry.drop_at_1c_energy)
    whole_ah = pack.nominal_j / 3600 / pack.nominal_v
    new_c = capacity_for_usable_c(pack.usable_j, ocv_v, drop_at_1c_v * usable_share / 3)
    car.capacity_c = new_c * health
    car.ocv_v = ocv_v
    car.resistance_ohm = drop_at_1c_v / whole_ah * health_resistance_factor(health)
    car.activation_j_mol = chemistry.activation_j_mol
    car.max_v, car.min_v = cells * chemistry.cell_max_v, cells * chemistry.cell_min_v
    most_w = 1.15 * vehicle.motor_w + 6000  # drive losses at full power and comfort loads: sized so, common practice
    car.drive_limit_a = most_w / (0.9 * pack.nominal_v)
    car.charge_limit_a = vehicle.charge_limit_w / pack.nominal_v
    car.pack_j_k = pack.nominal_j / (values["pack_wh_per_kg"] * 3600) * values["pack_j_kg_k"]
    car.pack_w_k = values["pack_loss_w_k"] + values["pack_loss_w_k_per_kwh"] * pack.nominal_j / KWH_J
    car.pack_heater_w, car.pack_heat_below_k = pack.heater_w, values["pack_heat_below_k"]


def fill_cabin(car: SimpleNamespace, vehicle: Vehicle, body: Body, values: Values) -> None:
    """Cabin nodes, climate machine and 12 V consumers."""
    car.ua_still_w_k, car.ua_per_m_s_w_k = body.ua_still_w_k, body.ua_per_m_s_w_k
    car.cabin_air_j_k, car.cabin_interior_j_k = body.air_j_k, body.interior_j_k
    car.cabin_coupling_w_k, car.sun_m2, car.roof_w_k = body.coupling_w_k, body.sun_m2, body.roof_w_k
    car.heater_w = 0.0 if vehicle.heating is Heating.ENGINE else vehicle.heater_w
    car.heat_pump_w = values["heat_pump_w"] if vehicle.heating is Heating.HEAT_PUMP else 0.0
    car.cooler_w, car.blower_w = values["cooler_w"], values["blower_w"]
    car.heat_pump_cut_out_k, car.pack_cool_above_k = values["heat_pump_cut_out_k"], values["pack_cool_above_k"]
    car.base_w, car.headlamp_w = vehicle.base_load_w, values["headlamp_w"]


def fill_engine(car: SimpleNamespace, vehicle: Vehicle, values: Values) -> None:
    """Engine, its paths to wheels and pack, and its triggers; thresholds that are not known never fire."""
    car.start_speed_m_s = car.start_power_w = car.hot_pack_k = np.inf
    engine, triggers = vehicle.engine, vehicle.triggers or Triggers()
    if not vehicle.kind.has_engine or engine is None:
        return
    car.engine_w, car.engine_idle_w = engine.max_w, values["engine_idle_share"] * engine.max_w
    car.engine_marginal = marginal_efficiency(engine.best_efficiency, engine.max_w, car.engine_idle_w)
    car.wheel_path, car.generator_path = values[f"wheel_path_{vehicle.layout}"], values["generator_path"]
    car.engine_heats = 1.0 if vehicle.heating is Heating.ENGINE else 0.0
    car.coolant_j_k, car.coolant_w_k = values["coolant_j_k"], values["coolant_w_k"]
    fastest_m_s = vehicle.power_split and engine_still_limit_m_s(vehicle.power_split)
    known = [each for each in (triggers.speed_m_s, fastest_m_s) if each is not None]
    car.start_speed_m_s = min(known, default=np.inf)
    car.start_power_w = or_never(triggers.power_w, np.inf)
    car.heat_below_k = or_never(triggers.cabin_heat_below_k, 0.0)
    car.defrost_below_k = or_never(triggers.defrost_below_k, 0.0)
    car.cold_pack_k, car.hot_pack_k = or_never(triggers.cold_pack_k, 0.0), or_never(triggers.hot_pack_k, np.inf)
    car.low_charge = or_never(triggers.low_charge, 0.0)
    car.spins = 1.0 if triggers.spins_on_full_descent else 0.0
    car.minimum_run_s = triggers.minimum_run_s


def or_never(threshold: float | None, never: float) -> float:
    """A threshold, or one that is never passed."""
    return never if threshold is None else threshold


def fit_out(car: SimpleNamespace, outfit: Outfit, loading: Loading, values: Values) -> None:
    """Other tyres, their pressure, roof box, trailer and body loads on a finished row."""
    if outfit.tyre_class is not None:
        car_n = (loading.mass_kg - loading.trailer_kg) * STANDARD_GRAVITY_M_S2
        car.tyre_n = outfit.tyre_class.crr * car_n
        car.tyre_reference_k, car.tyre_slope_per_k = LABEL_REFERENCE_K, LABEL_SLOPE_PER_K
    car.tyre_n *= values["winter_tyre_factor"] if outfit.winter_tyres else 1.0
    car.drag_area_m2 *= 1 + values["roof_box_share"] if outfit.roof_box else 1.0
    if outfit.trailer is not None:
        car.tyre_n += values["trailer_crr"] * loading.trailer_kg * STANDARD_GRAVITY_M_S2
        car.drag_area_m2 += outfit.trailer.cd_a_m2
    car.base_w += outfit.body_load_w


def inflation_factor(outfit: Outfit, ambient_k: float, altitude_pa: float) -> float:
    """Rolling resistance at the tyres' pressure today over that at the placard's; 1 where they were set today.

    Args:
        outfit: completed: the placard known wherever a pressure or a setting temperature is.
        altitude_pa: air pressure, which a gauge does not show.
    A closed tyre's absolute pressure follows its absolute temperature (ideal gas); it was set at the same altitude.
    """
    if outfit.tyre_pa is not None:
        return pressure_factor(outfit.tyre_pa, outfit.placard_pa)
    if outfit.tyres_set_k is None:
        return 1.0
    today_pa = (outfit.placard_pa + altitude_pa) * ambient_k / outfit.tyres_set_k - altitude_pa
    return pressure_factor(max(today_pa, SOFTEST * outfit.placard_pa), outfit.placard_pa)


@dataclass(frozen=True, slots=True)
class Overdue:
    """What an engine that has long stood needs."""

    upkeep: bool = False
    fuel: bool = False


NOTHING_OVERDUE = Overdue()


def overdue_of(triggers: Triggers | None, use: EngineUse) -> Overdue:
    """What is overdue, where both the car's limit and the time are known."""
    if triggers is None:
        return NOTHING_OVERDUE
    pairs = ((triggers.upkeep_after_s, use.unused_s), (triggers.fuel_age_s, use.fuel_age_s))
    return Overdue(*(limit is not None and time is not None and time > limit for limit, time in pairs))


def day_row(
    weather: Weather,
    surface: Surface,
    cabin: Cabin,
    procedure: Procedure,
    rolls_air_kg_m3: float,
    values: Values,
    outfit: Outfit = FACTORY,
    dark: bool | None = None,
    use: EngineUse = PLAIN_USE,
    overdue: Overdue = NOTHING_OVERDUE,
) -> np.recarray:
    """One row of `rows.DAY` from completed weather.

    Args:
        rolls_air_kg_m3: density that a dynamometer imposes: the reference state of the car's coefficients.
        dark: whether it is night; None where nobody knows.
    """
    day = draft(DAY)
    pressure_pa = pressure_at_altitude_pa(weather.altitude_m)
    day.ambient_k = weather.ambient_k
    day.humidity_kg_kg = humidity_ratio(weather.ambient_k, pressure_pa, weather.relative_humidity)
    day.sun_w_m2 = weather.sun_w_m2  # on rolls that of lamps, if there are any (40 CFR 1066.835)
    day.climate = 1.0 if cabin.climate is Climate.AUTO else 0.0
    day.set_point_k, day.occupants = cabin.set_point_k, cabin.occupants
    day.mode, day.defrost = MODES[use.mode], float(use.defrost)
    day.upkeep_due, day.stale_fuel = float(overdue.upkeep), float(overdue.fuel)
    day.wind_from_rad = np.nan if weather.wind_from_rad is None else weather.wind_from_rad
    inflation = inflation_factor(outfit, weather.ambient_k, pressure_pa)
    day.pressure_pa, day.saturated_kg_kg = pressure_pa, saturated_kg_kg(weather.ambient_k, pressure_pa)
    day.frost_share = frost_share(weather.ambient_k, day.humidity_kg_kg, pressure_pa)
    day.air_setting = AIR_SETTINGS[cabin.air]
    if cabin.seat_heat and weather.ambient_k < cabin.set_point_k:
        day.seat_heat_w = values["seat_heat_w"] * cabin.occupants + values["wheel_heat_w"]
    if procedure is Procedure.DYNAMOMETER:
        day.air_kg_m3, day.surface_factor, day.fan_m_s = rolls_air_kg_m3, inflation, TEST_FAN_M_S
        return filled(DAY, day)
    day.air_kg_m3 = air_density_kg_m3(weather.ambient_k, pressure_pa, weather.relative_humidity)
    day.wind_m_s = wind_at_car_m_s(weather.wind_m_s)
    day.surface_factor = surface.rolling_factor * inflation
    day.door_air_kg_m = values["door_air_kg"] * outfit.door_openings_per_m
    day.lights = values["lights_road"] if dark is None else float(dark)
    return filled(DAY, day)


def central_draw(rows: int = 1) -> np.recarray:
    """Draws of the typical car, driver and day: every factor one."""
    draws = table(DRAW, rows)
    for name in DRAW.names:
        draws[name] = 1.0
    return draws


def start_state(start: Start, car: np.record, day: np.record, rows: int = 1) -> np.recarray:
    """Rows of `rows.STATE` at the start: soaked to the day's temperature, or warm tyres and cabin.

    A car that stood in the sun has a warmer cabin than the day's air; only that takes the car's row to say.
    """
    state = draft(STATE)
    state.charge = start.state_of_charge
    state.pack_k = day.ambient_k
    warm_cabin = not start.soaked and day.climate > 0
    state.cabin_air_k = state.cabin_interior_k = day.set_point_k if warm_cabin else day.ambient_k
    if start.in_sun:
        state.cabin_air_k, state.cabin_interior_k = parked_in_sun_k(car, day.ambient_k, day.sun_w_m2, day.wind_m_s)
    state.tyre_rise_k = 0.0 if start.soaked else WARM_RISE_K
    state.coolant_k, state.first_fuel_m = day.ambient_k, -1.0
    state.level = start.state_of_charge if day.mode < MODES[DriveMode.CHARGE_WHILE_DRIVING] else MADE_CHARGE
    states = table(STATE, rows)
    states[:] = filled(STATE, state)
    return states
