"""Years and commutes as they arrive: checked, in SI, defaults listed."""

import pytest

from service.errors import BadInputs
from service.intake.commute_form import commute_from_form
from service.intake.errors import faults_of
from service.intake.year import CommuteRequest, YearRequest, with_defaults
from service.quotes.commute import build_commute
from service.quotes.parking import Overnight

BODY = {
    "vehicle": {"id": "compact-plug-in"},
    "journey": {"legs": [{"distance_km": 19, "speed_km_h": 60}]},
    "place": "chicago",
}
TYPED = {"lows_c": [-8, -7, -2, 4, 9, 15, 18, 17, 13, 6, 0, -6], "highs_c": [0, 2, 8, 15, 21, 27, 29, 28, 24, 17, 9, 2]}
FORM = {
    "units": "metric",
    "typed_units": "metric",
    "vehicle": "compact-plug-in",
    "journey": "legs",
    "leg1_distance": "19",
    "leg1_speed": "60",
    "place": "chicago",
}


def without_place(**more):
    return {name: value for name, value in BODY.items() if name != "place"} | more


def told(body, kind=CommuteRequest):
    from pydantic import ValidationError

    with pytest.raises(ValidationError) as caught:
        kind.model_validate(body)
    return {fault.row.field: fault.row for fault in faults_of(caught.value.errors())}


def test_a_commute_in_si(catalogue):
    body = BODY | {
        "leaves_home_hour": 6.75,
        "parked_overnight": "garage",
        "charge_at_work": True,
        "work_circuit": {"volts": 230, "amps": 16},
        "weekdays": ["thu", "mon"],
        "weeks_per_year": 44,
        "start": {"state_of_charge_pct": 80, "preconditioned": True},
        "prices": {"currency": " EUR ", "electricity_per_kwh": 0.36, "fuel_per_l": 1.8},
        "factors": {"grid_g_per_kwh": 360, "fuel_l_per_100_km": 6},
        "surface": "wet",
    }
    asked = CommuteRequest.model_validate(body).commute(catalogue)
    assert asked.ask.start.state_of_charge == pytest.approx(0.8)
    assert asked.ask.start.soaked
    assert asked.ask.start.preconditioned
    assert asked.ask.weather.surface == "wet"
    assert asked.overnight is Overnight.GARAGE
    assert (asked.work_circuit.volts, asked.work_circuit.continuous_a) == (230, 16)
    assert asked.pattern.weekdays == (0, 3)
    assert asked.pattern.weeks_a_year == 44
    assert asked.prices.currency == "EUR"
    assert asked.prices.electricity_per_j == pytest.approx(1e-7)  # 0.36 a kWh of 3.6 MJ
    assert asked.prices.fuel_per_m3 == pytest.approx(1800)
    assert asked.factors.grid_kg_per_j == pytest.approx(1e-7)  # 360 g
    assert asked.factors.fuel_m3_per_m == pytest.approx(6e-8)


def test_typed_months_are_a_place_on_the_warmer_side(catalogue):
    asked = YearRequest.model_validate(without_place(**TYPED)).year(catalogue)
    assert asked.place.latitude_deg == 45
    assert asked.place.coldest_k[0] == pytest.approx(265.15)
    turned = {name: months[6:] + months[:6] for name, months in TYPED.items()}
    assert YearRequest.model_validate(without_place(**turned)).year(catalogue).place.latitude_deg == -45
    stated = YearRequest.model_validate(without_place(**TYPED, latitude_deg=60)).year(catalogue)
    assert stated.place.latitude_deg == 60


@pytest.mark.parametrize(
    ("change", "field"),
    [
        ({"place": None}, "place"),
        (TYPED, "place"),
        ({"place": None, "lows_c": TYPED["lows_c"]}, "highs_c"),
        ({"place": None, **TYPED, "lows_c": [30] * 12}, "highs_c[0]"),
        ({"place": None, **TYPED, "lows_c": [-99] * 12}, "lows_c"),
        ({"place": None, **TYPED, "lows_c": [0] * 11}, "lows_c"),
        ({"place": None, **TYPED, "lows_c": [0] * 11 + [True]}, "lows_c[11]"),
        ({"days_per_week": 5, "weekdays": ["mon"]}, "weekdays"),
        ({"weekdays": ["mon", "mon"]}, "weekdays"),
        ({"weekdays": []}, "weekdays"),
        ({"weekdays": ["monday"]}, "weekdays[0]"),
        ({"days_per_week": 8}, "days_per_week"),
        ({"weeks_per_year": 0}, "weeks_per_year"),
        ({"leaves_home_hour": 24}, "leaves_home_hour"),
        ({"work_circuit": {"id": "na-dryer-30a"}}, "work_circuit"),
        ({"prices": {"electricity_per_kwh": -1}}, "prices.electricity_per_kwh"),
        ({"prices": {"currency": "x" * 13}}, "prices.currency"),
        ({"factors": {"fuel_l_per_100_km": 0}}, "factors.fuel_l_per_100_km"),
        ({"start": {"soaked": False}}, "start.soaked"),
        ({"parked_overnight": "street"}, "parked_overnight"),
    ],
)
def test_faults_name_their_field(change, field):
    row = told(BODY | change)[field]
    assert row.message
    assert row.remedy


def test_months_that_are_too_few_or_upside_down_are_told_with_figures():
    few = told(BODY | {"place": None, **TYPED, "lows_c": [1, 2]})["lows_c"]
    assert (few.message, few.remedy) == ("there are 2", "give twelve, January to December")
    cold_july = TYPED["highs_c"][:6] + [5] + TYPED["highs_c"][7:]
    row = told(BODY | {"place": None, **TYPED, "highs_c": cold_july})["highs_c[6]"]
    assert row.value == 5
    assert row.message == "a high of 5 °C is below its low of 18 °C"
    assert row.remedy == "check the two of month 7: give at least 18 °C, or a lower low"
    odd = told(BODY | {"place": None, **TYPED, "lows_c": [None] * 12})["lows_c[3]"]
    assert odd.remedy == "give -60 to 50 °C"


def test_every_unknown_id_is_told(catalogue):
    body = BODY | {
        "vehicle": {"id": "nothing"},
        "place": "atlantis",
        "surface": "lava",
        "charge_at_work": True,
        "work_circuit": {"id": "sun"},
        "circuit": {"id": "moon"},
    }
    with pytest.raises(BadInputs) as caught:
        CommuteRequest.model_validate(body).commute(catalogue)
    assert {row.field for row in caught.value.rows()} == {
        "vehicle.id", "place", "surface", "work_circuit.id", "circuit.id"
    }  # fmt: skip


def test_defaults_are_listed_and_what_was_said_is_not(catalogue):
    request = CommuteRequest.model_validate(BODY)
    names = [
        each.name for each in with_defaults(build_commute(request.commute(catalogue), catalogue), request).assumptions
    ]
    assert {"leaves home at", "parked at night", "driving days", "weeks driven in a year", "price of fuel"} <= set(
        names
    )
    assert not {"outside temperature", "procedure", "parked at the outside temperature before the start"} & set(names)
    assert len(set(names)) == len(names)
    said = CommuteRequest.model_validate(BODY | {"days_per_week": 5, "leaves_home_hour": 8, "weeks_per_year": 40})
    names = {each.name for each in with_defaults(build_commute(said.commute(catalogue), catalogue), said).assumptions}
    assert not {"leaves home at", "driving days", "weeks driven in a year"} & names


def test_the_form_in_both_systems_of_units(catalogue):
    more = {"year_by": "typed", "lows": " ".join(map(str, TYPED["lows_c"])), "highs": "; ".join(["30"] * 12)}
    more |= {"fuel_price": "1", "fuel_use": "2.352146", "fuel_co2": "2347.7"}
    metric, _ = commute_from_form(FORM | more, catalogue).question
    us = FORM | more | {"units": "us", "typed_units": "us", "leg1_distance": "11.806055", "leg1_speed": "37.282272"}
    us |= {"lows": "17.6 19.4 28.4 39.2 48.2 59 64.4 62.6 55.4 42.8 32 21.2", "highs": "86 " * 12}
    us |= {"fuel_price": "3.785411784", "fuel_use": "1", "fuel_co2": "8887"}  # 8887 g a US gallon, 40 CFR 600.210-12
    other, _ = commute_from_form(us, catalogue).question
    assert other.place.coldest_k == pytest.approx(metric.place.coldest_k)
    assert other.place.warmest_k == pytest.approx(metric.place.warmest_k)
    assert other.prices.fuel_per_m3 == pytest.approx(metric.prices.fuel_per_m3)
    assert other.factors.fuel_m3_per_m == pytest.approx(metric.factors.fuel_m3_per_m, rel=1e-6)  # 1 gallon/100 miles
    assert other.factors.fuel_kg_per_m3 == pytest.approx(metric.factors.fuel_kg_per_m3, rel=1e-4)
    assert other.ask.journey.legs[0].distance_m == pytest.approx(19_000)


def test_humidity_wind_and_sun_of_months_in_si(catalogue):
    known = {"humidities_pct": [80, *[None] * 11], "winds_km_h": [36] * 12, "suns_kwh_m2_day": [1.5] * 12}
    place = YearRequest.model_validate(without_place(**TYPED, **known)).year(catalogue).place
    assert place.relative_humidity == (0.8, *[None] * 11)
    assert place.wind_m_s == pytest.approx((10.0,) * 12)
    assert place.sun_j_m2_day == pytest.approx((5.4e6,) * 12)


@pytest.mark.parametrize(
    ("more", "field", "words"),
    [
        ({"winds_km_h": [121] * 12} | TYPED, "winds_km_h", "0 to 120 km/h"),
        ({"suns_kwh_m2_day": [-1] + [None] * 11} | TYPED, "suns_kwh_m2_day", "0 to 13.5 kWh/m²"),
        ({"humidities_pct": [50] * 12, "place": "chicago"}, "humidities_pct", "beside a place"),
        ({"humidities_pct": ["wet"] * 12} | TYPED, "humidities_pct[0]", "not a number"),
        ({"humidities_pct": [50] * 11} | TYPED, "humidities_pct", "12"),
    ],
)
def test_months_that_cannot_be_are_told(more, field, words):
    row = told(without_place(**more))[field]
    assert words in f"{row.message}; {row.remedy}"


def test_months_of_the_form_may_be_open_and_follow_a_switch_of_units(catalogue):
    given = FORM | {"year_by": "typed", "lows": "-10 " * 12, "highs": "20 " * 12, "humidities": "85,5 " + "? " * 11,
                    "winds": "16.09344 " * 12, "units": "us"}  # fmt: skip
    filled = commute_from_form(given, catalogue)
    assert filled.errors == {}
    assert filled.values["winds"].split() == ["10"] * 12
    place = filled.question[0].place
    assert place.relative_humidity == (0.855, *[None] * 11)
    assert place.wind_m_s == pytest.approx((4.4704,) * 12)
    assert place.sun_j_m2_day == (None,) * 12
    wrong = commute_from_form(given | {"winds": "? " * 11 + "gale", "lows": "? " * 12}, catalogue)
    assert set(wrong.errors) == {"winds", "lows"}


def test_twelve_temperatures_follow_a_switch_of_units(catalogue):
    given = FORM | {"year_by": "typed", "lows": "-10 " * 12, "highs": "20 " * 11 + "warm", "units": "us"}
    values = commute_from_form(given, catalogue).values
    assert values["lows"].split() == ["14"] * 12
    assert values["highs"].split() == ["68"] * 11 + ["warm"]


def test_the_way_back_is_not_typed_and_not_lost(catalogue):
    for round_trip in ("yes", "no"):
        filled = commute_from_form(FORM | {"round_trip": round_trip}, catalogue)
        assert len(filled.question[0].ask.journey.legs) == 1
        assert filled.values["round_trip"] == round_trip


@pytest.mark.parametrize(
    ("given", "inputs"),
    [
        ({"place": "atlantis", "surface": "lava"}, {"place", "surface"}),
        ({"place": ""}, {"place"}),
        ({"year_by": "typed", "lows": "1 2 3", "weeks": "x"}, {"lows", "highs", "weeks"}),
        ({"year_by": "typed", "lows": "1 " * 12, "highs": "0 " * 12}, {"highs"}),
        ({"year_by": "typed", "lows": "-99 " * 12, "highs": "0 " * 12}, {"lows"}),
        ({"year_by": "sometimes"}, {"year_by"}),
        ({"leaves_home": "25", "overnight": "street", "fuel_price": "-1"}, {"leaves_home", "overnight", "fuel_price"}),
        ({"work_charging": "yes", "work_circuit": "sun"}, {"work_circuit"}),
        ({"currency": "x" * 13, "leg1_distance": ""}, {"currency", "leg1_distance"}),
    ],
)
def test_faults_stand_beside_their_inputs(catalogue, given, inputs):
    filled = commute_from_form(FORM | given, catalogue)
    assert filled.question is None
    assert set(filled.errors) == inputs


def test_a_plug_at_work_counts_only_where_it_is_used(catalogue):
    asked, _ = commute_from_form(FORM | {"work_charging": "no", "work_circuit": "na-dryer-30a"}, catalogue).question
    assert asked.work_circuit is None
    asked, _ = commute_from_form(FORM | {"work_charging": "yes", "work_circuit": "na-dryer-30a"}, catalogue).question
    assert asked.work_circuit.id == "na-dryer-30a"
