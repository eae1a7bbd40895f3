"""The tables that the march reads and writes: one structured row a car, a day, a draw, a state, a ledger.

Scope    names, units and types only; `tables.py` fills them from specs.
Use      cars, days and draws are separate tables joined by index, so a fleet is never multiplied out in memory.
         A row of a `np.recarray` reads the same compiled and interpreted: `car.mass_kg`.
"""

from types import SimpleNamespace

import numpy as np

__all__ = [
    "CAR",
    "DAY",
    "DRAW",
    "EVENT",
    "LEDGER",
    "LOOK",
    "OCV_POINTS",
    "RECORD",
    "START",
    "STATE",
    "draft",
    "filled",
    "table",
]

OCV_POINTS = 41  # grid of the pack's open-circuit voltage over its usable window, equally spaced

CAR = np.dtype(
    [
        # road load, everything aboard
        ("mass_kg", "f8"),
        ("inertia_kg", "f8"),  # mass that accelerates: rotating parts included
        ("tyre_n", "f8"),  # rolling resistance of warmed tyres at `tyre_reference_k`, level, this load
        ("tyre_reference_k", "f8"),
        ("tyre_slope_per_k", "f8"),  # how rolling resistance falls with temperature
        ("bearing_n", "f8"),  # speed-independent drag that is not tyre
        ("bearing_n_s_m", "f8"),  # drag that grows with speed
        ("drag_area_m2", "f8"),
        ("reference_air_kg_m3", "f8"),  # air in which the coefficients hold: what rolls impose
        # traction
        ("motor_w", "f8"),  # peak mechanical power at the wheels
        ("motor_n", "f8"),  # peak tractive force
        ("regen_n", "f8"),  # peak braking force that the driven axle may take
        ("regen_share", "f8"),  # share of service braking that the motor is asked for
        ("copper_w_n2", "f8"),  # winding and switch resistance, W per N² of tractive force
        ("gear_share", "f8"),  # mesh loss as a share of mechanical power
        ("inverter_w_n", "f8"),  # threshold and switching, W per N of tractive force
        ("ready_w", "f8"),  # inverter and motor excitation while rolling, whatever the force
        # pack, at the terminals of the whole battery
        ("capacity_c", "f8"),  # charge of the usable window
        ("ocv_v", "f8", (OCV_POINTS,)),
        ("resistance_ohm", "f8"),  # at 25 °C, mid charge
        ("activation_j_mol", "f8"),
        ("max_v", "f8"),
        ("min_v", "f8"),
        ("drive_limit_a", "f8"),  # current that the maker would allow, warm
        ("charge_limit_a", "f8"),  # the same into the cells, warm
        ("pack_j_k", "f8"),
        ("pack_w_k", "f8"),  # heat lost to the surroundings
        ("pack_heater_w", "f8"),
        ("pack_heat_below_k", "f8"),
        # cabin
        ("ua_still_w_k", "f8"),
        ("ua_per_m_s_w_k", "f8"),
        ("cabin_air_j_k", "f8"),
        ("cabin_interior_j_k", "f8"),
        ("cabin_coupling_w_k", "f8"),
        ("sun_m2", "f8"),
        ("roof_w_k", "f8"),  # conduction behind paint that the sun warms
        ("heater_w", "f8"),  # electric input of the resistive heater; 0 where only the engine heats
        ("heat_pump_w", "f8"),  # heat delivered at 0 °C; 0 without one
        ("cooler_w", "f8"),  # cooling delivered, most
        ("blower_w", "f8"),
        ("heat_pump_cut_out_k", "f8"),  # outside air at which the heat pump stops
        ("pack_cool_above_k", "f8"),  # the climate machine holds a hot pack there
        # the rest
        ("base_w", "f8"),  # 12 V consumers at the battery, converter included
        ("headlamp_w", "f8"),
        # engine; all 0 without one
        ("engine_w", "f8"),  # at its shaft, most
        ("engine_idle_w", "f8"),  # heat of the fuel burnt idling
        ("engine_marginal", "f8"),  # shaft power for each more of fuel power
        ("wheel_path", "f8"),  # efficiency from shaft to wheels
        ("generator_path", "f8"),  # efficiency from shaft through the generator to the pack
        ("engine_heats", "f8"),  # 1: the cabin has no other heat
        ("coolant_j_k", "f8"),  # heat capacity of coolant and block
        ("coolant_w_k", "f8"),  # heat lost by them
        # what starts it; a threshold that is not known never fires
        ("start_speed_m_s", "f8"),
        ("start_power_w", "f8"),  # tractive, at the wheels
        ("heat_below_k", "f8"),
        ("defrost_below_k", "f8"),
        ("cold_pack_k", "f8"),
        ("hot_pack_k", "f8"),
        ("low_charge", "f8"),  # of the usable window: below it the charge is sustained
        ("spins", "f8"),  # 1: turns without fuel where braking finds the pack full
        ("minimum_run_s", "f8"),
    ]
)

DAY = np.dtype(
    [
        ("ambient_k", "f8"),
        ("air_kg_m3", "f8"),  # density that drags; the car's reference on rolls
        ("humidity_kg_kg", "f8"),  # humidity ratio outside
        ("wind_m_s", "f8"),  # at the height of the car
        ("fan_m_s", "f8"),  # wind over the body on rolls, whatever the speed; 0 on the road
        ("sun_w_m2", "f8"),
        ("surface_factor", "f8"),
        ("climate", "f8"),  # 1 auto, 0 off
        ("set_point_k", "f8"),
        ("occupants", "f8"),
        ("pressure_pa", "f8"),  # of the air around, whatever the procedure
        ("saturated_kg_kg", "f8"),  # humidity ratio of saturated air outside, over ice below 0 °C
        ("frost_share", "f8"),  # of the heat that a heat pump draws from this air
        ("air_setting", "f8"),  # as in fresh_air.py: 0 automatic, 1 outside air, 2 recirculation
        ("seat_heat_w", "f8"),  # seats and wheel; 0 where nobody asks for it
        ("lights", "f8"),  # share of the journey with headlamps on
        ("wind_from_rad", "f8"),  # clockwise from north; NaN: any direction
        ("door_air_kg_m", "f8"),  # outside air let in by open doors, spread over the distance
        ("mode", "f8"),  # 0 electric priority, 1 hold the charge, 2 make charge
        ("defrost", "f8"),  # 1: windscreen heat asked for
        ("upkeep_due", "f8"),  # 1: the engine has stood too long
        ("stale_fuel", "f8"),  # 1: the fuel is too old
    ]
)

LOOK = np.dtype(  # a stretch of a trace between two looks at slow physics: tyres, cabin, pack limits
    [
        ("end", "f8"),  # the first step after it
        ("seconds", "f8"),
        ("metres", "f8"),
        ("fastest_m_s", "f8"),
        ("warmth", "f8"),  # of tyres at its mean speed
    ]
)

DRAW = np.dtype(  # factors around one: what is not known of this car, driver and day
    [
        ("tyre", "f8"),
        ("air", "f8"),
        ("loss", "f8"),
        ("usable", "f8"),
        ("resistance", "f8"),
        ("heat", "f8"),  # on the cabin and its machine: what heating and cooling take
        ("auxiliary", "f8"),
        ("speed", "f8"),  # cruising speed
        ("acceleration", "f8"),
        ("wind", "f8"),
        ("charger", "f8"),  # on the charger's losses
    ]
)

STATE = np.dtype(  # what the car carries from one lap to the next
    [
        ("charge", "f8"),  # of the usable window, 0 to 1
        ("pack_k", "f8"),
        ("cabin_air_k", "f8"),
        ("cabin_interior_k", "f8"),
        ("tyre_rise_k", "f8"),  # tyres over ambient
        ("lag_v", "f8"),  # voltage that diffusion in the cells still takes off
        ("speed_m_s", "f8"),
        ("behind_s", "f8"),  # how long the speed asked for has not been held
        ("goes_on", "f8"),  # 1: an engine carries on where the charge is used up; 0: the drive ends there
        ("level", "f8"),  # charge that the driver asked to hold or reach
        ("engine", "f8"),  # 1 while it turns
        ("engine_s", "f8"),  # how long it has turned
        ("engine_deficit", "f8"),  # 1: started for power, it only adds what the motor lacks
        ("sustaining", "f8"),  # 1: the charge has been used up once
        ("coolant_k", "f8"),
        ("upkeep_done", "f8"),
        ("engine_heat_w", "f8"),  # heat it offers to the cabin now
        ("first_fuel_m", "f8"),  # distance at which it first burnt fuel; −1 not yet
        ("starts", "f8"),  # how often it started
    ]
)

LEDGER = np.dtype(  # joules leaving the cells by cause, then totals
    [
        ("air_j", "f8"),
        ("rolling_j", "f8"),
        ("climbing_j", "f8"),
        ("brakes_j", "f8"),
        ("drivetrain_j", "f8"),
        ("pack_j", "f8"),
        ("heating_j", "f8"),
        ("cooling_j", "f8"),
        ("pack_conditioning_j", "f8"),
        ("electronics_j", "f8"),
        ("cells_j", "f8"),  # drawn from the store, recovered energy taken off
        ("terminals_j", "f8"),  # the same at the pack's terminals
        ("recovered_j", "f8"),  # put back into the cells by braking
        ("distance_m", "f8"),
        ("duration_s", "f8"),
        # beside the causes, which make up cells_j and engine_j together
        ("engine_j", "f8"),  # work at the engine's shaft
        ("fuel_j", "f8"),  # heat of the fuel burnt, lower heating value
        ("engine_s", "f8"),  # time it turned
        ("electric_m", "f8"),  # distance while it stood
    ]
)

EVENT = np.dtype(
    [
        ("kind", "i8"),  # index into march.EVENT_KINDS
        ("at_s", "f8"),
        ("at_m", "f8"),
        ("run_s", "f8"),
    ]
)

START = np.dtype(
    [
        ("trigger", "i8"),  # index into triggers.TRIGGERS
        ("at_s", "f8"),
        ("at_m", "f8"),
        ("run_s", "f8"),
        ("fuel_j", "f8"),
    ]
)

RECORD = np.dtype(
    [
        ("time_s", "f8"),
        ("distance_m", "f8"),
        ("speed_m_s", "f8"),
        ("charge", "f8"),
        ("pack_k", "f8"),
        ("cabin_air_k", "f8"),
        ("tyre_rise_k", "f8"),
        ("terminal_w", "f8"),
    ]
)


def draft(dtype: np.dtype) -> SimpleNamespace:
    """One row to be written by attribute, all zeros: several times quicker than a record of a table.

    A column of several numbers is to be replaced whole, never written into.
    """
    return SimpleNamespace(**(ZEROS.get(dtype) or zeros_of(dtype)))


def zeros_of(dtype: np.dtype) -> dict[str, float | np.ndarray]:
    """An empty row by name."""
    return dict(zip(dtype.names, np.zeros(1, dtype)[0].item(), strict=True))


ZEROS = {each: zeros_of(each) for each in (CAR, DAY, STATE)}  # the rows that every question needs


def filled(dtype: np.dtype, row: SimpleNamespace) -> np.recarray:
    """A table of that one row. `ValueError` for a name that the table does not have.

    >>> day = draft(DAY)
    >>> day.ambient_k = 268.15
    >>> filled(DAY, day).ambient_k
    array([268.15])
    """
    rows = np.zeros(1, dtype)
    rows[0] = tuple(vars(row).values())
    return rows.view(np.recarray)


def table(dtype: np.dtype, rows: int) -> np.recarray:
    """An empty table: a record array, zeroed.

    >>> table(DAY, 3).ambient_k
    array([0., 0., 0.])
    """
    return np.zeros(rows, dtype).view(np.recarray)
