"""The programs' side of the electric side: envelope, pack sizes, standing ready."""

from typing import Annotated

from fastapi import APIRouter, Body

from service.intake.assumed import listed
from service.intake.electric import EnvelopeRequest, PackSizesRequest, StandbyRequest
from service.quotes.envelope import build_envelope
from service.quotes.pack_size import build_pack_sizes
from service.quotes.standby import build_standby
from service.reporting.electric_out import EnvelopeOut, PackSizesOut, StandbyOut
from service.web.bodies import JsonRoute
from service.web.deps import CatalogueDep
from service.web.errors import error_responses

__all__ = ["router"]

router = APIRouter(prefix="/api", tags=["electric side"], route_class=JsonRoute)
FAULTS = error_responses(400, 413, 415, 422)
COLD = {"temperature_c": -10}
LEGS = {"legs": [{"distance_km": 13, "speed_km_h": 60, "stops_per_km": 0.5}]}
ENVELOPES = {
    "a plug-in on the level": {
        "summary": "A power-split plug-in of the catalogue, with a journey's points",
        "value": {"vehicle": {"id": "compact-plug-in"}, "journey": {"cycle": "us06"}, "weather": {"temperature_c": 20}},
    }
}
STANDBYS = {
    "an hour in the cold": {
        "summary": "Ready and not moving on a cold day",
        "value": {"vehicle": {"id": "compact-plug-in"}, "weather": COLD, "hours": 1},
    }
}
SIZES = {
    "half and twice": {
        "summary": "The same commute with a smaller and a larger pack",
        "value": {"vehicle": {"id": "compact-plug-in"}, "journey": LEGS, "weather": COLD, "usable_kwh": [4.4, 17.6]},
    }
}


@router.post("/envelopes", responses=FAULTS)
def create_envelope(
    question: Annotated[EnvelopeRequest, Body(openapi_examples=ENVELOPES)], catalogue: CatalogueDep
) -> EnvelopeOut:
    """What one car pulls, and how fast it goes, on electricity alone, and what limits it where."""
    answer = build_envelope(question.ask(catalogue), catalogue, question.oil(), question.engine_rad_s())
    return EnvelopeOut.of(listed(answer, question))


@router.post("/standbys", responses=FAULTS)
def create_standby(
    question: Annotated[StandbyRequest, Body(openapi_examples=STANDBYS)], catalogue: CatalogueDep
) -> StandbyOut:
    """How long the pack lasts with the car ready and not moving."""
    return StandbyOut.of(listed(build_standby(question.ask(catalogue), catalogue, question.asked_s()), question))


@router.post("/pack-sizes", responses=FAULTS)
def create_pack_sizes(
    question: Annotated[PackSizesRequest, Body(openapi_examples=SIZES)], catalogue: CatalogueDep
) -> PackSizesOut:
    """Range, consumption, payload and charging time of the same car with other packs."""
    answer = build_pack_sizes(question.ask(catalogue), catalogue, question.usable_j(), question.gross_kg)
    return PackSizesOut.of(listed(answer, question))
