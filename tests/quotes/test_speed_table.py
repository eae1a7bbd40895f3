"""Steady speeds over temperatures, and short trips that start cold."""

from dataclasses import replace

import numpy as np
import pytest

from service.physics.soaks import MOST_TRIPS
from service.quotes.build import build_quote
from service.quotes.speed_table import SpeedAsk, TripKind, speed_table, steady_journey
from service.specs import Ask, Cabin, Climate, Heating, Journey, Label, LabelProcedure, Leg, Start, Weather
from service.units import KM_H
from service.units import kelvin_from_celsius as kelvin

CARS = ("compact-plug-in", "family-suv-plug-in", "small-electric-hatch", "electric-delivery-van")
TRIP = TripKind((5e3, 10e3, 20e3), 50 * KM_H, 1e-3)
HOUR_S = 3600.0


def asked(vehicle, speeds=(50, 130), celsius=(-10, 20), trip=TRIP, **more):
    ask = Ask(vehicle, Journey(), Weather(kelvin(20)), **more)
    return SpeedAsk(ask, tuple(each * KM_H for each in speeds), tuple(map(kelvin, celsius)), trip)


@pytest.mark.parametrize("id_", CARS)
def test_a_cell_is_the_single_quote_of_the_same_question(catalogue, id_):
    question = asked(catalogue.vehicles[id_], (80, 120), (-20, 0, 35), start=Start(0.9, state_of_health=0.9))
    found = speed_table(question, catalogue)
    assert [(cell.ambient_k, cell.speed_m_s) for cell in found.cells] == [
        (day, speed) for day in question.temperatures_k for speed in question.speeds_m_s
    ]
    for cell in found.cells:
        weather = replace(question.ask.weather, ambient_k=cell.ambient_k)
        ask = replace(question.ask, journey=steady_journey(cell.speed_m_s), weather=weather)
        quote = build_quote(ask, catalogue, with_engine=False)
        assert cell.range_m.p50 == quote.range_m.p50
        assert cell.battery_j_per_m == quote.to_empty.battery_j_per_m.p50
        assert cell.ended_by == quote.to_empty.ended_by
        # few draws stand for many: both tenths within 4 % of the quote's 256, which are good to 2 % themselves
        assert cell.range_m.p10 == pytest.approx(quote.range_m.p10, rel=0.04)
        assert cell.range_m.p90 == pytest.approx(quote.range_m.p90, rel=0.04)


def test_a_steady_speed_takes_what_the_forces_say(catalogue):
    # 20 °C, cabin off, no wind: ½·ρ·CdA·v² and rolling at 100 km/h; losses on top stay below a third of it
    vehicle = catalogue.vehicles["small-electric-hatch"]
    ask = asked(vehicle, (100,), (20,), cabin=Cabin(Climate.OFF))
    ask = replace(ask, ask=replace(ask.ask, weather=Weather(kelvin(20), 0.5, 0.0, 0.0)))
    cell = speed_table(ask, catalogue).cells[0]
    load, v = vehicle.road_load, 100 * KM_H
    rolling_n = load.crr * (vehicle.mass_kg + 75) * 9.81
    air_n = 0.5 * 1.2 * load.cd_a_m2 * v * v
    assert 1.05 < cell.battery_j_per_m / (rolling_n + air_n) < 1.35


def test_a_trip_is_the_journey_of_a_single_quote(catalogue):
    # at 80 % charge: a full battery takes nothing back from braking, so the first trip of all costs more
    question = asked(catalogue.vehicles["mid-electric-sedan"], (80,), (20,), start=Start(0.8))
    found = speed_table(question, catalogue)
    for trip in found.trips:
        ask = replace(question.ask, journey=TRIP.journey(trip.distance_m))
        quote = build_quote(replace(ask, band=False), catalogue, with_engine=False)
        # the mean of all trips of a charge: a little more than the first, for the loss grows as the battery empties
        first = quote.journey.battery_j_per_m.p50
        assert first * 0.99 < trip.battery_j_per_m < first * 1.03
        assert trip.heating_j_per_m == pytest.approx(quote.journey.ledger_j_per_m["heating"], rel=0.01)
    whole = found.in_one_go[0]
    assert whole.range_m == quote.range_m.p50  # of the longest trip again and again
    assert whole.battery_j_per_m == quote.to_empty.battery_j_per_m.p50


@pytest.mark.parametrize("distance_km", [5, 10, 20])
def test_trips_of_every_length_stop_equally_often(distance_km):
    # one stop a kilometre, the one at the end included
    journey = TRIP.journey(distance_km * 1e3)
    assert journey.legs[0].stops_per_m * distance_km * 1e3 + 1 == pytest.approx(distance_km)


def test_a_charge_gives_as_many_trips_as_its_energy(catalogue):
    found = speed_table(asked(catalogue.vehicles["small-electric-hatch"], (80,), (-10, 20)), catalogue)
    for trip in found.trips:
        whole = next(drive for drive in found.in_one_go if drive.ambient_k == trip.ambient_k)
        energy_j = whole.range_m * whole.battery_j_per_m  # what a whole drive takes from the cells
        fits = energy_j / (trip.distance_m * trip.battery_j_per_m)
        assert trip.trips_per_charge == pytest.approx(fits, abs=1 + 0.05 * fits)


def test_trips_start_soaked_whatever_the_long_drive_does(catalogue):
    vehicle = catalogue.vehicles["small-electric-hatch"]
    cold = speed_table(asked(vehicle, (80,), (-10,)), catalogue)
    warm = speed_table(asked(vehicle, (80,), (-10,), start=Start(soaked=False, preconditioned=True)), catalogue)
    assert warm.trips == cold.trips
    assert warm.cells[0].range_m.p50 > cold.cells[0].range_m.p50


def test_a_short_trip_from_cold_costs_more_because_it_is_warmed_anew(catalogue):
    found = speed_table(asked(catalogue.vehicles["small-electric-hatch"], (80,), (-10,)), catalogue)
    short, _, long = found.trips
    whole = found.in_one_go[0]
    assert short.battery_j_per_m > long.battery_j_per_m > whole.battery_j_per_m
    assert short.heating_j_per_m > long.heating_j_per_m > whole.heating_j_per_m


def test_a_weak_motor_cannot_hold_the_speed(catalogue):
    # 15 kW at the wheels against ½·1.2·0.6·36.1³ ≈ 17 kW of air alone
    vehicle = replace(catalogue.vehicles["small-electric-hatch"], motor_w=15e3)
    found = speed_table(asked(vehicle, (50, 130), (20,)), catalogue)
    assert [cell.cannot_hold for cell in found.cells] == ["", "motor"]


def test_a_pack_too_weak_in_the_cold_is_named(catalogue):
    vehicle = catalogue.vehicles["compact-plug-in"]
    small = replace(vehicle.battery, usable_j=vehicle.battery.usable_j / 8, nominal_j=None)
    found = speed_table(asked(replace(vehicle, battery=small, label=None), (50, 130), (-35, 20)), catalogue)
    by_cell = {(round(cell.ambient_k - 273.15), round(cell.speed_m_s / KM_H)): cell for cell in found.cells}
    assert by_cell[-35, 130].cannot_hold == "battery"
    assert by_cell[20, 50].cannot_hold == ""


def test_a_trip_longer_than_the_charge_is_not_counted(catalogue):
    trip = replace(TRIP, distances_m=(150e3,))
    found = speed_table(asked(catalogue.vehicles["compact-plug-in"], (80,), (-10,), trip), catalogue)
    assert found.trips[0].trips_per_charge == 0
    assert found.trips[0].battery_j_per_m > 0  # of the part that was driven
    assert found.in_one_go[0].range_m < 150e3


def test_a_trip_that_costs_nothing_ends_somewhere(catalogue):
    downhill = replace(TRIP, distances_m=(2e3,))
    vehicle = catalogue.vehicles["mid-electric-sedan"]

    class Slope(TripKind):
        def journey(self, distance_m):
            return Journey(legs=(Leg(distance_m, 15.0, grade=-0.06),))

    kind = Slope(downhill.distances_m, downhill.speed_m_s, downhill.stops_per_m)
    found = speed_table(asked(vehicle, (80,), (20,), kind, start=Start(0.5)), catalogue)
    assert found.trips[0].trips_per_charge == MOST_TRIPS


def test_an_engine_heated_car_is_told_and_not_heated(catalogue):
    vehicle = replace(catalogue.vehicles["compact-plug-in"], heating=Heating.ENGINE)
    found = speed_table(asked(vehicle, (80,), (-10,)), catalogue)
    assert {trip.heating_j_per_m for trip in found.trips} == {0.0}
    assert any("heats its cabin with the engine" in note for note in found.notes)


def test_a_label_is_anchored_once_and_listed(catalogue):
    kwh_100_km = 3.6e6 / 1e5
    label = Label(LabelProcedure.WLTP, 15.5 * kwh_100_km)
    vehicle = replace(catalogue.vehicles["small-electric-hatch"], road_load=None, label=label)
    found = speed_table(asked(vehicle, (80,), (20,)), catalogue)
    assert any("fitted to the label" in one.source for one in found.assumptions)
    assert any(one.name == "charging circuit" for one in found.assumptions)  # the label is taken at the socket


def test_what_concerns_charging_alone_is_not_among_the_assumptions(catalogue):
    by_parts = replace(catalogue.vehicles["small-electric-hatch"], label=None)  # a label is taken at the socket
    found = speed_table(asked(by_parts), catalogue)
    names = [one.name for one in found.assumptions]
    assert "charging circuit" not in names
    assert "wind" in names
    assert len(set(names)) == len(names)


def test_without_draws_there_is_no_span(catalogue):
    found = speed_table(asked(catalogue.vehicles["compact-plug-in"], band=False), catalogue)
    assert all(cell.range_m.p10 is None and cell.range_m.p90 is None for cell in found.cells)


def test_the_ends_lie_around_the_middle_everywhere(catalogue):
    found = speed_table(asked(catalogue.vehicles["family-suv-plug-in"], (50, 130), (-40, -20, 0, 50)), catalogue)
    for cell in found.cells:
        assert 0 < cell.range_m.p10 <= cell.range_m.p50 <= cell.range_m.p90
        assert np.isfinite(cell.battery_j_per_m)
