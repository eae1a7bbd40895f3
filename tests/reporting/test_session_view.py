"""The charging page's view: strokes of the curve, words of the losses, times of the clock."""

from datetime import date

import numpy as np
import pytest

from service.charging.session import CURVE
from service.physics.rows import table
from service.quotes.charging_session import SessionAsk, Station, build_session
from service.reporting.session_plots import strokes, thinned
from service.reporting.session_view import session_view
from service.reporting.words import Units

TODAY = date(2026, 11, 25)


def view(catalogue, ask, hour=18, units=Units.METRIC):
    return session_view(build_session(ask, catalogue), hour, units, TODAY)


def curve_of(watts, seconds=60.0):
    curve = table(CURVE, len(watts))
    curve.meter_w, curve.seconds = watts, seconds
    curve.start_s = np.arange(len(watts)) * seconds
    return curve


def test_a_jump_is_drawn_upright_and_a_glide_through_the_middles():
    line = strokes(curve_of([1000, 3000, 3000, 2900, 2800, 2700]), "meter_w", 60.0)
    assert line[:3] == ((0, 1), (1, 1), (1, 3))
    assert (3.5, 2.9) in line
    assert (4.5, 2.8) in line
    assert line[-1] == (6, 2.7)


def test_points_between_equal_heights_are_left_out():
    assert thinned([(0, 5), (1, 5), (2, 5), (3, 4)]) == [(0, 5), (2, 5), (3, 4)]
    assert thinned([(0, 5), (1, 5)]) == [(0, 5), (1, 5)]
    assert thinned([]) == []


def test_losses_are_told_largest_first_and_small_ones_not_at_all(catalogue):
    ask = SessionAsk(catalogue.vehicle("mid-electric-sedan"), catalogue.circuit("uk-wall-unit-32a"), 0.2, 1.0, 293.15)
    answer = view(catalogue, ask)
    told = answer.losses_sentence
    assert told.index("car’s charger") < told.index("electronics and pumps") < told.index("inside the battery")
    assert "levelling" not in told
    assert "cable" not in told
    assert answer.losses[0].name == "Stored in the battery"
    assert answer.total.name == "At the meter"


def test_stages_of_a_full_charge_end_with_level_cells(catalogue):
    ask = SessionAsk(catalogue.vehicle("mid-electric-sedan"), catalogue.circuit("uk-wall-unit-32a"), 0.2, 1.0, 263.15)
    answer = view(catalogue, ask)
    assert [row.name for row in answer.clock_rows] == ["battery heated", "full", "cells level"]
    assert "20 minutes" in answer.notes[0].replace("\u00a0", " ")


def test_the_warmest_moment_of_a_fast_charge_is_told(catalogue):
    ask = SessionAsk(catalogue.vehicle("small-electric-hatch"), Station(50e3), 0.1, 0.8, 298.15, 313.15)
    answer = view(catalogue, ask, units=Units.US)
    assert "°F" in answer.key
    assert "min" in answer.power.wide  # minutes below two hours
    assert answer.question[3].value.startswith("direct-current station, 50\u00a0kW")


@pytest.mark.parametrize("start", [0.99999, 1.0])
def test_a_full_battery_has_a_page_too(catalogue, start):
    car = catalogue.vehicle("small-electric-hatch")
    answer = view(catalogue, SessionAsk(car, catalogue.circuit("uk-wall-unit-32a"), start, 1.0, 293.15))
    assert answer.headline.endswith(".")
    assert answer.power.wide.startswith("<svg")


@pytest.mark.parametrize(
    ("car", "circuit", "words"),
    [
        ("compact-plug-in", "na-household-15a", "That is at 120 V. With a supply at its lowest, 114 V, it takes"),
        ("compact-plug-in", "uk-wall-unit-32a", "The supply’s voltage, 216 to 253 V, makes no difference to it."),
        ("small-electric-hatch", "eu-wall-unit-32a", "; at its highest, 253 V"),
    ],
)
def test_what_the_supply_may_do_to_it_is_told(catalogue, car, circuit, words):
    answer = view(catalogue, SessionAsk(catalogue.vehicle(car), catalogue.circuit(circuit), 0.2, 0.95, 293.15))
    assert words in answer.supply.replace("\u00a0", " ")


def test_a_station_has_no_voltage_of_a_supply(catalogue):
    assert (
        view(catalogue, SessionAsk(catalogue.vehicle("mid-electric-sedan"), Station(50e3), 0.2, 1.0, 293.15)).supply
        == ""
    )
