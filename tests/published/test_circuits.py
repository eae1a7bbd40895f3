"""Continuous current and power of circuits against published tables (NEC 625.41/42, BS 1363, CEE sockets)."""

import pytest

from service.charging.circuit import continuous_current_a, offered_power_w
from service.errors import BadInput, UnknownEntry
from service.specs import Circuit


# receptacle ratings: breaker A, volts, continuous A (80 %), kW
@pytest.mark.parametrize(
    ("breaker_a", "volts", "amps", "kw"),
    [
        (15, 120, 12, 1.44), (20, 120, 16, 1.92), (20, 240, 16, 3.84), (30, 240, 24, 5.76),
        (50, 240, 40, 9.60), (60, 240, 48, 11.52), (100, 240, 80, 19.2),
    ],
)  # fmt: skip
def test_north_american_receptacles(breaker_a, volts, amps, kw):
    continuous_a = continuous_current_a(breaker_a, "north_america")
    assert continuous_a == pytest.approx(amps)
    circuit = Circuit("c", "", "north_america", volts, continuous_a)
    assert offered_power_w(circuit) / 1000 == pytest.approx(kw, abs=0.005)


def test_continuous_load_needs_125_per_cent():
    # worked example: continuous 40 A needs a 50 A device, 48 A needs 60 A
    assert continuous_current_a(50, "north_america") == 40
    assert continuous_current_a(60, "north_america") == 48


def test_sagging_supply_gives_less():
    # worked example: a 5-15 at 114 V (5 % drop) gives 1.368 kW, at 208 V 208/240 = 0.8667 of the 240 V figure
    assert offered_power_w(Circuit("c", "", "north_america", 114, 12)) == pytest.approx(1368)
    at_208, at_240 = (offered_power_w(Circuit("c", "", "north_america", volts, 32)) for volts in (208, 240))
    assert at_208 / at_240 == pytest.approx(0.8667, abs=5e-5)


def test_domestic_sockets_are_held_to_ten_amps():
    # BS 1363: designed for a 13 A peak, 10 A continuous (2.3 kW); Schuko 16 A rated, 8–10 A for long charging
    assert continuous_current_a(13, "united_kingdom") == 10
    assert continuous_current_a(16, "continental_europe", domestic_socket=True) == 10
    assert offered_power_w(Circuit("c", "", "united_kingdom", 230, 10)) == 2300
    assert continuous_current_a(8, "continental_europe", domestic_socket=True) == 8


# CEE blue 16 A 3.68 kW, 32 A 7.36 kW; CEE red 16 A 11.09 kW, 32 A 22.17 kW at 230/400 V (400/√3 = 230.94 V)
@pytest.mark.parametrize(
    ("amps", "phases", "volts", "kw"),
    [(16, 1, 230, 3.68), (32, 1, 230, 7.36), (16, 3, 400 / 3**0.5, 11.09), (32, 3, 400 / 3**0.5, 22.17)],
)
def test_industrial_sockets_carry_their_rating(amps, phases, volts, kw):
    continuous_a = continuous_current_a(amps, "continental_europe")
    circuit = Circuit("c", "", "continental_europe", volts, continuous_a, phases)
    assert offered_power_w(circuit) / 1000 == pytest.approx(kw, abs=0.005)


def test_own_circuit_is_taken_as_stated():
    assert continuous_current_a(13, "own", domestic_socket=True) == 13


def test_unknown_region_and_empty_breaker_are_refused():
    with pytest.raises(UnknownEntry, match="did you mean 'north_america'"):
        continuous_current_a(15, "north_amerika")
    for breaker_a in (0, -5, float("nan")):
        with pytest.raises(BadInput, match="breaker_a"):
            continuous_current_a(breaker_a, "own")
