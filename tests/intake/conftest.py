from copy import deepcopy

import pytest

from service.catalogue import load_catalogue

SPEC = {
    "kind": "bev",
    "mass_kg": 1500,
    "road_load": {"cd_a_m2": 0.62, "crr": 0.009},
    "battery": {"usable_kwh": 45},
}


@pytest.fixture(scope="session")
def catalogue():
    return load_catalogue()


@pytest.fixture
def question():
    """A whole question by a car's figures, to be spoiled at one place: question({"weather.temperature_c": 99})."""

    def build(changes=None):
        whole = {
            "vehicle": {"spec": deepcopy(SPEC)},
            "journey": {"legs": [{"distance_km": 10, "speed_km_h": 60}, {"distance_km": 5, "speed_km_h": 100}]},
        }
        for path, value in (changes or {}).items():
            _put(whole, path.replace("[", ".").replace("]", "").split("."), value)
        return whole

    return build


def _put(tree, steps, value):
    for step in steps[:-1]:
        tree = tree[int(step)] if step.isdigit() else tree.setdefault(step, {})
    tree[steps[-1]] = value
