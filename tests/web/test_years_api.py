"""Years and commutes as programs see them."""

import pytest

BODY = {
    "vehicle": {"id": "compact-plug-in"},
    "journey": {"legs": [{"distance_km": 19, "speed_km_h": 70}]},
    "place": "chicago",
    "circuit": {"id": "na-household-15a"},
    "prices": {"currency": "USD", "electricity_per_kwh": 0.17, "fuel_per_l": 0.95},
}


@pytest.fixture(scope="module")
def commute(ask):
    reply = ask("POST", "/api/commutes", json=BODY)
    assert reply.status_code == 200
    return reply.json()


@pytest.fixture(scope="module")
def year(ask):
    reply = ask("POST", "/api/years", json=BODY | {"trips_per_day": 2})
    assert reply.status_code == 200
    return reply.json()


def test_a_commute_has_the_contracts_names(commute):
    assert [month["month"] for month in commute["months"]][::11] == ["January", "December"]
    assert commute["there_and_back_km"] == pytest.approx(38)
    assert commute["currency"] == "USD"
    assert commute["place"]["id"] == "chicago"
    for month in commute["months"]:
        assert set(month) == {
            "month", "leaving_home", "leaving_work", "range_km", "tally", "engine_heat_days", "hardest_day"
        }  # fmt: skip
        tally = month["tally"]
        assert tally["electric_days"]["p50"] <= tally["driving_days"] + 1e-6
        assert 0 <= tally["electric_km_pct"]["p10"] <= tally["electric_km_pct"]["p50"] <= 100
    assert {each["name"] for each in commute["assumptions"]} >= {
        "leaves home at", "parked at night", "temperature by the clock", "CO2 of electricity", "fuel on the engine"
    }  # fmt: skip


def test_the_years_share_stands_beside_the_utility_factors(commute):
    factors = commute["utility_factors"]
    assert factors["own_pct"] == pytest.approx(commute["year"]["electric_km_pct"]["p50"])
    months_km = [month["range_km"]["p50"] for month in commute["months"]]
    assert factors["at_km"] == pytest.approx(sum(months_km) / 12, rel=1e-4)
    assert 0 < factors["un_4260_pct"] < factors["un_2200_pct"] < factors["un_800_pct"] < 100
    assert "Averages count many drivers" in factors["why_they_differ"]


def test_sums_are_what_the_prices_say(commute):
    year = commute["year"]
    used = 0.17 * year["wall_kwh"]["p50"] + 0.95 * year["fuel_l"]["p50"]
    assert year["cost"]["p50"] == pytest.approx(used, rel=1e-3)
    assert commute["fuel_only"]["fuel_l"] == pytest.approx(230 * 38 * 0.065, rel=1e-4)  # 6.5 l/100 km
    assert commute["fuel_only"]["cost"] == pytest.approx(0.95 * commute["fuel_only"]["fuel_l"], rel=1e-4)
    assert commute["fuel_only"]["co2_kg"] == pytest.approx(2.348 * commute["fuel_only"]["fuel_l"], rel=1e-4)


def test_a_month_of_a_journey_is_the_single_quote_of_its_day(ask):
    # of a car without an engine; one with an engine is told by what electricity alone does, as its notes say
    car = {"id": "small-electric-hatch"}
    year = ask("POST", "/api/years", json=BODY | {"vehicle": car, "trips_per_day": 2}).json()
    month = year["months"][1]
    quote = ask(
        "POST",
        "/api/quotes",
        json={
            "vehicle": car,
            "journey": BODY["journey"],
            "circuit": BODY["circuit"],
            "weather": {
                "temperature_c": month["air"]["temperature_c"],
                "humidity_pct": month["air"]["humidity_pct"],
                "wind_km_h": month["air"]["wind_km_h"],
                "sun_w_m2": month["air"]["sun_w_m2"],
                "altitude_m": 201,
            },
            "band": False,
        },
    ).json()
    assert month["range_km"]["p50"] == pytest.approx(quote["range_km"]["p50"], rel=2e-3)  # weather is rounded above
    assert year["needed_km"] == pytest.approx(38)


def test_typed_months_and_a_battery_electric_car(ask):
    body = {name: value for name, value in BODY.items() if name != "place"}
    body |= {"vehicle": {"id": "small-electric-hatch"}, "lows_c": [0] * 12, "highs_c": [10] * 12}
    answer = ask("POST", "/api/commutes", json=body).json()
    assert answer["place"] == {"id": "own", "name": "typed months", "country": "", "latitude_deg": 45}
    assert answer["fuel_only"] is None
    assert answer["year"]["fuel_l"] is None
    assert "latitude" in {each["name"] for each in answer["assumptions"]}


@pytest.mark.parametrize("path", ["/api/years", "/api/commutes"])
def test_every_fault_is_told_at_once(ask, path):
    body = BODY | {"place": "atlantis", "payload_kg": -1, "vehicle": {"id": "nothing"}}
    reply = ask("POST", path, json=body)
    assert reply.status_code == 422
    fields = {row["field"]: row for row in reply.json()["errors"]}
    assert set(fields) == {"place", "payload_kg", "vehicle.id"}
    assert all(row["remedy"] for row in fields.values())


def test_hours_that_leave_no_time_name_their_field(ask):
    reply = ask("POST", "/api/commutes", json=BODY | {"leaves_work_hour": 7.5})
    assert reply.status_code == 422
    assert reply.json()["errors"][0]["field"] == "leaves_work_hour"


def test_a_car_without_a_plug_is_refused_beside_its_kind(ask):
    spec = ask("GET", "/api/vehicles").json()[0]["spec"] | {"kind": "hybrid", "label": None}
    reply = ask("POST", "/api/commutes", json=BODY | {"vehicle": {"spec": spec}})
    assert reply.json()["errors"][0]["field"] == "vehicle.spec.kind"


def test_the_examples_of_the_description_are_answered(ask):
    paths = ask("GET", "/openapi.json").json()["paths"]
    for path in ("/api/years", "/api/commutes"):
        examples = paths[path]["post"]["requestBody"]["content"]["application/json"]["examples"]
        for example in examples.values():
            assert ask("POST", path, json=example["value"]).status_code == 200
