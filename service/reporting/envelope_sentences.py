"""What the electric side says in plain sentences. Every number goes through `words`."""

from service.physics.envelope import (
    CONTROL_POWER,
    CONTROL_SPEED,
    FASTEST_M_S,
    GENERATOR_SPEED,
    GRIP,
    MOTOR_HEAT,
    MOTOR_POWER,
    MOTOR_TORQUE,
    PACK,
)
from service.quotes.envelope import Envelope
from service.reporting.words import Units, duration, per_cent, plain, power, speed
from service.specs import Layout

__all__ = ["ENDS", "LAYOUTS", "headline", "journey_sentence", "second"]

ENDS = {  # after "where"
    MOTOR_TORQUE: "the motor gives all its torque",
    MOTOR_POWER: "the motor gives all its power",
    MOTOR_HEAT: "the motor would grow too hot",
    PACK: "the battery gives all it can",
    GRIP: "the tyres would slip",
    GENERATOR_SPEED: "the generator motor turns as fast as it may",
    CONTROL_SPEED: "the car’s own controls start the engine",
    CONTROL_POWER: "the car’s own controls start the engine",
}
BEYOND = {  # after "Faster than that"
    MOTOR_TORQUE: "the motor is not strong enough",
    MOTOR_POWER: "the motor is not strong enough",
    MOTOR_HEAT: "the motor would grow too hot in the long run",
    PACK: "the battery cannot give the power as it stands",
    GRIP: "the tyres would slip",
    GENERATOR_SPEED: "the engine has to turn, for the generator motor in its gear is at its highest speed",
    CONTROL_SPEED: "the car’s own controls start the engine; motor, gear and battery could go on",
    CONTROL_POWER: "the car’s own controls start the engine",
}
LAYOUTS = {
    Layout.SINGLE_MOTOR: "one motor",
    Layout.POWER_SPLIT: "power split",
    Layout.PARALLEL: "motor and engine on one shaft, a clutch between",
    Layout.SERIES: "the engine only generates",
}
BARELY = 0.005  # of the driving time: below, "hardly any"


def headline(envelope: Envelope, units: Units) -> str:
    """The answer in one sentence."""
    top = envelope.top
    if top.speed_m_s <= 0:
        return "As it stands, this car cannot move on electricity alone."
    if top.speed_m_s >= FASTEST_M_S:
        return "Nothing that is known of this car ends its speed on electricity."
    alone = "On electricity alone this car" if envelope.ask.vehicle.kind.has_engine else "This car"
    return f"{alone} holds {speed(top.speed_m_s, units)} on the level."


def second(envelope: Envelope, units: Units) -> str:
    """What ends it, and for how long the charge lasts at that."""
    top = envelope.top
    if top.speed_m_s <= 0:
        return f"Already at rest {ENDS[top.limited_by]}."
    return (
        f"Faster than that {BEYOND[top.limited_by]}. "
        f"The charge would last {duration(envelope.seconds_at_top)} at that speed. "
        f"The battery gives {power(envelope.pack_w)} now, {power(envelope.load_w)} of it for cabin and electronics."
    )


def journey_sentence(envelope: Envelope, units: Units) -> str:
    """Whether the journey asks for more; nothing without one."""
    if envelope.beyond is None:
        return ""
    if envelope.beyond == 0:
        return "This journey never asks for more than it gives; each dot is a part of it, larger for more time."
    share = f"{plain(100 * envelope.beyond, 1)}\u00a0%" if envelope.beyond < 0.1 else per_cent(envelope.beyond)
    then = "the engine helps" if envelope.ask.vehicle.kind.has_engine else "the car is slower than asked"
    return (
        f"For {share} of the driving time this journey asks for more than it gives (hollow dots), and {then}; each dot "
        "is a part of it, larger for more time."
    )
