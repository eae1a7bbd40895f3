"""Skipping settled laps gives the range of marching every lap, within 0.2 %.

Where a drive ends at a steep place of its journey (the last summit, the last fast stretch of a cycle) a hair of energy
is kilometres of range. On the wide grid skipping is therefore held to what marching gives with slightly other
capacities.
"""

from dataclasses import replace
from itertools import product

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
STEADY = Journey(legs=(Leg(50_000.0, 120 / 3.6),))
CARS = ("compact-plug-in", "family-suv-plug-in", "small-electric-hatch", "mid-electric-sedan", "large-electric-suv",
        "electric-delivery-van")  # fmt: skip
WIDE = {
    "udds": Journey(cycle="udds"),
    "hwfet": Journey(cycle="hwfet"),
    "wltc": Journey(cycle="wltc_class3b"),
    "commute": COMMUTE,
    "hill": HILL,
    "steady": STEADY,
}
CAPACITIES = (0.998, 1.0, 1.002)
MORE, BEYOND = 0.002, 0.1  # by which rows may leave what these give, and which share of one car on one journey may
DAYS = {"cold": -18.0, "cool": 2.0, "damp": 11.0, "mild": 21.0, "hot": 36.0, "scorching": 46.0}  # °C


def both_ways(catalogue, values, ask):
    filled, _ = complete(ask, catalogue, with_engine=False)
    scenarios = scenarios_for(filled, (), catalogue, values)
    return [run(scenarios, filled, catalogue, skip=skip) for skip in (True, False)]


def same_distance(quick, full, share=2e-3):
    """Within 0.2 %, but for where in a lap the pack runs out, and never beyond 0.5 %.

    A car that empties while moving loses the energy of its motion, so a hair more charge carries it over the next stop
    and hundreds of metres on. That energy is booked to the brakes; what differs there is counted at the drive's mean.
    """
    last_m = (quick.brakes_j - full.brakes_j) / (full.cells_j / full.distance_m)
    assert quick.distance_m + last_m == pytest.approx(full.distance_m, rel=share)
    assert quick.distance_m == pytest.approx(full.distance_m, rel=5e-3)
    assert np.mean(abs(quick.distance_m / full.distance_m - 1) < share) >= (0.98 if len(full) > 1 else 0)


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
    same_distance(quick.total, full.total, 3e-3 if day == "scorching" else 2e-3)  # too hot a pack limits regeneration
    assert quick.total.cells_j[0] == pytest.approx(full.total.cells_j[0], rel=2e-3)
    assert quick.first[0] == full.first[0]  # one journey is marched either way
    for cause in CAUSES:
        ours, theirs = (float(each.total[f"{cause}_j"][0]) for each in (quick, full))
        assert ours == pytest.approx(theirs, abs=4e-3 * float(full.total.cells_j[0])), cause


def beyond(catalogue, values, ask):
    """By which share of the range skipping leaves what is marched with the capacities; a row a draw."""
    filled, _ = complete(ask, catalogue, with_engine=False)
    scenarios = scenarios_for(filled, (), catalogue, values, 4)
    quick = run(scenarios, filled, catalogue).total.distance_m
    full = []
    for factor in CAPACITIES:
        draws = scenarios.draws.copy().view(np.recarray)
        draws.usable *= factor
        full.append(run(replace(scenarios, draws=draws), filled, catalogue, skip=False).total.distance_m)
    over = np.maximum(quick - np.max(full, axis=0), np.min(full, axis=0) - quick)
    return np.maximum(over, 0.0) / full[1]


@pytest.mark.parametrize("id_", CARS)
@pytest.mark.parametrize("name", WIDE)
def test_on_a_wide_grid_skipping_is_worth_a_hair_of_capacity(catalogue, values, id_, name):
    over = [
        beyond(
            catalogue,
            values,
            Ask(
                catalogue.vehicles[id_],
                WIDE[name],
                Weather(celsius + 273.15),
                cabin=Cabin(climate),
                start=Start(state_of_health=health),
            ),
        )
        for celsius, climate, health in product((-20, -5, 20, 38), Climate, (1.0, 0.8))
    ]
    assert np.max(over) < MORE
    assert np.mean(np.array(over) > 0) <= BEYOND


def test_a_pack_that_needs_no_heater_is_not_heated_by_skipping(catalogue, values):
    # −5 °C, aged pack on hills: heated in the first lap, then warm by itself; skipped laps add no heat of a heater
    weather = Weather(268.15)
    ask = Ask(
        catalogue.vehicles["small-electric-hatch"], HILL, weather, start=Start(state_of_health=0.8),
        cabin=Cabin(Climate.OFF), band=False,
    )  # fmt: skip
    quick, full = both_ways(catalogue, values, ask)
    assert quick.total.pack_conditioning_j[0] == pytest.approx(full.total.pack_conditioning_j[0], rel=1e-9)
    assert quick.first.pack_conditioning_j[0] == pytest.approx(full.total.pack_conditioning_j[0], rel=0.01)


@pytest.mark.parametrize("id_", ["compact-plug-in", "large-electric-suv"])
def test_every_sampled_row_agrees(catalogue, values, id_):
    ask = Ask(catalogue.vehicles[id_], COMMUTE, Weather(263.15), start=Start(0.8, state_of_health=0.85))
    quick, full = both_ways(catalogue, values, ask)
    assert len(quick.total) == 257
    same_distance(quick.total, full.total)


@pytest.mark.parametrize(("cycle", "kelvin"), [("udds", 268.15), ("udds", 278.15), ("hwfet", 263.15)])
def test_a_charge_on_which_the_engine_steps_in_again_and_again(catalogue, values, cycle, kelvin):
    """Ten to thirty laps; only eight are marched. The engine's runs keep no time with laps: 4 %, not a hair."""
    ask, _ = complete(Ask(catalogue.vehicles["family-suv-plug-in"], Journey(cycle=cycle), Weather(kelvin)), catalogue)
    scenarios = scenarios_for(replace(ask, band=False), (), catalogue, values)
    quick, full = (run(scenarios, ask, catalogue, skip=skip) for skip in (True, False))
    assert full.ended[0] == quick.ended[0] == EMPTY
    assert full.total.engine_s[0] > 0
    assert quick.total.distance_m[0] == pytest.approx(full.total.distance_m[0], rel=0.04)
    assert quick.total.fuel_j[0] == pytest.approx(full.total.fuel_j[0], rel=0.08)
    causes_j = sum(float(quick.total[0][f"{cause}_j"]) for cause in CAUSES)
    assert causes_j == pytest.approx(float(quick.total.cells_j[0] + quick.total.engine_j[0]), rel=1e-9)


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
