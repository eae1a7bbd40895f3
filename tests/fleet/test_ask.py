"""The months of a place, and where a fault of one vehicle is told."""

import pytest

from service.errors import BadInput
from service.fleet.ask import months_of, moved_to, vehicle_key


def test_a_winter_month_is_driven_at_its_mean_minimum(catalogue):
    place = catalogue.places["helsinki"]
    months = months_of(place, 294.15)
    assert [month.name for month in months][::11] == ["January", "December"]
    assert months[0].weather.ambient_k == place.coldest_k[0]
    assert months[0].weather.relative_humidity == place.relative_humidity[0]
    assert months[0].weather.altitude_m == place.elevation_m


def test_a_hot_month_is_driven_at_its_mean_maximum(catalogue):
    place = catalogue.places["riyadh"]
    assert months_of(place, 294.15)[6].weather.ambient_k == place.warmest_k[6]


def test_sun_is_the_mean_over_day_and_night(catalogue):
    place = catalogue.places["chicago"]
    weather = months_of(place, 294.15, "wet")[5].weather
    assert weather.sun_w_m2 * 24 * 3600 == pytest.approx(place.sun_j_m2_day[5])
    assert weather.wind_m_s == place.wind_m_s[5]
    assert weather.surface == "wet"


def test_what_a_place_does_not_tell_stays_unknown(catalogue):
    weather = months_of(catalogue.places["anchorage"], 294.15)[0].weather
    assert (weather.relative_humidity, weather.wind_m_s, weather.sun_w_m2) == (None, None, None)


def test_a_fault_moves_with_its_vehicle():
    fault = BadInput("vehicle.spec.label", 3, "no", "yes")
    assert moved_to(fault, "vehicle", "vehicles[7]").row.field == "vehicles[7].spec.label"


def test_a_vehicle_is_called_by_its_id(catalogue):
    assert vehicle_key(catalogue.vehicles["compact-plug-in"]) == "compact-plug-in"
