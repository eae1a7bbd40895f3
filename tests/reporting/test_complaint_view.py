"""A real finding as a page: verdict, pin, ledger, tests, what is missing; in plain words."""

import re
from dataclasses import fields, is_dataclass, replace
from datetime import date

import pytest

from service.catalogue import load_catalogue
from service.diagnosis.complaint import Complaint, Parked, Verdict
from service.diagnosis.verdict import check_complaint
from service.reporting import complaint_sentences as said
from service.reporting.complaint_view import complaint_view
from service.reporting.words import Units
from service.specs import Ask, Journey, Leg, Start, Weather

TODAY = date(2026, 11, 25)
LEGS = (Leg(3_000, 11, 0.0015), Leg(10_000, 22, 0.0001))


@pytest.fixture(scope="module")
def catalogue():
    return load_catalogue()


@pytest.fixture(scope="module")
def find(catalogue):
    def checked(reported_km, **changes):
        ask = Ask(catalogue.vehicle("compact-plug-in"), Journey(legs=LEGS), Weather(268.15), start=Start())
        complaint = Complaint(ask, reported_km * 1000, parked=Parked.OUTSIDE, odometer_m=62e6, words="Too short.")
        return check_complaint(replace(complaint, **changes), catalogue)

    return checked


@pytest.fixture(scope="module")
def short(find):
    return find(24)


def shown(answer, units=Units.METRIC):
    return complaint_view(answer, "13\u00a0km", units, TODAY)


def texts(view):
    if isinstance(view, str):
        yield re.sub(r"<[^>]+>", " ", view).replace("\u00a0", " ").replace("\u2212", "-")
    elif is_dataclass(view):
        for one in fields(view):
            yield from texts(getattr(view, one.name))
    elif isinstance(view, tuple):
        for one in view:
            yield from texts(one)


def test_the_headline_holds_report_band_and_verdict(short):
    low, high = short.expected.p2_5 / 1000, short.expected.p97_5 / 1000
    headline = shown(short).headline.replace("\u00a0", " ")
    assert headline == f"Reported 24 km; in these conditions 19 cars in 20 get {low:.0f} to {high:.0f} km: outside."


def test_a_usual_distance_is_normal_and_a_far_one_is_outside_the_other_way(find, short):
    usual = find(short.expected.band.p50 / 1000)
    assert shown(usual).headline.endswith(": normal.")
    far = find(short.expected.p97_5 / 1000 + 10)
    assert shown(far).headline.endswith(": outside, farther than expected.")
    assert "Check the trip meter" in shown(far).second
    assert {cause.needed for cause in shown(far).causes} <= {"nothing is missing", "measured: counted already"}


def test_a_low_report_that_reaches_the_label_is_no_proof_of_a_fault(find):
    # a mild day in easy driving: the label of this car is 61 km, healthy cars get more
    asked = find(24).complaint.ask
    mild = replace(asked, weather=Weather(294.15))
    label_km = asked.vehicle.label.electric_range_m / 1000
    reached = find(label_km, ask=mild)
    assert reached.expected.p2_5 > label_km * 1000
    view = shown(reached)
    assert view.headline.endswith(": outside, yet its label is reached.")
    assert "its label says 61\u00a0km, and that is reached: no proof of a fault" in view.second
    assert shown(find(0.9 * label_km, ask=mild)).headline.endswith(": outside.")
    half = shown(find(0.5 * label_km, ask=mild, end_charge=0.5))
    assert "its label says 31\u00a0km" in half.second


def test_open_inputs_that_decide_are_asked_for_in_the_second_sentence(find):
    answer = find(31, left_open=frozenset({"start.state_of_charge_pct", "cabin.climate", "weather.temperature_c"}))
    assert answer.verdict is Verdict.INSUFFICIENT
    view = shown(answer)
    assert view.headline.endswith(": not enough is known to say.")
    deciding = next(each.question for each in answer.missing if each.decides)
    assert view.second.endswith(deciding)
    assert any(row.value.endswith("and it decides") for row in view.missing)


@pytest.mark.parametrize(
    ("percentile", "words"),
    [(0.0, "Fewer than 1"), (1.0, "About 1"), (50.4, "About 50"), (99.0, "About 99"), (100.0, "More than 99")],
)
def test_a_percentile_in_words(percentile, words):
    assert said.in_a_hundred(percentile) == f"{words} in 100 healthy cars would go less far."


def test_the_pin_stands_on_the_ruler(short):
    view = shown(short)
    drawing = " ".join(texts(view.drawing.wide))
    assert "24 km reported" in " ".join(drawing.split())
    assert view.rows[0].name == "reported"


def test_expected_and_measured_stand_side_by_side_and_differ_by_what_is_told(short):
    ledger = shown(short).ledger
    figures = [
        int(text.replace("\u2212", "-").replace("+", "")) for text in (ledger.expected, ledger.measured, ledger.extra)
    ]
    assert abs(figures[1] - figures[0] - figures[2]) <= 1  # each rounded
    assert abs(sum(int(row.value) for row in ledger.rows) - figures[0]) <= len(ledger.rows) / 2
    # the same energy over the shorter distance
    assert figures[1] / figures[0] == pytest.approx(short.expected.band.p50 / 24_000, rel=0.02)


def test_what_could_explain_it_stands_first_with_test_limit_and_mark(find):
    view = shown(find(32))
    plausible = [cause.plausible for cause in view.causes]
    assert plausible == sorted(plausible, reverse=True)
    assert any(plausible)
    assert all(cause.test and cause.limit and cause.source and cause.mark for cause in view.causes)
    assert view.causes[0].needed.endswith(": plausible")


def test_measured_tyres_are_counted_already_and_stand_last(find):
    view = shown(find(24, tyre_pa=200e3))
    assert view.causes[-1].needed == "measured: counted already"
    assert view.causes[-1].name == "Soft tyres"


def test_tests_that_the_sheet_has_no_room_for_are_named_on_it(short):
    view = shown(short)
    kept = [cause.on_paper for cause in view.causes]
    assert kept == sorted(kept, reverse=True)
    assert 1 <= sum(kept) < len(kept)
    for cause in view.causes:
        assert cause.on_paper != (cause.name[1:] in view.left_out)


def test_much_that_is_missing_takes_room_from_the_tests(find):
    open_ = frozenset({"start.state_of_charge_pct", "cabin.climate", "weather.temperature_c", "parked", "payload_kg"})
    many, few = shown(find(24, left_open=open_)), shown(find(24))
    assert sum(cause.on_paper for cause in many.causes) < sum(cause.on_paper for cause in few.causes)


def test_what_is_not_known_is_told_as_assumed(find):
    rows = {row.name: row.value for row in shown(find(24, left_open=frozenset({"cabin.climate"}))).question}
    assert rows["Cabin"] == "not known, taken as on"
    assert rows["Start"].endswith("parked outside")
    assert rows["Condition"] == "tyres not measured, 62\u00a0000\u00a0km on the odometer"


def test_us_readers_get_miles(short):
    view = shown(short, Units.US)
    told = " ".join([*texts(view.headline), *texts(view.second), *texts(view.drawing), *texts(view.ledger)])
    assert not re.search(r"\d\s?(km|Wh/km)\b", told)
    assert "Reported 15 mi" in told  # 24 km
    assert view.distance_unit == "mi"
    assert view.ledger.unit == "Wh/mi"


def test_cautions_and_the_customers_words_are_kept(short):
    view = shown(short)
    assert view.words == "Too short."
    assert any("High-voltage" in line or "high-voltage" in line for line in view.cautions)
