"""What README.md shows is what happens: the commands, the question and its answer."""

import json
import re
import subprocess
import sys
import tomllib
from pathlib import Path

import pytest

from service.catalogue import load_catalogue
from service.intake.quote import read_request
from service.quotes.build import build_quote
from service.reporting.answers import QuoteOut

ROOT = Path(__file__).parent.parent
README = (ROOT / "README.md").read_text("utf-8")


def same(shown, real, path=""):
    """Every shown number equals the real one to the digits shown."""
    if isinstance(shown, dict):
        for key, value in shown.items():
            same(value, real[key], f"{path}.{key}")
    elif isinstance(shown, float):
        digits = len(repr(shown).partition(".")[2])
        assert real == pytest.approx(shown, abs=0.5000001 * 10**-digits), path
    else:
        assert real == shown, path


def test_the_shown_answer_is_the_real_one():
    question = json.loads(re.search(r"--json '(\{.*?\})'", README, re.DOTALL).group(1))
    shown = json.loads(re.search(r"shortened:\n\n(.*?)\n\n", README, re.DOTALL).group(1))
    catalogue = load_catalogue()
    quote = build_quote(read_request(question, catalogue).ask(catalogue), catalogue)
    same(shown, json.loads(QuoteOut.from_quote(quote).model_dump_json()))


def test_the_commands_name_what_exists():
    project = tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))["project"]
    assert 'pip install -e ".[test]"' in README
    assert "test" in project["optional-dependencies"]
    assert ".venv/bin/python -m service\n" in README
    shown = subprocess.run([sys.executable, "-m", "service", "--help"], capture_output=True, text=True, cwd=ROOT)
    assert shown.returncode == 0
    assert "quote" in shown.stdout


def test_ci_runs_the_test_command_shown():
    pattern = re.search(r"s/(\^.*)\$/", (ROOT / ".ci/run").read_text("utf-8")).group(1)
    pattern = pattern.replace(r"\(", "(").replace(r"\)", ")") + "$"
    (command,) = re.findall(pattern, README, re.MULTILINE)
    assert command.endswith(".venv/bin/python -m pytest")
