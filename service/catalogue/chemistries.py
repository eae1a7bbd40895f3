"""Rows of chemistries.csv and chemistry_ocv.csv as specs.

Scope    open-circuit voltage on an equally spaced grid of cell charge from 0 to 1; temperature and resistance as
         scalars. Sources stand in both TOMLs.
"""

from itertools import pairwise
from pathlib import Path

from service.catalogue.tables import Row, read_table
from service.errors import BadTable
from service.specs import Chemistry

__all__ = ["read_chemistries"]

OCV_TABLE = "chemistry_ocv"


def read_chemistries(folder: Path) -> dict[str, Chemistry]:
    """Cell families by id, in file order.

    Raises: BadTable for an implausible figure, a grid that is not equally spaced from 0 to 1, a voltage that does not
        rise with charge or exceeds the cell's own limit.
    """
    curves = _curves(folder)
    return {row.text("id"): _chemistry(row, curves) for row in read_table(folder, "chemistries").rows()}


def _chemistry(row: Row, curves: dict[str, list[Row]]) -> Chemistry:
    name, curve = row.text("id"), curves.get(row.text("id"), [])
    max_v = row.number_in("cell_max_v", 2.5, 4.5)  # lithium titanate to high-voltage oxides, from memory
    return Chemistry(
        id=name,
        name=row.text("name"),
        cell_nominal_v=row.number_in("cell_nominal_v", 2.0, max_v),
        cell_max_v=max_v,
        cell_min_v=row.number_in("cell_min_v", 1.0, max_v),
        soc_grid=_soc_grid(name, curve),
        ocv_grid_v=_ocv_grid_v(curve, max_v),
        activation_j_mol=row.number_in("activation_kj_mol", 10, 60) * 1000,  # whole cells lie near 20–35, from memory
        drop_at_1c_energy=row.number_in("drop_at_1c_energy", 0.005, 0.2),
        drop_at_1c_power=row.number_in("drop_at_1c_power", 0.005, 0.2),
    )


def _curves(folder: Path) -> dict[str, list[Row]]:
    curves: dict[str, list[Row]] = {}
    for row in read_table(folder, OCV_TABLE, key=("chemistry", "soc")).rows():
        curves.setdefault(row.text("chemistry"), []).append(row)
    return curves


def _soc_grid(name: str, curve: list[Row]) -> tuple[float, ...]:
    if len(curve) < 2:
        raise BadTable(f"{OCV_TABLE}.csv", f"there are no voltages for chemistry {name!r}")
    step = 1 / (len(curve) - 1)
    for place, row in enumerate(curve):
        if abs(row.number_in("soc", 0, 1) - place * step) > 1e-9:
            raise row.fault("soc", f"the grid is not equally spaced: {place * step:g} should stand here")
    return tuple(place * step for place in range(len(curve)))


def _ocv_grid_v(curve: list[Row], max_v: float) -> tuple[float, ...]:
    volts = tuple(row.number_in("ocv_v", 1.0, max_v) for row in curve)
    for row, (lower_v, upper_v) in zip(curve[1:], pairwise(volts), strict=True):
        if upper_v <= lower_v:
            raise row.fault("ocv_v", f"{upper_v:g} V does not rise above the {lower_v:g} V before it")
    return volts
