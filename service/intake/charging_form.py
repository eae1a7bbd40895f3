"""The form of a charging session, filled: the first page's car, outside temperature and circuit, and its own inputs.

Rules    an empty battery temperature means as warm as the air; a station counts only where one is chosen, a run of
         cable only where its length is typed.
"""

from collections.abc import Mapping

from service.catalogue import Catalogue
from service.errors import BadInput, BadInputs
from service.intake.charging_session import ChargingSessionRequest, read_session
from service.intake.form import Filled, Plan, Scales, read_form
from service.intake.form_fields import FIELDS
from service.quotes.charging_ask import SessionAsk

__all__ = ["DIRECT", "charging_from_form"]

DIRECT = "dc"
PLAN = Plan(
    always=(
        *("temperature", "health", "from_pct", "to_pct", "pack_temperature", "pilot_amps", "phases_live"),
        *("station_kw", "station_amps", "run_length", "run_section", "run_gauge"),
    ),
    journey=False,
)
ON_THE_FORM = {  # places of the request that other pages keep elsewhere
    "outside_temperature_c": "weather.temperature_c",
    "state_of_health_pct": "start.state_of_health_pct",
}


def charging_from_form(
    given: Mapping[str, str], catalogue: Catalogue
) -> Filled[tuple[SessionAsk, ChargingSessionRequest]]:
    """Read a filled form; inputs by name, as typed."""
    direct = given.get("current_kind") == DIRECT

    def read(raw: dict[str, object], scale_at: Scales) -> tuple[SessionAsk, ChargingSessionRequest]:
        try:
            scales = lambda path: scale_at(ON_THE_FORM.get(path, path))  # noqa: E731
            request = read_session(body_of(raw, direct), catalogue, scales)
            return request.question(catalogue), request
        except BadInputs as error:
            faults = [on_the_form(fault) for fault in error.faults]
            typed = "pack_temperature_c" in raw  # else it is the air's, whose fault is told at its own input
            raise BadInputs(each for each in faults if typed or each.row.field != "pack_temperature_c") from None

    return read_form(given, catalogue, PLAN, read)


def body_of(raw: dict[str, object], direct: bool) -> dict[str, object]:
    """What was typed as the interface for programs asks it."""
    weather, start = raw.get("weather") or {}, raw.get("start") or {}
    body = {name: value for name, value in raw.items() if name not in ("weather", "start", "procedure")}
    body["outside_temperature_c"] = weather.get("temperature_c", number("temperature"))
    body.setdefault("pack_temperature_c", body["outside_temperature_c"])
    for name in ("from_pct", "to_pct"):
        body.setdefault(name, number(name))
    if "state_of_health_pct" in start:
        body["state_of_health_pct"] = start["state_of_health_pct"]
    body["circuit"] = circuit_of(dict(raw.get("circuit") or {}), direct)
    if direct:
        body.pop("pilot_amps", None)
        body.pop("phases_live", None)
    return body


def circuit_of(typed: dict[str, object], direct: bool) -> dict[str, object]:
    """The station where one is chosen, else the circuit with its run of cable, if that has a length."""
    station = {"dc_kw": typed.pop("dc_kw", number("station_kw")), "dc_amps": typed.pop("dc_amps", None)}
    if direct:
        return station
    if not (typed.get("run") or {}).get("length_m"):
        typed.pop("run", None)
    return typed


def number(name: str) -> float:
    """Default of an input."""
    return float(FIELDS[name].default)


def on_the_form(fault: BadInput) -> BadInput:
    """A fault at the place where this form has its input."""
    row = fault.row
    return BadInput(ON_THE_FORM.get(row.field, row.field), row.value, row.message, row.remedy)
