"""Rows of engines.csv on the cars they belong to: engine, layout, and what starts it.

Scope    a blank threshold stays unknown (None). Rows of cars that vehicles.csv lacks are a fault.
"""

from collections.abc import Mapping
from dataclasses import replace
from pathlib import Path

from service.catalogue.tables import Row, read_table
from service.specs import Engine, Fuel, Layout, Triggers, Vehicle
from service.units import KM_H, kelvin_from_celsius

__all__ = ["with_engines"]

WEEK_S, MONTH_S = 7 * 86_400.0, 365.25 / 12 * 86_400.0
LITRE_PER_100_KM = 1e-8  # m³/m
YES_NO = {"yes": True, "no": False}


def with_engines(folder: Path, vehicles: Mapping[str, Vehicle]) -> dict[str, Vehicle]:
    """The cars, each with its engine.

    Raises: BadTable for an implausible figure, or a car that is not there or has no engine.
    """
    table = read_table(folder, "engines")
    found = dict(vehicles)
    for row in table.rows():
        id_ = row.known("id", vehicles)
        if not vehicles[id_].kind.has_engine:
            raise row.fault("id", f"{id_!r} has no engine")
        found[id_] = replace(
            found[id_], layout=row.choice("layout", Layout), engine=_engine(row), triggers=_triggers(row)
        )
    return found


def _engine(row: Row) -> Engine:
    """Limits: the smallest range extender to a large van's engine, common practice."""
    litres = row.optional_number_in("sustaining_l_per_100_km", 1, 25)
    return Engine(
        max_w=row.number_in("engine_kw", 10, 400) * 1000,
        fuel=row.choice("fuel", Fuel),
        sustaining_m3_m=None if litres is None else litres * LITRE_PER_100_KM,
    )


def _triggers(row: Row) -> Triggers:
    spins = row.optional_text("spins_on_full_descent")
    if spins is not None and spins not in YES_NO:
        raise row.fault("spins_on_full_descent", f"{spins!r} is neither yes nor no")
    return Triggers(
        speed_m_s=_scaled(row, "speed_km_h", 10, 250, KM_H),
        power_w=_scaled(row, "power_kw", 2, 400, 1000.0),
        cabin_heat_below_k=_kelvin(row, "cabin_heat_below_c"),
        defrost_below_k=_kelvin(row, "defrost_below_c"),
        cold_pack_k=_kelvin(row, "cold_pack_c"),
        hot_pack_k=_kelvin(row, "hot_pack_c"),
        low_charge=_scaled(row, "low_charge_pct", 0, 80, 0.01),
        spins_on_full_descent=None if spins is None else YES_NO[spins],
        upkeep_after_s=_scaled(row, "upkeep_after_weeks", 1, 104, WEEK_S),
        fuel_age_s=_scaled(row, "fuel_age_months", 1, 60, MONTH_S),
        minimum_run_s=row.optional_number_in("minimum_run_s", 0, 1800),
    )


def _scaled(row: Row, column: str, low: float, high: float, factor: float) -> float | None:
    value = row.optional_number_in(column, low, high)
    return None if value is None else value * factor


def _kelvin(row: Row, column: str) -> float | None:
    celsius = row.optional_number_in(column, -40, 60)
    return None if celsius is None else kelvin_from_celsius(celsius)
