"""Labels fitted and tests run over HTTP: the contract's names, the round trip, errors by name."""

import pytest

US = {
    "procedure": "us",
    "kind": "bev",
    "consumption_kwh_per_100_km": 17.4,
    "range_km": 390,
    "adjustment": 0.7,
    "mass_kg": 1750,
    "motor_kw": 150,
    "battery": {"usable_kwh": 60},
    "onboard_charger_kw": 11,
}
PARTS = {"city": 16.8, "highway": 18.1}
WLTP = {"procedure": "wltp", "kind": "bev", "consumption_kwh_per_100_km": 15.8, "range_km": 400, "size_class": "small"}
USE = {"consumption_kwh_per_100_km": 17}
PHASES = {"low": 12.9, "medium": 13.1, "high": 14.4, "extra_high": 19.6}
PLUG_IN = {
    "procedure": "us",
    "kind": "phev",
    "consumption_kwh_per_100_km": 20.0,
    "range_km": 64,
    "all_electric_range_km": 60,
    "recharge_hours": 2.5,
}
GOOD = {
    "US, all known": US,
    "US, city and highway": US | {"consumption_kwh_per_100_km": PARTS},
    "US, little known": {key: US[key] for key in ("procedure", "kind", "consumption_kwh_per_100_km", "range_km")},
    "WLTP by size": WLTP,
    "WLTP phases": WLTP | {"phases": PHASES, "name": "Loan car"},
    "WLTP at the battery": WLTP | {"basis": "battery", "mass_kg": 1600, "mass_basis": "running_order"},
    "plug-in hybrid": PLUG_IN,
}


@pytest.fixture(scope="module")
def fit(ask):
    return lambda body: ask("POST", "/api/label-fits", json=body)


@pytest.mark.parametrize("body", GOOD.values(), ids=GOOD)
def test_the_fitted_car_gives_the_label_and_can_be_asked_about(fit, ask, body):
    reply = fit(body)
    assert reply.status_code == 200, reply.text
    found = reply.json()
    label, given = found["label"], body["consumption_kwh_per_100_km"]
    for name, value in given.items() if isinstance(given, dict) else ():
        assert label["consumption_kwh_per_100_km"][name] == pytest.approx(value, rel=0.01)
    if not isinstance(given, dict):
        assert label["consumption_kwh_per_100_km"] == pytest.approx(given, rel=0.01)
    assert label["range_km"] == pytest.approx(body.get("all_electric_range_km", body["range_km"]), rel=0.01)
    assert label["recharge_hours"] > 0
    names = ("city_kwh_per_100_km", "highway_kwh_per_100_km") if body["procedure"] == "us" else ("phases",)
    assert all(label[name] for name in names)
    run = ask("POST", "/api/procedure-runs", json=run_of(found["vehicle"], body["procedure"])).json()
    again = run["adjusted"]["range_km"] if run["adjusted"] else run["combined"]["range_km"]
    assert again == pytest.approx(label["range_km"], rel=1e-3)  # sent back, it is the same car
    question = {"vehicle": {"spec": found["vehicle"]}, "journey": {"cycle": "wltc_class3b"}}
    quote = ask("POST", "/api/quotes", json=question)
    assert quote.status_code == 200, quote.text
    assert quote.json()["range_km"]["p10"] < quote.json()["range_km"]["p50"]


def run_of(spec, procedure):
    return {"vehicle": {"spec": spec}, "procedure": {"us": "us-two-cycle", "wltp": "wltp"}[procedure]}


def test_what_was_moved_and_what_is_left_open_is_told(fit):
    found = fit(GOOD["US, little known"]).json()
    moved = {each["parameter"]: each for each in found["moved"]}
    assert set(moved) == {"drag area", "rolling resistance at 25 °C", "usable energy of the battery"}
    assert set(moved["drag area"]) == {"parameter", "value", "unit", "typical", "plausible"}
    assert moved["usable energy of the battery"]["typical"] is None
    assert {"kerb mass", "size of car", "label adjustment"} <= {each["name"] for each in found["assumptions"]}
    assert any("adjustment is not known" in note for note in found["notes"])
    for each in found["spread"]:
        assert each["p10"] < each["p50"] < each["p90"]


def test_a_quote_from_a_label_is_anchored_the_same_way(fit, ask):
    found = fit(US).json()
    label = {key: US[key] for key in ("procedure", "consumption_kwh_per_100_km", "range_km", "adjustment")}
    spec = {key: US[key] for key in ("kind", "mass_kg", "motor_kw", "battery", "onboard_charger_kw")} | {"label": label}
    question = {"journey": {"cycle": "udds"}, "weather": {"temperature_c": -5}}
    direct, fitted = (
        ask("POST", "/api/quotes", json=question | {"vehicle": {"spec": each}}).json()
        for each in (spec, found["vehicle"])
    )
    for end in ("p10", "p50", "p90"):
        assert direct["range_km"][end] == pytest.approx(fitted["range_km"][end], rel=2e-3)
    listed = {each["name"]: each["source"] for each in direct["assumptions"]}
    assert "plausible" in listed["drag area"]
    assert "from 1; plausible" in listed["losses of the onboard charger over typical ones"]


@pytest.mark.parametrize(
    ("changes", "fields"),
    [
        ({"range_km": 700}, ["range_km"]),
        ({"consumption_kwh_per_100_km": {"city": 24.0, "highway": 12.0}}, ["consumption_kwh_per_100_km.highway"]),
        ({"recharge_hours": 1.0}, ["recharge_hours"]),
        ({"kind": "phev", "all_electric_range_km": 395}, ["all_electric_range_km"]),
        ({"consumption_kwh_per_100_km": 5.0, "battery": None}, ["consumption_kwh_per_100_km"]),
        ({"consumption_kwh_per_100_km": {"city": 16}}, ["consumption_kwh_per_100_km.highway"]),
        ({"consumption_kwh_per_100_km": "17"}, ["consumption_kwh_per_100_km"]),
        ({"range_km": None, "mass_kg": 10}, ["range_km", "mass_kg"]),
        ({"phases": PHASES}, ["phases"]),
        ({"procedure": "wltp", "consumption_kwh_per_100_km": PARTS}, ["consumption_kwh_per_100_km"]),
        ({"kind": "hybrid"}, ["kind"]),
        ({"size_class": "lorry"}, ["size_class"]),
        ({"size_class": "lorry", "battery": {"chemistry": "lead"}}, ["size_class", "battery.chemistry"]),
        ({"colour": "red"}, ["colour"]),
        ({"range_km": 1400, "consumption_kwh_per_100_km": 110, "battery": None}, ["range_km"]),  # 1 400 kWh
        ({"recharge_hours": 0.4, "onboard_charger_kw": None}, ["recharge_hours"]),  # 165 kW of alternating current
        ({"adjustment": 0.5, "consumption_kwh_per_100_km": 14.0, "battery": None}, ["consumption_kwh_per_100_km"]),
    ],
)
def test_what_does_not_go_together_is_refused_by_name(fit, changes, fields):
    reply = fit({key: value for key, value in (US | changes).items() if key != "battery" or value is not None})
    assert reply.status_code == 422
    errors = reply.json()["errors"]
    assert [each["field"] for each in errors] == fields
    assert all(each["message"] and each["remedy"] for each in errors)


def test_contradictions_are_told_in_a_quote_by_its_own_names(ask):
    label = {"procedure": "us", "consumption_kwh_per_100_km": 17.4, "range_km": 900}
    spec = {"kind": "bev", "battery": {"usable_kwh": 60}, "label": label}
    reply = ask("POST", "/api/quotes", json={"vehicle": {"spec": spec}, "journey": {"cycle": "udds"}})
    assert reply.status_code == 422
    assert [each["field"] for each in reply.json()["errors"]] == ["vehicle.spec.label.range_km"]


@pytest.mark.parametrize(
    ("spec", "field"),
    [
        ({"kind": "bev", "battery": {"usable_kwh": 60}, "road_load": {"cd_a_m2": 0.6, "crr": 0.01}}, "mass_kg"),
        ({"kind": "bev", "mass_kg": 1500, "road_load": {"cd_a_m2": 0.6, "crr": 0.01}}, "battery"),
        ({"kind": "bev", "label": {"procedure": "us", "consumption_kwh_per_100_km": 17}}, "battery"),
        (
            {
                "kind": "bev",
                "battery": {"usable_kwh": None},
                "label": {"procedure": "us", "consumption_kwh_per_100_km": 17},
            },
            "battery.usable_kwh",
        ),
        ({"kind": "bev", "mass_kg": 1500, "battery": {"usable_kwh": 60}}, "road_load"),
    ],
)
def test_what_no_label_tells_must_be_given(ask, spec, field):
    reply = ask("POST", "/api/quotes", json={"vehicle": {"spec": spec}, "journey": {"cycle": "udds"}})
    assert reply.status_code == 422
    assert [each["field"] for each in reply.json()["errors"]] == [f"vehicle.spec.{field}"]


def test_tests_are_listed_as_recipes(ask):
    recipes = {each["id"]: each for each in ask("GET", "/api/procedures").json()}
    assert {"us-two-cycle", "us-cold", "wltp", "constant-65-mph", "constant-130-km-h"} <= set(recipes)
    assert [part["share"] for part in recipes["us-two-cycle"]["parts"]] == [0.55, 0.45]
    assert recipes["us-two-cycle"]["adjustment"] == {"least": 0.66, "usual": 0.7, "most": 0.77}
    assert recipes["us-cold"]["coefficient_factor"] == 1.1
    assert recipes["us-cold"]["cell_c"] == -7
    assert recipes["wltp"]["parts"][0]["phases"] == ["low", "medium", "high", "extra_high"]
    assert recipes["wltp"]["meter"] == "socket"
    assert all(each["source"] for each in recipes.values())


@pytest.mark.parametrize("procedure", ["us-two-cycle", "us-cold", "wltp", "constant-105-km-h"])
@pytest.mark.parametrize("car", ["compact-plug-in", "mid-electric-sedan"])
def test_any_car_in_any_test(ask, procedure, car):
    found = ask("POST", "/api/procedure-runs", json={"vehicle": {"id": car}, "procedure": procedure}).json()
    combined = found["combined"]
    assert combined["socket_kwh_per_100_km"] > combined["battery_kwh_per_100_km"] > 5
    assert combined["socket_kwh_per_100_km"] * combined["range_km"] / 100 == pytest.approx(
        found["recharge_kwh"], rel=0.02
    )
    assert (found["adjusted"] is not None) == (procedure == "us-two-cycle")
    assert len(found["phases"]) == (4 if procedure == "wltp" else 0)


def test_a_car_without_an_inlet_runs_without_a_socket(ask):
    spec = {
        "kind": "hybrid",
        "mass_kg": 1450,
        "road_load": {"cd_a_m2": 0.6, "crr": 0.009},
        "battery": {"usable_kwh": 1.0},
    }
    found = ask("POST", "/api/procedure-runs", json={"vehicle": {"spec": spec}, "procedure": "us-two-cycle"}).json()
    assert found["combined"]["socket_kwh_per_100_km"] is None is found["recharge_kwh"]
    assert found["combined"]["battery_kwh_per_100_km"] > 5


def test_unknown_car_and_test_are_both_named(ask):
    reply = ask("POST", "/api/procedure-runs", json={"vehicle": {"id": "no-such"}, "procedure": "nedc-x"})
    assert [each["field"] for each in reply.json()["errors"]] == ["vehicle.id", "procedure"]


def test_every_catalogue_car_shows_its_label(ask):
    for car in ask("GET", "/api/vehicles").json():
        label = car["spec"]["label"]
        if car["kind"] == "hybrid":  # nothing is driven on the socket's energy
            assert label is None
            continue
        assert label["procedure"] in ("us", "wltp")
        assert label["consumption_kwh_per_100_km"] > 5
        assert label["range_km"] > 20
        assert label["recharge_hours"] > 1
        assert (label["all_electric_range_km"] is not None) == (car["kind"] == "phev")
