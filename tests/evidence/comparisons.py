"""The one list of comparisons: the tests and the command that writes data/evidence.csv both run it."""

import re
from collections.abc import Callable, Iterable
from dataclasses import dataclass, replace

from service.catalogue.evidence import Check
from tests.evidence import air, cells, charging, charging_sessions, climate, cycles, effects, integration, labels, road

__all__ = ["COMPARISONS", "Comparison", "numbered"]


@dataclass(frozen=True, slots=True)
class Comparison:
    """Some rows of one subject. `slow`: left to the command and to `pytest -m evidence`."""

    rows: Callable[[], list[Check]]
    slow: bool = False


COMPARISONS = (
    Comparison(effects.battery_electric, slow=True),
    Comparison(effects.one_car, slow=True),
    Comparison(effects.plug_in, slow=True),
    Comparison(effects.fast_road, slow=True),
    Comparison(labels.rules),
    Comparison(integration.cycles, slow=True),
    Comparison(climate.comfort_loads),
    Comparison(climate.vapour_compression),
    Comparison(cells.cold_energy),
    Comparison(cells.arrhenius),
    Comparison(cells.open_circuit),
    Comparison(road.road_load),
    Comparison(road.coastdown),
    Comparison(road.corrections),
    Comparison(road.tyres),
    Comparison(road.masses),
    Comparison(road.grade),
    Comparison(air.wind),
    Comparison(air.density),
    Comparison(air.atmosphere),
    Comparison(air.psychrometrics),
    Comparison(cycles.totals),
    Comparison(charging.times),
    Comparison(charging.taper),
    Comparison(charging.circuits),
    Comparison(charging.pilot),
    Comparison(charging.conductors),
    Comparison(charging.drops),
    Comparison(charging_sessions.outlets),
    Comparison(charging_sessions.labels),
    Comparison(charging_sessions.age),
    Comparison(charging_sessions.solver),
    Comparison(charging_sessions.pilots),
)


def numbered(rows: Iterable[Check]) -> list[Check]:
    """Rows with ids: subject and place within it."""
    counts: dict[str, int] = {}
    found = []
    for row in rows:
        stem = "-".join(re.findall(r"[a-z0-9]+", row.subject.lower()))
        counts[stem] = counts.get(stem, 0) + 1
        found.append(replace(row, id=f"{stem}-{counts[stem]:02d}"))
    return found
