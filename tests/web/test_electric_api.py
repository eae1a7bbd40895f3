"""The programs' side of envelope, pack sizes and standing ready."""

import pytest

CAR = {"vehicle": {"id": "compact-plug-in"}}
GEAR = {"sun_teeth": 30, "ring_teeth": 78, "final_drive": 3.26775, "wheel_radius_m": 0.305, "generator_max_rpm": 10000}
SPEC = {
    "kind": "phev",
    "mass_kg": 1500,
    "road_load": {"cd_a_m2": 0.6, "crr": 0.009},
    "battery": {"usable_kwh": 9},
    "layout": "power_split",
    "power_split": GEAR,
}


@pytest.fixture
def envelope(ask):
    def send(**changes):
        return ask("POST", "/api/envelopes", json=CAR | changes)

    return send


@pytest.fixture
def standby(ask):
    def send(**changes):
        return ask("POST", "/api/standbys", json=CAR | {"weather": {"temperature_c": -10}} | changes)

    return send


@pytest.fixture
def sizes(ask):
    def send(**changes):
        question = CAR | {"journey": {"legs": [{"distance_km": 5, "speed_km_h": 50}]}}
        return ask("POST", "/api/pack-sizes", json=question | changes)

    return send


def fields(response):
    assert response.status_code == 422
    return {row["field"]: row for row in response.json()["errors"]}


def test_an_envelope_has_the_contracts_names(ask, envelope):
    spec = ask("GET", "/api/vehicles").json()[0]["spec"]
    spec["power_split"] |= {"sun_teeth": 30, "ring_teeth": 78, "final_drive": 3.26775, "wheel_radius_m": 0.305}
    spec["power_split"]["generator_max_rpm"] = 10_000  # the published gear of worked example 20
    answer = envelope(vehicle={"spec": spec}, journey={"cycle": "us06"}).json()
    count = len(answer["speeds_km_h"])
    for name in ("force_n", "limited_by", "held_force_n", "held_limited_by", "road_load_n"):
        assert len(answer[name]) == count
    assert answer["speeds_km_h"] == sorted(answer["speeds_km_h"])
    assert answer["layout"] == "power_split"
    assert answer["electric_top_speed_km_h"] == pytest.approx(84 * 1.609344, abs=1)  # common practice: about 84 mph
    assert answer["gear_top_speed_km_h"] == pytest.approx(answer["electric_top_speed_km_h"])
    assert [each["grade_pct"] for each in answer["top_speeds"]] == [0, 2, 4, 6, 8, 10]
    at_60 = {row["engine_rpm"]: row for row in answer["gears"] if row["road_speed_km_h"] == 60}
    assert at_60[0]["ring_rpm"] == pytest.approx(1705.2, abs=0.05)  # worked example
    assert at_60[0]["sun_rpm"] == pytest.approx(-4433.5, abs=0.05)
    assert at_60[1000]["sun_rpm"] == pytest.approx(-833.5, abs=0.05)
    assert sum(each["share_of_time_pct"] for each in answer["journey_points"]) < 100
    assert answer["assumptions"]
    assert answer["notes"]


def test_without_a_journey_or_a_gear_those_parts_are_empty(envelope):
    answer = envelope(vehicle={"id": "mid-electric-sedan"}).json()
    assert (answer["journey_points"], answer["beyond_pct"]) == ([], None)
    assert (answer["gears"], answer["gear_top_speed_km_h"]) == ([], None)


def test_engine_speeds_may_be_asked_for(envelope):
    answer = envelope(engine_rpm=[1500, 0, 1500]).json()
    assert sorted({row["engine_rpm"] for row in answer["gears"]}) == [0, 1500]


def test_less_oil_holds_less(envelope):
    dry, wet = (envelope(oil_circulation_pct=each).json()["held_force_n"] for each in (0, 100))
    assert all(one <= other for one, other in zip(dry, wet, strict=True))
    assert dry != wet


def test_a_car_by_its_figures_brings_its_gear(envelope):
    answer = envelope(vehicle={"spec": SPEC}).json()
    assert answer["gears"]
    assert answer["generator_push_n"] == 0  # no clutch


@pytest.mark.parametrize(
    ("gear", "field"),
    [
        ({"ring_teeth": 30}, "vehicle.spec.power_split.ring_teeth"),
        ({"sun_teeth": 2}, "vehicle.spec.power_split.sun_teeth"),
        ({"generator_max_rpm": 1}, "vehicle.spec.power_split.generator_max_rpm"),
    ],
)
def test_impossible_gears_are_named(envelope, gear, field):
    assert field in fields(envelope(vehicle={"spec": SPEC | {"power_split": GEAR | gear}}))


def test_every_fault_is_told_at_once(envelope):
    found = fields(
        envelope(
            vehicle={"id": "compact"}, journey={"cycle": "udd"}, weather={"temperature_c": 99}, oil_circulation_pct=101,
            engine_rpm=[0, 9000],
        )
    )  # fmt: skip
    assert set(found) == {
        "vehicle.id", "journey.cycle", "weather.temperature_c", "oil_circulation_pct", "engine_rpm[1]",
    }  # fmt: skip
    assert found["engine_rpm[1]"]["remedy"] == "give 0 to 8000 rpm"


def test_a_standby_has_the_contracts_names(standby):
    answer = standby(hours=1).json()
    assert answer["hours"]["p10"] < answer["hours"]["p50"] < answer["hours"]["p90"]
    assert answer["ended_by"] == "empty"
    assert answer["after"]["hours"] == 1
    assert answer["after"]["lasts"] is True
    assert 0 < answer["after"]["state_of_charge_pct"]["p10"] < 100
    assert answer["holding_kw"]["p50"] > answer["climate_kw"] > 0
    assert answer["sentences"][0].startswith("At −10\u00a0°C (14\u00a0°F), ready and not moving, nine days in ten")
    assert "in neutral" in answer["cautions"][0]
    text = " ".join([*answer["sentences"], *answer["notes"], *answer["cautions"]])
    assert "safe" not in text


def test_a_standby_without_a_band(standby):
    answer = standby(band=False).json()
    assert answer["hours"]["p10"] is None
    assert "about" in answer["sentences"][0]
    assert answer["after"]["hours"] == 0.5  # half an hour, where nothing is asked


@pytest.mark.parametrize("hours", [0, -1, 169, "1"])
def test_a_bad_time_is_named(standby, hours):
    assert "hours" in fields(standby(hours=hours))


def test_pack_sizes_have_the_contracts_names(sizes):
    answer = sizes(usable_kwh=[4.4, 17.6]).json()
    assert [each["usable_kwh"] for each in answer["sizes"]] == [4.4, 8.8, 17.6]
    assert [each["own"] for each in answer["sizes"]] == [False, True, False]
    small, own, large = answer["sizes"]
    assert small["range_km"] < own["range_km"] < large["range_km"]
    assert small["payload_left_kg"] > own["payload_left_kg"] > large["payload_left_kg"]
    assert small["charging_hours"] < own["charging_hours"] < large["charging_hours"]
    assert answer["pack_wh_per_kg"] > 0


def test_bad_sizes_are_named_one_by_one(sizes):
    found = fields(sizes(usable_kwh=[4, 0, 900], gross_kg=20))
    assert set(found) == {"usable_kwh[1]", "usable_kwh[2]", "gross_kg"}
    assert found["usable_kwh[2]"]["value"] == 900
    assert "usable_kwh" in fields(sizes(usable_kwh=[]))
    assert "usable_kwh" in fields(sizes(usable_kwh=[1] * 13))


def test_a_gross_limit_below_the_car_is_refused(sizes):
    row = fields(sizes(gross_kg=1500))["gross_kg"]
    assert row["message"] == "1500 kg is not more than the empty car's 1550 kg"


@pytest.mark.parametrize("path", ["/api/envelopes", "/api/standbys", "/api/pack-sizes"])
def test_unknown_names_and_bodies_are_refused(ask, path):
    assert ask("POST", path, json=CAR | {"speed": 1}).status_code == 422
    assert ask("POST", path, content="{", headers={"content-type": "application/json"}).status_code == 400
    assert ask("POST", path, content="x", headers={"content-type": "text/plain"}).status_code == 415
    assert ask("GET", path).status_code == 405
