"""Which inputs the form has, in which order and groups, and the choices that no table holds."""

from dataclasses import dataclass

__all__ = ["CHOICES", "LAYOUT", "RECORDING", "Block", "Input"]


@dataclass(frozen=True, slots=True)
class Input:
    """One input of the layout. An input with an entry in `choices` is a list to choose from."""

    name: str
    label: str
    signed: bool = False  # minus may be typed: no digits-only keyboard
    hint: str = ""
    kind: str = ""  # area, ticks (several of a list), file, recording or weather; else a line of text or a list


@dataclass(frozen=True, slots=True)
class Block:
    """Inputs that stand together; with a title they are folded away until asked for."""

    inputs: tuple[Input, ...]
    title: str = ""
    open_when: tuple[str, tuple[str, ...]] = ("", ())  # input, and values of it that unfold these


def _leg(number: int) -> Block:
    ordinal = ("First", "Second", "Third")[number - 1]
    return Block(
        (
            Input(f"leg{number}_distance", f"{ordinal} stretch"),
            Input(f"leg{number}_speed", "Cruising speed"),
            Input(f"leg{number}_stops", "Stops"),
            Input(f"leg{number}_grade", "Slope", signed=True),
        )
    )


OUTFIT = Block(
    (
        Input("winter_tyres", "Winter tyres"),
        Input("tyre_class", "Class on the tyre label"),
        Input("tyres_set_at", "Tyres last set when it was", signed=True),
        Input("roof_box", "Roof box"),
        Input("trailer", "Trailer, laden"),
        Input("body_load", "Cooler or tools on the battery"),
        Input("doors", "Doors opened"),
    ),
    title="Tyres, roof box, trailer, van body",
)

RECORDING = Block(
    (
        Input(
            "track_file",
            "GPX, CSV or .xlsx",
            kind="recording",
            hint="a table: time, lat, lon, elevation; or time, speed",
        ),
        Input("track_zone", "Its clock’s time zone", signed=True, hint="such as Europe/Berlin, if its times name none"),
    ),
    title="A recording of the drive",
    open_when=("journey", ("track",)),
)

LAYOUT: tuple[tuple[str, tuple[Block, ...]], ...] = (
    (
        "Car",
        (
            Block((Input("vehicle", "Which car"), Input("payload", "Load besides the people"))),
            Block(
                (
                    Input("own_name", "Name"),
                    Input("own_road_load", "Known by"),
                    Input("own_kind", "Kind"),
                    Input("own_label", "Label of"),
                    Input("own_consumption", "Consumption, combined"),
                    Input("own_range", "Range on the label"),
                    Input("own_electric", "Range before the engine starts", hint="plug-in hybrids"),
                    Input("own_usable", "Battery, usable", hint="empty: found from consumption and range"),
                    Input("own_size", "Size of car"),
                    Input("own_mass", "Mass", hint="empty: usual for the size"),
                    Input("own_mass_basis", "Mass is"),
                    Input("own_charger", "Onboard charger"),
                    Input("own_hours", "Time to recharge"),
                    Input("own_heating", "Cabin heat comes from"),
                    Input("own_motor", "Electric motor"),
                    Input("own_chemistry", "Cells"),
                ),
                title="A car of your own, from the label",
                open_when=("vehicle", ("own",)),
            ),
            Block(
                (
                    Input("own_city", "City", hint="US labels; in place of combined"),
                    Input("own_highway", "Highway"),
                    Input("own_low", "Low", hint="phases of a WLTP label, beside combined"),
                    Input("own_medium", "Medium"),
                    Input("own_high", "High"),
                    Input("own_extra_high", "Extra high"),
                    Input("own_basis", "Consumption metered at"),
                    Input("own_adjustment", "Label over test distance", hint="US: 0.7 unless known"),
                ),
                title="More that a label may say",
            ),
            Block(
                (
                    Input("own_cd_a", "Drag area"),
                    Input("own_crr", "Rolling resistance"),
                    Input("own_f0", "f0"),
                    Input("own_f1", "f1"),
                    Input("own_f2", "f2"),
                    Input("own_a", "A"),
                    Input("own_b", "B"),
                    Input("own_c", "C"),
                ),
                title="Road load, where there is no label",
                open_when=("own_road_load", ("parts", "newton", "pound_force")),
            ),
            OUTFIT,
        ),
    ),
    (
        "Journey",
        (
            Block((Input("journey", "Given as"), Input("round_trip", "And back the same way"))),
            _leg(1),
            _leg(2),
            _leg(3),
            Block(
                (Input("procedure", "Driven on"),), title="Test laboratories", open_when=("procedure", ("dynamometer",))
            ),
            RECORDING,
        ),
    ),
    (
        "Day",
        (
            Block(
                (
                    Input("temperature", "Outside", signed=True),
                    Input("surface", "Road"),
                    Input("wind", "Wind, as forecast"),
                    Input("wind_from", "Wind comes from"),
                    Input("humidity", "Humidity"),
                    Input("sun", "Sunshine on the ground"),
                    Input("altitude", "Altitude", signed=True),
                )
            ),
            Block(
                (
                    Input("clock_month", "Month"),
                    Input("clock_hour", "Hour of the day"),
                    Input("clock_latitude", "Latitude", signed=True),
                ),
                title="Sun by season and hour",
            ),
        ),
    ),
    (
        "Cabin",
        (
            Block(
                (
                    Input("climate", "Heating and cooling"),
                    Input("set_point", "Kept at"),
                    Input("occupants", "People"),
                    Input("seat_heat", "Seats and wheel heated"),
                    Input("cabin_air", "Air"),
                )
            ),
        ),
    ),
    (
        "Start",
        (
            Block(
                (
                    Input("charge", "Charge at the start"),
                    Input("soaked", "Parked overnight outside"),
                    Input("in_sun", "Stood in the sun"),
                    Input("preconditioned", "Cabin readied while plugged in"),
                    Input("health", "Battery capacity against new"),
                )
            ),
        ),
    ),
    (
        "Socket",
        (
            Block((Input("circuit", "Plugged into"), Input("plug_in_hour", "Plugged in at"))),
            Block(
                (
                    Input("circuit_volts", "Voltage"),
                    Input("circuit_amps", "Continuous current"),
                    Input("circuit_phases", "Phases"),
                ),
                title="A circuit of your own",
                open_when=("circuit", ("own",)),
            ),
        ),
    ),
    ("Engine", (Block((Input("drive_mode", "Driven in"), Input("defrost", "Windscreen heat on"))),)),
    (
        "Prices",
        (
            Block(
                (
                    Input("currency", "Currency", signed=True),
                    Input("electricity_price", "Electricity"),
                    Input("fuel_price", "Fuel"),
                )
            ),
        ),
    ),
    ("Units", (Block((Input("units", "Shown in"),)),)),
)
YES_NO = (("yes", "yes"), ("no", "no"))
CHOICES: dict[str, tuple[tuple[str, str], ...]] = {  # those that no table holds
    "round_trip": YES_NO,
    "winter_tyres": YES_NO,
    "roof_box": YES_NO,
    "wind_from": (
        ("", "any direction"),
        ("0", "ahead on the way out"),
        ("90", "the side"),
        ("180", "behind on the way out"),
    ),
    "soaked": YES_NO,
    "in_sun": YES_NO,
    "preconditioned": YES_NO,
    "climate": (("auto", "on"), ("off", "off")),
    "seat_heat": YES_NO,
    "drive_mode": (
        ("electric_priority", "electric-priority mode"),
        ("charge_hold", "charge-hold mode"),
        ("charge_while_driving", "charge-while-driving mode"),
    ),
    "defrost": YES_NO,
    "cabin_air": (("auto", "automatic"), ("fresh", "from outside"), ("recirculate", "recirculated")),
    "procedure": (("road", "the open road"), ("dynamometer", "rolls in a test cell")),
    "own_kind": (("bev", "battery-electric"), ("phev", "plug-in hybrid"), ("hybrid", "hybrid without a plug")),
    "own_mass_basis": (("kerb", "without driver"), ("running_order", "with driver"), ("test", "as tested")),
    "own_chemistry": (("", "not known"), ("nmc", "NMC"), ("nca", "NCA"), ("lfp", "LFP")),
    "own_heating": (
        ("", "not known"),
        ("heat_pump", "a heat pump"),
        ("resistive", "an electric heater"),
        ("engine", "the engine only"),
    ),
    "own_label": (("us", "United States"), ("wltp", "Europe (WLTP)")),
    "own_basis": (("socket", "the socket"), ("battery", "the battery")),
    "own_size": (
        *(("", "not known"), ("small", "small"), ("medium", "mid-size"), ("large", "large")),
        *(("pickup", "pickup"), ("van", "van")),
    ),
    "own_road_load": (
        ("label", "its label or brochure"),
        ("parts", "drag area and tyres"),
        ("newton", "f0, f1, f2"),
        ("pound_force", "A, B, C"),
    ),
    "circuit_phases": (("1", "1"), ("2", "2"), ("3", "3")),
    "between_trips": YES_NO,
    "months_by": (("place", "the months of a place"), ("temperatures", "three temperatures")),
    "units": (("metric", "kilometres, °C"), ("us", "miles, °F")),
}
