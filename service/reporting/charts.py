"""Geometry of our charts: graduations, the width of text, labels that never collide. No drawing here.

Scope    pure functions of numbers; lengths in SVG user units (px at full size).
Flags    a label stands on a pole over its mark, beside the top of the pole. A pole may not cross the text of another
         flag, two texts may not overlap. Marks come in order of importance; where there is no room for all, the least
         important goes first (the table beside every chart still holds it).
Source   text widths are rounded up from the metrics of common sans-serif faces; a browser test measures the real ones.
         The rest is our own.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import product

__all__ = ["Flag", "Graduation", "Mark", "graduate", "place_flags", "text_width_px"]

LENGTH_STEPS = tuple((m * 10.0**k, m * 10.0**k / d) for k in range(-2, 5) for m, d in ((1, 10), (2, 10), (5, 5)))
HOUR_STEPS = ((0.25, 0.05), (0.5, 0.1), (1, 0.25), (2, 0.5), (3, 1), (6, 1), (12, 3), (24, 6), (48, 12), (96, 24))
POLE_PX = 5.0  # between a pole and its text
CLEAR_PX = 3.0  # between a text and a foreign pole
GAP_PX = 10.0  # between two texts

# Em widths, the widest of the faces that `svg` asks for: estimates err on the long side.
NARROW_EM, MIDDLE_EM, WIDE_EM, CAPITAL_EM = 0.34, 0.575, 0.9, 0.72
NARROW, WIDE = frozenset(" ijltfr.,:;'|()-·\u00a0"), frozenset("mwMW%@")


@dataclass(frozen=True, slots=True)
class Graduation:
    """Where a scale that starts at 0 has its strokes: `top` is the end, `step` carries numerals, `minor` does not."""

    top: float
    step: float
    minor: float

    def numerals(self) -> list[float]:
        """Values that carry a numeral, both ends of the scale included where they fall on a step."""
        return [i * self.step for i in range(int(self.top / self.step + 1e-6) + 1)]

    def strokes(self) -> list[float]:
        """Every value with a stroke."""
        return [i * self.minor for i in range(int(self.top / self.minor + 1e-6) + 1)]


@dataclass(frozen=True, slots=True)
class Mark:
    """A label to be placed: where its pole stands and how long its text is."""

    x: float
    width: float


@dataclass(frozen=True, slots=True)
class Flag:
    """A placed label: `row` counts from the scale outwards, text runs from `left` to `right`."""

    index: int
    x: float
    row: int
    left: float
    right: float


def graduate(
    high: float,
    room_px: float,
    numeral_px: float,
    steps: Sequence[tuple[float, float]] = LENGTH_STEPS,
    stroke_px: float = 4.0,
) -> Graduation:
    """The finest graduation from 0 to just beyond `high` whose numerals and strokes keep their distance.

    Args:
        high: largest value to be shown, > 0.
        room_px: length of the scale.
        numeral_px: least distance between two numerals; `stroke_px` the same between two strokes.

    >>> graduate(52, 700, 56)
    Graduation(top=52.0, step=5.0, minor=1.0)
    """
    for step, minor in steps:
        top = -(-high // minor) * minor
        if step * room_px / top >= numeral_px:
            while minor * room_px / top < stroke_px:
                minor = step / 2 if minor < step / 2 else step
                top = -(-high // minor) * minor
            return Graduation(top, step, minor)
    raise ValueError(f"no graduation for a scale of {high:g}")


def text_width_px(text: str, size_px: float, bold: bool = False) -> float:
    """Width that a line of text will not exceed in common sans-serif faces."""
    em = 0.0
    for letter in text:
        if letter in NARROW:
            em += NARROW_EM
        elif letter in WIDE:
            em += WIDE_EM
        else:
            em += CAPITAL_EM if letter.isupper() else MIDDLE_EM
    return em * size_px * (1.07 if bold else 1.0)


def place_flags(marks: Sequence[Mark], room_px: float) -> list[Flag]:
    """Flags for the marks, the fewest rows that keep them apart; ordered as the marks, the dropped ones missing.

    All marks are placed if no text is longer than about a third of the room.
    """
    for count in range(len(marks), 0, -1):
        for extents_of in (_beside, _beside_or_near):
            options = [extents_of(mark, room_px) for mark in marks[:count]]
            placed = [flags for extents in product(*options) if (flags := _stack(marks[:count], extents))]
            if placed:
                return min(placed, key=_height)
    return []


def _height(flags: Sequence[Flag]) -> tuple[int, int]:
    rows = [flag.row for flag in flags]
    return max(rows), sum(rows)


def _beside(mark: Mark, room_px: float) -> list[tuple[float, float]]:
    """Where the text may run: right of the pole or left of it; where neither fits, as near above it as may be."""
    right = (mark.x + POLE_PX, mark.x + POLE_PX + mark.width)
    left = (mark.x - POLE_PX - mark.width, mark.x - POLE_PX)
    fitting = [extent for extent in (right, left) if extent[0] >= 0 and extent[1] <= room_px]
    return fitting or _near(mark, room_px)


def _near(mark: Mark, room_px: float) -> list[tuple[float, float]]:
    """Above the pole, shifted as little as keeps the text on the drawing; nowhere if it is too long."""
    start = min(max(mark.x - mark.width / 2, 0.0), room_px - mark.width)
    return [(start, start + mark.width)] if start >= 0 else []


def _beside_or_near(mark: Mark, room_px: float) -> list[tuple[float, float]]:
    """Every place there is."""
    return list(dict.fromkeys(_beside(mark, room_px) + _near(mark, room_px)))


def _stack(marks: Sequence[Mark], extents: Sequence[tuple[float, float]]) -> list[Flag] | None:
    """Rows for chosen extents, lowest first; None if two flags would each have to stand over the other."""
    count = len(marks)
    below = [  # below[i]: flags whose poles the text of i crosses, so that i must stand over them
        {j for j in range(count) if j != i and extents[i][0] - CLEAR_PX < marks[j].x < extents[i][1] + CLEAR_PX}
        for i in range(count)
    ]
    rows: dict[int, int] = {}
    while len(rows) < count:
        ready = [i for i in range(count) if i not in rows and below[i] <= rows.keys()]
        if not ready:
            return None
        taken = {rows[j] for j in rows if _overlap(extents[ready[0]], extents[j])}
        lowest = 1 + max((rows[j] for j in below[ready[0]]), default=-1)
        rows[ready[0]] = next(row for row in range(lowest, lowest + count + 1) if row not in taken)
    return [Flag(i, marks[i].x, rows[i], *extents[i]) for i in range(count)]


def _overlap(one: tuple[float, float], other: tuple[float, float]) -> bool:
    return one[0] < other[1] + GAP_PX and other[0] < one[1] + GAP_PX
