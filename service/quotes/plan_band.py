"""How sure a charging plan is: its timetable followed by cars like this one, at other voltages of the supply.

Method   each draw (usable energy, resistance, losses of the charger, voltage of the supply) is charged once at full
         pace, which tells what its cells need beyond the charger's overhead. It then follows the plan's own timetable:
         currents are set, so power follows the voltage up to the charger's rating; a car that has enough stops early,
         one that has not goes on at the timetable's usual power until it has. Its bill is exact, nothing planned anew.
Scope    the charge on arrival and the day are taken as given; the pack's temperature is the day's.
"""

from dataclasses import dataclass

import numpy as np

from service.charging import charger_rows, sessions
from service.charging.plan import PlanLine, PlanTask
from service.charging.session import NO_POWER, TOO_LONG
from service.charging.tariff import Stretch, cost_of
from service.quotes.answer import Band
from service.quotes.band import band_of, draws_for
from service.quotes.supply import supply_volts

__all__ = ["PlanBand", "plan_band"]

DRAWS = 64  # their ends are within a tenth of the band of those of 256


@dataclass(frozen=True, slots=True)
class PlanBand:
    """Ends of a plan; its middle is the plan itself."""

    cost: Band
    wall_j: Band  # at the meter
    ready_s: Band  # POSIX
    in_time: float  # share of the draws that are ready by the deadline


def plan_band(line: PlanLine, task: PlanTask, ask, car, values) -> PlanBand | None:
    """The band of a plan that reaches its target; None of any other.

    Args:
        ask: the completed question; car its row as a table; values the typical values by name.
    """
    if line.ready_s is None:
        return None
    draws = draws_for(ask, values, DRAWS)
    volts = supply_volts(ask, DRAWS)[1:]
    fixed = values["charger_conversion"], values["charger_fixed_w"]
    chargers = charger_rows(ask.vehicle, ask.circuit, *fixed, volts)
    ambient_k = ask.weather.ambient_k
    target = float(task.course.charge[-1])
    found = sessions(car, draws, chargers, ask.start.state_of_charge, target, ambient_k, ambient_k)
    kept = np.flatnonzero((found.ended != NO_POWER) & (found.ended != TOO_LONG))
    overhead_w = chargers.fixed_w * draws.charger
    needs_j = found.wall_j - overhead_w * found.seconds
    rows = []
    for k in kept:
        followed = follow(
            line, float(needs_j[k]), float(overhead_w[k]), volts[k] / ask.circuit.volts, float(chargers.rating_w[k])
        )
        drawn = task.metered((*followed, *line.readying))
        bill = cost_of(task.tariff, tuple(sorted(drawn, key=lambda each: each.starts_s)), task.so_far)
        rows.append(
            (bill.total, sum(each.wall_w * (each.ends_s - each.starts_s) for each in drawn), followed[-1].ends_s)
        )
    cost, wall_j, ready_s = np.array(rows).T
    return PlanBand(
        cost=band_of(line.cost.total, cost),
        wall_j=band_of(line.wall_j, wall_j),
        ready_s=band_of(line.ready_s, ready_s),
        in_time=float(np.sum(ready_s <= task.deadline_s + 60.0)) / DRAWS,
    )


def follow(line: PlanLine, needs_j: float, overhead_w: float, voltage: float, rating_w: float) -> tuple[Stretch, ...]:
    """The timetable of a plan as a car drives it that needs another energy beyond its overhead.

    Args:
        voltage: of the supply over its nominal one.
    """
    stretches, left_j, power_w = [], needs_j, 0.0
    for piece in line.pieces:
        power_w = min(piece.wall_w * voltage, rating_w)
        moves_w = max(power_w - overhead_w, 0.0)
        span_s = piece.ends_s - piece.starts_s
        if moves_w * span_s >= left_j:
            stretches.append(Stretch(piece.starts_s, piece.starts_s + left_j / moves_w, power_w))
            return tuple(stretches)
        stretches.append(Stretch(piece.starts_s, piece.ends_s, power_w))
        left_j -= moves_w * span_s
    usual_w = float(np.median([each.wall_w for each in stretches]))  # the end of a taper is no pace to go on at
    ends_s = stretches[-1].ends_s
    stretches.append(Stretch(ends_s, ends_s + left_j / max(usual_w - overhead_w, 1.0), usual_w))
    return tuple(stretches)
