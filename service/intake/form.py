"""A page's form, filled, as a question: flat text in the reader's units → `Ask`, or errors beside the inputs.

Scope    a page sends a query string. Nothing typed is lost: `values` gives every input back as it was typed. The forms
         of the other pages are read by `read_form`, too; a `Plan` says which inputs theirs have.
Rules    empty means the default; `number_text` says what a comma means; yes and no are words. When the units are
         switched, the numbers follow (`typed_units` says in which units they were typed).
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from itertools import pairwise
from typing import Generic, TypeVar

from service.catalogue import Catalogue
from service.errors import BadInput, BadInputs, ErrorRow
from service.intake.errors import Scale, dotted, range_text, unit_of_path
from service.intake.fields import LIMITS
from service.intake.form_fields import FIELDS, LEGS, UNITS, Field, default_of, limits_of, measure_of, scale_of, unit_of
from service.intake.journey import TrackIn
from service.intake.label import CITY_SHARE
from service.intake.number_text import in_plain_digits, number_in
from service.intake.quote import QuoteRequest, read_request
from service.intake.track_text import unpacked
from service.specs import Ask

__all__ = [
    "BY_TRACK",
    "FIELDS",
    "OUTFIT",
    "OWN",
    "Filled",
    "FormResult",
    "Plan",
    "Scales",
    "ask_from_form",
    "default_of",
    "limits_of",
    "read_form",
    "unit_of",
]

OWN = "own"  # in place of a catalogue id: the figures are typed
BY_LEGS = "legs"  # in place of a cycle id
BY_TRACK = "track"  # the same: a recording, which the page holds as text
UNKNOWN = "unknown"  # the same: nobody can tell
LABEL = "label"
OF_A_LABEL = ("own_label", "own_range", "own_hours", "own_basis")
CITY_HIGHWAY = ("own_city", "own_highway")
LABEL_AGREES = 0.03  # a label rounds to whole kWh/100 miles: of 25 each figure may be 2 % off; own choice
PHASES = ("own_low", "own_medium", "own_high", "own_extra_high")
SHAPES = {
    LABEL: OF_A_LABEL,
    "parts": ("own_cd_a", "own_crr"),
    "newton": ("own_f0", "own_f1", "own_f2"),
    "pound_force": ("own_a", "own_b", "own_c"),
}
OWN_CAR = ("own_name", "own_kind", "own_mass", "own_mass_basis", "own_usable", "own_chemistry", "own_motor")
OWN_CAR_TOO = ("own_charger", "own_heating", "own_size")
OWN_GEAR = (
    *("own_layout", "own_sun", "own_ring", "own_final_drive", "own_wheel_radius", "own_generator_rpm"),
    *("own_clutch", "own_generator_nm"),
)
OWN_CIRCUIT = ("circuit_volts", "circuit_amps", "circuit_phases")
OUTFIT = ("tyre_class", "winter_tyres", "tyres_set_at", "roof_box", "trailer", "body_load", "doors")
ALWAYS = (
    *("procedure", "temperature", "humidity", "wind", "sun", "altitude", "surface", "charge", "health", "soaked"),
    *("in_sun", "preconditioned", "climate", "set_point", "occupants", "payload"),
    *("wind_from", "clock_month", "clock_hour", "clock_latitude", *OUTFIT),
    *("cabin_air", "seat_heat"),
)
OF_A_QUOTE = (*ALWAYS, "drive_mode", "defrost", "currency", "electricity_price", "fuel_price")
LEG_PARTS = ("distance", "speed", "stops", "grade")
Question = TypeVar("Question")
Scales = Callable[[str], Scale]  # path of a field → how its numbers are shown
LONGEST = 80  # characters that an input keeps
LONGER = {  # a complaint of 500 is legal; twenty ids; months; a tariff of a hundred rows
    **{"words": 501, "vehicles": 2000, **dict.fromkeys(("lows", "highs", "humidities", "winds", "suns"), 160)},
    **{"tariff_table": 6000, "tariff_holidays": 400},
}


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


@dataclass(frozen=True, slots=True)
class Plan:
    """Which inputs a form has, and what an empty list to choose from means there."""

    always: tuple[str, ...] = ALWAYS
    journey: bool = True
    vehicle: bool = True  # one car is chosen; otherwise the figures of an own one count where `vehicles` names it
    open: frozenset[str] = frozenset()  # choices in which empty means "not known", not the default


@dataclass(frozen=True, slots=True)
class Filled(Generic[Question]):
    """A form as read: the question, or None and what is wrong, by input name."""

    question: Question | None
    values: Mapping[str, str]
    errors: Mapping[str, ErrorRow]


def ask_from_form(given: Mapping[str, str], catalogue: Catalogue) -> FormResult:
    """Read a filled form.

    Args:
        given: inputs by name, as typed; names that are not in `FIELDS` are ignored.
        catalogue: what ids mean, and the default car: its first.
    """

    def read(raw: object, scale_at: Scales) -> tuple[Ask, QuoteRequest]:
        told_in = {"units": UNITS[1]} if given.get("units") == UNITS[1] else {}
        request = read_request(raw | told_in, catalogue, scale_at)
        return request.ask(catalogue), request

    filled = read_form(given, catalogue, Plan(OF_A_QUOTE), read)
    ask, request = filled.question or (None, None)
    return FormResult(ask, filled.values, filled.errors, request)


def read_form(
    given: Mapping[str, str], catalogue: Catalogue, plan: Plan, read: Callable[[dict[str, object], Scales], Question]
) -> Filled[Question]:
    """Read a filled form of any page.

    Args:
        given: inputs by name, as typed; names that are not in `FIELDS` are ignored.
        plan: which inputs count.
        read: plain metric data, and how errors show its numbers → the question; raises BadInputs.
    """
    values = _settled(given, catalogue, plan)
    faults = _bad_choices(values)
    items = _items_in_use(values, plan)
    system = values["units"] if values["units"] in UNITS else UNITS[0]
    faults |= _missing(items, values, system) | _two_consumptions(items, values, system)
    scales = {item.path: scale_of(item.field.name, system) for item in items}
    question = None
    try:
        raw = _question(items, values, system)
        if plan.journey and values["journey"] == BY_TRACK:
            faults |= _wind_by_compass(values)
            raw["journey"] = {"track": _track(given.get("track", ""))}
        question = read(raw, lambda path: scales.get(path) or unit_of_path(path))
    except (BadInput, BadInputs) as error:
        faults = _beside_inputs(error.rows(), items, values) | faults
    return Filled(None if faults else question, values, faults)


def _settled(given: Mapping[str, str], catalogue: Catalogue, plan: Plan) -> dict[str, str]:
    """Every input: trimmed, choices with their default, numbers in the units now chosen."""
    values = {name: str(given.get(name) or "").strip()[: LONGER.get(name, LONGEST)] for name in FIELDS}
    for name, field in FIELDS.items():
        if not values[name] and field.default and not field.is_number and name not in plan.open:
            values[name] = field.default
    values["vehicle"] = values["vehicle"] or next(iter(catalogue.vehicles))
    typed_units = values["typed_units"] or values["units"]
    if typed_units != values["units"] and {typed_units, values["units"]} <= set(UNITS):
        values |= _rewritten(values, typed_units, values["units"])
    return values | {"typed_units": values["units"]}


def _rewritten(values: Mapping[str, str], old: str, new: str) -> dict[str, str]:
    """The typed numbers in other units; what is no number stays as it is, and so does what means the same in both."""
    numbers = {name: number_in(values[name], old) for name, field in FIELDS.items() if field.is_number}
    moved = {}
    for name, number in numbers.items():
        if number is None:
            continue
        if unit_of(name, old) != unit_of(name, new):
            moved[name] = in_plain_digits(measure_of(name, new).shown(measure_of(name, old).metric(number)))
        elif number_in(values[name], new) != number:  # 1,700 of the same unit is another number over there
            moved[name] = in_plain_digits(number, 15)  # all that was typed
    return moved


def _bad_choices(values: Mapping[str, str]) -> dict[str, ErrorRow]:
    """Choices that only the form has."""
    known = {
        "units": UNITS,
        "own_road_load": tuple(SHAPES),
        "round_trip": ("yes", "no"),
        "months_by": ("place", "temperatures"),
        "wind_from": ("", "0", "90", "180"),
        "year_by": ("place", "typed"),
    }
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


def _two_consumptions(items: list[_Item], values: Mapping[str, str], system: str) -> dict[str, ErrorRow]:
    """A combined consumption that city and highway beside it contradict: nobody can tell which one is meant."""
    if not set(CITY_HIGHWAY) <= {item.field.name for item in items}:
        return {}
    typed = values["own_consumption"]
    combined, city, highway = (number_in(values[name], system) for name in ("own_consumption", *CITY_HIGHWAY))
    unit = unit_of("own_consumption", system)
    if typed and combined is None:
        return {"own_consumption": ErrorRow("own_consumption", typed, f"{typed!r} is not a number", "leave it empty")}
    if combined is None or city is None or highway is None:
        return {}
    weighted = CITY_SHARE * city + (1 - CITY_SHARE) * highway
    if abs(combined - weighted) <= LABEL_AGREES * weighted:
        return {}
    message = f"{combined:.4g} {unit} combined is not what city and highway make together: {weighted:.3g} {unit}"
    remedy = "leave the combined figure empty, or city and highway, or correct the one that is wrong"
    return {"own_consumption": ErrorRow("own_consumption", typed, message, remedy)}


def _items_in_use(values: Mapping[str, str], plan: Plan) -> list[_Item]:
    """The inputs that count, given what was chosen."""
    names = list(plan.always)
    if values["vehicle"] == OWN if plan.vehicle else OWN in values["vehicles"].split(","):
        names += _own_car(values)
    elif plan.vehicle:
        names.append("vehicle")
    if values["circuit"] == OWN:
        names += OWN_CIRCUIT
    elif values["circuit"]:
        names.append("circuit")
    told = _told_by_label(values)
    fields = (replace(FIELDS[name], required=FIELDS[name].required and name not in told) for name in names)
    items = [_Item(field, tuple(field.path.split("."))) for field in fields]
    if not plan.journey or (values["journey"] == UNKNOWN and "journey" in plan.open):
        return items
    if values["journey"] == BY_TRACK:
        return [*items, _Item(FIELDS["journey"], ("journey", "track"))]
    if values["journey"] != BY_LEGS:
        return [*items, _Item(FIELDS["journey"], ("journey", "cycle"))]
    return items + _legs_in_use(values)


def _own_car(values: Mapping[str, str]) -> tuple[str, ...]:
    """Inputs of an own car that count: of a label those of its procedure and its kind of car."""
    names = OWN_CAR + OWN_CAR_TOO + OWN_GEAR + SHAPES.get(values["own_road_load"], ())
    if values["own_road_load"] != LABEL:
        return names
    us = values["own_label"] == "us"
    apart = us and any(values[name] for name in CITY_HIGHWAY)
    names += CITY_HIGHWAY if apart else ("own_consumption",)
    if values["own_kind"] != "bev":
        names += ("own_electric",)
    if us:
        return (*names, "own_adjustment")
    return names + (PHASES if any(values[name] for name in PHASES) else ())


def _told_by_label(values: Mapping[str, str]) -> frozenset[str]:
    """Inputs that an own car needs and that a label may stand for: mass, and with a range the battery."""
    if values["own_road_load"] != LABEL:
        return frozenset()
    reach = values["own_range"] or (values["own_kind"] != "bev" and values["own_electric"])
    return frozenset({"own_mass", "own_usable"} if reach else {"own_mass"})


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
    if values["wind_from"]:
        _head_out_and_back(question, {item.steps[2] for item in items if item.back})
    return question


def _head_out_and_back(question: dict[str, object], backwards: set[object]) -> None:
    """Wind on the form comes from ahead, behind or the side of the way out, so that way counts as north."""
    legs = question["journey"].get("legs", ()) if isinstance(question.get("journey"), dict) else ()
    for index, leg in enumerate(legs):
        leg["heading_deg"] = 180 if index in backwards else 0


def _track(text: str) -> dict[str, object]:
    """The recording that the page holds, as a JSON body would; raises BadInput."""
    if not text:
        raise BadInput("journey.track", None, "no recording has been read", "choose a file, and read it")
    return TrackIn.of(unpacked(text)).model_dump(exclude_none=True)


def _wind_by_compass(values: Mapping[str, str]) -> dict[str, ErrorRow]:
    """Ahead and behind mean nothing on a recording, which has headings of its own."""
    if not values["wind_from"]:
        return {}
    message = "a recording turns by the compass, and ahead or behind is not one direction on it"
    return {"wind_from": ErrorRow("wind_from", values["wind_from"], message, "choose any direction")}


def _turned(grade: object) -> object:
    """A grade on the way back."""
    return -grade if isinstance(grade, int | float) else grade


def _meaning(field: Field, text: str, system: str) -> object:
    """What was typed, as a metric number, a yes or no, or the text itself; None for nothing."""
    if field.yes_no:
        return {"yes": True, "no": False}.get(text, text)
    if not field.is_number:
        return text
    number = number_in(text, system)
    if number is None:
        return text or None
    metric = measure_of(field.name, system).metric(number)
    return int(metric) if metric == int(metric) else metric


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
