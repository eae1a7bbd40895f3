"""The cabin: what heat and cold it needs, and what the machine that makes them needs."""

import numpy as np

from service.catalogue import load_catalogue
from service.catalogue.evidence import Check, Mark
from service.physics.air import humidity_ratio, moist_air_enthalpy_j_kg
from service.physics.cabin import parked_in_sun_k
from service.physics.climate_machine import cooling_cop, heat_pump_cop
from service.physics.fresh_air import AUTO, outdoor_air_kg_s
from service.physics.rows import CAR, table
from service.units import kelvin_from_celsius
from tests.evidence.checks import Source
from tests.published.test_ventilation import steady_heating_w

__all__ = ["IDEAL_R1234YF", "comfort_loads", "parked_rise_k", "vapour_compression"]

IDEAL = Source(
    "Heat pump and cooling", "ideal R1234yf cycle, isentropic 0.65, saturated (CoolProp 8.0.0)", Mark.COMPUTED
)
MEASURED_AT = "Adv. Mech. Eng. 2019, 10.1177/1687814019845806, R134a, secondary loop"
COOLING = Source(
    "Heat pump and cooling", MEASURED_AT, Mark.PUBLISHED, "our share of Carnot was set from this very point"
)  # fmt: skip
HEATING = Source(
    "Heat pump and cooling", MEASURED_AT, Mark.PUBLISHED, "the loop between refrigerant and cabin costs heat"
)  # fmt: skip
DIRECT = Source(
    "Heat pump and cooling", "Tang et al., Energies 13 (2020), R134a", Mark.PUBLISHED,
    "counts the compressor only; ours counts compressor and fan",
)  # fmt: skip
USUAL = Source("Heat pump and cooling", "typical R1234yf systems", Mark.MEMORY)
ENTHALPY = Source("Comfort loads", "PsychroLib 2.5.0 (ASHRAE Fundamentals 2017)", Mark.COMPUTED)
EXAMPLE = Source("Comfort loads", "ventilation 1.200 + shell 1.920 − people 0.21 kW, worked by hand", Mark.COMPUTED)
PARKED = Source(
    "Comfort loads", "McLaren, Null and Quinn, Pediatrics 116 (2005), clear days of 22 to 36 °C", Mark.MEMORY,
    "their sun and wind are not at hand: ours at 850 W/m2 and 2.2 m/s",
)  # fmt: skip
DIN_1946 = Source("Comfort loads", "fresh air of cars after DIN 1946-3", Mark.MEMORY)

# evaporating/condensing °C → heating COP; computed with CoolProp 8.0.0, remade live in test_ideal_cycle.py
IDEAL_R1234YF = {(-15, 40): 3.105, (-10, 40): 3.443, (-5, 45): 3.439, (0, 45): 3.856, (5, 45): 4.381, (10, 50): 4.372}
RISE_WITHIN_K = 5.0  # cars of other colours and glazing: own choice
WITHIN = 0.2  # of a measured coefficient: one machine's beside a typical one's, common practice


def vapour_compression() -> list[Check]:
    """The machine stays below the ideal cycle and near what was measured, with the boundary named."""
    rows = [
        IDEAL.span(
            f"heat pump in {evaporating} °C air, at most the cycle {evaporating}/{condensing} °C",
            None,
            ideal,
            heat_pump_cop(kelvin_from_celsius(evaporating), 0.0),
            "1",
        )
        for (evaporating, condensing), ideal in IDEAL_R1234YF.items()
    ]
    cooling = cooling_cop(kelvin_from_celsius(45.4))
    return [
        *rows,
        COOLING.value("cooling at 45.4 °C", "1.8", cooling, "1"),
        HEATING.value("heat pump at −1 °C", "1.9", heat_pump_cop(kelvin_from_celsius(-1), 0.0), "1", WITHIN),
        DIRECT.value("heat pump at −5 °C", "3.2", heat_pump_cop(kelvin_from_celsius(-5), 0.0), "1", WITHIN),
        USUAL.span("heat pump at 0 °C", 2.0, 2.5, heat_pump_cop(273.15, 0.0), "1"),
        USUAL.span("heat pump at −10 °C", 1.3, 1.8, heat_pump_cop(263.15, 0.0), "1"),
    ]


def ventilation_kw(m3_h: float, celsius: float, humidity: float, volume_m3_kg: float) -> float:
    """Heat that fresh air needs up to 22 °C without humidifying."""
    kelvin = kelvin_from_celsius(celsius)
    w = humidity_ratio(kelvin, 101_325.0, humidity)
    rise_j_kg = moist_air_enthalpy_j_kg(kelvin_from_celsius(22), w) - moist_air_enthalpy_j_kg(kelvin, w)
    return m3_h / 3600 / volume_m3_kg * rise_j_kg / 1000


def parked_rise_k() -> float:
    """Cabin air of the mid-size car over the air around it, in full sun and the usual wind of a town."""
    body = load_catalogue().body("medium")
    car = table(CAR, 1)[0]
    car.ua_still_w_k, car.ua_per_m_s_w_k, car.cabin_coupling_w_k = (
        body.ua_still_w_k,
        body.ua_per_m_s_w_k,
        body.coupling_w_k,
    )
    car.sun_m2, car.roof_w_k = body.sun_m2, body.roof_w_k
    return parked_in_sun_k(car, 303.15, 850.0, 2.2)[0] - 303.15


def comfort_loads() -> list[Check]:
    """Ventilation, worked example 23 through the cabin itself, fresh air."""
    rows = []
    for m3_h, celsius, humidity, volume, printed in (
        (100, -10, 0.8, 0.74701, "1.200"), (200, -10, 0.8, 0.74701, "2.400"), (150, -20, 0.7, 0.71766, "2.455"),
    ):  # fmt: skip
        ours = ventilation_kw(m3_h, celsius, humidity, volume)
        rows.append(ENTHALPY.value(f"{m3_h} m³/h of {celsius} °C air to 22 °C", printed, ours, "kW", 1.5e-3))
    held_kw = steady_heating_w(0.0) / 1000
    people = np.arange(1, 6)
    m3_h = np.array([outdoor_air_kg_s(AUTO, float(n)) / 1.25 * 3600 for n in people])
    return [
        *rows,
        EXAMPLE.value("−10 °C, 60 W/K, 100 m³/h, three people, resistive 0.95", "3.06", held_kw, "kW"),
        PARKED.value(
            "cabin air of a parked car over the air, after an hour", "22", parked_rise_k(), "K", RISE_WITHIN_K
        ),
        DIN_1946.span("least fresh air with one to five people", 80, 200, m3_h.min(), "m3/h"),
        DIN_1946.span("most fresh air with one to five people", 80, 200, m3_h.max(), "m3/h"),
        DIN_1946.span("least fresh air for each of one to five people", 25, None, (m3_h / people).min(), "m3/h"),
    ]
