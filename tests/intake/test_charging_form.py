"""The form of a charging session as a question: what is left out, what counts where."""

import pytest

from service.catalogue import load_catalogue
from service.intake.charging_form import charging_from_form
from service.intake.charging_session import ChargingSessionRequest
from service.quotes.charging_session import Station
from service.units import kelvin_from_celsius

GIVEN = {"vehicle": "mid-electric-sedan", "circuit": "na-wall-unit-30a", "temperature": "-5"}


@pytest.fixture(scope="module")
def catalogue():
    return load_catalogue()


def question(catalogue, **typed):
    filled = charging_from_form(GIVEN | typed, catalogue)
    assert not filled.errors, filled.errors
    return filled.question[0]


def test_what_is_left_empty_has_its_default(catalogue):
    ask = question(catalogue)
    assert (ask.from_charge, ask.to_charge, ask.health) == (0.2, 0.8, 1.0)
    assert ask.pack_k == ask.ambient_k == kelvin_from_celsius(-5)
    assert (ask.pilot_a, ask.phases_live) == (None, None)
    assert ask.supply.id == "na-wall-unit-30a"


def test_a_station_takes_the_place_of_the_circuit(catalogue):
    ask = question(catalogue, current_kind="dc", station_kw="50", pilot_amps="10", run_length="20")
    assert ask.supply == Station(50_000.0, None)
    assert ask.pilot_a is None
    assert question(catalogue, current_kind="dc").supply == Station(150_000.0, None)


def test_a_cable_counts_where_it_has_a_length(catalogue):
    assert question(catalogue, run_section="2.5").supply.run is None
    run = question(catalogue, run_length="20", run_section="6").supply.run
    assert (run.length_m, run.section_mm2, run.awg) == (20, 6, None)
    feet = question(catalogue, units="us", typed_units="us", run_length="100", run_gauge="8").supply.run
    assert feet.length_m == pytest.approx(30.48)
    assert feet.awg == 8


def test_degrees_fahrenheit_and_worn_packs_arrive_in_si(catalogue):
    ask = question(catalogue, units="us", typed_units="us", temperature="14", pack_temperature="50", health="70")
    assert ask.ambient_k == pytest.approx(kelvin_from_celsius(-10))
    assert ask.pack_k == pytest.approx(kelvin_from_celsius(10))
    assert ask.health == pytest.approx(0.7)


def test_every_fault_is_told_at_once(catalogue):
    filled = charging_from_form(
        GIVEN | {"from_pct": "x", "to_pct": "200", "health": "1", "temperature": "80"}, catalogue
    )
    assert set(filled.errors) == {"from_pct", "to_pct", "health", "temperature"}
    assert filled.question is None
    assert filled.values["from_pct"] == "x"


def test_a_hot_pack_stands_in_the_hottest_air_there_is(catalogue):
    request = ChargingSessionRequest.model_validate(
        {
            "vehicle": {"id": "mid-electric-sedan"},
            "circuit": {"dc_kw": 50},
            "from_pct": 10,
            "to_pct": 80,
            "pack_temperature_c": 55,
        }
    )
    assert request.question(catalogue).ambient_k == kelvin_from_celsius(50)
