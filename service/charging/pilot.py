"""What supply equipment tells the car: control pilot, cable coding, proximity.

Scope    the low-voltage signals of an AC connector; the power itself is `circuit`'s.
Symbols  duty  share of each 1 kHz period that the pilot stands high, a fraction of one
         a     amps per phase
Source   pilot and coding after SAE J1772 and IEC 61851-1 annexes A and B, as printed in a test-adapter manual that
         quotes both. Some public notes print 51 A at 80 % and 57 A at 90 %: the formulas and that manual say 48 A and
         65 A.
"""

from enum import StrEnum

from service.errors import BadInput, OutOfRange

__all__ = [
    "LEAST_PILOT_A",
    "MOST_PILOT_A",
    "Pilot",
    "Proximity",
    "cable_coding_current_a",
    "offered_current_a",
    "pilot_current_a",
    "pilot_duty",
    "pilot_meaning",
    "proximity_meaning",
    "proximity_v",
]

LEAST_PILOT_A, MOST_PILOT_A = 6.0, 80.0  # SAE J1772 / IEC 61851-1 annex A
STEP_DUTY_PCT = 85.0  # the last per cent of the first slope, 51 A; just above it the second slope begins at 52.5 A
CODING_A = (  # IEC 61851-1 annex B: nominal 100, 220, 680, 1500 Ω; the windows around them are from memory
    (75.0, 150.0, 63.0),
    (150.0, 330.0, 32.0),
    (330.0, 1000.0, 20.0),
    (1000.0, 2700.0, 13.0),
)
ONE_PHASE_63_A = 70.0  # IEC 61851-1 annex B: the 63 A cable where only one phase is used
LATCHED_OHM, PRESSED_OHM = 150.0, 480.0  # SAE J1772, connector's proximity contact to ground, latch closed and pressed
INLET_OHM, PULL_UP_OHM, PULL_UP_V = 2700.0, 330.0, 5.0  # SAE J1772, the car's side; from memory
PROXIMITY_TOLERANCE = 0.1  # SAE J1772 resistors, from memory


class Pilot(StrEnum):
    """What a duty cycle says."""

    CURRENT = "current"  # names a current
    DIGITAL = "digital"  # the two sides must speak to each other first
    ERROR = "error"  # between the bands: no charging
    NOT_ALLOWED = "not_allowed"  # below 3 %
    OFF = "off"  # steady high level: connected, no charging


NO_CURRENT = {
    Pilot.DIGITAL: "asks for digital communication and names no current",
    Pilot.ERROR: "lies between the bands of the standard: no charging",
    Pilot.NOT_ALLOWED: "is not allowed by the standard: no charging",
    Pilot.OFF: "is a steady level: connected, no charging",
}


def pilot_meaning(duty: float) -> Pilot:
    """What a pilot duty cycle says. Fraction of one, 0 to 1; `OutOfRange` beyond.

    Source: SAE J1772 / IEC 61851-1 annex A. From 97 to 100 % the table prints nothing: an error here.

    >>> pilot_meaning(0.05)
    <Pilot.DIGITAL: 'digital'>
    """
    if not 0 <= duty <= 1:
        raise OutOfRange("duty", duty, 0, 1, "of the period")
    pct = round(100 * duty, 9)  # 0.07 × 100 is not 7 in binary
    if pct < 3:
        return Pilot.NOT_ALLOWED
    if pct <= 7:
        return Pilot.DIGITAL
    if pct == 100:
        return Pilot.OFF
    return Pilot.CURRENT if 8 <= pct <= 97 else Pilot.ERROR


def pilot_current_a(duty: float) -> float:
    """Most current that the pilot allows, A per phase.

    Args:
        duty: fraction of one, 0 to 1.
    Errors: `BadInput` where the duty names no current (digital band, gaps, steady level), `OutOfRange` beyond 0 to 1.
    Source: SAE J1772 / IEC 61851-1 annex A; 85 % belongs to the first slope, so the step up to 52.5 A comes after it.

    >>> pilot_current_a(0.5), pilot_current_a(0.85), pilot_current_a(0.9)
    (30.0, 51.0, 65.0)
    """
    meaning = pilot_meaning(duty)
    if meaning is not Pilot.CURRENT:
        raise BadInput("duty", duty, f"{100 * duty:g} % {NO_CURRENT[meaning]}", "give 0.08 to 0.97")
    pct = round(100 * duty, 9)
    if pct < 10:
        return LEAST_PILOT_A
    if pct <= STEP_DUTY_PCT:
        return round(0.6 * pct, 9)
    return min(2.5 * (pct - 64), MOST_PILOT_A)


def pilot_duty(current_a: float) -> float:
    """Duty cycle, a fraction of one, that allows a current: the highest that never allows more.

    Args:
        current_a: A per phase, 6 to 80; `OutOfRange` beyond. From 51 to 52.5 A no duty exists: 85 % (51 A) is given.
    Source: SAE J1772 / IEC 61851-1 annex A, turned round.

    >>> pilot_duty(32), pilot_duty(65)
    (0.5333333333333333, 0.9)
    """
    if not LEAST_PILOT_A <= current_a <= MOST_PILOT_A:
        raise OutOfRange("current_a", current_a, LEAST_PILOT_A, MOST_PILOT_A, "A")
    if current_a <= 2.5 * (STEP_DUTY_PCT - 64):
        return min(current_a / 60, STEP_DUTY_PCT / 100)
    return (current_a / 2.5 + 64) / 100


def cable_coding_current_a(ohm: float, phases: int = 3) -> float:
    """Most current of a detachable cable, A, from the resistor in its plug.

    Args:
        ohm: resistance between proximity contact and earth; 75 to 2700 Ω, `OutOfRange` beyond (no cable, or a fault).
        phases: in use; on one phase the 100 Ω cable may carry 70 A.
    Source: IEC 61851-1 annex B: 1500 Ω 13 A, 680 Ω 20 A, 220 Ω 32 A, 100 Ω 63 A (70 A on one phase).

    >>> cable_coding_current_a(680), cable_coding_current_a(100, 1)
    (20.0, 70.0)
    """
    for low_ohm, high_ohm, current_a in CODING_A:
        if low_ohm <= ohm < high_ohm:
            return ONE_PHASE_63_A if phases == 1 and current_a == CODING_A[0][2] else current_a
    raise OutOfRange("ohm", ohm, CODING_A[0][0], CODING_A[-1][1], "Ω")


def offered_current_a(pilot_a: float, coding_ohm: float, phases: int = 3) -> float:
    """The lower of what pilot and cable allow, A: the station itself announces no more than its cable carries.

    >>> offered_current_a(32, 680)
    20.0
    """
    return min(pilot_a, cable_coding_current_a(coding_ohm, phases))


class Proximity(StrEnum):
    """What the proximity contact of a connector with a latch says."""

    LATCHED = "latched"  # plugged in, the button released
    PRESSED = "pressed"  # the button held: the car stops charging before the plug comes out
    UNPLUGGED = "unplugged"
    FAULT = "fault"


def proximity_meaning(connector_ohm: float) -> Proximity:
    """What the resistance from the connector's proximity contact to ground says. Ω, infinite with nothing plugged in.

    Errors: `OutOfRange` below 0.
    Source: SAE J1772: about 150 Ω latched, 480 Ω with the button pressed; the 10 % around them is from memory.

    >>> proximity_meaning(480)
    <Proximity.PRESSED: 'pressed'>
    """
    if not connector_ohm >= 0:
        raise OutOfRange("connector_ohm", connector_ohm, 0, float("inf"), "Ω")
    for ohm, meaning in ((LATCHED_OHM, Proximity.LATCHED), (PRESSED_OHM, Proximity.PRESSED)):
        if abs(connector_ohm - ohm) <= PROXIMITY_TOLERANCE * ohm:
            return meaning
    return Proximity.UNPLUGGED if connector_ohm == float("inf") else Proximity.FAULT


def proximity_v(connector_ohm: float) -> float:
    """Voltage that a technician reads at the car's proximity contact, V.

    Args:
        connector_ohm: of the connector, Ω, above 0; infinite with nothing plugged in.
    Source: a divider of SAE J1772's inlet: 330 Ω to 5 V, 2.7 kΩ to ground (from memory).

    >>> round(proximity_v(150), 2), round(proximity_v(480), 2), round(proximity_v(float("inf")), 2)
    (1.51, 2.76, 4.46)
    """
    to_ground_s = 1 / INLET_OHM + 1 / connector_ohm
    return PULL_UP_V / (1 + PULL_UP_OHM * to_ground_s)
