"""The few SVG elements our charts are drawn with, as strings. Presentation attributes only, text escaped here."""

from collections.abc import Sequence
from html import escape

__all__ = ["figure", "line", "path", "place", "rectangle", "small_figure", "strokes", "text"]

FACES = "'Segoe UI', Roboto, 'Helvetica Neue', 'Liberation Sans', Arial, sans-serif"


def place(value: float) -> str:
    """A coordinate, one decimal at most.

    >>> place(12.0), place(3.14159)
    ('12', '3.1')
    """
    return f"{value:.1f}".removesuffix(".0")


def line(x1: float, y1: float, x2: float, y2: float, colour: str, width: float = 1, dash: str = "") -> str:
    """A straight stroke."""
    dashes = f' stroke-dasharray="{dash}"' if dash else ""
    ends = f'x1="{place(x1)}" y1="{place(y1)}" x2="{place(x2)}" y2="{place(y2)}"'
    stroke = "" if width == 1 else f' stroke-width="{width:g}"'  # 1 is what it is anyway
    return f'<line {ends} stroke="{colour}"{stroke}{dashes}/>'


def rectangle(x: float, y: float, width: float, height: float, colour: str) -> str:
    """A filled rectangle."""
    corner = f'x="{place(x)}" y="{place(y)}"'
    return f'<rect {corner} width="{place(width)}" height="{place(height)}" fill="{colour}"/>'


def path(commands: str, **attributes: str) -> str:
    """A path; underscores in attribute names stand for hyphens."""
    given = "".join(f' {name.replace("_", "-")}="{value}"' for name, value in attributes.items())
    return f'<path d="{commands}"{given}/>'


def strokes(places: Sequence[float], edge: float, length: float) -> str:
    """Commands of upright strokes of one length, each from the edge down; below zero, up.

    >>> strokes([8, 10.04, 13], 20, -4)
    'M8 20v-4m2 4v-4m3 4v-4'
    """
    commands, last = [], 0.0
    for x in (round(each, 1) for each in places):
        move = f"m{place(x - last)} {place(-length)}" if commands else f"M{place(x)} {place(edge)}"
        commands.append(f"{move}v{place(length)}")
        last = x
    return "".join(commands)


def text(
    words: str, x: float, y: float, size: float, anchor: str, colour: str, figure: str = "", bold: float = 0
) -> str:
    """A line of text; `figure` stands before the words in bold, `bold` px high."""
    front = f'<tspan font-weight="600" font-size="{place(bold)}">{escape(figure)}</tspan> ' if figure else ""
    where = f'x="{place(x)}" y="{place(y)}" font-size="{place(size)}" text-anchor="{anchor}"'
    return f'<text {where} fill="{colour}">{front}{escape(words)}</text>'


def figure(id_: str, kind: str, title: str, description: str, width: float, height: float, parts: Sequence[str]) -> str:
    """The whole drawing, named for those who do not see it."""
    box = f'viewBox="0 0 {place(width)} {place(height)}"'
    return (
        f'<svg class="{kind}" xmlns="http://www.w3.org/2000/svg" {box} role="img" '
        f'aria-labelledby="{id_}-title {id_}-desc" fill="none" font-family="{FACES}">'
        f'<title id="{id_}-title">{escape(title)}</title><desc id="{id_}-desc">{escape(description)}</desc>'
        f"{''.join(parts)}</svg>"
    )


def small_figure(kind: str, label: str, width: float, height: float, parts: Sequence[str]) -> str:
    """One of many drawings on a page: named in one line, in the type of the page around it."""
    box = f'viewBox="0 0 {place(width)} {place(height)}"'
    return f'<svg class="{kind}" {box} role="img" aria-label="{escape(label)}">{"".join(parts)}</svg>'
