"""A run of cable on a circuit: what is left at the socket, and what heats the wall.

Scope    one run of one section between the point where the supply's voltage is known and the socket; whether its
         insulation may carry the current is for an electrician, not for this module.
Symbols  in_use   phases that the car loads, at most the circuit's
         ohm      of the run as one loaded phase sees it, Ω
Source   arithmetic of `conductor`. Without a stated temperature the metal is as hot as its tables take it: 70 °C by
         section (BS 7671 appendix 4, PVC), 75 °C by gauge (NEC chapter 9 table 8). Advised drop: NEC 210.19(A),
         informational note, 3 % on a branch circuit (5 % in all); BS 7671 appendix 4 and IEC 60364-5-52 annex G 5 % for
         anything but lighting (from memory). It is advice everywhere, no rule.
"""

import math
from dataclasses import dataclass

from service.charging.conductor import drop_v, gauge_name, gauge_ohm_m, heat_w, paths, section_ohm_m
from service.errors import BadInput
from service.specs import Circuit, Run

__all__ = [
    "ADVISED_DROP",
    "Delivered",
    "check_run",
    "current_for_a",
    "delivered",
    "loop_ohm",
    "run_advice",
    "run_heat_w",
    "run_name",
    "run_ohm_m",
]

SECTION_K = 343.15  # 70 °C: BS 7671 appendix 4, PVC at its limit
GAUGE_K = 348.15  # 75 °C: NEC chapter 9 table 8
ADVISED_DROP = {  # shares of the nominal voltage, by region
    "north_america": 0.03,  # NEC 210.19(A), informational note
    "united_kingdom": 0.05,  # BS 7671 appendix 4; from memory
    "continental_europe": 0.05,  # IEC 60364-5-52 annex G; from memory
    "own": 0.03,  # the stricter
}
MOST_DROP = 0.2  # chargers give up somewhere below four fifths of the nominal voltage; common practice


@dataclass(frozen=True, slots=True)
class Delivered:
    """What a circuit gives at the socket while a current flows."""

    current_a: float  # in each phase in use
    volts: float  # at the socket
    power_w: float  # at the socket, all phases in use
    drop_v: float
    drop_share: float  # of the supply's voltage
    heat_w: float  # given off by the whole run
    heat_w_m: float  # for each metre of it; 0 without a run


def run_ohm_m(run: Run) -> float:
    """Resistance of one conductor of a run, Ω/m.

    Errors: `BadInput` for a section or gauge that there is not, or both, or neither.

    >>> round(1000 * run_ohm_m(Run(25.0, section_mm2=2.5)), 3), round(1000 * run_ohm_m(Run(25.0, awg=14)), 3)
    (8.866, 10.302)
    """
    if (run.section_mm2 is None) == (run.awg is None):
        both = "both a section and a gauge" if run.awg is not None else "neither a section nor a gauge"
        raise BadInput("section_mm2", run.section_mm2, f"the run has {both}", "give one of section_mm2 and awg")
    if run.awg is not None:
        return gauge_ohm_m(run.awg, run.metal, run.conductor_k or GAUGE_K)
    return section_ohm_m(run.section_mm2, run.metal, run.conductor_k or SECTION_K, flexible=run.flexible)


def run_name(run: Run) -> str:
    """A run as people call it.

    >>> run_name(Run(25.0, section_mm2=2.5))
    '25 m of 2.5 mm² copper'
    """
    size = f"{run.section_mm2:g} mm²" if run.awg is None else gauge_name(run.awg)
    return f"{run.length_m:g} m of {size} {'flexible ' if run.flexible else ''}{run.metal}"


def delivered(circuit: Circuit, in_use: int | None = None, current_a: float | None = None) -> Delivered:
    """What arrives at the socket.

    Args:
        in_use: phases that the car loads; None: all of the circuit's.
        current_a: A in each of them; None: as much as the circuit carries for hours.
    A run so long that more current would bring less power counts as far as it helps: half the voltage lost.

    >>> delivered(Circuit("a", "", "own", 120, 12)).power_w
    1440
    """
    in_use = min(in_use or circuit.phases, circuit.phases)
    current_a = circuit.continuous_a if current_a is None else current_a
    run = circuit.run
    if run is None:
        return Delivered(current_a, circuit.volts, in_use * circuit.volts * current_a, 0.0, 0.0, 0.0, 0.0)
    ohm_m = run_ohm_m(run)
    current_a = min(current_a, circuit.volts / (2 * loop_ohm(run, in_use)))
    lost_v = drop_v(current_a, ohm_m, run.length_m, in_use)
    warmth_w = heat_w(current_a, ohm_m, run.length_m, in_use)
    left_v = circuit.volts - lost_v
    power_w = in_use * left_v * current_a
    return Delivered(current_a, left_v, power_w, lost_v, lost_v / circuit.volts, warmth_w, warmth_w / run.length_m)


def current_for_a(circuit: Circuit, socket_w: float, in_use: int | None = None) -> float:
    """Current in each phase in use that brings a power to the socket, A.

    Args:
        socket_w: W at the socket, all phases together, 0 to what `delivered` says.
    From n·(V − I·R)·I = P: the smaller root.

    >>> round(current_for_a(Circuit("a", "", "own", 230, 32, 3), 6900.0, 1), 6)
    30.0
    """
    in_use = min(in_use or circuit.phases, circuit.phases)
    each_w, volts = socket_w / in_use, circuit.volts
    if circuit.run is None:
        return each_w / volts
    ohm = loop_ohm(circuit.run, in_use)
    # 2P/(V + √(V² − 4RP)) is the smaller root without the loss of digits that the usual form has for short runs
    return 2 * each_w / (volts + math.sqrt(max(volts * volts - 4 * ohm * each_w, 0.0)))


def run_heat_w(circuit: Circuit, socket_w: float, in_use: int | None = None) -> float:
    """Power lost between meter and socket while a power is drawn at the socket, W; 0 without a run."""
    return delivered(circuit, in_use, current_for_a(circuit, socket_w, in_use)).heat_w


def run_advice(circuit: Circuit, in_use: int | None = None, current_a: float | None = None) -> tuple[str, ...]:
    """What to say of a run beside the numbers: its drop and heat, and advice where the drop is over the usual one.

    Args as those of `delivered`.
    """
    if circuit.run is None:
        return ()
    found, advised = delivered(circuit, in_use, current_a), ADVISED_DROP[circuit.region]
    told = (
        f"At {found.current_a:.3g} A the {run_name(circuit.run)} up to the plug lose {100 * found.drop_share:.2g} % of "
        f"the voltage and give off {found.heat_w:.3g} W, {found.heat_w_m:.2g} W a metre, which the meter counts on top."
    )
    if found.drop_share <= advised:
        return (told,)
    over = f"That is over the {100 * advised:g} % usually advised: thicker conductors would lose less."
    return told, f"{over} Whether these may carry that current at all is for a licensed electrician to say."


def check_run(circuit: Circuit, field: str = "circuit.run") -> None:
    """Refuse a run that leaves a charger too little voltage to work with.

    Errors: `BadInput` naming the length, with one that would do.
    """
    run = circuit.run
    if run is None:
        return
    share = drop_v(circuit.continuous_a, run_ohm_m(run), run.length_m) / circuit.volts
    if share > MOST_DROP:
        metres = math.floor(10 * run.length_m * MOST_DROP / share) / 10
        raise BadInput(
            f"{field}.length_m",
            run.length_m,
            f"at {circuit.continuous_a:g} A {run_name(run)} would lose {100 * share:.0f} % of {circuit.volts:g} V: "
            "no charger goes on with so little",
            f"give at most {metres:g} m, a thicker conductor or fewer amps",
        )


def loop_ohm(run: Run, in_use: int) -> float:
    """Resistance that one loaded phase sees, Ω."""
    return paths(in_use) * run_ohm_m(run) * run.length_m
