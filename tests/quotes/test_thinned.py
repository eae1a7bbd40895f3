"""The draws drive a thinned trace: against the whole one their ranges and consumption hardly move."""

import numpy as np
import pytest

from service.quotes import scenarios as room
from service.quotes.assume import complete
from service.quotes.engine_side import sustaining_j_m
from service.quotes.label import behind_label
from service.specs import Ask, Journey, Weather


@pytest.mark.parametrize("kelvin", [253.15, 268.15, 296.15])
@pytest.mark.parametrize("cycle", ["udds", "hwfet", "wltc_class3b"])
@pytest.mark.parametrize("id_", ["compact-plug-in", "mid-electric-sedan"])
def test_draws_on_a_thinned_trace(catalogue, values, id_, cycle, kelvin):
    vehicle = behind_label(catalogue.vehicles[id_], catalogue).vehicle
    ask, _ = complete(Ask(vehicle, Journey(cycle=cycle), Weather(kelvin)), catalogue, with_engine=False)
    scenarios = room.scenarios_for(ask, (), catalogue, values)
    thin, whole = (room.run(scenarios, ask, catalogue, thin=each) for each in (True, False))
    assert thin.total.distance_m[0] == whole.total.distance_m[0]
    ratio = thin.total.distance_m / whole.total.distance_m
    assert abs(ratio.mean() - 1) < 0.003
    ends, whole_ends = (np.quantile(each.total.distance_m[1:], (0.1, 0.9)) for each in (thin, whole))
    assert ends == pytest.approx(whole_ends, rel=0.005)
    energy, whole_energy = (each.first.cells_j / each.first.distance_m for each in (thin, whole))
    assert energy.mean() == pytest.approx(whole_energy.mean(), rel=0.004)
    assert np.quantile(np.abs(energy / whole_energy - 1), 0.98) < 0.01  # one may just fail to hold the fastest stretch


@pytest.mark.parametrize(("cycle", "kelvin"), [("udds", 268.15), ("wltc_class3b", 268.15), ("wltc_class3b", 253.15)])
def test_an_engine_burns_alike_on_a_thinned_trace(catalogue, values, cycle, kelvin):
    ask, _ = complete(Ask(catalogue.vehicles["compact-plug-in"], Journey(cycle=cycle), Weather(kelvin)), catalogue)
    scenarios = room.scenarios_for(ask, (), catalogue, values)
    thin, whole = (room.run(scenarios, ask, catalogue, thin=each) for each in (True, False))
    fuel, whole_fuel = (each.first.fuel_j / each.first.distance_m for each in (thin, whole))
    # a start more or less in some draws; where few start, half a per cent of what a sustained charge burns
    sustained_j_m = sustaining_j_m(ask, catalogue, scenarios.cars[:1], scenarios.days[:1])
    assert fuel.mean() == pytest.approx(whole_fuel.mean(), rel=0.02, abs=0.005 * sustained_j_m)
    far, whole_far = (np.minimum(each.first_fuel_m, each.total.distance_m)[1:] for each in (thin, whole))
    ends, whole_ends = (np.quantile(each, (0.1, 0.5, 0.9)) for each in (far, whole_far))
    assert ends == pytest.approx(whole_ends, rel=0.01, abs=400.0)  # a start falls on a look, 15 s of a fast stretch
