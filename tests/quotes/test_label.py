"""A car is found behind its label: it gives the label, and fitting it again changes nothing."""

from dataclasses import replace

import pytest

from service.catalogue import load_catalogue
from service.errors import BadInput
from service.quotes.build import build_quote
from service.quotes.label import anchored, fitted, reproduced
from service.specs import (
    Ask,
    Battery,
    BodyAndTyres,
    Journey,
    Kind,
    Label,
    LabelProcedure,
    Leg,
    MassBasis,
    Meter,
    Vehicle,
    Weather,
)
from service.units import KWH_J, MILE_M

CATALOGUE = load_catalogue()
KWH_100_KM, KWH_100_MI = KWH_J / 1e5, KWH_J / (100 * MILE_M)


def label_of(procedure, consumption, range_=None, parts=(), **more):
    """In the units of its region: kWh/100 miles and miles, or kWh/100 km and km."""
    us = procedure == "us"
    per, unit_m = (KWH_100_MI, MILE_M) if us else (KWH_100_KM, 1000.0)
    return Label(
        LabelProcedure(procedure),
        consumption * per,
        range_m=None if range_ is None else range_ * unit_m,
        parts_j_m=tuple((name, value * per) for name, value in parts),
        **more,
    )


def car(label, usable_kwh=60.0, mass_kg=1750.0, kind=Kind.BEV, **more):
    usable_j = None if usable_kwh is None else usable_kwh * KWH_J
    return Vehicle("own", "own", kind, mass_kg, MassBasis.KERB, None, Battery(usable_j), label=label, **more)


def ask_with(vehicle):
    return Ask(vehicle, Journey(cycle="wltc_class3b"), Weather(268.15), band=False)


US_PARTS = (("city", 26.0), ("highway", 30.0))
PHASES = (("low", 13.5), ("medium", 13.7), ("high", 14.6), ("extra_high", 19.6))
CARS = {
    "US, combined alone": car(label_of("us", 28)),
    "US, small car": car(label_of("us", 25), mass_kg=1400.0),
    "US, range, battery known": car(label_of("us", 28, 240, adjustment=0.7)),
    "US, range, battery unknown": car(label_of("us", 28, 250), None),
    "US, nothing but label and size": car(label_of("us", 33, 280), None, None, body="large"),
    "US, city and highway": car(label_of("us", 0.55 * 26 + 0.45 * 30, 240, US_PARTS)),
    "US, recharge time": car(label_of("us", 28, 240, recharge_s=8 * 3600.0)),
    "US, plug-in hybrid": car(label_of("us", 32, 40, all_electric_range_m=38 * MILE_M), None, 1900.0, Kind.PHEV),
    "WLTP, combined alone": car(label_of("wltp", 15.5)),
    "WLTP, range, battery known": car(label_of("wltp", 16.5, 405)),
    "WLTP, metered at the battery": car(label_of("wltp", 15.5, 380, basis=Meter.BATTERY)),
    "WLTP, phases": car(label_of("wltp", 16.0, 415, PHASES)),
}
EACH = pytest.mark.parametrize("vehicle", CARS.values(), ids=CARS)


@EACH
def test_the_fitted_car_reproduces_its_label_within_one_per_cent(vehicle):
    label, again = vehicle.label, reproduced(fitted(vehicle, CATALOGUE))
    assert again.consumption_j_m == pytest.approx(label.consumption_j_m, rel=0.002)
    if label.electric_range_m:
        assert again.range_m == pytest.approx(label.electric_range_m, rel=0.01)
    if label.recharge_s:
        assert again.recharge_s == pytest.approx(label.recharge_s, rel=0.01)
    for (name, value), (same, found) in zip(label.parts_j_m, again.parts_j_m, strict=bool(label.parts_j_m)):
        assert name == same
        assert found == pytest.approx(value, rel=0.015)  # four rounded phases and two unknowns: least squares


@EACH
def test_fitting_the_fitted_car_again_finds_the_same_car(vehicle):
    found = fitted(vehicle, CATALOGUE)
    own = replace(found.vehicle, label=replace(reproduced(found), basis=vehicle.label.basis), anchor=None)
    if not vehicle.label.parts_j_m:
        own = replace(own, label=replace(own.label, parts_j_m=()))
    again = fitted(own, CATALOGUE).vehicle
    old, new = found.vehicle.road_load, again.road_load
    assert new.cd_a_m2 == pytest.approx(old.cd_a_m2, rel=1e-3)
    assert new.crr == pytest.approx(old.crr, rel=1e-3)
    assert again.battery.usable_j == pytest.approx(found.vehicle.battery.usable_j, rel=1e-3)
    for name in ("drive_loss", "charger_loss"):
        assert (getattr(again, name) or 1.0) == pytest.approx(getattr(found.vehicle, name) or 1.0, rel=1e-3)


@pytest.mark.parametrize("id_", [id_ for id_, each in CATALOGUE.vehicles.items() if each.kind.plugs_in])
def test_every_catalogue_car_has_a_coherent_label(id_):
    vehicle = CATALOGUE.vehicles[id_]
    found = fitted(vehicle, CATALOGUE)
    again = reproduced(found)
    assert again.consumption_j_m == pytest.approx(vehicle.label.consumption_j_m, rel=0.01)
    assert again.range_m == pytest.approx(vehicle.label.range_m, rel=0.01)
    assert again.recharge_s == pytest.approx(vehicle.label.recharge_s, abs=900)  # told in half hours
    assert all(each.plausible for each in found.moved)


def test_consumption_times_range_is_what_a_recharge_takes():
    # 28 kWh/100 miles over 250 miles is 70 kWh at the socket; 0.85–0.90 of it reach the battery (from memory)
    found = fitted(CARS["US, range, battery unknown"], CATALOGUE)
    usable = {each.parameter: each for each in found.moved}["usable energy of the battery"]
    assert 0.85 * 70 < usable.value < 0.91 * 70
    assert usable.typical is None
    assert usable.plausible


def test_an_anchored_question_is_left_alone():
    ask, moved = anchored(ask_with(CARS["US, combined alone"]), CATALOGUE)
    assert {each.name for each in moved} == {"drag area", "rolling resistance at 25 °C", "label adjustment"}
    assert anchored(ask, CATALOGUE) == (ask, ())
    bare = replace(ask_with(CATALOGUE.vehicle("mid-electric-sedan")))
    bare = replace(bare, vehicle=replace(bare.vehicle, label=None))
    assert anchored(bare, CATALOGUE) == (bare, ())


def test_what_nobody_gave_is_listed_with_its_source():
    _, moved = anchored(ask_with(car(label_of("us", 28, 250), None, None)), CATALOGUE)
    listed = {each.name: each for each in moved}
    assert listed["size of car"].value == "medium"
    assert listed["kerb mass"].value == 1850
    assert "0.66 to 0.77" in listed["label adjustment"].source
    assert "plausible" in listed["drag area"].source


def test_a_thirstier_label_never_goes_farther():
    near, far = (build_quote(ask_with(car(label_of("wltp", kwh))), CATALOGUE).range_m.p50 for kwh in (20.0, 15.0))
    assert near < far


SPEC = "vehicle.spec"
USE, REACH = f"{SPEC}.label.consumption_kwh_per_100_km", f"{SPEC}.label.range_km"
REFUSED = {
    "no body is so slippery": (car(label_of("us", 9)), USE, 5.59, "plausible bodies give"),
    "range against battery": (car(label_of("us", 28, 400)), REACH, 643.7, "battery of 60.0 kWh usable"),
    "highway below city": (
        car(label_of("us", 28.15, None, (("city", 34), ("highway", 21)))),
        f"{USE}.highway",
        13.05,
        "plausible cars have",
    ),
    "phases against the cycle": (
        car(label_of("wltp", 16.0, None, tuple((name, value * 1.1) for name, value in PHASES))),
        USE,
        16.0,
        "does not go with its parts",
    ),
    "one phase alone": (
        car(label_of("wltp", 17.09, None, (("low", 27.0), *PHASES[1:3], ("extra_high", 17.5)))),
        f"{SPEC}.label.phases.low",
        27.0,
        "plausible cars have",
    ),
    "time against charger": (
        car(label_of("us", 28, 240, recharge_s=7200.0), onboard_charger_w=7400.0),
        f"{SPEC}.label.recharge_hours",
        2.0,
        "a charger of 7.4 kW",
    ),
    "electric beyond whole range": (
        car(label_of("us", 32, 40, all_electric_range_m=50 * MILE_M), None, 1900.0, Kind.PHEV),
        f"{SPEC}.label.all_electric_range_km",
        80.5,
        "more than the range",
    ),
    "metered at the battery, yet more than it holds": (
        car(label_of("wltp", 17.0, 400, basis=Meter.BATTERY)),
        REACH,
        400.0,
        "battery of 60.0 kWh usable",
    ),
    "nothing tells the battery": (car(label_of("us", 28), None), f"{SPEC}.battery.usable_kwh", None, "neither"),
}


@pytest.mark.parametrize(("vehicle", "field", "value", "words"), REFUSED.values(), ids=REFUSED)
def test_contradictions_are_refused_by_name(vehicle, field, value, words):
    with pytest.raises(BadInput) as refused:
        build_quote(ask_with(vehicle), CATALOGUE)
    (row,) = refused.value.rows()
    assert (row.field, row.value) == (field, value)
    assert words in row.message
    assert row.remedy


def test_a_us_label_speaks_of_north_america():
    label = label_of("us", 28, 240)
    ask = Ask(car(label), Journey(legs=(Leg(10e3, 20.0),)), Weather(293.15), band=False)
    assert build_quote(ask, CATALOGUE).charging.circuit.region == "north_america"
    europe = replace(ask, vehicle=car(label_of("wltp", 16.2, 405)))
    assert build_quote(europe, CATALOGUE).charging.circuit.region != "north_america"


def test_an_unusual_car_is_said_to_be_one():
    odd = build_quote(ask_with(car(label_of("us", 40, 170, adjustment=0.7))), CATALOGUE)
    assert any("asks for an unusual car" in note for note in odd.notes)
    usual = build_quote(ask_with(CARS["WLTP, combined alone"]), CATALOGUE)
    assert not any("unusual" in note for note in usual.notes)


US_WINDOWS = {  # kWh/100 miles in the city and on the highway, lb, miles: five test cycles adjust the two apart
    (27, 34): (3500, 150, True),
    (44, 54): (6100, 320, False),
    (28, 33): (4200, 240, True),
    (24, 27): (4050, 270, True),
    (27, 30): (4400, 270, True),
    (31, 37): (4900, 270, True),
}


@pytest.mark.parametrize("parts", US_WINDOWS)
def test_city_and_highway_may_be_adjusted_by_different_factors(parts):
    pounds, miles, usual = US_WINDOWS[parts]
    whole = 0.55 * parts[0] + 0.45 * parts[1]
    named = tuple(zip(("city", "highway"), parts, strict=True))
    found = fitted(car(label_of("us", whole, miles, named), None, pounds * 0.45359237), CATALOGUE)
    again = reproduced(found)
    assert again.consumption_j_m == pytest.approx(whole * KWH_100_MI, rel=0.01)
    assert [value for _, value in again.parts_j_m] == pytest.approx([each * KWH_100_MI for each in parts], rel=0.01)
    moved = {each.parameter: each for each in found.moved}
    if usual:
        assert not found.notes
        apart = moved.get("adjustment of city over highway")  # None where losses explain the two
        assert apart is None or 1.0 < apart.value < 1.17


@pytest.mark.parametrize("parts", [(34, 17), (20, 60)])
def test_no_adjustment_halves_or_trebles_the_highway(parts):
    named = tuple(zip(("city", "highway"), parts, strict=True))
    with pytest.raises(BadInput) as refused:
        fitted(car(label_of("us", 0.55 * parts[0] + 0.45 * parts[1], 240, named), None), CATALOGUE)
    assert refused.value.rows()[0].field.endswith("highway")


def test_a_wind_tunnel_s_drag_area_beside_a_label_is_no_unusual_one(catalogue):
    # an invented car: a label's coastdown finds a fifth more than was stated, as coastdowns of usual cars do
    label = label_of("us", 0.55 * 27.4 + 0.45 * 33, 226, (("city", 27.4), ("highway", 33)), adjustment=0.7)
    known = car(label, 59.0, 1700.0, motor_w=160e3, body="medium")
    stated = replace(known, road_load=BodyAndTyres(0.70, 0.0075))
    drag = next(each for each in fitted(stated, catalogue).moved if each.parameter == "drag area")
    assert drag.value > 1.15 * 0.70
    assert drag.plausible
