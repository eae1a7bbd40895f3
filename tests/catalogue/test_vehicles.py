"""The demonstration cars: each coherent in itself and within handbook ranges."""

from collections import Counter

import pytest

from service.catalogue import load_catalogue
from service.constants import STANDARD_GRAVITY_M_S2, US_REFERENCE_AIR_KG_M3, US_REFERENCE_PA, WLTP_REFERENCE_AIR_KG_M3
from service.specs import BodyAndTyres, Heating, Kind, MassBasis, RoadLoad
from service.units import KWH_J, POUND_KG

CATALOGUE = load_catalogue()
EACH_CAR = pytest.mark.parametrize("car", CATALOGUE.vehicles.values(), ids=CATALOGUE.vehicles)
FITTED = [car for car in CATALOGUE.vehicles.values() if isinstance(car.road_load, RoadLoad)]
US_CLASSES_LB = (*range(2000, 4001, 125), *range(4250, 5501, 250))  # 40 CFR 86.129-94(a)


def drag_area_m2(load):
    if isinstance(load, BodyAndTyres):
        return load.cd_a_m2
    american = load.reference_pa == US_REFERENCE_PA
    return 2 * load.f2_n_s2_m2 / (US_REFERENCE_AIR_KG_M3 if american else WLTP_REFERENCE_AIR_KG_M3)


def rolling_coefficient(load):
    if isinstance(load, BodyAndTyres):
        return load.crr
    return load.f0_n / (load.reference_mass_kg * STANDARD_GRAVITY_M_S2)


def test_nine_cars_show_every_way_of_describing_one():
    cars = CATALOGUE.vehicles.values()
    assert Counter(car.kind for car in cars) == {Kind.PHEV: 3, Kind.HYBRID: 2, Kind.BEV: 4}
    assert {car.heating for car in cars} == set(Heating)
    assert {car.battery.chemistry for car in cars} == set(CATALOGUE.chemistries)
    references = {car.road_load.reference_pa if isinstance(car.road_load, RoadLoad) else None for car in cars}
    assert references == {98_210.0, 100_000.0, None}  # 40 CFR 1066.305, UN GTR 15, none for parts


@EACH_CAR
def test_drag_area_is_a_handbook_one(car):
    low, high = (1.3, 1.5) if car.body == "van" else (0.55, 0.95)  # compact 0.50–0.60 to SUV 0.75–0.95 m², handbook
    assert low <= drag_area_m2(car.road_load) <= high


@EACH_CAR
def test_rolling_resistance_is_a_handbook_one(car):
    assert 0.0065 <= rolling_coefficient(car.road_load) <= 0.011  # good tyre to average, handbook


@EACH_CAR
def test_load_at_100_km_h_is_that_of_a_car(car):
    # 12.6 kW for a 1600 kg car of 0.65 m² (worked example of a road load); half to three times that
    speed_m_s, load = 100 / 3.6, car.road_load
    if isinstance(load, BodyAndTyres):
        rolling_n, drag_n = car.mass_kg * STANDARD_GRAVITY_M_S2 * load.crr, 0.5 * 1.189 * load.cd_a_m2 * speed_m_s**2
    else:
        rolling_n, drag_n = load.f0_n + load.f1_n_s_m * speed_m_s, load.f2_n_s2_m2 * speed_m_s**2
    assert 6e3 < (rolling_n + drag_n) * speed_m_s < 38e3


@pytest.mark.parametrize("car", FITTED, ids=lambda car: car.id)
def test_reference_mass_is_that_of_the_procedure(car):
    assert car.mass_basis is MassBasis.KERB
    if car.road_load.reference_pa == US_REFERENCE_PA:
        loaded_lb = car.mass_kg / POUND_KG + 300  # 40 CFR 86.129-00(f)(1)
        nearest_lb = min(US_CLASSES_LB, key=lambda class_lb: abs(class_lb - loaded_lb))
        assert car.road_load.reference_mass_kg == pytest.approx(nearest_lb * POUND_KG, abs=0.05)
    else:  # UN GTR 15: driver 75 kg and 25 kg, then options and 15 % of the load
        assert 100 < car.road_load.reference_mass_kg - car.mass_kg < 100 + 100 + 0.15 * 800


@EACH_CAR
def test_pack_is_a_whole_number_of_cells(car):
    cells = car.battery.nominal_v / CATALOGUE.chemistry(car.battery.chemistry).cell_nominal_v
    assert cells == pytest.approx(round(cells), abs=0.01)
    low, high = (80, 130) if car.kind.plugs_in else (50, 90)  # packs of the 400 V class; hybrids' of about 200–300 V
    assert low <= cells <= high


@EACH_CAR
def test_window_and_power_fit_the_kind(car):
    window = car.battery.usable_j / car.battery.nominal_j
    spans = {Kind.PHEV: (0.7, 0.85), Kind.HYBRID: (0.4, 0.6), Kind.BEV: (0.9, 0.97)}  # common practice
    low, high = spans[car.kind]
    assert low <= window <= high
    if not car.kind.plugs_in:
        assert car.onboard_charger_w is None
        return
    hours = car.battery.usable_j / car.charge_limit_w / 3600
    assert hours > 0.2  # no demonstration car is charged at more than 5C
    # one phase: 48 A at 240 V on a 60 A breaker (NEC 625.41); three: 16 A at 230 V (IEC 61851-1)
    assert car.onboard_charger_w <= (48 * 240 if car.onboard_charger_phases == 1 else 3 * 16 * 230)


@EACH_CAR
def test_heater_fits_the_way_of_heating(car):
    if car.heating is Heating.ENGINE:
        assert car.kind.has_engine
        assert car.heater_w == 0
    else:
        assert 3000 <= car.heater_w <= 7000


@EACH_CAR
def test_ids_point_into_the_other_tables(car):
    assert car.body in CATALOGUE.bodies
    assert car.battery.chemistry in CATALOGUE.chemistries


def test_compact_plug_in_is_in_si():
    car = CATALOGUE.vehicle("compact-plug-in")
    assert car.mass_kg == 1550
    assert 8 <= car.battery.usable_j / KWH_J <= 10  # early-2020s compact plug-in, common practice
    assert car.onboard_charger_w == 3300
    assert car.road_load.f0_n == pytest.approx(28 * 4.4482216, rel=1e-7)  # 28 lbf
