"""Heat that a cabin needs: a worked ventilation example, computed with PsychroLib (ASHRAE Fundamentals 2017)."""

import pytest

from service.physics.air import humidity_ratio, moist_air_enthalpy_j_kg
from service.physics.cabin import climate_power_w
from service.physics.fresh_air import AUTO, outdoor_air_kg_s, saturated_kg_kg
from service.physics.rows import CAR, DAY, STATE, table
from service.physics.tables import central_draw

DRY_KG_S = 0.03719  # 100 m³/h of −10 °C, 80 % air at 101.325 kPa
INSIDE_K, OUTSIDE_K = 295.15, 263.15


# m³/h, °C, relative humidity, dry air kg per m³ → kW to 22 °C without humidifying
@pytest.mark.parametrize(
    ("m3_h", "celsius", "humidity", "volume_m3_kg", "kw"),
    [(100, -10, 0.8, 0.74701, 1.200), (200, -10, 0.8, 0.74701, 2.400), (150, -20, 0.7, 0.71766, 2.455)],
)
def test_enthalpy_of_ventilation(m3_h, celsius, humidity, volume_m3_kg, kw):
    w = humidity_ratio(celsius + 273.15, 101_325.0, humidity)
    flow_kg_s = m3_h / 3600 / volume_m3_kg
    rise_j_kg = moist_air_enthalpy_j_kg(INSIDE_K, w) - moist_air_enthalpy_j_kg(celsius + 273.15, w)
    assert flow_kg_s * rise_j_kg / 1000 == pytest.approx(kw, abs=1.5e-3)


def steady_heating_w(heat_pump_w):
    """Electric power that holds 22 °C in −10 °C with UA 60 W/K, three people and the example's fresh air."""
    car, day, state, draw = table(CAR, 1), table(DAY, 1), table(STATE, 1), central_draw()
    draw.heat = DRY_KG_S / outdoor_air_kg_s(AUTO, 3.0)  # the example's flow instead of ours
    car.ua_still_w_k = 60.0 / draw.heat
    car.cabin_air_j_k, car.cabin_interior_j_k, car.cabin_coupling_w_k = 15e3, 90e3, 150.0
    car.heater_w, car.heat_pump_w = 5000.0, heat_pump_w
    day.pressure_pa, day.saturated_kg_kg = 101_325.0, saturated_kg_kg(OUTSIDE_K, 101_325.0)
    day.humidity_kg_kg = humidity_ratio(OUTSIDE_K, 101_325.0, 0.8)
    day.ambient_k, day.set_point_k, day.occupants, day.climate = OUTSIDE_K, INSIDE_K, 3.0, 1.0
    state.cabin_air_k = state.cabin_interior_k = INSIDE_K
    heating_w, cooling_w = climate_power_w(car[0], day[0], draw[0], state[0], 0.0, 5.0)
    assert cooling_w == 0.0
    assert state.cabin_air_k[0] == pytest.approx(INSIDE_K)
    return heating_w


def test_worked_example_through_the_cabin():
    # Example 23: ventilation 1.200, conduction 1.920, three people −0.21 kW: 2.91 kW; at 0.95 → 3.06 kW.
    # The cabin counts dry air at 1006 J/(kg K): the vapour's share (0.2 %) is left out.
    assert steady_heating_w(0.0) / 1000 == pytest.approx(3.06, abs=6e-3)


def test_heat_pump_needs_less():
    # Typical R1234yf machines: COP 1.3–1.8 at −10 °C, from memory; 6 kW at 0 °C are enough for all of it
    heat_w = 0.95 * steady_heating_w(0.0)
    assert heat_w / steady_heating_w(6000.0) == pytest.approx(1.55, abs=0.25)


def test_fresh_air_lies_in_the_handbook_range():
    # 25–36 m³/h a person, 80–200 m³/h in all (DIN 1946-3, from memory); air of 1.2–1.35 kg/m³
    for people in range(1, 6):
        m3_h = outdoor_air_kg_s(AUTO, float(people)) / 1.25 * 3600
        assert 80 <= m3_h <= 200
        assert m3_h >= 25 * people
