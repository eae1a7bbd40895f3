"""The form of a complaint, filled: the first page's inputs and those of a workshop → `Complaint`, or errors.

Scope    whatever is left empty counts as not known, choices included: the finding then says what it would be worth.
"""

from collections.abc import Mapping

from pydantic import ValidationError

from service.catalogue import Catalogue
from service.diagnosis.complaint import Complaint
from service.errors import BadInputs
from service.intake.complaint import ComplaintRequest
from service.intake.errors import faults_of
from service.intake.form import OUTFIT, Filled, Plan, Scales, read_form
from service.intake.form_fields import FIELDS
from service.intake.quote import unknown_ids

__all__ = ["OPEN_CHOICES", "complaint_from_form"]

OPEN_CHOICES = frozenset({"journey", "surface", "preconditioned", "climate", "parked"})
PLAN = Plan(
    always=(
        *("words", "reported", "end_charge", "temperature", "humidity", "wind", "sun", "altitude", "surface"),
        *("charge", "health", "in_sun", "preconditioned", "climate", "set_point", "occupants", "payload"),
        *("cabin_air", "seat_heat"),
        *("parked", "tyre_pressure", "placard_pressure", "odometer"),
        *OUTFIT,
    ),
    open=OPEN_CHOICES,
)


def complaint_from_form(given: Mapping[str, str], catalogue: Catalogue) -> Filled[tuple[Complaint, ComplaintRequest]]:
    """Read a filled form; inputs by name, as typed."""
    told = {name: text for name, text in given.items() if name in FIELDS or name == "track"}
    told["journey"] = told.get("journey") or "unknown"
    if "parked" not in told and told.get("soaked"):  # the other pages ask in this way
        told["parked"] = "warm" if told["soaked"] == "no" else "outside"

    def read(raw: dict[str, object], scale_at: Scales) -> tuple[Complaint, ComplaintRequest]:
        try:
            request = ComplaintRequest.model_validate(raw)
        except ValidationError as error:
            raise BadInputs(faults_of(error.errors(), scale_at) + unknown_ids(raw, catalogue)) from None
        return request.complaint_of(catalogue), request

    return read_form(told, catalogue, PLAN, read)
