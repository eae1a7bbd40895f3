"""Fresh air in the cabin, its moisture, and the windows that must not fog.

Scope    one well-mixed cabin whose moisture follows at once; one pane. No demisting of glass that has fogged already,
         no heated screen. Over a pane below 0 °C the air is saturated over ice.
Balance  w_in = w_arriving + people's moisture / fresh air; clear while w_in ≤ w_saturated(T_glass)
         T_glass = To + (Ti − To)·h_i/(h_i + h_o)
Symbols  w  humidity ratio, kg water per kg dry air      h_i, h_o  heat transfer at the pane, inside and outside
Source   ASHRAE Fundamentals 2017 for moist air; fresh air: DIN 1946-3 from memory.
"""

import math

from service.physics.air import saturation_pressure_pa
from service.physics.compiled import compiled

__all__ = [
    "AUTO",
    "FRESH",
    "PERSON_MOISTURE_KG_S",
    "RECIRCULATE",
    "dried_kg_kg",
    "drying_share",
    "fog_fresh_kg_s",
    "fresh_air_kg_s",
    "glass_k",
    "outdoor_air_kg_s",
    "outer_film_w_m2_k",
    "saturated_kg_kg",
]

AUTO, FRESH, RECIRCULATE = 0.0, 1.0, 2.0  # what the driver sets, as `rows.DAY.air_setting` holds it
PERSON_MOISTURE_KG_S = 50e-3 / 3600  # 50 g/h, from memory (40–70; 70 in Regulation (EU) 672/2010)
COOL_AIR_KG_M3, MILD_AIR_KG_M3 = 1.25, 1.2  # about 10 and 20 °C
FRESH_LEAST_KG_S = 100 / 3600 * COOL_AIR_KG_M3  # 100 m³/h: lower part of 80–200, common practice
FRESH_PERSON_KG_S = 30 / 3600 * COOL_AIR_KG_M3  # 30 m³/h a person, DIN 1946-3 from memory
FRESH_SET_KG_S = 140 / 3600 * COOL_AIR_KG_M3  # set to outside air: middle of 80–200 m³/h, from memory
LEAK_KG_S = 20 / 3600 * COOL_AIR_KG_M3  # flaps set to recirculation leak about 20 m³/h, from memory (10–40)
FRESH_COOLING_SHARE = 0.5  # recirculation halves the ventilation load, common practice
FRESH_MOST_KG_S = 300 / 3600 * MILD_AIR_KG_M3  # blower at full, windows shut: from memory
GLASS_INSIDE_W_M2_K = 10.0  # h_i of the worked example, common practice 8–10
GLASS_STILL_W_M2_K, GLASS_PER_M_S_W_M2_K = 11.0, 3.4  # through 22.7 at 3.4 m/s and 34.0 at 6.7 m/s, ASHRAE from memory
WATER_OVER_AIR = 0.621945  # ratio of molar masses, ASHRAE Fundamentals 2017, chapter 1 eq. 20
DRYING_COIL_K = 276.15  # coil surface while drying, 3 °C: just clear of icing, common practice
DRYING_COIL_PA = 758.0  # saturation there, CIPM-2007
DRIES_FROM_K, DRIES_UP_TO_K, DRIES_NO_MORE_K = 276.15, 288.15, 291.15  # 3…15 °C, fading out to 18: common practice


@compiled
def saturated_kg_kg(kelvin: float, pressure_pa: float) -> float:
    """Water that air can hold over a surface, kg per kg dry air: over ice below 0 °C, over water above.

    Valid 233–323 K. Source: ice WMO-No. 8 annex 4.B (611.2 Pa·exp(22.46 t/(272.62 + t))); water CIPM-2007.

    >>> round(saturated_kg_kg(263.15, 101325.0), 6)
    0.001599
    """
    celsius = kelvin - 273.15
    if celsius < 0.0:
        vapour_pa = 611.2 * math.exp(22.46 * celsius / (272.62 + celsius))
    else:
        vapour_pa = saturation_pressure_pa(kelvin)
    return WATER_OVER_AIR * vapour_pa / (pressure_pa - vapour_pa)


@compiled
def outer_film_w_m2_k(wind_m_s: float) -> float:
    """Heat transfer outside on panes and paint, radiation counted, W/(m²·K)."""
    return GLASS_STILL_W_M2_K + GLASS_PER_M_S_W_M2_K * wind_m_s


@compiled
def glass_k(outside_k: float, inside_k: float, speed_m_s: float) -> float:
    """Inner face of a pane, K.

    >>> round(glass_k(263.15, 295.15, 8.53) - 273.15, 2)  # h_o 40
    -3.6
    """
    outer_w_m2_k = outer_film_w_m2_k(speed_m_s)
    return outside_k + (inside_k - outside_k) * GLASS_INSIDE_W_M2_K / (GLASS_INSIDE_W_M2_K + outer_w_m2_k)


@compiled
def fog_fresh_kg_s(moisture_kg_s: float, arriving_kg_kg: float, glass_kg_kg: float) -> float:
    """Least fresh air that keeps a pane clear, kg/s, at most what the blower gives.

    Args:
        moisture_kg_s: given off by the people.
        arriving_kg_kg: humidity ratio of the fresh air.
        glass_kg_kg: saturated air at the pane.
    """
    margin_kg_kg = glass_kg_kg - arriving_kg_kg
    if moisture_kg_s >= margin_kg_kg * FRESH_MOST_KG_S:
        return FRESH_MOST_KG_S
    return moisture_kg_s / margin_kg_kg


@compiled
def drying_share(outside_k: float) -> float:
    """How far automatic climate dries its supply air at the cooling coil: 3–15 °C outside, fading out up to 18 °C.

    Below 3 °C the coil would ice up; above, open vents and the summer's cooling take over.
    """
    if outside_k < DRIES_FROM_K:
        return 0.0
    return min(max((DRIES_NO_MORE_K - outside_k) / (DRIES_NO_MORE_K - DRIES_UP_TO_K), 0.0), 1.0)


@compiled
def outdoor_air_kg_s(setting: float, people: float) -> float:
    """Fresh air that the setting gives before anything fogs, kg/s: enough for the people, unless recirculating."""
    if setting == RECIRCULATE:
        return LEAK_KG_S
    return max(FRESH_SET_KG_S if setting == FRESH else FRESH_LEAST_KG_S, FRESH_PERSON_KG_S * people)


@compiled
def dried_kg_kg(outside_kg_kg: float, pressure_pa: float) -> float:
    """What the drying coil takes out of outside air, kg per kg dry air."""
    return max(outside_kg_kg - WATER_OVER_AIR * DRYING_COIL_PA / (pressure_pa - DRYING_COIL_PA), 0.0)


@compiled
def fresh_air_kg_s(day, people, inside_k, speed_m_s):
    """Fresh air of a cabin that is heated, kg/s: what the setting gives, raised until the windows stay clear.

    Args:
        day: row of `rows.DAY`.
        inside_k: cabin air, K.
    """
    least_kg_s = outdoor_air_kg_s(day.air_setting, people)
    moisture_kg_s = people * PERSON_MOISTURE_KG_S
    arriving_kg_kg = day.humidity_kg_kg
    arriving_kg_kg -= drying_share(day.ambient_k) * dried_kg_kg(day.humidity_kg_kg, day.pressure_pa)
    if moisture_kg_s <= least_kg_s * max(day.saturated_kg_kg - arriving_kg_kg, 0.0):  # clear even on the coldest pane
        return least_kg_s
    pane_k = glass_k(day.ambient_k, max(inside_k, day.ambient_k), speed_m_s)
    glass_kg_kg = saturated_kg_kg(pane_k, day.pressure_pa)
    return max(least_kg_s, fog_fresh_kg_s(moisture_kg_s, arriving_kg_kg, glass_kg_kg))
