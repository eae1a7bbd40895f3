"""A workshop's log as it arrives: a table of seconds, speeds and power at the pack → `DriveLog`, and every bad row.

Columns  time and speed; pack power, or pack voltage and current; state of charge, outside, pack and cabin temperature
         where known. Units stand in the names; power and current are positive out of the pack.
Report   every bad row at once; the others are kept. What is left out for its time is told by reason and row.
"""

from dataclasses import dataclass

import numpy as np

from service.diagnosis.drive_log import DriveLog
from service.errors import BadInput, BadInputs, ErrorRow
from service.intake.columns import Figures, figures_of, told
from service.intake.quantities import POWER, SECONDS, SHARE, SPEED, TEMPERATURE, Quantity, Texts
from service.intake.table_file import read_table
from service.intake.table_text import TextTable
from service.intake.times import DAY, Times, times_of
from service.intake.track import checked_zone
from service.trips.fixes import HIGHEST_M_S, forward
from service.trips.recorded import Dropped
from service.units import KM_H, kelvin_from_celsius

__all__ = ["LARGEST_LOG", "MOST_ROWS", "LogRead", "read_drive_log"]

LARGEST_LOG = 3 * 1024 * 1024  # bytes
MOST_ROWS = 60_000  # sixteen hours at one a second
FEWEST_ROWS = 2
TIME = Quantity("time_s", ("time", "elapsed", "elapsed time", "t"), SECONDS, 0.0, 1e10, "s", may_be_empty=False)
PACE = Quantity(
    "speed_m_s", ("speed", "vehicle speed", "gps speed", "velocity"), SPEED, 0.0, HIGHEST_M_S, "km/h", KM_H,
    needed=True, may_be_empty=False,
)  # fmt: skip
POWER_OUT = Quantity(
    "pack_w", ("pack", "pack power", "battery power", "power"), POWER, -1e6, 1e6, "kW", 1000.0, may_be_empty=False
)
VOLTS = Quantity("pack_v", ("pack", "pack voltage", "battery voltage", "voltage"), {"v": (1.0, 0.0)}, 0.0, 1500.0, "V",
                 may_be_empty=False)  # fmt: skip
AMPS = Quantity("pack_a", ("pack", "pack current", "battery current", "current"), {"a": (1.0, 0.0)}, -3000.0, 3000.0,
                "A", may_be_empty=False)  # fmt: skip
CHARGE = Quantity("charge_pct", ("state of charge", "soc", "charge"), SHARE, 0.0, 100.0, "%")
OUTSIDE = Quantity(
    "outside_c",
    ("outside", "outside temperature", "outside temp", "ambient", "ambient temperature", "ambient temp"),
    TEMPERATURE, -60.0, 60.0, "°C",
)  # fmt: skip
PACK = Quantity("pack_c", ("pack", "pack temperature", "battery temperature"), TEMPERATURE, -60.0, 100.0, "°C")
CABIN = Quantity("cabin_c", ("cabin", "cabin temperature"), TEMPERATURE, -60.0, 90.0, "°C")
MOMENT = Texts("moment", ("time", "timestamp", "datetime", "date time"))


@dataclass(frozen=True, slots=True)
class LogRead:
    """The log, and what became of its rows."""

    log: DriveLog
    rows_read: int
    dropped: tuple[Dropped, ...]
    passed_over: tuple[str, ...]
    notes: tuple[str, ...]
    errors: tuple[ErrorRow, ...]


def read_drive_log(content: bytes, zone: str | None = None) -> LogRead:
    """Read a log.

    Args:
        zone: IANA name, for times without an offset.
    Errors: `BadInputs` for what is no such table, or one with fewer than two good rows; `BadInput` for the zone.
    """
    table = read_table(content, LARGEST_LOG, MOST_ROWS)
    found = figures_of(table, (TIME, PACE, POWER_OUT, VOLTS, AMPS, CHARGE, OUTSIDE, PACK, CABIN), (MOMENT, DAY))
    refuse_incomplete(found, table)
    zone = checked_zone(zone)
    times = Times(found.values["time_s"]) if "time_s" in found.values else times_of(found, zone)
    time_s, faults = times.seconds, [*found.faults, *times.faults]
    good = np.isfinite(time_s)
    found, time_s = found.where(good), time_s[good]
    kept = forward(time_s) if len(time_s) else np.zeros(0, bool)
    dropped = Dropped("its time is not after the one before", tuple(found.rows[~kept].tolist()))
    found, time_s = found.where(kept), time_s[kept]
    if len(time_s) < FEWEST_ROWS:
        message = f"{len(time_s)} rows can be used"
        raise BadInputs([BadInput("table", len(time_s), message, "give at least two moments"), *faults])
    return LogRead(
        log_of(time_s, found),
        found.rows_read,
        (dropped,) if dropped.rows else (),
        found.passed_over,
        times.notes,
        told(faults),
    )


def refuse_incomplete(found: Figures, table: TextTable) -> None:
    """Raise BadInputs for a log without times, or without power."""
    row, faults = f"row {table.header.number}", []
    if "time_s" not in found.values and not {"moment", "day"} & set(found.texts):
        remedy = "name a column time_s, or time for dates and times"
        faults.append(BadInput(f"{row}, time", None, "the column is missing", remedy))
    if "pack_w" not in found.values and not {"pack_v", "pack_a"} <= set(found.values):
        remedy = "name a column pack_kw, or columns pack_v and pack_a"
        faults.append(BadInput(f"{row}, pack_kw", None, "the column is missing", remedy))
    if faults:
        raise BadInputs([*faults, *found.faults])


def log_of(time_s: np.ndarray, found: Figures) -> DriveLog:
    """The record in SI, from 0 s on."""
    values = found.values

    def kelvin(key: str) -> np.ndarray | None:
        return kelvin_from_celsius(values[key]) if key in values else None

    power_w = values["pack_w"] if "pack_w" in values else values["pack_v"] * values["pack_a"]
    return DriveLog(
        time_s=time_s - time_s[0],
        speed_m_s=values["speed_m_s"],
        terminals_w=power_w,
        charge=values["charge_pct"] / 100 if "charge_pct" in values else None,
        outside_k=kelvin("outside_c"),
        pack_k=kelvin("pack_c"),
        cabin_k=kelvin("cabin_c"),
    )
