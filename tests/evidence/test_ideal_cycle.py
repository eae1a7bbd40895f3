"""The ideal cycles that bound our heat pump, computed again with CoolProp."""

import pytest

from tests.evidence.climate import IDEAL_R1234YF

ISENTROPIC = 0.65
PRINTED_R134A = {(-10, 40): 3.619, (0, 45): 4.056, (5, 60): 3.277}  # worked example 24 and two more


def cycle(fluid, evaporating_c, condensing_c):
    """Saturated suction and liquid: heating COP (h2 − h3)/(h2 − h1), discharge °C, both pressures bar."""
    props = pytest.importorskip("CoolProp.CoolProp", reason="CoolProp is not installed").PropsSI
    cold_k, hot_k = evaporating_c + 273.15, condensing_c + 273.15
    low_pa, high_pa = (props("P", "T", kelvin, "Q", 1, fluid) for kelvin in (cold_k, hot_k))
    suction, entropy = (props(what, "T", cold_k, "Q", 1, fluid) for what in ("H", "S"))
    out = suction + (props("H", "P", high_pa, "S", entropy, fluid) - suction) / ISENTROPIC
    cop = (out - props("H", "T", hot_k, "Q", 0, fluid)) / (out - suction)
    return cop, props("T", "P", high_pa, "H", out, fluid) - 273.15, low_pa / 1e5, high_pa / 1e5


@pytest.mark.parametrize(("cell", "cop"), IDEAL_R1234YF.items())
def test_bounds_of_the_evidence_table(cell, cop):
    assert cycle("R1234yf", *cell)[0] == pytest.approx(cop, abs=6e-4)


@pytest.mark.parametrize(("cell", "cop"), PRINTED_R134A.items())
def test_printed_cycles(cell, cop):
    assert cycle("R134a", *cell)[0] == pytest.approx(cop, abs=6e-4)


def test_worked_example():
    # example 24: R134a −10/40 °C, 0.65, saturated: COP 3.619, discharge 63.3 °C, 2.01/10.17 bar
    cop, discharge_c, low_bar, high_bar = cycle("R134a", -10, 40)
    assert cop == pytest.approx(3.619, abs=6e-4)
    assert discharge_c == pytest.approx(63.3, abs=0.06)
    assert (low_bar, high_bar) == pytest.approx((2.01, 10.17), abs=6e-3)
