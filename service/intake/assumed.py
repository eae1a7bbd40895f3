"""Defaults that a question left to the service, listed with their reasons in front of what the quote itself assumed."""

from dataclasses import replace
from typing import TypeVar

from service.intake.fields import LIMITS
from service.intake.quote import QuoteRequest
from service.quotes.answer import Assumption

__all__ = ["assumed", "listed"]

Answer = TypeVar("Answer")  # a record with a tuple of assumptions: a quote, the finding on a complaint

DEFAULTS = {  # by place in the question: name, reason; the values are the models' own
    "vehicle.spec.mass_basis": ("what the mass includes", "people mean the empty car when they look a mass up"),
    "vehicle.spec.road_load.reference_c": (
        "air temperature of the coefficients",
        "reference air of coastdowns, 40 CFR 1066.305 and UN GTR 15 annex 4",
    ),
    "vehicle.spec.road_load.reference_kpa": (
        "air pressure of the coefficients",
        "reference air of coastdowns, 40 CFR 1066.305 or UN GTR 15 annex 4",
    ),
    "vehicle.spec.label.basis": ("where the label meters", "at the socket, as US and WLTP labels state it"),
    "procedure": ("procedure", "the open road, unless a test is asked for"),
    "weather.temperature_c": (
        "outside temperature",
        "reference air of road-load tests, 40 CFR 1066.305 and UN GTR 15 annex 4",
    ),
    "weather.altitude_m": ("altitude", "sea level, where most people live: common practice"),
    "weather.surface": ("road surface", "common practice"),
    "start.state_of_charge_pct": ("charge at the start", "charged overnight: common practice"),
    "start.soaked": (
        "parked at the outside temperature before the start",
        "parked until everything is at the temperature of the day: common practice",
    ),
    "start.in_sun": ("stood in the sun before the start", "in the shade or overnight: common practice"),
    "start.preconditioned": (
        "cabin and pack preheated or cooled at the plug",
        "nothing warmed or cooled before the start: common practice",
    ),
    "start.state_of_health_pct": ("battery health", "a new battery"),
    "cabin.climate": ("climate control", "common practice"),
    "cabin.set_point_c": (
        "cabin temperature asked for",
        "usual setting of a car's climate control, 20 to 22 °C: common practice",
    ),
    "cabin.occupants": ("people in the car", "the driver alone: common practice"),
    "cabin.air": ("fresh air in the cabin", "as the people and clear windows need it: common practice"),
    "cabin.seat_heat": ("seats and wheel heated", "nobody asked for it"),
    "payload_kg": ("load besides people", "nothing but the people"),
}


def listed(answer: Answer, request: QuoteRequest) -> Answer:
    """The answer, with the question's own defaults among its assumptions."""
    return replace(answer, assumptions=(*assumed(request), *answer.assumptions))


def assumed(request: QuoteRequest) -> tuple[Assumption, ...]:
    """What nobody gave, and the default that stands for it."""
    places = ((path, *_owner(request, path.split("."))) for path in DEFAULTS)
    return tuple(
        _assumption(path, getattr(owner, leaf))
        for path, owner, leaf in places
        if owner is not None and leaf in type(owner).model_fields and leaf not in owner.model_fields_set
    )


def _owner(request: QuoteRequest, steps: list[str]) -> tuple[object, str]:
    """The model that holds the last name, or None where the question has no such part."""
    here: object = request
    for step in steps[:-1]:
        here = getattr(here, step, None)
    return here, steps[-1]


def _assumption(path: str, value: object) -> Assumption:
    leaf = path.rpartition(".")[2]
    if isinstance(value, bool):
        value = "yes" if value else "no"
    elif not isinstance(value, str):
        value = float(value)
    name, reason = DEFAULTS[path]
    return Assumption(name, value, LIMITS[leaf].unit if leaf in LIMITS else "", reason)
