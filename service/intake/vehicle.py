"""A car as people give it: an id of the catalogue, or its figures.

Scope    the contract's names and units, checks that span fields, and the way to SI.
Source   reference states of coefficients: 40 CFR 1066.305 (20 °C, 98.21 kPa) and UN GTR 15 annex 4 (20 °C, 100 kPa).
"""

from collections.abc import Mapping
from typing import Annotated, Any, Protocol

from pydantic import Discriminator, Field, Tag, model_validator

from service import specs, units
from service.constants import US_REFERENCE_PA, WLTP_REFERENCE_PA
from service.intake.engine import EngineIn, TriggersIn
from service.intake.fields import LIMITS, Incoming, Number, Whole, YesNo, limited, optional, said
from service.intake.label import LabelIn, with_gaps_of_a_label

__all__ = ["ROAD_LOAD_TAGS", "BatteryIn", "PowerSplitIn", "SpecIn", "VehicleIn"]

ShortText = Annotated[str, Field(min_length=1, max_length=80)]
LOWEST_CHECKED_KM_H, HIGHEST_CHECKED_KM_H = 5, 150  # between these a road load must resist the car


class _Polynomial(Protocol):
    """Any road load given by three coefficients."""

    def road_load(self) -> specs.RoadLoad:
        """In SI."""


def _refuse_push(shape: _Polynomial, slope_name: str) -> None:
    """Raise if the force is not positive everywhere between 5 and 150 km/h.

    The smallest force of a parabola that opens upwards is at its vertex or at the end nearest to it.
    """
    load = shape.road_load()
    low, high = LOWEST_CHECKED_KM_H * units.KM_H, HIGHEST_CHECKED_KM_H * units.KM_H
    worst_m_s = min(max(-load.f1_n_s_m / (2 * load.f2_n_s2_m2), low), high)
    force_n = load.f0_n + load.f1_n_s_m * worst_m_s + load.f2_n_s2_m2 * worst_m_s**2
    if force_n <= 0:
        raise said(
            f"the road load would push the car: {force_n:.3g} N at {worst_m_s / units.KM_H:.3g} km/h",
            f"give coefficients whose force is positive from {LOWEST_CHECKED_KM_H} to {HIGHEST_CHECKED_KM_H} km/h",
            at=slope_name,
            value=getattr(shape, slope_name),
        )


class PoundForceRoadLoad(Incoming):
    """F = A + B·v + C·v² in pounds of force, v in mph, as US certification data give it."""

    a_lbf: Number = limited("a_lbf")
    b_lbf_per_mph: Number = limited("b_lbf_per_mph")
    c_lbf_per_mph2: Number = limited("c_lbf_per_mph2")
    reference_c: Number = limited("reference_c", 20.0)
    reference_kpa: Number = limited("reference_kpa", US_REFERENCE_PA / 1000)
    reference_mass_kg: Number | None = optional("reference_mass_kg")

    @model_validator(mode="after")
    def _resists(self) -> "PoundForceRoadLoad":
        _refuse_push(self, "b_lbf_per_mph")
        return self

    def road_load(self) -> specs.RoadLoad:
        """The same fit in SI."""
        return specs.RoadLoad(
            f0_n=units.newton_from_pound_force(self.a_lbf),
            f1_n_s_m=units.n_s_m_from_lbf_per_mph(self.b_lbf_per_mph),
            f2_n_s2_m2=units.n_s2_m2_from_lbf_per_mph2(self.c_lbf_per_mph2),
            reference_mass_kg=self.reference_mass_kg,
            reference_k=units.kelvin_from_celsius(self.reference_c),
            reference_pa=self.reference_kpa * 1000,
        )


class NewtonRoadLoad(Incoming):
    """F = f0 + f1·v + f2·v² in newtons, v in km/h, as WLTP data give it."""

    f0_n: Number = limited("f0_n")
    f1_n_per_km_h: Number = limited("f1_n_per_km_h")
    f2_n_per_km_h2: Number = limited("f2_n_per_km_h2")
    reference_c: Number = limited("reference_c", 20.0)
    reference_kpa: Number = limited("reference_kpa", WLTP_REFERENCE_PA / 1000)
    reference_mass_kg: Number | None = optional("reference_mass_kg")

    @model_validator(mode="after")
    def _resists(self) -> "NewtonRoadLoad":
        _refuse_push(self, "f1_n_per_km_h")
        return self

    def road_load(self) -> specs.RoadLoad:
        """The same fit in SI."""
        return specs.RoadLoad(
            f0_n=self.f0_n,
            f1_n_s_m=units.n_s_m_from_n_per_km_h(self.f1_n_per_km_h),
            f2_n_s2_m2=units.n_s2_m2_from_n_per_km_h2(self.f2_n_per_km_h2),
            reference_mass_kg=self.reference_mass_kg,
            reference_k=units.kelvin_from_celsius(self.reference_c),
            reference_pa=self.reference_kpa * 1000,
        )


class PartsRoadLoad(Incoming):
    """Drag area, and the rolling-resistance coefficient at 25 °C (ISO 28580)."""

    cd_a_m2: Number = limited("cd_a_m2")
    crr: Number = limited("crr")

    def road_load(self) -> specs.BodyAndTyres:
        """The same in SI."""
        return specs.BodyAndTyres(cd_a_m2=self.cd_a_m2, crr=self.crr)


SHAPES = {"pound_force": PoundForceRoadLoad, "newton": NewtonRoadLoad, "parts": PartsRoadLoad}
ROAD_LOAD_TAGS = frozenset(SHAPES)
THREE_SHAPES = "give a_lbf, b_lbf_per_mph, c_lbf_per_mph2; or f0_n, f1_n_per_km_h, f2_n_per_km_h2; or cd_a_m2, crr"


def _shape_of(road_load: Any) -> str | None:
    """Which of the three shapes is meant: the one with most of its own names present."""
    for tag, shape in SHAPES.items():
        if isinstance(road_load, shape):
            return tag
    if not isinstance(road_load, Mapping):
        return None
    required = {tag: {n for n, f in shape.model_fields.items() if f.is_required()} for tag, shape in SHAPES.items()}
    hits = {tag: len(names & road_load.keys()) for tag, names in required.items()}
    best = max(hits, key=lambda tag: hits[tag])
    return best if hits[best] else None


RoadLoadIn = Annotated[
    Annotated[PoundForceRoadLoad, Tag("pound_force")]
    | Annotated[NewtonRoadLoad, Tag("newton")]
    | Annotated[PartsRoadLoad, Tag("parts")],
    Discriminator(
        _shape_of,
        custom_error_type="said",
        custom_error_message="it has none of the three known shapes",
        custom_error_context={"message": "it has none of the three known shapes", "remedy": THREE_SHAPES},
    ),
]


class BatteryIn(Incoming):
    """The traction battery as new."""

    usable_kwh: Number | None = Field(
        description="0.3 to 300 kWh; null beside a label with a range, which tells it",
        ge=LIMITS["usable_kwh"].low,
        le=LIMITS["usable_kwh"].high,
    )
    nominal_kwh: Number | None = optional("nominal_kwh")
    nominal_v: Number | None = optional("nominal_v")
    chemistry: ShortText | None = Field(None, description="id of a chemistry: nmc, nca or lfp")
    heater_kw: Number | None = optional("heater_kw")

    @model_validator(mode="after")
    def _window_fits(self) -> "BatteryIn":
        if self.nominal_kwh is not None and self.usable_kwh is not None and self.nominal_kwh < self.usable_kwh:
            raise said(
                f"{self.nominal_kwh:g} kWh nominal is less than {self.usable_kwh:g} kWh usable",
                f"give at least {self.usable_kwh:g} kWh, or correct usable_kwh",
                at="nominal_kwh",
                value=self.nominal_kwh,
            )
        return self

    def battery(self) -> specs.Battery:
        """The same in SI."""
        return specs.Battery(
            usable_j=_scaled(self.usable_kwh, units.KWH_J),
            nominal_j=_scaled(self.nominal_kwh, units.KWH_J),
            nominal_v=self.nominal_v,
            chemistry=self.chemistry,
            heater_w=_scaled(self.heater_kw, 1000),
        )


class ClimateSystemIn(Incoming):
    """Where cabin heat comes from while the engine stands still."""

    heating: specs.Heating


class PowerSplitIn(Incoming):
    """The planetary gear: engine on the carrier, generator motor on the sun, wheels on the ring."""

    sun_teeth: Whole = limited("sun_teeth")
    ring_teeth: Whole = limited("ring_teeth")
    final_drive: Number = limited("final_drive")
    wheel_radius_m: Number = limited("wheel_radius_m")
    generator_max_rpm: Number = limited("generator_max_rpm")
    one_way_clutch: YesNo = Field(False, description="holds the engine still, so that the generator motor pushes too")
    generator_nm: Number | None = optional("generator_nm")

    @model_validator(mode="after")
    def _ring_surrounds_sun(self) -> "PowerSplitIn":
        if self.ring_teeth <= self.sun_teeth:
            raise said(
                f"a ring of {self.ring_teeth} teeth does not surround a sun of {self.sun_teeth}",
                f"give more than {self.sun_teeth} teeth, or correct sun_teeth",
                at="ring_teeth",
                value=self.ring_teeth,
            )
        return self

    def power_split(self) -> specs.PowerSplit:
        """The same in SI."""
        return specs.PowerSplit(
            sun_teeth=self.sun_teeth,
            ring_teeth=self.ring_teeth,
            final_drive=self.final_drive,
            wheel_radius_m=self.wheel_radius_m,
            generator_max_rad_s=self.generator_max_rpm * units.RPM,
            one_way_clutch=self.one_way_clutch,
            generator_n_m=self.generator_nm,
        )


class SpecIn(Incoming):
    """A car by its figures. Only kind, mass, usable energy, and a road load or a label are required.

    Beside a label mass may be unknown, and usable energy where the label has a range. A road load beside a label is
    where the fit to the label begins.
    """

    name: ShortText = "own car"
    kind: specs.Kind
    mass_kg: Number | None = Field(
        description="300 to 7500 kg; null beside a label: from the size of the car",
        ge=LIMITS["mass_kg"].low,
        le=LIMITS["mass_kg"].high,
    )
    mass_basis: specs.MassBasis = specs.MassBasis.KERB
    road_load: RoadLoadIn = None  # or a label; null counts as left out
    label: LabelIn | None = None
    motor_kw: Number | None = optional("motor_kw")
    battery: BatteryIn
    onboard_charger_kw: Number | None = optional("onboard_charger_kw")
    onboard_charger_phases: Whole | None = optional("onboard_charger_phases")
    climate_system: ClimateSystemIn | None = None
    heater_kw: Number | None = optional("heater_kw")
    body: ShortText | None = Field(None, description="id of a body size")
    base_load_w: Number | None = optional("base_load_w")
    charge_limit_kw: Number | None = optional("charge_limit_kw")
    drive_loss: Number | None = optional("drive_loss")
    charger_loss: Number | None = optional("charger_loss")
    layout: specs.Layout | None = Field(None, description="how motors and engine reach the wheels; null: unknown")
    power_split: PowerSplitIn | None = Field(None, description="the gear of a power_split layout; null: unknown")
    engine: EngineIn | None = Field(None, description="null: unknown, or none")
    triggers: TriggersIn | None = Field(None, description="what starts the engine; null: nothing is known")

    @model_validator(mode="after")
    def _heat_has_a_source(self) -> "SpecIn":
        heating = self.climate_system and self.climate_system.heating
        if heating is specs.Heating.ENGINE and not self.kind.has_engine:
            raise said(
                "a battery-electric car has no engine to heat with",
                "choose one of: heat_pump, resistive",
                at="climate_system.heating",
                value="engine",
            )
        return self

    @model_validator(mode="after")
    def _layout_fits_the_car(self) -> "SpecIn":
        without = self.layout is specs.Layout.SINGLE_MOTOR
        if self.layout is not None and without == self.kind.has_engine:
            has = "has an engine" if self.kind.has_engine else "has no engine"
            fitting = "power_split, parallel, series" if self.kind.has_engine else "single_motor"
            raise said(
                f"a car of kind {self.kind} {has}", f"choose one of: {fitting}", at="layout", value=str(self.layout)
            )
        return self

    @model_validator(mode="after")
    def _engine_has_a_car(self) -> "SpecIn":
        for name in ("engine", "triggers"):
            if getattr(self, name) is not None and not self.kind.has_engine:
                raise said("a battery-electric car has no engine", f"leave {name} out, or correct the kind", at=name)
        return self

    @model_validator(mode="after")
    def _gear_fits_the_layout(self) -> "SpecIn":
        if self.power_split is None or self.layout is specs.Layout.POWER_SPLIT:
            return self
        if self.layout is not None or not self.kind.has_engine:
            other = self.layout or specs.Layout.SINGLE_MOTOR
            raise said(
                f"a car of layout {other} has no planetary gear between engine and motors",
                "leave power_split out, or give layout power_split",
                at="power_split",
            )
        return self

    @model_validator(mode="before")
    @classmethod
    def _null_is_unknown(cls, given: Any) -> Any:
        if not isinstance(given, Mapping):
            return given
        known = {name: value for name, value in given.items() if name != "road_load" or value is not None}
        return with_gaps_of_a_label(known)

    @model_validator(mode="after")
    def _drag_is_told(self) -> "SpecIn":
        if self.road_load is None and self.label is None:
            raise said("it gives neither of road_load and label", f"{THREE_SHAPES}; or a label", at="road_load")
        if self.label and not self.kind.plugs_in:
            raise said(
                "a hybrid without a plug has no consumption at the socket",
                f"{THREE_SHAPES}; or correct the kind",
                at="label.consumption_kwh_per_100_km",
                value=self.label.shown_kwh(),
            )
        return self

    @model_validator(mode="after")
    def _mass_and_pack_are_told(self) -> "SpecIn":
        if self.mass_kg is None and self.label is None:
            raise said("it is missing", "give 300 to 7500 kg", at="mass_kg")
        if self.battery.usable_kwh is None and (self.label is None or self.label.electric_range_km() is None):
            raise said("it is missing", "give 0.3 to 300 kWh, or a label with its range", at="battery.usable_kwh")
        return self

    def vehicle(self) -> specs.Vehicle:
        """The same car in SI."""
        return specs.Vehicle(
            id="own",
            name=self.name,
            kind=self.kind,
            mass_kg=self.mass_kg,
            mass_basis=self.mass_basis,
            road_load=self.road_load and self.road_load.road_load(),
            battery=self.battery.battery(),
            motor_w=_scaled(self.motor_kw, 1000),
            onboard_charger_w=_scaled(self.onboard_charger_kw, 1000),
            onboard_charger_phases=self.onboard_charger_phases,
            heating=self.climate_system and self.climate_system.heating,
            heater_w=_scaled(self.heater_kw, 1000),
            body=self.body,
            base_load_w=self.base_load_w,
            charge_limit_w=_scaled(self.charge_limit_kw, 1000),
            label=self.label and self.label.label(),
            drive_loss=self.drive_loss,
            charger_loss=self.charger_loss,
            layout=specs.Layout.POWER_SPLIT if self.power_split else self.layout,
            power_split=self.power_split and self.power_split.power_split(),
            engine=self.engine and self.engine.engine(),
            triggers=self.triggers and self.triggers.triggers(),
        )


class VehicleIn(Incoming):
    """Either an id of the catalogue or a spec."""

    id: Annotated[str, Field(max_length=80)] | None = Field(None, description="id from GET /api/vehicles")
    spec: SpecIn | None = None

    @model_validator(mode="after")
    def _one_of_two(self) -> "VehicleIn":
        if (self.id is None) == (self.spec is None):
            which = "neither" if self.id is None else "both"
            raise said(f"it gives {which} of id and spec", "give exactly one of id and spec")
        return self

    def vehicle(self, vehicles: Mapping[str, specs.Vehicle]) -> specs.Vehicle:
        """The car in SI. The id must be known."""
        return self.spec.vehicle() if self.spec else vehicles[self.id]


def _scaled(value: float | None, factor: float) -> float | None:
    return None if value is None else value * factor
