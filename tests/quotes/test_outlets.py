"""The same refill on the region's other outlets."""

from dataclasses import replace
from itertools import pairwise

import pytest

from service.quotes.build import build_quote
from service.specs import Ask, Journey, Run, Weather


def ask_on(catalogue, circuit):
    car = catalogue.vehicle("family-suv-plug-in")
    return Ask(car, Journey(cycle="udds"), Weather(293.15), circuit=catalogue.circuit(circuit), band=False)


def test_every_outlet_of_the_region_is_timed_and_none_of_another(catalogue):
    outlets = build_quote(ask_on(catalogue, "na-household-15a"), catalogue).charging.outlets
    assert {each.circuit.region for each in outlets} == {"north_america"}
    assert len(outlets) == sum(each.region == "north_america" for each in catalogue.circuits.values()) == 17


def test_slowest_first_and_a_stronger_outlet_is_never_slower(catalogue):
    outlets = build_quote(ask_on(catalogue, "na-range-50a"), catalogue).charging.outlets
    for slow, fast in pairwise(outlets):
        assert slow.seconds >= fast.seconds
        assert slow.circuit.volts * slow.circuit.continuous_a <= fast.circuit.volts * fast.circuit.continuous_a + 1e-9


def test_the_asked_outlet_agrees_with_the_main_answer(catalogue):
    charging = build_quote(ask_on(catalogue, "uk-household-13a"), catalogue).charging
    (same,) = [each for each in charging.outlets if each.circuit.id == "uk-household-13a"]
    assert same.seconds == charging.seconds.p50


def test_a_long_run_takes_longer_and_is_told(catalogue):
    plain = ask_on(catalogue, "uk-household-13a")
    run = Run(40.0, section_mm2=2.5)
    long = replace(plain, circuit=replace(plain.circuit, run=run))
    near, far = (build_quote(each, catalogue).charging for each in (plain, long))
    # 10 A through 2 × 40 m of 8.866 mΩ/m lose 7.093 V of 230
    assert far.cable.drop_v == pytest.approx(7.093, abs=1e-3)
    assert far.power_w / near.power_w == pytest.approx(1 - 7.093 / 230, rel=1e-5)
    assert far.seconds.p50 > near.seconds.p50
    assert "40 m of 2.5 mm² copper up to the plug lose 3.1 %" in far.cable_advice[0]
    assert (near.cable, near.cable_advice) == (None, ())


def test_a_car_that_draws_less_loses_less_along_its_run(catalogue):
    # the 3.6 kW or so of this car's charger, not the 32 A of the circuit, flow through the run
    plain = ask_on(catalogue, "uk-wall-unit-32a")
    charging = build_quote(replace(plain, circuit=replace(plain.circuit, run=Run(40.0, section_mm2=6))), catalogue)
    charging = charging.charging
    assert charging.limited_by == "onboard_charger"
    assert charging.cable.power_w == pytest.approx(charging.power_w)
    assert charging.cable.current_a < 32


def test_the_weakest_link_is_named_beside_the_others(catalogue):
    charging = build_quote(ask_on(catalogue, "uk-wall-unit-32a"), catalogue).charging
    assert set(charging.links_w) == {"onboard_charger", "circuit", "pack"}
    assert charging.links_w["circuit"] == 7360
    assert min(charging.links_w.values()) == charging.links_w["onboard_charger"]
    assert "not your 7.4 kW wall unit" in charging.limited_by_sentence


def test_socket_energy_of_the_drive_is_what_the_meter_counts_for_its_refill(catalogue):
    cold = Weather(258.15)
    for id_ in ("compact-plug-in", "mid-electric-sedan"):
        ask = Ask(catalogue.vehicle(id_), Journey(cycle="wltc_class3b"), cold, band=False)
        quote = build_quote(ask, catalogue, with_engine=False)
        driven_j = quote.to_empty.wall_j_per_m.p50 * quote.to_empty.distance_m.p50
        assert abs(driven_j / quote.charging.wall_j.p50 - 1) < 2e-3  # the refill starts from a grid of the same cells
