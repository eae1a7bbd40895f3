"""Official and usual tests as named recipes: what is driven, at what mass, in what air, and where energy is metered.

Scope    what a test fixes; `procedure_run` drives one. Shares are those of consumption; of range too (arithmetic).
Source   US: 40 CFR 600.210-12 and 600.311-12 (2015 text), mass classes 86.129-94, cold coefficients 1066.305(b)(2).
         WLTP: UN R154 and UN GTR 15, class 3b, test cell 23 °C. Constant speeds: common practice of clubs.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

from service.constants import US_REFERENCE_AIR_KG_M3, WLTP_REFERENCE_AIR_KG_M3
from service.errors import UnknownEntry
from service.quotes.loading import MassRule
from service.specs import Climate, Journey, LabelProcedure, Leg, Meter
from service.units import KM_H, MPH, kelvin_from_celsius

__all__ = ["LABEL_RECIPES", "RECIPES", "Adjustment", "Part", "Phase", "Recipe", "recipe_of"]

STEADY_M = 100_000.0  # one stretch of a constant-speed test: long enough that getting up to speed does not count
US_VOLTS, WLTP_VOLTS = 240.0, 230.0  # 40 CFR 600.311-12(k): charge time at 240 V; IEC 60038: 230 V


@dataclass(frozen=True, slots=True)
class Phase:
    """A stretch of a cycle that is metered by itself."""

    name: str
    from_s: float
    to_s: float


@dataclass(frozen=True, slots=True)
class Part:
    """One drive of a test, repeated from full to empty."""

    name: str
    journey: Journey
    share: float
    phases: tuple[Phase, ...] = ()


@dataclass(frozen=True, slots=True)
class Adjustment:
    """Label over test: what a figure for everyday driving makes of the test's distance."""

    least: float
    usual: float
    most: float


@dataclass(frozen=True, slots=True)
class Recipe:
    """A named test."""

    id: str
    name: str
    parts: tuple[Part, ...]
    mass_rule: MassRule
    air_kg_m3: float  # that the rolls impose on a car given by its parts
    cell_k: float
    cell_words: str
    soaked: bool  # everything at the cell's temperature before the start; otherwise tyres and cabin are warm
    climate: Climate
    set_point_k: float
    supply_volts: float  # the recharge is never limited by its supply
    source: str
    meter: Meter = Meter.SOCKET
    coefficient_factor: float = 1.0  # on all three target coefficients
    adjustment: Adjustment | None = None


WLTC_PHASES = (  # 589, 433, 455 and 323 s: UN GTR 15
    Phase("low", 0, 589),
    Phase("medium", 589, 1022),
    Phase("high", 1022, 1477),
    Phase("extra_high", 1477, 1800),
)
US_TEST_CELL_K = kelvin_from_celsius(25)  # middle of the 20–30 °C that 40 CFR 86 allows
WLTP_CELL_K = kelvin_from_celsius(23)  # UN R154
US_COLD_K = kelvin_from_celsius(-7)  # 40 CFR 1066: 20 °F
US_SET_POINT_K = kelvin_from_celsius(22)  # 72 °F, usual in published cold tests
US_ADJUSTMENT = Adjustment(0.66, 0.70, 0.77)  # 600.210-12(d)(3): 0.7 unless approved otherwise; the span is from memory


def us_two_cycle() -> Recipe:
    """The certification test behind a US window label."""
    return Recipe(
        "us-two-cycle",
        "US city and highway, 55 to 45",
        (Part("city", Journey(cycle="udds"), 0.55), Part("highway", Journey(cycle="hwfet"), 0.45)),
        MassRule.US_CLASS,
        US_REFERENCE_AIR_KG_M3,
        US_TEST_CELL_K,
        "20 to 30 °C allowed, 25 °C taken",
        True,
        Climate.OFF,
        US_SET_POINT_K,
        US_VOLTS,
        "40 CFR 600.210-12(c), (d)(3); range 600.311-12(j); mass 86.129-94(a); range of the adjustment from memory",
        adjustment=US_ADJUSTMENT,
    )


def us_cold() -> Recipe:
    """The −7 °C city test with the heater on."""
    return Recipe(
        "us-cold",
        "US city at −7 °C (20 °F), heater on",
        (Part("city", Journey(cycle="udds"), 1.0),),
        MassRule.US_CLASS,
        US_REFERENCE_AIR_KG_M3,
        US_COLD_K,
        "−7 °C",
        True,
        Climate.AUTO,
        US_SET_POINT_K,
        US_VOLTS,
        "40 CFR 1066.305(b)(2): all three target coefficients × 1.1, which stands for the cold air and warmed tyres",
        coefficient_factor=1.1,
    )


def wltp() -> Recipe:
    """The type-approval test behind a European consumption."""
    return Recipe(
        "wltp",
        "WLTP, class 3b",
        (Part("combined", Journey(cycle="wltc_class3b"), 1.0, WLTC_PHASES),),
        MassRule.WLTP,
        WLTP_REFERENCE_AIR_KG_M3,
        WLTP_CELL_K,
        "23 °C",
        True,
        Climate.OFF,
        US_SET_POINT_K,
        WLTP_VOLTS,
        "UN R154 and UN GTR 15: test mass, rotating mass, phases of 589, 433, 455 and 323 s",
    )


def constant_speed(id_: str, words: str, speed_m_s: float, us: bool) -> Recipe:
    """A steady speed on rolls, from warm."""
    return Recipe(
        id_,
        f"A steady {words}",
        (Part("steady", Journey(legs=(Leg(STEADY_M, speed_m_s),)), 1.0),),
        MassRule.US_CLASS if us else MassRule.WLTP,
        US_REFERENCE_AIR_KG_M3 if us else WLTP_REFERENCE_AIR_KG_M3,
        WLTP_CELL_K,
        "23 °C",
        False,
        Climate.OFF,
        US_SET_POINT_K,
        US_VOLTS if us else WLTP_VOLTS,
        "SAE J1634 drives 65 mph between its cycles (from memory); the others are common practice",
    )


RECIPES: Mapping[str, Recipe] = MappingProxyType(
    {
        recipe.id: recipe
        for recipe in (
            us_two_cycle(),
            us_cold(),
            wltp(),
            constant_speed("constant-65-mph", "65 mph", 65 * MPH, True),
            constant_speed("constant-90-km-h", "90 km/h", 90 * KM_H, False),
            constant_speed("constant-105-km-h", "105 km/h", 105 * KM_H, False),
            constant_speed("constant-130-km-h", "130 km/h", 130 * KM_H, False),
        )
    }
)
LABEL_RECIPES = {LabelProcedure.US: RECIPES["us-two-cycle"], LabelProcedure.WLTP: RECIPES["wltp"]}


def recipe_of(id_: str, field: str = "procedure") -> Recipe:
    """A recipe by name; `UnknownEntry` names the field and the nearest one."""
    if id_ not in RECIPES:
        raise UnknownEntry(field, id_, RECIPES)
    return RECIPES[id_]
