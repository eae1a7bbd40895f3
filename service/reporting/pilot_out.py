"""What a control pilot says, as it leaves."""

from typing import Self

from pydantic import Field

from service.charging.pilot import Pilot, pilot_current_a, pilot_duty, pilot_meaning
from service.reporting.answers import Outgoing, rounded
from service.reporting.cautions import CIRCUIT_CAUTIONS

__all__ = ["PilotOut"]

SENTENCES = {
    Pilot.DIGITAL: "The two sides must agree by digital communication first; the duty cycle names no current.",
    Pilot.ERROR: "Between the bands of the standard: the car must not charge.",
    Pilot.NOT_ALLOWED: "Below 3 % is not allowed: the car must not charge.",
    Pilot.OFF: "A steady level: connected, and no charging.",
}


class PilotOut(Outgoing):
    """Duty cycle and current, one worked from the other."""

    duty_pct: float = Field(description="share of each 1 kHz period at the high level")
    amps: float | None = Field(description="most current that it allows, per phase; null where it names none")
    meaning: Pilot = Field(description="current, digital, error (no charging), not_allowed or off")
    sentence: str
    source: str = "SAE J1772 / IEC 61851-1 annex A"
    cautions: list[str] = Field(default_factory=lambda: list(CIRCUIT_CAUTIONS))

    @classmethod
    def of_duty(cls, duty_pct: float) -> Self:
        """What a duty cycle says, 0 to 100 %."""
        meaning = pilot_meaning(duty_pct / 100)
        if meaning is not Pilot.CURRENT:
            return cls(duty_pct=rounded(duty_pct), amps=None, meaning=meaning, sentence=SENTENCES[meaning])
        amps = pilot_current_a(duty_pct / 100)
        sentence = f"The car may draw up to {amps:.4g} A in each phase."
        return cls(duty_pct=rounded(duty_pct), amps=rounded(amps), meaning=meaning, sentence=sentence)

    @classmethod
    def of_amps(cls, amps: float) -> Self:
        """The highest duty cycle that never allows more than a current, 6 to 80 A."""
        duty = pilot_duty(amps)
        allowed_a = pilot_current_a(duty)
        sentence = f"{100 * duty:.4g} % allows {allowed_a:.4g} A in each phase"
        sentence += (
            "." if amps - allowed_a < 1e-6 else f"; no duty cycle says {amps:.4g} A, the next above the step says more."
        )
        return cls(duty_pct=rounded(100 * duty), amps=rounded(allowed_a), meaning=Pilot.CURRENT, sentence=sentence)
