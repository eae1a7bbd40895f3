"""One charging session of a car, whole: hours, energy by place, what sets the pace, and the curve.

Path     complete the car → its row and the supply's row → one recorded session → weakest link → cautions.
Scope    the typical car, no band. A circuit's energy is counted at the meter, before its run of cable; a direct-current
         station's at its plug. A session to the full pack includes balancing; a quote's hours do not.
Source   balancing: common practice. Preheated means 25 °C, at which the pack takes all it ever does.
"""

from collections.abc import Mapping
from dataclasses import dataclass, replace

import numpy as np

from service.catalogue import Catalogue
from service.charging.onboard import accepted_by_pack_w, charger_row, socket_w, station_row
from service.charging.run import ADVISED_DROP, delivered, run_advice
from service.charging.session import CURVE, ENDED, NO_POWER, TOO_LONG, recorded_session
from service.charging.weakest import find_weakest, weakest_sentence
from service.errors import BadInput, OutOfRange
from service.physics.battery import REFERENCE_K
from service.physics.rows import table
from service.physics.tables import central_draw
from service.quotes.answer import Assumption
from service.quotes.assume import complete
from service.quotes.label import anchored
from service.quotes.scenarios import rows_for
from service.specs import Ask, Circuit, Journey, Start, Vehicle, Weather

__all__ = [
    "PLACES",
    "FastCharge",
    "SessionAnswer",
    "SessionAsk",
    "Station",
    "build_session",
    "check_supply",
]

PLACES = ("cable", "charger", "overhead", "pack", "preheat", "cooling", "balancing")
COLUMNS = ("cable_j", "charger_j", "overhead_j", "pack_j", "heater_j", "chiller_j", "balancing_j")
MOST_POINTS = 160  # of a curve that leaves the house
FAST_FROM, FAST_TO = 0.1, 0.8  # what fast charging is told by
WORN = 0.8  # of the capacity when new: below it makers and UN GTR 22 speak of a worn pack; from memory
FREEZING_K = 273.15
ABOUT_CHARGING = ("charg", "pack", "cell", "battery", "balanc")


@dataclass(frozen=True, slots=True)
class Station:
    """A direct-current station: most power and current at its plug."""

    power_w: float
    current_a: float | None = None  # None: as much as the power makes


@dataclass(frozen=True, slots=True)
class SessionAsk:
    """One session, from plugging in to the end. Charges are of the usable window, 0 to 1."""

    vehicle: Vehicle
    supply: Circuit | Station
    from_charge: float
    to_charge: float
    pack_k: float
    ambient_k: float | None = None  # None: as warm as the pack
    health: float = 1.0
    pilot_a: float | None = None  # what the supply equipment allows; None: as much as the circuit carries
    phases_live: int | None = None  # phases that carry current; None: all of the circuit's


@dataclass(frozen=True, slots=True)
class FastCharge:
    """Ten to eighty per cent at a station: as the pack is, and preheated."""

    seconds: float
    preheated_s: float
    preheated_k: float
    preheat_j: float  # heat that the pack takes up to get there; 0 where it is as warm


@dataclass(frozen=True, eq=False, slots=True)
class SessionAnswer:
    """The answer, in SI."""

    ask: SessionAsk  # vehicle completed
    seconds: float
    wall_j: float  # at the meter: stored and all losses
    stored_j: float
    losses_j: Mapping[str, float]  # by PLACES
    limited_by: str
    limited_by_sentence: str
    ended: str  # one of session.ENDED
    charge: float  # reached
    pack_k: float  # at the end
    heating_s: float  # before charging began
    balancing_s: float
    pack_limited_s: float
    curve: np.recarray  # of CURVE
    fast: FastCharge | None  # at a station only
    assumptions: tuple[Assumption, ...]
    notes: tuple[str, ...]
    cautions: tuple[str, ...]

    @property
    def efficiency(self) -> float | None:
        """Stored over counted; None where nothing was drawn."""
        return self.stored_j / self.wall_j if self.wall_j > 0 else None


def build_session(ask: SessionAsk, catalogue: Catalogue) -> SessionAnswer:
    """One session.

    Args:
        ask: gaps in the vehicle allowed; what fills them is listed.
    Errors: `BadInput` by field for a car without a plug, more current or phases than the circuit has, or a supply that
        only feeds the charger's overhead.
    """
    check_supply(ask)
    ask, whole, assumptions = completed(ask, catalogue)
    values = {name: typical.value for name, typical in catalogue.typical.items()}
    car, _ = rows_for(whole, catalogue, values)
    charger = supply_row(ask, values)
    done, curve = recorded_session(
        car, central_draw(), charger, ask.from_charge, ask.to_charge, ask.ambient_k, ask.pack_k
    )
    if done.ended == NO_POWER:
        message = f"{charger.ac_w:.0f} W is no more than the car itself draws while charging"
        raise BadInput("circuit", float(charger.ac_w), message, "give more amps, or more phases")
    limited_by, sentence = pace(ask, car[0], charger, done)
    return SessionAnswer(
        ask=ask,
        seconds=float(done.seconds),
        wall_j=float(done.wall_j + done.cable_j),
        stored_j=float(done.cells_j),
        losses_j={place: float(done[column]) for place, column in zip(PLACES, COLUMNS, strict=True)},
        limited_by=limited_by,
        limited_by_sentence=sentence,
        ended=ENDED[done.ended],
        charge=float(done.charge),
        pack_k=float(done.pack_k),
        heating_s=float(done.heating_s),
        balancing_s=float(done.balancing_s),
        pack_limited_s=float(done.pack_limited_s),
        curve=merged(curve, MOST_POINTS),
        fast=fast_charge(ask, car, charger) if isinstance(ask.supply, Station) else None,
        assumptions=assumptions,
        notes=notes_of(ask, done),
        cautions=cautions_of(ask, car[0], done),
    )


def check_supply(ask: SessionAsk) -> None:
    """Refuse what the circuit cannot carry, and cars without a plug.

    Errors: `BadInput` naming vehicle, pilot_amps or phases_live.
    """
    if not ask.vehicle.kind.plugs_in:
        message = "a hybrid without a plug cannot be charged from outside"
        raise BadInput("vehicle", ask.vehicle.id, message, "choose a plug-in hybrid or a battery-electric car")
    circuit = ask.supply
    for name, value in (("pilot_amps", ask.pilot_a), ("phases_live", ask.phases_live)):
        if value is not None and isinstance(circuit, Station):
            raise BadInput(name, value, "a direct-current station has neither", "leave it out")
    if isinstance(circuit, Station):
        return
    if ask.pilot_a is not None and ask.pilot_a > circuit.continuous_a:
        message = f"{ask.pilot_a:g} A is above the {circuit.continuous_a:g} A that this circuit may carry for hours"
        raise BadInput("pilot_amps", ask.pilot_a, message, f"give at most {circuit.continuous_a:g} A")
    if ask.phases_live is not None and ask.phases_live > circuit.phases:
        raise OutOfRange("phases_live", ask.phases_live, 1, circuit.phases, "phases")


def completed(ask: SessionAsk, catalogue: Catalogue) -> tuple[SessionAsk, Ask, tuple[Assumption, ...]]:
    """The question without gaps, the same as a question for a quote, and what filled them."""
    ambient_k = ask.pack_k if ask.ambient_k is None else ask.ambient_k
    circuit = ask.supply if isinstance(ask.supply, Circuit) else None
    start = Start(state_of_health=ask.health)
    whole, moved = anchored(Ask(ask.vehicle, Journey(), Weather(ambient_k), start=start, circuit=circuit), catalogue)
    whole, found = complete(whole, catalogue)
    listed = [one for one in (*moved, *found) if any(word in one.name for word in ABOUT_CHARGING)]
    if circuit is None:
        listed = [one for one in listed if "circuit" not in one.name and "onboard" not in one.name]
    if ask.to_charge == 1:
        time, power = (catalogue.typical_entry(name) for name in ("balancing_s", "balancing_w"))
        listed.append(Assumption("balancing of a full pack", time.value / 60, "min", time.source))
        listed.append(Assumption("power of the balancing", power.value, power.unit, power.source))
    return replace(ask, vehicle=whole.vehicle, ambient_k=ambient_k), whole, tuple(listed)


def supply_row(ask: SessionAsk, values: Mapping[str, float]) -> np.record:
    """Circuit and onboard charger, or station, as a row of `CHARGER`."""
    conversion, fixed_w = values["charger_conversion"], values["charger_fixed_w"]
    if isinstance(ask.supply, Station):
        overhead_w = fixed_w * (ask.vehicle.charger_loss or 1.0)
        row = station_row(ask.supply.power_w, ask.supply.current_a, overhead_w)
    else:
        row = charger_row(ask.vehicle, as_found(ask), conversion, fixed_w)
    row.balancing_s, row.balancing_w = values["balancing_s"], values["balancing_w"]
    return row


def as_found(ask: SessionAsk) -> Circuit:
    """The circuit with the current and the phases that it really gives."""
    circuit = ask.supply
    amps = circuit.continuous_a if ask.pilot_a is None else ask.pilot_a
    return replace(circuit, continuous_a=amps, phases=ask.phases_live or circuit.phases)


def pace(ask: SessionAsk, car: np.record, charger: np.record, done: np.record) -> tuple[str, str]:
    """What sets the pace for most of the time, and the same in a customer's words."""
    charging_s = max(float(done.seconds - done.heating_s - done.balancing_s), 1e-9)
    by_pack = done.pack_limited_s > 0.5 * charging_s
    if isinstance(ask.supply, Station):
        return ("pack", direct_pack_sentence(ask, done)) if by_pack else ("station", station_sentence(ask, car))
    accepted_w, warm_w = (accepted_by_pack_w(car, kelvin) for kelvin in (ask.pack_k, REFERENCE_K))
    found = find_weakest(
        replace(ask.supply, phases=ask.phases_live or ask.supply.phases),
        ask.vehicle.onboard_charger_w,
        ask.vehicle.onboard_charger_phases,
        station_a=ask.pilot_a,
        pack_w=float(socket_w(accepted_w, charger.conversion, charger.fixed_w, 1.0)),
        cold=accepted_w < warm_w,
    )
    if by_pack and found.name != "pack":
        return "pack", "For most of this time the battery itself sets the pace: nearly full, it takes less and less."
    sentence = weakest_sentence(found)
    if found.name == "supply_equipment":  # what a higher setting would bring is not told: nobody is to be tempted
        sentence = sentence.partition(";")[0].rstrip(".") + "."
    return found.name, sentence


def direct_pack_sentence(ask: SessionAsk, done: np.record) -> str:
    """A station stronger than the pack."""
    mean_kw = done.terminals_j / max(done.seconds - done.heating_s, 1.0) / 1000
    cold, full = "cold cells may only be charged gently", "its cells take less the fuller they are"
    why = cold if ask.pack_k < REFERENCE_K - 10 else full
    return (
        f"The battery sets the pace, not the {ask.supply.power_w / 1000:g} kW station: {why}; "
        f"it took {mean_kw:.0f} kW on average."
    )


def station_sentence(ask: SessionAsk, car: np.record) -> str:
    """A pack that would take more."""
    station, nominal_v = ask.supply, ask.vehicle.battery.nominal_v
    if station.current_a is not None and station.current_a * nominal_v < station.power_w:
        kw = station.current_a * nominal_v / 1000
        return f"The station's {station.current_a:g} A set the pace: at this battery's voltage about {kw:.0f} kW."
    return (
        f"The station's {station.power_w / 1000:g} kW set the pace; this battery could take more for most of the time."
    )


def fast_charge(ask: SessionAsk, car: np.recarray, station: np.record) -> FastCharge:
    """Ten to eighty per cent as the pack is, and from 25 °C."""
    warm_k = max(ask.pack_k, REFERENCE_K)
    seconds = [
        float(recorded_session(car, central_draw(), station, FAST_FROM, FAST_TO, ask.ambient_k, pack_k)[0].seconds)
        for pack_k in (ask.pack_k, warm_k)
    ]
    return FastCharge(*seconds, warm_k, float(car[0].pack_j_k * (warm_k - ask.pack_k)))


def merged(curve: np.recarray, most: int) -> np.recarray:
    """At most so many stretches, neighbours joined: their energies and times stay, powers are means.

    Stretches of one group lie side by side, so that heating and balancing, the first and the last, stay alone.
    """
    if len(curve) <= most:
        return curve.copy()
    inner = np.array_split(np.arange(1, len(curve) - 1), most - 2)
    groups = [np.array([0]), *inner, np.array([len(curve) - 1])]
    joined = table(CURVE, most)
    for row, group in enumerate(groups):
        part, first = curve[group], curve[group[0]]
        seconds = part.seconds.sum()
        joined[row] = first
        joined.seconds[row] = seconds
        for name in ("meter_w", "terminal_w"):
            joined[name][row] = (part[name] * part.seconds).sum() / seconds
    return joined


def notes_of(ask: SessionAsk, done: np.record) -> tuple[str, ...]:
    """What the figures rest on and what happened on the way."""
    notes = []
    if isinstance(ask.supply, Station):
        notes.append("Counted at the station's plug; what it loses before that comes on top.")
    elif ask.supply.run is not None:
        circuit = as_found(ask)
        in_use = min(circuit.phases, ask.vehicle.onboard_charger_phases)
        notes += run_advice(circuit, in_use)
    if done.balancing_s > 0:
        minutes = done.balancing_s / 60
        notes.append(
            f"The last {minutes:.0f} minutes level the cells of the full battery; a limit below 100 % saves them."
        )
    if ENDED[done.ended] == "full" and ask.to_charge > done.charge + 1e-3:
        notes.append(f"It counts as full at {100 * done.charge:.0f} %: there the taper current has all but ended.")
    if done.ended == TOO_LONG:
        notes.append("Given up after ten days.")
    return tuple(notes)


def cautions_of(ask: SessionAsk, car: np.record, done: np.record) -> tuple[str, ...]:
    """What to say beside an awkward case: it is estimated, never encouraged."""
    said = []
    if ask.health < WORN:
        said.append(
            f"A battery with {100 * ask.health:.0f} % of its capacity is worn: its cells may differ more than assumed "
            "here. Have it tested before you rely on these figures."
        )
    if isinstance(ask.supply, Circuit):
        said += circuit_cautions(ask)
    elif ask.vehicle.kind.has_engine:
        said.append("Most plug-in hybrids have no inlet for direct current: look at the car's before you count on it.")
    if ask.pack_k < FREEZING_K and car.pack_heater_w <= 0:
        said.append(
            "This battery has no heater here: charging it below freezing is slow and wears it. Let it warm up first."
        )
    return tuple(said)


def circuit_cautions(ask: SessionAsk) -> list[str]:
    """A missing phase, a pilot that holds back, a long lead."""
    circuit, said = ask.supply, []
    if ask.phases_live is not None and ask.phases_live < circuit.phases:
        dead = "One phase" if circuit.phases - ask.phases_live == 1 else "Two phases"
        said.append(
            f"{dead} of {circuit.phases} without current is a fault: have supply and charger checked by a licensed "
            "electrician rather than charging on like this."
        )
    if ask.pilot_a is not None and ask.pilot_a < circuit.continuous_a:
        said.append(
            f"The unit allows {ask.pilot_a:g} A of the {circuit.continuous_a:g} A: whoever set it so may have had a "
            "reason, a thin cable or a hot socket. Ask before it is raised."
        )
    if circuit.run is not None:
        drop = delivered(as_found(ask)).drop_share
        if drop > ADVISED_DROP[circuit.region] or circuit.run.flexible:
            said.append("A long or thin lead warms up for hours: this is an estimate of its loss, not leave to use it.")
    return said
