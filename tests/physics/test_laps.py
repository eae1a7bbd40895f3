"""Skipping settled laps gives the range of marching every lap, within 0.2 %."""

import numpy as np
import pytest

from service.physics.laps import DISTANCE_LIMIT, FURTHEST_M
from service.physics.march import EMPTY
from service.quotes.answer import CAUSES
from service.quotes.assume import complete
from service.quotes.build import build_quote
from service.quotes.scenarios import run, scenarios_for
from service.specs import Ask, Cabin, Climate, Journey, Leg, Start, Weather

SHORT = Journey(legs=(Leg(1500.0, 50 / 3.6, stops_per_m=0.002),))
COMMUTE = Journey(legs=(Leg(2000.0, 50 / 3.6, stops_per_m=0.001), Leg(10_000.0, 90 / 3.6), Leg(2000.0, 50 / 3.6)))
HILL = Journey(legs=(Leg(8000.0, 70 / 3.6, grade=0.04), Leg(8000.0, 70 / 3.6, grade=-0.04)))
DAYS = {"cold": -18.0, "cool": 2.0, "damp": 11.0, "mild": 21.0, "hot": 36.0, "scorching": 46.0}  # °C


def both_ways(catalogue, values, ask):
    filled, _ = complete(ask, catalogue)
    scenarios = scenarios_for(filled, (), catalogue, values)
    return [run(scenarios, filled, catalogue, skip=skip) for skip in (True, False)]


def same_distance(quick, full):
    """Within 0.2 %, but for where in a lap the pack runs out, and never beyond 0.5 %.

    A car that empties while moving loses the energy of its motion, so a hair more charge carries it over the next stop
    and hundreds of metres on. That energy is booked to the brakes; what differs there is counted at the drive's mean.
    """
    last_m = (quick.brakes_j - full.brakes_j) / (full.cells_j / full.distance_m)
    assert quick.distance_m + last_m == pytest.approx(full.distance_m, rel=2e-3)
    assert quick.distance_m == pytest.approx(full.distance_m, rel=5e-3)
    assert np.mean(abs(quick.distance_m / full.distance_m - 1) < 2e-3) >= (0.99 if len(full) > 1 else 0)


@pytest.mark.parametrize("day", DAYS)
@pytest.mark.parametrize(
    "id_", ["compact-plug-in", "small-electric-hatch", "mid-electric-sedan", "electric-delivery-van"]
)
@pytest.mark.parametrize(
    "journey", [SHORT, COMMUTE, HILL, Journey(cycle="udds"), Journey(cycle="wltc_class3b")], ids=str
)
def test_skipping_changes_the_range_by_at_most_a_fifth_of_a_per_cent(catalogue, values, id_, day, journey):
    weather = Weather(DAYS[day] + 273.15, relative_humidity=0.6, wind_m_s=4.0, sun_w_m2=200.0)
    ask = Ask(catalogue.vehicles[id_], journey, weather, band=False)
    quick, full = both_ways(catalogue, values, ask)
    assert quick.ended[0] == full.ended[0]
    same_distance(quick.total, full.total)
    assert quick.total.cells_j[0] == pytest.approx(full.total.cells_j[0], rel=2e-3)
    assert quick.first[0] == full.first[0]  # one journey is marched either way
    for cause in CAUSES:
        ours, theirs = (float(each.total[f"{cause}_j"][0]) for each in (quick, full))
        assert ours == pytest.approx(theirs, abs=4e-3 * float(full.total.cells_j[0])), cause


@pytest.mark.parametrize("id_", ["compact-plug-in", "large-electric-suv"])
def test_every_sampled_row_agrees(catalogue, values, id_):
    ask = Ask(catalogue.vehicles[id_], COMMUTE, Weather(263.15), start=Start(0.8, state_of_health=0.85))
    quick, full = both_ways(catalogue, values, ask)
    assert len(quick.total) == 257
    same_distance(quick.total, full.total)


def test_ledgers_of_skipped_laps_still_close(catalogue, values):
    ask = Ask(catalogue.vehicles["mid-electric-sedan"], COMMUTE, Weather(268.15), band=False)
    quick, _ = both_ways(catalogue, values, ask)
    total = quick.total[0]
    causes_j = sum(float(total[f"{cause}_j"]) for cause in CAUSES)
    assert causes_j == pytest.approx(float(total.cells_j), rel=1e-9)
    assert total.cells_j == pytest.approx(total.terminals_j + total.pack_j, rel=1e-9)


def test_range_uses_up_the_pack(catalogue, values):
    # mild, slow: nearly the usable energy leaves the terminals (J1634: that of a C/3 discharge)
    vehicle = catalogue.vehicles["mid-electric-sedan"]
    weather = Weather(298.15, wind_m_s=0.0, sun_w_m2=0.0)
    ask = Ask(vehicle, COMMUTE, weather, start=Start(soaked=False), cabin=Cabin(Climate.OFF), band=False)
    quick, _ = both_ways(catalogue, values, ask)
    assert quick.ended[0] == EMPTY
    assert quick.states.charge[0] == pytest.approx(0.0, abs=1e-9)
    assert quick.total.terminals_j[0] == pytest.approx(vehicle.battery.usable_j, rel=0.02)


def test_a_downhill_journey_has_no_distance_to_empty(catalogue, values):
    down = Journey(legs=(Leg(20_000.0, 20.0, grade=-0.05),))
    ask = Ask(catalogue.vehicles["compact-plug-in"], down, Weather(293.15), start=Start(0.5), band=False)
    quick, full = both_ways(catalogue, values, ask)
    assert quick.ended[0] == full.ended[0] == DISTANCE_LIMIT
    answer = build_quote(ask, catalogue)
    assert answer.to_empty.ended_by == "distance_limit"
    assert answer.range_m.p50 >= FURTHEST_M


@pytest.mark.parametrize("id_", ["compact-plug-in", "mid-electric-sedan", "electric-delivery-van"])
@pytest.mark.parametrize("celsius", [31.0, 34.5, 40.0, 50.0])
@pytest.mark.parametrize("climate", list(Climate))
def test_leaps_keep_the_books_of_a_chilled_pack(catalogue, values, id_, celsius, climate):
    # from below the temperature held, at it, and far above: the chiller starts, holds, or brings the pack down
    fast = Journey(legs=(Leg(20_000.0, 125 / 3.6),))
    weather = Weather(celsius + 273.15, relative_humidity=0.4, wind_m_s=4.0, sun_w_m2=500.0)
    ask = Ask(catalogue.vehicles[id_], fast, weather, cabin=Cabin(climate), band=False)
    quick, full = both_ways(catalogue, values, ask)
    total = full.total[0]
    same_distance(quick.total, full.total)
    assert quick.total.pack_conditioning_j[0] == pytest.approx(total.pack_conditioning_j, abs=3e-3 * total.cells_j)
    assert quick.states.pack_k[0] == pytest.approx(full.states.pack_k[0], abs=0.5)
    causes_j = sum(float(quick.total[f"{cause}_j"][0]) for cause in CAUSES)
    assert causes_j == pytest.approx(float(quick.total.cells_j[0]), rel=1e-9)
    if celsius == 40 or (celsius > 40 and climate is Climate.OFF):  # at 50 °C the cabin comes first, and takes it all
        assert total.pack_conditioning_j > 0
        assert full.states.pack_k[0] < celsius + 273.15
