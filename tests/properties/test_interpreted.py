"""The same text, compiled and interpreted, gives the same numbers: what can be stepped through is what runs."""

import json
import os
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]


def numbers(**environment):
    done = subprocess.run(
        [sys.executable, Path(__file__).with_name("tiny_drive.py")],
        cwd=ROOT, env={**os.environ, "PYTHONPATH": str(ROOT), **environment}, capture_output=True, text=True,
        timeout=300, check=False,
    )  # fmt: skip
    assert done.returncode == 0, done.stderr
    return json.loads(done.stdout)


def test_compiled_and_interpreted_agree():
    compiled, interpreted = numbers(), numbers(NUMBA_DISABLE_JIT="1")
    assert len(compiled) == len(interpreted) == 12
    for ours, theirs in zip(compiled, interpreted, strict=True):
        assert ours == pytest.approx(theirs, rel=1e-9, abs=1e-9)
