"""The climate machine: one compressor that heats, cools and dries the cabin and chills the pack.

Scope    steady states only: no start-up of the compressor, no minimum speed. The outside heat exchanger's blocking by
         frost is part of the practice share below; what is added for frost is the heat that melts it.
Method   COP = share of Carnot between an evaporator below the outside air and a condenser above the supply air. Of the
         ideal cycle with a compressor of isentropic efficiency 0.65, real systems keep 50–70 % after fan, pressure
         drop and inverter (common practice). Capacity follows the density of the suction vapour.
Boundary whole system, fans and pumps of the machine included: a published COP of a compressor alone is higher.
Symbols  lift  condensing less evaporating temperature      dry/wet  sensible heat, heat of water that condenses
"""

import math

from service.constants import AIR_HEAT_CAPACITY_J_KG_K
from service.physics.compiled import compiled
from service.physics.fresh_air import DRYING_COIL_K, saturated_kg_kg

__all__ = [
    "cooling_cop",
    "drying_w",
    "frost_share",
    "heat_pump_capacity_w",
    "heat_pump_cop",
    "heating_electric_w",
    "pack_chilled_w",
]

SUPPLY_K = 314.65  # 41.5 °C, supply of a measured heat pump (Adv. Mech. Eng. 2019, 10.1177/1687814019845806)
CONDENSER_OVER_SUPPLY_K = 5.0  # common practice 3–8 K
CONDENSING_K = SUPPLY_K + CONDENSER_OVER_SUPPLY_K
EVAPORATOR_BELOW_AIR_K = 8.0  # common practice 5–12 K
IDEAL_SHARE = 0.54  # of Carnot, R1234yf, isentropic efficiency 0.65, saturated: 0.538–0.551 up to 45 °C (CoolProp)
SYSTEM_SHARE = 0.60  # of the ideal cycle: middle of 50–70 %, common practice
HIGHEST_COP = 3.5  # at a small lift the fixed losses rule: from memory
CAPACITY_PER_K = 0.034  # swept volume times (h2 − h3), R1234yf from −28/46.5 to 2/46.5 °C: 0.031–0.035 (CoolProp)
CAPACITY_MOST = 1.3  # of the capacity at 0 °C: condenser and inverter are sized so, from memory
CUT_OUT_RAMP_K = 3.0  # from full capacity to none: machines of one kind stop between −15 and −20 °C, from memory
SUBLIMATION_J_KG = 2.834e6  # water vapour to ice at 0 °C, textbook value
MELTING_J_KG = 0.334e6  # ice at 0 °C, textbook value
DEFROST_EFFICIENCY = 0.4  # heat that melts frost over heat spent on defrosting, from memory (0.35–0.6)

COIL_K = 278.15  # coil surface while cooling, 5 °C, common practice
CONDENSER_OVER_AMBIENT_K = 15.0  # common practice
COOLING_CARNOT_SHARE = 0.36  # gives COP 1.8 at 45.4 °C, whole system (Adv. Mech. Eng. 2019, as above)
RESISTIVE_EFFICIENCY = 0.95  # heater in the coolant loop, common practice 0.90–0.97


@compiled
def heating_cop(evaporating_k: float) -> float:
    """Heat delivered per electric work between an evaporating temperature and the supply air, dry: 1…3.5.

    >>> round(heating_cop(264.15), 2)
    1.87
    """
    lift_k = max(CONDENSING_K - evaporating_k, 1.0)
    return min(max(SYSTEM_SHARE * IDEAL_SHARE * CONDENSING_K / lift_k, 1.0), HIGHEST_COP)


@compiled
def frost_share(ambient_k: float, humidity_kg_kg: float, pressure_pa: float) -> float:
    """Share of the heat drawn from outside air that is frost forming on the evaporator, 0…1; a property of the day.

    Heat and water reach a cold surface in the ratio of enthalpy and temperature differences (Lewis number one).
    None on a surface above 0 °C, or in air too dry to give any.

    >>> round(frost_share(273.15, 0.0034, 101325.0), 2)
    0.34
    """
    surface_k = ambient_k - EVAPORATOR_BELOW_AIR_K
    if surface_k >= 273.15:
        return 0.0
    wetter_kg_kg = max(humidity_kg_kg - saturated_kg_kg(surface_k, pressure_pa), 0.0)
    ratio = SUBLIMATION_J_KG * wetter_kg_kg / (AIR_HEAT_CAPACITY_J_KG_K * EVAPORATOR_BELOW_AIR_K)
    return ratio / (1 + ratio)


@compiled
def defrosting(cop: float, frost: float) -> float:
    """Share of a heat pump's delivered heat that goes into melting its own frost."""
    return (1 - 1 / cop) * frost * MELTING_J_KG / SUBLIMATION_J_KG / DEFROST_EFFICIENCY


@compiled
def heat_pump_cop(ambient_k: float, frost: float) -> float:
    """Heat delivered per electric work of a car's heat pump, whole system, defrosting taken off.

    Args:
        ambient_k: outside air, K; 248–293.
        frost: `frost_share` of the day; 0 in dry air.
    Source: see the constants; measured 1.9 at −1 °C (R134a, secondary loop, whole system).

    >>> round(heat_pump_cop(272.15, 0.0), 2)
    1.87
    """
    cop = heating_cop(ambient_k - EVAPORATOR_BELOW_AIR_K)
    return max(cop * (1 - defrosting(cop, frost)), 1.0)


@compiled
def heat_pump_capacity_w(at_0_c_w: float, cut_out_k: float, ambient_k: float, frost: float) -> float:
    """Heat a heat pump can deliver, W: with the density of its suction vapour, none below the cut-out.

    Args:
        at_0_c_w: capacity in dry air of 0 °C, W.
        cut_out_k: outside air at which the machine stops, K; capacity fades in over the 3 K above it.

    >>> round(heat_pump_capacity_w(4000.0, 255.15, 263.15, 0.0))
    2847
    """
    running = min(max((ambient_k - cut_out_k) / CUT_OUT_RAMP_K, 0.0), 1.0)
    if running == 0.0 or at_0_c_w == 0.0:
        return 0.0
    shrunk = min(math.exp(CAPACITY_PER_K * (ambient_k - 273.15)), CAPACITY_MOST)
    kept = 1 - defrosting(heating_cop(ambient_k - EVAPORATOR_BELOW_AIR_K), frost)
    return at_0_c_w * running * shrunk * kept


@compiled
def heating_electric_w(heat_w: float, pump_most_w: float, pump_cop: float, heater_w: float) -> float:
    """Electric power that delivers `heat_w`, W: the heat pump first, the resistive heater for the rest."""
    pumped_w = min(heat_w, pump_most_w)
    resistive_w = min((heat_w - pumped_w) / RESISTIVE_EFFICIENCY, heater_w)
    return pumped_w / pump_cop + resistive_w


@compiled
def cooling_cop(ambient_k: float) -> float:
    """Cooling delivered per electric work: a fixed share of Carnot between coil and condenser, at most 3.5.

    >>> round(cooling_cop(318.55), 2)
    1.81
    """
    lift_k = max(ambient_k + CONDENSER_OVER_AMBIENT_K - COIL_K, 1.0)
    return min(COOLING_CARNOT_SHARE * COIL_K / lift_k, HIGHEST_COP)


@compiled
def drying_w(dry_w: float, wet_w: float, wanted_w: float, ambient_k: float, pumps: bool) -> tuple[float, float]:
    """Work for taking heat off supply air that is dried, and heat that comes back from it, W.

    Args:
        dry_w, wet_w: taken off at the coil: by cooling, and by water that condenses.
        wanted_w: heat that the cabin and its dried air can use; a heat pump rejects the rest outside.
        pumps: whether the machine is a heat pump, whose condenser heats the cabin; otherwise all of it is lost outside.
    """
    coil_w = dry_w + wet_w
    if not pumps:
        return coil_w / cooling_cop(ambient_k), 0.0
    cop = heating_cop(DRYING_COIL_K)
    used = min(wanted_w * (cop - 1) / (cop * coil_w), 1.0)
    return used * coil_w / (cop - 1) + (1 - used) * coil_w / cooling_cop(ambient_k), used * coil_w * cop / (cop - 1)


@compiled
def pack_chilled_w(
    pack_k: float, hold_k: float, ambient_k: float, own_heat_w: float, capacity_j_k: float, loss_w_k: float,
    most_w: float, seconds: float,
) -> float:  # fmt: skip
    """Heat to take from a pack that brings it down to a temperature within the step and holds it there, W, 0…`most_w`.

    Args:
        own_heat_w: what the pack's resistance gives.
        most_w: cooling that the machine has left.
    """
    holding_w = own_heat_w - loss_w_k * (hold_k - ambient_k)
    return min(max(capacity_j_k * (pack_k - hold_k) / seconds + holding_w, 0.0), most_w)
