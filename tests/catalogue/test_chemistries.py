"""Cell families: limits, grids and the pack arithmetic that rests on them."""

from itertools import pairwise

import pytest

from service.catalogue import load_catalogue
from service.physics.battery import arrhenius_factor
from service.physics.rows import OCV_POINTS

CHEMISTRIES = load_catalogue().chemistries
EACH = pytest.mark.parametrize("cell", CHEMISTRIES.values(), ids=CHEMISTRIES)


def test_three_families_in_order():
    assert list(CHEMISTRIES) == ["nmc", "nca", "lfp"]


@EACH
def test_curve_lies_on_the_grid_of_the_march_and_rises(cell):
    assert len(cell.soc_grid) == len(cell.ocv_grid_v) == OCV_POINTS
    assert cell.soc_grid[0] == 0
    assert cell.soc_grid[-1] == 1
    assert all(upper > lower for lower, upper in pairwise(cell.ocv_grid_v))


@EACH
def test_voltages_stand_in_order(cell):
    assert cell.ocv_grid_v[0] < cell.cell_min_v < cell.cell_nominal_v < cell.cell_max_v == cell.ocv_grid_v[-1]
    middle_v = cell.ocv_grid_v[len(cell.ocv_grid_v) // 2]
    assert cell.cell_nominal_v == pytest.approx(middle_v, abs=0.06)  # nominal is the voltage near half charge


def test_pack_of_96_cells():
    # common practice: 96 × 3.7 V = 355.2 V nominal, 96 × 4.2 V = 403.2 V full
    assert 96 * CHEMISTRIES["nmc"].cell_nominal_v == pytest.approx(355.2)
    assert 96 * CHEMISTRIES["nmc"].cell_max_v == pytest.approx(403.2)


@EACH
def test_cold_resistance_is_within_the_published_span(cell):
    # Arrhenius at −10 °C from 20 to 35 kJ/mol: 2.924 to 6.540
    assert 2.924 <= arrhenius_factor(cell.activation_j_mol, 263.15) <= 6.540


@EACH
def test_round_trip_at_c_3_keeps_what_cells_keep(cell):
    # 95–98 % at C/3 and 25 °C, from memory; half a point allowed above for power cells at mid charge
    for drop_at_1c, least, most in ((cell.drop_at_1c_energy, 0.95, 0.98), (cell.drop_at_1c_power, 0.95, 0.985)):
        drop = drop_at_1c / 3
        assert least <= (1 - drop) / (1 + drop) <= most
    assert cell.drop_at_1c_power < cell.drop_at_1c_energy
