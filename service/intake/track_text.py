"""A track as a short text, so that a page can hold it between two answers and nothing has to be kept here.

Form     "1." and three parts with dots between them, written in 64 characters that need no escaping: steps (one
         character for whole seconds, two for speed in 0.02 m/s), then grade in 0.01 % and heading in degrees by runs of
         steps (two characters each). Steps without change are joined up to ten seconds before.
Bounds   `LONGEST` characters, about two hours; a longer drive does not fit a page of 100 kB.
"""

import math
import string
from itertools import groupby

import numpy as np

from service.errors import BadInput
from service.specs import Track
from service.trips.trace import LONGEST_STEP_S
from service.trips.track import track_trace

__all__ = ["LONGEST", "packed", "unpacked"]

LONGEST = 32_000  # characters; the longest page around it is 67 kB
DIGITS = string.digits + string.ascii_letters + "-_"
VALUES = {digit: value for value, digit in enumerate(DIGITS)}
SPEED_M_S, GRADE, NOT_KNOWN = 0.02, 1e-4, 4095  # one unit of each; of headings
MIDDLE = 2048  # of grades: level
FIRST = "1"  # what this form is called, so that another may follow


def packed(track: Track) -> str:
    """The text; raises BadInput for a track that is too long for a page.

    >>> unpacked(packed(Track((0.0, 1.0, 2.0), (0.0, 2.0, 2.0)))).speed_m_s
    (0.0, 2.0, 2.0, 1.0, 0.0)
    """
    trace = track_trace(track)
    second = np.maximum(np.round(np.cumsum(trace.step_s)), 1)
    keep = np.concatenate([np.diff(second) > 0, [True]])  # one knot a second
    speeds, grades, headings = trace.speed_m_s[1:][keep], trace.grade[keep], trace.heading_rad[keep]
    whole_s = np.diff(np.concatenate([[0.0], second[keep]]))
    steps, runs, before, level = [], [], 0.0, False
    for seconds, speed, grade, heading in zip(whole_s, speeds, grades, headings, strict=True):
        road = (_grade(grade), _heading(heading))
        if level and before == speed and runs[-1] == road and steps[-1][0] + seconds <= LONGEST_STEP_S:
            steps[-1] = (steps[-1][0] + seconds, speed)
        else:
            steps.append((seconds, speed))
            runs.append(road)
        before, level = speed, before == speed
    pace = "".join(DIGITS[min(int(seconds), 63)] + _two(round(speed / SPEED_M_S)) for seconds, speed in steps)
    parts = (FIRST, pace, _in_runs([grade for grade, _ in runs]), _in_runs([heading for _, heading in runs]))
    text = ".".join(parts)
    if len(text) > LONGEST:
        hours = second[-1] / 3600
        message = f"the drive of {hours:.1f} h is too long for a page to hold"
        raise BadInput("track", None, message, "cut the recording, or ask with POST /api/tracks and /api/quotes")
    return text


def unpacked(text: str) -> Track:
    """The track, a knot a step; raises BadInput for anything else than what `packed` gives."""
    try:
        form, pace, grades, headings = text.split(".")
        if form != FIRST or len(text) > LONGEST or not pace or len(pace) % 3:
            raise ValueError
        seconds = [VALUES[digit] for digit in pace[::3]]
        speeds = [_of_two(pace[at + 1 : at + 3]) * SPEED_M_S for at in range(0, len(pace), 3)]
        grade = [(value - MIDDLE) * GRADE for value in _from_runs(grades, len(seconds))]
        heading = [
            math.nan if value == NOT_KNOWN else math.radians(value) for value in _from_runs(headings, len(seconds))
        ]
        if not all(seconds):
            raise ValueError
    except (ValueError, KeyError):
        raise BadInput(
            "track", None, "the recording that the page held cannot be read", "choose its file again"
        ) from None
    time_s = np.concatenate([[0.0], np.cumsum(seconds)]).tolist()
    return Track(tuple(time_s), (0.0, *(round(speed, 4) for speed in speeds)), tuple(grade), tuple(heading))


def _grade(grade: float) -> int:
    return int(np.clip(round(grade / GRADE) + MIDDLE, 0, 4095))


def _heading(heading_rad: float) -> int:
    return NOT_KNOWN if math.isnan(heading_rad) else round(math.degrees(heading_rad)) % 360


def _two(value: int) -> str:
    value = min(max(value, 0), 4095)
    return DIGITS[value // 64] + DIGITS[value % 64]


def _of_two(text: str) -> int:
    return VALUES[text[0]] * 64 + VALUES[text[1]]


def _in_runs(values: list[int]) -> str:
    """Length and value of each run, runs of more than 4095 in pieces."""
    text = ""
    for value, run in groupby(values):
        length = len(list(run))
        while length > 0:
            text += _two(min(length, 4095)) + _two(value)
            length -= 4095
    return text


def _from_runs(text: str, count: int) -> list[int]:
    if len(text) % 4:
        raise ValueError
    values: list[int] = []
    for at in range(0, len(text), 4):
        values += [_of_two(text[at + 2 : at + 4])] * _of_two(text[at : at + 2])
        if len(values) > count:
            raise ValueError
    if len(values) != count:
        raise ValueError
    return values
