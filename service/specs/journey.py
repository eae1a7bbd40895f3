"""What is driven: a cycle, legs or a recording."""

from dataclasses import dataclass

__all__ = ["Cycle", "Journey", "Leg", "Track"]


@dataclass(frozen=True, slots=True)
class Cycle:
    """A regulatory drive cycle: one speed a second, from rest to rest."""

    id: str
    name: str
    source: str
    speed_m_s: tuple[float, ...]


@dataclass(frozen=True, slots=True)
class Leg:
    """A stretch at one cruising speed, with evenly spread stops, one grade (0.01 is 1 % uphill) and one heading."""

    distance_m: float
    speed_m_s: float
    stops_per_m: float = 0.0
    grade: float = 0.0
    heading_rad: float | None = None  # clockwise from north; None: not known


@dataclass(frozen=True, slots=True)
class Track:
    """A drive as recorded: knots in time, and the road between each two of them."""

    time_s: tuple[float, ...]  # from 0, rising; n of them
    speed_m_s: tuple[float, ...]  # at the knots; straight lines between them
    grade: tuple[float, ...] = ()  # rise over run, n − 1; empty: level
    heading_rad: tuple[float, ...] = ()  # clockwise from north, NaN where not known, n − 1; empty: not known


@dataclass(frozen=True, slots=True)
class Journey:
    """A regulatory cycle by id, legs, or a track: one of the three."""

    cycle: str | None = None
    legs: tuple[Leg, ...] = ()
    track: Track | None = None
