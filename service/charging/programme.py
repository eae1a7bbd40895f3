"""A linear programme written row by row, whole numbers allowed, and HiGHS to solve it."""

from collections.abc import Sequence

import numpy as np

__all__ = ["Programme"]


class Programme:
    """Rows and columns of a programme as they come."""

    def __init__(self) -> None:
        self.cost: list[float] = []
        self.upper: list[float] = []
        self.whole: list[int] = []
        self.entries: list[tuple[int, int, float]] = []
        self.low: list[float] = []
        self.high: list[float] = []

    def columns(self, count: int, upper: float = np.inf, whole: bool = False, cost: float = 0.0) -> np.ndarray:
        """New variables from 0 to `upper`; their places."""
        start = len(self.cost)
        self.cost += [cost] * count
        self.upper += [upper] * count
        self.whole += [int(whole)] * count
        return np.arange(start, start + count)

    def row(self, terms: Sequence[tuple[int, float]], low: float = -np.inf, high: float = np.inf) -> None:
        """One constraint."""
        self.entries += [(len(self.low), int(column), float(value)) for column, value in terms]
        self.low.append(low)
        self.high.append(high)

    def solved(self, **options: float):
        """HiGHS's result; options as SciPy's `milp` takes them."""
        from scipy.optimize import Bounds, LinearConstraint, milp  # heavy: only where a plan is asked for
        from scipy.sparse import coo_array

        rows, columns, values = zip(*self.entries, strict=True)
        matrix = coo_array((values, (rows, columns)), shape=(len(self.low), len(self.cost))).tocsr()
        return milp(
            self.cost,
            integrality=self.whole,
            bounds=Bounds(0, self.upper),
            constraints=LinearConstraint(matrix, self.low, self.high),
            options=options,
        )
