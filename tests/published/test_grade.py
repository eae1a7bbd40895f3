"""Weight along a slope: F = m·g·sin(atan(G/100)), standard g (CGPM 1901)."""

import pytest

from service.physics.road_load import climbing_n


# Example 7: 1600 kg; per cent → N
@pytest.mark.parametrize(
    ("per_cent", "newton"), [(1, 156.899), (3, 470.508), (5, 783.553), (6, 939.748), (10, 1561.277), (-5, -783.553)]
)
def test_grade_force(per_cent, newton):
    assert climbing_n(1600.0, per_cent / 100) == pytest.approx(newton, abs=6e-4)


def test_grade_power_and_height():
    # 5 % at 80 km/h 17.412 kW; 100 m of climb 435.85 Wh
    force_n = climbing_n(1600.0, 0.05)
    assert force_n * 80 / 3.6 / 1000 == pytest.approx(17.412, abs=6e-4)
    road_m = 100 * (1 + 0.05**2) ** 0.5 / 0.05  # along a 5 % slope that rises 100 m
    assert force_n * road_m / 3600 == pytest.approx(435.85, abs=6e-3)
    assert force_n < 784.532  # the small-angle figure
