"""The ruler: one scale that carries an answer with its span, as SVG. Distance, charging time and the ledger use it.

Scope    drawing only; geometry comes from `charts`, words and numbers arrive finished. Presentation attributes and no
         style sheet, so that a ruler looks the same on screen, on paper and cut out of the page. Every ruler has a
         title and a description; the table of the same figures stands beside it on the page.
Colours  ink, one accent, greys; span and mark differ by shape as well, so a black-and-white print loses nothing.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

from service.reporting import svg
from service.reporting.charts import LENGTH_STEPS, Flag, Graduation, Mark, graduate, place_flags, text_width_px

__all__ = [
    "ACCENT",
    "FAINT",
    "GREY",
    "INK",
    "NARROW",
    "PAPER",
    "SPAN_PX",
    "WIDE",
    "Label",
    "Ruler",
    "Scale",
    "Segment",
    "Size",
    "draw_ruler",
    "draw_strip",
]

INK, GREY, FAINT, ACCENT, PAPER = "#1b1d1f", "#5c6166", "#8f959b", "#0a5a6e", "#ffffff"
SPAN_PX = 14.0  # height of the span over the edge
ASIDE_DASH = "2 3"
LABELLED_SHARE = 0.06  # parts of a strip smaller than this have no label of their own


@dataclass(frozen=True, slots=True)
class Size:
    """A drawing width and the type that goes with it, px."""

    name: str
    width: float
    margin: float
    figure: float  # bold figures of a flag
    words: float  # words of a flag, and numerals
    row: float  # height of a row of flags


WIDE = Size("wide", 760.0, 1.0, 17.0, 14.5, 25.0)
NARROW = Size("narrow", 336.0, 1.0, 15.0, 13.0, 22.0)


@dataclass(frozen=True, slots=True)
class Label:
    """A flag to be: its value on the scale, a figure in bold, words after it."""

    value: float
    figure: str
    words: str
    short: str = ""  # instead of the words, where there is no room for all of them
    shape: str = "pole"  # pole, middle, start (an engine start), aside (a comparison) or pin (what was reported)


@dataclass(frozen=True, slots=True)
class Ruler:
    """What a ruler says. Values are in the units of its numerals; labels in order of importance."""

    id: str
    title: str
    description: str
    top: float
    low: float | None
    middle: float
    high: float | None
    labels: tuple[Label, ...]
    numeral: Callable[[float], tuple[str, str]]  # value → numeral and a second line (told where it changes)
    stations: tuple[Label, ...] = ()  # on the lower edge: a journey
    repeats: tuple[float, ...] = ()  # further ends of the same journey
    steps: Sequence[tuple[float, float]] = LENGTH_STEPS
    numeral_em: float = 4.0  # room for a numeral, in its own size


@dataclass(frozen=True, slots=True)
class Segment:
    """A part of a whole on a strip."""

    label: str
    value: float
    colour: str


@dataclass(frozen=True, slots=True)
class Scale:
    """From values to px."""

    size: Size
    top: float

    def x(self, value: float) -> float:
        """Where a value lies on the drawing."""
        return self.size.margin + value / self.top * (self.size.width - 2 * self.size.margin)


def draw_ruler(ruler: Ruler, size: Size) -> str:
    """The ruler as an SVG element: upper edge the answer, lower edge the journey."""
    room = size.width - 2 * size.margin
    graduation = graduate(ruler.top, room, ruler.numeral_em * size.words, ruler.steps)
    scale = Scale(size, graduation.top)
    labels = _that_fit(ruler.labels, scale)
    flags = _place(labels, scale)
    edge = _rows(flags) * size.row + SPAN_PX + 2
    parts = _flags(labels, flags, size, edge - SPAN_PX - 1, -1)
    parts += _span(ruler, scale, edge) + _graduation(graduation, scale, edge)
    numerals, height = _numerals(ruler, graduation, scale, edge + SPAN_PX)
    parts += numerals
    if ruler.stations:
        hanging = _place(ruler.stations, scale)
        parts += _journey(ruler, scale, height + 12)
        parts += _flags(ruler.stations, hanging, size, height + 18, 1)
        height += 24 + _rows(hanging) * size.row
    return svg.figure(
        f"{ruler.id}-{size.name}", f"ruler {size.name}", ruler.title, ruler.description, size.width, height, parts
    )


def draw_strip(id_: str, title: str, description: str, segments: Sequence[Segment], size: Size) -> str:
    """Parts of a whole end to end, the larger ones labelled. Values must be positive."""
    scale = Scale(size, sum(segment.value for segment in segments))
    parts, labels, start = [], [], 0.0
    for segment in segments:
        left, right = scale.x(start), scale.x(start + segment.value)
        parts.append(svg.rectangle(left, 2, max(right - left - 1.5, 0.75), SPAN_PX, segment.colour))
        if segment.value >= LABELLED_SHARE * scale.top:
            labels.append((segment.value, Label(start + segment.value / 2, "", segment.label)))
        start += segment.value
    large = [label for _, label in sorted(labels, key=lambda pair: -pair[0])]
    flags = _place(large, scale)
    parts += _flags(large, flags, size, SPAN_PX + 4, 1)
    height = SPAN_PX + 8 + _rows(flags) * size.row
    return svg.figure(f"{id_}-{size.name}", f"ruler {size.name}", title, description, size.width, height, parts)


def _rows(flags: Sequence[Flag]) -> int:
    return 1 + max((flag.row for flag in flags), default=0)


def _that_fit(labels: Sequence[Label], scale: Scale) -> list[Label]:
    """The labels, as many of them in short words, the least important first, as it takes to place them all."""
    for count in range(len(labels), -1, -1):
        fitting = [*labels[:count], *(replace(each, words=each.short or each.words) for each in labels[count:])]
        if len(_place(fitting, scale)) == len(labels):
            break
    return fitting


def _place(labels: Sequence[Label], scale: Scale) -> list[Flag]:
    marks = [Mark(scale.x(label.value), _label_width(label, scale.size)) for label in labels]
    return place_flags(marks, scale.size.width)


def _label_width(label: Label, size: Size) -> float:
    space = size.words * 0.4 if label.figure else 0.0
    return text_width_px(label.figure, size.figure, bold=True) + space + text_width_px(label.words, size.words)


def _flags(labels: Sequence[Label], flags: Sequence[Flag], size: Size, foot: float, way: int) -> list[str]:
    """Poles and texts; `way` −1 stands upwards from `foot`, +1 hangs down."""
    parts = []
    for flag in flags:
        label = labels[flag.index]
        tip = foot + way * (flag.row + 0.8) * size.row
        aside = label.shape == "aside"
        colour = GREY if aside else INK
        width = 2 if label.shape in ("middle", "pin") else 1
        parts.append(svg.line(flag.x, foot, flag.x, tip, colour, width, ASIDE_DASH if aside else ""))
        anchor, x = ("end", flag.right) if flag.right < flag.x else ("start", flag.left)
        baseline = tip + size.row * 0.5 if way < 0 else tip
        parts.append(svg.text(label.words, x, baseline, size.words, anchor, colour, label.figure, size.figure))
    return parts


def _span(ruler: Ruler, scale: Scale, edge: float) -> list[str]:
    """The way there as a thin line, the span as a thick one, the middle as a stroke in a gap, marks of other shapes."""
    low, high = (ruler.middle, ruler.middle) if ruler.low is None or ruler.high is None else (ruler.low, ruler.high)
    start, left, middle, right = scale.x(0), scale.x(low), scale.x(ruler.middle), scale.x(high)
    top = edge - SPAN_PX - 1
    parts = [
        svg.rectangle(start, edge - SPAN_PX / 2 - 2.5, left - start, 3, ACCENT),
        svg.rectangle(left, top, right - left, SPAN_PX, ACCENT),
        svg.rectangle(middle - 3, top, 6, SPAN_PX, PAPER),
        svg.line(middle, top, middle, edge, INK, 2),
    ]
    for label in ruler.labels:
        x = scale.x(label.value)
        if label.shape == "aside":
            parts.append(svg.line(x, top, x, edge, GREY, 1, ASIDE_DASH))
        if label.shape == "start":
            parts.append(svg.path(f"M{svg.place(x)} {svg.place(edge - 1)}l-5 -11h10z", fill=INK, stroke=PAPER))
        if label.shape == "pin":
            parts.append(svg.line(x, top, x, edge + 14, PAPER, 5))
            parts.append(svg.line(x, top - 1, x, edge + 14, INK, 2))
            parts.append(svg.path(f"M{svg.place(x)} {svg.place(top)}l7 7l-7 7l-7 -7z", fill=INK, stroke=PAPER))
    return parts


def _graduation(graduation: Graduation, scale: Scale, edge: float) -> list[str]:
    """Strokes of three lengths, one path each, and the edge they hang from."""
    lengths: dict[float, list[float]] = {13.0: [], 9.0: [], 5.0: []}
    for value in graduation.strokes():
        lengths[_stroke_length(value, graduation)].append(scale.x(value))
    parts = [svg.line(scale.x(0), edge, scale.x(graduation.top), edge, INK, 1.25)]
    for length, places in lengths.items():
        if places:
            strokes = svg.strokes(places, edge, length)
            parts.append(svg.path(strokes, stroke=FAINT if length < 9 else INK))
    return parts


def _stroke_length(value: float, graduation: Graduation) -> float:
    for step, length in ((graduation.step, 13.0), (graduation.step / 2, 9.0)):
        if abs(value / step - round(value / step)) < 1e-6:
            return length
    return 5.0


def _numerals(ruler: Ruler, graduation: Graduation, scale: Scale, top: float) -> tuple[list[str], float]:
    """Numerals under their strokes, a second line where it changes; and where they end."""
    size, parts, told, lines = scale.size, [], "", 1
    for value in graduation.numerals():
        words = ruler.numeral(value)
        for number, text in enumerate(words if words[1] != told else words[:1]):
            half = text_width_px(text, size.words) / 2
            x = min(max(scale.x(value), half), size.width - half)
            y = top + size.words * (1 + 1.25 * number)
            parts += [svg.text(text, x, y, size.words, "middle", GREY)] if text else []
            lines = max(lines, number + 1 if text else 1)
        told = words[1]
    return parts, top + size.words * (0.2 + 1.25 * lines)


def _journey(ruler: Ruler, scale: Scale, y: float) -> list[str]:
    """The lower edge: the journey as a line with a stroke at every station, and where its repeats would end."""
    ends = [scale.x(label.value) for label in ruler.stations]
    parts = [svg.line(min(ends), y, max(ends), y, INK, 3)]
    parts += [svg.line(x, y - 6, x, y + 6, INK, 1.5) for x in ends]
    places = [scale.x(value) for value in ruler.repeats if value <= scale.top]
    if places:
        parts.append(svg.line(max(ends), y, max(places), y, FAINT))
        parts += [svg.line(x, y - 4, x, y + 4, FAINT) for x in places]
    return parts
