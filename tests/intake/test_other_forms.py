"""The forms of a comparison and of a complaint: text in the reader's units → SI, or faults beside the inputs."""

import pytest

from service.catalogue import load_catalogue
from service.diagnosis.complaint import Parked
from service.intake.comparison_form import comparison_from_form
from service.intake.complaint_form import complaint_from_form
from service.intake.routes_csv import demo_routes
from service.specs import CabinAir, Climate

COMPLAINT = {"units": "metric", "reported": "31", "vehicle": "compact-plug-in"}


@pytest.fixture(scope="module")
def catalogue():
    return load_catalogue()


@pytest.fixture(scope="module")
def compared(catalogue):
    routes = demo_routes(catalogue)[:1]
    return lambda **given: comparison_from_form({"vehicles": "electric-delivery-van"} | given, routes, catalogue)


def test_what_is_left_empty_counts_as_not_known(catalogue):
    complaint, _ = complaint_from_form(COMPLAINT, catalogue).question
    assert {"journey", "weather.temperature_c", "cabin.climate", "parked", "odometer_km"} <= complaint.left_open


def test_what_is_typed_counts_as_known(catalogue):
    given = {"temperature": "-5", "climate": "off", "parked": "garage", "odometer": "62000", "surface": "wet"}
    given |= {"journey": "legs", "leg1_distance": "13", "leg1_speed": "60", "charge": "90", "end_charge": "10"}
    complaint, _ = complaint_from_form(COMPLAINT | given, catalogue).question
    assert not complaint.left_open & {"journey", "weather.temperature_c", "cabin.climate", "parked", "weather.surface"}
    assert complaint.ask.cabin.climate is Climate.OFF
    assert complaint.parked is Parked.GARAGE
    assert complaint.end_charge == pytest.approx(0.1)


def test_air_and_seats_are_asked_on_all_pages(catalogue, compared):
    given = {"cabin_air": "fresh", "seat_heat": "yes"}
    complaint, _ = complaint_from_form(COMPLAINT | given, catalogue).question
    comparison, _ = compared(place="", months_by="temperatures", **given).question
    for cabin in (complaint.ask.cabin, comparison.cabin):
        assert (cabin.air, cabin.seat_heat) == (CabinAir.FRESH, True)


def test_pressures_are_psi_for_us_readers(catalogue):
    given = COMPLAINT | {"units": "us", "tyre_pressure": "32", "placard_pressure": "36", "reported": "19"}
    complaint, _ = complaint_from_form(given, catalogue).question
    assert complaint.tyre_pa == pytest.approx(32 * 6894.757, rel=1e-6)  # 1 lbf/in² in Pa, NIST SP 811
    assert complaint.reported_m == pytest.approx(19 * 1609.344)  # international mile


def test_a_pressure_outside_its_range_is_told_in_psi(catalogue):
    fault = complaint_from_form(COMPLAINT | {"units": "us", "tyre_pressure": "2"}, catalogue).errors["tyre_pressure"]
    assert "2 psi is outside 11.61 to 87.02 psi" in fault.message  # 80 to 600 kPa


def test_a_distance_is_needed(catalogue):
    filled = complaint_from_form({"vehicle": "compact-plug-in"}, catalogue)
    assert filled.question is None
    assert set(filled.errors) == {"reported"}


def test_more_left_than_at_the_start_is_told_beside_what_was_left(catalogue):
    errors = complaint_from_form(COMPLAINT | {"charge": "50", "end_charge": "60"}, catalogue).errors
    assert set(errors) == {"end_charge"}


def test_months_of_a_place_or_three_days(compared, catalogue):
    ask, _ = compared(months_by="place", place="oslo").question
    assert len(ask.months) == 12
    assert ask.place is catalogue.places["oslo"]
    ask, _ = compared(months_by="temperatures", cold="-20", hot="").question
    assert [round(month.weather.ambient_k - 273.15) for month in ask.months] == [-20, 10, 32]  # empty: the default
    assert ask.place is None


def test_reserve_and_temperatures_in_the_readers_units(compared):
    ask, _ = compared(units="us", months_by="temperatures", cold="14", reserve="10").question
    assert ask.months[0].weather.ambient_k == pytest.approx(263.15)  # 14 °F = −10 °C
    assert ask.reserve_m == pytest.approx(16_093.44)


def test_the_rest_of_the_day_is_the_same_in_all_three(compared):
    ask, _ = compared(months_by="temperatures", wind="36", surface="wet").question
    assert [month.weather.wind_m_s for month in ask.months] == pytest.approx([10, 10, 10])  # 36 km/h
    assert {month.weather.surface for month in ask.months} == {"wet"}


@pytest.mark.parametrize(
    ("given", "inputs"),
    [
        ({"months_by": "temperatures", "cold": "-99", "wind": "x"}, {"cold", "wind"}),
        ({"months_by": "place", "place": "atlantis"}, {"place"}),
        ({"months_by": "sometimes", "place": "oslo"}, {"months_by"}),
        ({"vehicles": "", "place": "oslo"}, {"vehicles"}),
        ({"vehicles": "", "place": "oslo", "reserve": "-1"}, {"vehicles", "reserve"}),
        ({"vehicles": "own", "place": "oslo"}, {"own_usable", "own_consumption"}),
    ],
)
def test_faults_stand_beside_their_inputs(compared, given, inputs):
    filled = compared(**given)
    assert filled.question is None
    assert inputs <= set(filled.errors)


def test_an_unknown_vehicle_is_not_lost(compared):
    assert compared(vehicles="no-such-van", place="oslo").question is None


def test_an_own_vehicle_beside_others(compared):
    own = {"own_kind": "bev", "own_mass": "1500", "own_usable": "20", "own_consumption": "18", "own_name": "Pool"}
    ask, _ = compared(vehicles="electric-delivery-van,own", place="oslo", **own).question
    assert [vehicle.name for vehicle in ask.vehicles] == ["Electric delivery van", "Pool"]


def test_an_odometer_with_thousands_apart(catalogue):
    typed = {"units": "us", "odometer": "62,000", "reported": "30", "words": "range"}
    assert complaint_from_form(typed, catalogue).question[1].odometer_km == pytest.approx(62_000 * 1.609344)
