"""The command line, as a person runs it: in a process of its own."""

import json
import os
import re
import signal
import subprocess
import sys
import tempfile
import urllib.request
from pathlib import Path

import pytest

from service.web.keys import KeyHash

ROOT = Path(__file__).parents[2]
QUESTION = {"vehicle": {"id": "compact-plug-in"}, "journey": {"cycle": "udds"}, "band": False}


def environment(**extra):
    clean = {key: value for key, value in os.environ.items() if not key.startswith("RANGEWRIGHT_")}
    kept = Path(tempfile.gettempdir()) / "rangewright-tests-main" / "sheets.sqlite3"
    return clean | {"PYTHONPATH": str(ROOT), "RANGEWRIGHT_DATABASE_FILE": str(kept)} | extra


def run(*arguments, given="", **extra):
    command = [sys.executable, "-m", "service", *arguments]
    return subprocess.run(command, input=given, capture_output=True, text=True, timeout=120, env=environment(**extra))


def test_help_and_version():
    told = run("--help")
    assert told.returncode == 0
    assert "RANGEWRIGHT_HOST" in told.stdout
    assert re.fullmatch(r"rangewright \d+\.\d+\.\d+\n", run("--version").stdout)


def test_a_question_from_a_file_is_answered(tmp_path):
    file = tmp_path / "question.json"
    file.write_text(json.dumps(QUESTION), "utf-8")
    told = run("quote", str(file))
    assert (told.returncode, told.stderr) == (0, "")
    assert json.loads(told.stdout)["range_km"]["p50"] > 0


@pytest.mark.parametrize(
    ("given", "fields"),
    [
        (json.dumps(QUESTION | {"vehicle": {"id": "x"}, "payload_kg": -1}), {"vehicle.id", "payload_kg"}),
        ('{"vehicle": ', {"body"}),
        ("", {"body"}),
        ("[]", {"body"}),
        ('{"units": "us", "units": "us"}', {"body"}),
    ],
)
def test_a_bad_question_is_told_by_the_same_rows(given, fields):
    told = run("quote", "-", given=given)
    assert (told.returncode, told.stdout) == (2, "")
    rows = json.loads(told.stderr)["errors"]
    assert {row["field"] for row in rows} == fields
    assert all(set(row) == {"field", "value", "message", "remedy"} for row in rows)


def test_a_missing_file_is_told(tmp_path):
    told = run("quote", str(tmp_path / "none.json"))
    assert told.returncode == 2
    assert json.loads(told.stderr)["errors"][0]["field"] == "file"


def test_a_key_is_hashed_for_the_settings():
    told = run("hash-key", given="a-key-of-the-house-1\n")
    assert told.returncode == 0
    assert "a-key" not in told.stdout
    assert KeyHash.read(told.stdout.strip()).matches("a-key-of-the-house-1")
    for bad in ("", "short\n"):
        told = run("hash-key", given=bad)
        assert (told.returncode, told.stdout) == (2, "")
        assert json.loads(told.stderr)["errors"][0]["field"] == "RANGEWRIGHT_ACCESS_KEY"


def test_it_does_not_listen_beyond_this_machine_unguarded():
    told = run("--host", "0.0.0.0", "--port", "0")
    assert told.returncode == 2
    assert "RANGEWRIGHT_ACCESS_KEY" in json.loads(told.stderr)["errors"][0]["remedy"]


def test_a_flag_wins_over_the_environment_and_is_checked():
    told = run("--port", "x", RANGEWRIGHT_PORT="8000")
    assert told.returncode == 2
    assert json.loads(told.stderr)["errors"][0]["value"] == "x"


@pytest.mark.parametrize("workers", ["1", "2"])
def test_it_serves_says_where_and_stops_when_told(workers):
    command = [sys.executable, "-m", "service", "--port", "0", "--workers", workers]
    with subprocess.Popen(
        command, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True, env=environment()
    ) as server:
        try:
            line = server.stdout.readline()
            address = re.search(r"http://127\.0\.0\.1:\d+", line).group()
            with urllib.request.urlopen(f"{address}/healthz") as answer:
                assert json.load(answer) == {"status": "ok"}
        finally:
            server.send_signal(signal.SIGINT)
            out, err = server.communicate(timeout=30)
    assert out == ""  # one line, no more
    assert "Traceback" not in err
    assert server.returncode == 0
