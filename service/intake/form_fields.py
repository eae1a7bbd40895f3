"""The fields of the pages' forms: names, where each stands in the question, units for metric and US readers, defaults.

Scope    names and arithmetic of units only; `form.py` reads a filled form. A template asks here for units and limits.
Source   exact definitions of foot, mile and pound through `service.units`.
"""

from collections.abc import Callable
from dataclasses import dataclass

from service import units
from service.constants import STANDARD_GRAVITY_M_S2
from service.intake.errors import Scale, inward
from service.intake.fields import LIMITS, MEMBERS

__all__ = [
    "FIELDS",
    "LEGS",
    "UNITS",
    "Field",
    "Measure",
    "default_of",
    "limits_of",
    "measure_of",
    "scale_of",
    "unit_of",
]

UNITS = ("metric", "us")
LEGS = (1, 2, 3)  # legs the form has room for
MILE_KM = units.MILE_M / 1000
FOOT_M = units.MILE_M / 5280  # 0.3048 m, exact
GALLON_L = 3.785411784  # US liquid gallon, 231 cubic inches, exact
PSI_KPA = units.POUND_KG * STANDARD_GRAVITY_M_S2 / (FOOT_M / 12) ** 2 / 1000  # pound-force on a square inch, exact


@dataclass(frozen=True, slots=True)
class Field:
    """One input. `path` is its place in the question, "" for fields that only choose; `default` is in metric units."""

    name: str
    path: str
    default: str = ""
    required: bool = False  # where its group is in use
    yes_no: bool = False

    @property
    def leaf(self) -> str:
        """Last name of the path."""
        return self.path.rpartition(".")[2]

    @property
    def is_number(self) -> bool:
        """True where a number is typed."""
        return self.leaf in LIMITS


@dataclass(frozen=True, slots=True)
class Measure:
    """A unit as one group of readers knows it, and the way from and to the metric one."""

    unit: str
    shown: Callable[[float], float] = float
    metric: Callable[[float], float] = float


def _times(unit: str, metric_size: float) -> Measure:
    """A unit that is a plain multiple of the metric one."""
    return Measure(unit, lambda metric: metric / metric_size, lambda shown: shown * metric_size)


US_MEASURES = {  # by the metric unit of `LIMITS`; whatever is not here is the same for everyone
    "°C": Measure("°F", units.fahrenheit_from_celsius, units.celsius_from_fahrenheit),
    "km": _times("miles", MILE_KM),
    "km/h": _times("mph", MILE_KM),
    "stops per km": _times("stops per mile", 1 / MILE_KM),
    "kg": _times("lb", units.POUND_KG),
    "m": _times("feet", FOOT_M),
    "openings per km": _times("openings per mile", 1 / MILE_KM),
    "kWh/100 km": _times("kWh/100 miles", 1 / MILE_KM),
    "kPa": _times("psi", PSI_KPA),
    "a litre": _times("a gallon", 1 / GALLON_L),
    "g/l": _times("g/gallon", 1 / GALLON_L),
    "l/100 km": _times("gallons/100 miles", GALLON_L / MILE_KM),
}


def _legs() -> list[Field]:
    """The inputs of each leg; their paths are completed when it is known which legs are used."""
    return [
        field
        for number in LEGS
        for field in (
            Field(f"leg{number}_distance", "journey.legs.distance_km", required=True),
            Field(f"leg{number}_speed", "journey.legs.speed_km_h", required=True),
            Field(f"leg{number}_stops", "journey.legs.stops_per_km", "0"),
            Field(f"leg{number}_grade", "journey.legs.grade_pct", "0"),
        )
    ]


_SPEC = "vehicle.spec"
FIELDS = {
    field.name: field
    for field in [
        Field("units", "", "metric"),
        Field("typed_units", ""),
        Field("vehicle", "vehicle.id"),
        Field("own_name", f"{_SPEC}.name", "your car"),
        Field("own_kind", f"{_SPEC}.kind", "bev"),
        Field("own_mass", f"{_SPEC}.mass_kg", required=True),
        Field("own_size", f"{_SPEC}.body"),
        Field("own_mass_basis", f"{_SPEC}.mass_basis", "kerb"),
        Field("own_road_load", "", "label"),
        Field("own_label", f"{_SPEC}.label.procedure", "us"),
        Field("own_consumption", f"{_SPEC}.label.consumption_kwh_per_100_km", required=True),
        Field("own_city", f"{_SPEC}.label.consumption_kwh_per_100_km.city", required=True),
        Field("own_highway", f"{_SPEC}.label.consumption_kwh_per_100_km.highway", required=True),
        Field("own_range", f"{_SPEC}.label.range_km"),
        Field("own_electric", f"{_SPEC}.label.all_electric_range_km"),
        Field("own_hours", f"{_SPEC}.label.recharge_hours"),
        Field("own_adjustment", f"{_SPEC}.label.adjustment"),
        Field("own_basis", f"{_SPEC}.label.basis", "socket"),
        Field("own_low", f"{_SPEC}.label.phases.low", required=True),
        Field("own_medium", f"{_SPEC}.label.phases.medium", required=True),
        Field("own_high", f"{_SPEC}.label.phases.high", required=True),
        Field("own_extra_high", f"{_SPEC}.label.phases.extra_high", required=True),
        Field("own_cd_a", f"{_SPEC}.road_load.cd_a_m2", required=True),
        Field("own_crr", f"{_SPEC}.road_load.crr", required=True),
        Field("own_f0", f"{_SPEC}.road_load.f0_n", required=True),
        Field("own_f1", f"{_SPEC}.road_load.f1_n_per_km_h", required=True),
        Field("own_f2", f"{_SPEC}.road_load.f2_n_per_km_h2", required=True),
        Field("own_a", f"{_SPEC}.road_load.a_lbf", required=True),
        Field("own_b", f"{_SPEC}.road_load.b_lbf_per_mph", required=True),
        Field("own_c", f"{_SPEC}.road_load.c_lbf_per_mph2", required=True),
        Field("own_usable", f"{_SPEC}.battery.usable_kwh", required=True),
        Field("own_chemistry", f"{_SPEC}.battery.chemistry"),
        Field("own_motor", f"{_SPEC}.motor_kw"),
        Field("own_charger", f"{_SPEC}.onboard_charger_kw"),
        Field("own_heating", f"{_SPEC}.climate_system.heating"),
        Field("journey", "journey.cycle", "wltc_class3b"),
        *_legs(),
        Field("round_trip", "", "yes"),
        Field("procedure", "procedure", "road"),
        Field("temperature", "weather.temperature_c", "20"),
        Field("humidity", "weather.humidity_pct"),
        Field("wind", "weather.wind_km_h"),
        Field("sun", "weather.sun_w_m2"),
        Field("clock_month", "weather.clock.month"),
        Field("clock_hour", "weather.clock.hour"),
        Field("clock_latitude", "weather.clock.latitude_deg"),
        Field("wind_from", "weather.wind_from_deg"),
        Field("altitude", "weather.altitude_m", "0"),
        Field("surface", "weather.surface", "dry"),
        Field("charge", "start.state_of_charge_pct", "100"),
        Field("health", "start.state_of_health_pct", "100"),
        Field("soaked", "start.soaked", "yes", yes_no=True),
        Field("in_sun", "start.in_sun", "no", yes_no=True),
        Field("preconditioned", "start.preconditioned", "no", yes_no=True),
        Field("climate", "cabin.climate", "auto"),
        Field("set_point", "cabin.set_point_c", "21"),
        Field("occupants", "cabin.occupants", "1"),
        Field("cabin_air", "cabin.air", "auto"),
        Field("seat_heat", "cabin.seat_heat", "no", yes_no=True),
        Field("payload", "payload_kg", "0"),
        Field("tyre_class", "outfit.tyres.label_class"),
        Field("winter_tyres", "outfit.tyres.winter", "no", yes_no=True),
        Field("tyres_set_at", "outfit.tyres.set_at_c"),
        Field("roof_box", "outfit.roof_box", "no", yes_no=True),
        Field("trailer", "outfit.trailer.laden_kg"),
        Field("body_load", "outfit.body_load_w", "0"),
        Field("doors", "outfit.door_openings_per_km", "0"),
        Field("drive_mode", "engine_use.mode", "electric_priority"),
        Field("defrost", "engine_use.defrost", "no", yes_no=True),
        Field("circuit", "circuit.id"),
        Field("circuit_volts", "circuit.volts", required=True),
        Field("circuit_amps", "circuit.amps", required=True),
        Field("circuit_phases", "circuit.phases", "1"),
        # routes compared
        Field("vehicles", ""),  # ids, commas between them
        Field("months_by", "", "place"),
        Field("place", "place"),
        Field("cold", "months.cold.temperature_c", "-10"),
        Field("mild", "months.mild.temperature_c", "10"),
        Field("hot", "months.hot.temperature_c", "32"),
        Field("reserve", "reserve_km", "0"),
        Field("between_trips", "charge_at_depot_between_trips", "no", yes_no=True),
        # a complaint checked
        Field("words", "complaint"),
        Field("reported", "reported_km", required=True),
        Field("end_charge", "end.state_of_charge_pct", "0"),
        Field("parked", "parked"),
        Field("tyre_pressure", "tyre_pressure_kpa"),
        Field("placard_pressure", "placard_pressure_kpa", "250"),
        Field("odometer", "odometer_km"),
        # a commute through the year
        Field("leaves_home", "leaves_home_hour", "7.5"),
        Field("leaves_work", "leaves_work_hour", "17"),
        Field("days_a_week", "days_per_week", "5"),
        Field("weeks", "weeks_per_year"),
        Field("overnight", "parked_overnight", "outside"),
        Field("work_charging", "charge_at_work", "no", yes_no=True),
        Field("work_circuit", "work_circuit.id"),
        Field("year_by", "", "place"),
        Field("lows", "lows_c"),  # twelve numbers with spaces between
        Field("highs", "highs_c"),
        Field("humidities", "humidities_pct"),  # the same, a question mark where a month is not known
        Field("winds", "winds_km_h"),
        Field("suns", "suns_kwh_m2_day"),
        Field("latitude", "latitude_deg"),
        Field("currency", "prices.currency"),
        Field("electricity_price", "prices.electricity_per_kwh"),
        Field("work_price", "prices.work_electricity_per_kwh"),
        Field("fuel_price", "prices.fuel_per_l"),
        Field("grid", "factors.grid_g_per_kwh"),
        Field("fuel_co2", "factors.fuel_g_per_l"),
        Field("fuel_use", "factors.fuel_l_per_100_km"),
        # speed and weather
        Field("trip_speed", "trip.speed_km_h", "50"),
        Field("trip_stops", "trip.stops_per_km", "1"),
        # the planetary gear of a car of one's own
        Field("own_layout", f"{_SPEC}.layout"),
        Field("own_sun", f"{_SPEC}.power_split.sun_teeth"),
        Field("own_ring", f"{_SPEC}.power_split.ring_teeth"),
        Field("own_final_drive", f"{_SPEC}.power_split.final_drive"),
        Field("own_wheel_radius", f"{_SPEC}.power_split.wheel_radius_m"),
        Field("own_generator_rpm", f"{_SPEC}.power_split.generator_max_rpm"),
        Field("own_clutch", f"{_SPEC}.power_split.one_way_clutch", yes_no=True),
        Field("own_generator_nm", f"{_SPEC}.power_split.generator_nm"),
        # a plan of charging
        Field("charge_from", "from_pct", required=True),
        Field("charge_to", "to_pct", "100"),
        Field("arrives", "arrives"),
        Field("departs", "departs"),
        Field("tariff", "tariff.id"),
        Field("tariff_table", "tariff.spec.table"),
        Field("tariff_zone", "tariff.spec.time_zone"),
        Field("tariff_currency", "tariff.spec.currency"),
        Field("tariff_demand", "tariff.spec.demand_per_kw", "0"),
        Field("tariff_daily", "tariff.spec.daily", "0"),
        Field("tariff_holidays", "tariff.spec.holidays"),
        Field("month_kwh", "month_kwh", "0"),
        Field("month_peak", "month_peak_kw", "0"),
        # a charging session
        Field("current_kind", "", "ac"),
        Field("from_pct", "from_pct", "20"),
        Field("to_pct", "to_pct", "80"),
        Field("pack_temperature", "pack_temperature_c"),
        Field("station_kw", "circuit.dc_kw", "150"),
        Field("station_amps", "circuit.dc_amps"),
        Field("pilot_amps", "pilot_amps"),
        Field("phases_live", "phases_live"),
        Field("run_length", "circuit.run.length_m"),
        Field("run_section", "circuit.run.section_mm2"),
        Field("run_gauge", "circuit.run.awg"),
    ]
}


def measure_of(name: str, system: str) -> Measure:
    """How one field's number is written in a system of units ("metric" or "us").

    >>> measure_of("temperature", "us").metric(14)
    -10.0
    """
    leaf = FIELDS[name].leaf
    limit = LIMITS.get(leaf) or MEMBERS.get(leaf)
    own = limit.unit if limit else ""
    return US_MEASURES.get(own, Measure(own)) if system == "us" else Measure(own)


def unit_of(name: str, system: str) -> str:
    """The unit beside the input; "" where there is none.

    >>> unit_of("wind", "us"), unit_of("own_usable", "us")
    ('mph', 'kWh')
    """
    return measure_of(name, system).unit


def default_of(name: str, system: str) -> str:
    """What an empty input means, as text in the reader's units; "" where nothing is assumed here.

    >>> default_of("temperature", "us"), default_of("set_point", "us"), default_of("humidity", "us")
    ('68', '69.8', '')
    """
    field = FIELDS[name]
    if not field.default or not field.is_number:
        return field.default
    return f"{measure_of(name, system).shown(float(field.default)):.6g}"


def limits_of(name: str, system: str) -> tuple[float, float] | None:
    """Lowest and highest legal number in the reader's units, rounded inwards; None for choices.

    >>> limits_of("temperature", "us")
    (-40.0, 122.0)
    """
    field = FIELDS[name]
    if not field.is_number:
        return None
    limit, scale = LIMITS[field.leaf], scale_of(name, system)
    return inward(limit, scale)


def scale_of(name: str, system: str) -> Scale:
    """How error messages about a field show its numbers."""
    measure = measure_of(name, system)
    return Scale(measure.unit, measure.shown)
