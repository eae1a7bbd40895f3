"""A charging plan drawn on its tariff: power as blocks above, the price as steps below, one clock for both.

Scope    drawing only, in the manner of the curves: presentation attributes, ink, one accent, greys. Readying the cabin
         is a block of another grey. The figures stand in a table beside it.
"""

from collections.abc import Sequence
from dataclasses import dataclass

from service.reporting import svg
from service.reporting.charts import text_width_px
from service.reporting.ruler import ACCENT, FAINT, GREY, INK, NARROW, WIDE, Size
from service.reporting.view_parts import Drawing

__all__ = ["Block", "PlanPicture", "Step", "Tick", "drawn_plan"]

HAIR = "#dfe2e5"
POWER_PX = {WIDE.name: 92.0, NARROW.name: 74.0}
PRICE_PX = {WIDE.name: 76.0, NARROW.name: 62.0}
APART_PX = 8.0  # between two labels of the clock, or of two prices


@dataclass(frozen=True, slots=True)
class Block:
    """Steady power; places along the clock run from 0 (plugged in) to 1 (leaves)."""

    low: float
    high: float
    kilowatts: float
    readying: bool = False


@dataclass(frozen=True, slots=True)
class Step:
    """A price while it holds, and its words."""

    low: float
    high: float
    price: float
    words: str


@dataclass(frozen=True, slots=True)
class Tick:
    """A full hour of the clock; coarse ones are told first."""

    place: float
    words: str
    rank: int  # 0: midnight and noon, 1: each sixth, 2: each third hour, 3: the rest


@dataclass(frozen=True, slots=True)
class PlanPicture:
    """What the drawing says."""

    title: str
    description: str
    blocks: tuple[Block, ...]
    steps: tuple[Step, ...]
    ticks: tuple[Tick, ...]
    power_words: str  # over the blocks: "Power at the socket, 2.3 kW at most"
    price_words: str  # over the steps


def drawn_plan(picture: PlanPicture) -> Drawing:
    """In both widths; the style sheet shows one."""
    return Drawing(_draw(picture, WIDE), _draw(picture, NARROW))


def _draw(picture: PlanPicture, size: Size) -> str:
    head = size.words * 1.6
    power_foot = head + POWER_PX[size.name]
    price_head = power_foot + size.words * 1.9
    price_foot = price_head + PRICE_PX[size.name]
    height = price_foot + size.words * 1.7
    parts = [svg.text(picture.power_words, 0, size.words, size.words, "start", GREY)]
    parts += _blocks(picture.blocks, size, head, power_foot)
    parts.append(svg.text(picture.price_words, 0, price_head - size.words * 0.55, size.words, "start", GREY))
    parts += _steps(picture.steps, size, price_head, price_foot)
    parts += _clock(picture.ticks, size, (power_foot, price_foot))
    return svg.figure(
        f"plan-{size.name}", f"ruler {size.name}", picture.title, picture.description, size.width, height, parts
    )


def _x(place: float, size: Size) -> float:
    return size.margin + place * (size.width - 2 * size.margin)


def _blocks(blocks: Sequence[Block], size: Size, head: float, foot: float) -> list[str]:
    """Blocks that meet make one outline, so that no seam shows."""
    most = max((block.kilowatts for block in blocks), default=1.0)
    parts, run = [], []
    for block in blocks:
        if run and (block.readying != run[-1].readying or block.low - run[-1].high > 1e-6):
            parts.append(_outline(run, most, size, head, foot))
            run = []
        run.append(block)
    return parts + ([_outline(run, most, size, head, foot)] if run else [])


def _outline(run: Sequence[Block], most: float, size: Size, head: float, foot: float) -> str:
    points = [(_x(run[0].low, size), foot)]
    for block in run:
        top = foot - block.kilowatts / most * (foot - head - 4)
        points += [(_x(block.low, size), top), (_x(block.high, size), top)]
    points.append((_x(run[-1].high, size), foot))
    commands = "M" + "L".join(f"{svg.place(x)} {svg.place(y)}" for x, y in points) + "Z"
    return svg.path(commands, fill=FAINT if run[0].readying else ACCENT)


def _steps(steps: Sequence[Step], size: Size, head: float, foot: float) -> list[str]:
    """One line of steps; each price in words over its own step where there is room, the first of equals only."""
    top = head + size.words * 1.3
    most = max((step.price for step in steps), default=0.0) or 1.0
    heights = [foot - step.price / most * (foot - top) for step in steps]
    points = [
        point
        for step, y in zip(steps, heights, strict=True)
        for point in ((_x(step.low, size), y), (_x(step.high, size), y))
    ]
    commands = "M" + "L".join(f"{svg.place(x)} {svg.place(y)}" for x, y in points)
    parts = [svg.path(commands, stroke=INK, stroke_width="1.75", stroke_linejoin="round")]
    told: set[str] = set()
    for step, y in sorted(zip(steps, heights, strict=True), key=lambda pair: pair[0].low - pair[0].high):
        low, high = _x(step.low, size), _x(step.high, size)
        if step.words not in told and text_width_px(step.words, size.words) + APART_PX <= high - low:
            told.add(step.words)
            parts.append(svg.text(step.words, 0.5 * (low + high), y - 5, size.words, "middle", INK))
    return parts


def _clock(ticks: Sequence[Tick], size: Size, feet: tuple[float, float]) -> list[str]:
    """Two feet with strokes at the hours; words under the lower one, coarse hours first, none over another."""
    parts = [svg.line(_x(0, size), foot, _x(1, size), foot, INK, 1.25) for foot in feet]
    taken: list[tuple[float, float]] = []
    for tick in sorted(ticks, key=lambda each: (each.rank, each.place)):
        x = _x(tick.place, size)
        half = 0.5 * text_width_px(tick.words, size.words)
        middle = min(max(x, half), size.width - half)
        low, high = middle - half - APART_PX, middle + half + APART_PX
        if all(high < other[0] or low > other[1] for other in taken):
            taken.append((middle - half, middle + half))
            parts += [svg.line(x, foot, x, foot + 5, INK) for foot in feet]
            parts.append(svg.text(tick.words, middle, feet[1] + size.words * 1.4, size.words, "middle", GREY))
    return parts
