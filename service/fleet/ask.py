"""What a comparison asks, and the months of a place: frozen records in SI.

Month    a place has two temperatures a month, the means of the daily minimum and maximum; a comparison drives one of
         them: the one farther from the cabin's set point, the harder end of the day.
Why      a delivery day starts near the minimum with tyres, pack and cabin soaked to it; over the working hours the air
         is nearer the daily mean, which lies about 4–5 K above. But a month's days differ by about as much (one
         standard deviation of a winter's daily means, common practice), and the band takes the temperature as given.
         So the minimum stands for the colder days of the month, not for its average, and errs on the careful side;
         where heat is what is hard, the maximum does the same.
"""

from dataclasses import dataclass, field

from service.errors import BadInput
from service.specs import Cabin, Circuit, Journey, Outfit, Place, Start, Vehicle, Weather

__all__ = ["ComparisonAsk", "Month", "Route", "months_of", "moved_to", "vehicle_key"]

MONTH_NAMES = (
    "January", "February", "March", "April", "May", "June",
    "July", "August", "September", "October", "November", "December",
)  # fmt: skip
DAY_S = 86_400.0


@dataclass(frozen=True, slots=True)
class Route:
    """A journey driven so many times a day with so much load."""

    name: str
    journey: Journey
    trips_per_day: int = 1
    payload_kg: float = 0.0


@dataclass(frozen=True, slots=True)
class Month:
    """A named day: a month of a place, or whatever the asker calls it."""

    name: str
    weather: Weather


@dataclass(frozen=True, slots=True)
class ComparisonAsk:
    """Vehicles × routes × months, and what is the same for all of them. Names are unique within each tuple."""

    vehicles: tuple[Vehicle, ...]
    routes: tuple[Route, ...]
    months: tuple[Month, ...]
    reserve_m: float = 0.0
    start: Start = field(default_factory=Start)
    cabin: Cabin = field(default_factory=Cabin)
    circuit: Circuit | None = None  # None: the reference circuit of the region
    between_trips: bool = False  # refilled at the depot after every trip, not only overnight
    place: Place | None = None  # where the months come from, if they do
    outfit: Outfit = field(default_factory=Outfit)  # of every vehicle


def vehicle_key(vehicle: Vehicle) -> str:
    """What a vehicle is called in a comparison: its id in the catalogue, or the name of an own one."""
    return vehicle.name if vehicle.id == "own" else vehicle.id


def months_of(place: Place, set_point_k: float, surface: str = "dry") -> tuple[Month, ...]:
    """Twelve months of a place, each at the end of its day that lies farther from the cabin's set point.

    Sun is the mean over day and night, as everywhere in quotes; what the place does not tell stays unknown.
    """
    return tuple(
        Month(
            name,
            Weather(
                ambient_k=harder_k(place.coldest_k[k], place.warmest_k[k], set_point_k),
                relative_humidity=place.relative_humidity[k],
                wind_m_s=place.wind_m_s[k],
                sun_w_m2=None if place.sun_j_m2_day[k] is None else place.sun_j_m2_day[k] / DAY_S,
                altitude_m=place.elevation_m or 0.0,
                surface=surface,
            ),
        )
        for k, name in enumerate(MONTH_NAMES)
    )


def harder_k(coldest_k: float, warmest_k: float, set_point_k: float) -> float:
    """The end of a day's span of temperature that is harder on the cabin.

    >>> harder_k(287.0, 297.0, 294.0), harder_k(302.0, 314.0, 294.0)
    (287.0, 314.0)
    """
    return coldest_k if set_point_k - coldest_k >= warmest_k - set_point_k else warmest_k


def moved_to(fault: BadInput, old: str, new: str) -> BadInput:
    """The same fault at another place: what one question calls `vehicle` is `vehicles[3]` of a comparison.

    >>> moved_to(BadInput("vehicle.id", "x", "there is none", "choose"), "vehicle", "vehicles[3]").row.field
    'vehicles[3].id'
    """
    row = fault.row
    return BadInput(new + row.field.removeprefix(old), row.value, row.message, row.remedy)
