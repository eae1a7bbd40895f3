"""A number as people type it: point or comma, and thousands apart, as the reader's country has it.

Rules    both systems: spaces (plain, no-break, thin, narrow no-break) between groups of three digits are thousands.
         US: so are commas, each followed by exactly three digits ("1,234,567", "1,000.5"); any other comma is a decimal
         comma. Metric: a comma is a decimal comma. What mixes the two in another way ("1.000,5") is no number.
Tables   no system is stated, so a cell is a number only where it can be but one: 1.234,5 and 1,234.5 are, and 1 234,5
         and 1'234. What 1,200 is, other cells of the table tell: beside 12.5 it is a thousand, beside 12,5 it has three
         decimals, and beside neither it is refused, unless semicolons stand between the cells; so with 1.200.
Source   ISO 80000-1 for the spaces; US custom for the commas.
"""

import re
from collections.abc import Collection
from dataclasses import dataclass
from decimal import Decimal
from math import isfinite

__all__ = ["ONE_GROUP", "Marks", "decimal_mark", "in_plain_digits", "marks_between", "number_from", "number_in"]

SPACES = " \u00a0\u2009\u202f"
NUMBER = re.compile(r"[+\-−]?(\d+([.,]\d*)?|[.,]\d+)", re.ASCII)
APART = re.compile(rf"[+\-−]?[1-9]\d{{0,2}}([{SPACES}]\d{{3}})+([.,]\d*)?", re.ASCII)
PLAIN_NUMBER = re.compile(r"[+\-−]?(\d+([.,]\d*)?|[.,]\d+)([eE][+-]?\d+)?", re.ASCII)
SURE = re.compile(r"[+\-−]?\d+(?:([.,])(?:\d{1,2}|\d{4,}))?", re.ASCII)  # most cells: nothing that parts thousands
ONE_GROUP = re.compile(r"[+\-−]?[1-9]\d{0,2}([.,])\d{3}", re.ASCII)  # a thousand, or three decimals
SPACED = re.compile(rf"[+\-−]?[1-9]\d{{0,2}}([{SPACES}'’]\d{{3}})+([.,]\d*)?", re.ASCII)
GROUPED = {  # what parts thousands: such a number, with a decimal mark behind it or several groups
    ".": re.compile(r"[+\-−]?[1-9]\d{0,2}((\.\d{3})+,\d*|(\.\d{3}){2,})", re.ASCII),
    ",": re.compile(r"[+\-−]?[1-9]\d{0,2}((,\d{3})+\.\d*|(,\d{3}){2,})", re.ASCII),
}
US_THOUSANDS = re.compile(r"[+\-−]?[1-9]\d{0,2}(,\d{3})+(\.\d*)?", re.ASCII)  # nobody writes thousands as 0,125


def number_in(text: str, system: str = "metric") -> float | None:
    """The number typed in a system of units ("metric" or "us"); None if it is none.

    >>> number_in("−3,5"), number_in("1e3"), number_in("1,000.5"), number_in("1 700,5")
    (-3.5, None, None, 1700.5)
    >>> number_in("4,200", "us"), number_in("1,000.5", "us"), number_in("68,5", "us"), number_in("1.000,5", "us")
    (4200.0, 1000.5, 68.5, None)
    """
    if system == "us" and US_THOUSANDS.fullmatch(text):
        text = text.replace(",", "")
    elif APART.fullmatch(text):
        text = re.sub(f"[{SPACES}]", "", text)
    elif not NUMBER.fullmatch(text):
        return None
    return float(text.replace(",", ".").replace("−", "-"))


@dataclass(frozen=True, slots=True)
class Marks:
    """What a mark with three digits behind it is in a table: one of `thousands` parts them, one of `unclear` may."""

    thousands: str = ""
    unclear: str = ""


def marks_between(seen: Collection[str], delimiter: str) -> Marks:
    """By the marks `seen` in front of decimals, or for want of them by what stands between the cells.

    >>> marks_between({"."}, ","), marks_between((), ";")
    (Marks(thousands=',', unclear=''), Marks(thousands='', unclear='.'))
    """
    if len(seen) == 1:
        return Marks(thousands="," if "." in seen else ".")
    return Marks(unclear=",." if seen else {",": ",", ";": "."}.get(delimiter, ",."))


def number_from(cell: str, marks: Marks = Marks()) -> float | None:
    """The number in a cell of a table, or None where there is none that is certain.

    >>> number_from("12,5"), number_from("1,200", Marks(unclear=",")), number_from("1,200", Marks(thousands=","))
    (12.5, None, 1200.0)
    """
    if not SURE.fullmatch(cell):
        cell = without_thousands(cell)
    if group := ONE_GROUP.fullmatch(cell):
        if group[1] in marks.unclear:
            return None
        cell = cell.replace(group[1], "") if group[1] in marks.thousands else cell
    if not PLAIN_NUMBER.fullmatch(cell):
        return None
    value = float(cell.replace(",", ".").replace("−", "-"))
    return value if isfinite(value) else None


def without_thousands(cell: str) -> str:
    """A cell without what parts its thousands, where that is certain."""
    if SPACED.fullmatch(cell):
        return re.sub(f"[{SPACES}'’]", "", cell)
    return next((cell.replace(mark, "") for mark, grouped in GROUPED.items() if grouped.fullmatch(cell)), cell)


def decimal_mark(cell: str) -> str:
    """The mark in front of a cell's decimals; "" where it has none, or where three digits may be a thousand.

    >>> decimal_mark("-1.5"), decimal_mark("1.234,5"), decimal_mark("1.234.567"), decimal_mark("1,234")
    ('.', ',', '', '')
    """
    if found := SURE.fullmatch(cell):
        return found[1] or ""
    plain = without_thousands(cell)
    if not PLAIN_NUMBER.fullmatch(plain) or ONE_GROUP.fullmatch(plain):
        return ""
    return "." if "." in plain else "," if "," in plain else ""


def in_plain_digits(number: float, figures: int = 4) -> str:
    """So many figures that count, without an exponent: a form can read it back in either system.

    >>> in_plain_digits(99779.3), in_plain_digits(0.00012), in_plain_digits(-5.0)
    ('99780', '0.00012', '-5')
    """
    return f"{Decimal(f'{number:.{figures}g}'):f}"
