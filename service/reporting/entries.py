"""Catalogue entries as they leave: id, name, kind and the useful rest in people's units.

A car's `spec` has the names of a question's `vehicle.spec`, so that it can be sent back with changes.
"""

from typing import Self

from pydantic import Field

from service import specs, units
from service.charging.supply import supply_ends_v
from service.reporting.answers import Outgoing, rounded

__all__ = [
    "CircuitEntry",
    "CycleEntry",
    "PlaceEntry",
    "TyreClassEntry",
    "VehicleEntry",
    "label_out",
    "spec_out",
]

J_M = units.KWH_J / 1e5  # in one kWh/100 km
WEEK_S, MONTH_S = 7 * 86_400.0, 365.25 / 12 * 86_400.0
EXACT = 9  # significant digits of figures that may be sent back
PHASE_KINDS = {1: "single_phase", 2: "two_phase", 3: "three_phase"}


def _scaled(value: float | None, factor: float, digits: int = EXACT) -> float | None:
    return None if value is None else rounded(value * factor, digits)


class VehicleEntry(Outgoing):
    """An invented, generically named car."""

    id: str
    name: str
    kind: specs.Kind
    spec: dict[str, object] = Field(description="may be sent as vehicle.spec, with changes; its label is invented, too")

    @classmethod
    def of(cls, car: specs.Vehicle) -> Self:
        """From the record."""
        return cls(id=car.id, name=car.name, kind=car.kind, spec=spec_out(car))


def spec_out(car: specs.Vehicle) -> dict[str, object]:
    """What is known of a car, in the names of a question; unknown values are null."""
    return {
        "name": car.name,
        "kind": car.kind,
        "mass_kg": car.mass_kg,
        "mass_basis": car.mass_basis,
        "road_load": _road_load(car.road_load),
        "motor_kw": _scaled(car.motor_w, 1e-3),
        "battery": {
            "usable_kwh": _scaled(car.battery.usable_j, 1 / units.KWH_J),
            "nominal_kwh": _scaled(car.battery.nominal_j, 1 / units.KWH_J),
            "nominal_v": car.battery.nominal_v,
            "chemistry": car.battery.chemistry,
            "heater_kw": _scaled(car.battery.heater_w, 1e-3),
        },
        "onboard_charger_kw": _scaled(car.onboard_charger_w, 1e-3),
        "onboard_charger_phases": car.onboard_charger_phases,
        "climate_system": None if car.heating is None else {"heating": car.heating},
        "heater_kw": _scaled(car.heater_w, 1e-3),
        "body": car.body,
        "base_load_w": car.base_load_w,
        "charge_limit_kw": _scaled(car.charge_limit_w, 1e-3),
        "label": None if car.label is None else label_out(car.label),
        "drive_loss": car.drive_loss,
        "charger_loss": car.charger_loss,
        "layout": car.layout,
        "power_split": _power_split(car.power_split),
        "engine": _engine(car.engine),
        "triggers": _triggers(car.triggers),
    }


def _engine(engine: specs.Engine | None) -> dict[str, object] | None:
    """The combustion engine, None where there is none or nothing is known."""
    if engine is None:
        return None
    return {
        "max_kw": _scaled(engine.max_w, 1e-3),
        "fuel": engine.fuel,
        "best_efficiency_pct": _scaled(engine.best_efficiency, 100),
        "sustaining_l_per_100_km": _scaled(engine.sustaining_m3_m, 1e8),
    }


def _triggers(known: specs.Triggers | None) -> dict[str, object] | None:
    """What starts the engine, None where nothing is known."""
    if known is None:
        return None
    return {
        "speed_km_h": _scaled(known.speed_m_s, 1 / units.KM_H),
        "power_kw": _scaled(known.power_w, 1e-3),
        "cabin_heat_below_c": _celsius(known.cabin_heat_below_k),
        "defrost_below_c": _celsius(known.defrost_below_k),
        "cold_pack_c": _celsius(known.cold_pack_k),
        "hot_pack_c": _celsius(known.hot_pack_k),
        "low_charge_pct": _scaled(known.low_charge, 100),
        "spins_on_full_descent": known.spins_on_full_descent,
        "upkeep_after_weeks": _scaled(known.upkeep_after_s, 1 / WEEK_S),
        "fuel_age_months": _scaled(known.fuel_age_s, 1 / MONTH_S),
        "minimum_run_s": known.minimum_run_s,
    }


def _celsius(kelvin: float | None) -> float | None:
    return None if kelvin is None else rounded(units.celsius_from_kelvin(kelvin), EXACT)


def _power_split(split: specs.PowerSplit | None) -> dict[str, object] | None:
    """The planetary gear, None where there is none or it is not known."""
    if split is None:
        return None
    return {
        "sun_teeth": split.sun_teeth,
        "ring_teeth": split.ring_teeth,
        "final_drive": split.final_drive,
        "wheel_radius_m": split.wheel_radius_m,
        "generator_max_rpm": _scaled(split.generator_max_rad_s, 1 / units.RPM),
        "one_way_clutch": split.one_way_clutch,
        "generator_nm": split.generator_n_m,
    }


def label_out(label: specs.Label, digits: int = EXACT) -> dict[str, object]:
    """A label in the names of a question's `vehicle.spec.label`."""
    parts = {name: _scaled(value, 1 / J_M, digits) for name, value in label.parts_j_m}
    us = label.procedure is specs.LabelProcedure.US
    return {
        "procedure": label.procedure,
        "consumption_kwh_per_100_km": parts if us and parts else _scaled(label.consumption_j_m, 1 / J_M, digits),
        "adjustment": label.adjustment,
        "range_km": _scaled(label.range_m, 1e-3, digits),
        "all_electric_range_km": _scaled(label.all_electric_range_m, 1e-3, digits),
        "basis": label.basis,
        "phases": parts if parts and not us else None,
        "recharge_hours": _scaled(label.recharge_s, 1 / 3600, digits),
    }


def _road_load(load: specs.RoadLoad | specs.BodyAndTyres | None) -> dict[str, float | None] | None:
    """Coefficients in N and km/h, or the parts; None of a car known by its label alone."""
    if load is None:
        return None
    if isinstance(load, specs.BodyAndTyres):
        return {"cd_a_m2": load.cd_a_m2, "crr": load.crr}
    return {
        "f0_n": rounded(load.f0_n, EXACT),
        "f1_n_per_km_h": _scaled(load.f1_n_s_m, units.KM_H),
        "f2_n_per_km_h2": _scaled(load.f2_n_s2_m2, units.KM_H**2),
        "reference_c": rounded(units.celsius_from_kelvin(load.reference_k), EXACT),
        "reference_kpa": _scaled(load.reference_pa, 1e-3),
        "reference_mass_kg": load.reference_mass_kg,
    }


class CycleEntry(Outgoing):
    """A regulatory drive cycle."""

    id: str
    name: str
    kind: str = "regulatory_cycle"
    distance_km: float
    duration_s: int
    mean_speed_km_h: float
    top_speed_km_h: float
    source: str

    @classmethod
    def of(cls, cycle: specs.Cycle) -> Self:
        """Totals of the trace: speed is linear between the seconds, as the march drives it."""
        speeds = cycle.speed_m_s
        duration_s = len(speeds) - 1
        distance_m = sum(speeds) - (speeds[0] + speeds[-1]) / 2
        return cls(
            id=cycle.id,
            name=cycle.name,
            distance_km=rounded(distance_m / 1000),
            duration_s=duration_s,
            mean_speed_km_h=rounded(distance_m / duration_s / units.KM_H),
            top_speed_km_h=rounded(max(speeds) / units.KM_H),
            source=cycle.source,
        )


class CircuitEntry(Outgoing):
    """An outlet or wall unit."""

    id: str
    name: str
    kind: str = Field(description="single_phase, two_phase or three_phase")
    region: str
    volts: float = Field(description="phase to neutral where there are three phases")
    amps: float = Field(description="continuous, per phase")
    phases: int
    power_kw: float
    rating_a: float | None = Field(description="of breaker or fuse; of socket or station in Europe")
    rule: specs.LoadRule = Field(description="what sets the continuous current")
    wall_unit: bool | None = Field(description="false: a socket")
    volts_low: float = Field(description="lowest that the supply may steadily have")
    volts_high: float
    source: str | None

    @classmethod
    def of(cls, circuit: specs.Circuit) -> Self:
        """From the record."""
        return cls(
            id=circuit.id,
            name=circuit.name,
            kind=PHASE_KINDS[circuit.phases],
            region=circuit.region,
            volts=circuit.volts,
            amps=circuit.continuous_a,
            phases=circuit.phases,
            power_kw=rounded(circuit.volts * circuit.continuous_a * circuit.phases / 1000),
            rating_a=circuit.rating_a,
            rule=circuit.rule,
            wall_unit=circuit.wall_unit,
            volts_low=rounded(supply_ends_v(circuit)[0]),
            volts_high=rounded(supply_ends_v(circuit)[2]),
            source=circuit.source,
        )


class TyreClassEntry(Outgoing):
    """A fuel-efficiency class of the tyre label."""

    id: str
    name: str
    kind: str = "tyre_label_class"
    crr: float = Field(description="rolling-resistance coefficient at 25 °C that stands for the class")

    @classmethod
    def of(cls, tyres: specs.TyreClass) -> Self:
        """From the record."""
        return cls(id=tyres.id, name=tyres.name, crr=tyres.crr)


class PlaceEntry(Outgoing):
    """Monthly normals of one station, January first; null where the source has none."""

    id: str
    name: str
    kind: str = "climate_normals"
    country: str
    latitude_deg: float
    longitude_deg: float
    elevation_m: float | None
    coldest_c: list[float] = Field(description="mean daily minimum of each month")
    warmest_c: list[float] = Field(description="mean daily maximum of each month")
    humidity_pct: list[float | None]
    wind_km_h: list[float | None]
    sun_kwh_m2_day: list[float | None]

    @classmethod
    def of(cls, place: specs.Place) -> Self:
        """From the record."""
        return cls(
            id=place.id,
            name=place.name,
            country=place.country,
            latitude_deg=place.latitude_deg,
            longitude_deg=place.longitude_deg,
            elevation_m=place.elevation_m,
            coldest_c=[round(units.celsius_from_kelvin(kelvin), 2) for kelvin in place.coldest_k],
            warmest_c=[round(units.celsius_from_kelvin(kelvin), 2) for kelvin in place.warmest_k],
            humidity_pct=[_scaled(share, 100, 4) for share in place.relative_humidity],
            wind_km_h=[_scaled(wind, 1 / units.KM_H, 4) for wind in place.wind_m_s],
            sun_kwh_m2_day=[_scaled(sun, 1 / units.KWH_J, 4) for sun in place.sun_j_m2_day],
        )
