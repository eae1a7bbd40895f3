"""Any journey as a trace: a regulatory cycle of the catalogue, legs, or a recorded track."""

from service.catalogue import Catalogue
from service.errors import BadInput
from service.specs import Journey
from service.trips.legs import legs_trace
from service.trips.trace import Trace, cycle_trace
from service.trips.track import track_trace

__all__ = ["trace_of"]


def trace_of(journey: Journey, catalogue: Catalogue) -> Trace:
    """The journey, drivable.

    Errors: `UnknownEntry` for a cycle that the catalogue lacks, `BadInput` for a journey of nothing.
    """
    if journey.cycle is not None:
        return cycle_trace(catalogue.cycle(journey.cycle))
    if journey.track is not None:
        return track_trace(journey.track)
    if not journey.legs:
        message = "there is neither a cycle nor a leg nor a track"
        raise BadInput("journey", None, message, "give a cycle, a track or at least one leg")
    return legs_trace(journey.legs)
