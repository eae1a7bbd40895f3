"""Faults of what arrived, in our words: the field, the value, the unit, the way out; every one at once.

Scope    turns pydantic's findings into `BadInput` and rows into plain JSON. Serves JSON bodies, the form, the command
         line. The numbers of a message can be shown in other units than the field's (`Scale`), for the US form.
"""

import json
import math
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from service.errors import BadInput, ErrorRow
from service.intake.fields import LIMITS, MEMBERS, TAG, Limit
from service.intake.vehicle import ROAD_LOAD_TAGS

__all__ = ["Scale", "dotted", "faults_of", "inward", "plain_row", "plain_value", "range_text", "unit_of_path"]

LONGEST_TEXT = 200  # of a value that is given back
LONGEST_FIELD = 160
MOST_TOLD = 200  # faults of one body; nobody reads more, and thousands would hold up everybody else
MONTHLY = ("lows_c", "highs_c")  # one number a month, neither more nor fewer
CONSUMPTION = "consumption_kwh_per_100_km"  # of a label: one figure, or city and highway


@dataclass(frozen=True, slots=True)
class Scale:
    """How a field's number is shown: a unit, and the arithmetic from the field's own unit."""

    unit: str
    shown: Callable[[float], float] = float


def unit_of_path(path: str) -> Scale:
    """The field's own unit."""
    limit = _limit_at(path)
    return Scale(limit.unit if limit else "")


def _limit_at(path: str) -> Limit | None:
    """What a number may be there; of a list's member, what each of the list may be."""
    leaf, bracket, _ = path.rpartition(".")[2].partition("[")
    return (MEMBERS.get(leaf) if bracket else None) or LIMITS.get(leaf)


def faults_of(
    errors: Iterable[Mapping[str, Any]], scale_of: Callable[[str], Scale] = unit_of_path, root: str = "body"
) -> list[BadInput]:
    """Pydantic's findings as faults. Several findings about one field are told as one: the first."""
    faults: dict[str, BadInput] = {}
    for error in errors:
        if len(faults) == MOST_TOLD:
            rest = BadInput(root, None, f"there is more wrong than these {MOST_TOLD} fields", "correct these first")
            return [*faults.values(), rest]
        fault = _fault(error, scale_of, root)
        faults.setdefault(fault.row.field, fault)
    return list(faults.values())


def _fault(error: Mapping[str, Any], scale_of: Callable[[str], Scale], root: str) -> BadInput:
    context = error.get("ctx") or {}
    path = dotted(error["loc"], root)
    if context.get("at"):
        path = context["at"] if path == root else f"{path}.{context['at']}"
    value = context.get("value", error.get("input"))
    if error["type"] == "missing":
        value = None
    message, remedy = _words(error["type"], path, value, context, scale_of(path), str(error.get("msg", "")))
    return BadInput(path, plain_value(value), message, remedy)


def dotted(location: Sequence[str | int], root: str = "body") -> str:
    """A path as people write it.

    >>> dotted(("body", "journey", "legs", 0, "speed_km_h"))
    'journey.legs[0].speed_km_h'
    >>> dotted(("vehicle", "spec", "road_load", "newton", "f0_n"))
    'vehicle.spec.road_load.f0_n'
    """
    steps = [step for step in location if not str(step).startswith(TAG)]
    if steps[:1] == [root]:
        del steps[0]
    if "road_load" in steps[:-1]:
        after = steps.index("road_load") + 1
        if steps[after] in ROAD_LOAD_TAGS:  # pydantic puts them into the path; people do not
            del steps[after]
    if CONSUMPTION in steps[:-1]:
        after = steps.index(CONSUMPTION) + 1
        if steps[after] in ("combined", "parts"):  # the same
            del steps[after]
    path = "".join(f"[{step}]" if isinstance(step, int) else f".{step}" for step in steps).lstrip(".")
    return _cut(path, LONGEST_FIELD) or root


def _words(
    kind: str, path: str, value: object, context: Mapping[str, Any], scale: Scale, fallback: str
) -> tuple[str, str]:
    """Message and remedy."""
    limit = _limit_at(path)
    give = f"give {range_text(limit, scale)}" if limit else ""
    shown = show(value)
    match kind:
        case "said":
            return context["message"], context["remedy"]
        case "missing":
            return "it is missing", give or _what_is_missing(path)
        case "not_a_number" if value is None:
            return "it is missing", give
        case "not_a_number" | "float_type" | "int_type":
            return f"{shown} is not a number", give or "give a number"
        case "finite_number":
            return f"{plain_value(value)} is not a finite number", give
        case "int_from_float":
            return f"{shown} is not a whole number", f"{give}, without a fraction"
        case "greater_than_equal" | "less_than_equal" | "greater_than" if limit:
            number = f"{scale.shown(value):.6g} {scale.unit}".rstrip()
            where = f"the range: {range_text(limit, scale)}" if limit.above else range_text(limit, scale)
            return f"{number} is outside {where}", give
        case "extra_forbidden":
            return "there is no such field", "leave it out, or correct its name"
        case "enum" | "literal_error":
            choices = str(context.get("expected", "")).replace("'", "").replace(" or ", ", ")
            return f"{shown} is not one of the choices", f"choose one of: {choices}"
        case "bool_type" | "bool_parsing":
            return f"{shown} is neither true nor false", "give true or false"
        case "string_type":
            return f"{shown} is not text", "give text in quotes"
        case "string_unicode" | "invalid_key":
            return "a name or text holds half a character", "correct the encoding of the text"
        case "string_too_long" | "string_too_short":
            return "the text is too long or empty", f"give 1 to {context.get('max_length', 80)} characters"
        case "model_type" | "model_attributes_type" | "dict_type":
            return f"{shown} is not an object of named fields", "give an object in curly brackets"
        case "list_type":
            return f"{shown} is not a list", "give a list in square brackets"
        case "too_short" | "too_long" if path in MONTHLY:
            return _how_many(context), "give twelve, January to December"
        case "too_short":
            return _how_many(context), f"give at least {context.get('min_length', 1)}"
        case "too_long":
            return _how_many(context), f"give at most {context.get('max_length')}"
        case _:
            return fallback or "it cannot be used", give or "see the description at /docs"


def _how_many(context: Mapping[str, Any]) -> str:
    """How long a list is."""
    count = context.get("actual_length")
    if count is None:
        return "there are too many"
    return {0: "there is none", 1: "there is one"}.get(count, f"there are {count}")


def _what_is_missing(path: str) -> str:
    """What to give where a whole part is missing."""
    return {
        "vehicle.spec.label.procedure": "choose one of: us, wltp",
        "vehicle": 'give {"id": …} or {"spec": …}',
        "journey": 'give {"cycle": …}, {"legs": […]} or {"track": {…}}',
        "vehicle.spec.kind": "choose one of: bev, phev, hybrid",
        "vehicle.spec.battery": 'give {"usable_kwh": …}',
        "vehicle.spec.road_load": "give a_lbf, b_lbf_per_mph, c_lbf_per_mph2; or f0_n, f1_n_per_km_h, "
        "f2_n_per_km_h2; or cd_a_m2, crr",
        "vehicle.spec.climate_system.heating": "choose one of: heat_pump, resistive, engine",
        "body": "send one JSON object",
    }.get(path, "give it")


def range_text(limit: Limit, scale: Scale) -> str:
    """A range in the unit shown, rounded inwards, so that both ends as printed are legal.

    >>> range_text(Limit(5, 200, "km/h"), Scale("mph", lambda x: x / 1.609344))
    '3.107 to 124.2 mph'
    """
    low, high = inward(limit, scale)
    start = f"more than {low:.6g}, at most" if limit.above else f"{low:.6g} to"
    return f"{start} {high:.6g} {scale.unit}".rstrip()


def inward(limit: Limit, scale: Scale) -> tuple[float, float]:
    """Both ends in the unit shown, to four significant digits, never beyond the true ends."""
    return _rounded(scale.shown(limit.low), math.ceil), _rounded(scale.shown(limit.high), math.floor)


def _rounded(value: float, towards: Callable[[float], int]) -> float:
    """Four significant digits, rounded up or down; a number that has no more is left alone."""
    plain = float(f"{value:.4g}")
    if math.isclose(value, plain, rel_tol=1e-9):
        return plain
    step = 10.0 ** (math.floor(math.log10(abs(value))) - 3)
    return float(f"{towards(value / step) * step:.4g}")


def show(value: object) -> str:
    """A value inside a sentence: JSON text, cut."""
    return _cut(json.dumps(plain_value(value), ensure_ascii=False), 60)


def plain_value(value: object) -> object:
    """Whatever was sent, made safe to give back as JSON: finite, printable, short."""
    if value is None or isinstance(value, bool):
        return value
    if isinstance(value, float):
        return value if math.isfinite(value) else str(value)
    if isinstance(value, int):
        return value if abs(value) < 10**15 else _cut(str(value), LONGEST_TEXT)
    if isinstance(value, str):
        return _cut(value, LONGEST_TEXT)
    if isinstance(value, bytes | bytearray):
        return _cut(bytes(value[:LONGEST_TEXT]).decode("utf-8", "replace"), LONGEST_TEXT)
    if isinstance(value, Mapping | list | tuple):
        return _plain_container(value)
    return _cut(str(value), LONGEST_TEXT)


def _plain_container(value: Mapping[Any, Any] | Sequence[Any]) -> object:
    """A small object as it is; a large one as the beginning of its text."""
    try:
        text = json.dumps(value, ensure_ascii=False, allow_nan=False, default=str)
    except (ValueError, RecursionError):
        return "an object that cannot be shown"
    if len(text) > LONGEST_TEXT:
        return _cut(text, LONGEST_TEXT)
    return json.loads(_printable(text))


def _cut(text: str, length: int) -> str:
    text = _printable(text)
    return text if len(text) <= length else text[: length - 1] + "…"


def _printable(text: str) -> str:
    """Without halves of surrogate pairs, which no encoder takes."""
    return text.encode("utf-8", "replace").decode("utf-8")


def plain_row(row: ErrorRow) -> dict[str, object]:
    """A row of any `ServiceError` as JSON."""
    return {
        "field": _cut(row.field, LONGEST_FIELD),
        "value": plain_value(row.value),
        "message": _printable(row.message),
        "remedy": _printable(row.remedy),
    }
