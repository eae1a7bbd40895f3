"""The table's conduction is what the identification gives, and the script beside this file says how."""

import importlib.util
import sys
from pathlib import Path

import pytest

from service.physics.fresh_air import GLASS_INSIDE_W_M2_K

GLAZING_M2 = {"small": 2.5, "medium": 3.0, "large": 3.5, "pickup": 3.5, "van": 2.7}  # data/bodies.toml


@pytest.fixture(scope="module")
def script():
    spec = importlib.util.spec_from_file_location("identify_cabin", Path(__file__).parent / "identify_cabin.py")
    module = importlib.util.module_from_spec(spec)
    sys.modules[spec.name] = module
    spec.loader.exec_module(module)
    return module


@pytest.fixture(scope="module")
def table(catalogue, script):
    return {id_: script.Shell(body.ua_still_w_k, body.ua_per_m_s_w_k) for id_, body in catalogue.bodies.items()}


def test_the_identification_gives_the_table(catalogue, script, table):
    found = script.identified(catalogue)
    assert table["medium"].still_w_k == pytest.approx(found.still_w_k, rel=0.03)
    assert table["medium"].motorway_w_k == pytest.approx(found.motorway_w_k, rel=0.03)


def test_the_table_lies_in_common_practice(script, table):
    low, high = script.STILL_W_K
    assert low <= table["medium"].still_w_k <= high
    low, high = script.MOTORWAY_W_K
    assert low <= table["medium"].motorway_w_k <= high


def test_how_near_the_table_comes_to_the_data(catalogue, script, table):
    city, highway = script.misses(catalogue, table["medium"])
    assert abs(city) < 0.05  # of the consumption at 22.2 °C; published "about doubled"
    assert abs(highway) < 0.05


def test_the_conduction_of_panes_rises_by_their_outer_film(script):
    # a pane of 10 W/(m² K) inside can never conduct more than that
    assert 0 < script.panes_rise_w_k() < script.PANES_M2 * GLASS_INSIDE_W_M2_K / 2


def test_other_sizes_are_scaled_by_their_glazing(table):
    for id_, shell in table.items():
        scale = GLAZING_M2[id_] / GLAZING_M2["medium"]
        assert shell.still_w_k == pytest.approx(scale * table["medium"].still_w_k, rel=0.02)
        assert shell.per_m_s_w_k == pytest.approx(scale * table["medium"].per_m_s_w_k, rel=0.03)
