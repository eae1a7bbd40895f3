"""What an outlet offers: control pilot, cable coding, and the current a circuit may carry for hours.

Scope    the power between the conductors at the stated voltage; drop and heat along the run are not in it.
Symbols  duty  share of each 1 kHz period that the pilot stands high, a fraction of one
         a     amps per phase
Source   pilot and coding after SAE J1772 and IEC 61851-1 annexes A and B, as printed in a test-adapter manual that
         quotes both; the continuous-load rule after NEC 625.41 and 625.42; socket practice after BS 1363.
"""

from enum import StrEnum

from service.errors import BadInput, OutOfRange, UnknownEntry
from service.specs import Circuit

__all__ = [
    "Pilot",
    "cable_coding_current_a",
    "continuous_current_a",
    "offered_current_a",
    "offered_power_w",
    "pilot_current_a",
    "pilot_duty",
    "pilot_meaning",
]

LEAST_PILOT_A, MOST_PILOT_A = 6.0, 80.0  # SAE J1772 / IEC 61851-1 annex A
STEP_DUTY_PCT = 85.0  # the last per cent of the first slope, 51 A; just above it the second slope begins at 52.5 A
CODING_A = (  # IEC 61851-1 annex B: nominal 100, 220, 680, 1500 Ω; the windows around them are from memory
    (75.0, 150.0, 63.0),
    (150.0, 330.0, 32.0),
    (330.0, 1000.0, 20.0),
    (1000.0, 2700.0, 13.0),
)
CONTINUOUS_LOAD_FACTOR = 1.25  # NEC 625.41: overcurrent device at least 125 % of the continuous load
UK_PLUG_FUSE_A = 13.0  # BS 1363: fuse of the domestic plug
DOMESTIC_SOCKET_A = 10.0  # BS 1363 socket held for hours; Schuko 8–10 A, common practice
REGIONS = ("north_america", "united_kingdom", "continental_europe", "own")


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


def cable_coding_current_a(ohm: float) -> float:
    """Most current of a detachable cable, A, from the resistor in its plug.

    Args:
        ohm: resistance between proximity contact and earth; 75 to 2700 Ω, `OutOfRange` beyond (no cable, or a fault).
    Source: IEC 61851-1 annex B: 1500 Ω 13 A, 680 Ω 20 A, 220 Ω 32 A, 100 Ω 63 A (70 A on one phase).

    >>> cable_coding_current_a(680)
    20.0
    """
    for low_ohm, high_ohm, current_a in CODING_A:
        if low_ohm <= ohm < high_ohm:
            return current_a
    raise OutOfRange("ohm", ohm, CODING_A[0][0], CODING_A[-1][1], "Ω")


def offered_current_a(pilot_a: float, coding_ohm: float) -> float:
    """The lower of what pilot and cable allow, A.

    >>> offered_current_a(32, 680)
    20.0
    """
    return min(pilot_a, cable_coding_current_a(coding_ohm))


def continuous_current_a(breaker_a: float, region: str, domestic_socket: bool = False) -> float:
    """Current that a circuit may carry for hours, A.

    Args:
        breaker_a: rating of the fuse or breaker, A, above 0; `BadInput` otherwise.
        region: `north_america` (rating/1.25), `united_kingdom` (a 13 A plug 10 A, else the rating),
            `continental_europe` (the rating), `own` (the rating); `UnknownEntry` otherwise.
        domestic_socket: an ordinary household socket: never above 10 A in Europe. North America's rule covers its own.
    Source: NEC 625.41 and 625.42; BS 1363; continental household sockets are common practice.

    >>> continuous_current_a(50, "north_america"), continuous_current_a(13, "united_kingdom")
    (40.0, 10.0)
    """
    if region not in REGIONS:
        raise UnknownEntry("region", region, REGIONS)
    if not breaker_a > 0:
        raise BadInput("breaker_a", breaker_a, f"{breaker_a:g} A carries nothing", "give the rating on the breaker")
    if region == "north_america":
        return breaker_a / CONTINUOUS_LOAD_FACTOR
    uk_plug = region == "united_kingdom" and breaker_a == UK_PLUG_FUSE_A
    if uk_plug or (domestic_socket and region != "own"):
        return min(breaker_a, DOMESTIC_SOCKET_A)
    return float(breaker_a)


def offered_power_w(circuit: Circuit) -> float:
    """Power that a circuit can give for hours, W, every phase used.

    >>> offered_power_w(Circuit("a", "", "north_america", 120, 12))
    1440
    """
    return circuit.volts * circuit.continuous_a * circuit.phases
