"""Geometry that must hold for any answer: even graduations, labels that never collide."""

from itertools import combinations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from service.reporting.charts import CLEAR_PX, HOUR_STEPS, LENGTH_STEPS, Mark, graduate, place_flags, text_width_px

ROOM = 336.0  # the narrow drawing
highs = st.floats(0.5, 5_000)


@given(highs, st.sampled_from([(334, 52), (758, 58)]), st.sampled_from([LENGTH_STEPS, HOUR_STEPS]))
def test_a_graduation_covers_the_value_and_keeps_its_distances(high, room, steps):
    room_px, numeral_px = room
    if steps is HOUR_STEPS:
        high = min(high, 500.0)  # hours
    scale = graduate(high, room_px, numeral_px, steps)
    assert high <= scale.top * (1 + 1e-9)
    assert scale.top <= high + scale.minor * (1 + 1e-9)
    assert scale.step * room_px / scale.top >= numeral_px * (1 - 1e-9) or scale.minor == scale.step
    assert scale.minor * room_px / scale.top >= 4 * (1 - 1e-9)
    assert len(scale.numerals()) >= 2


@given(highs)
def test_every_numeral_stands_on_a_stroke(high):
    scale = graduate(high, 758, 58)
    strokes = scale.strokes()
    assert all(min(abs(value - stroke) for stroke in strokes) < 1e-6 * scale.top for value in scale.numerals())


@given(highs)
def test_steps_are_one_two_or_five(high):
    step = graduate(high, 758, 58).step
    assert f"{step:e}"[0] in "125"


marks = st.lists(
    st.builds(Mark, x=st.floats(0, ROOM), width=st.floats(5, ROOM / 3 - 5)),
    min_size=1,
    max_size=5,
)


@given(marks)
def test_flags_never_collide(given_marks):
    flags = place_flags(given_marks, ROOM)
    for one, other in combinations(flags, 2):
        if one.row == other.row:
            assert one.right <= other.left or other.right <= one.left
    for text in flags:
        for pole in flags:
            if pole is not text and pole.row > text.row:  # a taller pole passes the text's row
                assert not text.left - CLEAR_PX < pole.x < text.right + CLEAR_PX


@given(marks)
def test_flags_stay_on_the_drawing_and_beside_their_poles(given_marks):
    for flag in place_flags(given_marks, ROOM):
        assert flag.left >= -1e-9
        assert flag.right <= ROOM + 1e-9
        assert flag.x == given_marks[flag.index].x
        assert flag.right - flag.left == pytest.approx(given_marks[flag.index].width)


@given(marks)
def test_all_are_placed_when_no_text_is_longer_than_a_third(given_marks):
    assert len(place_flags(given_marks, ROOM)) == len(given_marks)


def test_the_least_important_goes_first():
    wide = [Mark(150, 200), Mark(160, 200), Mark(170, 200)]
    placed = place_flags(wide, 320)
    assert [flag.index for flag in placed] == list(range(len(placed)))
    assert placed


def test_a_text_longer_than_the_drawing_is_left_out():
    assert place_flags([Mark(10, 400)], 336) == []


def test_text_width_grows_with_size_and_weight():
    assert text_width_px("31 km", 20) == pytest.approx(2 * text_width_px("31 km", 10))
    assert text_width_px("31 km", 10, bold=True) > text_width_px("31 km", 10)
