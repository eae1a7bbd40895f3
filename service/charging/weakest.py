"""The weakest link between the wall and the cells, and what to say of it across a sales desk.

Scope    AC charging before any taper. Links, each by the power that it would let through alone, at the socket: circuit,
         supply equipment (its pilot), cable (its coding), onboard charger, pack.
Source   the lowest of them rules: SAE J1772 and IEC 61851-1 leave it to the car to draw no more than pilot and cable
         allow; the rest is arithmetic.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

import numpy as np

from service.charging.circuit import offered_power_w
from service.charging.onboard import accepted_by_pack_w, socket_w
from service.charging.pilot import cable_coding_current_a
from service.charging.run import delivered
from service.physics.battery import REFERENCE_K
from service.specs import Circuit, Vehicle

__all__ = ["LINKS", "Weakest", "find_weakest", "weakest_of", "weakest_sentence"]

LINKS = ("onboard_charger", "circuit", "supply_equipment", "cable", "pack")  # of equals, the first is named
TIE = 1.01  # powers within 1 % count as equal: far below what a supply's voltage wanders
WORTH_SAYING = 1.1  # a gain below a tenth is not worth a promise
COUNT = {1: "one", 2: "two", 3: "three"}


@dataclass(frozen=True, slots=True)
class Weakest:
    """Which link sets the pace, and how much stronger the others are."""

    name: str  # one of LINKS
    power_w: float  # at the socket
    links_w: Mapping[str, float]  # every link that is known, by name: what it would let through alone
    circuit: Circuit
    circuit_w: float  # with every phase of it in use
    charger_w: float  # with every phase of it in use
    charger_phases: int
    station_a: float | None
    cable_a: float | None
    cold: bool  # the pack takes less than it would when warm

    @property
    def in_use(self) -> int:
        """Phases that circuit and charger have in common."""
        return min(self.circuit.phases, self.charger_phases)

    @property
    def gain(self) -> float:
        """Power without this link, where the next one limits, over power with it; at least 1.

        Another circuit may have every phase that the charger has. Time falls by more than power rises: a charger's
        fixed overhead is a smaller part of a stronger supply.
        """
        others = {name: power_w for name, power_w in self.links_w.items() if name != self.name}
        if self.name == "circuit":
            others["onboard_charger"] = self.charger_w
        return max(min(others.values()) / self.power_w, 1.0) if self.power_w > 0 else 1.0


def find_weakest(
    circuit: Circuit,
    charger_w: float,
    charger_phases: int,
    *,
    station_a: float | None = None,
    coding_ohm: float | None = None,
    pack_w: float | None = None,
    cold: bool = False,
) -> Weakest:
    """Which link sets the pace.

    Args:
        charger_w: AC rating of the onboard charger with all its phases in use, W, above 0.
        charger_phases: 1 to 3.
        station_a: what the supply equipment's pilot allows, A per phase; None: as much as the circuit carries.
        coding_ohm: resistor in a detachable cable, Ω; None: a cable that is fixed or strong enough. `OutOfRange` where
            no cable has it.
        pack_w: at the socket, what the pack would take with everything else strong enough, W; None: not asked.
        cold: whether a warm pack would take more.

    >>> find_weakest(Circuit("a", "", "own", 230, 32), 3300.0, 1).name
    'onboard_charger'
    """
    in_use = min(circuit.phases, charger_phases)
    cable_a = None if coding_ohm is None else cable_coding_current_a(coding_ohm, in_use)
    found = {
        "onboard_charger": charger_w * in_use / charger_phases,
        "circuit": offered_power_w(circuit, in_use),
        "supply_equipment": None if station_a is None else delivered(circuit, in_use, station_a).power_w,
        "cable": None if cable_a is None else delivered(circuit, in_use, cable_a).power_w,
        "pack": pack_w,
    }
    links_w = {name: power_w for name, power_w in found.items() if power_w is not None}
    least_w = min(links_w.values())
    name = next(each for each in LINKS if each in links_w and links_w[each] <= TIE * least_w)
    return Weakest(
        name=name,
        power_w=least_w,
        links_w=MappingProxyType(links_w),
        circuit=circuit,
        circuit_w=offered_power_w(circuit),
        charger_w=charger_w,
        charger_phases=charger_phases,
        station_a=station_a,
        cable_a=cable_a,
        cold=cold,
    )


def weakest_of(
    vehicle: Vehicle,
    circuit: Circuit,
    car: np.record,
    charger: np.record,
    pack_k: float,
    station_a: float | None = None,
) -> Weakest:
    """The weakest link of a car on a circuit, its pack judged half full and heated where it can be.

    Args:
        vehicle: completed; `car` its row of `rows.CAR`, `charger` the row of `CHARGER` on this circuit.
        pack_k: pack temperature at plugging in, K.
        station_a: as in `find_weakest`.
    """
    accepted_w, warm_w = (accepted_by_pack_w(car, kelvin) for kelvin in (pack_k, REFERENCE_K))
    return find_weakest(
        circuit,
        vehicle.onboard_charger_w,
        vehicle.onboard_charger_phases,
        station_a=station_a,
        pack_w=float(socket_w(accepted_w, charger.conversion, charger.fixed_w, 1.0)),
        cold=accepted_w < warm_w,
    )


def weakest_sentence(found: Weakest) -> str:
    """The same in a customer's words.

    >>> weakest_sentence(find_weakest(Circuit("a", "", "own", 230, 32, wall_unit=True), 3300.0, 1))
    "The car's own 3.3 kW charger sets the pace, not your 7.4 kW wall unit; a stronger one will not charge it faster."
    """
    return _SENTENCES[found.name](found)


def _charger(found: Weakest) -> str:
    circuit_w, charger = found.links_w["circuit"], f"The car's own {_kw(found.charger_w)} charger"
    pace = "sets the pace" if circuit_w <= TIE * found.power_w else f"sets the pace, not your {_plug(found)}"
    if found.charger_phases > found.in_use:
        limit = f"takes {_kw(found.links_w['onboard_charger'])} on {_phases(found.in_use)}"
        return f"{charger} {limit} and {pace}; only {_phases(found.charger_phases)} will charge it faster."
    stronger = f"a stronger {_noun(found)}" if pace == "sets the pace" else "a stronger one"
    return f"{charger} {pace}; {stronger} will not charge it faster."


def _circuit(found: Weakest) -> str:
    gives = ""
    if found.circuit.phases > found.in_use:
        gives = f" gives {_kw(found.power_w)} on the {_phases(found.in_use)} that the car uses and"
    stronger = "a stronger one"
    if found.circuit.phases < found.charger_phases:
        stronger += f" on {_phases(found.charger_phases)}"
    return f"Your {_plug(found)}{gives} sets the pace{_rather(found, 'onboard_charger')}{_gain(found, stronger)}."


def _station(found: Weakest) -> str:
    unit = f"The charging unit is set to {found.station_a:g} A, {_kw(found.power_w)}, and"
    return f"{unit} sets the pace{_rather(found, 'circuit')}{_gain(found, 'set higher, it')}."


def _cable(found: Weakest) -> str:
    cable = f"The cable is made for {found.cable_a:g} A, {_kw(found.power_w)}, and"
    return f"{cable} sets the pace{_rather(found, 'circuit')}{_gain(found, 'a stronger one')}."


def _pack(found: Weakest) -> str:
    others_w = min(power_w for name, power_w in found.links_w.items() if name != "pack")
    why = "At this temperature the battery" if found.cold else "The battery itself"
    return f"{why} sets the pace: it takes about {_kw(found.power_w)} of the {_kw(others_w)} it could be given."


_SENTENCES = {
    "onboard_charger": _charger,
    "circuit": _circuit,
    "supply_equipment": _station,
    "cable": _cable,
    "pack": _pack,
}


def _rather(found: Weakest, other: str) -> str:
    """The link that people would blame, if it is the stronger."""
    if found.links_w[other] <= TIE * found.power_w:
        return ""
    named = f"your {_plug(found)}" if other == "circuit" else f"the car's {_kw(found.charger_w)} charger"
    return f", not {named}"


def _gain(found: Weakest, what: str) -> str:
    """What a better link would bring, where that is worth saying."""
    if found.gain < WORTH_SAYING:
        return ""
    return f"; {what} could give up to {found.gain:.2g} times the power"


def _noun(found: Weakest) -> str:
    return {True: "wall unit", False: "outlet", None: "circuit"}[found.circuit.wall_unit]


def _plug(found: Weakest) -> str:
    return f"{_kw(found.circuit_w)} {_noun(found)}"


def _kw(power_w: float) -> str:
    return f"{round(power_w / 1000, 1):g} kW"


def _phases(count: int) -> str:
    return f"{COUNT[count]} phase{'s' if count > 1 else ''}"
