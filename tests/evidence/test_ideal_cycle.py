"""The ideal cycles that bound our heat pump, computed again with CoolProp."""

import pytest

from tests.evidence.climate import IDEAL_R1234YF

ISENTROPIC = 0.65
PRINTED_R134A = {(-10, 40): 3.619, (0, 45): 4.056, (5, 60): 3.277}  # worked example 24 and two more


def heating_cop(fluid, evaporating_c, condensing_c):
    """Saturated suction and liquid: (h2 − h3)/(h2 − h1)."""
    props = pytest.importorskip("CoolProp.CoolProp", reason="CoolProp is not installed").PropsSI
    cold_k, hot_k = evaporating_c + 273.15, condensing_c + 273.15
    suction, entropy = (props(what, "T", cold_k, "Q", 1, fluid) for what in ("H", "S"))
    discharge = props("H", "P", props("P", "T", hot_k, "Q", 1, fluid), "S", entropy, fluid)
    out = suction + (discharge - suction) / ISENTROPIC
    return (out - props("H", "T", hot_k, "Q", 0, fluid)) / (out - suction)


@pytest.mark.parametrize(("cell", "cop"), IDEAL_R1234YF.items())
def test_bounds_of_the_evidence_table(cell, cop):
    assert heating_cop("R1234yf", *cell) == pytest.approx(cop, abs=6e-4)


@pytest.mark.parametrize(("cell", "cop"), PRINTED_R134A.items())
def test_worked_example(cell, cop):
    assert heating_cop("R134a", *cell) == pytest.approx(cop, abs=6e-4)
