"""How many days of each month somebody drives, and how the driving days of a week follow each other.

Scope    a mean year of 365 days without a date: weekdays spread evenly over the months, weeks off as well.
"""

from dataclasses import dataclass

__all__ = ["MONTH_LENGTHS", "MONTH_NAMES", "WEEKDAYS", "Pattern"]

MONTH_NAMES = (
    "January", "February", "March", "April", "May", "June",
    "July", "August", "September", "October", "November", "December",
)  # fmt: skip
MONTH_LENGTHS = (31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31)
WEEKDAYS = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")
ENOUGH_DAYS = 16  # of a month that are driven, so that its cold and its warm days are among them


@dataclass(frozen=True, slots=True)
class Pattern:
    """Days of the week that are driven, 0 for Monday, in order; weeks of the year, None where nobody said."""

    weekdays: tuple[int, ...] = (0, 1, 2, 3, 4)
    weeks_a_year: float | None = None

    def days_in(self, month: int, weeks_a_year: float) -> float:
        """Driving days of a month, 0 for January; over the year they add up to weekdays times weeks.

        >>> round(sum(Pattern().days_in(month, 46) for month in range(12)), 6)
        230.0
        """
        return MONTH_LENGTHS[month] / sum(MONTH_LENGTHS) * len(self.weekdays) * weeks_a_year

    def days_until_next(self) -> tuple[int, ...]:
        """From each driving day to the next one, in days.

        >>> Pattern().days_until_next(), Pattern((2,)).days_until_next()
        ((1, 1, 1, 1, 3), (7,))
        """
        following = (*self.weekdays[1:], self.weekdays[0] + 7)
        return tuple(after - day for day, after in zip(self.weekdays, following, strict=True))

    def sampled_gaps(self) -> tuple[int, ...]:
        """The same for as many whole weeks as it takes to see a month's weather."""
        week = self.days_until_next()
        return week * -(-ENOUGH_DAYS // len(week))
