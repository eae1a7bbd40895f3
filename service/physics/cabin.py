"""The cabin as two nodes, air and interior, and what keeps it at its set point.

Scope    conduction rising with speed (on rolls: a fan's wind), fresh air raised until the windows stay clear, sun,
         people, seat and wheel heat; resistive heater, heat pump with the heater behind it, supply air dried and heated
         again at 3–15 °C, cooling with the water that condenses; blower. The coil of summer cooling holds one
         temperature; no ice on windows.
Balance  C_air·dTa/dt  = UA·(To − Ta) + ṁ·c_p·(To − Ta) + k·(Ti − Ta) + people + Q
         C_in·dTi/dt   = k·(Ta − Ti) + sun + seats
         solved implicitly over a slow step; Q holds the set point as far as capacity allows.
Symbols  To outside, Ta cabin air, Ti interior, K      Q heat delivered (cooling negative), W
Source   loads: reference figures of common practice, ASHRAE 55 for people; shell: data/bodies.toml; machine and fresh
         air: `climate_machine`, `fresh_air`.
"""

from service.constants import AIR_HEAT_CAPACITY_J_KG_K, EVAPORATION_HEAT_J_KG
from service.physics.climate_machine import (
    COIL_K,
    RESISTIVE_EFFICIENCY,
    cooling_cop,
    drying_w,
    heat_pump_capacity_w,
    heat_pump_cop,
    heating_electric_w,
)
from service.physics.compiled import compiled
from service.physics.fresh_air import (
    AUTO,
    DRYING_COIL_K,
    FRESH_COOLING_SHARE,
    FRESH_MOST_KG_S,
    PERSON_MOISTURE_KG_S,
    dried_kg_kg,
    drying_share,
    fresh_air_kg_s,
    outdoor_air_kg_s,
    outer_film_w_m2_k,
)

__all__ = ["cabin_step_w", "climate_power_w", "parked_in_sun_k"]

PERSON_SENSIBLE_W = 70.0  # seated, from memory (ASHRAE 55: 105–157 W in all)
COIL_HUMIDITY_KG_KG = 0.0054  # saturated air at 5 °C, the cooling coil, ASHRAE Fundamentals 2017
PAINT_ABSORBS = 0.6  # of the sun: between white, 0.3, and black, 0.9, from memory
WARM_BAND_K = 1.0  # on a day colder than the set point cabin air may be this far above it, common practice


@compiled
def parked_in_sun_k(car, outside_k, sun_w_m2, wind_m_s):
    """Cabin air and interior of a car that has stood in the sun with its windows shut, K.

    Where both nodes come to rest: what the sun gives the interior through the panes, and the air through the hot paint
    of roof and one side, leaves through the shell. Half of the rise is there after about twenty minutes, most of it
    within the hour. Leaves out: air that leaks, heat that paint radiates to a clear sky.

    Args:
        wind_m_s: at the car.
    Source   sol-air temperature: ASHRAE Fundamentals 2017, chapter 18, without its term for the sky.
    """
    shell_w_k = car.ua_still_w_k + car.ua_per_m_s_w_k * wind_m_s
    paint_k = PAINT_ABSORBS * sun_w_m2 / outer_film_w_m2_k(wind_m_s)
    panes_w = sun_w_m2 * car.sun_m2
    air_k = outside_k + (panes_w + car.roof_w_k * paint_k) / shell_w_k
    return air_k, air_k + panes_w / car.cabin_coupling_w_k


@compiled
def latent_w(fresh_kg_s: float, outside_kg_kg: float, occupants: float) -> float:
    """Heat of the water that condenses on the coil, W: all moisture brought in above the coil's dew point.

    In dry air fresh air takes the people's moisture away, and none condenses.
    """
    brought_kg_s = fresh_kg_s * (outside_kg_kg - COIL_HUMIDITY_KG_KG) + occupants * PERSON_MOISTURE_KG_S
    return max(brought_kg_s, 0.0) * EVAPORATION_HEAT_J_KG


@compiled
def condensing_w(wanted_w: float, inside_k: float, fresh_kg_s: float, outside_kg_kg: float, occupants: float) -> float:
    """Heat of the water that condenses while the coil takes `wanted_w` off the cabin's air, W.

    A coil dries no more air than it cools: it keeps up with the moisture once it cools as much air as comes in fresh.
    """
    keeping_up_w = fresh_kg_s * AIR_HEAT_CAPACITY_J_KG_K * (inside_k - COIL_K)
    return latent_w(fresh_kg_s, outside_kg_kg, occupants) * min(wanted_w / keeping_up_w, 1.0)


@compiled
def ventilation_kg_s(day, people, air_k, speed_m_s):
    """Fresh air now, kg/s. With climate off nobody looks after the windows."""
    if day.climate > 0.0 and day.ambient_k < day.set_point_k:
        return fresh_air_kg_s(day, people, air_k, speed_m_s)
    set_kg_s = outdoor_air_kg_s(day.air_setting, people)
    if day.climate > 0.0 and day.ambient_k > day.set_point_k and day.air_setting == AUTO:
        set_kg_s *= FRESH_COOLING_SHARE
    return set_kg_s


@compiled
def heating_w(car, day, draw, heat_w, fresh_kg_s, most_w, pump_most_w):
    """Electric power of heating, W: heat for the cabin, and drying of its supply air between 3 and 15 °C.

    With a heat pump, damp air from about 9 °C up may take more the warmer it is, at most 60 W/K with nine people:
    the coil takes more off it than the cabin asks less. Everywhere else colder air takes more.

    Args:
        heat_w: what the cabin needs; the coil takes no more than that off the air, nor more than the machine can put
            back, so that sun and people who keep the cabin warm leave nothing to dry.
        most_w, pump_most_w: heat that the whole machine, and its heat pump, can deliver.
    """
    pump_cop = heat_pump_cop(day.ambient_k, day.frost_share) if pump_most_w > 0.0 else 1.0
    heater_w = draw.heat * car.heater_w
    share = drying_share(day.ambient_k)
    full_w = share * fresh_kg_s * AIR_HEAT_CAPACITY_J_KG_K * (day.ambient_k - DRYING_COIL_K)
    dry_w = min(full_w, heat_w, most_w - heat_w) if car.cooler_w > 0.0 else 0.0
    if share == 0.0 or dry_w <= 0.0:
        return heating_electric_w(heat_w, pump_most_w, pump_cop, heater_w)
    wet_w = share * fresh_kg_s * dried_kg_kg(day.humidity_kg_kg, day.pressure_pa) * EVAPORATION_HEAT_J_KG
    work_w, back_w = drying_w(dry_w, wet_w * dry_w / full_w, heat_w + dry_w, day.ambient_k, pump_most_w > 0.0)
    return work_w + heating_electric_w(heat_w + dry_w - back_w, pump_most_w, pump_cop, heater_w)


@compiled
def cabin_step_w(car, day, draw, state, speed_m_s, seconds, people, seat_w):
    """March both nodes over one slow step; returns electric power for heating and for cooling, W.

    Writes `state.cabin_air_k` and `state.cabin_interior_k`; takes the heat that a running engine offers in
    `state.engine_heat_w` before any electricity, and leaves there what it took. `draw.heat` scales shell, fresh air,
    heat capacity and machine alike, so that it scales what heating and cooling take; the watts of seats are known.
    """
    outside_k, aim_k = day.ambient_k, day.set_point_k
    shell_w_k = draw.heat * (car.ua_still_w_k + car.ua_per_m_s_w_k * speed_m_s)
    fresh_kg_s = draw.heat * ventilation_kg_s(day, people, state.cabin_air_k, speed_m_s)
    fresh_kg_s += day.door_air_kg_m * speed_m_s
    air_w_k = draw.heat * car.cabin_air_j_k / seconds
    interior_w_k = draw.heat * car.cabin_interior_j_k / seconds
    coupling_w_k = car.cabin_coupling_w_k
    inner_w_k = interior_w_k + coupling_w_k
    inner_w = interior_w_k * state.cabin_interior_k + day.sun_w_m2 * car.sun_m2 + seat_w
    stiff_w_k = air_w_k + coupling_w_k - coupling_w_k * coupling_w_k / inner_w_k
    steady_w = air_w_k * state.cabin_air_k + people * PERSON_SENSIBLE_W + coupling_w_k * inner_w / inner_w_k

    open_w_k = shell_w_k + fresh_kg_s * AIR_HEAT_CAPACITY_J_KG_K
    free_k = (steady_w + open_w_k * outside_k) / (stiff_w_k + open_w_k)
    air_k, warming_w, cooling_w = free_k, seat_w, 0.0
    offered_w, state.engine_heat_w = state.engine_heat_w, 0.0
    if day.climate > 0.0:
        heater_w, cooler_w = draw.heat * car.heater_w, draw.heat * car.cooler_w
        most_k = aim_k
        if outside_k < aim_k:  # nothing to blow where only the engine heats and stands
            warming_w += car.blower_w if car.heater_w + car.heat_pump_w + offered_w > 0.0 else 0.0
            most_k += WARM_BAND_K
        else:
            cooling_w = car.blower_w
        if free_k < aim_k:
            pump_most_w = draw.heat * heat_pump_capacity_w(
                car.heat_pump_w, car.heat_pump_cut_out_k, outside_k, day.frost_share
            )
            if car.engine_w > 0.0 and outside_k < car.heat_below_k:  # the engine heats in this cold, nothing else
                heater_w = pump_most_w = 0.0
            most_w = max(heater_w * RESISTIVE_EFFICIENCY, pump_most_w)
            heat_w = min((aim_k - free_k) * (stiff_w_k + open_w_k), most_w + offered_w)
            air_k = free_k + heat_w / (stiff_w_k + open_w_k)
            state.engine_heat_w = min(heat_w, offered_w)
            warming_w += heating_w(car, day, draw, heat_w - state.engine_heat_w, fresh_kg_s, most_w, pump_most_w)
        elif free_k > most_k:
            wide_w_k = shell_w_k + FRESH_MOST_KG_S * AIR_HEAT_CAPACITY_J_KG_K
            aired_k = (steady_w + wide_w_k * outside_k) / (stiff_w_k + wide_w_k)
            lasting_w = steady_w - air_w_k * state.cabin_air_k + wide_w_k * outside_k
            if lasting_w <= most_k * (stiff_w_k - air_w_k + wide_w_k):  # vents do in the end
                air_k = max(aired_k, aim_k)
            elif cooler_w > 0.0:
                dry_w = (free_k - most_k) * (stiff_w_k + open_w_k)
                wet_w = min(condensing_w(dry_w, aim_k, fresh_kg_s, day.humidity_kg_kg, people), cooler_w)
                dry_w = min(dry_w, cooler_w - wet_w)
                air_k = free_k - dry_w / (stiff_w_k + open_w_k)
                cooling_w += (dry_w + wet_w) / cooling_cop(outside_k)
    state.cabin_air_k = air_k
    state.cabin_interior_k = (inner_w + coupling_w_k * air_k) / inner_w_k
    return warming_w, cooling_w


@compiled
def climate_power_w(car, day, draw, state, speed_m_s, seconds):
    """`cabin_step_w` of a drive: the people are in, seats and wheel are heated if they were asked for.

    On rolls a fan stands before the car: panes and roof are in its wind, not in that of the speed driven.
    """
    wind_m_s = day.fan_m_s if day.fan_m_s > 0.0 else speed_m_s
    return cabin_step_w(car, day, draw, state, wind_m_s, seconds, day.occupants, day.seat_heat_w)
