"""The day, how the car stands and goes out, what the driver asks of the cabin, and the circuit.

Null means unknown: the quote then assumes a typical value and lists it with its source.
"""

import math
from collections.abc import Mapping
from dataclasses import replace
from typing import Annotated

from pydantic import Field, model_validator

from service import specs, units
from service.charging.run import check_run, run_ohm_m
from service.errors import BadInput, BadInputs
from service.intake.fields import Incoming, Number, Whole, YesNo, limited, optional, said

__all__ = ["CabinIn", "CircuitIn", "ClockIn", "OutfitIn", "RunIn", "StartIn", "TrailerIn", "TyresIn", "WeatherIn"]


class ClockIn(Incoming):
    """Season, hour and latitude: the sun, where `sun_w_m2` is not given, and whether lights are on. Solar time."""

    month: Whole = limited("month")
    hour: Number = limited("hour")
    latitude_deg: Number = limited("latitude_deg")

    def clock(self) -> specs.Clock:
        """The same record."""
        return specs.Clock(self.month, self.hour, self.latitude_deg)


class WeatherIn(Incoming):
    """The day. Wind is the met office's, at 10 m."""

    temperature_c: Number = limited("temperature_c", 20.0)
    humidity_pct: Number | None = optional("humidity_pct")
    wind_km_h: Number | None = optional("wind_km_h")
    sun_w_m2: Number | None = optional("sun_w_m2")
    wind_from_deg: Number | None = optional("wind_from_deg")
    clock: ClockIn | None = None
    altitude_m: Number = limited("altitude_m", 0.0)
    surface: Annotated[str, Field(max_length=80)] = Field("dry", description="what lies on the road: id of a surface")

    def weather(self) -> specs.Weather:
        """The same day in SI."""
        return specs.Weather(
            ambient_k=units.kelvin_from_celsius(self.temperature_c),
            relative_humidity=None if self.humidity_pct is None else self.humidity_pct / 100,
            wind_m_s=None if self.wind_km_h is None else self.wind_km_h * units.KM_H,
            sun_w_m2=self.sun_w_m2,
            altitude_m=self.altitude_m,
            surface=self.surface,
            clock=self.clock and self.clock.clock(),
            wind_from_rad=None if self.wind_from_deg is None else math.radians(self.wind_from_deg),
        )


class StartIn(Incoming):
    """How the car stands before the journey. `soaked`: parked until everything is at the day's temperature."""

    state_of_charge_pct: Number = limited("state_of_charge_pct", 100.0)
    soaked: YesNo = True
    in_sun: YesNo = Field(False, description="it stood in the sun with its windows shut: the cabin is warmer")
    preconditioned: YesNo = False
    state_of_health_pct: Number = limited("state_of_health_pct", 100.0)

    def start(self) -> specs.Start:
        """The same as fractions."""
        return specs.Start(
            state_of_charge=self.state_of_charge_pct / 100,
            soaked=self.soaked,
            preconditioned=self.preconditioned,
            state_of_health=self.state_of_health_pct / 100,
            in_sun=self.in_sun,
        )


class TyresIn(Incoming):
    """Other tyres than the car was measured with, and their pressure. Pressures are cold, by a gauge."""

    label_class: Annotated[str, Field(max_length=80)] | None = Field(None, description="id from GET /api/tyre-classes")
    winter: YesNo = False
    tyre_pressure_kpa: Number | None = optional("tyre_pressure_kpa")
    placard_pressure_kpa: Number | None = optional("placard_pressure_kpa")
    set_at_c: Number | None = optional("set_at_c")

    @model_validator(mode="after")
    def _one_pressure(self) -> "TyresIn":
        if self.tyre_pressure_kpa is not None and self.set_at_c is not None:
            raise said(
                "it gives both today's pressure and the temperature at which the tyres were set",
                "give one of tyre_pressure_kpa and set_at_c",
                at="set_at_c",
                value=self.set_at_c,
            )
        return self


class TrailerIn(Incoming):
    """What is towed, laden; drag area is what it adds."""

    laden_kg: Number = limited("laden_kg")
    added_cd_a_m2: Number | None = optional("added_cd_a_m2")


class OutfitIn(Incoming):
    """How the car goes out: tyres, roof box, trailer, and what a van's body draws and lets in."""

    tyres: TyresIn = TyresIn()
    roof_box: YesNo = False
    trailer: TrailerIn | None = None
    body_load_w: Number = limited("body_load_w", 0.0)
    door_openings_per_km: Number = limited("door_openings_per_km", 0.0)

    def outfit(self, tyre_classes: Mapping[str, specs.TyreClass]) -> specs.Outfit:
        """The same in SI. The id of a tyre class must be known."""
        tyres, towed = self.tyres, self.trailer
        return specs.Outfit(
            tyre_class=None if tyres.label_class is None else tyre_classes[tyres.label_class],
            winter_tyres=tyres.winter,
            tyre_pa=None if tyres.tyre_pressure_kpa is None else 1000 * tyres.tyre_pressure_kpa,
            placard_pa=None if tyres.placard_pressure_kpa is None else 1000 * tyres.placard_pressure_kpa,
            tyres_set_k=None if tyres.set_at_c is None else units.kelvin_from_celsius(tyres.set_at_c),
            roof_box=self.roof_box,
            trailer=towed and specs.Trailer(towed.laden_kg, towed.added_cd_a_m2),
            body_load_w=self.body_load_w,
            door_openings_per_m=self.door_openings_per_km / 1000,
        )


class CabinIn(Incoming):
    """What the driver asks for, and how many sit inside (driver counted)."""

    climate: specs.Climate = specs.Climate.AUTO
    set_point_c: Number = limited("set_point_c", 21.0)
    occupants: Whole = limited("occupants", 1)
    air: specs.CabinAir = Field(
        specs.CabinAir.AUTO, description="where the air comes from; recirculation only as far as the windows stay clear"
    )
    seat_heat: YesNo = Field(False, description="all people's seats and the wheel heated; counts on colder days only")

    def cabin(self) -> specs.Cabin:
        """The same in SI."""
        set_point_k = units.kelvin_from_celsius(self.set_point_c)
        return specs.Cabin(self.climate, set_point_k, self.occupants, self.air, self.seat_heat)


class RunIn(Incoming):
    """Cable between where the volts are known and the socket: a section or a gauge."""

    length_m: Number = limited("length_m")
    section_mm2: Number | None = optional("section_mm2", "one of section_mm2 and awg")
    awg: Whole | None = optional("awg", "one of section_mm2 and awg")
    material: specs.Metal = specs.Metal.COPPER
    conductor_temperature_c: Number | None = optional(
        "conductor_temperature_c", "as hot as the tables take it if null: 70 by section, 75 by gauge"
    )
    flexible: YesNo = Field(False, description="many thin strands, as in leads; by section only")

    @model_validator(mode="after")
    def _can_be_bought(self) -> "RunIn":
        try:
            run_ohm_m(self.run())
        except BadInput as fault:
            row = fault.row
            raise said(row.message, row.remedy, at=row.field, value=row.value) from None
        return self

    def run(self) -> specs.Run:
        """The same in SI."""
        celsius = self.conductor_temperature_c
        return specs.Run(
            length_m=self.length_m,
            section_mm2=self.section_mm2,
            awg=self.awg,
            metal=self.material,
            conductor_k=None if celsius is None else units.kelvin_from_celsius(celsius),
            flexible=self.flexible,
        )


class CircuitIn(Incoming):
    """Either a circuit of the catalogue or its volts and continuous amps (phase to neutral where there are three)."""

    id: Annotated[str, Field(max_length=80)] | None = Field(None, description="id from GET /api/circuits")
    volts: Number | None = optional("volts")
    amps: Number | None = optional("amps")
    phases: Whole | None = optional("phases")
    run: RunIn | None = Field(None, description="cable up to the socket; null: volts are those at the socket")

    @model_validator(mode="after")
    def _one_of_two(self) -> "CircuitIn":
        own = {"volts": self.volts, "amps": self.amps}
        if self.id is not None:
            if {self.volts, self.amps, self.phases} != {None}:
                raise said("it gives both an id and volts, amps or phases", "give an id, or volts and amps")
            return self
        if self.volts is None and self.amps is None:
            raise said("it gives neither an id nor volts and amps", "give an id, or volts and amps")
        for name, value in own.items():
            if value is None:
                raise said("it is missing", "give volts and continuous amps together", at=name)
        return self

    def circuit(self, circuits: Mapping[str, specs.Circuit], field: str = "circuit") -> specs.Circuit:
        """The circuit in SI. The id must be known.

        Errors: `BadInputs` below `field` for a run that leaves a charger too little voltage.
        """
        found = circuits[self.id] if self.id is not None else self._own()
        if self.run is not None:
            found = replace(found, run=self.run.run())
            try:
                check_run(found, f"{field}.run")
            except BadInput as fault:
                raise BadInputs([fault]) from None
        return found

    def _own(self) -> specs.Circuit:
        """By its figures."""
        phases = self.phases or 1
        name = f"{self.volts:g} V, {self.amps:g} A, {phases} phase{'s' if phases > 1 else ''}"
        return specs.Circuit("own", name, "own", self.volts, self.amps, phases)
