"""Requests drawn at random from good ones: a JSON body, a file or a link with a few of its parts changed.

The seed is fixed.
"""

import copy
import math
import re
from datetime import datetime, timedelta
from pathlib import Path

from hypothesis import HealthCheck, Phase, assume, given, seed, settings
from hypothesis import strategies as st
from hypothesis.errors import Unsatisfiable

__all__ = ["FILES", "ODD_TEXT", "QUERIES", "TOKENS", "altered", "altered_text", "at_random", "places"]

SEED = 20_261_125
DATA = Path(__file__).parents[2] / "data"
ODD = (
    st.sampled_from([None, True, False, 0, -1, 0.0, 1e-9, 1e308, 2**63, 10**30, "", "\x00", "own", "−5", "1,5", [], {}])
    | st.floats(allow_nan=False, allow_infinity=False)
    | st.integers(0, 200)
    | st.text(max_size=8)
)
ODD_TEXT = (
    st.sampled_from(
        ["", ",", ";", '"', "\n", "\t", "\x00", "\ufeff", "nan", "1e999", "−5", "1,5", "=1+1", "&#0;", "<a>"]
    )
    | st.floats().map(str)
    | st.integers(-10, 200).map(str)
    | st.text(max_size=8)
)
QUERIES = {  # exactly one of two
    "/api/pilot": st.builds(dict, duty_pct=st.floats(0, 100)) | st.builds(dict, amps=st.floats(6, 80)),
}
TOKENS = st.text("abcXYZ019-_%é", min_size=30, max_size=34)
WORD = re.compile(r"[^\s,<>\"=]+")
SPEEDS = [0, *range(0, 50, 5), *[50] * 30, *range(50, -1, -5), 0]  # an invented drive, km/h, one a second


def _track_table() -> str:
    return "time_s,speed_km_h\n" + "".join(f"{second},{speed}\n" for second, speed in enumerate(SPEEDS))


def _gpx() -> str:
    """The same drive due north."""
    points, metres = [], 0.0
    for second, speed in enumerate(SPEEDS):
        metres += speed / 3.6
        place = f'lat="{59 + metres / 111_195:.7f}" lon="18.0"'  # metres of a degree: mean radius of the Earth, 6371 km
        points.append(
            f"<trkpt {place}><ele>30</ele><time>2026-02-03T07:{second // 60:02}:{second % 60:02}Z</time></trkpt>"
        )
    head = '<gpx version="1.1" creator="a test" xmlns="http://www.topografix.com/GPX/1/1">'
    return f'<?xml version="1.0"?>\n{head}<trk><trkseg>\n' + "\n".join(points) + "\n</trkseg></trk></gpx>"


def _weather_table() -> str:
    """An invented year, every six hours."""
    start, rows = datetime(2025, 1, 1), ["time,temperature_c,humidity_pct,wind_km_h,sun_w_m2"]
    for step in range(365 * 4):
        moment = start + timedelta(hours=6 * step)
        warmth = 10 - 15 * math.cos(2 * math.pi * step / 1460) - 4 * math.cos(math.pi * (moment.hour - 3) / 12)
        rows.append(f"{moment.isoformat()}Z,{warmth:.1f},80,18,{100 if moment.hour == 12 else 0}")
    return "\n".join(rows)


def _drive_log() -> str:
    names = "time_s,speed_km_h,pack_kw,state_of_charge_pct,outside_c\n"
    return names + "".join(f"{second},72,9,{90 - second * 0.01:.2f},-5\n" for second in range(120))


FILES = {
    "/api/tracks": [("text/csv", _track_table()), ("application/gpx+xml", _gpx())],
    "/api/weather-files": [("text/csv", _weather_table())],
    "/api/drive-logs": [("text/csv", _drive_log())],
    "/api/comparisons/routes": [("text/csv", (DATA / "demo_routes.csv").read_text("utf-8"))],
}


def at_random(strategy, count, check):
    """Run `check` on so many draws, the same ones each time."""

    @seed(SEED)
    @settings(
        max_examples=count,
        database=None,
        deadline=None,
        phases=[Phase.generate, Phase.shrink],
        suppress_health_check=list(HealthCheck),
        report_multiple_bugs=False,
    )
    @given(strategy)
    def run(drawn):
        check(drawn)

    try:
        run()
    except Unsatisfiable:  # nothing to draw: an operation without input has no wrong one
        return


@st.composite
def altered(draw, examples):
    """An example with up to three of its values changed."""
    body = copy.deepcopy(draw(st.sampled_from(examples)))
    for _ in range(draw(st.integers(0, 3))):
        holder, key = draw(st.sampled_from(places(body)))
        kind = draw(st.integers(0, 5))
        if kind == 5:
            del holder[key]
        else:
            holder[key] = draw(ODD if kind == 4 else nearby(holder[key]))
        assume(body)
    return body


@st.composite
def altered_text(draw, files):
    """A file with up to three of its words changed, and its kind."""
    kind, text = draw(st.sampled_from(files))
    for _ in range(draw(st.integers(0, 3))):
        words = list(WORD.finditer(text))
        assume(words)
        word = draw(st.sampled_from(words[:12]) | st.sampled_from(words))  # names stand first
        text = text[: word.start()] + draw(ODD_TEXT) + text[word.end() :]
    return kind, text.encode("utf-8", "surrogatepass")


def places(body):
    """Every value in it, as its holder and key."""
    found, left = [], [body]
    while left:
        holder = left.pop()
        for key in list(holder) if isinstance(holder, dict) else range(len(holder)):
            found.append((holder, key))
            if isinstance(holder[key], dict | list):
                left.append(holder[key])
    return found or [({"": None}, "")]


def nearby(value):
    """Values that may be legal in its place."""
    if isinstance(value, bool) or not isinstance(value, int | float) or abs(value) > 1e6:
        return st.just(value)
    return st.floats(value - 10, value + 10) | st.floats(-40, 40) | st.integers(0, 24)
