"""The whole page of a hand-made quote: complete, free of jargon, in one set of units."""

import re
from dataclasses import fields, is_dataclass, replace

import pytest

from service.quotes.answer import Band, Distances, EngineAnswer, EngineStart
from service.reporting.views import answer_view
from service.reporting.words import Units
from service.specs import Triggers


def texts(view):
    """Every string of a view, drawings with their markup taken off."""
    if isinstance(view, str):
        yield re.sub(r"<[^>]+>", " ", view).replace("\u00a0", " ").replace("\u2212", "-")
    elif is_dataclass(view):
        for one in fields(view):
            yield from texts(getattr(view, one.name))
    elif isinstance(view, tuple):
        for one in view:
            yield from texts(one)


def test_nothing_on_the_page_is_statistics_jargon(quote, mild, setting):
    page = " ".join(texts(answer_view(quote, mild, setting)))
    assert not re.search(r"\b(p10|p50|p90|percentile|median|quantile|sigma|confidence)\b", page, re.IGNORECASE)


def test_us_pages_hold_no_metric_units(quote, mild, setting):
    answer = replace(quote, notes=(), sensitivities=())
    page = " ".join(texts(answer_view(answer, mild, replace(setting, units=Units.US))))
    assert not re.search(r"\d\s?(km|°C|Wh/km|kg)\b", page)
    assert "19 mi" in page
    assert "mi/kWh" in page


def test_the_journey_is_marked_at_work_and_home(quote, mild, setting):
    drawing = " ".join(texts(answer_view(quote, mild, setting).drawing.wide)).split()
    assert "16 km work" in " ".join(drawing)
    assert "32 km home again" in " ".join(drawing)


def test_a_journey_that_is_not_a_commute_has_one_end(quote, mild, setting):
    view = answer_view(quote, mild, replace(setting, round_trip=False))
    assert "work" not in " ".join(texts(view.drawing.wide))
    assert "journey&#x27;s end" in view.drawing.wide


def test_ledger_rows_add_up_to_the_total(quote, mild, setting):
    ledger = answer_view(quote, mild, setting).ledger
    assert sum(int(row.value) for row in ledger.rows) == int(ledger.total.value) == 224  # the hand-made ledger
    assert "Climbing" not in {row.name for row in ledger.rows}  # nothing to tell


def test_energy_given_back_by_a_descent_is_told_but_not_drawn(quote, mild, setting):
    downhill = quote.to_empty.ledger_j_per_m | {"climbing": -40 * 3.6}
    view = answer_view(replace(quote, to_empty=replace(quote.to_empty, ledger_j_per_m=downhill)), mild, setting)
    assert ("Climbing", "\u221240") in {(row.name, row.value) for row in view.ledger.rows}
    assert ">climbing<" not in view.ledger.drawing.wide


def test_charging_is_left_out_where_there_is_no_inlet(quote, mild, setting):
    assert answer_view(replace(quote, charging=None), mild, setting).charging is None


def test_a_page_without_a_band_and_without_comparison(quote, setting):
    view = answer_view(replace(quote, range_m=Band(None, 36_000.0, None), events=()), None, setting)
    assert view.why == ""
    assert [row.name for row in view.rows] == ["about"]


def test_help_and_hurt_are_told_apart(quote, mild, setting):
    view = answer_view(quote, mild, setting)
    assert len(view.helps) == 1
    assert len(view.hurts) == 1
    assert "farther" in view.helps[0]


@pytest.mark.parametrize(("surface", "words"), [("wet", "wet road"), ("snow", "snow on the road")])
def test_the_question_names_what_lies_on_the_road(quote, mild, setting, surface, words):
    asked = replace(quote, ask=replace(quote.ask, weather=replace(quote.ask.weather, surface=surface)))
    day = next(row for row in answer_view(asked, mild, setting).question if row.name == "Day")
    assert day.value.endswith(words)


@pytest.mark.parametrize("factor", [0.1, 1, 15, 60])
def test_drawings_exist_for_any_distance(quote, mild, setting, factor):
    far = replace(quote, range_m=quote.range_m.scaled(factor))
    view = answer_view(far, mild, setting)
    assert view.drawing.wide.startswith("<svg")
    assert view.drawing.narrow.startswith("<svg")


def test_of_outlets_that_take_as_long_the_weakest_stands_for_the_rest():
    from service.catalogue import load_catalogue
    from service.quotes.build import build_quote
    from service.reporting.charging_view import other_outlets
    from service.specs import Ask, Journey, Weather

    catalogue = load_catalogue()
    car, slow = catalogue.vehicle("compact-plug-in"), catalogue.circuit("na-household-15a")
    ask = Ask(car, Journey(cycle="udds"), Weather(293.15), circuit=slow, band=False)
    rows = other_outlets(build_quote(ask, catalogue).charging)
    assert [row.name.endswith(" or stronger") for row in rows] == [False, True]
    assert len({row.value for row in rows}) == 2


def test_the_ruler_of_an_early_engine_says_what_its_marks_mean(quote, setting):
    lasts, at_once = Band(172e3, 229e3, 358e3), Band(0.0, 0.0, 0.0)
    start = EngineStart("cabin_heat", 0.0, 0.0, 1500.0, 1e-3, True, "Keep the heater off.")
    engine = EngineAnswer(
        Distances(at_once, lasts, None, None), (start,), Band(None, 6.5e-8, None), 7.6e-8, Band(None, 0.2, None),
        0.0, 0.0,
    )  # fmt: skip
    car = replace(quote.ask.vehicle, triggers=Triggers())
    early = replace(quote, range_m=at_once, engine=engine, ask=replace(quote.ask, vehicle=car))
    drawing = answer_view(early, None, setting).drawing
    assert "battery used up, half the days" in drawing.wide
    assert "used up, half" in drawing.narrow
