"""Commutes from all over the legal box: answers are finite, add up, and keep within their bounds."""

import math

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from service.catalogue import load_catalogue
from service.intake.year import CommuteRequest
from service.quotes.commute import build_commute
from service.reporting.year_out import CommuteOut

CATALOGUE = load_catalogue()
PLUGGED = [id_ for id_, car in CATALOGUE.vehicles.items() if car.kind.plugs_in]  # others are refused, with a reason
LEG = st.fixed_dictionaries(
    {"distance_km": st.sampled_from([0.01, 8.0, 30.0]), "speed_km_h": st.sampled_from([25, 60, 160])},
    optional={"grade_pct": st.sampled_from([-12, 3, 12]), "stops_per_km": st.sampled_from([0.2, 1])},
)
MONTHS = st.lists(st.tuples(st.floats(-60, 40), st.floats(0, 10)), min_size=12, max_size=12)
BODIES = st.fixed_dictionaries(
    {
        "vehicle": st.fixed_dictionaries({"id": st.sampled_from(PLUGGED)}),
        "journey": st.fixed_dictionaries({"legs": st.lists(LEG, min_size=1, max_size=2)}),
        "months": MONTHS,
        "latitude_deg": st.sampled_from([-90, -35, 0, 66, 90]),
        "leaves_home_hour": st.sampled_from([0, 7.5, 22]),
        "days_per_week": st.integers(1, 7),
        "charge_at_work": st.booleans(),
        "parked_overnight": st.sampled_from(["outside", "garage"]),
        "circuit": st.sampled_from(
            [{"volts": 90, "amps": 5}, {"id": "na-household-15a"}, {"id": "eu-three-phase-16a"}]
        ),
        "start": st.fixed_dictionaries(
            {"state_of_charge_pct": st.sampled_from([1, 60, 100]), "preconditioned": st.booleans()}
        ),
    }
)


def numbers(tree):
    if isinstance(tree, dict):
        return [number for value in tree.values() for number in numbers(value)]
    if isinstance(tree, list):
        return [number for value in tree for number in numbers(value)]
    return [tree] if isinstance(tree, float) else []


@settings(max_examples=12, deadline=None, derandomize=True, suppress_health_check=[HealthCheck.too_slow])
@given(BODIES)
def test_every_legal_commute_is_answered(body):
    months = body.pop("months")
    body |= {"lows_c": [low for low, _ in months], "highs_c": [low + span for low, span in months]}
    asked = CommuteRequest.model_validate(body | {"leaves_work_hour": (body["leaves_home_hour"] + 9) % 24})
    answer = build_commute(asked.commute(CATALOGUE), CATALOGUE)
    out = CommuteOut.from_commute(answer).model_dump()
    assert all(math.isfinite(number) for number in numbers(out))
    for tally in (*(month["tally"] for month in out["months"]), out["year"]):
        for name, most in (("electric_days", tally["driving_days"] * 1.0001), ("electric_km_pct", 100.001)):
            band = tally[name]
            assert 0 <= band["p10"] <= band["p50"] <= band["p90"] <= most
        assert tally["wall_kwh"]["p50"] >= 0
    shares = [month["tally"]["electric_km_pct"]["p50"] for month in out["months"]]
    assert min(shares) - 0.01 <= out["year"]["electric_km_pct"]["p50"] <= max(shares) + 0.01
