"""Fresh air: enough for people, clear windows, no more than the blower gives."""

import numpy as np
import pytest

from service.physics.air import humidity_ratio
from service.physics.fresh_air import (
    AUTO,
    FRESH,
    FRESH_LEAST_KG_S,
    FRESH_MOST_KG_S,
    LEAK_KG_S,
    RECIRCULATE,
    drying_share,
    fog_fresh_kg_s,
    fresh_air_kg_s,
    outdoor_air_kg_s,
    saturated_kg_kg,
)
from service.physics.rows import DAY, table

SEA_PA = 101_325.0


def a_day(celsius, humidity, setting=AUTO):
    day = table(DAY, 1)[0]
    day.ambient_k, day.pressure_pa, day.air_setting = celsius + 273.15, SEA_PA, setting
    day.humidity_kg_kg = humidity_ratio(day.ambient_k, SEA_PA, humidity)
    day.saturated_kg_kg = saturated_kg_kg(day.ambient_k, SEA_PA)
    return day


def test_one_person_in_dry_cold_needs_no_more_than_the_least():
    assert fresh_air_kg_s(a_day(-7, 0.5), 1.0, 294.15, 20.0) == FRESH_LEAST_KG_S


def test_more_people_damper_air_and_speed_ask_for_more():
    flows = [fresh_air_kg_s(a_day(-10, 0.8), people, 294.15, 25.0) for people in (1.0, 3.0, 5.0)]
    assert flows[0] < flows[1] < flows[2]
    assert fresh_air_kg_s(a_day(-10, 0.9), 3.0, 294.15, 25.0) > flows[1]
    assert fresh_air_kg_s(a_day(-10, 0.8), 3.0, 294.15, 35.0) > flows[1]


def test_a_cold_cabin_fogs_sooner_than_a_warm_one():
    day = a_day(-5, 0.9)
    cold, warm = (fresh_air_kg_s(day, 3.0, inside_k, 15.0) for inside_k in (270.0, 294.15))
    assert warm < cold <= FRESH_MOST_KG_S


def test_nobody_inside_fogs_nothing():
    assert fresh_air_kg_s(a_day(-10, 1.0), 0.0, 263.15, 0.0) == FRESH_LEAST_KG_S


@pytest.mark.parametrize("celsius", range(-30, 20, 5))
@pytest.mark.parametrize("people", [1.0, 5.0, 9.0])
def test_never_more_than_the_blower_and_never_less_than_the_setting(celsius, people):
    for setting in (AUTO, FRESH, RECIRCULATE):
        for speed_m_s in np.linspace(0, 50, 11):
            flow = fresh_air_kg_s(a_day(celsius, 1.0, setting), people, 285.0, speed_m_s)
            assert outdoor_air_kg_s(setting, people) <= flow <= FRESH_MOST_KG_S


def test_recirculation_goes_as_far_as_the_windows_stay_clear():
    # dry and alone: nearly all of it; damp and four of them: the windows decide, whatever the switch says
    assert fresh_air_kg_s(a_day(0, 0.2, RECIRCULATE), 1.0, 294.15, 5.0) < 0.5 * FRESH_LEAST_KG_S
    damp = [fresh_air_kg_s(a_day(-10, 0.9, setting), 4.0, 294.15, 25.0) for setting in (AUTO, RECIRCULATE)]
    assert damp[0] == damp[1] > FRESH_LEAST_KG_S


def test_outside_air_is_more_than_automatic():
    assert outdoor_air_kg_s(RECIRCULATE, 1.0) == LEAK_KG_S < outdoor_air_kg_s(AUTO, 1.0) < outdoor_air_kg_s(FRESH, 1.0)
    assert outdoor_air_kg_s(FRESH, 9.0) == outdoor_air_kg_s(AUTO, 9.0)


def test_saturated_air_outside_is_more_than_the_blower_can_answer():
    assert fog_fresh_kg_s(1e-5, 0.003, 0.003) == FRESH_MOST_KG_S
    assert fog_fresh_kg_s(1e-5, 0.003, 0.002) == FRESH_MOST_KG_S


def test_drying_where_the_coil_does_not_ice_until_vents_do():
    assert [drying_share(c + 273.15) for c in (-5, 2.9, 3.0, 10, 15)] == [0, 0, 1, 1, 1]
    assert 0 < drying_share(289.65) < 1
    assert drying_share(291.15) == drying_share(300.0) == 0


def test_dried_air_needs_less_of_it():
    # 8 °C, 95 %, four people: dried at the coil it carries their moisture; at 2 °C the coil is not run
    dried, moist = (fresh_air_kg_s(a_day(celsius, 0.95), 4.0, 294.15, 25.0) for celsius in (8, 2))
    assert dried == outdoor_air_kg_s(AUTO, 4.0) < moist
