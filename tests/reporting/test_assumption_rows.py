"""Assumptions as people read them."""

import re
from dataclasses import replace

import pytest

from service.catalogue import load_catalogue
from service.quotes.answer import Assumption
from service.quotes.assume import complete
from service.reporting.assumption_rows import assumption_row, assumption_rows
from service.reporting.words import Units
from service.specs import Ask, Battery, BodyAndTyres, Cabin, Journey, Kind, MassBasis, Outfit, Trailer, Vehicle, Weather

OURS = re.compile(r"\bN s/m\b|\bPa\b|\d K\b|\bm/s\b|_|\b0\.[1-9]\d*$")  # units and words that nobody says at a desk
BARE = Vehicle("own", "Own", Kind.PHEV, 1500.0, MassBasis.KERB, BodyAndTyres(0.62, 0.0085), Battery(3e7))
OUTFIT = Outfit(winter_tyres=True, tyres_set_k=293.15, roof_box=True, trailer=Trailer(500.0), door_openings_per_m=1e-3)


def told(name, value, unit, units=Units.METRIC):
    row = assumption_row(Assumption(name, value, unit, "x"), units)
    return f"{row.name} {row.value}".replace("\xa0", " ")


@pytest.mark.parametrize("units", Units)
@pytest.mark.parametrize("kind", Kind)
def test_nothing_that_a_quote_assumes_is_told_in_our_own_words(kind, units):
    ask = Ask(
        replace(BARE, kind=kind), Journey(cycle="udds"), Weather(263.15), outfit=OUTFIT, cabin=Cabin(seat_heat=True)
    )
    _, listed = complete(ask, load_catalogue())
    rows = assumption_rows(listed, units)
    assert len(rows) > 15
    assert not [row for row in rows if OURS.search(f"{row.name} {row.value}".replace("\xa0", " "))]


def test_drag_is_told_at_a_speed_people_drive():
    # 1 N s/m is 27.8 N at 100 km/h, 26.8 N or 6.0 lbf at 60 mph
    assert told("drag that grows with speed", 1.0, "N s/m") == "Drag of oil and magnets at 100 km/h 28 N"
    assert told("drag that grows with speed", 1.0, "N s/m", Units.US) == "Drag of oil and magnets at 60 mph 6 lbf"


@pytest.mark.parametrize(
    ("assumption", "metric", "us"),
    [
        (("recommended tyre pressure", 250e3, "Pa"), "250 kPa", "36 psi"),
        (("scatter of days, cold months", 6.7, "K"), "6.7 °C", "12 °F"),
        (("end of the motor's constant torque", 11.1, "m/s"), "40 km/h", "25 mph"),
        (("winter over summer tyre, rolling resistance", 1.1, "1"), "10 %", "10 %"),
        (("heat pump output at 0 °C", 4000.0, "W"), "Heat pump output at 0 °C 4 kW", "Heat pump output at 32 °F 4 kW"),
        (("shortest run of the engine", 120.0, "s"), "2 min", "2 min"),
        (("drag area that the trailer adds", 1.0, "m2"), "1 m²", "11 ft²"),
        (("rolling resistance of the trailer's tyres", 0.011, "1"), "0.011", "0.011"),
        (("leaves home at", 7.5, "h"), "07:30", "7:30 am"),
        (("cabin heating", "heat_pump", ""), "Cabin heating a heat pump", "Cabin heating a heat pump"),
    ],
)
def test_values_stand_in_the_readers_units(assumption, metric, us):
    assert told(*assumption).endswith(metric)
    assert told(*assumption, Units.US).endswith(us)


def test_the_one_whose_value_it_is_stands_in_front():
    row = assumption_row(Assumption("wind", 12.0, "km/h", "x"), Units.METRIC, "Van: ")
    assert (row.name, row.value) == ("Van: wind", "12\xa0km/h")
