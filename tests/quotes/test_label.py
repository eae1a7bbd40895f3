from dataclasses import replace

import pytest

from service.catalogue import load_catalogue
from service.errors import BadInput
from service.quotes.build import build_quote
from service.quotes.label import anchored, label_consumption_j_m
from service.specs import Ask, Battery, Journey, Kind, Label, LabelProcedure, MassBasis, Vehicle, Weather
from service.units import KWH_J

CATALOGUE = load_catalogue()


def ask_with(procedure, kwh_per_100_km, mass_kg=1750.0):
    label = Label(LabelProcedure(procedure), kwh_per_100_km * KWH_J / 1e5)
    vehicle = Vehicle("own", "own", Kind.BEV, mass_kg, MassBasis.KERB, label, Battery(60 * KWH_J))
    return Ask(vehicle, Journey(cycle="wltc_class3b"), Weather(268.15), band=False)


@pytest.mark.parametrize(("procedure", "kwh"), [("us", 17.5), ("us", 24.0), ("wltp", 14.0), ("wltp", 18.5)])
def test_the_fitted_car_reproduces_its_label_within_one_per_cent(procedure, kwh):
    ask = ask_with(procedure, kwh)
    fitted, moved = anchored(ask, CATALOGUE)
    again = label_consumption_j_m(fitted.vehicle, ask.vehicle.road_load, CATALOGUE)
    assert again == pytest.approx(ask.vehicle.road_load.consumption_j_m, rel=0.01)
    assert {each.name for each in moved} == {"drag area", "rolling resistance at 25 °C"}


def test_a_thirstier_label_never_goes_farther():
    near, far = (build_quote(ask_with("wltp", kwh), CATALOGUE).range_m.p50 for kwh in (20.0, 15.0))
    assert near < far


def test_a_label_that_no_plausible_body_gives_is_refused_by_name():
    with pytest.raises(BadInput) as refused:
        build_quote(ask_with("us", 7.0), CATALOGUE)
    (row,) = refused.value.rows()
    assert row.field == "vehicle.spec.label.consumption_kwh_per_100_km"
    assert row.value == 7.0
    assert "7.0 kWh/100 km" in row.message
    assert "plausible bodies give" in row.message


def test_a_car_with_a_road_load_is_left_alone():
    ask = replace(ask_with("us", 17.5), vehicle=CATALOGUE.vehicle("mid-electric-sedan"))
    assert anchored(ask, CATALOGUE) == (ask, ())
