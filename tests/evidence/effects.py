"""Published effects of temperature and speed beside 200 plausible cars of the tests' years (slow).

Method   each car is driven from full to empty on rolls in each cell, soaked to its temperature, and compared with
         itself. Range combined is 55 % city and 45 % highway; economy combined is one over the same mean of
         consumption at the battery.
Rolls    set to a car's own coefficients, so that cold tyres turn harder on them. US cold tests raise all three by a
         tenth instead (40 CFR 1066.305); the sources do not say what theirs did, so some rows stand in both ways.
Limits   the published tests use several cycles in one discharge and means of three or five cars; where a source does
         not name a condition, the row says what was taken.
"""

from functools import lru_cache

import numpy as np

from service.catalogue import load_catalogue
from service.catalogue.evidence import Check, Mark
from service.specs import Cabin, Climate, Journey, Kind, Leg, Weather
from service.units import MILE_M, MPH, celsius_from_fahrenheit, kelvin_from_celsius
from tests.evidence.checks import Source
from tests.evidence.labels import ADJUSTMENT
from tests.evidence.population import Era, drive, population

__all__ = ["battery_electric", "fast_road", "one_car", "plug_in"]

SUBJECT = "Cold and heat, 200 cars"
CLUB_2019 = Source(SUBJECT, "motoring club 2019, five cars, SAE J1634, 55/45", Mark.PUBLISHED)
CLUB_2014 = Source(SUBJECT, "motoring club 2014, three cars, city only, second-hand", Mark.PUBLISHED)
CLUB_LATER = Source(SUBJECT, "later run of the motoring club, cabin at 72 °F, second-hand", Mark.PUBLISHED)
WLTC_COLD = Source(SUBJECT, "three cars on the WLTC at −25 °C, source not at hand", Mark.MEMORY)
LABORATORY = Source(SUBJECT, "national laboratory 2013, one car, 5 kW resistive heater, second-hand", Mark.PUBLISHED)
REGIONAL = Source(SUBJECT, "Yuksel and Michalek, Environ. Sci. Technol. 2015: 70 to below 45 mi", Mark.PUBLISHED)
PLUG_IN = Source(SUBJECT, "one plug-in hybrid, second-hand", Mark.PUBLISHED)
FAST = Source("Fast road, 200 cars", "SAE 2023 paper, tests at 75 mph, second-hand", Mark.PUBLISHED)

ERA_2014 = Era({"small": 0.7, "medium": 0.3}, {"small": (16, 24), "medium": (20, 28)}, (4, 6), 0.1)
ERA_LABORATORY = Era({"small": 0.5, "medium": 0.5}, {"small": (20, 24), "medium": (20, 24)}, (5, 5), 0.0)
ERA_2019 = Era(
    {"small": 0.5, "medium": 0.25, "large": 0.25}, {"small": (28, 45), "medium": (55, 78), "large": (75, 95)},
    (4, 7), 0.25,
)  # fmt: skip
ERA_RECENT = Era(
    {"small": 0.25, "medium": 0.4, "large": 0.35}, {"small": (40, 60), "medium": (55, 82), "large": (75, 110)},
    (4, 7), 0.75,
)  # fmt: skip
ERA_PLUG_IN = Era({"small": 0.5, "medium": 0.5}, {"small": (5, 10), "medium": (7, 14)}, (4, 6), 0.0, Kind.PHEV)

SET_POINT_K = kelvin_from_celsius(celsius_from_fahrenheit(72))  # automatic climate at 72 °F
HOT_HUMIDITY = 0.4  # 40 % at 95 °F, as in the US hot test, from memory
COLDEST_C = -20.0  # coldest day of the Upper Midwest: not named in the abstract, common practice
CITY, HIGHWAY = 0.55, 0.45  # 40 CFR 600.210-12(c)
MILD_F, COLD_F, HOT_F = 75, 20, 95
ON, OFF = Climate.AUTO, Climate.OFF


def day(celsius: float, climate: Climate, humidity: float | None = None) -> tuple[Weather, Cabin]:
    """A test cell."""
    return Weather(kelvin_from_celsius(celsius), humidity), Cabin(climate=climate, set_point_k=SET_POINT_K)


CLUB_DAYS = (
    day(celsius_from_fahrenheit(MILD_F), OFF),
    day(celsius_from_fahrenheit(COLD_F), OFF),
    day(celsius_from_fahrenheit(COLD_F), ON),
    day(celsius_from_fahrenheit(HOT_F), OFF, HOT_HUMIDITY),
    day(celsius_from_fahrenheit(HOT_F), ON, HOT_HUMIDITY),
)


def driven(
    era: Era, cycle: str, days: tuple[tuple[Weather, Cabin], ...], cold_rolls: bool = False
) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """Range m, consumption to empty and over the first cycle J/m, each of shape (cars, days)."""
    catalogue = load_catalogue()
    cars = population(era, catalogue)
    pairs = [drive(car, Journey(cycle=cycle), days, catalogue, cold_rolls=cold_rolls) for car in cars]
    first, total = (np.array([pair[k] for pair in pairs]) for k in (0, 1))
    return total["distance_m"], total["cells_j"] / total["distance_m"], first["cells_j"] / first["distance_m"]


@lru_cache(maxsize=6)
def two_cycles(
    era_name: str, days: tuple[tuple[Weather, Cabin], ...], cold_rolls: bool = False
) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """Combined range m, combined consumption J/m, city range m, each of shape (cars, days)."""
    era = ERAS[era_name]
    city_m, city_j_m, _ = driven(era, "udds", days, cold_rolls)
    highway_m, highway_j_m, _ = driven(era, "hwfet", days, cold_rolls)
    return CITY * city_m + HIGHWAY * highway_m, CITY * city_j_m + HIGHWAY * highway_j_m, city_m


ERAS = {"2014": ERA_2014, "2019": ERA_2019, "recent": ERA_RECENT, "plug-in": ERA_PLUG_IN}


def change_pct(after: np.ndarray, before: np.ndarray) -> np.ndarray:
    """Of each car against itself, per cent."""
    return 100 * (after / before - 1)


def club_rows(
    source: Source, era: str, printed: dict[int, tuple[str, float, float]], cold_rolls: bool = False
) -> list[Check]:
    """Range and economy against the mild cell, by column of `CLUB_DAYS`."""
    range_m, j_m, _ = two_cycles(era, CLUB_DAYS, cold_rolls)
    rows = []
    for column, (words, on_range, on_economy) in printed.items():
        ranges = change_pct(range_m[:, column], range_m[:, 0])
        economy = change_pct(1 / j_m[:, column], 1 / j_m[:, 0])
        rows.append(source.population(f"{words}: range", on_range, ranges, "%"))
        rows.append(source.population(f"{words}: distance for each kWh", on_economy, economy, "%"))
    return rows


def battery_electric() -> list[Check]:
    """Means of several battery-electric cars."""
    club_2019 = {
        1: ("cars of 2019, 20 °F, heater off", -12.0, -9.0),
        2: ("cars of 2019, 20 °F, heater on", -41.0, -39.0),
        3: ("cars of 2019, 95 °F, cooling off", -4.0, -5.0),
        4: ("cars of 2019, 95 °F, cooling on", -17.0, -18.0),
    }
    set_cold = {
        column: (f"{words}, rolls set as in the US cold test", *changes)
        for column, (words, *changes) in club_2019.items()
        if column in (1, 2)
    }
    later = {2: ("recent cars, 20 °F, heater on", -39.0, -35.6), 4: ("recent cars, 95 °F, cooling on", -8.5, -10.4)}
    city_m = two_cycles("2014", CLUB_DAYS)[2]
    return [
        *club_rows(CLUB_2019, "2019", club_2019),
        *club_rows(CLUB_2019, "2019", set_cold, cold_rolls=True),
        CLUB_2014.population("cars of 2014, city, 75 °F: range", 105.0, city_m[:, 0] / MILE_M, "mi"),
        CLUB_2014.population(
            "cars of 2014, city, 20 °F, heater on: range", -57.0, change_pct(city_m[:, 2], city_m[:, 0]), "%"
        ),
        CLUB_2014.population(
            "cars of 2014, city, 95 °F, cooling on: range", -33.0, change_pct(city_m[:, 4], city_m[:, 0]), "%"
        ),
        *club_rows(CLUB_LATER, "recent", later),
        *very_cold(),
    ]


def very_cold() -> list[Check]:
    """−25 °C on the WLTC: the source does not say how many cycles were driven, so both ends stand here."""
    _, total_j_m, first_j_m = driven(ERA_2019, "wltc_class3b", (day(23, OFF), day(-25, ON)))
    words = "WLTC at −25 °C against 23 °C, heater on: consumption"
    return [
        WLTC_COLD.population(f"{words}, one cycle", (89.0, 143.0), change_pct(first_j_m[:, 1], first_j_m[:, 0]), "%"),
        WLTC_COLD.population(f"{words}, to empty", (89.0, 143.0), change_pct(total_j_m[:, 1], total_j_m[:, 0]), "%"),
    ]


def one_car() -> list[Check]:
    """A car like the one at the laboratory, by cycle; and the coldest day of a region."""
    cold_c = celsius_from_fahrenheit(COLD_F)
    days = (day(celsius_from_fahrenheit(72), OFF), day(cold_c, ON), day(cold_c, OFF))
    rows = []
    for cycle, printed in (("udds", 100.0), ("hwfet", 40.0), ("us06", 25.0)):
        _, j_m, _ = driven(ERA_LABORATORY, cycle, days)
        condition = f"{cycle.upper()} at 20 °F against 72 °F, heater on: consumption"
        rows.append(LABORATORY.population(condition, printed, change_pct(j_m[:, 1], j_m[:, 0]), "%"))
        if cycle == "udds":
            condition = "UDDS at 20 °F against 72 °F, heater off: consumption"
            rows.append(LABORATORY.population(condition, 10.0, change_pct(j_m[:, 2], j_m[:, 0]), "%"))
            _, j_m, _ = driven(ERA_LABORATORY, cycle, days, cold_rolls=True)
            condition += ", rolls set as in the US cold test"
            rows.append(LABORATORY.population(condition, 10.0, change_pct(j_m[:, 2], j_m[:, 0]), "%"))
    range_m, _, _ = two_cycles("2014", (day(20, OFF), day(COLDEST_C, ON)))
    condition = "coldest day, taken as −20 °C against 20 °C, heater on: range"
    below = round(100 * (45 / 70 - 1), 1)
    rows.append(REGIONAL.population(condition, (None, below), change_pct(range_m[:, 1], range_m[:, 0]), "%"))
    return rows


def plug_in() -> list[Check]:
    """Electric range of plug-in hybrids with an electric heater."""
    range_m, _, _ = two_cycles("plug-in", (day(23, OFF), day(-7, ON)))
    condition = "plug-in hybrids, −7 °C against 23 °C, electric heater on: electric range"
    return [PLUG_IN.population(condition, -25.0, change_pct(range_m[:, 1], range_m[:, 0]), "%")]


def fast_road() -> list[Check]:
    """Steady 75 mph on a mild day over the range that two cycles and the adjustment give."""
    catalogue = load_catalogue()
    label_m = two_cycles("recent", CLUB_DAYS)[0][:, 0] * ADJUSTMENT
    journey = Journey(legs=(Leg(100 * MILE_M, 75 * MPH),))
    cars = population(ERA_RECENT, catalogue)
    mild = (day(20, ON),)
    road_m = np.array([float(drive(car, journey, mild, catalogue, rolls=False)[1].distance_m[0]) for car in cars])
    condition = "75 mph, 20 °C and usual wind taken, against 0.7 of two cycles: range"
    return [FAST.population(condition, -12.5, change_pct(road_m, label_m), "%")]
