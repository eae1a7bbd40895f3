"""Rows of places.csv as specs: twelve months of one station after another."""

from itertools import groupby
from pathlib import Path

from service.catalogue.tables import Row, read_table
from service.specs import Place
from service.units import KWH_J, kelvin_from_celsius

__all__ = ["read_places"]

MONTHS = 12


def read_places(folder: Path) -> dict[str, Place]:
    """Climate normals by id, in file order.

    Raises: BadTable unless each place has its twelve months in order, the same station in all of them, and figures
        within what has been recorded on Earth.
    """
    rows = read_table(folder, "places", key=("id", "month")).rows()
    return {place: _place(place, list(months)) for place, months in groupby(rows, lambda row: row.text("id"))}


def _place(place: str, months: list[Row]) -> Place:
    _check_months(months)
    first = months[0]
    return Place(
        id=place,
        name=first.text("place"),
        country=first.text("country"),
        latitude_deg=first.number_in("lat", -90, 90),
        longitude_deg=first.number_in("lon", -180, 180),
        elevation_m=first.optional_number_in("elevation_m", -430, 5000),  # Dead Sea shore to the highest towns
        coldest_k=tuple(kelvin_from_celsius(row.number_in("t_min_c", -60, 45)) for row in months),
        warmest_k=tuple(kelvin_from_celsius(_warmest_c(row)) for row in months),
        relative_humidity=_scaled(months, "rh_percent", 1, 100, 0.01),
        wind_m_s=_scaled(months, "wind_m_s", 0, 25, 1.0),
        sun_j_m2_day=_scaled(months, "ghi_kwh_m2_day", 0, 12, KWH_J),  # 12 kWh/m² is about the most above the air
    )


def _check_months(months: list[Row]) -> None:
    station = ("place", "country", "lat", "lon", "elevation_m")
    for number, row in enumerate(months, start=1):
        if row.count_in("month", 1, MONTHS) != number:
            raise row.fault("month", f"month {number} should stand here")
        for column in station:
            if row.optional_text(column) != months[0].optional_text(column):
                raise row.fault(column, "it differs from the first month of the same place")
    if len(months) != MONTHS:
        raise months[-1].fault("month", f"the place ends after {len(months)} of {MONTHS} months")


def _warmest_c(row: Row) -> float:
    return row.number_in("t_max_c", row.number_in("t_min_c", -60, 45), 55)


def _scaled(months: list[Row], column: str, low: float, high: float, factor: float) -> tuple[float | None, ...]:
    values = (row.optional_number_in(column, low, high) for row in months)
    return tuple(None if value is None else value * factor for value in values)
