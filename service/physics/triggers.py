"""What starts the engine while there is charge, looked at once a slow step; power is looked at within it.

Scope    thresholds are data of one car (rows.CAR); a threshold that is not known never fires here: the answer says so.
Order    the first of the list that holds is the one told; the engine runs while any holds, and its minimum time.
Source   kinds of trigger: reports on single models and handbooks gathered in data/engines.toml; hysteresis of coolant,
         from memory.
"""

from service.physics.compiled import compiled

__all__ = ["FULL_PACK", "LOW_CHARGE", "POWER", "SUSTAIN_BAND", "TRIGGERS", "trigger_of"]

TRIGGERS = (
    "charge_mode",  # the driver asked to hold or make charge
    "fuel_age",
    "upkeep",
    "low_charge",
    "cold_pack",
    "hot_pack",
    "cabin_heat",
    "defrost",
    "speed",
    "power",
    "full_pack",  # turns without fuel
)
(CHARGE_MODE, FUEL_AGE, UPKEEP, LOW_CHARGE, COLD_PACK, HOT_PACK, CABIN_HEAT, DEFROST, SPEED, POWER, FULL_PACK) = range(
    11
)
NONE = -1
HEAT_FROM_K = 318.15  # 45 °C: coolant this cool no longer heats the cabin, from memory
CABIN_DROP_K = 1.5  # cabin this far below its set point calls for the engine, common practice
HEAT_UNTIL_K = 343.15  # 70 °C: warm enough to stop, from memory
SUSTAIN_BAND = 0.04  # of the usable window: charge made in one run of an engine that sustains, from memory
PACK_RELIEF_K = 2.0  # the engine stops once the pack is this far back inside its window, common practice
UPKEEP_UNTIL_K = 353.15  # 80 °C: oil and vapour run ends warm, from memory


@compiled
def wants_engine_heat(car, day, coolant_k: float, running: bool, cabin_k: float) -> bool:
    """True where the cabin asks for heat that this car takes from its engine, and the coolant has none left."""
    short_k = 0.0 if running else CABIN_DROP_K
    cold = day.climate > 0.0 and day.ambient_k < day.set_point_k and cabin_k < day.set_point_k - short_k
    from_engine = car.engine_heats > 0.0 or day.ambient_k < car.heat_below_k
    return cold and from_engine and coolant_k < (HEAT_UNTIL_K if running else HEAT_FROM_K)


@compiled
def trigger_of(car, day, state, charge: float, fastest_m_s: float) -> int:
    """Index into `TRIGGERS` of what asks for the engine now; −1 for nothing.

    Args:
        fastest_m_s: highest speed of the slow step ahead.
    """
    running = state.engine > 0.0
    relief_k = PACK_RELIEF_K if running else 0.0
    if day.mode > 0.0 and charge <= state.level + (SUSTAIN_BAND if running else 0.0):
        return CHARGE_MODE
    if day.stale_fuel > 0.0:
        return FUEL_AGE
    if day.upkeep_due > 0.0 and state.coolant_k < UPKEEP_UNTIL_K and state.upkeep_done == 0.0:
        return UPKEEP
    if charge <= car.low_charge + (SUSTAIN_BAND if running and state.sustaining > 0.0 else 0.0):
        return LOW_CHARGE
    if state.pack_k < car.cold_pack_k + relief_k:
        return COLD_PACK
    if state.pack_k > car.hot_pack_k - relief_k:
        return HOT_PACK
    if wants_engine_heat(car, day, state.coolant_k, running, state.cabin_air_k):
        return CABIN_HEAT
    if day.defrost > 0.0 and day.ambient_k < car.defrost_below_k and state.coolant_k < HEAT_UNTIL_K:
        return DEFROST
    if fastest_m_s > car.start_speed_m_s:
        return SPEED
    return NONE
