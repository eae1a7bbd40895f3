"""The answer leaves with the contract's names, in people's units, rounded to what it is worth."""

import dataclasses

import pytest

from service.quotes.answer import (
    CAUSES,
    Assumption,
    Band,
    ChargingAnswer,
    Event,
    JourneyAnswer,
    Quote,
    Sensitivity,
    ToEmptyAnswer,
)
from service.reporting.answers import QuoteOut, rounded
from service.specs import Ask, Battery, BodyAndTyres, Circuit, Journey, Kind, MassBasis, Vehicle, Weather

CAR = Vehicle("own", "own car", Kind.BEV, 1500, MassBasis.KERB, BodyAndTyres(0.6, 0.009), Battery(usable_j=36e6))
LEDGER = {cause: 36.0 * (place + 1) for place, cause in enumerate(CAUSES)}
QUOTE = Quote(
    ask=Ask(CAR, Journey(cycle="udds"), Weather(ambient_k=268.15)),
    range_m=Band(30_000, 36_123.456, 41_000),
    journey=JourneyAnswer(
        12_000,
        1369,
        Band(500, 540, 600),
        Band(600, 648, 720),
        LEDGER,
        Band(0.5, 0.6, 2 / 3),
        completed_on_electricity=True,
    ),
    to_empty=ToEmptyAnswer(Band(30e3, 36e3, 41e3), 5000, Band(500, 540, 600), None, LEDGER, "empty"),
    charging=ChargingAnswer(
        Circuit("own", "230 V, 16 A, 1 phase", "own", 230, 16),
        Band(9000, 10_800, 12_000),
        Band(38e6, 39.6e6, 41e6),
        0.88,
        "circuit",
        "The circuit gives less than the car could take.",
        3680,
    ),
    events=(Event("cannot_hold_speed", 12.0, 340.0, 5.0, "The motor was at its limit."),),
    sensitivities=(Sensitivity("weather.temperature_c", -4321.0, "Ten degrees colder costs 4 km."),),
    assumptions=(Assumption("motor_kw", 112.5, "kW", "common practice"), Assumption("chemistry", "nmc", "", "x")),
    notes=("extrapolated",),
)


def test_the_contract_is_met_name_by_name():
    out = QuoteOut.from_quote(QUOTE).model_dump()
    assert out["range_km"] == {"p10": 30, "p50": 36.123, "p90": 41}
    journey = out["journey"]
    assert (journey["distance_km"], journey["duration_s"], journey["completed_on_electricity"]) == (12, 1369, True)
    assert journey["battery_wh_per_km"]["p50"] == 150  # 540 J/m over 3.6
    assert journey["wall_wh_per_km"]["p50"] == 180
    assert journey["arrives_with_pct"] == {"p10": 50, "p50": 60, "p90": 66.667}
    assert list(journey["ledger_wh_per_km"]) == list(CAUSES)
    assert journey["ledger_wh_per_km"]["rolling"] == 20
    assert out["to_empty"]["distance_km"]["p50"] == 36
    assert (out["to_empty"]["wall_wh_per_km"], out["to_empty"]["ended_by"]) == (None, "empty")
    charging = out["charging"]
    assert charging["hours"]["p50"] == 3
    assert charging["wall_kwh"]["p50"] == 11
    assert (charging["efficiency"], charging["limited_by"], charging["power_kw"]) == (0.88, "circuit", 3.68)
    assert charging["circuit"]["amps"] == 16
    assert out["events"][0]["at_km"] == 0.34
    assert out["sensitivities"] == [
        {"input": "weather.temperature_c", "effect_km": -4.321, "sentence": "Ten degrees colder costs 4 km."}
    ]
    assert out["assumptions"][1] == {"name": "chemistry", "value": "nmc", "unit": "", "source": "x"}
    assert out["notes"] == ["extrapolated"]
    assert out["vehicle"] == {"id": "own", "name": "own car", "kind": "bev"}


def test_without_a_band_only_the_middle_is_known():
    bare = dataclasses.replace(QUOTE, range_m=Band(None, 36_000, None))
    assert QuoteOut.from_quote(bare).range_km.model_dump() == {"p10": None, "p50": 36, "p90": None}


def test_a_car_without_an_inlet_does_not_charge():
    assert QuoteOut.from_quote(dataclasses.replace(QUOTE, charging=None)).charging is None


@pytest.mark.parametrize(("value", "shown"), [(0.0, 0.0), (-1234.5678, -1234.6), (1e-9, 1e-9), (None, None)])
def test_rounding_keeps_five_significant_digits(value, shown):
    assert rounded(value) == shown
