"""What the views of an answer share: the reader's setting, a row of a table, a drawing in two widths."""

from dataclasses import dataclass
from datetime import date

from service.reporting.ruler import NARROW, WIDE, Ruler, draw_ruler
from service.reporting.words import Units
from service.specs import Cabin, CabinAir, Start

__all__ = ["Drawing", "Row", "Setting", "cabin_extras", "drawn", "parked_words"]

AIR_WORDS = {CabinAir.AUTO: "", CabinAir.FRESH: ", outside air", CabinAir.RECIRCULATE: ", air recirculated"}


@dataclass(frozen=True, slots=True)
class Setting:
    """What the reader chose that is not part of the question, and when the page was made."""

    units: Units
    journey_name: str  # in a sentence: "there and back"
    round_trip: bool
    plug_in_hour: float
    made_on: date
    version: str


@dataclass(frozen=True, slots=True)
class Drawing:
    """One drawing in two widths."""

    wide: str
    narrow: str


@dataclass(frozen=True, slots=True)
class Row:
    """A line of a small table."""

    name: str
    value: str
    note: str = ""


def drawn(ruler: Ruler) -> Drawing:
    """The ruler in both widths; the style sheet shows one."""
    return Drawing(draw_ruler(ruler, WIDE), draw_ruler(ruler, NARROW))


def parked_words(start: Start) -> str:
    """How the car stood before it was driven."""
    if start.in_sun:
        return "parked in the sun"
    return "parked overnight" if start.soaked else "still warm"


def cabin_extras(cabin: Cabin) -> str:
    """What was asked of the cabin beside its temperature, as it continues a row; nothing where nothing was.

    >>> cabin_extras(Cabin(seat_heat=True, air=CabinAir.RECIRCULATE)), cabin_extras(Cabin())
    (', seats heated, air recirculated', '')
    """
    return (", seats heated" if cabin.seat_heat else "") + AIR_WORDS[cabin.air]
