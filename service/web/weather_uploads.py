"""Hours of weather on the page of a year: the file's months become the typed ones, where they can be seen and changed.

Scope    a month that the file does not cover stands as a question mark: its low and high have to be typed. Humidity,
         wind and sun may stay open and are then assumed.
"""

from collections.abc import Sequence

from fastapi import Request

from service.errors import ErrorRow, ServiceError
from service.intake.form_fields import measure_of
from service.intake.number_text import in_plain_digits
from service.intake.weather_file import Month, WeatherRead, read_weather_file
from service.quotes.calendar import MONTH_NAMES
from service.reporting.track_sentences import left_out
from service.reporting.words import bound, joined
from service.units import KM_H, KWH_J
from service.web.form_files import Reading, posted_with_file, told_rows

__all__ = ["WEATHER_FILE", "WEATHER_ZONE", "posted_with_weather"]

WEATHER_FILE, WEATHER_ZONE = "weather_file", "weather_zone"  # inputs: the file, its clock
LONGEST_INPUT = 8000  # characters; a tariff's table travels along
NOT_KNOWN = "?"
READ_AS = {  # input: what of a month it is, in metric units
    "lows": lambda month: month.low_c,
    "highs": lambda month: month.high_c,
    "humidities": lambda month: month.humidity_pct,
    "winds": lambda month: None if month.wind_m_s is None else month.wind_m_s / KM_H,
    "suns": lambda month: None if month.sun_j_m2_day is None else month.sun_j_m2_day / KWH_J,
}
WORDS = {"humidities": "humidity", "winds": "wind", "suns": "sun"}


async def posted_with_weather(request: Request) -> tuple[dict[str, str], Reading]:
    """Inputs by name, with the months of the file among them; and what became of the file, if one was chosen."""
    return await posted_with_file(request, WEATHER_FILE, LONGEST_INPUT, _read)


def _read(given: dict[str, str], content: bytes) -> tuple[dict[str, str], Reading]:
    try:
        found = read_weather_file(content, given.get(WEATHER_ZONE, "").strip() or None)
    except ServiceError as error:
        first, *others = error.rows()
        name = WEATHER_ZONE if first.field == "time_zone" else WEATHER_FILE
        return given, Reading(told_rows(others), {name: ErrorRow(name, None, first.message, first.remedy)})
    system = "us" if (given.get("typed_units") or given.get("units")) == "us" else "metric"
    months = {name: _typed(name, found.months, system) for name in READ_AS}
    open_months = [MONTH_NAMES[month.month - 1] for month in found.months if month.low_c is None]
    errors = {WEATHER_FILE: _uncovered(open_months)} if open_months else {}
    return given | months | {"year_by": "typed"}, Reading(_lines(found, months), errors)


def _typed(name: str, months: Sequence[Month], system: str) -> str:
    """Twelve numbers as people type them; nothing where the file has no such column."""
    measure = measure_of(name, system)
    values = [READ_AS[name](month) for month in months]
    if all(value is None for value in values):
        return ""
    return " ".join(NOT_KNOWN if value is None else in_plain_digits(measure.shown(value), 3) for value in values)


def _uncovered(names: list[str]) -> ErrorRow:
    message = f"it holds no whole day of {joined(names)}"
    remedy = "give a file that covers more, or type what is missing in place of the question marks"
    return ErrorRow(WEATHER_FILE, None, message, remedy)


def _lines(found: WeatherRead, months: dict[str, str]) -> tuple[str, ...]:
    """How much was read, what is not in the file, what was passed over, and every bad row."""
    days = sum(month.days for month in found.months)
    lines = [f"Read: {len(found.hours.time_s)} of {found.rows_read} rows, {days} whole days."]
    missing = [words for name, words in WORDS.items() if not months[name]]
    if missing:
        lines.append(f"The file tells nothing of {joined(missing)}: usual values are assumed.")
    if months["suns"]:
        lines.append("The sun by the hour follows the latitude, which is not in the file.")
    if found.passed_over:
        lines.append(f"Not needed: {joined(found.passed_over)}.")
    told = (*lines, *left_out(found.dropped), *found.notes)
    rows = [row for row in found.errors if not row.field.startswith("month ")]  # those are said beside the input
    return (*(bound(line) for line in told), *told_rows(rows))
