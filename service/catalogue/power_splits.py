"""Rows of power_splits.csv, and the demonstration cars that have such a gear."""

from collections.abc import Mapping
from dataclasses import replace
from pathlib import Path

from service.catalogue.tables import Row, read_table
from service.specs import Layout, PowerSplit, Vehicle
from service.units import RPM

__all__ = ["with_power_splits"]


def with_power_splits(folder: Path, vehicles: Mapping[str, Vehicle]) -> dict[str, Vehicle]:
    """The same cars; those of the table with their gear and its layout.

    Raises: BadTable for an implausible figure, a ring no larger than its sun, a car that does not exist or has no
        engine.
    """
    geared = dict(vehicles)
    for row in read_table(folder, "power_splits").rows():
        id_ = row.known("id", vehicles)
        if not vehicles[id_].kind.has_engine:
            raise row.fault("id", f"{id_!r} has no engine to put on the carrier")
        geared[id_] = replace(vehicles[id_], layout=Layout.POWER_SPLIT, power_split=_power_split(row))
    return geared


def _power_split(row: Row) -> PowerSplit:
    """Limits are those of a question."""
    sun_teeth, ring_teeth = row.count_in("sun_teeth", 10, 100), row.count_in("ring_teeth", 20, 250)
    if ring_teeth <= sun_teeth:
        raise row.fault("ring_teeth", f"{ring_teeth} teeth do not surround a sun of {sun_teeth}")
    return PowerSplit(
        sun_teeth=sun_teeth,
        ring_teeth=ring_teeth,
        final_drive=row.number_in("final_drive", 1, 15),
        wheel_radius_m=row.number_in("wheel_radius_m", 0.2, 0.6),
        generator_max_rad_s=row.number_in("generator_max_rpm", 1000, 30_000) * RPM,
        one_way_clutch=row.yes("one_way_clutch"),
        generator_n_m=row.optional_number_in("generator_nm", 1, 1000),
    )
