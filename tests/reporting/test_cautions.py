"""What is said beside every circuit."""

from pathlib import Path

import pytest

from service.reporting.cautions import CIRCUIT_CAUTIONS, PAGE_CAUTIONS
from service.web.rendering import template_environment

SERVICE = Path(__file__).parents[2] / "service"


@pytest.mark.parametrize(
    "words",
    [
        "licensed electrician", "local code", "dedicated circuit", "No extension leads", "multi-socket", "hot",
        "High voltage: qualified people only",
    ],
)  # fmt: skip
def test_every_caution_is_there(words):
    assert any(words in line for line in CIRCUIT_CAUTIONS)


def test_the_page_shows_every_line():
    shown = template_environment().get_template("cautions.html").render()
    for line in PAGE_CAUTIONS:
        assert f"<li>{line}</li>" in shown


def test_no_limit_is_called_harmless():
    for file in ("charging/run.py", "charging/weakest.py", "reporting/cautions.py", "reporting/pilot_out.py"):
        assert " safe" not in (SERVICE / file).read_text("utf-8").lower()
