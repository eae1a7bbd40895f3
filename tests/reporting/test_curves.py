"""Plots of curves over speed: geometry, labels, words for those who do not see them."""

import re
from xml.etree import ElementTree

import pytest

from service.reporting.curves import Axis, Dot, Line, Plot, drawn_plot

FALLING = Line(((0.0, 100.0), (50.0, 50.0), (100.0, 20.0)), "falling", dash="6 3")
RISING = Line(((0.0, 5.0), (100.0, 60.0)), "rising <&>")


def plot(*lines, low=0.0, high=110.0, dots=()):
    return Plot("p", "a title", "words", Axis(0.0, 100.0, "km/h"), Axis(low, high, "force, N"), lines, dots)


def elements(drawing, tag):
    return [each for each in ElementTree.fromstring(drawing).iter() if each.tag.endswith(f"}}{tag}")]


def texts(drawing):
    return ["".join(each.itertext()) for each in elements(drawing, "text")]


@pytest.mark.parametrize("width", ["wide", "narrow"])
def test_a_plot_is_named_and_labelled(width):
    drawing = getattr(drawn_plot(plot(FALLING, RISING)), width)
    assert 'role="img"' in drawing
    assert "<title" in drawing
    assert {"falling", "rising <&>", "force, N", "0 km/h"} <= set(texts(drawing))


@pytest.mark.parametrize("width", ["wide", "narrow"])
def test_labels_do_not_lie_on_each_other(width):
    lines = [Line(((0.0, k * 10.0), (100.0, k * 10.0 + 5)), f"line number {k}") for k in range(1, 9)]
    drawing = getattr(drawn_plot(plot(*lines)), width)
    places = [
        (float(each.get("x")), float(each.get("y")))
        for each in elements(drawing, "text")
        if "line" in (each.text or "")
    ]
    assert len(places) == 8
    for k, (x, y) in enumerate(places):
        for other_x, other_y in places[:k]:
            assert abs(y - other_y) >= 12 or abs(x - other_x) >= 60


def test_a_line_is_cut_at_the_edges():
    steep = Line(((0.0, -100.0), (100.0, 300.0)), "")
    drawing = drawn_plot(plot(steep)).wide
    path = next(each for each in elements(drawing, "path") if each.get("stroke-width"))
    heights = [float(y) for _, y in re.findall(r"([\d.]+) ([\d.]+)", path.get("d"))]
    height = float(ElementTree.fromstring(drawing).get("viewBox").split()[3])
    assert max(heights) <= height
    assert min(heights) >= 0


def test_a_line_that_leaves_and_returns_is_two_strokes():
    tent = Line(((0.0, 50.0), (50.0, 200.0), (100.0, 50.0)), "")
    assert len([each for each in elements(drawn_plot(plot(tent)).wide, "path") if each.get("stroke-width")]) == 2


def test_dots_have_an_area_and_a_shape():
    dots = (Dot(10.0, 20.0, 1.0), Dot(50.0, 20.0, 0.25), Dot(60.0, 100.0, 0.01, hollow=True))
    circles = elements(drawn_plot(plot(FALLING, dots=dots)).wide, "circle")
    large, middling, small = (float(each.get("r")) for each in circles)
    assert large == pytest.approx(2 * middling)
    assert 1 < small < middling
    assert [each.get("stroke") is not None for each in circles] == [False, False, True]


def test_negative_values_have_a_real_minus_and_a_zero_line():
    drawn = texts(drawn_plot(plot(FALLING, low=-12_000.0, high=12_000.0)).wide)
    assert "−10\u00a0000" in drawn
    assert "0" in drawn


def test_a_line_outside_the_plot_is_left_out():
    gone = Line(((0.0, 500.0), (100.0, 600.0)), "gone")
    assert "gone" not in texts(drawn_plot(plot(FALLING, gone)).wide)
