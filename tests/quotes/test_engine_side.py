"""The engine's side of whole quotes: distances in their order, fuel only where fuelled, books that close with it."""

from dataclasses import replace

import pytest

from service.constants import PETROL_J_M3
from service.quotes.build import build_quote
from service.quotes.engine_side import advice_for, fuel_scale, sustaining_j_m
from service.quotes.scenarios import rows_for
from service.specs import (
    Ask,
    Cabin,
    Climate,
    DriveMode,
    EngineUse,
    Heating,
    Journey,
    Kind,
    Leg,
    Prices,
    Start,
    Triggers,
    Weather,
)
from service.units import KWH_J

TOWN = Journey(legs=(Leg(6000.0, 13.0, 0.001), Leg(4000.0, 18.0)))
MILD, COLD, FROST = (Weather(celsius + 273.15, 0.6, 2.0, 0.0) for celsius in (20, -5, -18))
WITH_ENGINE = ("compact-plug-in", "family-suv-plug-in", "plug-in-delivery-van", "compact-hybrid", "family-suv-hybrid")


@pytest.fixture(scope="module")
def quote(catalogue):
    def make(id_="compact-plug-in", journey=TOWN, weather=MILD, triggers=None, band=False, **choices):
        car = catalogue.vehicles[id_]
        car = car if triggers is None else replace(car, triggers=triggers)
        return build_quote(Ask(car, journey, weather, band=band, **choices), catalogue)

    return make


def test_without_triggers_the_first_fuel_is_burnt_where_the_charge_is_used_up(quote):
    found = quote(triggers=Triggers()).engine
    assert found.distances.all_electric.p50 == found.distances.actual_charge_depleting.p50
    assert found.starts == ()
    assert found.fuel_m3_m.p50 == 0.0
    assert found.electric_share.p50 == pytest.approx(1.0)


@pytest.mark.parametrize("weather", [MILD, COLD, FROST], ids=["mild", "cold", "frost"])
@pytest.mark.parametrize("id_", WITH_ENGINE)
def test_distances_stand_in_their_order(quote, id_, weather):
    answer = quote(id_, weather=weather, band=True)
    known = answer.engine.distances
    assert answer.range_m == known.all_electric
    if known.actual_charge_depleting is None:  # an engine that keeps the charge for ever
        assert known.charge_depleting_cycle is known.equivalent_all_electric is None
        return
    for end in ("p10", "p50", "p90") if known.actual_charge_depleting.p10 is not None else ("p50",):
        electric, actual, cycles = (
            getattr(each, end)
            for each in (known.all_electric, known.actual_charge_depleting, known.charge_depleting_cycle)
        )
        assert electric <= actual * (1 + 1e-9)
        assert actual <= cycles * (1 + 1e-9)
    assert (known.equivalent_all_electric is None) == (answer.ask.vehicle.kind is Kind.HYBRID)
    if known.equivalent_all_electric:
        assert known.equivalent_all_electric.p50 <= known.actual_charge_depleting.p50 * (1 + 1e-9)


def test_a_charge_that_never_runs_out_in_some_draws_is_told_by_its_middle(quote):
    known = quote("family-suv-plug-in", Journey(cycle="udds"), Weather(263.15), band=True).engine.distances
    alone = quote("family-suv-plug-in", Journey(cycle="udds"), Weather(263.15)).engine.distances
    assert known.actual_charge_depleting == alone.actual_charge_depleting
    assert known.actual_charge_depleting.p10 is None
    assert known.actual_charge_depleting.p50 > known.equivalent_all_electric.p50 > 0


@pytest.mark.parametrize("weather", [MILD, COLD], ids=["mild", "cold"])
@pytest.mark.parametrize("id_", WITH_ENGINE)
def test_causes_make_up_what_battery_and_engine_give(quote, id_, weather):
    answer = quote(id_, weather=weather)
    given_j_m = answer.journey.battery_j_per_m.p50 + answer.engine.engine_j_m
    assert sum(answer.journey.ledger_j_per_m.values()) == pytest.approx(given_j_m, rel=1e-6)
    given_j_m = answer.to_empty.battery_j_per_m.p50 + answer.engine.depleting_engine_j_m
    assert sum(answer.to_empty.ledger_j_per_m.values()) == pytest.approx(given_j_m, rel=1e-6)


@pytest.mark.parametrize("id_", WITH_ENGINE)
def test_fuel_is_that_of_its_starts(quote, id_):
    answer = quote(id_, weather=COLD)
    told_m3 = sum(start.fuel_m3 for start in answer.engine.starts)
    assert told_m3 == pytest.approx(answer.engine.fuel_m3_m.p50 * answer.journey.distance_m, rel=1e-6, abs=1e-9)
    assert answer.journey.completed_on_electricity == (told_m3 == 0.0)
    for start in answer.engine.starts:
        assert (start.avoidable, start.advice) == advice_for(start.trigger, answer.ask.vehicle)


def test_a_car_heated_by_its_engine_starts_it_for_a_cold_cabin_only(quote):
    assert {each.trigger for each in quote("family-suv-plug-in", weather=COLD).engine.starts} >= {"cabin_heat"}
    for changes in ({"weather": MILD}, {"weather": COLD, "cabin": Cabin(Climate.OFF)}):
        assert "cabin_heat" not in {each.trigger for each in quote("family-suv-plug-in", **changes).engine.starts}


def test_a_plain_hybrid_stops_being_electric_at_town_speed(quote):
    # common practice: about 25 mph for about two minutes
    start = quote("compact-hybrid", Journey(legs=(Leg(5000.0, 16.0),)), cabin=Cabin(Climate.OFF)).engine.starts[0]
    assert start.trigger in {"speed", "power"}
    assert start.at_s < 120
    slow = quote("compact-hybrid", Journey(legs=(Leg(5000.0, 8.0),)), cabin=Cabin(Climate.OFF))
    assert 300 < slow.range_m.p50 < 6000


def test_holding_the_charge_burns_fuel_and_keeps_it(quote):
    held = quote(engine_use=EngineUse(DriveMode.CHARGE_HOLD), start=Start(0.6))
    assert held.engine.starts[0].trigger == "charge_mode"
    assert held.journey.arrives_with.p50 == pytest.approx(0.6, abs=0.08)
    assert held.engine.fuel_m3_m.p50 > 0


def test_fuel_is_scaled_to_the_official_consumption(catalogue, quote):
    car = catalogue.vehicles["compact-plug-in"]
    thirsty = replace(car, engine=replace(car.engine, sustaining_m3_m=2 * car.engine.sustaining_m3_m))
    filled = quote().ask.vehicle
    filled_thirsty = replace(filled, engine=replace(filled.engine, sustaining_m3_m=thirsty.engine.sustaining_m3_m))
    assert fuel_scale(filled_thirsty, catalogue) == pytest.approx(2 * fuel_scale(filled, catalogue))


def test_the_modelled_sustained_consumption_is_that_of_such_cars(catalogue, quote):
    # hybrids of this size use 4–7 l/100 km in town and out (official figures, common practice)
    values = {name: typical.value for name, typical in catalogue.typical.items()}
    ask = quote(cabin=Cabin(Climate.OFF)).ask
    modelled_m3_m = sustaining_j_m(ask, catalogue, *rows_for(ask, catalogue, values)) / PETROL_J_M3
    assert 2.5e-8 < modelled_m3_m < 7e-8


def test_a_journey_costs_what_the_prices_say(quote):
    prices = Prices("EUR", 0.3 / KWH_J, fuel_per_m3=1800.0)
    answer = quote("family-suv-plug-in", weather=COLD, prices=prices)
    wall_j, fuel_m3 = (each.p50 * answer.journey.distance_m for each in (
        answer.journey.wall_j_per_m, answer.engine.fuel_m3_m))  # fmt: skip
    assert answer.journey_cost == pytest.approx(0.3 * wall_j / KWH_J + 1800 * fuel_m3)
    assert quote("family-suv-plug-in", weather=COLD).journey_cost is None
    assert quote("family-suv-plug-in", weather=COLD, prices=Prices("EUR", 1e-7)).journey_cost is None  # no fuel price


def test_nobody_is_told_to_use_a_plug_that_does_not_help(catalogue, quote):
    for id_ in ("compact-hybrid", "family-suv-hybrid", "family-suv-plug-in"):
        for start in quote(id_, weather=COLD).engine.starts:
            assert "plug" not in start.advice.replace("without a plug", "")
    assert "plug" in advice_for("cabin_heat", catalogue.vehicles["compact-plug-in"])[1]


def test_heat_by_the_engine_follows_the_heating(catalogue):
    kinds = {id_: catalogue.vehicles[id_].heating for id_ in WITH_ENGINE}
    assert kinds["compact-hybrid"] is kinds["family-suv-hybrid"] is Heating.ENGINE


def test_advice_holds_for_the_car_at_hand(catalogue):
    # a plug warms a pack that has a heater, and no other
    car = catalogue.vehicles["compact-plug-in"]
    for heater_w, advice in ((0.0, "Park out of the cold."), (1000.0, "Park out of the cold, or leave it plugged in")):
        warmed = replace(car, battery=replace(car.battery, heater_w=heater_w))
        assert advice_for("cold_pack", warmed)[1].startswith(advice)


def test_where_the_engine_heats_the_heater_is_what_to_switch_off(catalogue):
    quote = build_quote(Ask(catalogue.vehicles["family-suv-plug-in"], TOWN, COLD, band=False), catalogue)
    assert quote.range_m.p50 < 50
    off = next(each for each in quote.sensitivities if each.input == "climate")
    without = Ask(catalogue.vehicles["family-suv-plug-in"], TOWN, COLD, cabin=Cabin(Climate.OFF), band=False)
    assert off.effect_m == pytest.approx(build_quote(without, catalogue).range_m.p50 - quote.range_m.p50, rel=0.02)
    assert not [each for each in quote.sensitivities if each.starts_engine]  # it does already
