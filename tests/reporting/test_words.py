"""Numbers as text. Conversions are the exact definitions of mile, pound, foot and degree Fahrenheit."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from service.reporting import words
from service.reporting.words import Units

NBSP = "\u00a0"


def test_us_figures_follow_the_exact_definitions():
    # 1 mi = 1609.344 m; 25 kWh/100 mi = 250 Wh/mi; −10 °C = 14 °F
    assert words.distance(1609.344 * 42, Units.US) == f"42{NBSP}mi"
    assert words.consumption(250 * 3600 / 1609.344, Units.US) == f"250{NBSP}Wh/mi"
    assert words.consumption_per_trade_unit(250 * 3600 / 1609.344, Units.US) == f"4.0{NBSP}mi/kWh"
    assert words.temperature(263.15, Units.US) == f"14{NBSP}°F"


def test_metric_figures():
    # 720 J/m = 200 Wh/km = 20 kWh/100 km
    assert words.consumption(720, Units.METRIC) == f"200{NBSP}Wh/km"
    assert words.consumption_per_trade_unit(720, Units.METRIC) == f"20.0{NBSP}kWh/100{NBSP}km"


def test_minus_is_the_real_sign_and_zero_has_none():
    assert words.plain(-3) == "\u22123"
    assert words.plain(-0.4) == "0"
    assert words.temperature(272.9, Units.METRIC) == f"0{NBSP}°C"


def test_short_distances_keep_a_decimal():
    assert words.distance(3_240, Units.METRIC) == f"3.2{NBSP}km"
    assert words.distance(9_960, Units.METRIC) == f"10{NBSP}km"


@pytest.mark.parametrize(
    ("hour", "metric", "us"),
    [(0, "00:00", "12 am"), (12, "12:00", "12 pm"), (13.5, "13:30", "1:30 pm"), (23.999, "00:00", "12 am")],
)
def test_clock(hour, metric, us):
    assert words.clock(hour, Units.METRIC) == metric
    assert words.clock(hour, Units.US) == us.replace(" ", NBSP)


@given(st.floats(0, 200 * 3600))
def test_a_told_duration_is_near_the_true_one(seconds):
    error = abs(words.rounded_duration_s(seconds) - seconds)
    assert error <= (30 if seconds < 3600 else 150 if seconds < 36_000 else 900) + 1e-6


@given(st.floats(0, 96))
def test_clock_and_day_agree(hour):
    # at 00:00 a new day has begun, for both
    minutes = round(hour * 60)
    assert words.clock(hour, Units.METRIC) == f"{minutes // 60 % 24:02d}:{minutes % 60:02d}"
    assert bool(words.days_later(hour)) == (minutes >= 24 * 60)


def test_assumed_values_follow_the_reader():
    assert words.assumed(100, "kg", Units.US) == f"220{NBSP}lb"
    assert words.assumed(100, "kg", Units.METRIC) == f"100{NBSP}kg"
    assert words.assumed(None, "kg", Units.US) == "unknown"
    assert words.assumed(0.7, "1", Units.US) == f"70{NBSP}%"


def test_lists_in_a_sentence():
    assert words.joined(["a"]) == "a"
    assert words.joined(["a", "b"]) == "a and b"
    assert words.joined([]) == ""


def test_assumed_units_are_words_and_signs():
    assert words.assumed(1.0, "people", Units.US) == f"1{NBSP}person"
    assert words.assumed(2.0, "people", Units.US) == f"2{NBSP}people"
    assert words.assumed(1.0, "miles", Units.US) == f"1{NBSP}mile"
    assert words.assumed(0.62, "m2", Units.METRIC) == f"0.62{NBSP}m²"
    assert words.assumed(160.0, "W/m2", Units.US) == f"160{NBSP}W/m²"
    assert words.assumed(142_882.0, "W", Units.METRIC) == f"143{NBSP}kW"
    assert words.assumed(999.0, "W", Units.METRIC) == f"999{NBSP}W"
