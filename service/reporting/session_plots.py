"""Drawings of a charging session: the clock ruler, power and charge over the time from plugging in.

Scope    from the recorded curve to `Ruler` and `Plot`; words of the page are `session_view`'s.
"""

from collections.abc import Sequence

import numpy as np

from service.quotes.charging_session import SessionAnswer, Station
from service.reporting.charts import HOUR_STEPS
from service.reporting.curves import Axis, Line, Plot
from service.reporting.ruler import ACCENT, INK, Label, Ruler
from service.reporting.sentences import full_at
from service.reporting.words import Units, clock, days_passed, duration, per_cent, plain

__all__ = ["charge_plot", "clock_ruler", "power_plot", "stages", "strokes", "thinned"]

HOUR_S, MINUTE_S = 3600.0, 60.0
SHORT_S = 2 * HOUR_S  # below it the curve is drawn over minutes
MINUTE_STEPS = ((1 / 12, 1 / 60), (1 / 6, 1 / 30))
HEADROOM = 1.08
POWER_HEADROOM = 1.2  # room for a label over the highest line
ALIKE = 0.97  # lines nearer than that are drawn as one
JUMP = 0.1  # of a power: more than that between two stretches is no gliding
SAME = 2e-3  # powers that differ less are one stroke


def stages(found: SessionAnswer) -> list[tuple[str, float]]:
    """What happens when, s from plugging in, in order."""
    before = [("battery heated", found.heating_s)] if found.heating_s > 0 else []
    full_s = found.seconds - found.balancing_s
    if found.balancing_s > 0:
        return [*before, ("full", full_s), ("cells level", found.seconds)]
    return [*before, (f"{plain(100 * found.charge)}\u00a0% charged", full_s)]


def clock_ruler(found: SessionAnswer, timed: Sequence[tuple[str, float]], start: float, units: Units) -> Ruler:
    """The ruler of hours: one session, no span."""
    last_h = max(found.seconds, MINUTE_S) / HOUR_S
    *before, (last, last_s) = timed
    labels = [Label(last_s / HOUR_S, clock(full_at(start, last_s), units), last, last, "middle")]
    labels.append(Label(0.0, clock(start, units), "plugged in"))
    labels += [Label(at_s / HOUR_S, clock(full_at(start, at_s), units), name) for name, at_s in before]

    def numeral(hours: float) -> tuple[str, str]:
        days = days_passed(start + hours)
        return clock(start + hours, units), f"day {days + 1}" if days else ""

    return Ruler(
        id="clock",
        title="Time of day while charging",
        description="; ".join(f"{name} after {duration(at_s)}" for name, at_s in timed),
        top=last_h * HEADROOM,
        low=None,
        middle=last_h,
        high=None,
        labels=tuple(labels),
        numeral=numeral,
        steps=(*MINUTE_STEPS, *HOUR_STEPS),
        numeral_em=5.0,
    )


def _time(found: SessionAnswer) -> tuple[float, Axis]:
    """Seconds in one unit of the time axis, and the axis."""
    scale, unit = (MINUTE_S, "min") if found.seconds < SHORT_S else (HOUR_S, "h")
    return scale, Axis(0.0, max(found.seconds, MINUTE_S) / scale * 1.02, unit)


def power_plot(found: SessionAnswer) -> Plot:
    """Power over the time from plugging in."""
    curve, (scale, axis) = found.curve, _time(found)
    most_kw = float(curve.meter_w.max()) / 1000 if len(curve) else 1.0
    place = "at the plug" if isinstance(found.ask.supply, Station) else "at the meter"
    body = len(curve) - (1 if found.balancing_s > 0 else 0)  # labels stand at what comes before the balancing
    meter, tail = (strokes(curve[part], "meter_w", scale) for part in (slice(0, body), slice(body, None)))
    alike = len(curve) and curve.terminal_w.max() > ALIKE * curve.meter_w.max()
    lines = [Line(meter, f"{place}, and into the battery" if alike else place, ACCENT, 2.5)]
    if not alike:
        into = strokes(curve[:body], "terminal_w", scale)
        lines.append(Line(into, "into the battery", INK, 1.5))
        lines.append(Line((*into[-1:], *((at, 0.0) for at, _ in into[-1:])), "", INK, 1.5))
    last = (*meter[-1:], *tail)
    lines.append(Line((*last, *((at, 0.0) for at, _ in last[-1:])), "", ACCENT, 2.5))
    return Plot(
        id="power",
        title=f"Power in kW against the time from plugging in, in {'minutes' if axis.unit == 'min' else 'hours'}",
        description=f"At most {plain(most_kw, 1)} kW {place}; it ends after {duration(found.seconds)}.",
        x=axis,
        y=Axis(0.0, POWER_HEADROOM * most_kw, "power, kW"),
        lines=tuple(lines),
        stretch=0.7,
        widest="100",
    )


def charge_plot(found: SessionAnswer) -> Plot:
    """Charge over the same time."""
    curve, (scale, axis) = found.curve, _time(found)
    points = [
        (float(at_s) / scale, 100 * float(charge)) for at_s, charge in zip(curve.start_s, curve.charge, strict=True)
    ]
    points.append((found.seconds / scale, 100 * found.charge))
    return Plot(
        id="charge",
        title="Charge of the battery in per cent against the same time",
        description=f"From {per_cent(found.ask.from_charge)} to {per_cent(found.charge)}.",
        x=axis,
        y=Axis(0.0, 100.0 * HEADROOM, "charged, %"),
        lines=(Line(tuple(points), "", ACCENT, 2.5),),
        stretch=0.5,
        widest="100",
    )


def strokes(curve: np.recarray, name: str, scale: float) -> tuple[tuple[float, float], ...]:
    """Stretches of steady power as a line: through their middles where power glides, along them where it jumps."""
    points: list[tuple[float, float]] = []
    watts, last = curve[name], len(curve) - 1
    for k, value in enumerate(watts):
        begin, end = float(curve.start_s[k]), float(curve.start_s[k] + curve.seconds[k])
        around = [watts[other] for other in (k - 1, k + 1) if 0 <= other <= last]
        jumps = any(abs(other - value) > JUMP * max(value, other, 1.0) for other in around)
        for at_s in (begin, end) if jumps or k in (0, last) else ((begin + end) / 2,):
            points.append((at_s / scale, float(value) / 1000))
    return tuple(thinned(points))


def thinned(points: list[tuple[float, float]]) -> list[tuple[float, float]]:
    """Without points between two of the same height."""
    kept = points[:1]
    for k in range(1, len(points) - 1):
        here, after = points[k], points[k + 1]
        level = max(abs(kept[-1][1]), 1e-9)
        if abs(here[1] - kept[-1][1]) > SAME * level or abs(after[1] - here[1]) > SAME * level:
            kept.append(here)
    return kept + points[1:][-1:]
