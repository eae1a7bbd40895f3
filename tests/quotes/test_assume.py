"""Every gap that is filled is listed, with value, unit and source; what is given is never touched."""

from dataclasses import fields, replace

import pytest

from service.quotes.assume import complete, speaks_us
from service.specs import (
    Ask,
    Battery,
    BodyAndTyres,
    Circuit,
    Clock,
    Heating,
    Journey,
    Kind,
    Leg,
    MassBasis,
    Procedure,
    RoadLoad,
    Vehicle,
    Weather,
)

LEGS = Journey(legs=(Leg(10_000.0, 20.0),))
KNOWN_DAY = Weather(278.15, 0.6, 2.0, 50.0)
PARTS = BodyAndTyres(0.65, 0.009)
US_FIT = RoadLoad(130.0, 1.0, 0.4)  # 98.21 kPa
WLTP_FIT = RoadLoad(130.0, 1.0, 0.4, reference_pa=100_000.0)


def bare(kind=Kind.BEV, load=PARTS, **known):
    """A car of which only what the contract requires is known."""
    return Vehicle("own", "own", kind, 1600.0, MassBasis.KERB, load, known.pop("battery", Battery(2e8)), **known)


def listed(ask, catalogue):
    return {each.name: each for each in complete(ask, catalogue)[1]}


TOLD_BY_A_LABEL = (
    "wind_from_rad",
    "clock",
    "layout",
    "engine",
    "power_split",
    "triggers",
    "label",
    "drive_loss",
    "charger_loss",
    "anchor",
)  # of a car without one, nothing is told


def test_nothing_is_left_open(catalogue):
    for kind in Kind:
        filled, _ = complete(Ask(bare(kind), LEGS, Weather(278.15)), catalogue)
        for record in (filled.vehicle, filled.vehicle.battery, filled.weather):
            for each in fields(record):
                known = getattr(record, each.name) is not None
                assert known or each.name in TOLD_BY_A_LABEL, (kind, each.name)


def test_every_entry_says_where_it_comes_from(catalogue):
    for each in complete(Ask(bare(), LEGS, Weather(278.15)), catalogue)[1]:
        assert each.name
        assert each.source
        assert each.value is not None


# what is left open → the name under which it is listed
@pytest.mark.parametrize(
    ("given", "name"),
    [
        ({"motor_w": 90e3}, "electric motor power"),
        ({"onboard_charger_w": 7000.0}, "onboard charger"),
        ({"heating": Heating.RESISTIVE}, "cabin heating"),
        ({"heater_w": 4000.0}, "cabin heater"),
        ({"body": "medium"}, "size of cabin"),
        ({"base_load_w": 250.0}, "12 V consumers while driving"),
        ({"charge_limit_w": 80e3}, "charging power that a warm pack accepts"),
        ({"battery": Battery(2e8, nominal_j=2.2e8)}, "whole-pack energy"),
        ({"battery": Battery(2e8, nominal_v=350.0)}, "pack voltage"),
        ({"battery": Battery(2e8, chemistry="lfp")}, "cell chemistry"),
        ({"battery": Battery(2e8, heater_w=0.0)}, "pack heater"),
    ],
)
def test_a_gap_of_the_car_is_listed_and_a_given_value_is_not(catalogue, given, name):
    assert name in listed(Ask(bare(), LEGS, KNOWN_DAY), catalogue)
    assert name not in listed(Ask(bare(**given), LEGS, KNOWN_DAY), catalogue)


@pytest.mark.parametrize(
    ("field", "name"),
    [("wind_m_s", "wind"), ("relative_humidity", "relative humidity"), ("sun_w_m2", "sunshine on level ground")],
)
def test_a_gap_of_the_day_is_listed(catalogue, field, name):
    assert name not in listed(Ask(bare(), LEGS, KNOWN_DAY), catalogue)
    assert name in listed(Ask(bare(), LEGS, replace(KNOWN_DAY, **{field: None})), catalogue)


def test_what_is_given_stays(catalogue):
    vehicle = catalogue.vehicles["mid-electric-sedan"]
    filled, _ = complete(Ask(vehicle, LEGS, KNOWN_DAY), catalogue)
    assert filled.vehicle == vehicle
    assert filled.weather == KNOWN_DAY


def test_splitting_a_coastdown_fit_is_an_assumption(catalogue):
    assert "tyre share of constant road load" in listed(Ask(bare(load=US_FIT), LEGS, KNOWN_DAY), catalogue)
    by_parts = listed(Ask(bare(), LEGS, KNOWN_DAY), catalogue)
    assert "tyre share of constant road load" not in by_parts
    assert {"bearing, brake and oil drag", "drag that grows with speed"} <= set(by_parts)


@pytest.mark.parametrize("lamps_w_m2", [None, 850.0])
def test_a_test_cell_has_no_weather_but_its_lamps(catalogue, lamps_w_m2):
    windy = Weather(266.15, None, 9.0, lamps_w_m2, 1000.0, "snow")
    filled, assumed = complete(Ask(bare(), Journey(cycle="udds"), windy, Procedure.DYNAMOMETER), catalogue)
    assert (filled.weather.wind_m_s, filled.weather.sun_w_m2) == (0.0, lamps_w_m2 or 0.0)
    assert not {"wind", "sunshine on level ground"} & {each.name for each in assumed}


# reference circuit: 240 V 30 A in North America, 230 V 32 A elsewhere
@pytest.mark.parametrize(
    ("load", "journey", "volts", "amps"),
    [
        (US_FIT, LEGS, 240, 30),
        (WLTP_FIT, LEGS, 230, 32),
        (PARTS, LEGS, 230, 32),
        (PARTS, Journey(cycle="udds"), 240, 30),
        (PARTS, Journey(cycle="wltc_class3b"), 230, 32),
        (US_FIT, Journey(cycle="wltc_class3b"), 230, 32),
        (WLTP_FIT, Journey(cycle="hwfet"), 240, 30),
    ],
)
def test_reference_circuit_follows_the_region(catalogue, load, journey, volts, amps):
    ask = Ask(bare(load=load), journey, KNOWN_DAY)
    filled, assumed = complete(ask, catalogue)
    assert (filled.circuit.volts, filled.circuit.continuous_a) == (volts, amps)
    assert "charging circuit" in {each.name for each in assumed}
    assert speaks_us(ask) == (volts == 240)


def test_a_given_circuit_is_used(catalogue):
    circuit = Circuit("own", "own", "own", 120.0, 12.0)
    filled, assumed = complete(Ask(bare(), LEGS, KNOWN_DAY, circuit=circuit), catalogue)
    assert filled.circuit == circuit
    assert "charging circuit" not in {each.name for each in assumed}


def test_a_plain_hybrid_has_no_inlet(catalogue):
    filled, assumed = complete(Ask(bare(Kind.HYBRID), LEGS, KNOWN_DAY), catalogue)
    assert filled.circuit is None
    assert filled.vehicle.heating is Heating.ENGINE
    names = {each.name for each in assumed}
    assert not names & {"charging circuit", "onboard charger", "efficiency of the onboard charger alone"}


def test_the_sun_by_clock_and_season(catalogue):
    # Haurwitz under a usual sky (0.75): noon in June over noon in December; none at night, and lights on
    def sun(month, hour, **given):
        day = Weather(293.15, clock=Clock(month, hour, 50.0), **given)
        filled, listed = complete(Ask(bare(), LEGS, day), catalogue)
        return filled.weather.sun_w_m2, {each.name for each in listed}

    june, december, night = sun(6, 12)[0], sun(12, 12)[0], sun(12, 22)[0]
    assert june == pytest.approx(0.75 * 927, rel=0.02)  # z = 50° − 23.1°: 1098·0.892·exp(−0.059/0.892) by hand
    assert june > 3 * december > 0 == night
    assert "sun over a clear sky's" in sun(6, 12)[1]
    assert sun(6, 12, sun_w_m2=100.0) == (100.0, sun(6, 12, sun_w_m2=100.0)[1])
