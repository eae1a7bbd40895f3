"""What a comparison says in plain sentences, for someone who plans routes. Every number goes through `words`.

Words    "fails": not even the usual day fits on one charge; "tight": the usual day does, nine days in ten do not;
         "passes": nine days in ten do.
"""

from collections import Counter
from collections.abc import Mapping, Sequence

from service.fleet.answer import Cell, Comparison, FleetVehicle, Verdict
from service.reporting.words import SMALL_NUMBERS, Units, bound, distance, duration, energy, joined, temperature
from service.specs import Place

__all__ = [
    "VERDICT_WORDS",
    "by_figure",
    "fuel_for_heat",
    "headline",
    "margin_words",
    "night",
    "second",
    "shortened",
    "when",
]

ORDER = (Verdict.FAIL, Verdict.MARGIN, Verdict.PASS)
VERDICT_WORDS = {Verdict.FAIL: "fails", Verdict.MARGIN: "tight", Verdict.PASS: "passes"}
MOST_TOLD = 3  # vehicles that the second sentence speaks of


def worst_month(comparison: Comparison) -> str:
    """The month with most failing cells, then most tight ones, then the least left over."""
    cells: dict[str, list[Cell]] = {month.name: [] for month in comparison.ask.months}
    for cell in comparison.cells:
        cells[cell.month].append(cell)

    def badness(name: str) -> tuple[int, int, float]:
        verdicts = Counter(cell.verdict for cell in cells[name])
        left_m = sum(cell.low_m - cell.needed_m for cell in cells[name])
        return verdicts[Verdict.FAIL], verdicts[Verdict.MARGIN], -left_m

    return max(cells, key=badness)


def when(name: str, comparison: Comparison, units: Units) -> str:
    """A month of a place by its name; any other day by its temperature, too."""
    if comparison.ask.place:
        return f"In {name}"
    month = next(each for each in comparison.ask.months if each.name == name)
    return f"In {name} ({temperature(month.weather.ambient_k, units)})"


def headline(comparison: Comparison, names: Mapping[str, str], units: Units) -> str:
    """What fails first.

    Args:
        names: what each vehicle is called, by its key.
    """
    month, routes = worst_month(comparison), len(comparison.ask.routes)
    fails, tight = (_counted(comparison, month, verdict) for verdict in (Verdict.FAIL, Verdict.MARGIN))
    lead = when(month, comparison, units)
    if fails:
        vehicle, count = max(fails.items(), key=lambda pair: pair[1])
        return f"{lead}, {_of(count, routes)} on one charge of the {_inside(names[vehicle])}."
    if tight:
        vehicle, count = max(tight.items(), key=lambda pair: pair[1])
        return f"{lead}, {_tight(count, routes)} with the {_inside(names[vehicle])}: not every day fits on one charge."
    every = "The route fits" if routes == 1 else f"All {routes} routes fit"
    whom = "with every vehicle compared" if len(comparison.vehicles) > 1 else f"of the {_inside(_only(names))}"
    return f"{every} on one charge {whom}, even in {month}."


def second(comparison: Comparison, names: Mapping[str, str]) -> str:
    """What the other vehicles do in the same month, and which routes no vehicle keeps."""
    month = worst_month(comparison)
    fails, tight = (_counted(comparison, month, verdict) for verdict in (Verdict.FAIL, Verdict.MARGIN))
    told = max(fails or tight, key=(fails or tight).__getitem__, default="")
    parts = []
    if told and fails and tight.get(told):
        parts.append(f"{_tight(tight[told], len(comparison.ask.routes)).capitalize()} with it.")
    others = [each.key for each in comparison.vehicles if each.key != told][:MOST_TOLD] if told else []
    parts += [f"The {_inside(names[key])} {_does(fails.get(key, 0), tight.get(key, 0))}." for key in others]
    lost = _lost_routes(comparison, month)
    if lost and len(comparison.vehicles) > 1:
        named = joined(list(lost[:MOST_TOLD])) if len(lost) <= MOST_TOLD else f"{len(lost)} of the routes"
        parts.append(f"No vehicle compared can do {named}.")
    return " ".join(parts)


def margin_words(cell: Cell, units: Units) -> str:
    """The figure of a line: short, or to spare."""
    if cell.verdict is Verdict.PASS:
        return f"{distance(cell.low_m - cell.needed_m, units)} to spare"
    if cell.verdict is Verdict.MARGIN:
        return f"{distance(cell.needed_m - cell.low_m, units)} short one day in ten"
    return f"{distance(-cell.margin_m, units)} short"


def by_figure(cell: Cell) -> tuple[int, float]:
    """Sorts lines by the figure that is told: what fails first, the furthest short at the top."""
    left_m = cell.margin_m if cell.verdict is Verdict.FAIL else cell.low_m - cell.needed_m
    return ORDER.index(cell.verdict), left_m


def fuel_for_heat(keys: Sequence[str], names: Mapping[str, str]) -> str:
    """A warning for vehicles whose cabin heat needs the engine; nothing without any."""
    if not keys:
        return ""
    who = joined([f"the {_inside(names[key])}" for key in keys])
    start, own = ("start their engines", "have") if len(keys) > 1 else ("starts its engine", "has")
    return (
        f"{who[:1].upper()}{who[1:]} {start} to heat the cabin and {own} no electric heater: on cold days fuel is used "
        "even where a route passes. The distances hold with the heater off."
    )


def night(vehicle: FleetVehicle) -> tuple[str, str]:
    """The longest refill, and after which route; what is said where there is none."""
    cell = vehicle.longest
    if cell is None or cell.charging_s is None:
        return "cannot be charged here", ""
    energy_words = f", {energy(cell.wall_j)} from the socket for the day" if cell.wall_j else ""
    return duration(cell.charging_s), f"after {cell.route} in {cell.month}{energy_words}"


def shortened(month: str, place: Place | None) -> str:
    """The head of a column.

    >>> shortened("January", None), shortened("cold weather", None)
    ('January', 'cold weather')
    """
    return month[:3] if place else month


def _counted(comparison: Comparison, month: str, verdict: Verdict) -> Counter[str]:
    """Routes with a verdict in a month, by vehicle; those with none are left out."""
    return Counter(cell.vehicle for cell in comparison.cells if cell.month == month and cell.verdict is verdict)


def _lost_routes(comparison: Comparison, month: str) -> tuple[str, ...]:
    """Routes that fail with every vehicle."""
    kept = {cell.route for cell in comparison.cells if cell.month == month and cell.verdict is not Verdict.FAIL}
    return tuple(route.name for route in comparison.ask.routes if route.name not in kept)


def _of(count: int, routes: int) -> str:
    """How many do not fit."""
    if routes == 1:
        return "the route does not fit"
    if count == routes:
        return f"none of the {routes} routes fits"
    return f"{count} of {routes} routes {'does' if count == 1 else 'do'} not fit"


def _tight(count: int, routes: int) -> str:
    """How many are tight."""
    if routes == 1:
        return "the route is tight"
    many = SMALL_NUMBERS[count] if count < len(SMALL_NUMBERS) else str(count)
    return f"{many} of {routes} routes {'is' if count == 1 else 'are'} tight"


def _does(fails: int, tight: int) -> str:
    """What a vehicle does with the routes."""
    if not fails and not tight:
        return "keeps every route"
    parts = [f"fails on {fails}"] if fails else []
    parts += [f"is tight on {tight}"] if tight else []
    return " and ".join(parts)


def _inside(name: str) -> str:
    """A vehicle's name inside a sentence."""
    return bound(name)


def _only(names: Mapping[str, str]) -> str:
    return next(iter(names.values()))
