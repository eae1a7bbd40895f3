"""Ruler lines of routes, one under the other on one scale: how far each vehicle gets, and how far it has to get.

Scope    drawing only; words and numbers arrive finished. A line is the ruler's upper edge alone; the graduation, which
         all lines share, is drawn once above them.
Marks    thin accent line and thick span as on every ruler: nine days in ten reach the span's start, half the days its
         end. A tall stroke with its flag is what is needed; a dashed line is what is missing to it.
"""

from collections.abc import Sequence
from dataclasses import dataclass

from service.reporting import svg
from service.reporting.charts import POLE_PX, Graduation, graduate, text_width_px
from service.reporting.ruler import ACCENT, FAINT, GREY, INK, PAPER, Scale, Size

__all__ = ["RouteMark", "draw_line", "draw_scale", "scale_top"]

HEADROOM = 1.06  # the scale goes a little beyond the last thing shown on it
FAR_TIMES = 2.2  # a reach beyond so many times what the longest route needs leaves the drawing: it is told in words
SPAN_PX = 12.0  # height of the span: lines are closer than a single ruler
FOOT = 3.0  # of the stroke below the line
STROKE = 2.5
TIP = 0.72  # height of the flag, in rows of flags
BARE_TIP = 6.0  # of a stroke without a flag
NUMERAL_EM = 4.0  # room for a numeral, in its own size


@dataclass(frozen=True, slots=True)
class RouteMark:
    """One line. Lengths in the reader's units."""

    low: float
    middle: float
    needed: float
    flag: str  # "" where the line above has told it
    label: str  # for those who do not see it


def scale_top(marks: Sequence[RouteMark]) -> float:
    """End of the scale that serves all lines."""
    needed, reach = max(mark.needed for mark in marks), max(mark.middle for mark in marks)
    return max(needed, min(reach, FAR_TIMES * needed)) * HEADROOM


def draw_scale(top: float, unit: str, size: Size) -> str:
    """The graduation, numerals over it."""
    graduation = _graduation(top, size)
    scale = Scale(size, graduation.top)
    edge = size.words * 1.3 + 8
    numerals = graduation.numerals()
    long = [scale.x(value) for value in numerals]
    short = [scale.x(value) for value in graduation.strokes()]
    parts = [
        svg.path(svg.strokes(short, edge, -4), stroke=FAINT),
        svg.path(svg.strokes(long, edge, -8), stroke=INK),
        svg.line(scale.x(0), edge, scale.x(graduation.top), edge, INK),
    ]
    for value in numerals:
        text = f"{value:g}" + (f" {unit}" if value == 0 else "")
        half = text_width_px(text, size.words) / 2
        x = min(max(scale.x(value), half), size.width - half)
        parts.append(svg.text(text, x, size.words, size.words, "middle", GREY))
    label = f"Scale of the lines below, 0 to {graduation.top:g} {unit}"
    return svg.small_figure(f"ruler {size.name}", label, size.width, edge + 1, parts)


def draw_line(mark: RouteMark, top: float, size: Size) -> str:
    """One line."""
    scale = Scale(size, _graduation(top, size).top)
    tip = size.row * TIP if mark.flag else BARE_TIP
    edge = tip + SPAN_PX + 1
    upper = edge - SPAN_PX
    low, middle, needed = (min(scale.x(value), size.width) for value in (mark.low, mark.middle, mark.needed))
    parts = [
        svg.line(scale.x(0), edge, size.width - size.margin, edge, FAINT),
        svg.rectangle(scale.x(0), edge - SPAN_PX / 2 - 1.5, low - scale.x(0), 3, ACCENT),
        svg.rectangle(low, upper, max(middle - low, 1.0), SPAN_PX, ACCENT),
        svg.line(middle, upper, middle, edge, INK, 2),
    ]
    if mark.needed > mark.middle:
        y = edge - SPAN_PX / 2
        parts.append(svg.line(middle + 3, y, needed - 2, y, INK, 1.5, "2 3"))
    parts += [
        svg.line(needed, 2, needed, edge + FOOT, PAPER, STROKE + 3),
        svg.line(needed, 2, needed, edge + FOOT, INK, STROKE),
    ]
    parts += [_flag(mark.flag, needed, tip - 3, size)] if mark.flag else []
    return svg.small_figure(f"ruler {size.name}", mark.label, size.width, edge + FOOT + 1, parts)


def _flag(words: str, x: float, baseline: float, size: Size) -> str:
    """The label beside its stroke, on the side that has room."""
    if x + POLE_PX + text_width_px(words, size.words) <= size.width:
        return svg.text(words, x + POLE_PX, baseline, size.words, "start", INK)
    return svg.text(words, x - POLE_PX, baseline, size.words, "end", INK)


def _graduation(top: float, size: Size) -> Graduation:
    return graduate(top, size.width - 2 * size.margin, NUMERAL_EM * size.words)
