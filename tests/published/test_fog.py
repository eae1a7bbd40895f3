"""Windows that must not fog: worked example, computed with PsychroLib (ASHRAE Fundamentals 2017)."""

import psychrolib
import pytest

from service.physics.fresh_air import (
    GLASS_PER_M_S_W_M2_K,
    GLASS_STILL_W_M2_K,
    PERSON_MOISTURE_KG_S,
    fog_fresh_kg_s,
    fresh_air_kg_s,
    glass_k,
    saturated_kg_kg,
)
from service.physics.rows import DAY, table

psychrolib.SetUnitSystem(psychrolib.SI)
OUTSIDE_K, INSIDE_K, SEA_PA = 263.15, 295.15, 101_325.0
M3_KG = 0.74701  # per kg of dry air, −10 °C, 80 %
ARRIVING = 0.001279  # the example counts 80 % over ice, as ASHRAE does; weather stations, and `Weather`, over water


def speed_for(outer_w_m2_k):
    return (outer_w_m2_k - GLASS_STILL_W_M2_K) / GLASS_PER_M_S_W_M2_K


@pytest.mark.parametrize(("outer_w_m2_k", "celsius"), [(40, -3.60), (100, -7.09)])
def test_glass_temperature(outer_w_m2_k, celsius):
    # T_i 22, T_o −10, h_i 10
    assert glass_k(OUTSIDE_K, INSIDE_K, speed_for(outer_w_m2_k)) - 273.15 == pytest.approx(celsius, abs=0.005)


@pytest.mark.parametrize(("metres_per_s", "w_m2_k"), [(3.4, 22.7), (6.7, 34.0)])
def test_heat_transfer_outside(metres_per_s, w_m2_k):
    # surface conductances at 3.4 and 6.7 m/s, ASHRAE Fundamentals, from memory
    assert GLASS_STILL_W_M2_K + GLASS_PER_M_S_W_M2_K * metres_per_s == pytest.approx(w_m2_k, rel=0.01)


@pytest.mark.parametrize(("celsius", "pascal"), [(-20, 103.26), (-10, 259.90), (0, 611.15), (5, 872.49), (10, 1228.0)])
def test_saturation_over_ice_and_water(celsius, pascal):
    expected = 0.621945 * pascal / (SEA_PA - pascal)
    assert saturated_kg_kg(celsius + 273.15, SEA_PA) == pytest.approx(expected, rel=1e-3)


@pytest.mark.parametrize(("m3_h", "w_in", "dew_c"), [(100, 0.002773, -3.67), (200, None, -7.32)])
def test_four_people_in_the_worked_example(m3_h, w_in, dew_c):
    # four people at 50 g/h in −10 °C, 80 % air
    moisture = 4 * PERSON_MOISTURE_KG_S
    ours = ARRIVING + moisture / (m3_h / 3600 / M3_KG)
    if w_in is not None:
        assert ours == pytest.approx(w_in, abs=3e-6)
    dew = psychrolib.GetTDewPointFromHumRatio(22.0, ours, SEA_PA)
    assert dew == pytest.approx(dew_c, abs=0.03)


def test_hundred_cubic_metres_are_right_at_the_limit():
    # glass at −3.60 °C against a dew point of −3.67 °C; at h_o 100 the same air fogs and 200 m³/h are just enough
    least = {
        outer: fog_fresh_kg_s(
            4 * PERSON_MOISTURE_KG_S,
            ARRIVING,
            saturated_kg_kg(glass_k(OUTSIDE_K, INSIDE_K, speed_for(outer)), SEA_PA),
        )
        * M3_KG * 3600
        for outer in (40, 100)
    }  # fmt: skip
    assert least[40] == pytest.approx(100, rel=0.02)
    assert 180 < least[100] < 200  # dew point −7.32 °C is below −7.09 °C: clear


def test_the_cabin_raises_its_fresh_air_as_the_example_asks():
    day = table(DAY, 1)[0]
    day.ambient_k, day.pressure_pa, day.climate = OUTSIDE_K, SEA_PA, 1.0
    day.humidity_kg_kg = ARRIVING
    day.saturated_kg_kg = saturated_kg_kg(OUTSIDE_K, SEA_PA)
    slow, fast = (fresh_air_kg_s(day, 4.0, INSIDE_K, speed_for(outer)) * M3_KG * 3600 for outer in (40, 100))
    assert slow < 115  # 30 m³/h a person already
    assert fast == pytest.approx(190, abs=8)
