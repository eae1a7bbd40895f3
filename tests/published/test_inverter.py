"""The inverter's two shares, reckoned from figures of switches, by the textbook sums of a sine-fed bridge.

Source   voltage-source bridge with sine currents: mean of |sin| is 2/π, mean of sin² is 1/2 (textbook). Figures of
         650–750 V silicon modules at their rated current and junctions near 125 °C: threshold 0.8 V and as much again
         over the slope; on, off and recovery 0.13 mJ an ampere at 400 V; from memory. Carrier 8–10 kHz; power factor
         0.80–0.88 and motor efficiency 0.9 at peak torque, from memory.
"""

import math

import pytest

from service.catalogue import load_catalogue

THRESHOLD_V, SLOPE_V = 0.8, 0.8  # at rated current
SWITCHING_J_A, AT_V = 1.3e-4, 400.0
PACK_V = 350.0
PHASES = 3


def shares(carrier_hz: float, power_factor: float, motor: float = 0.9) -> tuple[float, float]:
    """Loss that goes with current and with its square, over mechanical power, at rated peak current of one ampere."""
    threshold_w = PHASES * THRESHOLD_V * 2 / math.pi
    switching_w = PHASES * carrier_hz * SWITCHING_J_A * PACK_V / AT_V * 2 / math.pi
    slope_w = PHASES * SLOPE_V / 2
    phase_v = PACK_V / math.sqrt(6)  # space-vector modulation, r.m.s.
    shaft_w = PHASES * phase_v / math.sqrt(2) * power_factor * motor
    return (threshold_w + switching_w) / shaft_w, slope_w / shaft_w


def test_typical_shares_are_those_of_the_switches():
    ends = [shares(8e3, 0.88), shares(10e3, 0.80)]
    for entry, low, high in zip(("inverter_share", "inverter_ohmic_share"), *ends, strict=True):
        assert low * 0.95 < load_catalogue().typical_entry(entry).value < high * 1.05


def test_most_of_the_loss_goes_with_current_and_handbooks_agree_at_peak():
    by_current, by_square = shares(9e3, 0.85)
    assert by_current > 2 * by_square
    assert 1 - by_current - by_square == pytest.approx(0.98, abs=0.01)  # 96–98 %, from memory
