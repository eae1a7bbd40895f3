"""Electricity that neither drives, heats nor cools: control units, pumps, lights.

Source   12 V consumers 150–400 W, headlamps about 100 W: common practice (data/typical.csv holds the middle).
"""

from service.physics.compiled import compiled

__all__ = ["electronics_w"]


@compiled
def electronics_w(base_w: float, headlamp_w: float, lights: float) -> float:
    """Power at the pack's terminals, W; `lights` is the share of the time with headlamps on, 0…1."""
    return base_w + headlamp_w * lights
