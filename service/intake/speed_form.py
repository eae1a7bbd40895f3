"""The form of a speed table, filled: the first page's inputs without journey and temperature → the request.

Scope    the grid is not typed: round figures of the reader's units.
"""

from collections.abc import Mapping

from pydantic import ValidationError

from service import units
from service.catalogue import Catalogue
from service.errors import BadInputs
from service.intake.errors import faults_of
from service.intake.form import Filled, Plan, Scales, read_form
from service.intake.quote import unknown_ids
from service.intake.speed_table import SPEEDS_KM_H, TEMPERATURES_C, TRIP_DISTANCES_KM, SpeedTableRequest
from service.quotes.speed_table import SpeedAsk

__all__ = ["GRIDS", "speed_table_from_form"]

MPH_KM_H = units.MPH / units.KM_H
MILE_KM = units.MILE_M / 1000
GRIDS: dict[str, tuple[tuple[float, ...], tuple[float, ...], tuple[float, ...]]] = {  # speeds, temperatures, trips
    "metric": (SPEEDS_KM_H, TEMPERATURES_C, TRIP_DISTANCES_KM),
    "us": (
        tuple(mph * MPH_KM_H for mph in (30, 50, 60, 70, 80)),
        tuple(units.celsius_from_fahrenheit(degrees) for degrees in range(0, 101, 10)),
        tuple(miles * MILE_KM for miles in (3, 6, 12)),
    ),
}
PLAN = Plan(
    always=(
        *("procedure", "humidity", "wind", "sun", "altitude", "surface", "charge", "health", "soaked"),
        *("preconditioned", "climate", "set_point", "occupants", "payload", "trip_speed", "trip_stops"),
    ),
    journey=False,
)


def speed_table_from_form(given: Mapping[str, str], catalogue: Catalogue) -> Filled[tuple[SpeedAsk, SpeedTableRequest]]:
    """Read a filled form; inputs by name, as typed."""
    speeds, temperatures, distances = GRIDS.get(given.get("units") or "metric", GRIDS["metric"])

    def read(raw: dict[str, object], scale_at: Scales) -> tuple[SpeedAsk, SpeedTableRequest]:
        trip = {**raw.get("trip", {}), "distances_km": list(distances)}
        body = raw | {"speeds_km_h": list(speeds), "temperatures_c": list(temperatures), "trip": trip}
        try:
            request = SpeedTableRequest.model_validate(body)
        except ValidationError as error:
            raise BadInputs(faults_of(error.errors(), scale_at) + unknown_ids(body, catalogue)) from None
        unknown = unknown_ids(body, catalogue)
        if unknown:
            raise BadInputs(unknown)
        return request.question(catalogue), request

    return read_form(given, catalogue, PLAN, read)
