"""The form of a commute, filled: the first page's inputs and those of a year → `CommuteAsk`, or errors.

Scope    the journey is the way there, whatever another page said of the way back. Twelve months stand in one input,
         spaces between, in the reader's units; a question mark is a month whose humidity, wind or sun is not known.
"""

from collections.abc import Mapping

from pydantic import ValidationError

from service.catalogue import Catalogue
from service.errors import BadInput, BadInputs
from service.intake.errors import faults_of
from service.intake.fields import MEMBERS
from service.intake.form import Filled, Plan, Scales, read_form
from service.intake.form_fields import FIELDS, measure_of, unit_of
from service.intake.months import MONTHS, TWELVE, WEATHER
from service.intake.number_text import in_plain_digits, number_in
from service.intake.year import CommuteRequest, year_faults
from service.quotes.commute import CommuteAsk

__all__ = ["commute_from_form"]

ALWAYS = (
    *("leaves_home", "leaves_work", "days_a_week", "weeks", "overnight", "work_charging", "place", "lows", "highs"),
    *("humidities", "winds", "suns"),
    *("latitude", "surface", "charge", "health", "preconditioned", "climate", "set_point", "occupants", "payload"),
    *("currency", "electricity_price", "work_price", "fuel_price", "grid", "fuel_co2", "fuel_use"),
)
INPUTS = {"lows_c": "lows", "highs_c": "highs", "humidities_pct": "humidities", "winds_km_h": "winds",
          "suns_kwh_m2_day": "suns"}  # fmt: skip
BY_PLACE, BY_MONTHS = ("place",), (*INPUTS.values(), "latitude")
NOT_KNOWN = "?"


def commute_from_form(given: Mapping[str, str], catalogue: Catalogue) -> Filled[tuple[CommuteAsk, CommuteRequest]]:
    """Read a filled form; inputs by name, as typed."""
    asked = {name: text for name, text in given.items() if name in FIELDS} | {"round_trip": "no"}
    asked |= _months_in_units(asked)
    system = "us" if asked.get("units") == "us" else "metric"
    typed = asked.get("year_by") == "typed"
    used = [name for name in ALWAYS if name not in (BY_PLACE if typed else BY_MONTHS)]
    if asked.get("work_charging") == "yes" and asked.get("work_circuit"):
        used.append("work_circuit")

    def read(raw: dict[str, object], scale_at: Scales) -> tuple[CommuteAsk, CommuteRequest]:
        body, faults = _body(raw, typed, system)
        try:
            request = CommuteRequest.model_validate(body)
        except ValidationError as error:
            told = {fault.row.field for fault in faults}
            found = [fault for fault in faults_of(error.errors(), scale_at) if fault.row.field not in told]
            raise BadInputs(_in_form([*faults, *found, *year_faults(body, catalogue)])) from None
        if faults:
            raise BadInputs(_in_form([*faults, *year_faults(body, catalogue)]))
        try:
            return request.commute(catalogue), request
        except BadInputs as error:
            raise BadInputs(_in_form(error.faults)) from None

    filled = read_form(asked, catalogue, Plan(always=tuple(used)), read)
    return Filled(
        filled.question, {**filled.values, "round_trip": str(given.get("round_trip") or "yes")}, filled.errors
    )


def _body(raw: Mapping[str, object], typed: bool, system: str) -> tuple[dict[str, object], list[BadInput]]:
    """The request as plain data, and what is wrong with its twelve months."""
    body = {name: value for name, value in raw.items() if name != "weather"}
    body["surface"] = raw.get("weather", {}).get("surface", "dry")
    if not typed:
        return body | {"place": body.get("place", "")}, []
    faults = []
    for name in TWELVE:
        text = str(body.get(name) or "")
        try:
            body[name] = None if name in WEATHER and not text else _twelve(name, text, system)
        except BadInput as fault:
            faults.append(fault)
            body[name] = [0.0] * MONTHS  # a stand-in, so that the rest of the form is checked, too
    return body, faults


def _twelve(name: str, text: str, system: str) -> list[float | None]:
    """Twelve metric numbers; None where a month is not known and need not be.

    >>> _twelve("lows_c", "14 " * 12, "us")[0], _twelve("winds_km_h", "? " * 12, "us")[0]
    (-10.0, None)
    """
    pieces = text.replace(";", " ").split()
    numbers = [number_in(piece, system) for piece in pieces]
    open_to = NOT_KNOWN if name in WEATHER else None
    odd = [piece for piece, number in zip(pieces, numbers, strict=True) if number is None and piece != open_to]
    if len(pieces) != MONTHS or odd:
        what = f"{odd[0][:20]!r} is not a number" if odd else f"there are {len(pieces) or 'no'} numbers"
        unknown = f", {NOT_KNOWN} for one that is not known" if open_to else ""
        raise BadInput(name, text, what, f"give twelve, January to December, with spaces between{unknown}")
    limit, measure = MEMBERS[name], measure_of(INPUTS[name], system)
    low, high = measure.shown(limit.low), measure.shown(limit.high)
    for number in numbers:
        if number is not None and not low <= number <= high:
            span = f"{low:.4g} to {high:.4g} {measure.unit}"
            raise BadInput(name, text, f"{number:g} is outside {span}", f"give {span}")
    return [None if number is None else measure.metric(number) for number in numbers]


def _months_in_units(asked: Mapping[str, str]) -> dict[str, str]:
    """Twelve numbers follow a switch of units, as single ones do; what is no number stays."""
    old, new = str(asked.get("typed_units")), str(asked.get("units"))
    if {old, new} != {"metric", "us"}:
        return {}

    def moved(name: str, piece: str) -> str:
        number = number_in(piece, old)
        if number is None:
            return piece
        return in_plain_digits(measure_of(name, new).shown(measure_of(name, old).metric(number)))

    return {
        name: " ".join(moved(name, piece) for piece in asked[name].replace(";", " ").split())
        for name in INPUTS.values()
        if asked.get(name) and unit_of(name, old) != unit_of(name, new)
    }


def _in_form(faults: list[BadInput]) -> list[BadInput]:
    """Paths as the form has them: twelve temperatures are one input."""
    places = {"surface": "weather.surface"}
    places |= {f"{name}[{month}]": name for name in TWELVE for month in range(MONTHS)}
    rows = [fault.row for fault in faults]
    return [BadInput(places.get(row.field, row.field), row.value, row.message, row.remedy) for row in rows]
