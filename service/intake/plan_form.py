"""The form of a charging plan, filled: the first page's car and circuit, two instants, a tariff → the request.

Scope    instants are typed on the tariff's own clock, without an offset; one that a clock put forward leaves out means
         the same after it. A tariff of one's own is a table of CSV text; its faults are told at the table, by row.
"""

from collections.abc import Mapping
from datetime import datetime
from zoneinfo import ZoneInfo

from service.catalogue import Catalogue
from service.catalogue.tariffs import zone_named
from service.errors import BadInput, BadInputs
from service.intake.charging_plan import ChargingPlanRequest, read_charging_plan
from service.intake.form import OWN, Filled, Plan, Scales, read_form
from service.quotes.charging_plan import PlanAsk

__all__ = ["charging_plan_from_form"]

ALWAYS = (
    *("charge_from", "charge_to", "health", "arrives", "departs", "preconditioned", "temperature"),
    *("climate", "set_point", "occupants", "month_kwh", "month_peak"),
)
OWN_TARIFF = ("tariff_table", "tariff_zone", "tariff_currency", "tariff_demand", "tariff_daily", "tariff_holidays")
TABLE = "tariff.spec.table"
UNTYPED = "give date and time as 2026-11-25 18:00"
MOVED = {"preconditioned": "start.preconditioned", "state_of_health_pct": "start.state_of_health_pct"}


def charging_plan_from_form(
    given: Mapping[str, str], catalogue: Catalogue
) -> Filled[tuple[PlanAsk, ChargingPlanRequest]]:
    """Read a filled form; inputs by name, as typed."""
    names = ALWAYS + (OWN_TARIFF if given.get("tariff") == OWN else ("tariff",))

    def read(raw: dict[str, object], scale_at: Scales) -> tuple[PlanAsk, ChargingPlanRequest]:
        body, faults = _body(raw, catalogue)
        try:
            question = read_charging_plan(body, catalogue, scale_at)
        except BadInputs as error:
            told = {fault.row.field for fault in faults}
            found = [fault for fault in error.faults if fault.row.field not in told]
            raise BadInputs(faults + _in_form(found)) from None
        if faults:
            raise BadInputs(faults)
        return question

    return read_form(given, catalogue, Plan(always=names, journey=False), read)


def _body(raw: dict[str, object], catalogue: Catalogue) -> tuple[dict[str, object], list[BadInput]]:
    """The request as plain data, and instants that cannot be read."""
    body, start = {name: value for name, value in raw.items() if name != "start"}, raw.get("start", {})
    body |= {name: start[name] for name in ("preconditioned", "state_of_health_pct") if name in start}
    tariff = body.setdefault("tariff", {})
    spec = tariff.get("spec")
    if isinstance(spec, dict) and isinstance(spec.get("holidays"), str):
        spec["holidays"] = spec["holidays"].split()
    zone, faults = _zone(tariff, catalogue), []
    for name in ("arrives", "departs"):
        try:
            typed = datetime.fromisoformat(str(body.get(name) or ""))
        except ValueError:
            faults.append(BadInput(name, body.get(name), "this is not a date and time", UNTYPED))
            continue
        body[name] = (typed if typed.tzinfo else typed.replace(tzinfo=zone)).isoformat()
    return body, faults


def _zone(tariff: Mapping[str, object], catalogue: Catalogue) -> ZoneInfo:
    """The clock on which instants were typed; UTC where nobody can tell, which is a fault elsewhere."""
    spec = tariff.get("spec")
    if isinstance(spec, dict):
        try:
            return ZoneInfo(zone_named(str(spec.get("time_zone"))))
        except ValueError:
            return ZoneInfo("UTC")
    known = catalogue.tariffs.get(str(tariff.get("id")))
    return ZoneInfo(known.zone if known else "UTC")


def _in_form(faults: list[BadInput]) -> list[BadInput]:
    """Paths as the form has them; of a table's faults the first, and how many more there are."""
    placed, of_table = [], []
    for fault in faults:
        row = fault.row
        if row.field.startswith(TABLE):
            of_table.append(row)
        elif row.field.startswith("tariff.spec.holidays"):
            placed.append(BadInput("tariff.spec.holidays", row.value, row.message, row.remedy))
        else:
            placed.append(BadInput(MOVED.get(row.field, row.field), row.value, row.message, row.remedy))
    if of_table:
        first, more = of_table[0], len(of_table) - 1
        where = first.field.removeprefix(TABLE).lstrip(", ")
        message = f"{where}: {first.message}" if where else first.message
        placed.append(BadInput(TABLE, first.value, message, first.remedy + (f"; {more} more like it" if more else "")))
    return placed
