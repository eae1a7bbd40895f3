"""The planetary gear as a plot and a table: the generator motor's speed at any road speed, engine still and turning."""

from dataclasses import dataclass

from service.quotes.envelope import Envelope, GearRow
from service.reporting.curves import Axis, Line, Plot, drawn_plot
from service.reporting.ruler import ACCENT, GREY, INK
from service.reporting.view_parts import Drawing
from service.reporting.words import Units, plain, speed, speed_number, speed_unit
from service.units import KM_H, RPM

__all__ = ["GearView", "gear_view"]

TOLD_KM_H = 20  # every so much a row of the table
GEAR_ROOM = 1.2  # of the generator's highest speed, both ways


@dataclass(frozen=True, slots=True)
class GearView:
    """The planetary gear."""

    sentence: str
    drawing: Drawing
    columns: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]


def gear_view(envelope: Envelope, units: Units) -> GearView:
    """Generator-motor speed against road speed, a line for each engine speed."""
    split = envelope.ask.vehicle.power_split
    limit_rpm = split.generator_max_rad_s / RPM
    engines = sorted({row.engine_rad_s for row in envelope.gears})
    by_engine = {engine: [row for row in envelope.gears if row.engine_rad_s == engine] for engine in engines}
    roads = [row.speed_m_s for row in by_engine[engines[0]]]
    last = speed_number(roads[-1], units)
    lines = [
        Line(
            tuple((speed_number(row.speed_m_s, units), row.sun_rad_s / RPM) for row in rows),
            _turns(engine / RPM) if engine else "engine still",
            colour=INK if engine else ACCENT,
            width=1.25 if engine else 2.5,
        )
        for engine, rows in by_engine.items()
    ]
    for sign in (1, -1):
        ends = ((0.0, sign * limit_rpm), (last, sign * limit_rpm))
        lines.append(Line(ends, "its limit" if sign > 0 else "", colour=GREY, dash="2 3"))
    told = [k for k, each in enumerate(roads) if round(each / KM_H) % TOLD_KM_H == 0]
    sentence = (
        f"With the engine still the generator motor turns backwards, {plain(split.ring_teeth / split.sun_teeth, 1)} "
        f"times as fast as the ring; at {speed(envelope.gear_limit_m_s, units)} it is at its {_turns(limit_rpm)} turns "
        "a minute. Faster than that the engine has to turn, with or without fuel. A line for each speed of the engine, "
        "in turns a minute:"
    )
    return GearView(
        sentence=sentence,
        drawing=drawn_plot(
            Plot(
                id="gear",
                title=f"Turns a minute of the generator motor against road speed in {speed_unit(units)}",
                description=f"A line for each engine speed; the generator motor may turn {_turns(limit_rpm)} a minute.",
                x=Axis(0.0, last, speed_unit(units)),
                y=Axis(-GEAR_ROOM * limit_rpm, GEAR_ROOM * limit_rpm, "generator motor, turns a minute"),
                lines=tuple(lines),
                stretch=1.1,
            )
        ),
        columns=("Road speed", "Ring", *(_engine_words(engine) for engine in engines)),
        rows=tuple(
            (
                speed(roads[k], units),
                _turns(by_engine[engines[0]][k].ring_rad_s / RPM),
                *(_generator(by_engine[engine][k]) for engine in engines),
            )
            for k in told
        ),
    )


def _engine_words(engine_rad_s: float) -> str:
    return f"engine at {_turns(engine_rad_s / RPM)}" if engine_rad_s else "engine still"


def _generator(row: GearRow) -> str:
    """Turns a minute, in brackets where it may not."""
    told = _turns(row.sun_rad_s / RPM)
    return told if row.within else f"({told})"


def _turns(rpm: float) -> str:
    """Whole turns, thousands apart.

    >>> _turns(-4433.5)
    '−4\\xa0434'
    """
    return f"{rpm:,.0f}".replace(",", "\u00a0").replace("-", "\u2212")
