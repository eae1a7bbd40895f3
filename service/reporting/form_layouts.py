"""The forms of the other pages: groups of the first page where they ask the same, and their own beside them."""

from service.reporting.form_layout import LAYOUT, RECORDING, Block, Input

__all__ = [
    "CHARGING_CHOICES",
    "CHARGING_LAYOUT",
    "COMPLAINT_CHOICES",
    "COMPLAINT_LAYOUT",
    "ENVELOPE_CHOICES",
    "ENVELOPE_LAYOUT",
    "PLAN_LAYOUT",
    "ROUTES_LAYOUT",
    "SPEEDS_LAYOUT",
    "names_in",
]

GROUPS = dict(LAYOUT)
OWN_CAR = GROUPS["Car"][1:]
REST_OF_DAY = Block(
    (
        Input("wind", "Wind, as forecast"),
        Input("humidity", "Humidity"),
        Input("sun", "Sunshine on the ground"),
        Input("altitude", "Altitude", signed=True),
    ),
    title="The rest of the day",
)

ROUTES_LAYOUT = (
    (
        "Routes",
        (
            Block(
                (
                    Input(
                        "table",
                        "The table: a row a leg",
                        kind="area",
                        hint="Rows of one name make a route. US: distance_mi, speed_mph, stops_per_mi, payload_lb.",
                    ),
                    Input("file", "Or a file: CSV or .xlsx", kind="file"),
                    Input("reserve", "Kept in reserve"),
                    Input("between_trips", "Charged between trips"),
                )
            ),
        ),
    ),
    (
        "Vehicles",
        (
            Block((Input("vehicles", "Which vehicles", kind="ticks"),)),
            *(
                Block(
                    block.inputs,
                    block.title,
                    ("vehicles", ("own",)) if block.open_when[0] == "vehicle" else block.open_when,
                )
                for block in OWN_CAR
            ),
        ),
    ),
    (
        "Months",
        (
            Block((Input("months_by", "Given by"), Input("place", "Place"), Input("surface", "Road"))),
            Block(
                (
                    Input("cold", "Cold", signed=True),
                    Input("mild", "Mild", signed=True),
                    Input("hot", "Hot", signed=True),
                    *REST_OF_DAY.inputs,
                ),
                title="Three temperatures, in place of a place",
                open_when=("months_by", ("temperatures",)),
            ),
        ),
    ),
    ("Cabin", GROUPS["Cabin"]),
    ("Start", GROUPS["Start"]),
    ("Depot", (Block((Input("circuit", "Each plugged into"),)), *GROUPS["Socket"][1:])),
    ("Units", GROUPS["Units"]),
)

COMPLAINT_LAYOUT = (
    (
        "Complaint",
        (
            Block(
                (
                    Input("words", "In the customer’s words", kind="area", hint="no names needed"),
                    Input("reported", "Distance reached"),
                    Input("end_charge", "Charge left then"),
                )
            ),
        ),
    ),
    ("Car", GROUPS["Car"]),
    ("Journey", (*GROUPS["Journey"][:-2], RECORDING)),
    (
        "Day",
        (Block((Input("temperature", "Outside", signed=True), Input("surface", "Road"))), REST_OF_DAY),
    ),
    ("Cabin", GROUPS["Cabin"]),
    (
        "Start",
        (
            Block(
                (
                    Input("charge", "Charge at the start"),
                    Input("parked", "Parked before"),
                    Input("in_sun", "Stood in the sun"),
                    Input("preconditioned", "Cabin readied while plugged in"),
                )
            ),
        ),
    ),
    (
        "Condition",
        (
            Block(
                (
                    Input("tyre_pressure", "Tyre pressure, cold", hint="100 kPa is 1 bar; as it was on the drive"),
                    Input("placard_pressure", "On the placard"),
                    Input("odometer", "Odometer"),
                    Input("health", "Measured capacity against new"),
                )
            ),
        ),
    ),
    ("Units", GROUPS["Units"]),
)
SPEEDS_LAYOUT = (
    ("Car", GROUPS["Car"]),
    ("Cabin", GROUPS["Cabin"]),
    ("Day", (Block((Input("surface", "Road"), *REST_OF_DAY.inputs)),)),
    (
        "Trips",
        (
            Block(
                (
                    Input("trip_speed", "Cruising speed"),
                    Input("trip_stops", "Stops", hint="the one at the end of the trip counts"),
                )
            ),
        ),
    ),
    ("Start", GROUPS["Start"]),
    ("Units", GROUPS["Units"]),
)
GEAR = Block(
    (
        Input("own_layout", "Motors and engine"),
        Input("own_sun", "Sun"),
        Input("own_ring", "Ring"),
        Input("own_final_drive", "Final drive"),
        Input("own_wheel_radius", "Tyre radius"),
        Input("own_generator_rpm", "Generator motor at most"),
        Input("own_generator_nm", "Its torque"),
        Input("own_clutch", "One-way clutch on the engine"),
    ),
    title="Its layout and planetary gear",
)

ENVELOPE_LAYOUT = (
    ("Car", (*GROUPS["Car"][:-1], GEAR, GROUPS["Car"][-1])),
    ("Journey", GROUPS["Journey"][:-1]),
    *((title, GROUPS[title]) for title in ("Day", "Cabin", "Start")),
    ("Socket", (Block((Input("circuit", "Plugged into"),)), *GROUPS["Socket"][1:])),
    ("Units", GROUPS["Units"]),
)
PLAN_LAYOUT = (
    ("Car", (Block((Input("vehicle", "Which car"),)), *OWN_CAR[:-1])),
    (
        "Charge",
        (
            Block(
                (
                    Input("charge_from", "Charged when plugged in"),
                    Input("charge_to", "Charged when leaving"),
                    Input("health", "Battery capacity against new"),
                )
            ),
        ),
    ),
    (
        "Night",
        (
            Block(
                (
                    Input("arrives", "Plugged in", signed=True, hint="year-month-day hour:minute"),
                    Input("departs", "Leaves", signed=True, hint="on the tariff’s clock"),
                    Input("temperature", "Outside", signed=True),
                    Input("preconditioned", "Cabin readied while plugged in"),
                )
            ),
        ),
    ),
    ("Socket", (Block((Input("circuit", "Plugged into"),)), *GROUPS["Socket"][1:])),
    (
        "Tariff",
        (
            Block((Input("tariff", "Which tariff"),)),
            Block(
                (
                    Input(
                        "tariff_table",
                        "Its periods: a row each",
                        kind="area",
                        hint="days: weekday, weekend, holiday; months and days left empty mean all",
                    ),
                    Input("tariff_zone", "Time zone", signed=True),
                    Input("tariff_currency", "Currency", signed=True),
                    Input("tariff_demand", "Demand charge"),
                    Input("tariff_daily", "Fixed charge"),
                    Input("tariff_holidays", "Holidays", signed=True, hint="12-25 or 2026-12-25, spaces between"),
                ),
                title="A tariff of your own",
                open_when=("tariff", ("own",)),
            ),
            Block(
                (
                    Input("month_kwh", "Used this month so far"),
                    Input("month_peak", "Highest quarter of an hour so far"),
                ),
                title="This month’s bill so far",
            ),
        ),
    ),
    ("Units", GROUPS["Units"]),
)
NOT_KNOWN = ("", "not known")
ENVELOPE_CHOICES = {
    "own_layout": (
        NOT_KNOWN,
        ("single_motor", "one motor, no engine"),
        ("power_split", "power split by a planetary gear"),
        ("parallel", "motor and engine on one shaft"),
        ("series", "engine for generating only"),
    ),
    "own_clutch": (NOT_KNOWN, ("yes", "yes"), ("no", "no")),
}
CHARGING_LAYOUT = (
    ("Car", (Block((Input("vehicle", "Which car"),)), *GROUPS["Car"][1:-1])),
    (
        "Charge",
        (
            Block(
                (
                    Input("from_pct", "From"),
                    Input("to_pct", "To"),
                    Input("health", "Battery capacity against new"),
                )
            ),
        ),
    ),
    (
        "Day",
        (
            Block(
                (
                    Input("temperature", "Outside", signed=True),
                    Input("pack_temperature", "Battery", signed=True, hint="empty: as cold or warm as the air"),
                )
            ),
        ),
    ),
    (
        "Socket",
        (
            Block((Input("current_kind", "Charged by"), *GROUPS["Socket"][0].inputs)),
            *GROUPS["Socket"][1:],
            Block(
                (Input("station_kw", "Most power"), Input("station_amps", "Most current")),
                title="A direct-current station",
                open_when=("current_kind", ("dc",)),
            ),
            Block(
                (
                    Input("run_length", "Cable up to the plug"),
                    Input("run_section", "Its section"),
                    Input("run_gauge", "Or its gauge", hint="0 is 1/0"),
                    Input("pilot_amps", "Unit set to"),
                    Input("phases_live", "Phases with current"),
                ),
                title="A long cable, a unit set lower, a phase missing",
            ),
        ),
    ),
    ("Units", GROUPS["Units"]),
)
CHARGING_CHOICES = {
    "current_kind": (("ac", "its own charger, on a circuit"), ("dc", "a direct-current station")),
    "phases_live": (("", "all of them"), ("1", "1"), ("2", "2")),
}
COMPLAINT_CHOICES = {
    "parked": (
        NOT_KNOWN,
        ("outside", "outside"),
        ("garage", "in an unheated garage"),
        ("warm", "driven shortly before"),
    ),
    "climate": (NOT_KNOWN, ("auto", "on"), ("off", "off")),
    "preconditioned": (NOT_KNOWN, ("yes", "yes"), ("no", "no")),
}


def names_in(layout: tuple[tuple[str, tuple[Block, ...]], ...]) -> frozenset[str]:
    """Every input of a form."""
    return frozenset(each.name for _, blocks in layout for block in blocks for each in block.inputs)
