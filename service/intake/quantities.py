"""Quantities of measured tables: what a column may be called, in which units, and how far it may go.

Symbols  a cell's value × factor + offset is the quantity in its own unit.
"""

import re
import unicodedata
from collections.abc import Mapping
from dataclasses import dataclass

from service.errors import BadInput
from service.units import FOOT_M, HOUR_S, KM_H, MILE_M, MINUTE_S, MPH

__all__ = [
    "DISTANCE", "POWER", "SECONDS", "SHARE", "SPEED", "TEMPERATURE", "Names", "Quantity", "Texts", "Unit", "missing",
    "names_of", "plain",
]  # fmt: skip

Unit = tuple[float, float]  # factor, offset
SPEED: Mapping[str, Unit] = {
    "km/h": (KM_H, 0.0), "kmh": (KM_H, 0.0), "kph": (KM_H, 0.0), "mph": (MPH, 0.0), "mi/h": (MPH, 0.0),
    "m/s": (1.0, 0.0),
}  # fmt: skip
TEMPERATURE: Mapping[str, Unit] = {"c": (1.0, 0.0), "f": (1 / 1.8, -32 / 1.8), "k": (1.0, -273.15)}
DISTANCE: Mapping[str, Unit] = {"km": (1000.0, 0.0), "mi": (MILE_M, 0.0), "m": (1.0, 0.0), "ft": (FOOT_M, 0.0)}
POWER: Mapping[str, Unit] = {"kw": (1000.0, 0.0), "w": (1.0, 0.0)}
SECONDS: Mapping[str, Unit] = {
    "s": (1.0, 0.0), "sec": (1.0, 0.0), "ms": (1e-3, 0.0), "min": (MINUTE_S, 0.0), "h": (HOUR_S, 0.0),
}  # fmt: skip
SHARE: Mapping[str, Unit] = {"pct": (1.0, 0.0), "%": (1.0, 0.0)}


@dataclass(frozen=True, slots=True)
class Quantity:
    """What a column may hold. `low` and `high` are in its own unit, which `unit` names for people.

    `units` maps the spelling in a header to factor and offset; with a `""` among them a bare name is enough.
    """

    key: str
    names: tuple[str, ...]
    units: Mapping[str, Unit]
    low: float
    high: float
    unit: str
    shown: float = 1.0  # how many of the quantity's own unit one of `unit` is
    needed: bool = False
    may_be_empty: bool = True  # False: a row without it is dropped


@dataclass(frozen=True, slots=True)
class Texts:
    """A column that is kept as it is written: times, most often."""

    key: str
    names: tuple[str, ...]
    needed: bool = False


@dataclass(frozen=True, slots=True)
class Names:
    """What a header may say: names with units, without, and of texts."""

    spelled: Mapping[str, tuple[Quantity, Unit]]
    bare: Mapping[str, Quantity]
    written: Mapping[str, Texts]

    def knows(self, name: str) -> bool:
        """Whether a cell is one of the names, with its unit or without."""
        key = plain(name)
        return key in self.spelled or key in self.bare or key in self.written


def plain(name: str) -> str:
    """A header without the marks in which programs differ.

    >>> plain("Speed (km/h)"), plain("speed_km_h"), plain("Außen [°C]"), plain("SoC %"), plain("sun W/m²")
    ('speed km h', 'speed km h', 'aussen c', 'soc pct', 'sun w m2')
    """
    text = unicodedata.normalize("NFKC", name).casefold().replace("%", " pct ")
    return " ".join(re.findall(r"[^\W_]+", text))


def names_of(quantities: tuple[Quantity, ...], texts: tuple[Texts, ...]) -> Names:
    """What a header may say, in its plain form."""
    return Names(
        spelled={
            plain(f"{name} {unit}"): (quantity, factors)
            for quantity in quantities
            for name in quantity.names
            for unit, factors in quantity.units.items()
        },
        bare={plain(name): quantity for quantity in quantities for name in quantity.names},
        written={plain(name): text for text in texts for name in text.names},
    )


def missing(column: Quantity | Texts, row: str) -> BadInput:
    """A column that has to be there."""
    name = column.names[0]
    units = [unit for unit in column.units if unit] if isinstance(column, Quantity) else []
    example = " or ".join(f"{name} ({unit})" for unit in units[:2]) or name
    return BadInput(f"{row}, {name}", None, "the column is missing", f"name a column {example}")
