"""Other packs in the same car."""

from dataclasses import replace

import pytest

from service.physics.tables import WIDEST_WINDOW
from service.quotes.build import build_quote
from service.quotes.pack_size import ENERGY_ENTRIES, build_pack_sizes, pack_kg
from service.specs import Ask, Battery, Journey, Kind, Leg, RoadLoad, Weather
from service.units import KWH_J, POUND_KG

LEGS = Journey(legs=(Leg(5000.0, 60 / 3.6, 0.5e-3),))
MILD = Weather(293.15)


@pytest.fixture
def sizes(catalogue):
    def build(id_, usable_kwh=None, gross_kg=None, **choices):
        ask = Ask(catalogue.vehicles[id_], LEGS, MILD, **choices)
        usable_j = None if usable_kwh is None else tuple(each * KWH_J for each in usable_kwh)
        return build_pack_sizes(ask, catalogue, usable_j, gross_kg)

    return build


def test_pack_masses_of_common_practice(catalogue):
    # common practice: about 300 lb in a plug-in, about 50 lb in a plain hybrid. The energies over mass were set from
    # memory of packs; these masses are compared once
    def pounds(kind, nominal_kwh):
        j_per_kg = catalogue.typical_entry(ENERGY_ENTRIES[kind]).value * 3600
        return pack_kg(nominal_kwh * KWH_J, j_per_kg) / POUND_KG

    nominal_kwh = catalogue.vehicles["compact-plug-in"].battery.nominal_j / KWH_J
    assert pounds(Kind.PHEV, nominal_kwh) == pytest.approx(300, rel=0.1)
    assert pounds(Kind.HYBRID, 0.8) == pytest.approx(50, rel=0.1)


def test_96_cells_of_3_7_v_make_355_v(catalogue):
    # common practice: 96 × 3.7 = 355.2 V
    pack: Battery = catalogue.vehicles["compact-plug-in"].battery
    cell_v = catalogue.chemistry(pack.chemistry).cell_nominal_v
    assert 96 * cell_v == pytest.approx(355.2)
    assert round(pack.nominal_v / cell_v) == 96


def test_the_cars_own_pack_is_its_own_quote(catalogue, sizes):
    answer = sizes("compact-plug-in", [4, 16])
    own = next(each for each in answer.sizes if each.own)
    quote = build_quote(Ask(catalogue.vehicles["compact-plug-in"], LEGS, MILD, band=False), catalogue)
    assert own.range_m == quote.range_m.p50
    assert own.charging_s == quote.charging.seconds.p50
    assert own.kerb_kg == catalogue.vehicles["compact-plug-in"].mass_kg
    assert [round(each.usable_j / KWH_J, 1) for each in answer.sizes] == [4, 8.8, 16]


def test_bodies_that_carry_have_more_left(catalogue):
    def left_kg(body):
        vehicle = replace(catalogue.vehicles["mid-electric-sedan"], body=body)
        answer = build_pack_sizes(Ask(vehicle, LEGS, MILD), catalogue, None, None)
        return next(each.payload_left_kg for each in answer.sizes if each.own)

    car, pickup, van = (left_kg(body) for body in ("large", "pickup", "van"))
    assert (pickup - car, van - car) == pytest.approx((800 - 525, 1000 - 525))  # data/typical.csv


@pytest.mark.parametrize("id_", ["compact-plug-in", "small-electric-hatch", "mid-electric-sedan"])
def test_a_larger_pack_goes_farther_but_not_in_proportion(sizes, id_):
    answer = sizes(id_)
    for small, large in zip(answer.sizes, answer.sizes[1:], strict=False):
        assert large.range_m > small.range_m
        assert large.payload_left_kg < small.payload_left_kg
        assert large.charging_s > small.charging_s
        assert large.kerb_kg - small.kerb_kg == pytest.approx(large.pack_kg - small.pack_kg)
        assert large.pack_kg / small.pack_kg == pytest.approx(large.usable_j / small.usable_j)
    own, last = next(each for each in answer.sizes if each.own), answer.sizes[-1]
    assert last.range_m / own.range_m < last.usable_j / own.usable_j  # its own mass is carried along
    assert last.battery_j_per_m > own.battery_j_per_m


def test_coefficients_keep_the_mass_they_were_measured_at(catalogue):
    # without a stated reference mass it would follow the kerb mass, and extra mass would roll for nothing
    car = catalogue.vehicles["compact-plug-in"]
    assert isinstance(car.road_load, RoadLoad)
    bare = replace(car, road_load=replace(car.road_load, reference_mass_kg=None))
    answer = build_pack_sizes(Ask(bare, LEGS, MILD), catalogue, (3 * car.battery.usable_j,))
    assert answer.sizes[-1].battery_j_per_m > 1.02 * answer.sizes[0].battery_j_per_m


def test_payload_left_counts_gross_limit_and_people(sizes):
    answer = sizes("compact-plug-in", [8.8], gross_kg=2000.0)
    own = answer.sizes[0]
    assert own.payload_left_kg == pytest.approx(2000 - 1550 - 75)
    assert "gross limit over kerb mass" not in {each.name for each in answer.assumptions}
    assert "gross limit over kerb mass" in {each.name for each in sizes("compact-plug-in", [8.8]).assumptions}


def test_over_its_gross_limit_it_says_so(sizes):
    answer = sizes("mid-electric-sedan", [300])
    assert answer.sizes[-1].payload_left_kg < 0
    assert any("over its gross limit" in note for note in answer.notes)


def test_the_window_keeps_its_share(sizes, catalogue):
    pack = catalogue.vehicles["compact-plug-in"].battery
    share = pack.usable_j / pack.nominal_j
    assert share < WIDEST_WINDOW
    for each in sizes("compact-plug-in").sizes:
        assert each.usable_j / each.nominal_j == pytest.approx(share)
