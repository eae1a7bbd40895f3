"""What an outlet offers: the current a circuit may carry for hours, and the power that makes.

Scope    at the socket: drop and heat along a run of cable are those of `run`, the supply's own ends those of `supply`.
Source   the continuous-load rule after NEC 625.41 and 625.42; socket practice after BS 1363.
"""

import numpy as np

from service.charging.run import delivered, loop_ohm
from service.errors import BadInput, UnknownEntry
from service.specs import Circuit

__all__ = ["continuous_current_a", "offered_at_w", "offered_power_w"]

CONTINUOUS_LOAD_FACTOR = 1.25  # NEC 625.41: overcurrent device at least 125 % of the continuous load
UK_PLUG_FUSE_A = 13.0  # BS 1363: fuse of the domestic plug
DOMESTIC_SOCKET_A = 10.0  # BS 1363 socket held for hours; Schuko 8–10 A, common practice
REGIONS = ("north_america", "united_kingdom", "continental_europe", "own")


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


def offered_power_w(circuit: Circuit, in_use: int | None = None) -> float:
    """Power that a circuit can give for hours at the socket, W.

    Args:
        in_use: phases that the car loads; None: all of the circuit's.
    What a run of cable loses is taken off; alone on one phase of three it loses twice as much.

    >>> offered_power_w(Circuit("a", "", "north_america", 120, 12))
    1440
    """
    return delivered(circuit, in_use).power_w


def offered_at_w(circuit: Circuit, in_use: int, volts: np.ndarray) -> np.ndarray:
    """The same with the supply at other voltages, W, same shape: fixed amps, so power follows the voltage.

    >>> offered_at_w(Circuit("a", "", "north_america", 120, 12), 1, np.array([114.0, 126.0]))
    array([1368., 1512.])
    """
    if circuit.run is None:
        return in_use * volts * circuit.continuous_a
    ohm = loop_ohm(circuit.run, in_use)
    current_a = np.minimum(circuit.continuous_a, volts / (2 * ohm))  # as far as more current helps: see `delivered`
    return in_use * (volts - ohm * current_a) * current_a
