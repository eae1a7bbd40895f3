"""Rows of vehicles.csv as specs.

Scope    a car's road load is given in exactly one of three ways; every other blank stays unknown (None) and is filled,
         and listed, by the quote. A label, where there is one, is what the car is fitted to, from its road load on.
Source   plausibility limits are common practice for cars and light vans up to 7.5 t.
"""

from collections.abc import Callable, Mapping
from pathlib import Path

from service.catalogue.tables import Row, read_table
from service.specs import Battery, BodyAndTyres, Heating, Kind, Label, LabelProcedure, MassBasis, RoadLoad, Vehicle
from service.units import (
    KWH_J,
    MILE_M,
    kelvin_from_celsius,
    n_s2_m2_from_lbf_per_mph2,
    n_s2_m2_from_n_per_km_h2,
    n_s_m_from_lbf_per_mph,
    n_s_m_from_n_per_km_h,
    newton_from_pound_force,
)

__all__ = ["read_vehicles"]

W_PER_KW = 1000.0
HOUR_S = 3600.0
POUNDS = ("a_lbf", "b_lbf_per_mph", "c_lbf_per_mph2")
NEWTONS = ("f0_n", "f1_n_per_km_h", "f2_n_per_km_h2")
PARTS = ("cd_a_m2", "crr")


def read_vehicles(folder: Path, chemistries: Mapping[str, object], bodies: Mapping[str, object]) -> dict[str, Vehicle]:
    """Cars by id, in file order.

    Raises: BadTable for an implausible figure, road load given twice or in part, more usable than nominal energy, or
        a chemistry or body that the other tables do not hold.
    """
    return {row.text("id"): _vehicle(row, chemistries, bodies) for row in read_table(folder, "vehicles").rows()}


def _vehicle(row: Row, chemistries: Mapping[str, object], bodies: Mapping[str, object]) -> Vehicle:
    return Vehicle(
        id=row.text("id"),
        name=row.text("name"),
        kind=row.choice("kind", Kind),
        mass_kg=row.number_in("mass_kg", 500, 7500),
        mass_basis=row.choice("mass_basis", MassBasis),
        road_load=_road_load(row),
        battery=_battery(row, chemistries),
        motor_w=_watts(row, "motor_kw", 5, 1000),
        onboard_charger_w=_watts(row, "onboard_charger_kw", 1, 44),
        onboard_charger_phases=row.optional_count_in("onboard_charger_phases", 1, 3),
        heating=row.choice("heating", Heating) if row.optional_text("heating") else None,
        heater_w=_watts(row, "heater_kw", 0, 15),
        body=row.known("body", bodies) if row.optional_text("body") else None,
        base_load_w=row.optional_number_in("base_load_w", 50, 1500),
        charge_limit_w=_watts(row, "charge_limit_kw", 1, 500),
        label=_label(row),
    )


def _label(row: Row) -> Label | None:
    """The official label in the units of its region, None for a car without one."""
    if row.optional_text("label") is None:
        return None
    procedure = row.choice("label", LabelProcedure)
    unit, unit_m = ("mi", MILE_M) if procedure is LabelProcedure.US else ("km", 1000.0)
    hours = row.optional_number_in("label_recharge_h", 0.5, 48)
    electric = row.optional_number_in(f"label_all_electric_{unit}", 5, 500)
    return Label(
        procedure,
        row.number_in(f"label_kwh_per_100_{unit}", 5, 120) * KWH_J / (100 * unit_m),
        adjustment=row.optional_number_in("label_adjustment", 0.5, 1),
        range_m=row.number_in(f"label_range_{unit}", 5, 1000) * unit_m,
        all_electric_range_m=None if electric is None else electric * unit_m,
        recharge_s=None if hours is None else hours * HOUR_S,
    )


def _battery(row: Row, chemistries: Mapping[str, object]) -> Battery:
    usable_kwh = row.number_in("usable_kwh", 0.5, 250)
    nominal_kwh = row.optional_number_in("nominal_kwh", usable_kwh, 300)
    return Battery(
        usable_j=usable_kwh * KWH_J,
        nominal_j=None if nominal_kwh is None else nominal_kwh * KWH_J,
        nominal_v=row.optional_number_in("nominal_v", 40, 1000),
        chemistry=row.known("chemistry", chemistries) if row.optional_text("chemistry") else None,
        heater_w=_watts(row, "pack_heater_kw", 0, 15),
    )


def _road_load(row: Row) -> RoadLoad | BodyAndTyres:
    """From the one set of columns that is filled in."""
    ways: dict[tuple[str, ...], Callable[[Row], RoadLoad | BodyAndTyres]] = {
        POUNDS: _from_pounds,
        NEWTONS: _from_newtons,
        PARTS: _from_parts,
    }
    given = [columns for columns in ways if any(row.optional_text(column) for column in columns)]
    if len(given) != 1:
        column = given[-1][0] if given else POUNDS[0]
        raise row.fault(column, f"road load is given in {len(given)} ways instead of one")
    return ways[given[0]](row)


def _from_pounds(row: Row) -> RoadLoad:
    return RoadLoad(
        newton_from_pound_force(row.number_in("a_lbf", 5, 150)),
        n_s_m_from_lbf_per_mph(row.number_in("b_lbf_per_mph", -1, 2)),
        n_s2_m2_from_lbf_per_mph2(row.number_in("c_lbf_per_mph2", 0.005, 0.08)),
        *_reference(row),
    )


def _from_newtons(row: Row) -> RoadLoad:
    return RoadLoad(
        row.number_in("f0_n", 20, 700),
        n_s_m_from_n_per_km_h(row.number_in("f1_n_per_km_h", -3, 6)),
        n_s2_m2_from_n_per_km_h2(row.number_in("f2_n_per_km_h2", 0.01, 0.15)),
        *_reference(row),
    )


def _from_parts(row: Row) -> BodyAndTyres:
    return BodyAndTyres(row.number_in("cd_a_m2", 0.3, 4), row.number_in("crr", 0.004, 0.02))


def _reference(row: Row) -> tuple[float, float, float]:
    """Mass, temperature and pressure at which coefficients hold: kg, K, Pa. A catalogue car states all three."""
    return (
        row.number_in("reference_mass_kg", 500, 8500),
        kelvin_from_celsius(row.number_in("reference_c", 0, 40)),
        row.number_in("reference_kpa", 70, 105) * 1000,
    )


def _watts(row: Row, column: str, low_kw: float, high_kw: float) -> float | None:
    kilowatts = row.optional_number_in(column, low_kw, high_kw)
    return None if kilowatts is None else kilowatts * W_PER_KW
