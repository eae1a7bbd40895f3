"""The engine of an own car, what starts it, and what the driver asks of it.

Null means unknown: an unknown threshold never starts the engine, and the answer names it as not known.
"""

from pydantic import Field, model_validator

from service import specs, units
from service.intake.fields import Incoming, Number, YesNo, limited, optional, said

__all__ = ["EngineIn", "EngineUseIn", "TriggersIn"]

WEEK_S, MONTH_S = 7 * 86_400.0, 365.25 / 12 * 86_400.0
L_PER_100_KM = 1e-8  # m³/m


class EngineIn(Incoming):
    """The combustion engine."""

    max_kw: Number = limited("max_kw")
    fuel: specs.Fuel = specs.Fuel.PETROL
    best_efficiency_pct: Number | None = optional("best_efficiency_pct")
    sustaining_l_per_100_km: Number | None = optional("sustaining_l_per_100_km")

    def engine(self) -> specs.Engine:
        """The same in SI."""
        return specs.Engine(
            max_w=self.max_kw * 1000,
            fuel=self.fuel,
            best_efficiency=_scaled(self.best_efficiency_pct, 0.01),
            sustaining_m3_m=_scaled(self.sustaining_l_per_100_km, L_PER_100_KM),
        )


class TriggersIn(Incoming):
    """What starts the engine while charge remains."""

    speed_km_h: Number | None = optional("speed_km_h")
    power_kw: Number | None = optional("power_kw")
    cabin_heat_below_c: Number | None = optional("cabin_heat_below_c")
    defrost_below_c: Number | None = optional("defrost_below_c")
    cold_pack_c: Number | None = optional("cold_pack_c")
    hot_pack_c: Number | None = optional("hot_pack_c")
    low_charge_pct: Number | None = optional("low_charge_pct")
    spins_on_full_descent: YesNo | None = Field(None, description="turns without fuel where braking finds a full pack")
    upkeep_after_weeks: Number | None = optional("upkeep_after_weeks")
    fuel_age_months: Number | None = optional("fuel_age_months")
    minimum_run_s: Number | None = optional("minimum_run_s")

    @model_validator(mode="after")
    def _window_is_open(self) -> "TriggersIn":
        if self.cold_pack_c is not None and self.hot_pack_c is not None and self.cold_pack_c >= self.hot_pack_c:
            raise said(
                f"a pack that is too cold below {self.cold_pack_c:g} °C and too hot above {self.hot_pack_c:g} °C "
                "never drives alone",
                f"give more than {self.cold_pack_c:g} °C, or correct cold_pack_c",
                at="hot_pack_c",
                value=self.hot_pack_c,
            )
        return self

    def triggers(self) -> specs.Triggers:
        """The same in SI."""
        return specs.Triggers(
            speed_m_s=_scaled(self.speed_km_h, units.KM_H),
            power_w=_scaled(self.power_kw, 1000),
            cabin_heat_below_k=_kelvin(self.cabin_heat_below_c),
            defrost_below_k=_kelvin(self.defrost_below_c),
            cold_pack_k=_kelvin(self.cold_pack_c),
            hot_pack_k=_kelvin(self.hot_pack_c),
            low_charge=_scaled(self.low_charge_pct, 0.01),
            spins_on_full_descent=self.spins_on_full_descent,
            upkeep_after_s=_scaled(self.upkeep_after_weeks, WEEK_S),
            fuel_age_s=_scaled(self.fuel_age_months, MONTH_S),
            minimum_run_s=self.minimum_run_s,
        )


class EngineUseIn(Incoming):
    """What the driver asks of the engine, and how long it and its fuel have waited."""

    mode: specs.DriveMode = specs.DriveMode.ELECTRIC_PRIORITY
    defrost: YesNo = Field(False, description="windscreen heat is on")
    weeks_unused: Number | None = optional("weeks_unused")
    fuel_months: Number | None = optional("fuel_months")

    def engine_use(self) -> specs.EngineUse:
        """The same in SI."""
        return specs.EngineUse(
            self.mode, self.defrost, _scaled(self.weeks_unused, WEEK_S), _scaled(self.fuel_months, MONTH_S)
        )


def _scaled(value: float | None, factor: float) -> float | None:
    return None if value is None else value * factor


def _kelvin(celsius: float | None) -> float | None:
    return None if celsius is None else units.kelvin_from_celsius(celsius)
