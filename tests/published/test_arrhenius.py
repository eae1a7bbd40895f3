"""Resistance of a cold cell: exp[E/R·(1/T − 1/298.15)]. The table was computed from that formula."""

import pytest

from service.physics.battery import arrhenius_factor, open_circuit_v, pack_resistance_ohm
from service.specs import Ask, Journey, Weather

CELSIUS = (40, 10, 0, -10, -20)


# Example 25 (25 kJ/mol at −10 °C: 3.824) is in the second row
@pytest.mark.parametrize(
    ("kj_mol", "factors"),
    [
        (20, (0.679, 1.533, 2.093, 2.924, 4.196)),
        (25, (0.617, 1.706, 2.517, 3.824, 6.006)),
        (35, (0.508, 2.113, 3.641, 6.540, 12.30)),
    ],
)
def test_printed_factors(kj_mol, factors):
    for celsius, factor in zip(CELSIUS, factors, strict=True):
        digits = 6e-4 if factor < 10 else 6e-3
        assert arrhenius_factor(1000.0 * kj_mol, celsius + 273.15) == pytest.approx(factor, abs=digits)


def test_usable_energy_in_the_cold_falls_far_less(rows, catalogue):
    # "5–10 % at −10 °C, 10–20 % at −20 °C" at low power, from memory: a C/5 discharge of the demo sedan's row, its pack
    # held at the day's temperature, loses no more than that
    vehicle = catalogue.vehicles["mid-electric-sedan"]
    car, _ = rows(Ask(vehicle, Journey(cycle="udds"), Weather(298.15)))

    def energy_j(kelvin, steps=2000):
        amps, total_j = car.capacity_c / (5 * 3600), 0.0
        for k in range(steps):
            charge = 1 - (k + 0.5) / steps
            ohm = pack_resistance_ohm(car.resistance_ohm, car.activation_j_mol, kelvin, charge)
            volt = open_circuit_v(car.ocv_v, charge) - amps * ohm
            if volt < car.min_v:
                break
            total_j += volt * car.capacity_c / steps
        return total_j

    warm_j = energy_j(298.15)
    assert 0.0 < 1 - energy_j(263.15) / warm_j < 0.10
    assert 0.0 < 1 - energy_j(253.15) / warm_j < 0.20
