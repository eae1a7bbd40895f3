"""Standing ready, in words."""

from dataclasses import replace

import pytest

from service.quotes.answer import Band
from service.quotes.standby import Standby
from service.reporting.standby_sentences import standby_sentences
from service.specs import Ask, Battery, BodyAndTyres, Cabin, Climate, Journey, Kind, MassBasis, Vehicle, Weather

CAR = Vehicle("own", "own", Kind.PHEV, 1500.0, MassBasis.KERB, BodyAndTyres(0.6, 0.009), Battery(9 * 3.6e6))
ANSWER = Standby(  # hand-made
    ask=Ask(CAR, Journey(), Weather(263.15)),
    seconds=Band(6600.0, 9300.0, 13_000.0),
    ended_by="empty",
    floor=0.0,
    cells_j=Band(3e7, 3.2e7, 3.4e7),
    holding_w=Band(2000.0, 2600.0, 3300.0),
    climate_w=2300.0,
    asked_s=1800.0,
    charge_after=Band(0.661, 0.754, 0.82),
    lasts=True,
    engine_heats=False,
    assumptions=(),
    notes=(),
    cautions=(),
)


def told(**changes):
    return [line.replace("\u00a0", " ") for line in standby_sentences(replace(ANSWER, **changes))]


def test_how_long_what_draws_and_what_is_left():
    assert told() == [
        "At −10 °C (14 °F), ready and not moving, nine days in ten the battery lasts 1 h 50 min or more, half the days "
        "2 h 35 min.",
        "It draws 2.6 kW once the cabin is at its temperature; 2.3 kW of it heats the cabin.",
        "After 30 min 66 % or more of the charge is left, nine days in ten.",
    ]


def test_a_trigger_is_told_and_a_band_is_not_invented():
    assert told(ended_by="low_charge_trigger", floor=0.2)[0].endswith("; at 20 % charge the car starts its engine.")
    assert "lasts about 2 h 35 min." in told(seconds=Band(None, 9300.0, None))[0]


def test_ends_of_the_scale():
    assert told(ended_by="already_there", floor=0.3) == [
        "The charge is at or below 30 % already: the engine would start at once."
    ]
    assert "longer than 1 000 hours" in told(ended_by="longer_than_told")[0]
    assert told(lasts=False, asked_s=7200.0)[2] == "It does not last 2 h nine days in ten."


@pytest.mark.parametrize(
    ("climate", "kelvin", "climate_w", "words"),
    [
        (Climate.OFF, 263.15, 0.0, "with heating and cooling off"),
        (Climate.AUTO, 263.15, 0.0, "none of it heats or cools"),
        (Climate.AUTO, 308.15, 1200.0, "cools and airs the cabin"),
    ],
)
def test_what_the_draw_is_for(climate, kelvin, climate_w, words):
    ask = replace(ANSWER.ask, cabin=Cabin(climate=climate), weather=Weather(kelvin))
    assert words in told(ask=ask, climate_w=climate_w)[1]
