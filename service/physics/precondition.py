"""Ready on the plug: cabin and pack brought to temperature before leaving, on electricity from the wall.

Scope    a cabin heated or cooled for twenty minutes with nobody in it and no seat heat; a pack with a heater brought up
         to the temperature it is held at, a hot one chilled down to its own, for at most an hour. What the outlet can
         give meanwhile is not looked at.
"""

from service.physics.battery import pack_heater_w, pack_temperature_after_k
from service.physics.cabin import cabin_step_w
from service.physics.climate_machine import cooling_cop, pack_chilled_w
from service.physics.compiled import compiled

__all__ = ["pack_on_the_wall_j", "warm_on_the_wall_j", "warm_rows_j"]

PRECONDITION_S = 1200  # 20 min, common practice
PRECONDITION_STEP_S = 10.0
PACK_S = 3600  # the pack is begun with up to an hour before: from memory
PACK_STEP_S = 60.0
NEAR_K = 0.01  # of the temperature held: done


@compiled
def pack_on_the_wall_j(car, day, state):
    """Bring a parked pack into the temperatures it is held at, J of electricity; writes `state.pack_k`."""
    drawn_j = 0.0
    cop = cooling_cop(day.ambient_k)
    for _ in range(int(PACK_S / PACK_STEP_S)):
        cold = car.pack_heater_w > 0.0 and state.pack_k < car.pack_heat_below_k - NEAR_K
        hot = car.cooler_w > 0.0 and state.pack_k > car.pack_cool_above_k + NEAR_K
        if not cold and not hot:
            break
        heater_w = chilled_w = 0.0
        if cold:
            heater_w = pack_heater_w(
                state.pack_k, car.pack_heat_below_k, day.ambient_k, 0.0, car.pack_j_k, car.pack_w_k,
                car.pack_heater_w, PACK_STEP_S,
            )  # fmt: skip
        else:
            chilled_w = pack_chilled_w(
                state.pack_k, car.pack_cool_above_k, day.ambient_k, 0.0, car.pack_j_k, car.pack_w_k,
                car.cooler_w, PACK_STEP_S,
            )  # fmt: skip
        state.pack_k = pack_temperature_after_k(
            state.pack_k, day.ambient_k, heater_w - chilled_w, car.pack_j_k, car.pack_w_k, PACK_STEP_S
        )
        drawn_j += (heater_w + chilled_w / cop) * PACK_STEP_S
    return drawn_j


@compiled
def warm_on_the_wall_j(car, day, draw, state):
    """Bring a parked cabin to its set point and its pack to its own, J of electricity; writes the states of both."""
    drawn_j = pack_on_the_wall_j(car, day, state)
    for _ in range(int(PRECONDITION_S / PRECONDITION_STEP_S)):
        heating_w, cooling_w = cabin_step_w(car, day, draw, state, 0.0, PRECONDITION_STEP_S, 0.0, 0.0)
        drawn_j += (heating_w + cooling_w) * PRECONDITION_STEP_S
    return drawn_j


@compiled
def warm_rows_j(cars, days, draws, car_of, day_of, draw_of, states, wanted, out_j):
    """`warm_on_the_wall_j` for the rows that `wanted` marks; writes `out_j` and the states."""
    for row in range(len(out_j)):
        if wanted[row]:
            out_j[row] = warm_on_the_wall_j(cars[car_of[row]], days[day_of[row]], draws[draw_of[row]], states[row])
