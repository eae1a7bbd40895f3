"""A real small comparison as a page: what fails first stands first, in plain words, and nothing is lost unsaid."""

import re
from dataclasses import fields, is_dataclass, replace
from datetime import date

import pytest

from service.catalogue import load_catalogue
from service.fleet.answer import Verdict
from service.fleet.ask import ComparisonAsk, Month, Route, months_of
from service.fleet.compare import compare
from service.reporting import routes_sentences
from service.reporting.route_lines import FAR_TIMES, RouteMark, draw_line, draw_scale, scale_top
from service.reporting.routes_view import ENGINE_HEATS, LINES_SHOWN, routes_view
from service.reporting.ruler import NARROW, WIDE
from service.reporting.sheet_room import LINES_ON_PAPER
from service.reporting.words import Units
from service.specs import Journey, Leg, Weather

TODAY = date(2026, 11, 25)
NAMES = {"electric-delivery-van": "Electric delivery van", "family-suv-plug-in": "Family SUV plug-in hybrid"}


def route(name, kilometres, km_h=60, trips=1):
    return Route(name, Journey(legs=(Leg(kilometres * 1000, km_h / 3.6),)), trips)


@pytest.fixture(scope="module")
def catalogue():
    return load_catalogue()


@pytest.fixture(scope="module")
def comparison(catalogue):
    """A plug-in with 15 kWh and a van with 68 kWh: 40 km both, 150 km the van only, in a northern year."""
    ask = ComparisonAsk(
        vehicles=(catalogue.vehicle("family-suv-plug-in"), catalogue.vehicle("electric-delivery-van")),
        routes=(route("Near", 40), route("Far", 150)),
        months=months_of(catalogue.places["helsinki"], 294.15),
        reserve_m=10_000,
        place=catalogue.places["helsinki"],
    )
    return compare(ask, catalogue)


@pytest.fixture(scope="module")
def view(comparison):
    return routes_view(comparison, Units.METRIC, TODAY)


def texts(view):
    if isinstance(view, str):
        yield re.sub(r"<[^>]+>", " ", view).replace("\u00a0", " ").replace("\u2212", "-")
    elif is_dataclass(view):
        for one in fields(view):
            yield from texts(getattr(view, one.name))
    elif isinstance(view, tuple):
        for one in view:
            yield from texts(one)


def test_the_headline_says_what_fails_where_with_which_vehicle(view):
    assert re.fullmatch(
        r"In (January|February), 1 of 2 routes does not fit on one charge of the Family SUV plug-in hybrid\.",
        view.headline,
    )
    assert view.second == "The Electric delivery van keeps every route."


def test_what_fails_first_stands_first_and_figures_fall_in_order(view):
    assert (view.lines[0].route, view.lines[0].vehicle) == ("Far", "Family SUV plug-in hybrid")
    assert view.lines[0].margin.endswith("short")
    spare = [float(line.margin.split("\u00a0")[0]) for line in view.lines if "to spare" in line.margin]
    assert spare == sorted(spare)


def test_each_line_tells_its_cell(view, comparison):
    cell = min(comparison.cells, key=lambda cell: cell.margin_m)
    line = view.lines[0]
    assert line.month == cell.month
    assert line.margin == f"{-cell.margin_m / 1000:.0f}\u00a0km short"
    needed = f"needs {cell.needed_m / 1000:.0f} km"
    assert needed in " ".join(texts(line.drawing))  # 150 km and 10 km in reserve
    assert needed == "needs 160 km"


def test_every_month_has_its_word(view, comparison):
    verdicts = {(cell.route, cell.vehicle, cell.month): cell.verdict for cell in comparison.cells}
    for row in view.table:
        key = next(key for key, name in NAMES.items() if name == row.vehicle)
        for month, word in zip(view.months, row.words, strict=True):
            assert word == routes_sentences.VERDICT_WORDS[verdicts[row.route, key, month.note]]


def test_an_engine_that_heats_is_told_once_and_not_on_every_line(view):
    assert view.heat.startswith("The Family SUV plug-in hybrid starts its engine to heat the cabin")
    assert not any(ENGINE_HEATS in line.reason for line in view.lines)


def test_the_heat_of_the_engine_is_named_as_the_reasons_name_it(comparison):
    from service.reporting.comparison_reasons import limit_words

    vehicle = next(each for each in comparison.vehicles if each.key == "family-suv-plug-in")
    cell = next(cell for cell in comparison.cells if cell.vehicle == vehicle.key)
    assert limit_words(cell, vehicle.ask)[-1] == ENGINE_HEATS


def test_nights_are_the_longest_refill_of_each(view, comparison):
    assert [row.name for row in view.nights] == [NAMES[each.key] for each in comparison.vehicles]
    longest = max(cell.charging_s for cell in comparison.cells if cell.vehicle == "electric-delivery-van")
    hours = re.match(r"(\d+)\u00a0h", view.nights[1].value).group(1)
    assert abs(float(hours) - longest / 3600) < 1


def test_shared_assumptions_are_told_once_and_single_ones_by_name(view):
    names = [row.name for row in view.assumptions]
    assert len(set((row.name, row.value) for row in view.assumptions)) == len(names)
    assert any(name.startswith("Electric delivery van: ") for name in names)
    assert "Trips of a day" in names


def test_a_page_of_us_readers_holds_no_metric_distance(comparison):
    page = routes_view(comparison, Units.US, TODAY)
    told = " ".join(texts(replace(page, notes=(), assumptions=())))
    assert not re.search(r"\d\s?(km|°C|Wh/km|kg)\b", told)
    assert "99 mi" in told  # 160 km


def test_nothing_on_the_page_is_statistics_jargon(view):
    page = " ".join(texts(replace(view, assumptions=())))  # sources name their method
    assert not re.search(r"\b(p10|p50|p90|percentile|median|quantile|sigma|margin)\b", page, re.IGNORECASE)


def test_when_everything_fits_the_headline_says_so(catalogue):
    van = catalogue.vehicle("electric-delivery-van")
    one = ComparisonAsk((van,), (route("Near", 20),), (Month("cold weather", Weather(263.15)),))
    view = routes_view(compare(one, catalogue), Units.METRIC, TODAY)
    assert view.headline == "The route fits on one charge of the Electric delivery van, even in cold weather."
    assert view.others_pass == "Every route passes with every vehicle in every month."


def test_a_day_that_is_no_month_is_told_with_its_temperature(catalogue):
    car = catalogue.vehicle("compact-plug-in")
    one = ComparisonAsk((car,), (route("Far", 200),), (Month("cold weather", Weather(263.15)),))
    view = routes_view(compare(one, catalogue), Units.METRIC, TODAY)
    assert view.headline.startswith("In cold weather (\u221210\u00a0°C), the route does not fit")
    assert view.table[0].told == "fails in cold weather"


def test_lines_beyond_the_page_are_counted(catalogue):
    van = catalogue.vehicle("electric-delivery-van")
    many = ComparisonAsk((van,), tuple(route(f"R{n}", 20 + n) for n in range(20)), (Month("mild", Weather(288.15)),))
    view = routes_view(compare(many, catalogue), Units.METRIC, TODAY)
    assert len(view.lines) == LINES_SHOWN
    assert view.more.startswith(f"{20 - LINES_SHOWN} more lines")
    printed = sum(line.on_paper for line in view.lines)
    assert 8 <= printed <= LINES_ON_PAPER
    assert view.more_on_paper.startswith(f"{20 - printed} more lines")


def test_a_vehicle_that_fails_everywhere_takes_room_from_the_sheet(catalogue):
    car = catalogue.vehicle("compact-plug-in")
    many = ComparisonAsk((car,), tuple(route(f"R{n}", 200 + n) for n in range(20)), (Month("mild", Weather(288.15)),))
    view = routes_view(compare(many, catalogue), Units.METRIC, TODAY)
    assert {line.margin.split()[-1] for line in view.lines} == {"short"}
    assert 6 <= sum(line.on_paper for line in view.lines) < LINES_ON_PAPER


MARK = RouteMark(low=60, middle=70, needed=120, flag="needs 120 km", label="Far & wide")


@pytest.mark.parametrize("size", [WIDE, NARROW])
def test_a_shortfall_is_dashed_and_a_reserve_is_not(size):
    assert "stroke-dasharray" in draw_line(MARK, 150, size)
    assert "stroke-dasharray" not in draw_line(replace(MARK, needed=50.0), 150, size)
    assert "Far &amp; wide" in draw_line(MARK, 150, size)


def test_the_scale_holds_every_need_and_no_reach_squeezes_it():
    far = replace(MARK, low=2000.0, middle=3000.0)
    assert scale_top([MARK]) > 120
    assert scale_top([MARK, far]) == pytest.approx(FAR_TIMES * 120 * 1.06)  # headroom
    drawn = draw_line(far, scale_top([MARK, far]), WIDE)
    assert max(float(x) for x in re.findall(r'x[12]?="([\d.]+)"', drawn)) <= WIDE.width


def test_the_flag_of_a_far_stroke_stays_on_the_drawing():
    assert 'text-anchor="end"' in draw_line(replace(MARK, needed=148.0), 150, NARROW)


def test_the_scale_begins_with_its_unit():
    assert ">0 km<" in draw_scale(150, "km", WIDE)


def test_verdicts_all_have_a_word():
    assert set(routes_sentences.VERDICT_WORDS) == set(Verdict)
