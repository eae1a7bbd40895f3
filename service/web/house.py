"""What the pages share: the links between them, and the query that carries a question from one to the next.

Scope    inputs have the same names on every page. What a page has no input for travels as a hidden one, so that a
         journey typed once is still there after a look at the other pages.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from urllib.parse import urlencode

from service.errors import ErrorRow, ServiceError
from service.intake.form import BY_TRACK
from service.intake.form_fields import FIELDS

__all__ = ["PAGES", "Link", "as_asked", "beside_inputs", "carried", "links_from", "one_vehicle", "stowed"]

PAGES = (
    ("/", "One car"),
    ("/year", "Through the year"),
    ("/speeds", "Speed and weather"),
    ("/charging", "Charging"),
    ("/plan", "Charging planned"),
    ("/routes", "Routes compared"),
    ("/complaint", "Complaint checked"),
)
CARRIED = (*FIELDS, "plug_in_hour")
SAID_OTHERWISE = {"soaked", "parked", "vehicles", "vehicle"}  # each page asks for these in its own way


@dataclass(frozen=True, slots=True)
class Link:
    """One of the pages; `here` for the page that is shown."""

    path: str
    href: str
    words: str
    here: bool


def links_from(here: str, given: Mapping[str, str]) -> tuple[Link, ...]:
    """The links with the question in their addresses."""
    query = carried(given)
    return tuple(Link(path, f"{path}?{query}" if query else path, words, path == here) for path, words in PAGES)


def carried(given: Mapping[str, str]) -> str:
    """The question as a query string; inputs left empty are left out."""
    return urlencode({name: given[name] for name in CARRIED if given.get(name) and not _stays(name, given)})


def as_asked(given: Mapping[str, str]) -> str:
    """The question as it came, inputs left empty among it: asked again, it is read in the same way."""
    return urlencode({name: given[name] for name in CARRIED if name in given})


def _stays(name: str, given: Mapping[str, str]) -> bool:
    """A recording is too long for an address: the page that holds it keeps it."""
    return name == "journey" and given[name] == BY_TRACK


def stowed(given: Mapping[str, str], inputs: Iterable[str]) -> tuple[tuple[str, str], ...]:
    """What was given and has no input on this page."""
    known = {*inputs, *SAID_OTHERWISE, "typed_units"}
    return tuple((name, given[name]) for name in CARRIED if given.get(name) and name not in known)


def one_vehicle(given: Mapping[str, str]) -> dict[str, str]:
    """The first of several vehicles, for a page that asks about one; nothing where one is named already.

    >>> one_vehicle({"vehicles": "van,own"}), one_vehicle({"vehicles": "van", "vehicle": "hatch"})
    ({'vehicle': 'van'}, {})
    """
    if given.get("vehicles") and not given.get("vehicle"):
        return {"vehicle": given["vehicles"].partition(",")[0]}
    return {}


def beside_inputs(error: ServiceError, others: Mapping[str, str] | None = None) -> dict[str, ErrorRow]:
    """Faults that only the answer finds, each at the input it is about; those of none at the form.

    Args:
        others: paths of a question that a page writes in another way, and their inputs.
    """
    by_path = {field.path: name for name, field in FIELDS.items()} | dict(others or {})
    return {by_path.get(row.field, f"form{number}"): row for number, row in enumerate(error.rows())}
