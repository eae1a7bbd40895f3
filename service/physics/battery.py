"""The traction battery: open-circuit voltage, resistance, limits, heat.

Scope    one lumped pack. Charge runs over the usable window, 0 to 1; no entropic heat.
Symbols  ocv  open-circuit voltage, V      r  resistance of the whole pack, Ω      current > 0 discharges
Scales   a share of the steady resistance (conduction, charge transfer) acts at once; the rest (diffusion) builds up as
         a voltage that lags behind the current. At the terminals OCV − lag − share·r·I, with
         d(lag)/dt = ((1 − share)·r·I − lag)/LAG_S. Short pushes meet a stronger pack than long ones; steady driving is
         as by r alone.
Plating  graphite must stay above lithium's own potential. What is left of its open-circuit potential drives the current
         through its reaction's resistance; both are taken relative to 25 °C and half charge.
Source   Arrhenius form and OCV from published cell models (data/chemistries.toml); limits are common practice.
"""

import math

import numpy as np

from service.constants import GAS_CONSTANT_J_MOL_K
from service.physics.compiled import compiled

__all__ = [
    "LAG_S",
    "PROMPT_SHARE",
    "arrhenius_factor",
    "charge_acceptance",
    "charge_current_limit_a",
    "drive_power_limit_w",
    "health_resistance_factor",
    "open_circuit_v",
    "pack_current_a",
    "pack_heater_w",
    "pack_resistance_ohm",
    "pack_temperature_after_k",
    "plating_share",
    "steady_acceptance",
]

REFERENCE_K = 298.15  # 25 °C, at which cell resistance is stated
LOW_CHARGE_RISE = 0.8  # resistance at empty over mid charge, less one: typical pulse-test shape, from memory
LOW_CHARGE_DECAY = 0.08  # charge over which that rise falls to 1/e, from memory
COLD_CHARGE_K = 263.15  # −10 °C: where charge acceptance has fallen to its floor, common practice
WARM_CHARGE_K = 288.15  # 15 °C: from where it is full, common practice
COLD_CHARGE_SHARE = 0.08  # floor of acceptance (cell data sheets: at most about 0.1 C below 0 °C), from memory
HOT_CHARGE_K = 318.15  # 45 °C: usual upper limit of cell data sheets, from memory
PROMPT_SHARE = 0.55  # of the steady resistance, within two seconds: six cell parameter sets give 0.27–0.79 between −10
# and 25 °C, mean 0.55 (computed with the porous-electrode model, tests/published/test_pulse_resistance.py)
LAG_S = 60.0  # time constant of the rest: 33–55 s in sets with fast diffusion, minutes in the others; computed likewise
GRAPHITE_J_MOL = 35e3  # its exchange current: Chen et al., J. Electrochem. Soc. 167 (2020) 080534, parameter set
HALF_FULL_V, NEARLY_FULL_V = 0.12, 0.085  # plateaus of graphite against lithium, stages 2L and 1; from memory
BRIM_V = 0.06  # at the end of the window, from memory
FIRST_PLATEAU, SECOND_PLATEAU, PLATEAU_END = 0.5, 0.65, 0.9  # charge at which they end, begin and end; from memory
HEALTH_RESISTANCE_SLOPE = 2.5  # resistance +50 % when capacity has fallen to 80 %, from memory


@compiled
def arrhenius_factor(activation_j_mol: float, kelvin: float) -> float:
    """R(T)/R(25 °C) of a cell.

    Args:
        activation_j_mol: activation energy, J/mol; 20–35 kJ/mol for whole cells.
        kelvin: cell temperature, K; 243–323.
    Source: Arrhenius; activation energies from published parameter sets, see data/chemistries.toml.

    >>> round(arrhenius_factor(25e3, 263.15), 3)
    3.824
    """
    return math.exp(activation_j_mol / GAS_CONSTANT_J_MOL_K * (1 / kelvin - 1 / REFERENCE_K))


@compiled
def open_circuit_v(ocv_v: np.ndarray, charge: float) -> float:
    """Open-circuit voltage of the pack, V, read off its grid; charge is held to 0…1."""
    last = len(ocv_v) - 1
    place = min(max(charge, 0.0), 1.0) * last
    low = min(int(place), last - 1)
    return ocv_v[low] + (ocv_v[low + 1] - ocv_v[low]) * (place - low)


@compiled
def pack_resistance_ohm(reference_ohm: float, activation_j_mol: float, kelvin: float, charge: float) -> float:
    """Resistance of the pack, Ω: colder and nearly empty cells resist more."""
    emptiness = 1 + LOW_CHARGE_RISE * math.exp(-max(charge, 0.0) / LOW_CHARGE_DECAY)
    return reference_ohm * arrhenius_factor(activation_j_mol, kelvin) * emptiness


@compiled
def health_resistance_factor(state_of_health: float) -> float:
    """How much an aged pack's resistance has grown, from its capacity.

    >>> health_resistance_factor(0.8)
    1.5
    """
    return 1 + HEALTH_RESISTANCE_SLOPE * (1 - state_of_health)


@compiled
def pack_current_a(ocv_v: float, resistance_ohm: float, terminal_w: float) -> float:
    """Current that gives a power at the terminals, A: the smaller root of R·I² − OCV·I + P = 0.

    Beyond the largest power the pack can give, OCV²/4R, the current at that power.

    >>> round(pack_current_a(400.0, 0.1, 20e3), 2)
    50.64
    """
    inside = max(ocv_v * ocv_v - 4 * resistance_ohm * terminal_w, 0.0)
    return (ocv_v - math.sqrt(inside)) / (2 * resistance_ohm)


@compiled
def drive_power_limit_w(ocv_v: float, resistance_ohm: float, min_v: float, limit_a: float) -> float:
    """Most power at the terminals, W: where current or the lowest voltage gives out.

    Never below 0.6 of the open-circuit voltage: 4 % short of OCV²/4R, the most that any resistance lets through.
    """
    floor_v = max(min_v, 0.6 * ocv_v)
    current_a = min(limit_a, max((ocv_v - floor_v) / resistance_ohm, 0.0))
    return (ocv_v - current_a * resistance_ohm) * current_a


@compiled
def charge_acceptance(kelvin: float) -> float:
    """Share of the warm charging current that a pack accepts at a temperature.

    Straight from a floor at −10 °C to full at 15 °C, and down again from 45 to 55 °C.
    Source: common practice; cold charging plates lithium (Petzl and Danzer, J. Power Sources 254 (2014) 80).

    >>> charge_acceptance(298.15)
    1.0
    """
    cold = COLD_CHARGE_SHARE + (1 - COLD_CHARGE_SHARE) * (kelvin - COLD_CHARGE_K) / (WARM_CHARGE_K - COLD_CHARGE_K)
    hot = 1 - (kelvin - HOT_CHARGE_K) / 10
    return min(max(cold, COLD_CHARGE_SHARE), max(hot, 0.0), 1.0)


@compiled
def graphite_v(charge: float) -> float:
    """Open-circuit potential of graphite against lithium over the upper half of the window, V; flat below it.

    >>> graphite_v(0.3), graphite_v(0.8), graphite_v(1.0)
    (0.12, 0.085, 0.06)
    """
    if charge <= FIRST_PLATEAU:
        return HALF_FULL_V
    if charge <= SECOND_PLATEAU:
        passed = (charge - FIRST_PLATEAU) / (SECOND_PLATEAU - FIRST_PLATEAU)
        return HALF_FULL_V + (NEARLY_FULL_V - HALF_FULL_V) * passed
    if charge <= PLATEAU_END:
        return NEARLY_FULL_V
    return NEARLY_FULL_V + (BRIM_V - NEARLY_FULL_V) * (min(charge, 1.0) - PLATEAU_END) / (1 - PLATEAU_END)


@compiled
def plating_share(kelvin: float, charge: float) -> float:
    """Charging current at which graphite reaches lithium's potential, over that at 25 °C and half charge.

    Args:
        kelvin: cell temperature, K; 243–323.
        charge: of the usable window, 0 to 1.
    Above 1 in warm cells: there other limits rule. Source: the condition after Petzl and Danzer, J. Power Sources 254
    (2014) 80; one lumped reaction resistance, no transport in the electrolyte, so short bursts could be higher.

    >>> round(plating_share(298.15, 0.5), 3), round(plating_share(273.15, 0.5), 3), round(plating_share(298.15, 0.8), 3)
    (1.0, 0.275, 0.708)
    """
    return graphite_v(charge) / HALF_FULL_V / arrhenius_factor(GRAPHITE_J_MOL, kelvin)


@compiled
def steady_acceptance(kelvin: float, charge: float) -> float:
    """Share of the warm charging current that a pack is given for hours, from an outlet and at a station alike.

    The lower of what common practice allows at a temperature (`charge_acceptance`) and of what keeps graphite above
    lithium's potential (`plating_share`). Braking is not held to the second: it lasts for seconds.

    >>> round(steady_acceptance(298.15, 0.3), 3), round(steady_acceptance(273.15, 0.3), 3)
    (1.0, 0.275)
    """
    return min(charge_acceptance(kelvin), plating_share(kelvin, charge))


@compiled
def charge_current_limit_a(ocv_v: float, resistance_ohm: float, max_v: float, limit_a: float, kelvin: float) -> float:
    """Most current into the cells, A (a positive number): acceptance, or the voltage ceiling."""
    ceiling_a = max((max_v - ocv_v) / resistance_ohm, 0.0)
    return min(limit_a * charge_acceptance(kelvin), ceiling_a)


@compiled
def pack_temperature_after_k(
    pack_k: float, ambient_k: float, heat_w: float, capacity_j_k: float, loss_w_k: float, seconds: float
) -> float:
    """Pack temperature after a short while of steady heat, K: C·dT/dt = Q − UA·(T − ambient), one implicit step."""
    per_k = capacity_j_k / seconds
    return (per_k * pack_k + heat_w + loss_w_k * ambient_k) / (per_k + loss_w_k)


@compiled
def pack_heater_w(
    pack_k: float, hold_k: float, ambient_k: float, own_heat_w: float, capacity_j_k: float, loss_w_k: float,
    most_w: float, seconds: float,
) -> float:  # fmt: skip
    """Heater power that brings the pack to a temperature within the step and holds it there, W, 0…`most_w`.

    Args:
        own_heat_w: what the pack's resistance gives anyway.
    """
    holding_w = loss_w_k * (hold_k - ambient_k) - own_heat_w
    return min(max(capacity_j_k * (hold_k - pack_k) / seconds + holding_w, 0.0), most_w)
