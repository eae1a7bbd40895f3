"""The electric side as a finished page: what it pulls, how fast it goes, its gear, other packs, standing ready.

Scope    the answers only; the form beside them is `form_view`.
"""

from dataclasses import dataclass
from datetime import date

import numpy as np

from service.quotes.electric_side import layout_of
from service.quotes.envelope import Envelope
from service.quotes.pack_size import PackSize, PackSizes
from service.quotes.standby import Standby
from service.reporting.answers import MODEL_VERSION
from service.reporting.assumption_rows import assumption_rows
from service.reporting.curves import Axis, Dot, Line, Plot, drawn_plot
from service.reporting.envelope_sentences import ENDS, LAYOUTS, headline, journey_sentence, second
from service.reporting.gear_view import GearView, gear_view
from service.reporting.ruler import ACCENT, INK
from service.reporting.standby_sentences import standby_sentences
from service.reporting.view_parts import Drawing, Row, parked_words
from service.reporting.views import outfit_words
from service.reporting.words import (
    Units,
    bound,
    consumption,
    distance,
    duration,
    energy,
    mass,
    per_cent,
    plain,
    speed,
    speed_number,
    speed_unit,
    temperature,
)
from service.specs import Ask, Climate
from service.units import KM_H, POUND_FORCE_N

__all__ = ["EnvelopeView", "envelope_view", "question_rows"]

HEADROOM = 1.08
TOLD_KM_H = 20  # every so much a row of the tables
HEAVIEST_SHARE = 0.1  # of a journey's time: the largest dot


@dataclass(frozen=True, slots=True)
class PackRow:
    """One size of pack."""

    cells: tuple[str, ...]
    own: bool


@dataclass(frozen=True, slots=True)
class EnvelopeView:
    """Everything the page or the sheet prints."""

    title: str
    question: tuple[Row, ...]
    headline: str
    second: str
    journey: str
    drawing: Drawing
    columns: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    hills: tuple[Row, ...]
    gear: GearView | None
    packs: tuple[PackRow, ...]
    pack_notes: tuple[str, ...]
    standby: tuple[str, ...]
    notes: tuple[str, ...]
    cautions: tuple[str, ...]
    assumptions: tuple[Row, ...]
    made_on: str
    version: str


def envelope_view(
    envelope: Envelope, packs: PackSizes, standby: Standby, question: tuple[Row, ...], units: Units, made_on: date
) -> EnvelopeView:
    """The page of one car's electric side.

    Args:
        question: what was asked, a row for each group of the form.
        made_on: printed on the sheet.
    """
    told = headline(envelope, units)
    listed = {each.name: each for each in (*envelope.assumptions, *packs.assumptions, *standby.assumptions)}
    return EnvelopeView(
        title=told.rstrip("."),
        question=question,
        headline=told,
        second=second(envelope, units),
        journey=journey_sentence(envelope, units),
        drawing=drawn_plot(_pull(envelope, units)),
        columns=("Speed", f"For ten seconds ({_force_unit(units)})", f"Held ({_force_unit(units)})", "Level road asks"),
        rows=_pull_rows(envelope, units),
        hills=_hills(envelope, units),
        gear=gear_view(envelope, units) if envelope.gears else None,
        packs=tuple(_pack(each, units) for each in packs.sizes),
        pack_notes=tuple(bound(note) for note in packs.notes),
        standby=standby_sentences(standby),
        notes=tuple(bound(note) for note in dict.fromkeys((*envelope.notes, *standby.notes))),
        cautions=tuple(bound(each) for each in standby.cautions),
        assumptions=assumption_rows(listed.values(), units),
        made_on=f"{made_on.day} {made_on:%B %Y}",
        version=MODEL_VERSION,
    )


def _force_unit(units: Units) -> str:
    return "lbf" if units is Units.US else "N"


def _force(newtons: float, units: Units) -> float:
    return newtons / POUND_FORCE_N if units is Units.US else newtons


def _pull(envelope: Envelope, units: Units) -> Plot:
    """Force against speed, with road load and the journey's points."""
    speeds = [speed_number(float(each), units) for each in envelope.moment.speed_m_s]

    def line(forces: np.ndarray, label: str, **look) -> Line:
        shown = _to_its_end(forces)
        return Line(tuple(zip(speeds, (_force(float(each), units) for each in shown), strict=False)), label, **look)

    most = [float(envelope.moment.force_n.max()), *(point.force_n for point in envelope.points)]
    beyond = [_beyond(envelope, point.speed_m_s, point.force_n) for point in envelope.points]
    dots = tuple(
        Dot(speed_number(point.speed_m_s, units), _force(point.force_n, units), point.share / HEAVIEST_SHARE, out)
        for point, out in zip(envelope.points, beyond, strict=True)
    )
    top = envelope.top
    return Plot(
        id="pull",
        title=f"Force at the wheels in {_force_unit(units)} against speed in {speed_unit(units)}, on electricity alone",
        description=f"Held on the level up to {speed(top.speed_m_s, units)}, where {ENDS[top.limited_by]}.",
        x=Axis(0.0, max([speeds[-1], *(dot.x for dot in dots)]), speed_unit(units)),
        y=Axis(0.0, HEADROOM * _force(max(most), units), f"force at the wheels, {_force_unit(units)}"),
        lines=(
            line(envelope.moment.force_n, "for ten seconds", colour=ACCENT, width=2.5),
            line(envelope.held.force_n, "for as long as you like", colour=ACCENT, width=1.5, dash="6 3"),
            line(envelope.road_load_n, "a level road asks for this", colour=INK, width=1.5),
        ),
        dots=dots,
    )


def _to_its_end(forces: np.ndarray) -> np.ndarray:
    """Forces up to the first of the zeros at the end, where a curve comes down to its ground."""
    pulling = np.flatnonzero(forces > 0)
    return forces[: pulling[-1] + 2] if len(pulling) else forces[:1]


def _beyond(envelope: Envelope, speed_m_s: float, force_n: float) -> bool:
    """True where a point lies over the curve of ten seconds; beyond its last speed nobody knows."""
    speeds, forces = envelope.moment.speed_m_s, envelope.moment.force_n
    place = min(int(speeds.searchsorted(speed_m_s)), len(speeds) - 1)
    return bool(force_n > forces[place])


def _pull_rows(envelope: Envelope, units: Units) -> tuple[tuple[str, ...], ...]:
    """The curves as a table, at round metric speeds."""
    rows = []
    for k, each in enumerate(envelope.moment.speed_m_s):
        km_h = float(each) / KM_H
        if abs(km_h / TOLD_KM_H - round(km_h / TOLD_KM_H)) > 1e-6:
            continue
        forces = (envelope.moment.force_n[k], envelope.held.force_n[k], envelope.road_load_n[k])
        rows.append((speed(float(each), units), *(plain(_force(float(force), units)) for force in forces)))
    return tuple(rows)


def _hills(envelope: Envelope, units: Units) -> tuple[Row, ...]:
    """Top speed by grade, and what ends it."""
    return tuple(
        Row(
            f"{plain(100 * each.grade)}\u00a0% up" if each.grade else "Level",
            speed(each.speed_m_s, units),
            ENDS[each.limited_by],
        )
        for each in envelope.top_speeds
    )


def _pack(each: PackSize, units: Units) -> PackRow:
    return PackRow(
        cells=(
            energy(each.usable_j),
            mass(each.pack_kg, units),
            distance(each.range_m, units),
            consumption(each.battery_j_per_m, units),
            mass(each.payload_left_kg, units),
            duration(each.charging_s) if each.charging_s is not None else "no inlet",
        ),
        own=each.own,
    )


def question_rows(ask: Ask, journey_name: str, units: Units) -> tuple[Row, ...]:
    """What was asked, a row for each group of the form."""
    load = f", {mass(ask.payload_kg, units)} load" if ask.payload_kg else ""
    climate = "heating and cooling off"
    if ask.cabin.climate is Climate.AUTO:
        climate = f"kept at {temperature(ask.cabin.set_point_k, units)}"
    parked = parked_words(ask.start)
    ready = ", cabin ready on the plug" if ask.start.preconditioned else ""
    return (
        Row("Car", f"{ask.vehicle.name}, {LAYOUTS[layout_of(ask.vehicle)]}{load}{outfit_words(ask.outfit, units)}"),
        Row("Journey", journey_name),
        Row("Day", f"{temperature(ask.weather.ambient_k, units)}, {ask.weather.surface} road"),
        Row("Cabin", climate),
        Row("Start", f"{per_cent(ask.start.state_of_charge)} charged, {parked}{ready}"),
        Row("Socket", bound(ask.circuit.name) if ask.circuit else "none"),
        Row("Units", "miles, °F" if units is Units.US else "kilometres, °C"),
    )
