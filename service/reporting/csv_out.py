"""Tables as they leave: the one writer of CSV, in which no text is a formula.

Source   RFC 4180; what spreadsheets take for the start of a formula: common practice (OWASP on CSV injection, from
         memory).
"""

import csv
import io
from collections.abc import Iterable, Mapping, Sequence

__all__ = ["csv_text", "harmless"]

FORMULA_SIGNS = tuple("=+-@\t\r\n＝＋－＠")  # the wide ones count where wide letters are written
BLANKS = " \u00a0\u3000\ufeff"


def csv_text(columns: Sequence[str], rows: Iterable[Mapping[str, object]]) -> str:
    """A header and a row each; a column that a row does not have is empty.

    Raises: ValueError if a row has a column that is not in the header.

    >>> csv_text(("a", "b"), [{"a": "=1+1", "b": -2.5}, {"a": None}])
    "a,b\\r\\n'=1+1,-2.5\\r\\n,\\r\\n"
    """
    text = io.StringIO()
    writer = csv.DictWriter(text, columns, restval="")
    writer.writeheader()
    for row in rows:
        writer.writerow({name: harmless(value) for name, value in row.items()})
    return text.getvalue()


def harmless(value: object) -> object:
    """A cell that a spreadsheet shows and does not run: text that looks like a formula gets an apostrophe in front.

    Numbers stay numbers, below zero, too.

    >>> harmless("=1+1"), harmless(" @x"), harmless(-3.5), harmless("Town")
    ("'=1+1", "' @x", -3.5, 'Town')
    """
    return f"'{value}" if isinstance(value, str) and value.lstrip(BLANKS).startswith(FORMULA_SIGNS) else value
