"""Rows of bodies.csv, surfaces.csv, tyre_classes.csv and typical.csv as specs."""

import math
from pathlib import Path

from service.catalogue.tables import Row, read_table
from service.specs import Body, Surface, Typical, TyreClass

__all__ = ["read_bodies", "read_surfaces", "read_typical", "read_tyre_classes"]


def read_bodies(folder: Path) -> dict[str, Body]:
    """Cabin sizes by id, in file order. Raises: BadTable for an implausible figure."""
    return {row.text("id"): _body(row) for row in read_table(folder, "bodies").rows()}


def read_surfaces(folder: Path) -> dict[str, Surface]:
    """Road surfaces by id, in file order. Raises: BadTable for an implausible factor."""
    return {row.text("id"): _surface(row) for row in read_table(folder, "surfaces").rows()}


def read_tyre_classes(folder: Path) -> dict[str, TyreClass]:
    """Tyre label classes by id, in file order. Raises: BadTable for an implausible coefficient."""
    return {row.text("id"): _tyre_class(row) for row in read_table(folder, "tyre_classes").rows()}


def read_typical(folder: Path) -> dict[str, Typical]:
    """Defaults by name, in file order. Raises: BadTable for a value or spread that is no finite number."""
    return {row.text("name"): _typical(row) for row in read_table(folder, "typical", key=("name",)).rows()}


def _body(row: Row) -> Body:
    """Limits are wide: half the smallest to twice the largest handbook figure for cars and vans (common practice)."""
    return Body(
        id=row.text("id"),
        name=row.text("name"),
        ua_still_w_k=row.number_in("ua_still_w_k", 10, 300),
        ua_per_m_s_w_k=row.number_in("ua_per_m_s_w_k", 0, 10),
        air_j_k=row.number_in("air_kj_k", 1, 100) * 1000,
        interior_j_k=row.number_in("interior_kj_k", 5, 500) * 1000,
        coupling_w_k=row.number_in("coupling_w_k", 5, 1000),
        sun_m2=row.number_in("sun_m2", 0.1, 5),
        roof_w_k=row.number_in("roof_w_k", 0, 50),
    )


def _surface(row: Row) -> Surface:
    return Surface(
        id=row.text("id"),
        name=row.text("name"),
        rolling_factor=row.number_in("rolling_factor", 0.9, 3),  # dry tarmac to deep snow, common practice
    )


def _tyre_class(row: Row) -> TyreClass:
    return TyreClass(row.text("id"), row.text("name"), row.number_in("crr", 0.003, 0.02))


def _typical(row: Row) -> Typical:
    return Typical(
        name=row.text("name"),
        value=row.number_in("value", -math.inf, math.inf),
        unit=row.text("unit"),
        spread=row.number_in("spread", 0, 1),
        source=row.text("source"),
    )
