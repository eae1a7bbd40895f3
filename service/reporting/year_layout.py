"""The form of a year: groups of the first page where they ask the same, and the commuter's own."""

from service.reporting.form_layout import LAYOUT, YES_NO, Block, Input
from service.reporting.words import Units, clock

__all__ = ["DAYS_A_WEEK", "YEAR_LAYOUT", "year_choices"]

GROUPS = dict(LAYOUT)
HOURS = range(24)

YEAR_LAYOUT = (
    ("Car", GROUPS["Car"]),
    ("Journey", (Block((Input("journey", "Given as", hint="one way; back the same road"),)), *GROUPS["Journey"][1:-2])),
    (
        "Days",
        (
            Block(
                (
                    Input("leaves_home", "Leaves home at"),
                    Input("leaves_work", "Leaves work at"),
                    Input("days_a_week", "Driving days"),
                    Input("weeks", "Weeks a year", hint="less holidays and leave"),
                )
            ),
        ),
    ),
    (
        "Place",
        (
            Block((Input("year_by", "Months by"), Input("place", "Place"), Input("surface", "Road"))),
            Block(
                (
                    Input("lows", "Usual low of each month", signed=True, kind="area", hint="twelve, January first"),
                    Input("highs", "Usual high of each month", signed=True, kind="area", hint="twelve, spaces between"),
                    Input("humidities", "Humidity of each month", kind="area", hint="or empty; ? where not known"),
                    Input("winds", "Wind of each month", kind="area", hint="at about 10 m; or empty, or ?"),
                    Input("suns", "Sun of a day in each month", kind="area", hint="on level ground; or empty, or ?"),
                    Input("latitude", "Latitude, north", signed=True),
                ),
                title="Months typed, in place of a place",
                open_when=("year_by", ("typed",)),
            ),
            Block(
                (
                    Input(
                        "weather_file",
                        "CSV or .xlsx",
                        kind="weather",
                        hint="a row an hour: time, temperature; humidity, wind, sun if known",
                    ),
                    Input(
                        "weather_zone",
                        "Its clock’s time zone",
                        signed=True,
                        hint="such as Europe/Berlin; its days are counted by it",
                    ),
                ),
                title="Months from a weather file",
            ),
        ),
    ),
    ("Cabin", GROUPS["Cabin"]),
    (
        "Night",
        (
            Block(
                (
                    Input("overnight", "Parked at night"),
                    Input("preconditioned", "Cabin readied while plugged in"),
                    Input("charge", "Charge at the start"),
                    Input("health", "Battery capacity against new"),
                    Input("circuit", "Plugged into"),
                )
            ),
            *GROUPS["Socket"][1:],
        ),
    ),
    ("Work", (Block((Input("work_charging", "Charged at work"), Input("work_circuit", "Plugged in there to"))),)),
    (
        "Prices",
        (
            Block(
                (
                    Input("currency", "Currency", signed=True),
                    Input("electricity_price", "Electricity"),
                    Input("work_price", "Electricity at work"),
                    Input("fuel_price", "Fuel"),
                )
            ),
            Block(
                (
                    Input("fuel_use", "The engine takes"),
                    Input("grid", "CO\u2082 of electricity"),
                    Input("fuel_co2", "CO\u2082 of fuel"),
                ),
                title="What the engine takes, and what is given off",
            ),
        ),
    ),
    ("Units", GROUPS["Units"]),
)
DAYS_A_WEEK = (
    ("5", "Monday to Friday"),
    ("4", "4 a week"),
    ("3", "3 a week"),
    ("2", "2 a week"),
    ("1", "1 a week"),
    ("6", "6 a week"),
    ("7", "every day"),
)


def year_choices(units: Units, typed_hours: tuple[str, str] = ("", "")) -> dict[str, tuple[tuple[str, str], ...]]:
    """Lists that only this form has; hours as the reader's clock tells them.

    Args:
        typed_hours: of leaving home and work; one that lies between two of the list is added to it.
    """
    return {
        "leaves_home": _hours(units, typed_hours[0]),
        "leaves_work": _hours(units, typed_hours[1]),
        "days_a_week": DAYS_A_WEEK,
        "overnight": (("outside", "outside"), ("garage", "in an unheated garage")),
        "work_charging": YES_NO,
        "year_by": (("place", "a place"), ("typed", "months as typed below")),
    }


def _hours(units: Units, typed: str) -> tuple[tuple[str, str], ...]:
    """Whole hours, and what was typed, in its place."""
    listed = {f"{hour:g}": clock(hour, units) for hour in HOURS}
    try:
        every = listed if typed in listed else listed | {typed: clock(float(typed), units)}
        return tuple(sorted(every.items(), key=lambda each: float(each[0])))
    except (ValueError, OverflowError):  # no hour: the form says so beside the list
        return tuple(listed.items())
