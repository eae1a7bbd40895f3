"""A number as people type it: point or comma, and thousands apart, as the reader's country has it.

Rules    both systems: spaces (plain, no-break, thin, narrow no-break) between groups of three digits are thousands.
         US: so are commas, each followed by exactly three digits ("1,234,567", "1,000.5"); any other comma is a decimal
         comma. Metric: a comma is a decimal comma. What mixes the two in another way ("1.000,5") is no number.
Source   ISO 80000-1 for the spaces; US custom for the commas.
"""

import re
from decimal import Decimal

__all__ = ["in_plain_digits", "number_in"]

SPACES = " \u00a0\u2009\u202f"
NUMBER = re.compile(r"[+\-−]?(\d+([.,]\d*)?|[.,]\d+)", re.ASCII)
APART = re.compile(rf"[+\-−]?[1-9]\d{{0,2}}([{SPACES}]\d{{3}})+([.,]\d*)?", re.ASCII)
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


def in_plain_digits(number: float, figures: int = 4) -> str:
    """So many figures that count, without an exponent: a form can read it back in either system.

    >>> in_plain_digits(99779.3), in_plain_digits(0.00012), in_plain_digits(-5.0)
    ('99780', '0.00012', '-5')
    """
    return f"{Decimal(f'{number:.{figures}g}'):f}"
