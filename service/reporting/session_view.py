"""One charging session as a finished page: when it is done, what sets the pace, the curve, where the losses are.

Scope    the answers only; the form beside them is `form_view`.
"""

from dataclasses import dataclass
from datetime import date

import numpy as np

from service.quotes.charging_session import PLACES, SessionAnswer, SessionAsk, Station
from service.reporting.answers import MODEL_VERSION
from service.reporting.curves import drawn_plot
from service.reporting.sentences import until
from service.reporting.session_plots import charge_plot, clock_ruler, power_plot, stages
from service.reporting.view_parts import Drawing, Row, drawn
from service.reporting.words import (
    Units,
    assumed,
    bound,
    clock,
    duration,
    energy,
    joined,
    per_cent,
    plain,
    power,
    temperature,
)
from service.units import KWH_J

__all__ = ["SessionView", "session_view"]

TABLE_ROWS = 12
UNTOLD_S = 60.0  # less is no difference that is told
TOLD_J = 0.02 * KWH_J  # smaller losses are not told
LOST_IN = {  # in a sentence
    "cable": "in the cable up to the plug",
    "charger": "in the car’s charger",
    "overhead": "for the car’s own electronics and pumps",
    "pack": "inside the battery",
    "preheat": "for heating the battery",
    "cooling": "for cooling the battery",
    "balancing": "for levelling its cells",
}
NAMES = {
    "cable": "Cable up to the plug",
    "charger": "Onboard charger",
    "overhead": "Electronics and pumps",
    "pack": "Inside the battery",
    "preheat": "Heating the battery",
    "cooling": "Cooling the battery",
    "balancing": "Levelling the cells",
}


@dataclass(frozen=True, slots=True)
class SessionView:
    """Everything the page or the sheet prints."""

    title: str
    question: tuple[Row, ...]
    headline: str
    second: str
    supply: str  # the time at the ends of the supply's voltage; empty at a station
    clock: Drawing
    clock_rows: tuple[Row, ...]
    key: str
    power: Drawing
    charge: Drawing
    columns: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    losses_sentence: str
    losses: tuple[Row, ...]
    total: Row
    fast: str  # empty at a circuit
    warnings: tuple[str, ...]
    notes: tuple[str, ...]
    assumptions: tuple[Row, ...]
    made_on: str
    version: str


def session_view(found: SessionAnswer, plug_in_hour: float, units: Units, made_on: date) -> SessionView:
    """The page of one session.

    Args:
        plug_in_hour: of the day, 0 to 24.
        made_on: printed on the sheet.
    """
    headline = _headline(found, plug_in_hour, units)
    timed = stages(found)
    return SessionView(
        title=headline.rstrip("."),
        question=_question(found.ask, plug_in_hour, units),
        headline=headline,
        second=f"{bound(found.limited_by_sentence)} {_metered(found)}",
        supply=_supply(found, plug_in_hour, units),
        clock=drawn(clock_ruler(found, timed, plug_in_hour, units)),
        clock_rows=tuple(Row(name, duration(at_s), until(plug_in_hour, at_s, units)) for name, at_s in timed),
        key=_key(found, units),
        power=drawn_plot(power_plot(found)),
        charge=drawn_plot(charge_plot(found)),
        columns=("After", "Charged", "At the meter (kW)", "Into the battery (kW)", "Battery"),
        rows=_table(found, units),
        losses_sentence=_losses_sentence(found),
        losses=_losses(found),
        total=Row("At the plug" if isinstance(found.ask.supply, Station) else "At the meter", energy(found.wall_j), ""),
        fast=_fast(found, units),
        warnings=tuple(bound(each) for each in found.cautions),
        notes=tuple(bound(each) for each in found.notes),
        assumptions=tuple(
            Row(each.name[:1].upper() + each.name[1:], assumed(each.value, each.unit, units), bound(each.source))
            for each in found.assumptions
        ),
        made_on=f"{made_on.day} {made_on:%B %Y}",
        version=MODEL_VERSION,
    )


def _headline(found: SessionAnswer, start: float, units: Units) -> str:
    """How long, and by when."""
    ask = found.ask
    way = f"Charging from {plain(100 * ask.from_charge)} to {per_cent(ask.to_charge)}"
    if found.seconds <= 0:
        return f"From {plain(100 * ask.from_charge)}\u00a0% there is nothing to do: the battery counts as full."
    if found.ended == "too long":
        return f"{way} takes more than ten days here: after them it is {per_cent(found.charge)} charged."
    return (
        f"{way} takes {duration(found.seconds)}: plugged in at {clock(start, units)}, done by "
        f"{until(start, found.seconds, units)}."
    )


def _metered(found: SessionAnswer) -> str:
    """What the meter counts, and how much of it is kept."""
    where = "The station counts" if isinstance(found.ask.supply, Station) else "The meter counts"
    if not found.efficiency:
        return ""
    return f"{where} {energy(found.wall_j)}; {per_cent(found.efficiency)} of it is stored, the rest is lost as heat."


def _supply(found: SessionAnswer, start: float, units: Units) -> str:
    """How much later or earlier the supply's voltage may make it."""
    ends = found.ends
    if ends is None or found.seconds <= 0 or found.ended == "too long":
        return ""
    volts = f"{plain(found.ask.supply.volts)}\u00a0V"
    if ends.low_s is None:
        return f"At {volts}; at the {plain(ends.low_v)}\u00a0V that a supply may fall to it would not end in ten days."
    later_s, earlier_s = ends.low_s - found.seconds, found.seconds - ends.high_s
    if max(later_s, earlier_s) < UNTOLD_S:
        return f"The supply’s voltage, {plain(ends.low_v)} to {plain(ends.high_v)}\u00a0V, makes no difference to it."
    low = f"a supply at its lowest, {plain(ends.low_v)}\u00a0V, it takes {duration(ends.low_s)}, until "
    high = f"at its highest, {plain(ends.high_v)}\u00a0V, {duration(ends.high_s)}"
    same = f"; above {volts} nothing changes" if earlier_s < UNTOLD_S else f"; {high}"
    return f"That is at {volts}. With {low}{until(start, ends.low_s, units)}{same}."


def _table(found: SessionAnswer, units: Units) -> tuple[tuple[str, ...], ...]:
    """A dozen stretches, and the end."""
    curve = found.curve
    if not len(curve):
        return ()
    places = sorted({*np.linspace(0, len(curve) - 1, TABLE_ROWS).round().astype(int).tolist()})
    rows = [
        (
            duration(float(curve.start_s[k])),
            per_cent(float(curve.charge[k])),
            plain(float(curve.meter_w[k]) / 1000, 1),
            plain(float(curve.terminal_w[k]) / 1000, 1),
            temperature(float(curve.pack_k[k]), units),
        )
        for k in places
    ]
    end = (duration(found.seconds), per_cent(found.charge), "0.0", "0.0", temperature(found.pack_k, units))
    return (*rows, end)


def _key(found: SessionAnswer, units: Units) -> str:
    """What the drawing does not show."""
    if not len(found.curve):
        return ""
    warmest_k = max(float(found.curve.pack_k.max()), found.pack_k)
    went = f"The battery goes from {temperature(found.ask.pack_k, units)} to {temperature(found.pack_k, units)}"
    if warmest_k > max(found.pack_k, found.ask.pack_k) + 1:
        went += f", {temperature(warmest_k, units)} at its warmest"
    return f"{went}."


def _losses_sentence(found: SessionAnswer) -> str:
    """The losses in words, largest first."""
    lost_j = found.wall_j - found.stored_j
    told = sorted(((joule, place) for place, joule in found.losses_j.items() if joule >= TOLD_J), reverse=True)
    if not told:
        return ""
    parts = [f"{_kwh(joule)} {LOST_IN[place]}" for joule, place in told]
    return f"Of {energy(found.wall_j)}, {_kwh(lost_j)} is lost: {joined(parts)}."


def _kwh(joule: float) -> str:
    """Two decimals below one kilowatt-hour."""
    kwh = joule / KWH_J
    return f"{plain(kwh, 2)}\u00a0kWh" if kwh < 0.95 else energy(joule)


def _losses(found: SessionAnswer) -> tuple[Row, ...]:
    """Stored and lost, with their shares."""
    wall_j = max(found.wall_j, 1.0)
    rows = [Row("Stored in the battery", _kwh(found.stored_j), per_cent(found.stored_j / wall_j))]
    for place in PLACES:
        joule = found.losses_j[place]
        if joule >= TOLD_J:
            rows.append(Row(NAMES[place], _kwh(joule), f"{plain(100 * joule / wall_j, 1)}\u00a0%"))
    return tuple(rows)


def _fast(found: SessionAnswer, units: Units) -> str:
    """Ten to eighty per cent, cold against preheated."""
    fast = found.fast
    if fast is None:
        return ""
    told = f"From 10 to 80\u00a0% this station takes {duration(fast.seconds)} with the battery as it is"
    if fast.preheat_j <= 0:
        return f"{told}; it is warm enough to take all it ever does."
    return (
        f"{told}, and {duration(fast.preheated_s)} once it is preheated to {temperature(fast.preheated_k, units)}. "
        f"That heat, {_kwh(fast.preheat_j)}, has to be put in on the way there."
    )


def _question(ask: SessionAsk, start: float, units: Units) -> tuple[Row, ...]:
    """What was asked, a row for each group of the form."""
    worn = "" if ask.health >= 1 else f", battery at {per_cent(ask.health)} of its capacity"
    supply = ask.supply
    if isinstance(supply, Station):
        amps = "" if supply.current_a is None else f", {plain(supply.current_a)}\u00a0A"
        plug = f"direct-current station, {power(supply.power_w)}{amps}"
    else:
        plug = supply.name + ("" if ask.pilot_a is None else f", set to {plain(ask.pilot_a)}\u00a0A")
    return (
        Row("Car", ask.vehicle.name),
        Row("Charge", f"{plain(100 * ask.from_charge)} to {per_cent(ask.to_charge)}{worn}"),
        Row("Day", f"{temperature(ask.ambient_k, units)} outside, battery {temperature(ask.pack_k, units)}"),
        Row("Socket", f"{bound(plug)}, from {clock(start, units)}"),
        Row("Units", "miles, °F" if units is Units.US else "kilometres, °C"),
    )
