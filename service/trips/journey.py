"""Any journey as a trace: a regulatory cycle of the catalogue, or legs."""

from service.catalogue import Catalogue
from service.errors import BadInput
from service.specs import Journey
from service.trips.legs import legs_trace
from service.trips.trace import Trace, cycle_trace

__all__ = ["trace_of"]


def trace_of(journey: Journey, catalogue: Catalogue) -> Trace:
    """The journey, drivable.

    Errors: `UnknownEntry` for a cycle that the catalogue lacks, `BadInput` for a journey of nothing.
    """
    if journey.cycle is not None:
        return cycle_trace(catalogue.cycle(journey.cycle))
    if not journey.legs:
        raise BadInput("journey", None, "there is neither a cycle nor a leg", "give a cycle or at least one leg")
    return legs_trace(journey.legs)
