"""Where and when a car is driven: weather, road, place, clock."""

from dataclasses import dataclass
from enum import StrEnum

__all__ = ["Clock", "Place", "Procedure", "Surface", "Weather"]


class Procedure(StrEnum):
    """Open road, or rolls in a test cell."""

    ROAD = "road"
    DYNAMOMETER = "dynamometer"


@dataclass(frozen=True, slots=True)
class Surface:
    """What lies on the road: factor on tyre rolling resistance."""

    id: str
    name: str
    rolling_factor: float


@dataclass(frozen=True, slots=True)
class Place:
    """Monthly normals of one station. Twelve values each; None where the source has none."""

    id: str
    name: str
    country: str
    latitude_deg: float
    longitude_deg: float
    elevation_m: float | None
    coldest_k: tuple[float, ...]  # mean daily minimum of each month
    warmest_k: tuple[float, ...]  # mean daily maximum of each month
    relative_humidity: tuple[float | None, ...]
    wind_m_s: tuple[float | None, ...]
    sun_j_m2_day: tuple[float | None, ...]


@dataclass(frozen=True, slots=True)
class Clock:
    """When and where a drive starts. Solar time: the sun is highest at 12."""

    month: int  # 1 to 12
    hour: float  # 0 to 24
    latitude_deg: float  # north is positive


@dataclass(frozen=True, slots=True)
class Weather:
    """The day. Wind is the met office's, at 10 m, from any direction unless both it and the journey have one."""

    ambient_k: float
    relative_humidity: float | None = None
    wind_m_s: float | None = None
    sun_w_m2: float | None = None
    altitude_m: float = 0.0
    surface: str = "dry"  # id of data/surfaces.csv
    wind_from_rad: float | None = None  # clockwise from north; None: any direction
    clock: Clock | None = None  # tells the sun where `sun_w_m2` is not known
