"""The figure of a speed table: names that keep apart, gaps where nothing is held, a line for each speed."""

import re
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from service.reporting.ruler import NARROW, WIDE
from service.reporting.speed_curve import STYLES, Curve, Line, draw_curve, kept_apart

PLACES = st.lists(st.floats(0, 200), min_size=1, max_size=8).map(sorted)


def curve(*values):
    lines = tuple(Line(f"{10 * at} km/h", each) for at, each in enumerate(values, 5))
    return Curve("Range", "lines", (-10.0, 0.0, 10.0), ("−10", "0", "10"), "km", lines)


@given(places=PLACES)
def test_names_never_collide_and_keep_their_order(places):
    found = kept_apart(places, 18.0, 0.0, 200.0)
    assert all(above + 18.0 <= below + 1e-6 for above, below in pairwise(found))
    assert found[0] >= -1e-6
    assert found[-1] <= 200.0 + 1e-6


def test_names_that_have_room_stay_where_they_are():
    assert kept_apart([10.0, 60.0, 120.0], 18.0, 0.0, 200.0) == [10.0, 60.0, 120.0]


def test_two_that_collide_move_by_the_same():
    assert kept_apart([50.0, 52.0], 18.0, 0.0, 200.0) == [42.0, 60.0]


@pytest.mark.parametrize("size", [WIDE, NARROW])
def test_every_line_is_named_and_drawn_in_a_style_of_its_own(size):
    drawn = draw_curve(curve((400, 450, 500), (300, 320, 350), (290, 310, 340)), size)
    for name in ("50 km/h", "60 km/h", "70 km/h"):
        assert f">{name}<" in drawn
    styles = re.findall(r'<path [^>]*?stroke-width="([\d.]+)"[^>]*?/>', drawn)
    assert len(styles) == 3
    assert len(set(STYLES)) == len(STYLES)  # dash and width tell them apart without colour


def test_a_speed_that_is_not_held_leaves_a_gap():
    drawn = draw_curve(curve((400, 450, 500), (None, 320, 350), (None, None, None)), WIDE)
    paths = re.findall(r'<path d="([^"]+)"', drawn)
    assert [path.count("L") for path in paths] == [2, 1]
    assert "70 km/h" not in drawn  # nothing to name


def test_one_temperature_gives_dots():
    one = Curve("Range", "dots", (20.0,), ("20 °C",), "km", (Line("80 km/h", (300.0,)),))
    assert "h0.1" in draw_curve(one, WIDE)


def test_words_are_escaped():
    line = Line("<b>", (1.0, 2.0, 3.0))
    assert "<b>" not in draw_curve(Curve("<i>", "&", (0.0, 1.0, 2.0), ("a", "b", "c"), "km", (line,)), WIDE)
