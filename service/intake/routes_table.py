"""Routes as the table people type and edit: CSV text, a row a leg, in the units of the reader."""

import csv
import io
from collections.abc import Iterable

from service.intake.comparison import RouteIn
from service.units import KM_H, MILE_M, MPH, POUND_KG

__all__ = ["routes_table"]

COLUMNS = {  # as the intake of tables names them
    "metric": ("route", "trips_per_day", "payload_kg", "distance_km", "speed_km_h", "stops_per_km", "grade_pct"),
    "us": ("route", "trips_per_day", "payload_lb", "distance_mi", "speed_mph", "stops_per_mi", "grade_pct"),
}
MILE_KM = MILE_M / 1000
KM_H_PER_MPH = MPH / KM_H


def routes_table(routes: Iterable[RouteIn], units: str) -> str:
    """The table, in "metric" or "us" units. Trips and load stand on a route's first row.

    Source: RFC 4180, with the line ends of a text area.
    """
    routes = list(routes)
    text = io.StringIO()
    writer = csv.writer(text, lineterminator="\n")
    cycles = any(route.journey.cycle for route in routes)
    headed = any(leg.heading_deg is not None for route in routes for leg in route.journey.legs or ())
    writer.writerow([*COLUMNS[units], *(["heading_deg"] if headed else []), *(["cycle"] if cycles else [])])
    for route in routes:
        first = [str(route.trips_per_day), _number(route.payload_kg / (POUND_KG if units == "us" else 1.0))]
        for leg in route.journey.legs or ():
            figures = (leg.distance_km, leg.speed_km_h, leg.stops_per_km, leg.grade_pct)
            if units == "us":
                figures = (figures[0] / MILE_KM, figures[1] / KM_H_PER_MPH, figures[2] * MILE_KM, figures[3])
            heading = [] if not headed else ["" if leg.heading_deg is None else _number(leg.heading_deg)]
            writer.writerow([route.name, *first, *map(_number, figures), *heading, *([""] if cycles else [])])
            first = ["", ""]
        if route.journey.cycle:
            writer.writerow([route.name, *first, "", "", "", "", *([""] if headed else []), route.journey.cycle])
    return text.getvalue()


def _number(value: float) -> str:
    """Three significant digits, enough for what people type; more where it was typed with more."""
    return f"{value:.4g}"
