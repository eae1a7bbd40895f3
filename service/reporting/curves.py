"""Curves over speed: one plot of lines and dots with direct labels, as SVG in the manner of the ruler.

Scope    drawing only; values arrive in the reader's units. Lines are cut at the edges of the plot. Every plot has a
         title, a description and, on the page, a table of the same figures beside it.
Labels   stand beside their own line where they meet no other line, dot or label; where there is no such place, where
         they meet fewest.
Colours  ink, one accent, greys; lines differ by weight and dash as well.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from service.reporting import svg
from service.reporting.charts import graduate, text_width_px
from service.reporting.ruler import FAINT, GREY, INK, NARROW, PAPER, WIDE, Size
from service.reporting.view_parts import Drawing

__all__ = ["Axis", "Dot", "Line", "Plot", "drawn_plot"]

HEIGHT_PX = {WIDE.name: 300.0, NARROW.name: 236.0}
TICK_PX = 44.0  # least distance between two numerals up the side
ASIDE_PX = 7.0  # between a numeral and its hairline
HAIR = "#dfe2e5"
PLACES = 30  # along a line, where its label is tried
GRAIN_PX = 6.0  # of lines, when labels look for room
LIFTS_PX = (5.0, 14.0)  # between a line and the foot of its label
STROKE_COUNTS = 4  # times a dot, where a label would lie over it
DOT_LEAST_PX, DOT_MOST_PX = 1.3, 8.0

Point = tuple[float, float]
Box = tuple[float, float, float, float]


@dataclass(frozen=True, slots=True)
class Axis:
    """One direction: its ends, and the unit or, up the side, what it measures."""

    low: float
    high: float
    unit: str


@dataclass(frozen=True, slots=True)
class Line:
    """A polyline with its label."""

    points: tuple[Point, ...]
    label: str
    colour: str = INK
    width: float = 1.5
    dash: str = ""


@dataclass(frozen=True, slots=True)
class Dot:
    """A point of a weight; hollow where it lies beyond what is there."""

    x: float
    y: float
    weight: float  # 0 to 1: its area
    hollow: bool = False


@dataclass(frozen=True, slots=True)
class Plot:
    """What a plot says."""

    id: str
    title: str
    description: str
    x: Axis
    y: Axis
    lines: tuple[Line, ...]
    dots: tuple[Dot, ...] = ()
    stretch: float = 1.0  # of the usual height
    widest: str = ""  # numeral that the side keeps room for, so that plots below each other line up


@dataclass(frozen=True, slots=True)
class Frame:
    """From values to px."""

    plot: Plot
    left: float
    right: float
    top: float
    foot: float

    def at(self, point: Point) -> Point:
        """Where a point lies on the drawing."""
        x, y = self.plot.x, self.plot.y
        across = (point[0] - x.low) / (x.high - x.low)
        up = (point[1] - y.low) / (y.high - y.low)
        return self.left + across * (self.right - self.left), self.foot - up * (self.foot - self.top)


def drawn_plot(plot: Plot) -> Drawing:
    """The plot in both widths; the style sheet shows one."""
    return Drawing(_draw(plot, WIDE), _draw(plot, NARROW))


def _draw(plot: Plot, size: Size) -> str:
    height = HEIGHT_PX[size.name] * plot.stretch
    ticks = _ticks(plot.y, height, TICK_PX)
    numerals = [plot.widest, *(_numeral(value) for value in ticks)]
    left = max(text_width_px(words, size.words) for words in numerals) + ASIDE_PX
    frame = Frame(plot, left, size.width - size.margin, size.words * 1.7, height - size.words * 1.6)
    parts = _side(frame, size) + _foot(frame, size)
    parts += [_dot(dot, frame) for dot in plot.dots]
    cut = [[frame.at(point) for point in piece] for line in plot.lines for piece in _cut(line.points, plot)]
    for line in plot.lines:
        parts += [_path([frame.at(point) for point in piece], line) for piece in _cut(line.points, plot)]
    if plot.y.low < 0 < plot.y.high:
        cut.append([frame.at((plot.x.low, 0.0)), frame.at((plot.x.high, 0.0))])
    parts += _labels(frame, size, cut)
    return svg.figure(
        f"{plot.id}-{size.name}", f"ruler {size.name}", plot.title, plot.description, size.width, height, parts
    )


def _ticks(axis: Axis, room_px: float, least_px: float) -> list[float]:
    """Round values within an axis, zero among them where it lies within."""
    step = graduate(axis.high - axis.low, room_px, least_px).step
    return [k * step for k in range(math.ceil(axis.low / step - 1e-9), int(axis.high / step + 1e-9) + 1)]


def _side(frame: Frame, size: Size) -> list[str]:
    """Hairlines across with their numerals beside them, and the unit over these."""
    plot, parts = frame.plot, [svg.text(frame.plot.y.unit, 0, size.words, size.words, "start", GREY)]
    for value in _ticks(plot.y, frame.foot - frame.top, TICK_PX):
        y = frame.at((plot.x.low, value))[1]
        zero = value == 0 and plot.y.low < 0
        parts.append(svg.line(frame.left, y, frame.right, y, INK if zero else HAIR))
        baseline = y + 0.35 * size.words
        parts.append(svg.text(_numeral(value), frame.left - ASIDE_PX, baseline, size.words, "end", GREY))
    return parts


def _numeral(value: float) -> str:
    """Thousands apart, decimals only where the scale has them, with the real minus sign."""
    whole = abs(value - round(value)) < 1e-9
    return (f"{value:,.0f}" if whole else f"{value:.6g}").replace(",", "\u00a0").replace("-", "\u2212")


def _foot(frame: Frame, size: Size) -> list[str]:
    """The scale below, with numerals."""
    plot = frame.plot
    parts = [svg.line(frame.left, frame.foot, frame.right, frame.foot, INK, 1.25)]
    ticks = _ticks(plot.x, frame.right - frame.left, 3.4 * size.words)
    for value in ticks:
        x = frame.at((value, plot.y.low))[0]
        parts.append(svg.line(x, frame.foot, x, frame.foot + 5, INK))
        words = f"{value:g}" + (f" {plot.x.unit}" if value == ticks[0] else "")
        half = text_width_px(words, size.words) / 2
        place = min(max(x, half), size.width - half)
        parts.append(svg.text(words, place, frame.foot + size.words * 1.35, size.words, "middle", GREY))
    return parts


def _dot(dot: Dot, frame: Frame) -> str:
    x, y = frame.at((dot.x, dot.y))
    radius = max(DOT_MOST_PX * math.sqrt(min(dot.weight, 1.0)), DOT_LEAST_PX)
    paint = f'fill="{PAPER}" stroke="{INK}"' if dot.hollow else f'fill="{FAINT}"'
    return f'<circle cx="{svg.place(x)}" cy="{svg.place(y)}" r="{svg.place(radius)}" {paint}/>'


def _cut(points: Sequence[Point], plot: Plot) -> list[list[Point]]:
    """The parts of a polyline between the lower and the upper edge of the plot."""
    low, high = plot.y.low, plot.y.high
    pieces: list[list[Point]] = [[]]
    for start, end in pairwise(points):
        inside = _clipped(start, end, low, high)
        if inside is None:
            pieces.append([])
            continue
        if not pieces[-1] or pieces[-1][-1] != inside[0]:
            pieces.append([inside[0]])
        pieces[-1].append(inside[1])
    return [piece for piece in pieces if len(piece) > 1]


def _clipped(start: Point, end: Point, low: float, high: float) -> tuple[Point, Point] | None:
    """What of a straight stroke lies between two heights."""
    if max(start[1], end[1]) < low or min(start[1], end[1]) > high:
        return None

    def held(this: Point, other: Point) -> Point:
        y = min(max(this[1], low), high)
        if y == this[1]:
            return this
        return this[0] + (y - this[1]) / (other[1] - this[1]) * (other[0] - this[0]), y

    return held(start, end), held(end, start)


def _path(points: Sequence[Point], line: Line) -> str:
    commands = "M" + "L".join(f"{svg.place(x)} {svg.place(y)}" for x, y in points)
    look = {"stroke": line.colour, "stroke_width": f"{line.width:g}", "stroke_linejoin": "round"}
    return svg.path(commands, **look, **({"stroke_dasharray": line.dash} if line.dash else {}))


def _labels(frame: Frame, size: Size, strokes: Sequence[Sequence[Point]]) -> list[str]:
    """Each line's label at its best place."""
    plot = frame.plot
    on_strokes = np.array([point for stroke in strokes for point in _dense(stroke)] or [(0.0, 0.0)])
    on_dots = np.array([frame.at((dot.x, dot.y)) for dot in plot.dots]).reshape(-1, 2)
    taken: list[Box] = []
    parts = []
    for line in plot.lines:
        own = [frame.at(point) for piece in _cut(line.points, plot) for point in piece]
        boxes = _places(own, text_width_px(line.label, size.words), size, frame) if line.label and len(own) > 1 else []
        if not boxes:
            continue
        box = _least_crowded(boxes, on_strokes, on_dots, taken)
        taken.append(box)
        parts.append(svg.text(line.label, box[0], box[3] - 0.22 * size.words, size.words, "start", line.colour))
    return parts


def _dense(stroke: Sequence[Point]) -> list[Point]:
    """Points along a stroke, close enough that no label slips between two."""
    points = []
    for (x1, y1), (x2, y2) in pairwise(stroke):
        count = max(int(math.hypot(x2 - x1, y2 - y1) / GRAIN_PX), 1)
        points += [(x1 + (x2 - x1) * k / count, y1 + (y2 - y1) * k / count) for k in range(count + 1)]
    return points


def _places(own: Sequence[Point], width: float, size: Size, frame: Frame) -> list[Box]:
    """Boxes over, under and beside points of a line that lie within the plot, nearest its right end first."""
    dense = _dense(own)
    tall = size.words
    boxes = []
    for lift in LIFTS_PX:
        for x, y in dense[:: max(len(dense) // PLACES, 1)][::-1]:
            for left in (x + lift, x - width - lift, x - width / 2):
                for top in (y - lift - tall, y + lift):
                    across = frame.left <= left and left + width <= frame.right
                    if across and top >= 0 and top + tall <= frame.foot - 3:
                        boxes.append((left, top, left + width, top + tall))
    return boxes


def _least_crowded(boxes: Sequence[Box], strokes: np.ndarray, dots: np.ndarray, taken: Sequence[Box]) -> Box:
    """The first box that meets nothing, or the one that meets least; another label counts most."""
    best, least = boxes[0], math.inf
    for box in boxes:
        met = STROKE_COUNTS * _within(strokes, box) + _within(dots, box)
        crowd = met + 1000 * sum(_overlap(box, other) for other in taken)
        if crowd == 0:
            return box
        if crowd < least:
            best, least = box, crowd
    return best


def _within(points: np.ndarray, box: Box) -> int:
    """How many points, shape (n, 2), a box covers, a little room around it."""
    x, y = points[:, 0], points[:, 1]
    return int(np.count_nonzero((x > box[0] - 2) & (x < box[2] + 2) & (y > box[1] - 1) & (y < box[3] + 1)))


def _overlap(box: Box, other: Box) -> bool:
    return box[0] < other[2] + 4 and other[0] < box[2] + 4 and box[1] < other[3] and other[1] < box[3]
