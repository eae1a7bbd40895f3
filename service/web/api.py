"""The programs' side: quotes, and what the catalogue holds."""

from typing import Annotated

from fastapi import APIRouter, Body

from service.intake.assumed import listed
from service.intake.quote import QuoteRequest
from service.quotes.build import build_quote
from service.reporting.answers import QuoteOut
from service.reporting.entries import CircuitEntry, CycleEntry, PlaceEntry, TyreClassEntry, VehicleEntry
from service.reporting.words import Units
from service.web.bodies import JsonRoute
from service.web.deps import CatalogueDep
from service.web.errors import error_responses

__all__ = ["router"]

router = APIRouter()
quotes = APIRouter(prefix="/api/quotes", tags=["quotes"], route_class=JsonRoute)
entries = APIRouter(prefix="/api", tags=["catalogue"])

EXAMPLES = {
    "winter": {
        "summary": "A car of the catalogue on a winter morning",
        "value": {
            "vehicle": {"id": "compact-plug-in"},
            "journey": {"legs": [{"distance_km": 13, "speed_km_h": 60, "stops_per_km": 0.5}]},
            "weather": {"temperature_c": -5},
            "circuit": {"id": "eu-household-10a"},
        },
    },
    "own car": {
        "summary": "A car by its figures on a regulatory cycle",
        "value": {
            "vehicle": {
                "spec": {
                    "kind": "bev",
                    "mass_kg": 1500,
                    "road_load": {"cd_a_m2": 0.62, "crr": 0.009},
                    "battery": {"usable_kwh": 45},
                }
            },
            "journey": {"cycle": "wltc_class3b"},
        },
    },
}


@quotes.post("", responses=error_responses(400, 413, 415, 422))
def create_quote(
    question: Annotated[QuoteRequest, Body(openapi_examples=EXAMPLES)], catalogue: CatalogueDep
) -> QuoteOut:
    """How far one car goes on electricity on one day, how long to refill it, and why."""
    quote = listed(build_quote(question.ask(catalogue), catalogue), question)
    return QuoteOut.from_quote(quote, Units(question.units))


@entries.get("/vehicles")
def list_vehicles(catalogue: CatalogueDep) -> list[VehicleEntry]:
    """Invented cars, each with the figures it is made of."""
    return [VehicleEntry.of(car) for car in catalogue.vehicles.values()]


@entries.get("/cycles")
def list_cycles(catalogue: CatalogueDep) -> list[CycleEntry]:
    """Regulatory drive cycles."""
    return [CycleEntry.of(cycle) for cycle in catalogue.cycles.values()]


@entries.get("/circuits")
def list_circuits(catalogue: CatalogueDep) -> list[CircuitEntry]:
    """Outlets and wall units."""
    return [CircuitEntry.of(circuit) for circuit in catalogue.circuits.values()]


@entries.get("/tyre-classes")
def list_tyre_classes(catalogue: CatalogueDep) -> list[TyreClassEntry]:
    """Fuel-efficiency classes of the tyre label."""
    return [TyreClassEntry.of(tyres) for tyres in catalogue.tyre_classes.values()]


@entries.get("/places")
def list_places(catalogue: CatalogueDep) -> list[PlaceEntry]:
    """Stations with monthly climate normals."""
    return [PlaceEntry.of(place) for place in catalogue.places.values()]


@router.get("/healthz", tags=["service"])
async def healthz() -> dict[str, str]:
    """Alive, with the catalogue loaded and the formulas compiled."""
    return {"status": "ok"}


router.include_router(quotes)
router.include_router(entries)
