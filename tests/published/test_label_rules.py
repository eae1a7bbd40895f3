"""Label rules against their published words and worked examples.

Source   40 CFR 600.210-12, 600.311-12, 600.002, 86.129-94 and 1066.305 (2015 text); examples worked by hand from them.
"""

from dataclasses import replace

import pytest

from service.catalogue import load_catalogue
from service.quotes.label import fitted, reproduced
from service.quotes.label_fit import adjustment_of, label_figures
from service.quotes.loading import equivalent_test_mass_kg
from service.quotes.procedure_run import Trial, measure, scenarios_of
from service.quotes.procedure_run import ask_for as rolls_ask
from service.quotes.procedures import RECIPES
from service.specs import Label, LabelProcedure, RoadLoad
from service.units import KWH_J, MILE_M, MPH, POUND_FORCE_N, POUND_KG, n_s2_m2_from_lbf_per_mph2, n_s_m_from_lbf_per_mph

CATALOGUE = load_catalogue()
VALUES = {name: typical.value for name, typical in CATALOGUE.typical.items()}
GALLON_KWH = 33.705  # 40 CFR 600.002: energy of a gallon of gasoline
US = RECIPES["us-two-cycle"]
SEDAN = CATALOGUE.vehicles["mid-electric-sedan"]


def mpge(consumption_j_m):
    """Miles on the energy of a gallon."""
    return GALLON_KWH * KWH_J / MILE_M / consumption_j_m


def test_two_cycle_range_becomes_a_label_by_seven_tenths():
    # 40 CFR 600.210-12(d)(3): two-cycle × 0.7; 150 miles in the test are 105 on the label
    assert US.adjustment.usual == 0.7
    assert 150 * US.adjustment.usual == pytest.approx(105)
    label = Label(LabelProcedure.US, 1.0)
    measured = measure([Trial(SEDAN)], US, CATALOGUE)
    combined, _, range_m = label_figures(measured, label)
    assert range_m[0] == pytest.approx(0.7 * measured.range[0])
    assert combined[0] == pytest.approx(measured.socket[0] / 0.7)
    assert adjustment_of(replace(label, adjustment=0.73)) == 0.73
    assert adjustment_of(Label(LabelProcedure.WLTP, 1.0)) == 1.0


def test_combined_fuel_economy_is_harmonic():
    # 600.210-12(c): 1/(0.55/city + 0.45/highway); worked example: 4.5 and 3.6 mi/kWh → 4.0449
    assert [part.share for part in US.parts] == [0.55, 0.45]
    assert pytest.approx(4.0449, abs=5e-5) == 1 / (0.55 / 4.5 + 0.45 / 3.6)
    measured = measure([Trial(SEDAN)], US, CATALOGUE)
    city, highway = KWH_J / MILE_M / measured.socket_j_m[0]  # miles a kWh
    assert KWH_J / MILE_M / measured.socket[0] == pytest.approx(1 / (0.55 / city + 0.45 / highway))


def test_combined_range_is_arithmetic():
    # 600.311-12(j): 0.55 city range + 0.45 highway range
    measured = measure([Trial(SEDAN)], US, CATALOGUE)
    assert measured.range[0] == pytest.approx(0.55 * measured.range_m[0, 0] + 0.45 * measured.range_m[0, 1])


@pytest.mark.parametrize(("kwh_per_100_mi", "printed"), [(25, 134.82), (27, 124.83)])  # 270 Wh/mi is the second
def test_miles_on_the_energy_of_a_gallon(kwh_per_100_mi, printed):
    # worked example: 33.705 kWh/gallon; 25 kWh/100 mi → 134.82, 270 Wh/mi → 124.83
    assert mpge(kwh_per_100_mi * KWH_J / (100 * MILE_M)) == pytest.approx(printed, abs=5e-3)


def test_a_catalogue_label_in_miles_on_a_gallon():
    # 27 kWh/100 miles is 125 on a window label, whose figures are whole
    found = fitted(SEDAN, CATALOGUE)
    assert round(mpge(reproduced(found).consumption_j_m)) == round(GALLON_KWH / 0.27) == 125


@pytest.mark.parametrize(  # 86.129-94(a): 3 438–3 562 lb → 3 500, 3 938–4 125 → 4 000; then steps of 250 and 500
    ("loaded_lb", "class_lb"),
    [(3438, 3500), (3562, 3500), (3938, 4000), (4125, 4000), (4200, 4250), (5300, 5250), (5700, 5500), (5800, 6000)],
)
def test_test_mass_classes(loaded_lb, class_lb):
    # equivalent test weight: curb + 300 lb, to the class
    assert equivalent_test_mass_kg((loaded_lb - 300) * POUND_KG) == pytest.approx(class_lb * POUND_KG, abs=0.05)


def test_cold_rolls_impose_a_tenth_more_at_every_speed():
    # 1066.305(b)(2): all three target coefficients × 1.1. Worked: A 30, B 0.2, C 0.018 at 50 mph: 85.0 → 93.5 lbf
    load = RoadLoad(30 * POUND_FORCE_N, n_s_m_from_lbf_per_mph(0.2), n_s2_m2_from_lbf_per_mph2(0.018), 4000 * POUND_KG)
    assert RECIPES["us-cold"].coefficient_factor == 1.1
    car = replace(SEDAN, road_load=load, label=None, mass_kg=3700 * POUND_KG)
    recipe = RECIPES["us-cold"]
    cold = force_lbf(car, recipe)
    plain = force_lbf(car, replace(recipe, coefficient_factor=1.0, cell_k=load.reference_k))
    assert plain == pytest.approx(85.0, abs=0.05)
    assert cold == pytest.approx(93.5, abs=0.05)


def force_lbf(car, recipe):
    """Road load of warmed tyres at 50 mph, as the rolls of a recipe impose it."""
    ask = rolls_ask(car, recipe.parts[0], recipe, CATALOGUE)
    scenarios = scenarios_of([Trial(car)], [ask], recipe, CATALOGUE, VALUES)
    row, day, speed = scenarios.cars[0], scenarios.days[0], 50 * MPH
    assert row.tyre_reference_k == pytest.approx(recipe.cell_k)  # so warmed tyres roll as the coefficients say
    air_n = 0.5 * day.air_kg_m3 * row.drag_area_m2 * speed**2
    return (row.tyre_n + row.bearing_n + row.bearing_n_s_m * speed + air_n) / POUND_FORCE_N
