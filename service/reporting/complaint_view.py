"""The finding on a complaint as a finished page: verdict, ruler with the reported distance as a pin, ledger, tests.

Scope    the answer only; the form beside it is `form_view`.
"""

from dataclasses import dataclass
from datetime import date

from service.diagnosis.complaint import CauseFound, ComplaintAnswer, Parked
from service.quotes.answer import CAUSES
from service.reporting import complaint_sentences as said
from service.reporting.answers import MODEL_VERSION
from service.reporting.assumption_rows import assumption_rows
from service.reporting.ledger_view import COLOURS, SHORT_NAMES
from service.reporting.ruler import NARROW, WIDE, Label, Ruler, Segment, draw_strip
from service.reporting.sentences import CAUSE_NAMES
from service.reporting.sheet_room import MISSING_ON_PAPER, tests_on_paper
from service.reporting.view_parts import Drawing, Row, cabin_extras, drawn
from service.reporting.words import (
    Units,
    assumed,
    bound,
    consumption_number,
    consumption_unit,
    distance,
    distance_number,
    distance_unit,
    odometer,
    per_cent,
    plain,
    temperature,
)
from service.specs import Climate

__all__ = ["CauseView", "ComplaintView", "complaint_view"]

HEADROOM = 1.06
UNEXPLAINED = "#c9cdd1"
PARKED_WORDS = {
    Parked.OUTSIDE: "parked outside",
    Parked.GARAGE: "parked in an unheated garage",
    Parked.WARM: "driven shortly before",
}


@dataclass(frozen=True, slots=True)
class CauseView:
    """One explanation and its test."""

    name: str
    typical: str
    km: str
    consumption: str
    needed: str
    plausible: bool
    test: str
    limit: str
    source: str
    mark: str
    on_paper: bool


@dataclass(frozen=True, slots=True)
class BesideView:
    """The expected ledger beside what the report comes to."""

    drawing: Drawing
    unit: str
    rows: tuple[Row, ...]
    expected: str
    measured: str
    extra: str


@dataclass(frozen=True, slots=True)
class ComplaintView:
    """Everything the page or the sheet prints."""

    title: str
    question: tuple[Row, ...]
    words: str
    headline: str
    second: str
    drawing: Drawing
    rows: tuple[Row, ...]
    ledger: BesideView
    distance_unit: str
    causes: tuple[CauseView, ...]
    left_out: str
    missing: tuple[Row, ...]
    missing_on_paper: int
    notes: tuple[str, ...]
    cautions: tuple[str, ...]
    assumptions: tuple[Row, ...]
    made_on: str
    version: str


def complaint_view(answer: ComplaintAnswer, journey_name: str, units: Units, made_on: date) -> ComplaintView:
    """The page of a finding.

    Args:
        answer: the finding, the question's defaults among its assumptions.
        journey_name: the journey in words; the view does not know its trace.
        made_on: printed on the sheet.
    """
    headline, second = said.headline(answer, units), said.second(answer, units)
    drawing, rows = _ruler(answer, units)
    ordered = sorted(answer.causes, key=lambda each: (not each.plausible, each.counted))
    on_paper = tests_on_paper([each.about for each in ordered], answer, headline, second)
    causes = tuple(_cause(each, answer, units, at < on_paper) for at, each in enumerate(ordered))
    return ComplaintView(
        title=headline.rstrip("."),
        question=_question(answer, journey_name, units),
        words=answer.complaint.words,
        headline=headline,
        second=second,
        drawing=drawing,
        rows=rows,
        ledger=_beside(answer, units),
        distance_unit=distance_unit(units),
        causes=causes,
        left_out="; ".join(said.in_short(each, units) for each in ordered[on_paper:]),
        missing=tuple(Row(each.question, said.missing_words(each, units), bound(each.why)) for each in answer.missing),
        missing_on_paper=MISSING_ON_PAPER,
        notes=tuple(bound(note) for note in answer.notes),
        cautions=tuple(bound(each) for each in answer.cautions),
        assumptions=assumption_rows(answer.assumptions, units),
        made_on=f"{made_on.day} {made_on:%B %Y}",
        version=MODEL_VERSION,
    )


def _ruler(answer: ComplaintAnswer, units: Units) -> tuple[Drawing, tuple[Row, ...]]:
    """The expected band with the reported distance as a pin."""

    def number(metres: float) -> float:
        return distance_number(metres, units)

    expected, reported_m = answer.expected, answer.complaint.reported_m
    low_m, middle_m, high_m = expected.p2_5, expected.band.p50, expected.p97_5
    rows = (
        Row("reported", distance(reported_m, units)),
        Row("39 cars in 40 get at least", distance(low_m, units)),
        Row("the usual car gets", distance(middle_m, units)),
        Row("1 car in 40 gets at least", distance(high_m, units)),
    )
    labels = (
        Label(number(reported_m), distance(reported_m, units), "reported", shape="pin"),
        Label(number(low_m), distance(low_m, units), "least"),
        Label(number(high_m), distance(high_m, units), "most"),
        Label(number(middle_m), distance(middle_m, units), "usual", shape="middle"),
    )
    ruler = Ruler(
        id="expected",
        title=f"Reported and expected distance in {distance_unit(units)}",
        description="; ".join(f"{row.name} {row.value}" for row in rows),
        top=number(max(reported_m, high_m)) * HEADROOM,
        low=number(low_m),
        middle=number(middle_m),
        high=number(high_m),
        labels=labels,
        numeral=lambda value: (f"{value:g}" + (f" {distance_unit(units)}" if value == 0 else ""), ""),
    )
    return drawn(ruler), rows


def _beside(answer: ComplaintAnswer, units: Units) -> BesideView:
    """Expected by cause, and the reported distance as consumption."""
    ledger = {cause: answer.ledger_j_per_m.get(cause, 0.0) for cause in CAUSES}
    told = {cause: plain(consumption_number(value, units)) for cause, value in ledger.items()}
    rows = tuple(Row(CAUSE_NAMES[cause].capitalize(), told[cause]) for cause in CAUSES if told[cause] != "0")
    segments = [Segment(SHORT_NAMES[cause], value, COLOURS[cause]) for cause, value in ledger.items() if value > 0]
    extra_j_m = answer.measured_j_per_m - sum(ledger.values())
    if extra_j_m > 0:
        segments.append(Segment("more than expected", extra_j_m, UNEXPLAINED))
    expected, measured, extra = said.measured_words(answer, units)
    title = "Energy for each stretch of road: expected, by cause, and what the reported distance comes to"
    description = "; ".join(f"{row.name} {row.value} {consumption_unit(units)}" for row in rows)
    strip = Drawing(*(draw_strip("beside", title, f"{description}; {extra} more", segments, s) for s in (WIDE, NARROW)))
    return BesideView(strip, consumption_unit(units), rows, expected, measured, extra)


def _cause(cause: CauseFound, answer: ComplaintAnswer, units: Units, on_paper: bool) -> CauseView:
    about = cause.about
    return CauseView(
        name=about.name[:1].upper() + about.name[1:],
        typical=said.sized(cause, cause.size),
        km=said.takes(cause, units),
        consumption=said.adds(cause, units),
        needed=said.needed_words(cause, answer),
        plausible=cause.plausible,
        test=bound(about.test),
        limit=bound(about.limit),
        source=bound(about.limit_source),
        mark=bound(about.limit_mark),
        on_paper=on_paper,
    )


def _question(answer: ComplaintAnswer, journey_name: str, units: Units) -> tuple[Row, ...]:
    """What was asked, a row for each group of the form."""
    complaint, ask = answer.complaint, answer.complaint.ask
    open_ = complaint.left_open
    charge = f"{per_cent(ask.start.state_of_charge)} to {per_cent(complaint.end_charge)} charged"
    where = PARKED_WORDS.get(complaint.parked, "parking place not known")
    climate = "heating and cooling off"
    if "cabin.climate" in open_:
        climate = "not known, taken as on"
    elif ask.cabin.climate is Climate.AUTO:
        climate = f"kept at {temperature(ask.cabin.set_point_k, units)}"
    day = temperature(ask.weather.ambient_k, units)
    return (
        Row("Complaint", f"{distance(complaint.reported_m, units)} reported"),
        Row("Car", ask.vehicle.name),
        Row("Journey", journey_name),
        Row("Day", f"{day} assumed" if "weather.temperature_c" in open_ else f"{day}, {ask.weather.surface} road"),
        Row("Cabin", climate + cabin_extras(ask.cabin)),
        Row("Start", f"{charge}, {where}{', in the sun' if ask.start.in_sun else ''}"),
        Row("Condition", _condition(answer, units)),
        Row("Units", "miles, °F" if units is Units.US else "kilometres, °C"),
    )


def _condition(answer: ComplaintAnswer, units: Units) -> str:
    """Tyres, and the age of the pack."""
    complaint = answer.complaint
    parts = ["tyres not measured"]
    if complaint.tyre_pa is not None:
        parts = [f"tyres at {assumed(complaint.tyre_pa / 1000, 'kPa', units)}"]
    if complaint.health_stated:
        parts.append(f"{per_cent(complaint.ask.start.state_of_health)} of capacity measured")
    elif complaint.odometer_m is not None:
        parts.append(f"{odometer(complaint.odometer_m, units)} on the odometer")
    return ", ".join(parts)
