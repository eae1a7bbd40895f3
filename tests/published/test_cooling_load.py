"""What a cabin takes to cool, part by part, against its sources."""

import psychrolib
import pytest

from service.physics.cabin import PERSON_SENSIBLE_W, climate_power_w, latent_w
from service.physics.climate_machine import COIL_K
from service.physics.fresh_air import AUTO, FRESH, PERSON_MOISTURE_KG_S, outdoor_air_kg_s, saturated_kg_kg
from service.physics.rows import CAR, DAY, STATE, table
from service.physics.tables import central_draw

psychrolib.SetUnitSystem(psychrolib.SI)
SEA_PA, SUN_W_M2 = 101_325.0, 850.0  # 40 CFR 1066.835: 35 °C, 850 W/m², recirculating, 72 °F
OUTSIDE_C, INSIDE_C = 35.0, 22.2


def test_enthalpy_of_fresh_air():
    # 35 °C, 40 %: W 0.014132, h 71.473 kJ/kg (PsychroLib); cooled to the cabin's 22.2 °C over a coil of 5 °C
    w = 0.014132
    coil = psychrolib.GetHumRatioFromRelHum(COIL_K - 273.15, 1.0, SEA_PA)
    expected_w = 0.0347 * (71_473 - psychrolib.GetMoistAirEnthalpy(INSIDE_C, coil))
    ours_w = 0.0347 * 1006.0 * (OUTSIDE_C - INSIDE_C) + latent_w(0.0347, w, 0.0)
    assert ours_w == pytest.approx(expected_w, rel=0.02)  # the vapour's own heat capacity is left out
    assert saturated_kg_kg(COIL_K, SEA_PA) == pytest.approx(0.0054, abs=5e-5)


def test_people_give_off_what_a_seated_person_does():
    # ASHRAE 55: seated 1.0–1.5 met of 58.2 W/m² and 1.8 m²: 105–157 W, sensible about 70 W
    assert 104.5 <= PERSON_SENSIBLE_W + PERSON_MOISTURE_KG_S * 2.501e6 <= 157


def test_sun_through_the_glazing(catalogue):
    # 2.5–3.5 m² of transmittance 0.4–0.7 gain 0.3–1.0 kW in full sun: common practice
    for body in catalogue.bodies.values():
        assert 300 <= body.sun_m2 * SUN_W_M2 <= 1000


def steady(air_setting, sun_w_m2, people, humidity):
    """Electric power of cooling a mid-size cabin that has settled, W."""
    car, day, state = table(CAR, 1)[0], table(DAY, 1)[0], table(STATE, 1)[0]
    car.ua_still_w_k, car.ua_per_m_s_w_k, car.sun_m2 = 56.0, 0.39, 0.9
    car.cabin_air_j_k, car.cabin_interior_j_k, car.cabin_coupling_w_k = 15e3, 90e3, 150.0
    car.cooler_w = 5000.0
    day.ambient_k, day.set_point_k, day.climate, day.occupants = OUTSIDE_C + 273.15, INSIDE_C + 273.15, 1.0, people
    day.sun_w_m2, day.air_setting, day.pressure_pa = sun_w_m2, air_setting, SEA_PA
    day.humidity_kg_kg = psychrolib.GetHumRatioFromRelHum(OUTSIDE_C, humidity, SEA_PA)
    state.cabin_air_k = state.cabin_interior_k = INSIDE_C + 273.15
    spent_j = 0.0
    for step in range(720):
        _, cooling_w = climate_power_w(car, day, central_draw()[0], state, 10.0, 10.0)
        spent_j += cooling_w * 10.0 if step >= 360 else 0.0
    return spent_j / 3600


def test_parts_add_up_at_the_measured_cop():
    # shell 60 W/K and half of 100 m³/h over 12.8 K, one person, water: by hand, at the share of Carnot of the machine
    w = psychrolib.GetHumRatioFromRelHum(OUTSIDE_C, 0.4, SEA_PA)
    fresh = 0.5 * outdoor_air_kg_s(AUTO, 1.0)
    load_w = (59.9 + fresh * 1006) * 12.8 + 70 + 0.9 * 400 + latent_w(fresh, w, 1.0)
    cop = 0.36 * 278.15 / (35 + 15 - 5)
    assert steady(AUTO, 400.0, 1.0, 0.4) == pytest.approx(load_w / cop, rel=0.01)


def test_recirculation_halves_the_load_of_ventilation():
    # 70–80 % recirculated halves it: common practice
    outside, some = (steady(setting, 400.0, 1.0, 0.4) for setting in (FRESH, AUTO))
    ratio = outdoor_air_kg_s(FRESH, 1.0) / (0.5 * outdoor_air_kg_s(AUTO, 1.0))
    w = psychrolib.GetHumRatioFromRelHum(OUTSIDE_C, 0.4, SEA_PA)
    flow = 0.5 * outdoor_air_kg_s(AUTO, 1.0)
    of_air_w = (flow * 1006 * 12.8 + latent_w(flow, w, 0.0)) / (0.36 * 278.15 / 45)
    assert outside - some == pytest.approx((ratio - 1) * of_air_w, rel=0.01)
