"""What a sheet is called: a number for people to say, and a link that cannot be guessed.

Number   seven random digits and a check digit, "4821-7306": one wrong digit or two exchanged neighbours are noticed.
Link     24 random bytes (192 bits) in letters that survive a link.
Source   Damm, H. M., "Total anti-symmetrische Quasigruppen" (dissertation, Marburg 2004), check digit and table.
"""

import re
import secrets

__all__ = ["is_token", "new_reference", "new_token", "read_reference"]

TOKEN_BYTES = 24
TOKEN = re.compile(r"[A-Za-z0-9_-]{32}")  # 24 bytes, four letters for three
DIGITS = 8
LONGEST_TYPED = 40
DAMM = (
    "0317598642", "7092154863", "4206871359", "1750983426", "6123045978",
    "3674209581", "5869720134", "8945362017", "9438617205", "2581436790",
)  # fmt: skip


def new_token() -> str:
    """A link's secret part.

    >>> is_token(new_token()), is_token("../../etc")
    (True, False)
    """
    return secrets.token_urlsafe(TOKEN_BYTES)


def is_token(text: str) -> bool:
    """True if it has the shape of one."""
    return TOKEN.fullmatch(text) is not None


def new_reference() -> str:
    """A number as it is printed.

    >>> read_reference(new_reference()) is not None
    True
    """
    digits = f"{secrets.randbelow(10 ** (DIGITS - 1)):0{DIGITS - 1}d}"
    return _printed(digits + _check_digit(digits))


def read_reference(text: str) -> str | None:
    """A number as somebody typed or spelt it, as it is printed; None if a digit is wrong, missing or too many.

    >>> read_reference(" 0000 0000 "), read_reference("0000-0001"), read_reference("000")
    ('0000-0000', None, None)
    """
    digits = re.sub(r"[\s.\-\u2010-\u2015]", "", text[:LONGEST_TYPED])
    good = len(digits) == DIGITS and digits.isascii() and digits.isdigit() and _check_digit(digits) == "0"
    return _printed(digits) if good else None


def _check_digit(digits: str) -> str:
    """The digit that makes the whole come out as 0.

    >>> _check_digit("572")  # the usual worked example
    '4'
    """
    interim = 0
    for digit in digits:
        interim = int(DAMM[interim][int(digit)])
    return str(interim)


def _printed(digits: str) -> str:
    return f"{digits[:4]}-{digits[4:]}"
