"""What became of a recording, in lines for people."""

from collections.abc import Iterable

from service.reporting.words import Units, bound, distance
from service.trips.recorded import Dropped, Recorded
from service.units import FOOT_M

__all__ = ["left_out", "recording_lines"]

ROWS_NAMED = 8


def recording_lines(recorded: Recorded, units: Units) -> tuple[str, ...]:
    """Points, distance, climb and duration; then what was left out and why."""
    whole_m = sum(trip.distance_m for trip in recorded.trips)
    climb_m = sum(trip.climb_m for trip in recorded.trips)
    minutes = sum(trip.duration_s for trip in recorded.trips) / 60
    height = f"{climb_m / FOOT_M:.0f} ft" if units is Units.US else f"{climb_m:.0f} m"
    first = (
        f"Read: {recorded.kept} of {recorded.points} points, {distance(whole_m, units)}, {height} of climb, "
        f"{minutes:.0f} min of driving."
    )
    return tuple(bound(line) for line in (first, *left_out(recorded.dropped), *recorded.notes))


def left_out(dropped: Iterable[Dropped]) -> tuple[str, ...]:
    """Readable rows that are not used, a line a reason."""
    return tuple(f"Left out: {_rows(each.rows)}; {each.reason}." for each in dropped)


def _rows(rows: tuple[int, ...]) -> str:
    """Which rows, by number, the first of many."""
    named = ", ".join(map(str, rows[:ROWS_NAMED]))
    more = f" and {len(rows) - ROWS_NAMED} more" if len(rows) > ROWS_NAMED else ""
    return f"{'row' if len(rows) == 1 else 'rows'} {named}{more}"
