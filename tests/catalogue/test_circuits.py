"""Circuits against the ratings of the codes they come from."""

from collections import Counter

import pytest

from service.catalogue.circuits import REGIONS
from service.charging.circuit import continuous_current_a
from service.specs import LoadRule

# NEMA receptacles and hard-wired units under NEC 625.41: breaker / 1.25, kW at 120 or 240 V
RECEPTACLES = [
    ("na-household-15a", 15, 1.44),
    ("na-household-20a", 20, 1.92),
    ("na-dryer-30a", 30, 5.76),
    ("na-range-50a", 50, 9.60),
    ("na-hard-wired-60a", 60, 11.52),
    ("na-camp-30a", 30, 2.88),
    ("na-outlet-20a", 20, 3.84),
    ("na-outlet-30a", 30, 5.76),
    ("na-outlet-50a", 50, 9.60),
    ("na-hard-wired-80a", 80, 15.36),
    ("na-hard-wired-100a", 100, 19.2),
    # at 208 V: ×208/240 = 0.8667
    ("na-208v-30a", 30, 0.8667 * 5.76),
    ("na-208v-50a", 50, 0.8667 * 9.60),
    ("na-208v-hard-wired-60a", 60, 0.8667 * 11.52),
    ("na-208v-hard-wired-80a", 80, 0.8667 * 15.36),
    ("na-208v-hard-wired-100a", 100, 0.8667 * 19.2),
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
        ("uk-wall-unit-16a", "united_kingdom", 3.68),
        ("uk-three-phase-32a", "united_kingdom", 22.08),
        ("eu-wall-unit-16a", "continental_europe", 3.68),
        ("eu-wall-unit-32a", "continental_europe", 7.36),
        ("eu-three-phase-32a", "continental_europe", 22.08),
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


def test_circuits_by_region(catalogue):
    regions = Counter(circuit.region for circuit in catalogue.circuits.values())
    assert regions == {"north_america": 17, "united_kingdom": 4, "continental_europe": 5}
    assert len({circuit.name for circuit in catalogue.circuits.values()}) == 17 + 4 + 5


def test_current_follows_the_rule_that_the_row_names(catalogue):
    for circuit in catalogue.circuits.values():
        socket = circuit.rule is LoadRule.DOMESTIC_SOCKET
        most_a = continuous_current_a(circuit.rating_a, circuit.region, domestic_socket=socket)
        if circuit.id == "na-wall-unit-30a":  # gives less than its breaker allows: 32 A
            assert circuit.continuous_a < most_a
        else:
            assert circuit.continuous_a == pytest.approx(most_a), circuit.id
        assert (circuit.rule is LoadRule.FOUR_FIFTHS) == (circuit.region == "north_america")
        assert not (socket and circuit.wall_unit)


def test_file_order_is_by_power_within_a_region(catalogue):
    # pages let the weakest of equals stand for the rest, and lists read from weak to strong
    for region in REGIONS:
        powers = [power_kw(each) for each in catalogue.circuits.values() if each.region == region]
        assert powers == sorted(powers)


def test_some_circuits_are_listed_and_the_rest_are_there_when_asked_for(catalogue):
    usual = {each.id for each in catalogue.circuits.values() if each.usual}
    assert {"na-household-15a", "uk-wall-unit-32a", "eu-household-10a"} < usual
    assert len(usual) == 10
