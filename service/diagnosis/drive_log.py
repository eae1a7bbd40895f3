"""A drive as a workshop logged it: speed, power at the pack's terminals and charge against time; and its sums.

Scope    the record, and what can be said of it without a model. Power is positive out of the pack, negative into it;
         logged power is at the terminals (DC), where the pack's own loss has been paid already.
Gaps     between two rows more than `GAP_S` apart nothing is counted; the seconds are told.
Source   trapezoidal sums; the rest is arithmetic.
"""

from dataclasses import dataclass

import numpy as np

__all__ = ["GAP_S", "DriveLog", "LogSummary", "summary_of"]

GAP_S = 10.0  # the pace at which slow states are looked at; own choice
WORTH_A_CAPACITY = 0.1  # of the charge: a display rounds to a half or a whole per cent; own choice


@dataclass(frozen=True, eq=False, slots=True)
class DriveLog:
    """Columns of shape (n,), SI; NaN where a cell was empty. An array is None where the log has no such column."""

    time_s: np.ndarray  # rising
    speed_m_s: np.ndarray
    terminals_w: np.ndarray
    charge: np.ndarray | None = None  # 0 to 1, as displayed or as the pack's controller says
    outside_k: np.ndarray | None = None
    pack_k: np.ndarray | None = None
    cabin_k: np.ndarray | None = None


@dataclass(frozen=True, slots=True)
class LogSummary:
    """Sums of a log; None where the log does not tell."""

    duration_s: float
    missing_s: float  # in gaps, of the duration
    interval_s: float  # usual time between two rows
    distance_m: float
    fastest_m_s: float
    out_j: float  # at the terminals
    in_j: float  # recovered by braking, or charged
    charge_start: float | None
    charge_end: float | None
    usable_j: float | None  # net energy over charge used; None where too little of it was
    outside_k: float | None  # mean over time

    @property
    def net_j(self) -> float:
        """Out less in."""
        return self.out_j - self.in_j


def summary_of(log: DriveLog) -> LogSummary:
    """The sums.

    >>> log = DriveLog(np.array([0.0, 5.0, 10.0]), np.full(3, 20.0), np.array([4e3, 4e3, 4e3]))
    >>> summary_of(log).distance_m, summary_of(log).net_j
    (200.0, 40000.0)
    """
    step_s = np.diff(log.time_s)
    counted = step_s <= GAP_S
    start, end = ends_of(log.charge)
    out_j = integral(np.maximum(log.terminals_w, 0.0), step_s, counted)
    in_j = integral(np.maximum(-log.terminals_w, 0.0), step_s, counted)
    used = 0.0 if start is None or end is None else start - end
    whole = used >= WORTH_A_CAPACITY and counted.all()
    return LogSummary(
        duration_s=float(log.time_s[-1] - log.time_s[0]),
        missing_s=float(step_s[~counted].sum()),
        interval_s=float(np.median(step_s)),
        distance_m=integral(log.speed_m_s, step_s, counted),
        fastest_m_s=float(np.max(log.speed_m_s)),
        out_j=out_j,
        in_j=in_j,
        charge_start=start,
        charge_end=end,
        usable_j=(out_j - in_j) / used if whole and out_j > in_j else None,
        outside_k=mean_of(log.outside_k, log.time_s),
    )


def integral(values: np.ndarray, step_s: np.ndarray, counted: np.ndarray) -> float:
    """Trapezoidal sum over the steps that count."""
    return float(np.sum(0.5 * (values[1:] + values[:-1]) * step_s, where=counted))


def ends_of(values: np.ndarray | None) -> tuple[float | None, float | None]:
    """First and last value that is known."""
    known = values[np.isfinite(values)] if values is not None else ()
    return (float(known[0]), float(known[-1])) if len(known) else (None, None)


def mean_of(values: np.ndarray | None, time_s: np.ndarray) -> float | None:
    """Mean over time of what is known; of one value that value."""
    if values is None or not np.isfinite(values).any():
        return None
    known = np.isfinite(values)
    if np.count_nonzero(known) == 1:
        return float(values[known][0])
    return float(np.trapezoid(values[known], time_s[known]) / (time_s[known][-1] - time_s[known][0]))
