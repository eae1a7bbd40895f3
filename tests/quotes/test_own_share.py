"""One's own electric share beside the published utility factors."""

from dataclasses import replace
from types import SimpleNamespace

import pytest

from service.catalogue import load_catalogue
from service.quotes.answer import Band
from service.quotes.build import build_quote
from service.quotes.own_share import own_share_of_drive, own_share_of_year
from service.specs import Ask, DriveMode, EngineUse, Journey, Leg, Weather
from service.units import MILE_M, kelvin_from_celsius


@pytest.fixture(scope="module")
def known():
    return load_catalogue()


def asked(known, vehicle="compact-plug-in", celsius=20.0, km=10.0):
    return Ask(
        known.vehicles[vehicle],
        Journey(legs=(Leg(km * 1000, 15.0),)),
        Weather(kelvin_from_celsius(celsius)),
        band=False,
    )


def test_a_short_daily_drive_is_all_electric_where_fleets_are_not(known):
    found = own_share_of_drive(build_quote(asked(known), known))
    assert found.own == 1.0
    assert not found.from_label
    assert found.fleet.un_4260 < found.fleet.un_2200 < found.fleet.un_800 < 1.0


def test_a_day_longer_than_the_charge_lasts_has_its_share_of_it(known):
    found = own_share_of_drive(build_quote(asked(known, km=200.0), known))
    assert found.own == pytest.approx(found.depleting_m / 200e3, abs=0.05)


def test_factors_are_those_printed_for_the_distance(known):
    # 40 CFR 600.116-12, printed label table: 0.65 at 36.51 and 0.67 at 39.02 miles
    quote = build_quote(asked(known), known)
    lasts = Band(None, 38 * MILE_M, None)
    engine = replace(quote.engine, distances=replace(quote.engine.distances, actual_charge_depleting=lasts))
    found = own_share_of_drive(replace(quote, range_m=lasts, engine=engine))
    assert found.fleet.us_label == pytest.approx(0.66, abs=0.01)


def test_an_engine_that_starts_at_once_leaves_the_labels_distance(known):
    quote = build_quote(asked(known, celsius=-20.0), known)
    assert quote.range_m.p50 < 50
    found = own_share_of_drive(quote)
    assert found.from_label
    assert found.depleting_m == known.vehicles["compact-plug-in"].label.electric_range_m


@pytest.mark.parametrize("vehicle", ["compact-hybrid", "small-electric-hatch"])
def test_without_plug_or_engine_there_is_nothing_to_compare(known, vehicle):
    assert own_share_of_drive(build_quote(asked(known, vehicle), known)) is None


def test_a_year_is_read_at_the_mean_of_its_months(known):
    months = [SimpleNamespace(range_m=Band(None, metres, None)) for metres in (40e3, 60e3)]
    year = SimpleNamespace(ask=asked(known), months=months, year=SimpleNamespace(electric_share=Band(0.8, 0.9, 1.0)))
    found = own_share_of_year(year)
    assert (found.own, found.depleting_m) == (0.9, 50e3)
    assert found.fleet.un_800 == pytest.approx(0.7546, abs=5e-5)  # UN R154 curve at 50 km


def test_a_charge_that_is_held_drives_nothing(known):
    hold = replace(asked(known), engine_use=EngineUse(DriveMode.CHARGE_HOLD))
    assert own_share_of_drive(build_quote(hold, known)).own == 0.0
