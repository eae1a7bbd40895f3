"""JSON text to plain data, strictly: a name once in an object, and every number as a number.

Scope    what no model can see any more: of a name that stands twice only the last value would be left. A number with
         more digits than Python turns into one is read as a float, so that its field is told to be out of range.
Source   RFC 8259 §4: names within an object should be unique.
"""

import json

from service.errors import BadInput

__all__ = ["read_json"]

MOST_NAMES = 200  # in one object; the longest question has fewer
MOST_DIGITS = 400  # beyond the largest float; Python's own limit is 4300


def read_json(raw: bytes) -> object:
    """The data; raises BadInput.

    >>> read_json(b'{"payload_kg": 10}')
    {'payload_kg': 10}
    """
    try:
        return json.loads(raw, object_pairs_hook=_once, parse_int=_whole)
    except json.JSONDecodeError as error:
        where = f"line {error.lineno}, character {error.colno}"
        fault = f"it is not JSON from {where} on: {error.msg}"
    except RecursionError:
        fault = "its brackets stand too deep in each other"
    except UnicodeDecodeError:
        fault = "it is not text in UTF-8"
    raise BadInput("body", None, fault, "send one JSON object") from None


def _once(pairs: list[tuple[str, object]]) -> dict[str, object]:
    if len(pairs) > MOST_NAMES:
        raise BadInput("body", len(pairs), f"one object has {len(pairs)} names", "see the description at /docs")
    found: dict[str, object] = {}
    for name, value in pairs:
        if name in found:
            shown = name[:80]
            raise BadInput("body", shown, f"the name {shown!r} stands twice in one object", "leave out one of them")
        found[name] = value
    return found


def _whole(digits: str) -> int | float:
    return int(digits) if len(digits) <= MOST_DIGITS else float(digits)
