"""Fill every gap of a question, and list what filled it.

Scope    defaults only; what is known is never changed. The values stand in data/typical.csv with their sources.
Result   the same `Ask` with no None left, and an `Assumption` for each gap.
"""

from dataclasses import dataclass, field, replace

from service.catalogue import Catalogue
from service.constants import US_REFERENCE_PA
from service.quotes.answer import Assumption
from service.specs import (
    Ask,
    Battery,
    BodyAndTyres,
    Circuit,
    Clock,
    Engine,
    Heating,
    Kind,
    LabelProcedure,
    Layout,
    Outfit,
    Procedure,
    Triggers,
    Vehicle,
    Weather,
)
from service.trips.sun import MONTH_DAYS, clear_sky_w_m2, elevation_rad
from service.units import KM_H, KWH_J

__all__ = ["complete", "speaks_us"]

US_CYCLES = ("udds", "hwfet", "us06", "nycc")
SMALL_BELOW_KG, LARGE_ABOVE_KG = 1350.0, 1900.0  # kerb mass by size of car: common practice
ONE_PHASE_W = 7_500.0  # 32 A at 230 V is 7.4 kW: what one phase of a wall unit gives, common practice


@dataclass(slots=True)
class Filling:
    """Collects assumptions while gaps are filled."""

    catalogue: Catalogue
    listed: list[Assumption] = field(default_factory=list)

    def value(self, given: float | None, entry: str, name: str, scale: float = 1.0, unit: str | None = None) -> float:
        """`given`, or the typical entry times `scale`, listed under `name` in `unit` as people read it."""
        if given is not None:
            return given
        typical = self.catalogue.typical_entry(entry)
        self.note(name, typical.value * scale, unit or typical.unit, typical.source)
        return typical.value * scale

    def note(self, name: str, value: float | str, unit: str, source: str) -> None:
        """List a value."""
        self.listed.append(Assumption(name, value, unit, source))

    def choice(self, given, value, name: str, source: str):
        """`given`, or a word, listed."""
        if given is not None:
            return given
        self.note(name, str(value), "", source)
        return value


def complete(ask: Ask, catalogue: Catalogue, with_engine: bool = True) -> tuple[Ask, tuple[Assumption, ...]]:
    """The question without gaps, and what filled them.

    Args:
        with_engine: False leaves the engine out: what the car does on electricity alone.
    """
    filling = Filling(catalogue)
    circuit = complete_circuit(ask, filling)
    filled = replace(
        ask,
        vehicle=complete_vehicle(ask.vehicle, circuit, filling, with_engine),
        weather=complete_weather(ask.weather, ask.procedure, filling, ask.start.in_sun),
        circuit=circuit,
        outfit=complete_outfit(ask, filling),
    )
    note_fixed(filled, filling)
    return filled, tuple(filling.listed)


def complete_vehicle(vehicle: Vehicle, circuit: Circuit | None, filling: Filling, with_engine: bool = False) -> Vehicle:
    """Motor, charger, heating, cabin and battery."""
    engine = vehicle.kind.has_engine
    suffix = "engine" if engine else "bev"
    kerb_kg = vehicle.mass_kg
    battery = complete_battery(vehicle, filling)
    charger_w = complete_charger(vehicle, suffix, filling)
    motor_w = filling.value(vehicle.motor_w, f"motor_w_per_kg_{suffix}", "electric motor power", kerb_kg, "W")
    limit_w = filling.value(
        vehicle.charge_limit_w, f"charge_limit_c_{suffix}", "charging power that a warm pack accepts",
        battery.nominal_j / 3600, "W",
    )  # fmt: skip
    heating = filling.choice(
        vehicle.heating,
        Heating.ENGINE if vehicle.kind is Kind.HYBRID else Heating.RESISTIVE,
        "cabin heating",
        "common practice where nothing else is stated",
    )
    return replace(
        vehicle,
        battery=battery,
        motor_w=motor_w,
        charge_limit_w=limit_w,
        heating=heating,
        heater_w=0.0 if heating is Heating.ENGINE else filling.value(vehicle.heater_w, "heater_w", "cabin heater"),
        onboard_charger_w=charger_w,
        onboard_charger_phases=complete_phases(vehicle, charger_w, circuit, filling),
        body=filling.choice(vehicle.body, body_for(kerb_kg), "size of cabin", "from the mass: common practice"),
        base_load_w=filling.value(vehicle.base_load_w, "base_load_w", "12 V consumers while driving"),
        **(engine_parts(vehicle, filling) if engine and with_engine else {"engine": None}),
    )


def engine_parts(vehicle: Vehicle, filling: Filling) -> dict[str, object]:
    """Layout, engine and minimum run of a car with an engine. Thresholds that nobody knows stay unknown."""
    triggers = vehicle.triggers or Triggers()
    engine = vehicle.engine
    max_w = filling.value(engine and engine.max_w, "engine_w_per_kg", "combustion engine's power", vehicle.mass_kg, "W")
    best = filling.value(engine and engine.best_efficiency, "engine_best_efficiency", "engine efficiency at its best")
    run_s = filling.value(triggers.minimum_run_s, "engine_minimum_run_s", "shortest run of the engine")
    layout = filling.choice(
        vehicle.layout,
        Layout.POWER_SPLIT if vehicle.power_split else Layout.PARALLEL,
        "layout",
        "the usual one where nothing else is stated: common practice",
    )
    return {
        "layout": layout,
        "engine": replace(engine or Engine(max_w), max_w=max_w, best_efficiency=best),
        "triggers": replace(triggers, minimum_run_s=run_s),
    }


def complete_charger(vehicle: Vehicle, suffix: str, filling: Filling) -> float:
    """Rating of the onboard charger, W; nothing for a car without an inlet."""
    if not vehicle.kind.plugs_in:
        return vehicle.onboard_charger_w or 0.0
    return filling.value(
        vehicle.onboard_charger_w, f"onboard_charger_w_{'phev' if suffix == 'engine' else 'bev'}", "onboard charger"
    )


def complete_phases(vehicle: Vehicle, charger_w: float, circuit: Circuit | None, filling: Filling) -> int:
    """Phases of the onboard charger: one, unless its rating is more than one phase of a wall unit gives."""
    if vehicle.onboard_charger_phases is not None or circuit is None:
        return vehicle.onboard_charger_phases or 1
    if charger_w > ONE_PHASE_W and circuit.phases > 1:
        filling.note("onboard charger phases", circuit.phases, "1", "as many as the circuit has: its rating needs them")
        return circuit.phases
    return int(filling.value(None, "onboard_charger_phases", "onboard charger phases"))


def complete_battery(vehicle: Vehicle, filling: Filling) -> Battery:
    """Whole-pack energy, voltage, chemistry and heater."""
    pack = vehicle.battery
    suffix = "engine" if vehicle.kind.has_engine else "bev"
    usable_kwh = pack.usable_j / KWH_J
    nominal_j = pack.nominal_j
    if nominal_j is None:
        nominal_j = KWH_J * filling.value(None, f"nominal_over_usable_{suffix}", "whole-pack energy", usable_kwh, "kWh")
    return replace(
        pack,
        nominal_j=nominal_j,
        nominal_v=filling.value(pack.nominal_v, "nominal_v", "pack voltage"),
        chemistry=filling.choice(pack.chemistry, "nmc", "cell chemistry", "the usual one: common practice"),
        heater_w=filling.value(pack.heater_w, "pack_heater_w", "pack heater"),
    )


def body_for(kerb_kg: float) -> str:
    """Size of cabin from the mass."""
    if kerb_kg < SMALL_BELOW_KG:
        return "small"
    return "large" if kerb_kg > LARGE_ABOVE_KG else "medium"


def complete_weather(weather: Weather, procedure: Procedure, filling: Filling, in_sun: bool = False) -> Weather:
    """Humidity, wind and sun; a test cell has no wind, and no sun but the lamps that were stated.

    Args:
        in_sun: the car stood in the sun, so the day has some.
    """
    if procedure is Procedure.DYNAMOMETER:
        humid = 0.5 if weather.relative_humidity is None else weather.relative_humidity
        return replace(weather, relative_humidity=humid, wind_m_s=0.0, sun_w_m2=weather.sun_w_m2 or 0.0)
    wind_m_s = weather.wind_m_s
    if wind_m_s is None:
        wind_m_s = KM_H * filling.value(None, "wind_km_h", "wind")
    humid = filling.value(weather.relative_humidity, "relative_humidity", "relative humidity")
    return replace(
        weather,
        relative_humidity=humid,
        wind_m_s=wind_m_s,
        sun_w_m2=complete_sun(weather, filling, in_sun),
    )


def complete_sun(weather: Weather, filling: Filling, in_sun: bool = False) -> float:
    """Sunshine on level ground: given, by clock and season under a usual sky, a sunny day's, or a year's mean."""
    clock = weather.clock
    if clock is None and weather.sun_w_m2 is None and in_sun:
        return filling.value(None, "sunny_w_m2", "sunshine on level ground")
    if clock is None or weather.sun_w_m2 is not None:
        return filling.value(weather.sun_w_m2, "sun_w_m2", "sunshine on level ground")
    clear = filling.value(None, "clear_share", "sun over a clear sky's")
    return clear * clear_sky_w_m2(elevation_of(clock))


def elevation_of(clock: Clock) -> float:
    """Height of the sun over the horizon, rad; negative at night."""
    return elevation_rad(clock.latitude_deg, MONTH_DAYS[clock.month - 1], clock.hour)


def complete_outfit(ask: Ask, filling: Filling) -> Outfit:
    """Placard of tyres whose pressure is said, drag area of a trailer."""
    outfit = ask.outfit
    if outfit.tyre_pa is not None or outfit.tyres_set_k is not None:
        placard_pa = filling.value(outfit.placard_pa, "placard_kpa", "recommended tyre pressure", 1000, "Pa")
        outfit = replace(outfit, placard_pa=placard_pa)
    if outfit.trailer is not None and ask.procedure is Procedure.ROAD:
        added_m2 = filling.value(outfit.trailer.cd_a_m2, "trailer_cd_a_m2", "drag area that the trailer adds")
        outfit = replace(outfit, trailer=replace(outfit.trailer, cd_a_m2=added_m2))
    return outfit


def speaks_us(ask: Ask) -> bool:
    """True where the question is North American by its cycle, its car's label, or the reference air of coefficients."""
    load, label = ask.vehicle.road_load, ask.vehicle.label
    if ask.journey.cycle is not None:
        return ask.journey.cycle in US_CYCLES
    if label is not None:
        return label.procedure is LabelProcedure.US
    return not isinstance(load, BodyAndTyres) and load.reference_pa == US_REFERENCE_PA


def complete_circuit(ask: Ask, filling: Filling) -> Circuit | None:
    """The given circuit, or the reference one of the region that the question speaks of; none without an inlet."""
    if ask.circuit is not None or not ask.vehicle.kind.plugs_in:
        return ask.circuit if ask.vehicle.kind.plugs_in else None
    circuit = filling.catalogue.circuit("na-wall-unit-30a" if speaks_us(ask) else "uk-wall-unit-32a")
    filling.note("charging circuit", f"{circuit.volts:g} V, {circuit.continuous_a:g} A", "", "reference circuit")
    return circuit


FIXED = (  # (typical entry, name, when it counts)
    ("tyre_share", "tyre share of constant road load", lambda ask: not isinstance(ask.vehicle.road_load, BodyAndTyres)),
    ("no_load_n", "bearing, brake and oil drag", lambda ask: isinstance(ask.vehicle.road_load, BodyAndTyres)),
    ("no_load_n_s_m", "drag that grows with speed", lambda ask: isinstance(ask.vehicle.road_load, BodyAndTyres)),
    ("winter_tyre_factor", "winter over summer tyre, rolling resistance", lambda ask: ask.outfit.winter_tyres),
    ("roof_box_share", "drag area added by the roof box", lambda ask: ask.outfit.roof_box),
    ("trailer_crr", "rolling resistance of the trailer's tyres", lambda ask: ask.outfit.trailer is not None),
    ("door_air_kg", "air let in when a door opens", lambda ask: ask.outfit.door_openings_per_m > 0),
    ("regen_share", "braking asked of the motor", lambda ask: True),
    ("heat_pump_w", "heat pump output at 0 °C", lambda ask: ask.vehicle.heating is Heating.HEAT_PUMP),
    ("seat_heat_w", "heated seat, each", lambda ask: ask.cabin.seat_heat),
    ("charger_conversion", "efficiency of the onboard charger alone", lambda ask: ask.vehicle.kind.plugs_in),
    ("charger_fixed_w", "drawn by the car while charging", lambda ask: ask.vehicle.kind.plugs_in),
)  # type: tuple[tuple[str, str, Callable[[Ask], bool]], ...]


def note_fixed(ask: Ask, filling: Filling) -> None:
    """List the typical values that no question can change but every answer rests on."""
    for entry, name, counts in FIXED:
        if counts(ask):
            filling.value(None, entry, name)
