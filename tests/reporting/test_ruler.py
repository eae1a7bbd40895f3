"""Drawings: well-formed, named, free of style sheets, true to scale."""

import re
import xml.etree.ElementTree as ET

import pytest
from hypothesis import given
from hypothesis import strategies as st

from service.reporting.ruler import NARROW, WIDE, Label, Ruler, Segment, draw_ruler, draw_strip

SVG = "{http://www.w3.org/2000/svg}"


def ruler(low=31.0, middle=36.0, high=41.0, words="nine days in ten"):
    labels = (Label(low, f"{low:.0f} km", words), Label(middle, f"{middle:.0f} km", "half the days", "middle"))
    return Ruler("range", "Distance", "what it says", high * 1.1, low, middle, high, labels, lambda v: (f"{v:g}", ""))


@pytest.mark.parametrize("size", [WIDE, NARROW])
def test_a_ruler_is_named_and_carries_no_style_sheet(size):
    root = ET.fromstring(draw_ruler(ruler(), size))
    assert root.find(f"{SVG}title").text == "Distance"
    assert root.find(f"{SVG}desc").text == "what it says"
    assert root.get("role") == "img"
    assert not list(root.iter(f"{SVG}style"))
    assert all("style" not in element.attrib for element in root.iter())


@given(st.floats(1, 800), st.floats(1.05, 1.5), st.floats(1.05, 1.5))
def test_the_span_is_true_to_scale(low, up, further):
    middle, high = low * up, low * up * further
    root = ET.fromstring(draw_ruler(ruler(low, middle, high), WIDE))
    way, span = [box for box in root.iter(f"{SVG}rect") if box.get("fill") != "#ffffff"]
    left, width = float(span.get("x")), float(span.get("width"))
    assert width / (left + width - 1) == pytest.approx((high - low) / high, abs=0.002)  # drawn to 0.1 px
    assert float(way.get("width")) == pytest.approx(left - 1, abs=0.11)


def test_words_are_escaped():
    assert "<b>" not in draw_ruler(ruler(words="<b>&"), WIDE)


def test_a_strip_is_as_long_as_the_drawing():
    parts = [Segment("air", 30, "#000"), Segment("heat", 69, "#111"), Segment("rest", 1, "#222")]
    drawing = draw_strip("ledger", "t", "d", parts, WIDE)
    boxes = [float(width) for width in re.findall(r'<rect[^>]* width="([\d.]+)"', drawing)]
    assert sum(boxes) + 1.5 * len(boxes) == pytest.approx(WIDE.width - 2 * WIDE.margin, abs=0.5)
    assert ">heat<" in drawing
    assert ">rest<" not in drawing  # too small for a label of its own


def test_a_narrow_ruler_keeps_every_label_in_shorter_words():
    crowd = (
        Label(89.0, "89 km", "nine days in ten", "9 in 10"),
        Label(106.0, "106 km", "half the days", "half", "middle"),
        Label(121.0, "121 km", "one day in ten", "1 in 10"),
        Label(176.0, "176 km", "at 20 °C", "", "aside"),
    )
    ruler = Ruler("r", "t", "d", 185.0, 89.0, 106.0, 121.0, crowd, lambda value: (f"{value:g}", ""))
    drawing = draw_ruler(ruler, NARROW)
    assert all(label.figure in drawing for label in crowd)
