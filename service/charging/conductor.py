"""Resistance of the copper and aluminium between meter and socket: voltage lost and heat given off.

Scope    round conductors up to 50 mm² or AWG 1/0 at mains frequency, whose reactance and skin effect add little; power
         factor one, as onboard chargers keep it; phases loaded alike. Contacts and the plug are not in it.
Symbols  ohm_m    resistance of one conductor for each metre, Ω/m
         in_use   phases that carry current, 1 to 3
         paths    conductors' worth of drop in each phase: 2 out and back on one phase, 1.5 on two, 1 on three, where
                  the neutral carries nothing
Source   sections: IEC 60228 at 20 °C, class 2 (fixed) and class 5 (flexible). Gauges: NEC chapter 9 table 8, stranded,
         at 75 °C (public notes also print "75 °F" or "20 °C": AWG 14 solid is 2.525 Ω/kft at 20 °C and 3.07 in it).
         Coefficients: IEC 60228 annex A copper 0.00393/K, aluminium 0.00403/K, both at 20 °C; NEC table 8 note, copper
         0.00323/K, aluminium 0.00330/K, both at 75 °C. What is from memory says so on its line.
"""

from collections.abc import Mapping
from types import MappingProxyType

from service.errors import BadInput
from service.specs import Metal

__all__ = [
    "AWG_OHM_KFT",
    "SECTION_OHM_KM",
    "drop_v",
    "gauge_name",
    "gauge_ohm_m",
    "heat_w",
    "heat_w_m",
    "line_drop_v",
    "paths",
    "section_ohm_m",
]

KFT_M = 304.8  # a thousand feet
AT_20_C_K, AT_75_C_K = 293.15, 348.15
COPPER, ALUMINIUM = Metal.COPPER, Metal.ALUMINIUM
PER_K_AT_20_C = {COPPER: 0.00393, ALUMINIUM: 0.00403}  # IEC 60228 annex A; aluminium from memory
PER_K_AT_75_C = {COPPER: 0.00323, ALUMINIUM: 0.00330}  # NEC chapter 9 table 8, note 2; aluminium from memory

AWG_OHM_KFT: Mapping[Metal, Mapping[int, float]] = MappingProxyType(
    {  # NEC chapter 9 table 8, uncoated, stranded, 75 °C; 0 is AWG 1/0; from memory, copper 10 and 6 seen
        COPPER: {
            14: 3.14, 12: 1.98, 10: 1.24, 8: 0.778, 6: 0.491, 4: 0.308, 3: 0.245, 2: 0.194, 1: 0.154, 0: 0.122,
        },
        ALUMINIUM: {12: 3.25, 10: 2.04, 8: 1.28, 6: 0.808, 4: 0.508, 3: 0.403, 2: 0.319, 1: 0.253, 0: 0.201},
    }
)  # fmt: skip
SECTION_OHM_KM: Mapping[tuple[Metal, bool], Mapping[float, float]] = MappingProxyType(
    {  # IEC 60228 at 20 °C, by metal and whether flexible; 1.5 to 16 mm² copper seen, the rest from memory
        (COPPER, False): {
            1.5: 12.1, 2.5: 7.41, 4: 4.61, 6: 3.08, 10: 1.83, 16: 1.15, 25: 0.727, 35: 0.524, 50: 0.387,
        },
        (COPPER, True): {
            1.5: 13.3, 2.5: 7.98, 4: 4.95, 6: 3.30, 10: 1.91, 16: 1.21, 25: 0.780, 35: 0.554, 50: 0.386,
        },
        (ALUMINIUM, False): {10: 3.08, 16: 1.91, 25: 1.20, 35: 0.868, 50: 0.641},
    }
)  # fmt: skip


def section_ohm_m(section_mm2: float, metal: Metal, conductor_k: float, *, flexible: bool = False) -> float:
    """Resistance of a conductor by its section, Ω/m.

    Args:
        section_mm2: one of the table's, mm²; `BadInput` otherwise, with those there are.
        conductor_k: of the metal, not of the air, K; the straight line holds from about 220 to 400 K.
        flexible: many thin strands (class 5), as in leads; else class 2, as in walls.
    Source: IEC 60228; R = R20·(1 + α·(T − 20 °C)).

    >>> [round(1000 * section_ohm_m(2.5, Metal.COPPER, kelvin), 3) for kelvin in (293.15, 343.15)]
    [7.41, 8.866]
    """
    table = SECTION_OHM_KM.get((metal, flexible))
    if table is None:
        raise BadInput("flexible", flexible, f"there are no flexible leads of {metal}", "give copper, or a fixed run")
    if section_mm2 not in table:
        sections = ", ".join(f"{each:g}" for each in table)
        message = f"there is no {metal} section of {section_mm2:g} mm² in the table"
        raise BadInput("section_mm2", section_mm2, message, f"give one of {sections} mm²")
    return table[section_mm2] / 1000 * (1 + PER_K_AT_20_C[metal] * (conductor_k - AT_20_C_K))


def gauge_ohm_m(awg: int, metal: Metal, conductor_k: float) -> float:
    """Resistance of a conductor by its American gauge, Ω/m, stranded.

    Args:
        awg: one of the table's, 0 for 1/0; `BadInput` otherwise, with those there are.
        conductor_k: of the metal, K.
    Source: NEC chapter 9 table 8 and its note 2; R = R75·(1 + α·(T − 75 °C)).

    >>> round(1000 * gauge_ohm_m(10, Metal.COPPER, 348.15), 3)
    4.068
    """
    table = AWG_OHM_KFT[metal]
    if awg not in table:
        gauges = ", ".join(str(each) for each in table)
        raise BadInput("awg", awg, f"there is no {metal} gauge {awg}", f"give one of {gauges} (0 is 1/0)")
    return table[awg] / KFT_M * (1 + PER_K_AT_75_C[metal] * (conductor_k - AT_75_C_K))


def gauge_name(awg: int) -> str:
    """A gauge as people write it.

    >>> gauge_name(6), gauge_name(0)
    ('AWG 6', 'AWG 1/0')
    """
    return f"AWG {awg or '1/0'}"


def paths(in_use: int) -> float:
    """Conductors' worth of drop in each phase that carries current.

    One phase goes out and comes back through the neutral or the other leg. Of two phases 120° apart the neutral carries
    one phase's current, half of it in step with either; of three it carries none.

    >>> paths(1), paths(2), paths(3)
    (2.0, 1.5, 1.0)
    """
    return 2.0 - (in_use - 1) / 2


def drop_v(current_a: float, ohm_m: float, length_m: float, in_use: int = 1) -> float:
    """Voltage lost along a run, V: of what feeds each phase (phase to neutral where there are three).

    Args:
        current_a: A in each phase in use.
        length_m: one way, m.

    >>> round(drop_v(10, 0.00741, 25), 3)
    3.705
    """
    return paths(in_use) * current_a * ohm_m * length_m


def line_drop_v(current_a: float, ohm_m: float, length_m: float) -> float:
    """Voltage lost between two phases of a three-phase run, all loaded alike, V: √3 times a phase's."""
    return 3**0.5 * drop_v(current_a, ohm_m, length_m, 3)


def heat_w(current_a: float, ohm_m: float, length_m: float, in_use: int = 1) -> float:
    """Heat that all conductors of a run give off together, W: what the drop takes from every phase.

    >>> round(heat_w(16, 0.00741 * 1.1965, 25), 1)
    113.5
    """
    return in_use * current_a * drop_v(current_a, ohm_m, length_m, in_use)


def heat_w_m(current_a: float, ohm_m: float, in_use: int = 1) -> float:
    """The same for each metre of the run, W/m."""
    return heat_w(current_a, ohm_m, 1.0, in_use)
