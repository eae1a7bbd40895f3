"""The page's form, filled, as a question: flat text in the reader's units → `Ask`, or errors beside the inputs.

Scope    the page sends a query string. Nothing typed is lost: `values` gives every input back as it was typed.
Rules    empty means the default; a decimal comma is a point; yes and no are words. When the units are switched, the
         numbers follow (`typed_units` says in which units they were typed).
"""

import re
from collections.abc import Mapping
from dataclasses import dataclass, replace
from itertools import pairwise

from service.catalogue import Catalogue
from service.errors import BadInputs, ErrorRow
from service.intake.errors import dotted, range_text, unit_of_path
from service.intake.fields import LIMITS
from service.intake.form_fields import FIELDS, LEGS, UNITS, Field, default_of, limits_of, measure_of, scale_of, unit_of
from service.intake.quote import QuoteRequest, read_request
from service.specs import Ask

__all__ = ["FIELDS", "OWN", "FormResult", "ask_from_form", "default_of", "limits_of", "unit_of"]

OWN = "own"  # in place of a catalogue id: the figures are typed
BY_LEGS = "legs"  # in place of a cycle id
SHAPES = {
    "label": ("own_label", "own_consumption"),
    "parts": ("own_cd_a", "own_crr"),
    "newton": ("own_f0", "own_f1", "own_f2"),
    "pound_force": ("own_a", "own_b", "own_c"),
}
OWN_CAR = ("own_name", "own_kind", "own_mass", "own_mass_basis", "own_usable", "own_chemistry", "own_motor")
OWN_CAR_TOO = ("own_charger", "own_heating")
OWN_CIRCUIT = ("circuit_volts", "circuit_amps", "circuit_phases")
ALWAYS = (
    *("procedure", "temperature", "humidity", "wind", "sun", "altitude", "surface", "charge", "health", "soaked"),
    *("preconditioned", "climate", "set_point", "occupants", "payload"),
)
NUMBER = re.compile(r"[+\-−]?(\d+([.,]\d*)?|[.,]\d+)", re.ASCII)
LEG_PARTS = ("distance", "speed", "stops", "grade")
LONGEST = 80  # characters that an input keeps


@dataclass(frozen=True, slots=True)
class FormResult:
    """What a filled form says. `ask` is None when anything is wrong; then `errors` tells what, by input name."""

    ask: Ask | None
    values: Mapping[str, str]
    errors: Mapping[str, ErrorRow]
    request: QuoteRequest | None = None


@dataclass(frozen=True, slots=True)
class _Item:
    """One input that is in use, and its place in the question. `back`: on the way back, where grades turn over."""

    field: Field
    steps: tuple[str | int, ...]
    back: bool = False

    @property
    def path(self) -> str:
        """As an error names it."""
        return dotted(self.steps)


def ask_from_form(given: Mapping[str, str], catalogue: Catalogue) -> FormResult:
    """Read a filled form.

    Args:
        given: inputs by name, as typed; names that are not in `FIELDS` are ignored.
        catalogue: what ids mean, and the default car: its first.
    """
    values = _settled(given, catalogue)
    faults = _bad_choices(values)
    items = _items_in_use(values)
    system = values["units"] if values["units"] in UNITS else UNITS[0]
    faults |= _missing(items, values, system)
    scales = {item.path: scale_of(item.field.name, system) for item in items}
    try:
        request = read_request(
            _question(items, values, system), catalogue, lambda path: scales.get(path) or unit_of_path(path)
        )
        ask = request.ask(catalogue)
    except BadInputs as error:
        faults = _beside_inputs(error.rows(), items, values) | faults
    return FormResult(None, values, faults) if faults else FormResult(ask, values, {}, request)


def _settled(given: Mapping[str, str], catalogue: Catalogue) -> dict[str, str]:
    """Every input: trimmed, choices with their default, numbers in the units now chosen."""
    values = {name: str(given.get(name) or "").strip()[:LONGEST] for name in FIELDS}
    for name, field in FIELDS.items():
        if not values[name] and field.default and not field.is_number:
            values[name] = field.default
    values["vehicle"] = values["vehicle"] or next(iter(catalogue.vehicles))
    typed_units = values["typed_units"] or values["units"]
    if typed_units != values["units"] and {typed_units, values["units"]} <= set(UNITS):
        values |= _rewritten(values, typed_units, values["units"])
    return values | {"typed_units": values["units"]}


def _rewritten(values: Mapping[str, str], old: str, new: str) -> dict[str, str]:
    """The typed numbers in other units; what is no number stays as it is."""
    numbers = {name: _number(values[name]) for name, field in FIELDS.items() if field.is_number}
    return {
        name: f"{measure_of(name, new).shown(measure_of(name, old).metric(number)):.6g}"
        for name, number in numbers.items()
        if number is not None and unit_of(name, old) != unit_of(name, new)
    }


def _bad_choices(values: Mapping[str, str]) -> dict[str, ErrorRow]:
    """Choices that only the form has."""
    known = {"units": UNITS, "own_road_load": tuple(SHAPES), "round_trip": ("yes", "no")}
    return {
        name: ErrorRow(
            name, values[name], f"{values[name]!r} is not one of the choices", "choose one of: " + ", ".join(ids)
        )
        for name, ids in known.items()
        if values[name] not in ids
    }


def _missing(items: list[_Item], values: Mapping[str, str], system: str) -> dict[str, ErrorRow]:
    """Inputs that are in use, have no default, and were left empty."""
    names = [item.field.name for item in items if item.field.required and not values[item.field.name]]
    return {
        name: ErrorRow(
            name, "", "it is missing", "give " + range_text(LIMITS[FIELDS[name].leaf], scale_of(name, system))
        )
        for name in names
    }


def _items_in_use(values: Mapping[str, str]) -> list[_Item]:
    """The inputs that count, given what was chosen."""
    names = list(ALWAYS)
    if values["vehicle"] == OWN:
        names += OWN_CAR + OWN_CAR_TOO + SHAPES.get(values["own_road_load"], ())
    else:
        names.append("vehicle")
    if values["circuit"] == OWN:
        names += OWN_CIRCUIT
    elif values["circuit"]:
        names.append("circuit")
    items = [_Item(FIELDS[name], tuple(FIELDS[name].path.split("."))) for name in names]
    if values["journey"] != BY_LEGS:
        return [*items, _Item(FIELDS["journey"], ("journey", "cycle"))]
    return items + _legs_in_use(values)


def _legs_in_use(values: Mapping[str, str]) -> list[_Item]:
    """Legs with a distance or a speed; the first if there is none. A round trip has them again, backwards."""
    used = [number for number in LEGS if values[f"leg{number}_distance"] or values[f"leg{number}_speed"]] or [1]
    way = [(number, False) for number in used]
    if values["round_trip"] == "yes":
        way += [(number, True) for number in reversed(used)]
    return [
        _Item(field, ("journey", "legs", index, field.leaf), back)
        for index, (number, back) in enumerate(way)
        for field in (FIELDS[f"leg{number}_{part}"] for part in LEG_PARTS)
    ]


def _question(items: list[_Item], values: Mapping[str, str], system: str) -> dict[str, object]:
    """Nested plain data, metric, as a JSON body would hold it."""
    question: dict[str, object] = {}
    for item in items:
        text = values[item.field.name]
        if text or item.field.required:
            meaning = _meaning(item.field, text, system)
            _put(question, item.steps, _turned(meaning) if item.back and item.field.leaf == "grade_pct" else meaning)
    return question


def _turned(grade: object) -> object:
    """A grade on the way back."""
    return -grade if isinstance(grade, int | float) else grade


def _meaning(field: Field, text: str, system: str) -> object:
    """What was typed, as a metric number, a yes or no, or the text itself; None for nothing."""
    if field.yes_no:
        return {"yes": True, "no": False}.get(text, text)
    if not field.is_number:
        return text
    number = _number(text)
    if number is None:
        return text or None
    metric = measure_of(field.name, system).metric(number)
    return int(metric) if metric == int(metric) else metric


def _number(text: str) -> float | None:
    """A decimal number with point or comma; None if it is none.

    >>> _number("−3,5"), _number("1e3"), _number("1,000.5")
    (-3.5, None, None)
    """
    if not NUMBER.fullmatch(text):
        return None
    return float(text.replace(",", ".").replace("−", "-"))


def _put(tree: dict, steps: tuple[str | int, ...], value: object) -> None:
    """Set a leaf, growing objects and lists on the way."""
    here: dict | list = tree
    for step, following in pairwise(steps):
        fresh: dict | list = [] if isinstance(following, int) else {}
        if isinstance(here, list):
            if step == len(here):
                here.append(fresh)
            here = here[step]
        else:
            here = here.setdefault(step, fresh)
    here[steps[-1]] = value


def _beside_inputs(rows: list[ErrorRow], items: list[_Item], values: Mapping[str, str]) -> dict[str, ErrorRow]:
    """Each fault beside the input it is about, with the text that was typed there."""
    errors: dict[str, ErrorRow] = {}
    for row in rows:
        field = _input_of(row.field, items)
        if field is None:
            errors.setdefault("form", replace(row, field="form"))
            continue
        remedy = "choose yes or no" if field.yes_no else row.remedy
        errors.setdefault(field.name, replace(row, field=field.name, value=values[field.name], remedy=remedy))
    return errors


def _input_of(path: str, items: list[_Item]) -> Field | None:
    """The input at a path; for a fault of a whole group, the group's first input."""
    exact = [item.field for item in items if item.path == path]
    within = [item.field for item in items if item.path.startswith((f"{path}.", f"{path}["))]
    return next(iter(exact + within), None)
