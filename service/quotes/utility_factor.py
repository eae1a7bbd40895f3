"""Utility factors: what share of a fleet's distance an electric range covers, by the curves of the regulations.

Scope    published fleet statistics, told beside one person's own share for comparison; that share comes from the
         person's trips.
Method   UF(d) = 1 − exp(−Σ C_j·(d/d_n)^j), d held at d_n: beyond the normalised distance the fits were not made.
Source   40 CFR 600.116-12(c)(4), table 5 (2015 annual edition), which takes the curves of SAE J2841 (SEP2010); fleet
         curve of SAE J2841 table 2, as cited publicly; UN R154 annex B8 appendix 5 with 800 km, and the normalised
         distances 2 200 and 4 260 km of Regulation (EU) 2023/443, from memory.
Mind     the printed CFR table 3 lies up to 0.012 above its own equation from 54.66 miles on: the equation is used.
         400 and 399.9 miles circulate for 399: less than 0.001 in the factor. Label tables take the everyday distance,
         0.7 of the cycle's; fleet tables take the cycle's own.
"""

import math
from dataclasses import dataclass

from service.units import MILE_M

__all__ = ["CURVES", "Curve", "FleetShares", "fleet_shares", "phase_shares", "utility_factor"]

KM_M = 1000.0


@dataclass(frozen=True, slots=True)
class Curve:
    """One published curve: coefficients C1, C2, … and the distance that normalises them, m."""

    name: str
    normal_m: float
    coefficients: tuple[float, ...]
    source: str


US_NORMAL_M = 399 * MILE_M  # 40 CFR 600.116-12(c)(4): 399 miles for all of its curves
US_SOURCE = "40 CFR 600.116-12(c)(4), table 5"
UN_COEFFICIENTS = (
    26.25, -38.94, -631.05, 5964.83, -25094.60, 60380.21, -87517.16, 75513.77, -35748.77, 7154.94,
)  # fmt: skip  # UN R154 annex B8 appendix 5, as quoted in the Commission's technical report
CURVES = {
    "us_city": Curve(
        "US fleet, city", US_NORMAL_M,
        (14.86, 2.965, -84.05, 153.7, -43.59, -96.94, 14.47, 91.70, -46.36), US_SOURCE,
    ),
    "us_highway": Curve("US fleet, highway", US_NORMAL_M, (4.8, 13.0, -65.0, 120.0, -100.0, 31.0), US_SOURCE),
    "us_label": Curve(
        "US label, one car on many days", US_NORMAL_M,
        (13.1, -18.7, 5.22, 8.15, 3.53, -1.34, -4.01, -3.90, -1.15, 3.88), US_SOURCE,
    ),
    "us_fleet": Curve(
        "US fleet, all roads", US_NORMAL_M, (10.52, -7.282, -26.37, 79.08, -77.36, 26.07),
        "SAE J2841 (SEP2010) table 2, as cited publicly",
    ),
    "un_800": Curve("UN R154, first curve", 800 * KM_M, UN_COEFFICIENTS, "UN R154 annex B8 appendix 5"),
    "un_2200": Curve(
        "UN R154, from 2025", 2200 * KM_M, UN_COEFFICIENTS, "Regulation (EU) 2023/443: 2 200 km, from memory"
    ),
    "un_4260": Curve(
        "UN R154, from 2027", 4260 * KM_M, UN_COEFFICIENTS, "Regulation (EU) 2023/443: 4 260 km, from memory"
    ),
}  # fmt: skip


def utility_factor(curve: Curve, distance_m: float) -> float:
    """Share of the distance that a charge-depleting range covers, 0…1.

    Args:
        distance_m: ≥ 0; held at the curve's normalised distance beyond it.

    >>> round(utility_factor(CURVES["un_800"], 50_000), 4)
    0.7546
    """
    along = min(distance_m / curve.normal_m, 1.0)
    power = 0.0
    for coefficient in reversed(curve.coefficients):
        power = (power + coefficient) * along
    return 1 - math.exp(-power)


def phase_shares(curve: Curve, ends_m: tuple[float, ...]) -> tuple[float, ...]:
    """Share of each phase of a charge-depleting test: the factor at its end less those before it.

    Args:
        ends_m: distance from the start to the end of each phase, rising.
    """
    factors = [utility_factor(curve, end_m) for end_m in ends_m]
    return tuple(end - start for start, end in zip([0.0, *factors], factors, strict=False))


@dataclass(frozen=True, slots=True)
class FleetShares:
    """Shares of distance on electricity that fleets' statistics give a range; for comparison with one's own."""

    us_city: float
    us_highway: float
    us_fleet: float
    us_label: float
    un_800: float
    un_2200: float
    un_4260: float


def fleet_shares(range_m: float, label_derate: float = 1.0) -> FleetShares:
    """Every published curve at one electric range.

    Args:
        range_m: charge-depleting distance, m.
        label_derate: what a label makes of that distance before it looks its factor up: 1 for a range on the road, 0.7
            for one on a test cycle. The fleet curves take the distance as it is.
    """
    shares = {name: utility_factor(curve, range_m) for name, curve in CURVES.items()}
    shares["us_label"] = utility_factor(CURVES["us_label"], label_derate * range_m)
    return FleetShares(**shares)
