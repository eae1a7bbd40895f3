"""Tests as recipes: what each fixes, and that whole cycles agree with a drive to empty."""

from dataclasses import replace

import numpy as np
import pytest

from service.errors import UnknownEntry
from service.quotes.build import build_quote
from service.quotes.procedure_run import Trial, measure
from service.quotes.procedures import RECIPES, recipe_of
from service.specs import Ask, Cabin, Climate, Journey, Kind, Procedure, Weather

IDS = ("compact-plug-in", "small-electric-hatch", "mid-electric-sedan", "electric-delivery-van")


@pytest.mark.parametrize("id_", IDS)
@pytest.mark.parametrize(("recipe", "cycle"), [("us-two-cycle", "udds"), ("wltp", "wltc_class3b")])
def test_whole_cycles_agree_with_driving_to_empty(catalogue, id_, recipe, cycle):
    car, recipe = replace(catalogue.vehicles[id_], label=None), RECIPES[recipe]
    ask = Ask(car, Journey(cycle=cycle), Weather(recipe.cell_k, 0.5), Procedure.DYNAMOMETER)
    quote = build_quote(replace(ask, cabin=Cabin(Climate.OFF), band=False), catalogue, with_engine=False)
    found = measure([Trial(car)], recipe, catalogue)
    # a drive to empty ends in an easier or harder stretch of its last cycle; the first
    # third of a UDDS is its fastest: 15 % of one cycle's energy at most
    cycles = quote.range_m.p50 / quote.journey.distance_m
    assert found.range_m[0, 0] == pytest.approx(quote.range_m.p50, rel=0.002 + 0.15 / cycles)


def test_combined_figures_are_weighed_as_the_rule_says(catalogue):
    # 40 CFR 600.210-12(c), 600.311-12(j): fuel economy harmonic, range arithmetic, both 55 to 45
    found = measure([Trial(catalogue.vehicles["mid-electric-sedan"])], RECIPES["us-two-cycle"], catalogue)
    city, highway = found.socket_j_m[0]
    assert 1 / found.socket[0] == pytest.approx(1 / (0.55 * city + 0.45 * highway))
    assert found.range[0] == pytest.approx(found.range_m[0] @ [0.55, 0.45])
    assert found.range_m[0] * found.socket_j_m[0] == pytest.approx(found.recharge_j[0], rel=2e-3)


def test_phases_make_up_the_cycle(catalogue):
    car = catalogue.vehicles["small-electric-hatch"]
    found = measure([Trial(car)], RECIPES["wltp"], catalogue, phases=True)
    metres = np.array([3095, 4756, 7162, 8254])  # UN GTR 15
    assert found.phase_share[0] @ metres == pytest.approx(metres.sum(), rel=2e-3)
    assert found.phase_share[0, 3] > 1.15  # 131 km/h costs more than town
    assert found.phase_share[0, 0] < 1.0


def test_the_cold_test_imposes_a_tenth_more_and_heats(catalogue):
    car = catalogue.vehicles["mid-electric-sedan"]
    cold = measure([Trial(car)], RECIPES["us-cold"], catalogue)
    mild = measure([Trial(car)], RECIPES["us-two-cycle"], catalogue)
    unheated = replace(RECIPES["us-cold"], climate=Climate.OFF)
    off = measure([Trial(car)], unheated, catalogue)
    assert off.battery[0] > 1.05 * mild.battery_j_m[0, 0]
    assert cold.battery[0] > 1.2 * off.battery[0]
    plain = measure([Trial(car)], replace(unheated, coefficient_factor=1.0), catalogue)
    assert plain.battery[0] != off.battery[0]


def test_speed_costs_distance(catalogue):
    car = catalogue.vehicles["small-electric-hatch"]
    ranges = [measure([Trial(car)], RECIPES[f"constant-{v}-km-h"], catalogue).range[0] for v in (90, 105, 130)]
    assert ranges == sorted(ranges, reverse=True)


def test_a_car_without_an_inlet_has_no_consumption_at_the_socket(catalogue):
    car = replace(catalogue.vehicles["compact-plug-in"], kind=Kind.HYBRID, label=None)
    found = measure([Trial(car)], RECIPES["us-two-cycle"], catalogue)
    assert np.isnan(found.socket).all()
    assert found.battery[0] > 0


def test_trials_are_independent_rows(catalogue):
    car = catalogue.vehicles["mid-electric-sedan"]
    both = measure([Trial(car), Trial(car, {"tyre": 1.2})], RECIPES["wltp"], catalogue)
    alone = measure([Trial(car, {"tyre": 1.2})], RECIPES["wltp"], catalogue)
    assert both.socket[1] == pytest.approx(alone.socket[0], rel=1e-9)
    assert both.socket[1] > both.socket[0]


def test_an_unknown_recipe_is_named():
    with pytest.raises(UnknownEntry) as refused:
        recipe_of("us-two-cyle")
    assert refused.value.row.field == "procedure"
    assert "us-two-cycle" in refused.value.row.remedy
