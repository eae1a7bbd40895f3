"""Numbers that arrive from outside: their legal ranges, in one table, and the strict types that hold them.

Scope    ranges are those of the physics behind them (see each line) or of what people may sensibly ask.
Use      `mass_kg: Number = limited("mass_kg")`; the same table feeds the error messages and the page's form.
Types    a number is a JSON number: no text, no true or false, no NaN or infinity. A whole number has no fraction.
"""

import math
from dataclasses import dataclass
from typing import Annotated, Any

from pydantic import BaseModel, BeforeValidator, ConfigDict, Field, StrictBool
from pydantic_core import PydanticCustomError

__all__ = ["LIMITS", "MEMBERS", "TAG", "Incoming", "Limit", "Number", "Whole", "YesNo", "limited", "optional", "said"]


@dataclass(frozen=True, slots=True)
class Limit:
    """Lowest and highest legal value in the unit of the field. `above`: the lowest itself is not legal."""

    low: float
    high: float
    unit: str
    above: bool = False


LIMITS = {
    # the car: from a two-seat quadricycle to a loaded van of 7.5 t; ranges are common sense, not law
    "mass_kg": Limit(300, 7500, "kg"),
    "reference_mass_kg": Limit(300, 7500, "kg"),
    "motor_kw": Limit(5, 1000, "kW"),
    "onboard_charger_kw": Limit(0.5, 50, "kW"),
    "onboard_charger_phases": Limit(1, 3, "phases"),
    "heater_kw": Limit(0, 20, "kW"),
    "base_load_w": Limit(0, 5000, "W"),
    "charge_limit_kw": Limit(1, 1000, "kW"),
    "usable_kwh": Limit(0.3, 300, "kWh"),
    "nominal_kwh": Limit(0.3, 400, "kWh"),
    "nominal_v": Limit(40, 1000, "V"),
    # road load: A/B/C and f0/f1/f2 span the same forces (1 lbf = 4.448 N, 1 mph = 1.609 km/h)
    "a_lbf": Limit(0, 400, "lbf"),
    "b_lbf_per_mph": Limit(-5, 10, "lbf/mph"),
    "c_lbf_per_mph2": Limit(0.001, 0.5, "lbf/mph²"),
    "f0_n": Limit(0, 1800, "N"),
    "f1_n_per_km_h": Limit(-14, 28, "N/(km/h)"),
    "f2_n_per_km_h2": Limit(0.0017, 0.86, "N/(km/h)²"),
    "reference_c": Limit(-10, 40, "°C"),
    "reference_kpa": Limit(50, 110, "kPa"),
    "cd_a_m2": Limit(0.2, 6, "m²"),
    "crr": Limit(0.003, 0.04, "N/N"),
    # the label: from a two-seater to a loaded van
    "consumption_kwh_per_100_km": Limit(4, 120, "kWh/100 km"),
    "adjustment": Limit(0.5, 1, "of the test's distance"),
    "range_km": Limit(5, 1500, "km"),
    "all_electric_range_km": Limit(5, 1500, "km"),
    "recharge_hours": Limit(0.3, 72, "h"),
    "city": Limit(4, 120, "kWh/100 km"),
    "highway": Limit(4, 120, "kWh/100 km"),
    "low": Limit(3, 120, "kWh/100 km"),
    "medium": Limit(3, 120, "kWh/100 km"),
    "high": Limit(3, 120, "kWh/100 km"),
    "extra_high": Limit(3, 160, "kWh/100 km"),
    "drive_loss": Limit(0.3, 3, "of typical losses"),
    "charger_loss": Limit(0.3, 3, "of typical losses"),
    # the journey
    "distance_km": Limit(0.01, 1000, "km"),  # ten metres: a shorter stretch is no drive, and nothing divides by it
    "speed_km_h": Limit(5, 200, "km/h"),
    "stops_per_km": Limit(0, 10, "stops per km"),
    "grade_pct": Limit(-15, 15, "%"),
    "heading_deg": Limit(0, 360, "degrees from north"),
    "trips_per_day": Limit(1, 50, "trips"),
    "reserve_km": Limit(0, 500, "km"),
    # the day: inhabited temperatures; ISO 2533 troposphere from the Dead Sea shore up to high passes
    "temperature_c": Limit(-40, 50, "°C"),
    "humidity_pct": Limit(0, 100, "%"),
    "wind_km_h": Limit(0, 120, "km/h"),
    "wind_from_deg": Limit(0, 360, "degrees from north"),
    "sun_w_m2": Limit(0, 1400, "W/m²"),
    "altitude_m": Limit(-430, 4500, "m"),
    # how the car stands, and who sits in it
    "state_of_charge_pct": Limit(1, 100, "%"),
    "state_of_health_pct": Limit(50, 100, "%"),
    "set_point_c": Limit(15, 28, "°C"),
    "occupants": Limit(1, 9, "people"),
    "payload_kg": Limit(0, 2000, "kg"),
    # what goes along: a trailer up to the car's own mass, a cooled body, a parcel round's doors
    "laden_kg": Limit(50, 3500, "kg"),
    "added_cd_a_m2": Limit(0, 6, "m²"),
    "set_at_c": Limit(-40, 50, "°C"),
    "body_load_w": Limit(0, 8000, "W"),
    "door_openings_per_km": Limit(0, 20, "openings per km"),
    # a complained drive: gauge pressures from a flat car tyre to a loaded van's; a battery's longest day; a taxi's life
    "tyre_pressure_kpa": Limit(80, 600, "kPa"),
    "placard_pressure_kpa": Limit(150, 600, "kPa"),
    "odometer_km": Limit(0, 1_000_000, "km"),
    "reported_km": Limit(0, 2000, "km", above=True),
    # the circuit: volts between the conductors that feed one phase of the car
    "volts": Limit(90, 480, "V"),
    "amps": Limit(5, 100, "A"),
    "phases": Limit(1, 3, "phases"),
    # a year: hours of the clock, months of inhabited places, prices in any currency, supplies from water to coal
    "leaves_hour": Limit(0, 23.99, "h"),
    "leaves_home_hour": Limit(0, 23.99, "h"),
    "leaves_work_hour": Limit(0, 23.99, "h"),
    "days_per_week": Limit(1, 7, "days"),
    "weeks_per_year": Limit(1, 52, "weeks"),
    "month_c": Limit(-60, 50, "°C"),
    "sun_kwh_m2_day": Limit(0, 13.5, "kWh/m²"),  # above the air at the pole in December: 1361 W/m², 1.033, sin 23.4°
    "month": Limit(1, 12, "of the year"),
    "hour": Limit(0, 24, "h"),
    "latitude_deg": Limit(-90, 90, "°"),
    "electricity_per_kwh": Limit(0, 100_000, "a kWh"),
    "work_electricity_per_kwh": Limit(0, 100_000, "a kWh"),
    "fuel_per_l": Limit(0, 1_000_000, "a litre"),
    "grid_g_per_kwh": Limit(0, 2000, "g/kWh"),
    "fuel_g_per_l": Limit(0, 4000, "g/l"),
    "fuel_l_per_100_km": Limit(1, 40, "l/100 km"),
    # the planetary gear: from the smallest that is cut to a lorry's; generator motors of the last twenty years and more
    "sun_teeth": Limit(10, 100, "teeth"),
    "ring_teeth": Limit(20, 250, "teeth"),
    "final_drive": Limit(1, 15, "ring turns per wheel turn"),
    "wheel_radius_m": Limit(0.2, 0.6, "m"),
    "generator_max_rpm": Limit(1000, 30_000, "rpm"),
    "generator_nm": Limit(1, 1000, "N·m"),
    "oil_circulation_pct": Limit(0, 100, "%"),
    "engine_rpm": Limit(0, 8000, "rpm"),
    # the engine, and the widest thresholds that any car is reported with
    "max_kw": Limit(10, 500, "kW"),
    "best_efficiency_pct": Limit(15, 50, "%"),
    "sustaining_l_per_100_km": Limit(1, 30, "l/100 km"),
    "power_kw": Limit(1, 500, "kW"),
    "cabin_heat_below_c": Limit(-40, 40, "°C"),
    "defrost_below_c": Limit(-40, 40, "°C"),
    "cold_pack_c": Limit(-40, 40, "°C"),
    "hot_pack_c": Limit(0, 80, "°C"),
    "low_charge_pct": Limit(0, 90, "% of the usable window"),
    "upkeep_after_weeks": Limit(1, 104, "weeks"),
    "fuel_age_months": Limit(1, 60, "months"),
    "minimum_run_s": Limit(0, 3600, "s"),
    "weeks_unused": Limit(0, 520, "weeks"),
    "fuel_months": Limit(0, 120, "months"),
    # ready and not moving: a week; pack sizes: what a car can be and still be one
    "hours": Limit(0, 168, "h", above=True),
    "gross_kg": Limit(400, 12_000, "kg"),
    # a run of cable: within one property; sections and gauges of charging/conductor; metal from frost to its insulation
    "length_m": Limit(0, 300, "m", above=True),
    "section_mm2": Limit(1.5, 50, "mm²"),
    "awg": Limit(0, 14, "AWG (0 is 1/0)"),
    "conductor_temperature_c": Limit(-20, 105, "°C"),
    # the control pilot: share of each period
    "duty_pct": Limit(0, 100, "%"),
    # a plan of charging: what a bill may hold, in any currency
    "price_per_kwh": Limit(0, 100_000, "a kWh"),
    "adds_per_kwh": Limit(-100_000, 100_000, "a kWh"),
    "up_to_kwh": Limit(0, 1e7, "kWh", above=True),
    "demand_per_kw": Limit(0, 1_000_000, "a kW"),
    "daily": Limit(0, 1_000_000, "a day"),
    "month_kwh": Limit(0, 1e6, "kWh"),
    "month_peak_kw": Limit(0, 100_000, "kW"),
    # a charging session: packs from a frosty yard to one driven hard; stations from a garage's to a lorry's
    "from_pct": Limit(0, 100, "%"),
    "to_pct": Limit(0, 100, "%", above=True),
    "pack_temperature_c": Limit(-40, 60, "°C"),
    "outside_temperature_c": Limit(-40, 50, "°C"),
    "dc_kw": Limit(3, 1000, "kW"),
    "dc_amps": Limit(10, 1500, "A"),
    "pilot_amps": Limit(6, 80, "A"),
    "phases_live": Limit(1, 3, "phases"),
}


MEMBERS = {  # lists of numbers whose name is not that of one number: what each of them may be
    "speeds_km_h": Limit(20, 200, "km/h"),  # slower, nobody drives hundreds of kilometres
    "temperatures_c": LIMITS["temperature_c"],
    "distances_km": Limit(1, 200, "km"),
    "lows_c": LIMITS["month_c"],
    "highs_c": LIMITS["month_c"],
    "humidities_pct": LIMITS["humidity_pct"],
    "winds_km_h": LIMITS["wind_km_h"],
    "suns_kwh_m2_day": LIMITS["sun_kwh_m2_day"],
    "months": LIMITS["month"],
    # a recorded track, a value a moment
    "time_s": Limit(0, 1e10, "s"),
    "speed_km_h": Limit(0, 252, "km/h"),  # what `trips.recorded` takes for a car
    "elevation_m": Limit(-500, 9000, "m"),
    "grade_pct": Limit(-30, 30, "%"),
    "heading_deg": Limit(0, 360, "degrees from north"),
}


TAG = "shape:"  # begins the name of one shape of several that a body may have; no part of a path that people see


class Incoming(BaseModel):
    """Base of everything from outside: unknown names are refused, nothing changes after reading."""

    model_config = ConfigDict(extra="forbid", frozen=True, allow_inf_nan=False)


def said(message: str, remedy: str, *, at: str = "", value: object = None) -> PydanticCustomError:
    """A fault in our own words for a check that spans fields; `at` names the one to mend, seen from the model."""
    return PydanticCustomError("said", "{message}", {"message": message, "remedy": remedy, "at": at, "value": value})


def _only_a_number(value: Any) -> Any:
    """Pass real numbers on; pydantic's lax mode would take "12" and true as well."""
    if isinstance(value, bool) or not isinstance(value, int | float):
        raise PydanticCustomError("not_a_number", "not a number")
    if isinstance(value, int) and abs(value) > 10**300:
        raise PydanticCustomError("finite_number", "too large to be held")
    if not math.isfinite(value):
        raise PydanticCustomError("finite_number", "not finite")
    return value


Number = Annotated[float, BeforeValidator(_only_a_number, json_schema_input_type=float)]
Whole = Annotated[int, BeforeValidator(_only_a_number, json_schema_input_type=int)]
YesNo = StrictBool


def limited(name: str, default: Any = ...) -> Any:
    """A field held to its row of `LIMITS`; required unless a default is given."""
    limit = LIMITS[name]
    bounds = {"gt" if limit.above else "ge": limit.low, "le": limit.high}
    return Field(default, description=f"{limit.low:g} to {limit.high:g} {limit.unit}", **bounds)


def optional(name: str, null: str = "unknown if null: a typical value is assumed and listed") -> Any:
    """The same, where null or nothing means "unknown": a typical value is assumed and listed."""
    limit = LIMITS[name]
    text = f"{limit.low:g} to {limit.high:g} {limit.unit}; {null}"
    return Field(None, description=text, ge=limit.low, le=limit.high)
