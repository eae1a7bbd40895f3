"""Control pilot and cable coding against the printed table (SAE J1772 / IEC 61851-1 annexes A and B)."""

import pytest

from service.charging.pilot import (
    Pilot,
    Proximity,
    cable_coding_current_a,
    offered_current_a,
    pilot_current_a,
    pilot_duty,
    pilot_meaning,
    proximity_meaning,
    proximity_v,
)
from service.errors import BadInput, OutOfRange

# duty cycle, % -> A, as printed in a test-adapter manual quoting both standards
PRINTED = [
    (10, 6.0), (16, 9.6), (20, 12), (27, 16.2), (30, 18), (40, 24), (50, 30), (53, 31.8),
    (67, 40.2), (80, 48), (85, 51), (86, 55), (90, 65), (94, 75), (96, 80),
]  # fmt: skip


@pytest.mark.parametrize(("duty_pct", "amps"), PRINTED)
def test_pilot_current_is_as_printed(duty_pct, amps):
    assert pilot_current_a(duty_pct / 100) == pytest.approx(amps, abs=1e-9)


@pytest.mark.parametrize(("duty_pct", "amps"), PRINTED)
def test_pilot_duty_is_the_table_read_backwards(duty_pct, amps):
    assert 100 * pilot_duty(amps) == pytest.approx(duty_pct, abs=1e-9)


# worked example: 16.67 % → 10.0 A, 53.33 % → 32.0 A, 66.67 % → 40.0 A
@pytest.mark.parametrize(("duty", "amps"), [(0.1667, 10.0), (0.5333, 32.0), (0.6667, 40.0)])
def test_pilot_current_between_printed_rows(duty, amps):
    assert pilot_current_a(duty) == pytest.approx(amps, abs=0.05)


def test_pilot_is_six_amps_from_eight_to_ten_per_cent():
    assert [pilot_current_a(duty) for duty in (0.08, 0.09, 0.0999, 0.10)] == [6.0, 6.0, 6.0, 6.0]


def test_pilot_steps_up_after_85_per_cent():
    # 0.6·85 = 51.0 A, and 2.5·(85 − 64) = 52.5 A is where the second slope starts: 85 % belongs to the first
    assert pilot_current_a(0.85) == 51.0
    assert pilot_current_a(0.8501) == pytest.approx(52.525)


def test_pilot_holds_80_amps_to_97_per_cent():
    assert pilot_current_a(0.965) == pilot_current_a(0.97) == 80.0


@pytest.mark.parametrize(
    ("duty_pct", "meaning"),
    [
        (0, Pilot.NOT_ALLOWED), (2.9, Pilot.NOT_ALLOWED),
        (3, Pilot.DIGITAL), (4.5, Pilot.DIGITAL), (5, Pilot.DIGITAL), (5.5, Pilot.DIGITAL), (7, Pilot.DIGITAL),
        (7.1, Pilot.ERROR), (7.9, Pilot.ERROR), (97.5, Pilot.ERROR), (99.9, Pilot.ERROR),
        (8, Pilot.CURRENT), (97, Pilot.CURRENT), (100, Pilot.OFF),
    ],
)  # fmt: skip
def test_pilot_meaning_of_every_band(duty_pct, meaning):
    assert pilot_meaning(duty_pct / 100) is meaning


@pytest.mark.parametrize("duty", [0.01, 0.05, 0.075, 0.98, 1.0])
def test_duty_without_a_current_is_refused_with_a_way_out(duty):
    with pytest.raises(BadInput, match=r"give 0\.08 to 0\.97"):
        pilot_current_a(duty)


@pytest.mark.parametrize("duty", [-0.1, 1.01, 53.0, float("nan")])
def test_duty_outside_a_fraction_is_refused(duty):
    with pytest.raises(OutOfRange):
        pilot_current_a(duty)


def test_duty_never_allows_more_than_asked():
    # 51 to 52.5 A lie in the step: no duty names them
    for tenths in range(60, 801):
        amps = tenths / 10
        assert pilot_current_a(pilot_duty(amps)) <= amps + 1e-9
    assert pilot_duty(52.0) == 0.85


@pytest.mark.parametrize("amps", [5.9, 80.1, float("nan")])
def test_current_that_no_duty_names_is_refused(amps):
    with pytest.raises(OutOfRange, match="6 to 80 A"):
        pilot_duty(amps)


# IEC 61851-1 annex B: 1500 Ω = 13 A, 680 Ω = 20 A, 220 Ω = 32 A, 100 Ω = 63 A
@pytest.mark.parametrize(("ohm", "amps"), [(1500, 13), (680, 20), (220, 32), (100, 63)])
def test_cable_coding(ohm, amps):
    assert cable_coding_current_a(ohm) == amps
    for tolerance in (0.97, 1.03):  # the resistors' own
        assert cable_coding_current_a(tolerance * ohm) == amps


@pytest.mark.parametrize("ohm", [0, 50, 2700, 10_000, float("inf"), float("nan")])
def test_cable_coding_of_no_cable_is_refused(ohm):
    with pytest.raises(OutOfRange):
        cable_coding_current_a(ohm)


def test_thin_cable_holds_back_a_strong_pilot():
    # worked example: cable of 680 Ω with a 32 A pilot → 20 A, and the other way round
    assert offered_current_a(pilot_current_a(32 / 60), 680) == 20
    assert offered_current_a(16, 220) == 16


def test_a_63_a_cable_carries_70_on_one_phase():
    # IEC 61851-1 annex B: 100 Ω 63 A, 70 A on one phase; the others carry the same however many are used
    assert [cable_coding_current_a(100, phases) for phases in (1, 2, 3)] == [70, 63, 63]
    assert [cable_coding_current_a(220, phases) for phases in (1, 3)] == [32, 32]
    assert offered_current_a(80, 100, 1) == 70


def test_the_two_slopes_at_every_whole_per_cent():
    # the printed rules: 0.6·D from 10 to 85 %, 2.5·(D − 64) above it to 96 %, 6 A below 10 %, 80 A at 97 %
    for duty_pct in range(8, 98):
        if duty_pct < 10:
            amps = 6
        elif duty_pct <= 85:
            amps = 6 * duty_pct / 10
        else:
            amps = 80 if duty_pct == 97 else 5 * (duty_pct - 64) / 2
        assert pilot_current_a(duty_pct / 100) == pytest.approx(amps, abs=1e-9)


# several public notes say 51 A at 80 % and 57 A at 90 %; the formula and the manual say 48 and 65
@pytest.mark.parametrize(("duty", "amps"), [(0.80, 48), (0.90, 65)])
def test_wrong_public_notes_are_not_followed(duty, amps):
    assert pilot_current_a(duty) == amps


# SAE J1772: about 150 Ω latched, 480 Ω with the button pressed
@pytest.mark.parametrize(
    ("ohm", "meaning"),
    [
        (150, Proximity.LATCHED), (136, Proximity.LATCHED), (164, Proximity.LATCHED),
        (480, Proximity.PRESSED), (433, Proximity.PRESSED), (527, Proximity.PRESSED),
        (float("inf"), Proximity.UNPLUGGED),
        (0, Proximity.FAULT), (134, Proximity.FAULT), (300, Proximity.FAULT), (2700, Proximity.FAULT),
    ],
)  # fmt: skip
def test_proximity_of_a_latched_connector(ohm, meaning):
    assert proximity_meaning(ohm) is meaning


@pytest.mark.parametrize("ohm", [-1, float("nan")])
def test_no_resistance_is_below_nothing(ohm):
    with pytest.raises(OutOfRange):
        proximity_meaning(ohm)


def test_proximity_voltage_is_the_divider():
    # 150 Ω beside 2.7 kΩ is 142.1 Ω; 5 V · 142.1/472.1 = 1.505 V. 480 Ω: 407.5 Ω, 2.763 V. Open: 4.455 V
    assert [proximity_v(ohm) for ohm in (150, 480, float("inf"))] == pytest.approx([1.505, 2.763, 4.455], abs=5e-4)
