"""Circuits against the ratings of the codes they come from."""

from collections import Counter

import pytest

# NEMA receptacles and hard-wired units under NEC 625.41: breaker / 1.25, kW at 120 or 240 V
RECEPTACLES = [
    ("na-household-15a", 15, 1.44),
    ("na-household-20a", 20, 1.92),
    ("na-dryer-30a", 30, 5.76),
    ("na-range-50a", 50, 9.60),
    ("na-hard-wired-60a", 60, 11.52),
]


def power_kw(circuit):
    return circuit.volts * circuit.continuous_a * circuit.phases / 1000


@pytest.mark.parametrize(("circuit_id", "breaker_a", "kilowatts"), RECEPTACLES)
def test_north_american_circuit_gives_eight_tenths_of_its_breaker(catalogue, circuit_id, breaker_a, kilowatts):
    circuit = catalogue.circuit(circuit_id)
    assert circuit.region == "north_america"
    assert circuit.continuous_a == pytest.approx(breaker_a / 1.25)
    assert power_kw(circuit) == pytest.approx(kilowatts, abs=0.005)


# BS 1363 10 A continuous; IEC 61851-1 mode 3, 32 A single phase and 16 A three phase at 230 V
@pytest.mark.parametrize(
    ("circuit_id", "region", "kilowatts"),
    [
        ("uk-household-13a", "united_kingdom", 2.30),
        ("uk-wall-unit-32a", "united_kingdom", 7.36),
        ("eu-household-10a", "continental_europe", 2.30),
        ("eu-three-phase-16a", "continental_europe", 11.04),
    ],
)
def test_european_circuit_power(catalogue, circuit_id, region, kilowatts):
    circuit = catalogue.circuit(circuit_id)
    assert circuit.region == region
    assert power_kw(circuit) == pytest.approx(kilowatts, abs=0.005)


def test_reference_circuits_of_the_wall_meter(catalogue):
    american, other = catalogue.circuit("na-wall-unit-30a"), catalogue.circuit("uk-wall-unit-32a")
    assert (american.volts, american.continuous_a, american.phases) == (240, 30, 1)
    assert (other.volts, other.continuous_a, other.phases) == (230, 32, 1)


def test_ten_circuits_by_region(catalogue):
    regions = Counter(circuit.region for circuit in catalogue.circuits.values())
    assert regions == {"north_america": 6, "united_kingdom": 2, "continental_europe": 2}
    assert len({circuit.name for circuit in catalogue.circuits.values()}) == 8 + 2
