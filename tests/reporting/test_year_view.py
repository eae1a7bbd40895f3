"""A commute's year as a page: sentences and figures from hand-made answers of plausible size."""

from dataclasses import replace
from datetime import date

import pytest

from service.quotes.answer import Assumption, Band
from service.quotes.money import Money
from service.quotes.parking import Overnight
from service.quotes.year_answer import Change, Commute, CommuteMonth, FuelOnly, HardestDay, Night, Tally
from service.reporting import year_sentences as said
from service.reporting.words import Units
from service.reporting.year_view import Asked, year_view
from service.specs import Heating, Kind, Place, Start, Weather

NAMES = ("January", "February", "March", "April", "May", "June", "July", "August", "September", "October", "November",
         "December")  # fmt: skip
ASKED = Asked(7.5, 17.0, "Monday to Friday", Overnight.OUTSIDE, "")
KWH = 3.6e6


def band(middle, spread=0.1):
    return Band(middle * (1 - spread), middle, middle * (1 + spread))


def tally(days, electric, kwh, litres):
    distance_m = days * 40_000
    return Tally(
        days=days,
        distance_m=distance_m,
        electric_days=Band(electric - 2, electric, min(electric + 1, days)),
        electric_share=band(electric / days),
        wall_j=band(kwh * KWH),
        fuel_m3=band(litres / 1000),
        cost=band(0.3 * kwh + 1.7 * litres),
        co2_kg=band(0.4 * kwh + 2.3 * litres),
    )


HARD = HardestDay(254.15, 259.15, False, 8_700.0, 1.0, 0.0, "heating", 291.6, False)
EASY = replace(HARD, electric=True, short_m=0.0, charge_left=0.31)


@pytest.fixture
def commute(ask):
    place = Place("helsinki", "Helsinki", "FI", 60.0, 25.0, 10.0, *((280.0,) * 12,) * 2, *((None,) * 12,) * 3)
    months = tuple(
        CommuteMonth(
            name=name,
            out=Weather(263.15 if at < 2 else 288.15),
            back=Weather(268.15 if at < 2 else 293.15),
            range_m=band(38_000.0 if at < 2 else 70_000.0),
            tally=tally(20.0, 9.6 if at == 1 else 13.4 if at == 0 else 20.0, 160, 2),
            hardest=HARD if at < 2 else EASY,
            heat_days=0.0,
        )
        for at, name in enumerate(NAMES)
    )
    return Commute(
        ask=ask,
        place=place,
        one_way_m=20_000.0,
        back_m=20_000.0,
        months=months,
        year=tally(240.0, 223.0, 1916, 24),
        fuel_only=FuelOnly(0.624, 1060.8, 1465.0),
        helps=(
            Change("charges_at_work", "Charging at work, on a circuit like that at home", 16.6, 20 * KWH, -6.2),
            Change("speed", "Driving ten per cent slower", 0.2, -40 * KWH, 0.4),
            Change("preconditioned", "Readying the cabin while still plugged in", -1.0, 60 * KWH, 24.0),
        ),
        night=Night("February", 16_500.0, 50_400.0, 0.0),
        money=Money("EUR", 0.3 / KWH, 0.3 / KWH, 1700.0, 0.4 / KWH, 2348.0, 6.5e-8),
        assumptions=(Assumption("leaves home at", 7.5, "h", "common practice"),),
        notes=("Below 5 °C the rolling resistance of tyres is extrapolated.",),
    )


def test_the_headline_counts_days_and_names_the_worst_month(commute):
    assert said.headline(commute) == (
        "On about 223 of 240 working days you drive there and back without the engine; in February on 10 of 20."
    )


def test_all_and_none(commute):
    every = replace(commute, year=tally(240.0, 239.8, 1916, 0))
    assert said.headline(every) == "On all 240 working days of a year you drive there and back without the engine."
    none = replace(commute, year=tally(240.0, 0.2, 1916, 900))
    assert said.headline(none).startswith("On none of the 240 working days of a year do you drive there and back")


def test_a_battery_electric_car_is_told_in_other_words(commute):
    car = replace(commute.ask.vehicle, kind=Kind.BEV)
    electric = replace(commute, ask=replace(commute.ask, vehicle=car), fuel_only=None)
    assert "the car gets there and back without a charge on the way" in said.headline(electric)
    assert "fuel" not in said.second(electric, Units.METRIC)
    assert "electricity gives off about" in said.wholly_on_fuel(electric, Units.METRIC)
    view = year_view(electric, ASKED, Units.METRIC, date(2026, 11, 25))
    assert "Fuel" not in [name for name, _ in view.columns]
    assert all(len(row.cells) == len(view.columns) for row in (*view.table, view.total))


def test_an_engine_that_heats_is_told_in_the_headline_and_counted(commute):
    months = tuple(replace(month, heat_days=15.0) for month in commute.months)
    car = replace(commute.ask.vehicle, heating=Heating.ENGINE)
    cold = replace(commute, months=months, ask=replace(commute.ask, vehicle=car))
    assert "if the heater stays off" in said.headline(cold)
    assert "about 180 of the 240 mornings" in said.heat(cold)
    assert said.heat(commute) == ""


def test_what_falls_short_of_all_is_never_told_as_all():
    assert said.days_of(tally(19.6, 19.55, 1, 0)) == "20 of 20"
    assert said.days_of(tally(20.4, 19.6, 1, 0)) == "19 of 20"
    assert said.days_of(tally(18.6, 17.9, 1, 0)) == "18 of 19"


def test_the_second_sentence(commute):
    text = said.second(commute, Units.METRIC).replace("\u00a0", " ")
    assert text == (
        "Nine cars and drivers in ten manage 221 or more. The year takes 1 916 kWh from the socket and 24 litres of "
        "fuel: about 616 EUR."
    )
    dry = replace(commute, year=tally(240.0, 239.9, 1916, 0))
    assert "and no fuel: about" in said.second(dry, Units.METRIC)
    assert "6.3\u00a0gallons" in said.second(commute, Units.US)  # 24 l


def test_a_weak_socket_is_named(commute):
    late = replace(HARD, morning_charge=0.4)
    weak = replace(
        commute,
        months=tuple(replace(month, hardest=late) for month in commute.months),
        night=Night("February", 150_000.0, 50_400.0, 0.8),
    )
    assert "It is the socket at home that falls short" in said.second(weak, Units.METRIC)
    assert said.why(weak, Units.METRIC) == ""
    assert "about 192 nights of the year" in said.night(weak)
    assert "(left at 40\u00a0%)" in said.hardest(late, 1.0, Units.METRIC)
    nothing = replace(weak, night=Night("February", float("inf"), 50_400.0, 1.0))
    assert "nothing is charged" in said.night(nothing)


@pytest.mark.parametrize(
    ("day", "words"),
    [
        (HARD, "Hardest day −19 °C, −14 °C back: 8.7 km short."),
        (EASY, "Hardest day −19 °C, −14 °C back: home with 31 % left."),
        (replace(HARD, too_weak=True), "Hardest day −19 °C, −14 °C back: motor and battery cannot keep up."),
    ],
)
def test_the_hardest_day(day, words):
    assert said.hardest(day, 1.0, Units.METRIC).replace("\u00a0", " ") == words


def test_where_the_energy_goes(commute):
    assert "hardest day in February goes into heating the cabin: 81" in said.why(commute, Units.METRIC)
    assert "130\u00a0Wh/mi" in said.why(commute, Units.US)  # 81 Wh/km


def test_what_would_help(commute):
    lines = [said.help_words(each, commute).replace("\u00a0", " ") for each in commute.helps]
    assert lines == [
        "Charging at work, on a circuit like that at home: about 17 more days without the engine, about 6 EUR less a "
        "year.",
        "Driving ten per cent slower: 40.0 kWh less from the socket a year.",
        "Readying the cabin while still plugged in: about 1 fewer day without the engine, about 24 EUR more a year.",
    ]


def test_never_plugged_in(commute):
    text = said.wholly_on_fuel(commute, Units.METRIC).replace("\u00a0", " ")
    assert "624 litres a year, about 1 061 EUR, and gives off 1.5 t of CO\u2082" in text
    assert text.endswith("822 kg.")


def test_the_page(commute):
    view = year_view(commute, ASKED, Units.METRIC, date(2026, 11, 25))
    assert [line.month for line in view.lines] == list(NAMES)
    assert [line.all_electric for line in view.lines] == [False, False] + [True] * 10
    assert [bool(line.hardest) for line in view.lines] == [True, True] + [False] * 10
    assert "there and back 40\u00a0km" in view.lines[0].drawing.wide
    assert "there and back" not in view.lines[1].drawing.wide.partition("aria-label")[2].partition(">")[2]
    assert view.total.cells[1] == "223 of 240"
    assert view.table[0].cells[0] == "\u221210°, \u22125°"
    assert view.assumptions[0].value == "07:30"
    assert {row.name: row.value for row in view.question}["Prices"].startswith("0.30\u00a0EUR a kWh, 1.70\u00a0EUR a")


def test_the_page_in_miles(commute):
    view = year_view(commute, replace(ASKED, work="a circuit"), Units.US, date(2026, 11, 25))
    assert "one way 12\u00a0mi" in view.lines[0].drawing.wide
    assert "Tall stroke: one way" in view.key
    heads = dict(view.columns)
    assert (heads["Fuel"], heads["CO\u2082"], heads["Out, back"]) == ("gallons", "lb", "°F")
    assert view.total.cells[-1] == "1\u00a0811"  # 821.6 kg
    question = {row.name: row.value for row in view.question}
    assert question["Days"].endswith("7:30\u00a0am and 5\u00a0pm")
    assert question["Prices"].endswith("6.44\u00a0EUR a gallon")  # 1.70 a litre


def test_a_summary_says_what_differs_from_the_usual(commute):
    start = Start(state_of_charge=0.8, preconditioned=True)
    asked = replace(commute, ask=replace(commute.ask, start=start))
    night = {row.name: row.value for row in year_view(asked, ASKED, Units.METRIC, date(2026, 11, 25)).question}["Night"]
    assert "readied on the plug" in night
    assert "charged to 80" in night
