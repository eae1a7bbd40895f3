"""Test masses and rotating mass (40 CFR 86.129-94; UN GTR 15 annex 4 § 2.5.1 as in Regulation (EU) 2017/1151)."""

from dataclasses import replace

import pytest

from service.quotes.assume import complete
from service.quotes.loading import equivalent_test_mass_kg, kerb_mass_kg, loading, wltp_test_mass_kg
from service.specs import Ask, Battery, Cabin, Journey, Kind, MassBasis, Procedure, RoadLoad, Vehicle, Weather
from service.units import POUND_KG

LOADED_OVER_KERB_LB = 300  # 40 CFR 86.129-00(f)(1)


def car(mass_kg, basis=MassBasis.KERB, **load):
    return Vehicle("test", "test", Kind.BEV, mass_kg, basis, RoadLoad(130.0, 1.0, 0.4, **load), Battery(2e8))


def loaded(vehicle, catalogue, values, cycle="udds", procedure=Procedure.DYNAMOMETER, **choices):
    ask = Ask(vehicle, Journey(cycle=cycle), Weather(296.15), procedure, **choices)
    return loading(complete(ask, catalogue)[0], values)


# 40 CFR 86.129-94(a): 3438–3562 lb → 3500, 3938–4125 → 4000; steps of 125 lb to 4000, of 250 to 5500, of 500 above
@pytest.mark.parametrize(
    ("loaded_lb", "class_lb"),
    [(3438, 3500), (3562, 3500), (3563, 3625), (3938, 4000), (4125, 4000), (4126, 4250), (4376, 4500), (5376, 5500),
     (5750, 5500), (5751, 6000)],
)  # fmt: skip
def test_equivalent_test_mass_classes(loaded_lb, class_lb):
    kerb_kg = (loaded_lb - LOADED_OVER_KERB_LB) * POUND_KG
    assert equivalent_test_mass_kg(kerb_kg) / POUND_KG == pytest.approx(class_lb, abs=1e-6)


def test_us_example(catalogue, values):
    # Example 6: ETW 3500 lb = 1587.573 kg; ×1.015 = 1611.387 kg (1.015: dynamometer practice, from memory)
    on_rolls = loaded(car(3200 * POUND_KG), catalogue, values)
    assert on_rolls.mass_kg == pytest.approx(1587.573, abs=5e-4)
    assert on_rolls.inertia_kg == pytest.approx(1611.387, abs=6e-4)


def test_wltp_example(catalogue, values):
    # Example 6: mass in running order 1600 → 0.03·(1600 + 25) = 48.75 kg
    vehicle = car(1600.0, MassBasis.RUNNING_ORDER, reference_pa=100e3)
    on_rolls = loaded(vehicle, catalogue, values, "wltc_class3b")
    assert on_rolls.inertia_kg - on_rolls.mass_kg == pytest.approx(48.75, abs=5e-3)
    # test mass: running order + 25 kg + 15 % of the largest load, here 450 kg (common practice)
    assert on_rolls.mass_kg == pytest.approx(1600 + 25 + 0.15 * 450)
    assert wltp_test_mass_kg(1525.0) == pytest.approx(on_rolls.mass_kg)


# kerb mass from either basis: the driver of "running order" is 75 kg (Regulation (EU) 2017/1151), US test load 300 lb
@pytest.mark.parametrize(
    ("basis", "kerb_kg"),
    [(MassBasis.KERB, 1600), (MassBasis.RUNNING_ORDER, 1525), (MassBasis.TEST, 1600 - 300 * POUND_KG)],
)
def test_kerb_mass_from_its_basis(basis, kerb_kg):
    assert kerb_mass_kg(car(1600.0, basis)) == pytest.approx(kerb_kg, abs=1e-4)


def test_a_stated_test_mass_is_what_the_rolls_turn(catalogue, values):
    for cycle in ("udds", "wltc_class3b"):
        assert loaded(car(1750.0, MassBasis.TEST), catalogue, values, cycle).mass_kg == 1750.0


def test_people_and_load_count_on_the_road_only(catalogue, values):
    vehicle = car(1600.0)
    light = loaded(vehicle, catalogue, values, procedure=Procedure.ROAD, cabin=Cabin(occupants=1))
    full = loaded(vehicle, catalogue, values, procedure=Procedure.ROAD, cabin=Cabin(occupants=4), payload_kg=60.0)
    assert light.mass_kg == pytest.approx(1600 + 75)
    assert full.mass_kg == pytest.approx(1600 + 4 * 75 + 60)
    rolls = loaded(vehicle, catalogue, values)
    assert loaded(vehicle, catalogue, values, cabin=Cabin(occupants=4), payload_kg=500.0) == rolls


def test_coefficients_without_a_mass_hold_at_their_procedures(catalogue, values):
    us, wltp = car(1600.0), car(1600.0, reference_pa=100e3)
    assert loaded(us, catalogue, values).reference_mass_kg == pytest.approx(1600 + 300 * POUND_KG)
    assert loaded(wltp, catalogue, values).reference_mass_kg == pytest.approx(wltp_test_mass_kg(1600.0))
    stated = replace(us, road_load=replace(us.road_load, reference_mass_kg=1800.0))
    assert loaded(stated, catalogue, values).reference_mass_kg == 1800.0
