"""Speed and weather in words and tables: figures here are invented, of plausible size."""

import csv
import io
from dataclasses import replace
from datetime import date

import pytest

from service.quotes.answer import Assumption, Band
from service.quotes.speed_table import InOneGo, ShortTrip, SpeedAsk, SpeedTable, SteadyCell, TripKind
from service.reporting.speed_out import SpeedTableOut, table_of
from service.reporting.speed_sentences import cannot_hold, headline, short_trips
from service.reporting.speed_view import speed_view
from service.reporting.words import Units
from service.specs import Heating, Kind
from service.units import KM_H

WH_KM = 3.6
TODAY = date(2026, 11, 25)
COLD_K, MILD_K = 263.15, 293.15
RANGES_KM = {(80, COLD_K): 262, (120, COLD_K): 210, (80, MILD_K): 395, (120, MILD_K): 280}


def cell(km_h, kelvin, held=""):
    far = 1e3 * RANGES_KM[km_h, kelvin]
    return SteadyCell(km_h * KM_H, kelvin, Band(0.9 * far, far, 1.1 * far), 150 * WH_KM, "empty", held)


@pytest.fixture
def found(ask):
    vehicle = replace(ask.vehicle, kind=Kind.BEV)
    kind = TripKind((5e3, 20e3), 50 * KM_H, 1e-3)
    question = SpeedAsk(ask, (80 * KM_H, 120 * KM_H), (COLD_K, MILD_K), kind)
    trips = [
        ShortTrip(5e3, COLD_K, 360 * WH_KM, 140 * WH_KM, 0.0, 100 * WH_KM, 23),
        ShortTrip(20e3, COLD_K, 260 * WH_KM, 100 * WH_KM, 0.0, 60 * WH_KM, 8),
        ShortTrip(5e3, MILD_K, 100 * WH_KM, 0.0, 0.0, 0.0, 83),
        ShortTrip(20e3, MILD_K, 98 * WH_KM, 0.0, 0.0, 0.0, 1),
    ]
    goes = [
        InOneGo(COLD_K, 222e3, 190 * WH_KM, 78 * WH_KM, 0.0, 20 * WH_KM),
        InOneGo(MILD_K, 447e3, 97 * WH_KM, 0.0, 0.0, 0.0),
    ]
    cells = [cell(km_h, kelvin) for kelvin in (COLD_K, MILD_K) for km_h in (80, 120)]
    wind = Assumption("wind", 12.0, "km/h", "common practice")
    return SpeedTable(
        question, replace(ask, vehicle=vehicle), tuple(cells), tuple(trips), tuple(goes), (wind,), ("A note.",)
    )


def plainly(text):
    return text.replace("\u00a0", " ").replace("\u2212", "-")


def test_the_answer_stands_first_in_words(found):
    told = plainly(headline(found, Units.METRIC))
    assert told == "At 120 km/h and -10 °C this car goes 210 km; at 80 km/h and 20 °C 395 km."
    assert plainly(headline(found, Units.US)).startswith("At 75 mph and 14 °F this car goes 130 mi; at 50 mph and 68")


def test_what_is_driven_on_electricity_alone_is_said(found, ask):
    plug_in = replace(found, ask=ask)
    assert "goes 210 km on electricity; at" in plainly(headline(plug_in, Units.METRIC))
    heated = replace(plug_in, ask=replace(ask, vehicle=replace(ask.vehicle, heating=Heating.ENGINE)))
    assert "on electricity, if the heater stays off;" in headline(heated, Units.METRIC)


def test_a_speed_that_is_not_held_is_not_in_the_headline(found):
    cells = tuple(cell(80, each.ambient_k) if each.speed_m_s < 25 else replace(each, cannot_hold="motor")
                  for each in found.cells)  # fmt: skip
    weak = replace(found, cells=cells)
    assert plainly(headline(weak, Units.METRIC)).startswith("At 80 km/h and -10 °C this car goes 262 km; at 80")
    assert plainly(cannot_hold(weak, Units.METRIC)) == "It cannot hold 120 km/h (its electric motor is too weak)."
    some = replace(found, cells=(*found.cells[:1], replace(found.cells[1], cannot_hold="battery"), *found.cells[2:]))
    assert plainly(cannot_hold(some, Units.METRIC)) == "It cannot hold 120 km/h at -10 °C (its battery is too weak)."
    none = replace(found, cells=tuple(replace(each, cannot_hold="motor") for each in found.cells))
    assert headline(none, Units.METRIC) == "This car holds none of these speeds on electricity."
    assert cannot_hold(found, Units.METRIC) == ""


def test_why_short_trips_cost_more_is_said_in_one_sentence(found):
    told = plainly(short_trips(found, Units.METRIC))
    assert told.startswith("At -10 °C a trip of 5 km from cold takes 360 Wh/km, 1.9 times what")
    assert "the cabin, the battery and the tyres are warmed from cold every time" in told
    assert told.endswith("A charge gives 23 such trips, 115 km in all.")


def test_what_is_not_warmed_is_not_blamed(found):
    unheated = [replace(each, heating_j_per_m=0.0, conditioning_j_per_m=0.0) for each in found.trips]
    goes = [replace(each, heating_j_per_m=0.0, conditioning_j_per_m=0.0) for each in found.in_one_go]
    told = short_trips(replace(found, trips=tuple(unheated), in_one_go=tuple(goes)), Units.METRIC)
    assert "one go: the tyres are warmed" in told


def test_short_trips_that_cost_the_same_are_no_story(found):
    alike = tuple(replace(each, battery_j_per_m=191 * WH_KM) for each in found.trips)
    assert "hardly more" in short_trips(replace(found, trips=alike), Units.METRIC)


def test_the_tables_hold_every_cell(found):
    view = speed_view(found, Units.METRIC, TODAY)
    assert view.speeds == (("80", "km/h"), ("120", "km/h"))
    assert [row.cells for row in view.ranges] == [(("262", "236"), ("210", "189")), (("395", "356"), ("280", "252"))]
    assert view.trips[0].cells == (("360", "23 trips"), ("260", "8 trips"), ("190", "222\u00a0km"))
    assert view.trips[1].cells[1] == ("98", "1 trip")
    assert "a stop every kilometre" in view.trip
    assert view.made_on == "25 November 2026"


def test_a_cell_that_is_not_held_has_no_figure(found):
    cells = (replace(found.cells[0], cannot_hold="motor"), *found.cells[1:])
    assert speed_view(replace(found, cells=cells), Units.METRIC, TODAY).ranges[0].cells[0] == ("not held", "")


def test_programs_get_the_contracts_names(found):
    cells = (replace(found.cells[0], cannot_hold="motor"), *found.cells[1:])
    out = SpeedTableOut.from_table(replace(found, cells=cells)).model_dump()
    assert out["range_km"][1] == {
        "speed_km_h": 120.0,
        "temperature_c": -10.0,
        "range_km": {"p10": 189.0, "p50": 210.0, "p90": 231.0},
        "battery_wh_per_km": 150.0,
        "ended_by": "empty",
        "cannot_hold": None,
    }
    assert out["cannot_hold"] == [{"speed_km_h": 80.0, "temperature_c": -10.0, "limited_by": "motor"}]
    assert out["short_trips"][0] == {
        "distance_km": 5.0,
        "temperature_c": -10.0,
        "battery_wh_per_km": 360.0,
        "heating_wh_per_km": 140.0,
        "cooling_wh_per_km": 0.0,
        "pack_conditioning_wh_per_km": 100.0,
        "trips_per_charge": 23,
    }
    assert out["in_one_go"][1]["range_km"] == 447.0


def test_the_csv_holds_the_same(found):
    rows = list(csv.DictReader(io.StringIO(table_of(SpeedTableOut.from_table(found)).csv().decode())))
    assert [row["drive"] for row in rows] == ["steady"] * 4 + ["short_trip"] * 4 + ["in_one_go"] * 2
    assert (rows[1]["range_km_p10"], rows[1]["range_km_p50"], rows[1]["range_km_p90"]) == ("189.0", "210.0", "231.0")
    assert (rows[4]["trips_per_charge"], rows[4]["range_km_p50"]) == ("23", "")
    assert (rows[8]["range_km_p50"], rows[8]["trips_per_charge"]) == ("222.0", "")
