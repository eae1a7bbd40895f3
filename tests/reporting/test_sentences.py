"""What is said for cold and hot days, for kilometres and miles, with and without a band."""

from dataclasses import replace

import pytest

from service.quotes.answer import Band, Sensitivity
from service.reporting import sentences
from service.reporting.words import Units
from service.specs import Kind, Start, Weather

KM = 1000.0


def told(text):
    return text.replace("\u00a0", " ").replace("\u2212", "-")


def test_headline_says_the_sure_end_of_the_band(quote):
    assert told(sentences.headline(quote, Units.METRIC)) == (
        "At -5 °C, nine days in ten you get at least 31 km on electricity."
    )
    # 31 km = 19.3 mi, −5 °C = 23 °F
    assert told(sentences.headline(quote, Units.US)) == (
        "At 23 °F, nine days in ten you get at least 19 mi on electricity."
    )


def test_headline_of_a_battery_electric_car_and_of_part_of_a_charge(quote):
    electric = replace(quote, ask=replace(quote.ask, vehicle=replace(quote.ask.vehicle, kind=Kind.BEV)))
    assert told(sentences.headline(electric, Units.METRIC)).endswith("at least 31 km on one charge.")
    half = replace(quote, ask=replace(quote.ask, start=Start(state_of_charge=0.5)))
    assert told(sentences.headline(half, Units.METRIC)).endswith("at least 31 km on electricity from 50 % charge.")


def test_without_a_band_no_share_of_days_is_claimed(quote):
    plain = replace(quote, range_m=Band(None, 36 * KM, None))
    assert told(sentences.headline(plain, Units.METRIC)) == "At -5 °C you get about 36 km on electricity."
    assert "days in ten" not in sentences.middle(plain, Units.METRIC)


def test_a_cold_day_is_compared_with_a_mild_one(quote, mild):
    # heating 78 of 105 Wh/km more: the hand-made ledgers
    assert told(sentences.compared(quote, mild, Units.METRIC)) == (
        "At 20 °C the same drive would reach 52 km. "
        "Most of the extra energy here goes into heating the cabin (78 of 105 Wh/km)."
    )


def test_a_mild_day_is_compared_with_a_cold_one(quote, mild):
    text = told(sentences.compared(mild, quote, Units.METRIC))
    assert text.startswith("At -5 °C the same drive would reach 36 km.")
    assert "extra energy at -5 °C goes into heating the cabin" in text


def test_a_hot_day_names_the_cooling(quote, mild):
    hot_ledger = mild.to_empty.ledger_j_per_m | {"cooling": 25 * 3.6}
    hot = replace(
        quote,
        ask=replace(quote.ask, weather=Weather(308.15)),
        to_empty=replace(quote.to_empty, ledger_j_per_m=hot_ledger),
    )
    assert told(sentences.compared(hot, mild, Units.METRIC)).endswith(
        "Most of the extra energy here goes into cooling the cabin (25 Wh/km)."
    )


def test_no_reason_is_made_up_where_the_temperature_does_little(quote):
    assert sentences.compared(quote, quote, Units.METRIC).endswith("the temperature changes little.")


def test_a_low_end_far_below_the_middle_is_told_once(quote):
    odd = replace(quote, range_m=Band(3100.0, 42e3, 47e3))
    assert "half the days you get at least 42 km" in told(sentences.headline(odd, Units.METRIC))
    assert (
        told(sentences.middle(odd, Units.METRIC)) == "Nine days in ten it is only 3.1 km or more, one day in ten 47 km."
    )


@pytest.mark.parametrize(
    ("need_km", "expected"),
    [
        (30, "fits, with little to spare."),
        (34, "fits on most such days, but not on nine in ten; on the others the engine does the rest."),
        (39, "fits on fewer than half of such days; on the others the engine does the rest."),
        (50, "is longer than that; the engine does the rest."),
    ],
)
def test_whether_the_journey_fits(quote, need_km, expected):
    asked = replace(quote, journey=replace(quote.journey, distance_m=need_km * KM))
    assert told(sentences.fits(asked, "there and back", Units.METRIC)) == f"The {need_km} km there and back {expected}"


def test_a_short_journey_is_counted(quote):
    asked = replace(quote, journey=replace(quote.journey, distance_m=10 * KM, arrives_with=Band(0.6, 0.7, 0.75)))
    text = told(sentences.fits(asked, "drive", Units.METRIC))
    assert (
        text == "The 10 km drive fits, with 60 % or more of the charge left. That is 2 such drives before plugging in."
    )


def test_charging_says_the_longer_time_for_nine_days_in_ten(quote):
    text = told(sentences.charging_headline(quote.charging, 18.0, Units.METRIC))
    # 4.75 h; 5.2 h = 5 h 12 min, told as 5 h 10 min → 23:10
    assert text == (
        "From empty, nine days in ten it takes 5 h 10 min or less, half the days 4 h 45 min: "
        "plugged in at 18:00, charged by 23:10."
    )
    late = told(sentences.charging_headline(quote.charging, 23.0, Units.US))
    assert late.endswith("plugged in at 11 pm, charged by 4:10 am the next day.")


def test_effects_are_told_in_whole_units(quote):
    assert (
        told(sentences.moved(quote.sensitivities[0], Units.METRIC)) == "With the cabin heater off: about 9 km farther."
    )
    small = replace(quote.sensitivities[1], effect_m=-400.0)
    assert told(sentences.moved(small, Units.US)) == "At ten degrees colder: less than 1 mi less."


def test_a_part_of_the_extra_energy_never_exceeds_the_whole(quote, mild):
    # cooling +25, air −6, tyres −5: a hot day
    ledger = mild.to_empty.ledger_j_per_m
    hot_ledger = ledger | {"cooling": 25 * 3.6, "air": ledger["air"] - 6 * 3.6, "rolling": ledger["rolling"] - 5 * 3.6}
    hot = replace(quote, to_empty=replace(quote.to_empty, ledger_j_per_m=hot_ledger))
    assert told(sentences.compared(hot, mild, Units.METRIC)).endswith(
        "cooling the cabin (25 Wh/km); other losses shrink by 11 Wh/km."
    )


def test_a_change_that_starts_the_engine_says_so():
    change = Sensitivity("temperature", -50e3, "Ten degrees colder", starts_engine=True)
    assert sentences.moved(change, Units.METRIC) == "Ten degrees colder: the engine starts at once."
