"""The same refill on the region's other outlets."""

from itertools import pairwise

from service.quotes.build import build_quote
from service.specs import Ask, Journey, Weather


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


def test_socket_energy_of_the_drive_is_what_the_meter_counts_for_its_refill(catalogue):
    cold = Weather(258.15)
    for id_ in ("compact-plug-in", "mid-electric-sedan"):
        ask = Ask(catalogue.vehicle(id_), Journey(cycle="wltc_class3b"), cold, band=False)
        quote = build_quote(ask, catalogue)
        driven_j = quote.to_empty.wall_j_per_m.p50 * quote.to_empty.distance_m.p50
        assert abs(driven_j / quote.charging.wall_j.p50 - 1) < 2e-3  # the refill starts from a grid of the same cells
