"""Layout and planetary gear of a car by its figures: impossible ones are refused by field."""

import pytest

from service.errors import BadInputs
from service.intake.quote import read_ask
from service.specs import Layout
from service.units import RPM

GEAR = {
    "sun_teeth": 30,
    "ring_teeth": 78,
    "final_drive": 3.26775,
    "wheel_radius_m": 0.305,
    "generator_max_rpm": 10000,
    "one_way_clutch": True,
}
SPEC = "vehicle.spec"


@pytest.fixture
def faults(question, catalogue):
    def of(changes):
        with pytest.raises(BadInputs) as caught:
            read_ask(question({f"{SPEC}.kind": "phev"} | changes), catalogue)
        return {row.field: row for row in caught.value.rows()}

    return of


def test_a_gear_arrives_in_si_and_brings_its_layout(question, catalogue):
    ask = read_ask(question({f"{SPEC}.kind": "phev", f"{SPEC}.power_split": GEAR}), catalogue)
    split = ask.vehicle.power_split
    assert ask.vehicle.layout is Layout.POWER_SPLIT
    assert (split.sun_teeth, split.ring_teeth, split.one_way_clutch, split.generator_n_m) == (30, 78, True, None)
    assert split.generator_max_rad_s == pytest.approx(10_000 * RPM)


def test_an_odd_difference_of_teeth_is_fine(question, catalogue):
    # profile-shifted gears: 23 planet teeth between 30 and 78 are published, not 24
    changes = {f"{SPEC}.kind": "phev", f"{SPEC}.power_split": GEAR | {"ring_teeth": 77}}
    assert read_ask(question(changes), catalogue).vehicle.power_split.ring_teeth == 77


@pytest.mark.parametrize("ring", [30, 28])
def test_a_ring_must_surround_its_sun(faults, ring):
    row = faults({f"{SPEC}.power_split": GEAR | {"ring_teeth": ring}})[f"{SPEC}.power_split.ring_teeth"]
    assert row.value == ring
    assert row.message == f"a ring of {ring} teeth does not surround a sun of 30"
    assert row.remedy == "give more than 30 teeth, or correct sun_teeth"


@pytest.mark.parametrize(
    ("field", "value", "words"),
    [
        ("sun_teeth", 3, "3 teeth is outside 10 to 100 teeth"),
        ("sun_teeth", 30.5, "not a whole number"),
        ("ring_teeth", 900, "900 teeth is outside 20 to 250 teeth"),
        ("final_drive", 0, "is outside 1 to 15"),
        ("wheel_radius_m", 30.5, "30.5 m is outside 0.2 to 0.6 m"),
        ("generator_max_rpm", 0, "0 rpm is outside 1000 to 30000 rpm"),
        ("generator_nm", -1, "-1 N·m is outside 1 to 1000 N·m"),
        ("one_way_clutch", "yes", "neither true nor false"),
    ],
)
def test_a_bad_figure_is_named(faults, field, value, words):
    assert words in faults({f"{SPEC}.power_split": GEAR | {field: value}})[f"{SPEC}.power_split.{field}"].message


def test_every_missing_figure_is_named(faults):
    found = faults({f"{SPEC}.power_split": {"sun_teeth": 30}})
    assert set(found) == {f"{SPEC}.power_split.{name}" for name in GEAR if name not in ("sun_teeth", "one_way_clutch")}


@pytest.mark.parametrize(
    ("kind", "layout", "remedy"),
    [
        ("bev", "power_split", "choose one of: single_motor"),
        ("bev", "series", "choose one of: single_motor"),
        ("phev", "single_motor", "choose one of: power_split, parallel, series"),
        ("hybrid", "single_motor", "choose one of: power_split, parallel, series"),
    ],
)
def test_a_layout_needs_what_it_drives_with(faults, kind, layout, remedy):
    row = faults({f"{SPEC}.kind": kind, f"{SPEC}.layout": layout})[f"{SPEC}.layout"]
    assert (row.value, row.remedy) == (layout, remedy)


@pytest.mark.parametrize(("kind", "layout"), [("phev", "parallel"), ("phev", "series"), ("bev", None)])
def test_only_a_power_split_has_its_gear(faults, kind, layout):
    row = faults({f"{SPEC}.kind": kind, f"{SPEC}.layout": layout, f"{SPEC}.power_split": GEAR})[f"{SPEC}.power_split"]
    assert "no planetary gear" in row.message


def test_an_unknown_layout_is_one_of_the_words(faults):
    assert f"{SPEC}.layout" in faults({f"{SPEC}.layout": "wheel_hub"})
