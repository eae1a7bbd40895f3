"""Sentences that an answer gives reason for."""

from dataclasses import replace

import pytest

from service.quotes.build import build_quote
from service.specs import Ask, Cabin, Climate, Journey, Leg, Outfit, Start, Weather

LEVEL = Journey(legs=(Leg(8000.0, 15.0),))


@pytest.fixture
def told(catalogue):
    def notes(id_, legs, celsius, **fields):
        ask = Ask(catalogue.vehicle(id_), Journey(legs=legs), Weather(celsius + 273.15), **fields)
        return " ".join(build_quote(ask, catalogue).notes)

    return notes


def test_a_slope_that_repeats_is_said(told):
    level = Leg(5000.0, 15.0)
    assert "another height" in told("mid-electric-sedan", (replace(level, grade=-0.01),), 20)
    assert "another height" not in told("mid-electric-sedan", (level,), 20)
    assert "another height" not in told(
        "mid-electric-sedan", (replace(level, grade=0.02), replace(level, grade=-0.02)), 20
    )


def test_a_cold_start_that_costs_more_is_said(told):
    assert "drive from cold takes" in told("small-electric-hatch", (Leg(8000.0, 14.0),), -15)
    assert "drive from cold takes" not in told("small-electric-hatch", (Leg(8000.0, 14.0),), 21)


def test_readying_a_cabin_that_only_the_engine_heats_is_said_to_do_nothing(told):
    ready = Start(preconditioned=True)
    assert "does nothing" in told("family-suv-plug-in", (Leg(9000.0, 20.0),), -10, start=ready)
    assert "does nothing" not in told("small-electric-hatch", (Leg(9000.0, 20.0),), -10, start=ready)


def test_how_warm_the_sun_has_made_the_cabin_is_said(told):
    legs = (Leg(9000.0, 20.0),)
    assert "The sun has warmed the parked car's cabin to 4" in told(
        "mid-electric-sedan", legs, 30, start=Start(in_sun=True)
    )
    assert "sun has warmed" not in told("mid-electric-sedan", legs, 30)


def test_no_distance_to_empty_is_capped_and_no_change_is_counted_against_it(catalogue):
    down = Journey(legs=(Leg(5000.0, 15.0, grade=-0.06),))
    quote = build_quote(Ask(catalogue.vehicle("mid-electric-sedan"), down, Weather(293.15), band=False), catalogue)
    assert quote.range_m.p50 == 3e6
    assert quote.sensitivities == ()
    assert any("3 000 km stands for it" in note for note in quote.notes)


def test_drying_is_said_where_it_happens(catalogue):
    def said(celsius, climate=Climate.AUTO):
        weather = Weather(celsius + 273.15)
        ask = Ask(catalogue.vehicles["mid-electric-sedan"], LEVEL, weather, cabin=Cabin(climate), band=False)
        return any("dried and warmed again" in note for note in build_quote(ask, catalogue).notes)

    assert said(9)
    assert not said(-5)
    assert not said(19)
    assert not said(9, Climate.OFF)


def test_a_roof_box_may_be_taken_off(catalogue):
    boxed = Ask(
        catalogue.vehicles["mid-electric-sedan"], LEVEL, Weather(293.15), band=False, outfit=Outfit(roof_box=True)
    )
    moved = {each.input: each for each in build_quote(boxed, catalogue).sensitivities}
    assert moved["roof_box"].effect_m > 0
    assert moved["roof_box"].sentence == "The roof box taken off"


def test_a_drive_easier_than_the_label_says_so(catalogue):
    car = catalogue.vehicles["mid-electric-sedan"]
    calm = Ask(car, Journey(legs=(Leg(20_000.0, 15.0),)), Weather(293.15), band=False)
    hard = Ask(car, Journey(legs=(Leg(20_000.0, 33.0),)), Weather(263.15), band=False)
    miles = f"{car.label.range_m / 1609.344:.0f} miles"
    assert any("The label says" in note and miles in note for note in build_quote(calm, catalogue).notes)
    assert not any("The label says" in note for note in build_quote(hard, catalogue).notes)
