"""The cabin as two nodes, air and interior, and what keeps it at its set point.

Scope    conduction rising with speed, fresh air, sun, people; resistive heater, heat pump with the heater behind it,
         cooling with the water that condenses; blower. No fogging, no humidity control, no seat heat.
Balance  C_air·dTa/dt  = UA·(To − Ta) + ṁ·c_p·(To − Ta) + k·(Ti − Ta) + people + Q
         C_in·dTi/dt   = k·(Ta − Ti) + sun
         solved implicitly over a slow step; Q holds the set point as far as capacity allows.
Symbols  To outside, Ta cabin air, Ti interior, K      Q heat delivered (cooling negative), W
Source   loads: reference figures of common practice, ASHRAE 55 for people; machine: see each function.
"""

from service.constants import AIR_HEAT_CAPACITY_J_KG_K, EVAPORATION_HEAT_J_KG
from service.physics.compiled import compiled

__all__ = ["climate_power_w", "cooling_cop", "heat_pump_capacity_w", "heat_pump_cop", "warm_on_the_wall_j"]

PERSON_SENSIBLE_W = 70.0  # seated, from memory (ASHRAE 55: 105–157 W in all)
PERSON_MOISTURE_KG_S = 50e-3 / 3600  # 50 g/h, from memory (40–70; 70 in Regulation (EU) 672/2010)
FRESH_LEAST_KG_S = 100 / 3600 * 1.25  # 100 m³/h of cool air: lower part of 80–200, common practice
FRESH_PERSON_KG_S = 30 / 3600 * 1.25  # 30 m³/h a person, DIN 1946-3 from memory
FRESH_COOLING_SHARE = 0.5  # recirculation halves the ventilation load, common practice
FRESH_MOST_KG_S = 300 / 3600 * 1.2  # blower at full, windows shut: from memory
RESISTIVE_EFFICIENCY = 0.95  # heater in the coolant loop, common practice 0.90–0.97
HEAT_PUMP_CUT_OUT_K = 258.15  # −15 °C, from memory (−15 to −20 °C for R1234yf)
COIL_K = 278.15  # evaporator surface while cooling, 5 °C, common practice
COIL_HUMIDITY_KG_KG = 0.0054  # saturated air at 5 °C, ASHRAE Fundamentals 2017
CONDENSER_OVER_AMBIENT_K = 15.0  # common practice
COOLING_CARNOT_SHARE = 0.36  # gives COP 1.8 at 45.4 °C, measured (Adv. Mech. Eng. 2019, 10.1177/1687814019845806)
WARM_BAND_K = 1.0  # cabin air may drift this far above the set point before the compressor starts, common practice
PRECONDITION_S = 1200  # 20 min, common practice
PRECONDITION_STEP_S = 10.0


@compiled
def heat_pump_cop(ambient_k: float) -> float:
    """Heat delivered per electric work of a car's heat pump, compressor and fan.

    Valid 258–288 K. Source: typical R1234yf systems 2–2.5 at 0 °C and 1.3–1.8 at −10 °C, from memory: the straight line
    through the middles, held to 1…3.5.

    >>> round(heat_pump_cop(273.15), 2)
    2.25
    """
    return min(max(2.25 + 0.07 * (ambient_k - 273.15), 1.0), 3.5)


@compiled
def heat_pump_capacity_w(at_0_c_w: float, ambient_k: float) -> float:
    """Heat a heat pump can deliver, W: 2 % of its 0 °C figure for each kelvin, nothing below the cut-out.

    Source: slope of compressor mass flow with suction pressure, from memory.
    """
    if ambient_k < HEAT_PUMP_CUT_OUT_K:
        return 0.0
    return at_0_c_w * min(1 + 0.02 * (ambient_k - 273.15), 1.3)


@compiled
def cooling_cop(ambient_k: float) -> float:
    """Cooling delivered per electric work: a fixed share of Carnot between coil and condenser, at most 3.5.

    >>> round(cooling_cop(318.55), 2)
    1.81
    """
    lift_k = max(ambient_k + CONDENSER_OVER_AMBIENT_K - COIL_K, 1.0)
    return min(COOLING_CARNOT_SHARE * COIL_K / lift_k, 3.5)


@compiled
def fresh_air_kg_s(occupants: float) -> float:
    """Fresh air in winter, kg/s: enough for the people, at least the least setting."""
    return max(FRESH_LEAST_KG_S, FRESH_PERSON_KG_S * occupants)


@compiled
def heating_electric_w(heat_w: float, ambient_k: float, heater_w: float, heat_pump_w: float) -> float:
    """Electric power that delivers `heat_w`, W: the heat pump first, the resistive heater for the rest."""
    pumped_w = min(heat_w, heat_pump_capacity_w(heat_pump_w, ambient_k))
    resistive_w = min((heat_w - pumped_w) / RESISTIVE_EFFICIENCY, heater_w)
    return pumped_w / heat_pump_cop(ambient_k) + resistive_w


@compiled
def latent_w(fresh_kg_s: float, outside_kg_kg: float, occupants: float) -> float:
    """Heat of the water that condenses on the coil, W: all moisture brought in above the coil's dew point."""
    brought_kg_s = fresh_kg_s * max(outside_kg_kg - COIL_HUMIDITY_KG_KG, 0.0) + occupants * PERSON_MOISTURE_KG_S
    return brought_kg_s * EVAPORATION_HEAT_J_KG


@compiled
def climate_power_w(car, day, draw, state, speed_m_s, seconds):
    """March both nodes over one slow step; returns electric power for heating and for cooling, W.

    Writes `state.cabin_air_k` and `state.cabin_interior_k`. `draw.heat` scales shell, fresh air, heat capacity and
    machine alike, so that it scales what heating and cooling take.
    """
    outside_k, aim_k, people = day.ambient_k, day.set_point_k, day.occupants
    heater_w, heat_pump_w, cooler_w = draw.heat * car.heater_w, draw.heat * car.heat_pump_w, draw.heat * car.cooler_w
    shell_w_k = draw.heat * (car.ua_still_w_k + car.ua_per_m_s_w_k * speed_m_s)
    fresh_kg_s = draw.heat * fresh_air_kg_s(people)
    if day.climate > 0.0 and outside_k > aim_k:
        fresh_kg_s *= FRESH_COOLING_SHARE
    fresh_kg_s += day.door_air_kg_m * speed_m_s
    air_w_k = draw.heat * car.cabin_air_j_k / seconds
    interior_w_k = draw.heat * car.cabin_interior_j_k / seconds
    coupling_w_k = car.cabin_coupling_w_k
    inner_w_k = interior_w_k + coupling_w_k
    inner_w = interior_w_k * state.cabin_interior_k + day.sun_w_m2 * car.sun_m2
    stiff_w_k = air_w_k + coupling_w_k - coupling_w_k * coupling_w_k / inner_w_k
    steady_w = air_w_k * state.cabin_air_k + people * PERSON_SENSIBLE_W + coupling_w_k * inner_w / inner_w_k

    open_w_k = shell_w_k + fresh_kg_s * AIR_HEAT_CAPACITY_J_KG_K
    free_k = (steady_w + open_w_k * outside_k) / (stiff_w_k + open_w_k)
    air_k, heating_w, cooling_w = free_k, 0.0, 0.0
    if day.climate > 0.0:
        if outside_k < aim_k:
            heating_w = car.blower_w if heater_w + heat_pump_w > 0.0 else 0.0  # heat from the engine: switched off
        else:
            cooling_w = car.blower_w
        if free_k < aim_k:
            most_w = max(heater_w * RESISTIVE_EFFICIENCY, heat_pump_capacity_w(heat_pump_w, outside_k))
            heat_w = min((aim_k - free_k) * (stiff_w_k + open_w_k), most_w)
            air_k = free_k + heat_w / (stiff_w_k + open_w_k)
            heating_w += heating_electric_w(heat_w, outside_k, heater_w, heat_pump_w)
        elif free_k > aim_k + WARM_BAND_K:
            wide_w_k = shell_w_k + FRESH_MOST_KG_S * AIR_HEAT_CAPACITY_J_KG_K
            aired_k = (steady_w + wide_w_k * outside_k) / (stiff_w_k + wide_w_k)
            lasting_w = steady_w - air_w_k * state.cabin_air_k + wide_w_k * outside_k
            if lasting_w <= (aim_k + WARM_BAND_K) * (stiff_w_k - air_w_k + wide_w_k):  # vents do in the end
                air_k = max(aired_k, aim_k)
            elif cooler_w > 0.0:
                wet_w = latent_w(fresh_kg_s, day.humidity_kg_kg, people)
                dry_w = min((free_k - aim_k) * (stiff_w_k + open_w_k), max(cooler_w - wet_w, 0.0))
                air_k = free_k - dry_w / (stiff_w_k + open_w_k)
                cooling_w += min(dry_w + wet_w, cooler_w) / cooling_cop(outside_k)
    state.cabin_air_k = air_k
    state.cabin_interior_k = (inner_w + coupling_w_k * air_k) / inner_w_k
    return heating_w, cooling_w


@compiled
def warm_on_the_wall_j(car, day, draw, state):
    """Bring a parked cabin to its set point before leaving, J of electricity; writes the cabin's state."""
    drawn_j = 0.0
    for _ in range(int(PRECONDITION_S / PRECONDITION_STEP_S)):
        heating_w, cooling_w = climate_power_w(car, day, draw, state, 0.0, PRECONDITION_STEP_S)
        drawn_j += (heating_w + cooling_w) * PRECONDITION_STEP_S
    return drawn_j


@compiled
def warm_rows_j(cars, days, draws, car_of, day_of, draw_of, states, wanted, out_j):
    """`warm_on_the_wall_j` for the rows that `wanted` marks; writes `out_j` and the cabins' states."""
    for row in range(len(out_j)):
        if wanted[row]:
            out_j[row] = warm_on_the_wall_j(cars[car_of[row]], days[day_of[row]], draws[draw_of[row]], states[row])
