"""One charging session of a car, whole: hours, energy by place, what sets the pace, and the curve.

Path     complete the car → its row and the supply's row → one recorded session → weakest link → cautions.
Scope    the typical car at the supply's nominal voltage, and its time at that voltage's ends. A circuit's energy is
         counted at the meter, before its run of cable; a direct-current station's at its plug. A session to the full
         pack includes balancing; a quote's hours do not.
Source   balancing: common practice. Preheated means 25 °C, at which the pack takes all it ever does.
"""

from collections.abc import Mapping
from dataclasses import dataclass, replace

import numpy as np

from service.catalogue import Catalogue
from service.charging.onboard import charger_row, charger_rows, station_row
from service.charging.session import CURVE, ENDED, NO_POWER, TOO_LONG, recorded_session, sessions
from service.charging.supply import supply_ends_v
from service.errors import BadInput
from service.physics.battery import REFERENCE_K
from service.physics.rows import table
from service.physics.tables import central_draw
from service.quotes.answer import Assumption
from service.quotes.assume import complete
from service.quotes.charging_ask import SessionAsk, Station, as_found, check_supply
from service.quotes.charging_words import cautions_of, notes_of, pace
from service.quotes.label import anchored
from service.quotes.scenarios import rows_for
from service.quotes.supply import supply_assumption
from service.specs import Ask, Circuit, Journey, Start, Weather

__all__ = [
    "PLACES",
    "FastCharge",
    "SessionAnswer",
    "SessionAsk",
    "Station",
    "SupplyEnds",
    "build_session",
    "check_supply",
]

PLACES = ("cable", "charger", "overhead", "pack", "preheat", "cooling", "balancing")
COLUMNS = ("cable_j", "charger_j", "overhead_j", "pack_j", "heater_j", "chiller_j", "balancing_j")
MOST_POINTS = 160  # of a curve that leaves the house
FAST_FROM, FAST_TO = 0.1, 0.8  # what fast charging is told by
ABOUT_CHARGING = ("charg", "pack", "cell", "battery", "balanc")


@dataclass(frozen=True, slots=True)
class FastCharge:
    """Ten to eighty per cent at a station: as the pack is, and preheated."""

    seconds: float
    preheated_s: float
    preheated_k: float
    preheat_j: float  # heat that the pack takes up to get there; 0 where it is as warm


@dataclass(frozen=True, slots=True)
class SupplyEnds:
    """The same session where the supply's voltage stays at its lowest, or its highest; None where it never ends."""

    low_v: float
    high_v: float
    low_s: float | None
    high_s: float | None


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
    ends: SupplyEnds | None  # at a circuit only
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
        ends=None if isinstance(ask.supply, Station) else supply_ends(ask, car, charger, values),
        assumptions=assumptions,
        notes=notes_of(ask, done),
        cautions=cautions_of(ask, car[0], done),
    )


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
    else:
        listed.append(supply_assumption(circuit))
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


def supply_ends(ask: SessionAsk, car: np.recarray, charger: np.record, values: Mapping[str, float]) -> SupplyEnds:
    """The session at the ends of the supply's voltage; `charger` is its row at the nominal one."""
    low_v, _, high_v = supply_ends_v(ask.supply)
    fixed = values["charger_conversion"], values["charger_fixed_w"]
    rows = charger_rows(ask.vehicle, as_found(ask), *fixed, np.array([low_v, high_v]))
    rows.balancing_s, rows.balancing_w = charger.balancing_s, charger.balancing_w
    done = sessions(car, central_draw(), rows, ask.from_charge, ask.to_charge, ask.ambient_k, ask.pack_k)
    low_s, high_s = (None if row.ended in (NO_POWER, TOO_LONG) else float(row.seconds) for row in done)
    return SupplyEnds(low_v, high_v, low_s, high_s)


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
