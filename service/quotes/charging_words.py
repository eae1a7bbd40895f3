"""What is said of a charging session: what sets its pace, what its figures rest on, and cautions.

Scope    words only. An awkward case is estimated with a caution, never encouraged.
Source   common practice in advice to owners; a pack below 80 % of its capacity counts as worn (from memory).
"""

from dataclasses import replace

import numpy as np

from service.charging.run import ADVISED_DROP, delivered, run_advice
from service.charging.session import ENDED, TOO_LONG
from service.charging.weakest import weakest_of, weakest_sentence
from service.physics.battery import REFERENCE_K
from service.quotes.charging_ask import SessionAsk, Station, as_found
from service.specs import Circuit

__all__ = ["cautions_of", "notes_of", "pace"]

WORN = 0.8  # of the capacity when new: below it makers and UN GTR 22 speak of a worn pack; from memory
FREEZING_K = 273.15


def pace(ask: SessionAsk, car: np.record, charger: np.record, done: np.record) -> tuple[str, str]:
    """What sets the pace for most of the time, and the same in a customer's words."""
    charging_s = max(float(done.seconds - done.heating_s - done.balancing_s), 1e-9)
    by_pack = done.pack_limited_s > 0.5 * charging_s
    if isinstance(ask.supply, Station):
        return ("pack", direct_pack_sentence(ask, done)) if by_pack else ("station", station_sentence(ask, car))
    supply = replace(ask.supply, phases=ask.phases_live or ask.supply.phases)
    found = weakest_of(ask.vehicle, supply, car, charger, ask.pack_k, ask.pilot_a)
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
