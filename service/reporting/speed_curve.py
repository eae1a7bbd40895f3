"""The figure of a speed table: range against temperature, a line for each speed, as SVG.

Scope    drawing and the geometry of its labels; words and numbers arrive finished. Lines differ by dash and width, so a
         black-and-white print loses nothing; each is named at its end, and the table of the same figures stands beside.
"""

from collections.abc import Sequence
from dataclasses import dataclass

from service.reporting import svg
from service.reporting.charts import graduate, text_width_px
from service.reporting.ruler import ACCENT, FAINT, GREY, INK, Size

__all__ = ["Curve", "Line", "draw_curve", "kept_apart"]

HEIGHTS = {"wide": 300.0, "narrow": 268.0}
STYLES = (
    ("", 2.5),
    ("9 3", 2.0),
    ("", 1.25),
    ("5 3", 1.5),
    ("1.5 3", 2.0),
    ("12 3 2 3", 1.5),
    ("3 6", 1.5),
    ("", 0.75),
)
HAIR = "#c9cdd1"
NUMERAL_PX = 34.0  # between two numerals of the distance
LABEL_PX = 1.25  # of the type's size, between two labels
GAP = 6.0


@dataclass(frozen=True, slots=True)
class Line:
    """One speed: its name, and a value at each temperature; None where the speed cannot be held."""

    name: str
    values: tuple[float | None, ...]


@dataclass(frozen=True, slots=True)
class Curve:
    """What the figure says. Lines from the farthest to the shortest; temperatures rise."""

    title: str
    description: str
    temperatures: tuple[float, ...]
    temperature_words: tuple[str, ...]
    unit: str
    lines: tuple[Line, ...]


@dataclass(frozen=True, slots=True)
class _Frame:
    """From temperatures and distances to px."""

    left: float
    right: float
    top: float
    bottom: float
    coldest: float
    warmest: float
    most: float

    def x(self, temperature: float) -> float:
        """Where a temperature lies; a single one in the middle."""
        span = self.warmest - self.coldest
        share = (temperature - self.coldest) / span if span else 0.5
        return self.left + share * (self.right - self.left)

    def y(self, value: float) -> float:
        """Where a distance lies."""
        return self.bottom - value / self.most * (self.bottom - self.top)


def draw_curve(curve: Curve, size: Size) -> str:
    """The figure as an SVG element."""
    height = HEIGHTS[size.name]
    most = max((value for line in curve.lines for value in line.values if value is not None), default=1.0)
    numeral_room = text_width_px(f"{most:.0f}00", size.words)
    label_room = max(text_width_px(line.name, size.words) for line in curve.lines)
    top, bottom = 1.9 * size.words, height - 1.9 * size.words
    graduation = graduate(most, bottom - top, NUMERAL_PX)
    first, last = curve.temperatures[0], curve.temperatures[-1]
    frame = _Frame(numeral_room, size.width - label_room - 3 * GAP, top, bottom, first, last, graduation.top)
    parts = [svg.text(curve.unit, numeral_room - GAP, 0.9 * size.words, size.words, "end", GREY)]
    for value in graduation.numerals():
        y = frame.y(value)
        parts.append(svg.line(frame.left, y, frame.right, y, INK if value == 0 else HAIR))
        parts.append(svg.text(f"{value:g}", frame.left - GAP, y + 0.35 * size.words, size.words, "end", GREY))
    parts += _temperatures(curve, frame, size, height)
    for at, line in enumerate(curve.lines):
        parts += _line(line, curve.temperatures, frame, at)
    parts += _labels(curve, frame, size)
    return svg.figure(
        f"curve-{size.name}", f"ruler {size.name}", curve.title, curve.description, size.width, height, parts
    )


def _temperatures(curve: Curve, frame: _Frame, size: Size, height: float) -> list[str]:
    """Strokes at all temperatures, words under as many as there is room for."""
    parts = []
    widest = max(text_width_px(words, size.words) for words in curve.temperature_words)
    room = (frame.right - frame.left) / max(len(curve.temperatures) - 1, 1)
    every = max(1, -(-int(widest + 2 * GAP) // max(int(room), 1)))
    for at, (value, words) in enumerate(zip(curve.temperatures, curve.temperature_words, strict=True)):
        x = frame.x(value)
        told = at % every == 0
        parts.append(svg.line(x, frame.bottom, x, frame.bottom + (6 if told else 3), INK if told else FAINT))
        if told:
            parts.append(svg.text(words, x, height - 0.5 * size.words, size.words, "middle", GREY))
    return parts


def _line(line: Line, temperatures: Sequence[float], frame: _Frame, at: int) -> list[str]:
    """A line with gaps where there is no value; a value between two gaps is a dot."""
    dash, width = STYLES[at % len(STYLES)]
    points = [
        None if value is None else (frame.x(each), frame.y(value))
        for each, value in zip(temperatures, line.values, strict=True)
    ]
    commands, before = "", None
    for point, after in zip(points, [*points[1:], None], strict=True):
        if point is not None:
            commands += f"{'M' if before is None else 'L'}{svg.place(point[0])} {svg.place(point[1])}"
            if before is None and after is None:
                commands += "h0.1"
        before = point
    colour = ACCENT if at % 2 else INK
    style = {"stroke": colour, "stroke_width": f"{width:g}", "stroke_linejoin": "round", "stroke_linecap": "butt"}
    if dash:
        style["stroke_dasharray"] = dash
    return [svg.path(commands, **style)] if commands else []


def _labels(curve: Curve, frame: _Frame, size: Size) -> list[str]:
    """Each line's name beside its warmest point, moved no further than it takes to keep names apart."""
    ends = []
    for line in curve.lines:
        held = [at for at, value in enumerate(line.values) if value is not None]
        if held:
            ends.append((line.name, frame.x(curve.temperatures[held[-1]]), frame.y(line.values[held[-1]])))
    ends.sort(key=lambda end: end[2])
    placed = kept_apart([y for _, _, y in ends], LABEL_PX * size.words, 0.5 * size.words, frame.bottom)
    parts = []
    for (name, x, y), at in zip(ends, placed, strict=True):
        text_x = frame.right + 2 * GAP
        if abs(at - y) > 1 or x < frame.right - 1:
            parts.append(svg.line(x + 1, y, text_x - 2, at, FAINT, 0.75))
        parts.append(svg.text(name, text_x, at + 0.35 * size.words, size.words, "start", INK))
    return parts


def kept_apart(places: Sequence[float], gap: float, low: float, high: float) -> list[float]:
    """Rising places, each at least `gap` from the next and as near its own as may be, all within two ends if they fit.

    Groups that would collide are centred on the mean of their own places (the least squares of such shifts).

    >>> kept_apart([10.0, 12.0, 50.0], 10.0, 0.0, 100.0)
    [6.0, 16.0, 50.0]
    """
    groups: list[list[float]] = []  # own places less the offset inside the group
    starts: list[float] = []
    for place in places:
        groups.append([place])
        starts.append(place)
        while len(groups) > 1 and starts[-2] + len(groups[-2]) * gap > starts[-1]:
            later = groups.pop()
            starts.pop()
            offset = len(groups[-1]) * gap
            groups[-1] += [each - offset for each in later]
            starts[-1] = sum(groups[-1]) / len(groups[-1])
    found = [start + at * gap for start, group in zip(starts, groups, strict=True) for at in range(len(group))]
    for at in range(len(found) - 1, -1, -1):
        found[at] = min(found[at], high - (len(found) - 1 - at) * gap)
    for at in range(len(found)):
        found[at] = max(found[at], low + at * gap)
    return found
