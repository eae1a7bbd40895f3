"""COP of cooling and heat pump against measured and typical figures."""

import pytest

from service.physics.cabin import cooling_cop, heat_pump_capacity_w, heat_pump_cop


def test_measured_cooling():
    # R134a secondary loop, cooling at 45.4 °C: 3.88 kW, COP 1.8 (Adv. Mech. Eng. 2019, 10.1177/1687814019845806)
    assert cooling_cop(45.4 + 273.15) == pytest.approx(1.8, abs=0.05)


def test_heat_pump_lies_in_the_typical_range():
    # R1234yf 2–2.5 at 0 °C, 1.3–1.8 at −10 °C, none below −15 to −20 °C: from memory
    assert 2.0 <= heat_pump_cop(273.15) <= 2.5
    assert 1.3 <= heat_pump_cop(263.15) <= 1.8
    assert heat_pump_capacity_w(4000.0, 252.0) == 0.0


def test_heat_pump_stays_below_the_ideal_cycle():
    # R1234yf, isentropic efficiency 0.65, saturated (computed with CoolProp): −15/40 °C 3.105, −10/40 3.443,
    # 0/45 3.856.
    # Evaporation lies below the air, so the ideal cycle at air temperature bounds ours from above.
    for celsius, ideal in ((-15, 3.105), (-10, 3.443), (0, 3.856)):
        assert 1.0 <= heat_pump_cop(celsius + 273.15) < ideal
