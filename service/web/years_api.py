"""The programs' side of a year: a journey by month, and a commute there and back."""

from typing import Annotated

from fastapi import APIRouter, Body

from service.intake.year import CommuteRequest, YearRequest, with_defaults, year_faults
from service.quotes.commute import build_commute
from service.quotes.year import build_year
from service.reporting.year_out import CommuteOut, YearOut
from service.web.bodies import AcrossRoute
from service.web.deps import CatalogueDep
from service.web.errors import error_responses

__all__ = ["router"]


class YearRoute(AcrossRoute):
    """A JSON route whose faults name unknown places and circuits, too."""

    across = staticmethod(year_faults)


router = APIRouter(prefix="/api", tags=["years"], route_class=YearRoute)

EXAMPLES = {
    "plug-in hybrid in a cold place": {
        "summary": "Thirty-eight kilometres a day, a household outlet at home, nothing at work",
        "value": {
            "vehicle": {"id": "compact-plug-in"},
            "journey": {
                "legs": [
                    {"distance_km": 3, "speed_km_h": 40, "stops_per_km": 1.5},
                    {"distance_km": 16, "speed_km_h": 80, "stops_per_km": 0.1},
                ]
            },
            "place": "chicago",
            "leaves_home_hour": 7.5,
            "leaves_work_hour": 17,
            "circuit": {"id": "na-household-15a"},
            "prices": {"currency": "USD", "electricity_per_kwh": 0.17, "fuel_per_l": 0.95},
        },
    },
    "typed months": {
        "summary": "A battery-electric car that is charged at work, months typed",
        "value": {
            "vehicle": {"id": "small-electric-hatch"},
            "journey": {"legs": [{"distance_km": 45, "speed_km_h": 90}]},
            "lows_c": [-8, -7, -4, 1, 6, 11, 14, 13, 9, 5, 0, -5],
            "highs_c": [-1, -1, 3, 9, 16, 20, 23, 21, 15, 9, 4, 1],
            "charge_at_work": True,
            "weekdays": ["mon", "tue", "thu"],
        },
    },
}
YEARS = {
    name: {
        "summary": example["summary"].partition(",")[0],
        "value": {
            field: value
            for field, value in example["value"].items()
            if field not in ("leaves_home_hour", "leaves_work_hour", "charge_at_work")
        },
    }
    for name, example in EXAMPLES.items()
}


@router.post("/years", responses=error_responses(400, 413, 415, 422))
def create_year(question: Annotated[YearRequest, Body(openapi_examples=YEARS)], catalogue: CatalogueDep) -> YearOut:
    """A journey driven so many times a day: range, energy, cost and CO2 in each month of a place."""
    return YearOut.from_year(with_defaults(build_year(question.year(catalogue), catalogue), question))


@router.post("/commutes", responses=error_responses(400, 413, 415, 422))
def create_commute(
    question: Annotated[CommuteRequest, Body(openapi_examples=EXAMPLES)], catalogue: CatalogueDep
) -> CommuteOut:
    """On how many days of the year a commute is driven on electricity, what it takes, costs and gives off."""
    return CommuteOut.from_commute(with_defaults(build_commute(question.commute(catalogue), catalogue), question))
