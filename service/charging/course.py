"""The course of one charge at full pace: time and energy at the socket against state of charge, as a table.

Scope    what a plan needs to know of the physics: `session` run once to each of a row of targets. A cold pack's heating
         stands at the beginning, its energy and time included; the charge does not move meanwhile.
Symbols  overhead  the charger's fixed draw     above  energy at the socket beyond the overhead: what makes charge move
"""

from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from service.charging.onboard import charger_dc_w, socket_w
from service.charging.session import NO_POWER, TOO_LONG, sessions

__all__ = ["LEAST_A", "Course", "course_of"]

LEAST_A = 6.0  # least current of the control pilot, SAE J1772 / IEC 61851-1
POINTS = 33  # targets; between two the pace is taken as even


@dataclass(frozen=True, eq=False, slots=True)
class Course:
    """Columns of one length from plugging in to the end; every one but `charge` and `stored_j` rises."""

    seconds: np.ndarray
    wall_j: np.ndarray
    charge: np.ndarray  # of the usable window
    stored_j: np.ndarray  # in the cells
    heating_s: float
    overhead_w: float
    least_w: float  # at the socket: six amperes a phase, or full power where that is less
    complete: bool  # False: nobody would wait for the target

    @property
    def above_j(self) -> np.ndarray:
        """Energy at the socket beyond the overhead."""
        return self.wall_j - self.overhead_w * self.seconds

    @property
    def whole_s(self) -> float:
        """From plugging in to the end."""
        return float(self.seconds[-1])


def course_of(car, draw, charger, from_charge: float, to_charge: float, ambient_k: float, volts_phases: float):
    """The course of a charge, or None where nothing flows: no power, or the target lies below the start.

    Args:
        car, draw: rows of `rows.CAR` and `rows.DRAW`; charger: of `onboard.CHARGER`.
        ambient_k: around the car, and in the pack at plugging in.
        volts_phases: volts times the phases in use: what an ampere a phase is worth, W.
    """
    targets = np.linspace(from_charge, to_charge, POINTS)[1:]
    found = sessions(car, draw, charger, from_charge, targets, ambient_k, ambient_k)
    if to_charge <= from_charge or found.ended[0] == NO_POWER:
        return None
    kept = found[found.ended != TOO_LONG]
    dc_w = charger_dc_w(charger.ac_w, charger.conversion, charger.fixed_w, draw.charger)
    heating_s = float(found.heating_s[0])
    heater_w = socket_w(min(car.pack_heater_w, dc_w), charger.conversion, charger.fixed_w, draw.charger)
    start = [(0.0, 0.0, from_charge, 0.0)]
    if heating_s > 0:
        start.append((heating_s, heater_w * heating_s, from_charge, 0.0))
    rows = start + [(row.seconds, row.wall_j, row.charge, row.cells_j) for row in kept]
    rising = [rows[0]] + [row for before, row in pairwise(rows) if row[0] > before[0] + 1e-6]
    if len(rising) < 2:
        return None
    columns = [np.array(column, "f8") for column in zip(*rising, strict=True)]
    least_w = min(LEAST_A * volts_phases, float(charger.ac_w))
    overhead_w = float(charger.fixed_w * draw.charger)
    return Course(*columns, heating_s, overhead_w, least_w, len(kept) == len(found))
