"""A complained drive arrives in SI, every fault at once, and what was not sent is known to be open."""

import pytest
from pydantic import ValidationError

from service.diagnosis.complaint import Parked
from service.diagnosis.openings import MIXED_JOURNEY, OPENINGS
from service.intake.assumed import assumed
from service.intake.complaint import LONGEST_COMPLAINT, ComplaintRequest
from service.intake.errors import faults_of


@pytest.fixture
def complained(question):
    def build(changes=None):
        return question({"reported_km": 180} | (changes or {}))

    return build


def faults(body):
    with pytest.raises(ValidationError) as caught:
        ComplaintRequest.model_validate(body)
    return {fault.row.field: fault.row for fault in faults_of(caught.value.errors())}


def test_a_whole_complaint_arrives_in_si(catalogue, complained):
    complaint = ComplaintRequest.model_validate(
        complained(
            {
                "weather": {"temperature_c": -5, "wind_km_h": 18},
                "start": {"state_of_charge_pct": 90, "state_of_health_pct": 85},
                "end.state_of_charge_pct": 20,
                "cabin.climate": "off",
                "payload_kg": 60,
                "parked": "garage",
                "tyre_pressure_kpa": 210,
                "placard_pressure_kpa": 240,
                "odometer_km": 81_000,
                "complaint": "It goes less far than last year.",
            }
        )
    ).complaint_of(catalogue)
    assert complaint.ask.weather.ambient_k == pytest.approx(268.15)
    assert (complaint.ask.start.state_of_charge, complaint.ask.start.state_of_health) == (0.9, 0.85)
    assert (complaint.reported_m, complaint.end_charge) == (180e3, 0.2)
    assert (complaint.tyre_pa, complaint.placard_pa, complaint.odometer_m) == (210e3, 240e3, 81e6)
    assert (complaint.parked, complaint.health_stated) == (Parked.GARAGE, True)
    assert complaint.words == "It goes less far than last year."
    assert complaint.ask.payload_kg == 60


def test_what_was_not_sent_is_open(catalogue, complained):
    bare = ComplaintRequest.model_validate({"vehicle": {"id": "compact-plug-in"}, "reported_km": 30})
    assert bare.left_open() == {*OPENINGS, "placard_pressure_kpa"}
    assert not bare.complaint_of(catalogue).health_stated
    legs = bare.complaint_of(catalogue).ask.journey.legs
    for sent, stand_in in zip(legs, MIXED_JOURNEY.legs, strict=True):
        assert sent.speed_m_s == pytest.approx(stand_in.speed_m_s)
        assert (sent.distance_m, sent.stops_per_m) == (stand_in.distance_m, stand_in.stops_per_m)


@pytest.mark.parametrize(
    ("path", "sent"),
    [
        ("weather.temperature_c", {"weather": {"temperature_c": 20}}),  # equal to the default, yet given
        ("cabin.climate", {"cabin": {"climate": "auto"}}),
        ("start.state_of_charge_pct", {"start": {"state_of_charge_pct": 100}}),
        ("parked", {"start": {"soaked": True}}),
        ("parked", {"parked": "outside"}),
        ("payload_kg", {"payload_kg": 0}),
        ("odometer_km", {"odometer_km": 0}),
    ],
)
def test_a_given_default_is_given(complained, path, sent):
    assert path in ComplaintRequest.model_validate(complained()).left_open()
    assert path not in ComplaintRequest.model_validate(complained(sent)).left_open()


def test_null_is_unknown(complained):
    unknown = ComplaintRequest.model_validate(complained({"journey": None, "odometer_km": None, "parked": None}))
    assert {"journey", "odometer_km", "parked"} <= unknown.left_open()


def test_every_bad_field_at_once(complained):
    rows = faults(
        complained(
            {
                "weather.temperature_c": 99,
                "end.state_of_charge_pct": 100,
                "parked": "shed",
                "tyre_pressure_kpa": 2.5,
                "odometer_km": -1,
                "reported_km": 0,
                "complaint": "x" * (LONGEST_COMPLAINT + 1),
                "cabin.climate": True,
                "journey.legs[0].speed_km_h": "fast",
            }
        )
    )
    assert set(rows) == {
        "weather.temperature_c",
        "end.state_of_charge_pct",
        "parked",
        "tyre_pressure_kpa",
        "odometer_km",
        "reported_km",
        "complaint",
        "cabin.climate",
        "journey.legs[0].speed_km_h",
    }
    assert rows["end.state_of_charge_pct"].remedy == "give 0 to 99 %"
    assert rows["complaint"].remedy == "give at most 500 characters"
    assert "bar" not in rows["tyre_pressure_kpa"].message
    assert all(row.message and row.remedy for row in rows.values())


@pytest.mark.parametrize("end", [0, 49.9])
def test_the_end_lies_below_the_start(complained, end):
    body = complained({"start.state_of_charge_pct": 50, "end.state_of_charge_pct": end})
    assert ComplaintRequest.model_validate(body).end.state_of_charge_pct == end
    rows = faults(complained({"start.state_of_charge_pct": 50, "end.state_of_charge_pct": 50}))
    assert list(rows) == ["end.state_of_charge_pct"]


@pytest.mark.parametrize(
    ("parked", "soaked", "fits"),
    [
        ("warm", False, True),
        ("outside", True, True),
        ("garage", True, True),
        ("warm", True, False),
        ("garage", False, False),
    ],
)
def test_parking_place_and_soak_do_not_contradict(complained, parked, soaked, fits):
    body = complained({"parked": parked, "start.soaked": soaked})
    if fits:
        assert ComplaintRequest.model_validate(body).question().start.soaked is soaked
    else:
        assert list(faults(body)) == ["parked"]


def test_no_sun_shines_into_a_garage(complained):
    assert list(faults(complained({"parked": "garage", "start.in_sun": True}))) == ["parked"]
    body = complained({"parked": "outside", "start.in_sun": True})
    assert ComplaintRequest.model_validate(body).question().start.in_sun


def test_the_parking_place_says_whether_the_car_soaked(complained):
    assert not ComplaintRequest.model_validate(complained({"parked": "warm"})).question().start.soaked
    assert ComplaintRequest.model_validate(complained({"parked": "garage"})).question().start.soaked


def test_health_that_nobody_stated_is_not_listed_as_new(complained):
    names = {each.name for each in assumed(ComplaintRequest.model_validate(complained()).question())}
    assert "battery health" not in names
    assert "outside temperature" in names
