"""The engine of an own car as it arrives: SI once, and errors by field."""

import pytest

from service.catalogue import load_catalogue
from service.errors import BadInputs
from service.intake.quote import read_ask
from service.specs import DriveMode

SPEC = {
    "kind": "phev", "mass_kg": 1600, "road_load": {"cd_a_m2": 0.68, "crr": 0.009}, "battery": {"usable_kwh": 10},
    "engine": {"max_kw": 80, "sustaining_l_per_100_km": 5}, "triggers": {"speed_km_h": 108, "cold_pack_c": -10},
}  # fmt: skip


@pytest.fixture(scope="module")
def catalogue():
    return load_catalogue()


@pytest.fixture
def read(catalogue):
    def go(engine_use=None, **changes):
        body = {"vehicle": {"spec": SPEC | changes}, "journey": {"cycle": "udds"}, "weather": {"temperature_c": 0}}
        return read_ask(body | ({"engine_use": engine_use} if engine_use else {}), catalogue)

    return go


def fields(raised):
    return {row.field for row in raised.value.rows()}


def test_what_is_said_arrives_in_si(read):
    ask = read({"mode": "charge_hold", "defrost": True, "weeks_unused": 2})
    car = ask.vehicle
    assert (car.engine.max_w, car.engine.sustaining_m3_m) == (80e3, pytest.approx(5e-8))
    assert (car.triggers.speed_m_s, car.triggers.cold_pack_k) == (pytest.approx(30), pytest.approx(263.15))
    assert car.triggers.hot_pack_k is None  # nobody said: it never fires
    assert (ask.engine_use.mode, ask.engine_use.unused_s) == (DriveMode.CHARGE_HOLD, pytest.approx(1_209_600))


@pytest.mark.parametrize(
    ("changes", "field"),
    [
        ({"triggers": {"cold_pack_c": 20, "hot_pack_c": 10}}, "vehicle.spec.triggers.hot_pack_c"),
        ({"triggers": {"speed_km_h": 900}}, "vehicle.spec.triggers.speed_km_h"),
        ({"engine": {"max_kw": 1}}, "vehicle.spec.engine.max_kw"),
        ({"kind": "bev"}, "vehicle.spec.engine"),
        (
            {
                "layout": "power_split",
                "power_split": {
                    "sun_teeth": 78, "ring_teeth": 30, "final_drive": 3.3, "wheel_radius_m": 0.3,
                    "generator_max_rpm": 10_000,
                },
            },
            "vehicle.spec.power_split.ring_teeth",
        ),
    ],
)  # fmt: skip
def test_contradictions_are_told_by_field(read, changes, field):
    with pytest.raises(BadInputs) as raised:
        read(**changes)
    assert field in fields(raised)
