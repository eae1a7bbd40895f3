"""The form of a comparison, filled: routes already read from their table, and the inputs beside it → the request.

Scope    an own vehicle has the same inputs as on the first page; months are a place's, or three temperatures.
"""

from collections.abc import Mapping, Sequence

from pydantic import ValidationError

from service.catalogue import Catalogue
from service.errors import BadInput, BadInputs, ErrorRow
from service.fleet.ask import ComparisonAsk, moved_to
from service.intake.comparison import ComparisonRequest, RouteIn, across_faults
from service.intake.errors import faults_of
from service.intake.form import FIELDS, OUTFIT, OWN, Filled, Plan, Scales, read_form

__all__ = ["TEMPERATURES", "comparison_from_form"]

TEMPERATURES = {"cold": "cold weather", "mild": "mild weather", "hot": "hot weather"}  # input → what the day is called
SHARED_DAY = ("humidity_pct", "wind_km_h", "sun_w_m2", "altitude_m")  # where no place tells
PLAN = Plan(
    always=(
        *("humidity", "wind", "sun", "altitude", "surface", "charge", "health", "preconditioned", "soaked"),
        *("climate", "set_point", "occupants", "place", "cold", "mild", "hot", "reserve", "between_trips"),
        *OUTFIT,
        *("cabin_air", "seat_heat"),
    ),
    journey=False,
    vehicle=False,
)
NO_VEHICLE = ErrorRow("vehicles", "", "no vehicle is ticked", "tick at least one")


def comparison_from_form(
    given: Mapping[str, str], routes: Sequence[RouteIn], catalogue: Catalogue
) -> Filled[tuple[ComparisonAsk, ComparisonRequest]]:
    """Read a filled form.

    Args:
        given: inputs by name, as typed; `vehicles` holds ids with commas between them.
        routes: at least one, valid.
    """
    ticked = [each for each in str(given.get("vehicles") or "").split(",") if each]
    ids = ticked or [next(iter(catalogue.vehicles))]  # a stand-in, so that the rest of the form is checked, too
    by_place = (given.get("months_by") or "place") == "place"

    def read(raw: dict[str, object], scale_at: Scales) -> tuple[ComparisonAsk, ComparisonRequest]:
        body, back = _body(raw, ids, by_place, routes)
        try:
            request = ComparisonRequest.model_validate(body)
        except ValidationError as error:
            faults = faults_of(error.errors(), lambda path: scale_at(_moved(path, back)))
            raise BadInputs(_all_moved(faults + across_faults(body, catalogue), back)) from None
        try:
            return request.ask(catalogue), request
        except BadInputs as error:
            raise BadInputs(_all_moved(error.faults, back)) from None

    filled = read_form(given, catalogue, PLAN, read)
    if ticked:
        return filled
    return Filled(None, filled.values, {**filled.errors, "vehicles": NO_VEHICLE})


def _body(
    raw: Mapping[str, object], ids: Sequence[str], by_place: bool, routes: Sequence[RouteIn]
) -> tuple[dict[str, object], dict[str, str]]:
    """The request as plain data, and how its paths are called in the form."""
    kept = {name: raw[name] for name in ("start", "cabin", "circuit", "reserve_km") if name in raw}
    kept["charge_at_depot_between_trips"] = raw.get("charge_at_depot_between_trips", False)
    day = raw.get("weather", {})
    body = kept | {"routes": [route.model_dump(exclude_none=True) for route in routes]}
    body["vehicles"] = [raw.get("vehicle", {}) if each == OWN else {"id": each} for each in ids]
    body["surface"] = day.get("surface", "dry")
    back = {f"vehicles[{at}]": "vehicle" for at, each in enumerate(ids) if each == OWN}
    if by_place:
        return body | {"place": raw.get("place", "")}, back
    shared = {name: day[name] for name in SHARED_DAY if name in day}
    days = raw.get("months", {})
    body["months"] = [{"name": said, **days.get(name, _default(name)), **shared} for name, said in TEMPERATURES.items()]
    for at, name in enumerate(TEMPERATURES):
        back |= {f"months[{at}].temperature_c": f"months.{name}.temperature_c"}
        back |= {f"months[{at}].{leaf}": f"weather.{leaf}" for leaf in SHARED_DAY}
    return body, back


def _default(name: str) -> dict[str, float]:
    """What a temperature left empty means."""
    return {"temperature_c": float(FIELDS[name].default)}


def _moved(path: str, back: Mapping[str, str]) -> str:
    """A path of the request as the form has it."""
    start = next((start for start in back if path == start or path.startswith(f"{start}.")), None)
    return path if start is None else back[start] + path.removeprefix(start)


def _all_moved(faults: Sequence[BadInput], back: Mapping[str, str]) -> list[BadInput]:
    return [moved_to(fault, fault.row.field, _moved(fault.row.field, back)) for fault in faults]
