"""A quote as a finished page: every sentence, figure and drawing made, nothing left for a template to work out.

Scope    the answer only; the form beside it is `form_view`.
"""

from dataclasses import dataclass

from service.quotes.answer import Quote
from service.reporting import sentences
from service.reporting.assumption_rows import assumption_rows
from service.reporting.charging_view import ChargingView, charging_view
from service.reporting.distance_view import distance_view
from service.reporting.engine_sentences import engine_answers
from service.reporting.form_layout import CHOICES
from service.reporting.ledger_view import LedgerView, ledger_view
from service.reporting.view_parts import Drawing, Row, Setting, cabin_extras, parked_words
from service.reporting.words import Units, bound, distance, mass, per_cent, prices_told, temperature
from service.specs import Ask, Climate, DriveMode, Outfit

__all__ = ["AnswerView", "Setting", "answer_view"]


@dataclass(frozen=True, slots=True)
class AnswerView:
    """Everything a page or a sheet prints."""

    title: str
    question: tuple[Row, ...]
    headline: str
    middle: str
    fits: str
    why: str
    drawing: Drawing
    rows: tuple[Row, ...]
    charging: ChargingView | None
    helps: tuple[str, ...]
    hurts: tuple[str, ...]
    ledger: LedgerView
    engine: tuple[Row, ...]
    notes: tuple[str, ...]
    assumptions: tuple[Row, ...]
    made_on: str
    version: str


def answer_view(quote: Quote, other: Quote | None, setting: Setting) -> AnswerView:
    """The page of a quote.

    Args:
        quote: the answer.
        other: the same question at another temperature, to say what the weather does; None to leave that out.
        setting: the reader's choices.
    """
    units = setting.units
    headline = sentences.headline(quote, units)
    drawing, rows = distance_view(quote, other, setting)
    return AnswerView(
        title=headline.rstrip("."),
        question=question(quote, setting),
        headline=headline,
        middle=sentences.middle(quote, units),
        fits=sentences.fits(quote, setting.journey_name, units),
        why=sentences.compared(quote, other, units) if other else "",
        drawing=drawing,
        rows=rows,
        charging=charging_view(quote.charging, setting, quote.ask.prices) if quote.charging else None,
        helps=tuple(sentences.moved(one, units) for one in quote.sensitivities if one.effect_m > 0),
        hurts=tuple(sentences.moved(one, units) for one in quote.sensitivities if one.effect_m < 0),
        ledger=ledger_view(quote, units),
        engine=tuple(Row(name, value) for name, value in engine_answers(quote, units)),
        notes=_notes(quote),
        assumptions=assumption_rows(quote.assumptions, units),
        made_on=f"{setting.made_on.day} {setting.made_on:%B %Y}",
        version=setting.version,
    )


def _notes(quote: Quote) -> tuple[str, ...]:
    """Notes and limits met."""
    limits = [event.sentence for event in quote.events]
    return tuple(bound(line) for line in dict.fromkeys([*quote.notes, *limits]))


def question(quote: Quote, setting: Setting) -> tuple[Row, ...]:
    """What was asked, a row for each group of the form."""
    ask, units = quote.ask, setting.units
    journey = f"{distance(quote.journey.distance_m, units)} {setting.journey_name}"
    parked = parked_words(ask.start)
    ready = ", cabin ready on the plug" if ask.start.preconditioned else ""
    load = f", {mass(ask.payload_kg, units)} load" if ask.payload_kg else ""
    health = ask.start.state_of_health
    worn = "" if health >= 1 else f", battery at {per_cent(health)} of its capacity"
    people = "1 person" if ask.cabin.occupants == 1 else f"{ask.cabin.occupants} people"
    climate = "heating and cooling off"
    if ask.cabin.climate is Climate.AUTO:
        climate = f"kept at {temperature(ask.cabin.set_point_k, units)}"
    return (
        Row("Car", f"{ask.vehicle.name}{load}{worn}{outfit_words(ask.outfit, units)}"),
        Row("Journey", journey),
        Row("Day", f"{temperature(ask.weather.ambient_k, units)}, {_road(ask.weather.surface)}"),
        Row("Cabin", f"{climate}{cabin_extras(ask.cabin)}, {people}"),
        Row("Start", f"{per_cent(ask.start.state_of_charge)} charged, {parked}{ready}"),
        Row("Socket", bound(quote.charging.circuit.name) if quote.charging else "no plug"),
        *engine_and_prices(ask, units),
        Row("Units", "miles, °F" if units is Units.US else "kilometres, °C"),
    )


def engine_and_prices(ask: Ask, units: Units) -> tuple[Row, ...]:
    """What was asked of the engine and what is paid, as far as anything was said of it."""
    use, told = ask.engine_use, prices_told(ask.prices, units)
    asked = [] if use.mode is DriveMode.ELECTRIC_PRIORITY else [dict(CHOICES["drive_mode"])[use.mode]]
    if use.defrost:
        asked.append("windscreen heat on")
    rows = [Row("Engine", ", ".join(asked))] if asked and ask.vehicle.kind.has_engine else []
    return (*rows, Row("Prices", told)) if told else tuple(rows)


def outfit_words(outfit: Outfit, units: Units) -> str:
    """What the car wears and takes along, after a comma each; nothing for a car as it came."""
    tyres, towed = outfit.tyre_class, outfit.trailer
    said = (
        "winter tyres" if outfit.winter_tyres else "",
        f"tyres of class {tyres.name}" if tyres else "",
        f"tyres last set at {temperature(outfit.tyres_set_k, units)}" if outfit.tyres_set_k else "",
        "roof box" if outfit.roof_box else "",
        f"trailer of {mass(towed.mass_kg, units)}" if towed else "",
        f"{outfit.body_load_w:.0f} W for its body" if outfit.body_load_w else "",
        "doors opened on the way" if outfit.door_openings_per_m else "",
    )
    return "".join(f", {words}" for words in said if words)


def _road(surface: str) -> str:
    """What lies on the road, in words."""
    return f"{surface} road" if surface in ("dry", "wet") else f"{surface} on the road"
