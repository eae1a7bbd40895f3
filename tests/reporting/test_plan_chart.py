"""The plan's drawing: blocks, steps and a clock whose words never lie over each other."""

import re
from itertools import pairwise

from service.reporting.charts import text_width_px
from service.reporting.plan_chart import Block, PlanPicture, Step, Tick, drawn_plan
from service.reporting.ruler import NARROW, WIDE


def picture(**changes):
    parts = {
        "title": "t",
        "description": "d",
        "blocks": (Block(0.2, 0.3, 2.3), Block(0.3, 0.5, 2.3), Block(0.9, 1.0, 1.1, True)),
        "steps": (Step(0, 0.4, 0.36, "0.36 EUR"), Step(0.4, 1, 0.22, "0.22 EUR")),
        "ticks": tuple(Tick(k / 24, f"{k:02d}:00", 0 if k % 12 == 0 else 3) for k in range(25)),
        "power_words": "Power",
        "price_words": "Price",
    }
    return drawn_plan(PlanPicture(**(parts | changes)))


def places(drawing, size):
    texts = re.findall(r'<text x="([\d.]+)" y="([\d.]+)"[^>]*>(\d\d:00)<', drawing)
    return sorted((float(x), text_width_px(words, size.words)) for x, _, words in texts)


def test_hours_never_lie_over_each_other():
    for drawing, size in ((picture().wide, WIDE), (picture().narrow, NARROW)):
        found = places(drawing, size)
        assert len(found) >= 3
        for (x, width), (other, next_width) in pairwise(found):
            assert x + width / 2 <= other - next_width / 2


def test_blocks_that_meet_are_one_shape_and_readying_another():
    assert len(re.findall(r'<path [^>]*fill="#', picture().wide)) == 2
    assert "<path" in picture(blocks=()).wide  # the price is drawn though nothing is charged


def test_free_electricity_is_drawn_at_the_foot():
    assert "0.00" in picture(steps=(Step(0, 1, 0.0, "0.00 EUR"),)).wide
