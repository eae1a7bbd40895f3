"""The verdict: calibrated on healthy cars, monotone, and consistent with its own percentile."""

import subprocess
import sys
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from service.diagnosis.bench import age, distance_m, drive, relative_health
from service.diagnosis.complaint import Verdict
from service.diagnosis.verdict import check_complaint, expected_of, percentile_of, verdict_of
from service.physics.rows import DRAW, table
from service.quotes.answer import CAUSES
from service.quotes.band import scatter_apart
from service.quotes.label_draws import EXTRA, held_logs
from service.specs import Start, Weather

COLD = Weather(266.45, 0.8, 3.0, 0.0)
MILD = Weather(293.15, 0.6, 3.0, 100.0)
SAMPLE = np.sort(np.random.default_rng(3).lognormal(0, 0.1, 256))


def healthy_m(complaint, bench, catalogue, values, rows=1000, seed=1):
    """Distances of healthy cars: new factors, drawn independently, each car with its label and its own health."""
    made, whole = bench(complaint)
    generator = np.random.default_rng(seed)
    draws = table(DRAW, rows)
    car = whole.ask.vehicle
    normals = generator.standard_normal((rows, len(DRAW.names) + EXTRA))
    logs = held_logs(normals, *scatter_apart(whole.ask, values), car.anchor, car.label)
    for column, name in enumerate(DRAW.names):
        draws[name] = np.exp(logs[:, column])
    age(draws, whole, relative_health(whole, generator.standard_normal(rows)))
    return distance_m(drive([made], catalogue, draws)), whole


@pytest.mark.parametrize(
    ("car", "weather", "known"),
    [
        ("mid-electric-sedan", MILD, {}),
        ("mid-electric-sedan", COLD, {"odometer_m": 150e6}),
        ("compact-plug-in", COLD, {}),
        ("small-electric-hatch", MILD, {"health_stated": True, "tyre_pa": 220e3}),
        ("electric-delivery-van", COLD, {"end_charge": 0.2}),
    ],
)
def test_two_to_eight_of_a_hundred_healthy_cars_are_called_outside(
    car, weather, known, complain, check, bench, catalogue, values
):
    reached, whole = healthy_m(complain(car, 1.0, weather, **known), bench, catalogue, values)
    expected = check(complain(car, 1.0, weather, **known)).expected
    verdicts = [verdict_of(replace(whole, reported_m=float(each)), (), expected) for each in reached]
    # 5 if the band were known exactly; its ends are those of 256 draws, each good to one in a hundred
    assert 0.015 <= np.mean([each is Verdict.OUTSIDE for each in verdicts]) <= 0.08


@given(st.floats(0.1, 3), st.floats(0.1, 3))
def test_more_distance_never_lowers_the_percentile(one, other):
    low, high = sorted((one, other))
    assert 0 <= percentile_of(low, SAMPLE) <= percentile_of(high, SAMPLE) <= 100


@given(st.floats(0.1, 3))
def test_outside_is_beyond_the_outer_percentiles(reported):
    expected = expected_of(np.concatenate([[1.0], SAMPLE]))
    percentile = percentile_of(reported, SAMPLE)
    if expected.p2_5 < reported < expected.p97_5:
        assert 2.5 <= percentile <= 97.5
    else:
        assert percentile <= 2.5 or percentile >= 97.5


def test_band_is_nested_and_holds_the_typical_car(complain, check):
    expected = check(complain("compact-plug-in", 40e3, COLD)).expected
    assert expected.p2_5 < expected.band.p10 < expected.band.p50 < expected.band.p90 < expected.p97_5


def test_unknown_health_widens_the_band(complain, check):
    health = 1 - 0.5 * (1 - 0.92)  # typical at 50 000 km: half the club's loss
    unknown = check(complain("mid-electric-sedan", 400e3, odometer_m=50e6))
    known = check(complain("mid-electric-sedan", 400e3, start=Start(state_of_health=health), health_stated=True))
    assert unknown.expected.band.p50 == pytest.approx(known.expected.band.p50)
    wide, narrow = (each.expected.p97_5 - each.expected.p2_5 for each in (unknown, known))
    assert wide > narrow
    worth = next(each for each in unknown.missing if each.input == "start.state_of_health_pct")
    assert worth.narrows_m == pytest.approx(wide - narrow, rel=0.25)  # distance follows capacity, nearly
    assert known.missing == ()


def test_a_driven_car_is_expected_to_go_less_far(complain, check):
    p50 = [check(complain("mid-electric-sedan", 400e3, odometer_m=km * 1e3)).expected.band.p50 for km in (0, 5e4, 2e5)]
    assert p50 == sorted(p50, reverse=True)
    assert p50[1] / p50[0] == pytest.approx(0.96, abs=0.01)
    assert p50[2] / p50[0] == pytest.approx(0.90, abs=0.01)


def test_farther_than_expected_is_told_as_such(complain, check):
    answer = check(complain("compact-plug-in", 500e3))
    assert answer.verdict is Verdict.OUTSIDE
    assert answer.percentile == 100.0
    assert "farther than expected" in answer.sentence
    assert "trip meter" in answer.sentence


def test_measured_over_expected_consumption_is_expected_over_reported_distance(complain, check):
    for end in (0.0, 0.25):
        answer = check(complain("mid-electric-sedan", 250e3, end_charge=end))
        assert tuple(answer.ledger_j_per_m) == CAUSES
        expected_j_per_m = sum(answer.ledger_j_per_m.values())
        ratio = answer.expected.band.p50 / 250e3
        assert answer.measured_j_per_m / expected_j_per_m == pytest.approx(ratio, rel=2e-3)


def test_the_answer_is_a_pure_function(complain, catalogue):
    complaint = complain("compact-plug-in", 35e3, COLD, left_open=frozenset({"payload_kg"}))
    assert check_complaint(complaint, catalogue) == check_complaint(complaint, catalogue)


def test_no_limit_is_called_without_danger(complain, check, catalogue):
    answer = check(complain("compact-plug-in", 35e3))
    words = " ".join([*answer.cautions, *answer.notes, answer.sentence]).lower().split()
    for each in catalogue.separating_tests.values():
        words += " ".join([each.test, each.limit, each.wording]).lower().split()
    assert not any(word.startswith("safe") for word in words)


def test_assumptions_name_health_tyres_and_no_charger(complain, check):
    names = {each.name for each in check(complain("mid-electric-sedan", 300e3, odometer_m=None)).assumptions}
    assert {"odometer", "battery health", "tyre pressure", "rolling radius of the tyres"} <= names
    assert not any("charg" in name for name in names)


def test_diagnosis_loads_without_the_web():
    code = "import service.diagnosis.verdict, sys; print(*sys.modules)"
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    loaded = set(done.stdout.split())
    assert "service.diagnosis.verdict" in loaded
    assert loaded.isdisjoint({"fastapi", "pydantic", "jinja2", "service.intake", "service.web", "service.fleet"})
