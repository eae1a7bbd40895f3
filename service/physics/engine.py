"""The combustion engine while it runs: fuel for work, heat for coolant and cabin, and how its work is shared out.

Scope    a warm-running straight Willans line; no emissions, no cold enrichment. Work in shaft terms, W.
Symbols  shaft_w  at the engine's shaft     path  efficiency from there to wheels or, through a generator, to the pack
Source   Willans line: fuel power = idle + shaft power / marginal efficiency, textbook; shares of heat, from memory.
"""

from service.physics.compiled import compiled

__all__ = [
    "cabin_heat_w",
    "coolant_after_k",
    "engine_work_w",
    "fuel_power_w",
    "marginal_efficiency",
    "shaft_for_w",
]

COOLANT_SHARE = 0.3  # of the fuel's heat, into coolant and block: about a third each to work, coolant, exhaust; memory
HEATER_CORE_W_K = 150.0  # heat from hot coolant into cabin air for each kelvin between them, from memory
HEATER_CORE_FROM_K = 313.15  # 40 °C: blower waits for warm coolant, common practice
EFFICIENT_SHARE = 0.4  # of full power: where an engine that also charges is run, best from about here, from memory


def marginal_efficiency(best: float, max_w: float, idle_fuel_w: float) -> float:
    """Slope of the Willans line whose efficiency at full power is `best`.

    >>> round(marginal_efficiency(0.36, 70e3, 5e3), 3)
    0.37
    """
    return 1 / (1 / best - idle_fuel_w / max_w)


@compiled
def fuel_power_w(shaft_w: float, idle_fuel_w: float, marginal: float) -> float:
    """Heat of the fuel burnt, W; idling burns `idle_fuel_w`.

    >>> fuel_power_w(0.0, 5e3, 0.4), fuel_power_w(20e3, 5e3, 0.4)
    (5000.0, 55000.0)
    """
    return idle_fuel_w + max(shaft_w, 0.0) / marginal


@compiled
def shaft_for_w(
    wheel_w: float, electric_w: float, most_w: float, wheel_path: float, generator_path: float
) -> tuple[float, float, float]:
    """Share out a running engine: the generator first, then the wheels.

    Args:
        wheel_w: wanted at the wheels, ≥ 0.
        electric_w: wanted from the generator, ≥ 0.
        most_w: the shaft's most.
    Returns shaft power, what reaches the wheels, what the generator gives; W.

    >>> shaft_for_w(9000.0, 1800.0, 50e3, 0.9, 0.9)
    (12000.0, 9000.0, 1800.0)
    """
    electric_w = min(electric_w, most_w * generator_path)
    used_w = electric_w / generator_path
    to_wheels_w = min(wheel_w, (most_w - used_w) * wheel_path)
    return used_w + to_wheels_w / wheel_path, to_wheels_w, electric_w


@compiled
def engine_work_w(
    wheel_w: float, load_w: float, accept_w: float, motor_w: float, engine_w: float, wheel_path: float,
    generator_path: float, deficit: bool, charging: bool,
) -> tuple[float, float, float]:  # fmt: skip
    """What a running engine is asked for in a step, as `shaft_for_w` gives it.

    Args:
        wheel_w: tractive power wanted, ≥ 0.
        load_w: other consumers on the pack.
        accept_w: most that generator may give: load and what the pack takes.
        motor_w: what the motor can give from the pack.
        deficit: True: the engine only adds what the motor lacks; False: it does all it can, consumers included.
        charging: True: it is run at an efficient load, and what is left over charges the pack.
    """
    if deficit:
        return shaft_for_w(max(wheel_w - motor_w, 0.0), 0.0, engine_w, wheel_path, generator_path)
    electric_w = load_w
    if charging:
        spare_w = EFFICIENT_SHARE * engine_w - wheel_w / wheel_path - load_w / generator_path
        electric_w += max(spare_w, 0.0) * generator_path
    return shaft_for_w(wheel_w, min(electric_w, accept_w), engine_w, wheel_path, generator_path)


@compiled
def coolant_after_k(
    coolant_k: float, ambient_k: float, fuel_w: float, to_cabin_w: float, heat_j_k: float, loss_w_k: float,
    seconds: float,
) -> float:  # fmt: skip
    """Temperature of coolant and block after a short while, K; the thermostat holds it below 95 °C."""
    per_k = heat_j_k / seconds
    warm_k = (per_k * coolant_k + COOLANT_SHARE * fuel_w - to_cabin_w + loss_w_k * ambient_k) / (per_k + loss_w_k)
    return min(warm_k, 368.15)


@compiled
def cabin_heat_w(coolant_k: float, cabin_k: float) -> float:
    """Heat that the coolant can give to the cabin now, W; none from lukewarm coolant."""
    if coolant_k < HEATER_CORE_FROM_K:
        return 0.0
    return HEATER_CORE_W_K * max(coolant_k - cabin_k, 0.0)
