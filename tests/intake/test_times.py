"""Times in one column, in two, as hours, or of a clock without a date; and without a zone."""

import numpy as np
import pytest

from service.intake.columns import figures_of
from service.intake.quantities import Texts
from service.intake.table_text import read_table_text
from service.intake.times import DAY, NO_DATE, ONE_CLOCK, times_of

MOMENT = Texts("moment", ("time", "hour"))
START = 1775196000.0  # 2026-04-03 06:00 in universal time


def read(text, zone=None, dated=False):
    return times_of(figures_of(read_table_text(text.encode(), 10_000, 100), (), (MOMENT, DAY)), zone, dated)


@pytest.mark.parametrize(
    "text",
    [
        "date;time\n03.04.2026;06:00\n03.04.2026;7:30\n",
        "date,time\n2026-04-03,06:00:00\n2026-04-03,07:30:00\n",
        "Time,Date\n6:00 AM,2026-04-03 00:00:00\n7:30 AM,2026-04-03 00:00:00\n",  # a date cell of a spreadsheet
        "date,time\n2026-04-03,2026-04-03 06:00\n2026-04-03,2026-04-03 07:30\n",  # told twice
        "date\n2026-04-03 06:00\n2026-04-03 07:30\n",
    ],
)
def test_a_date_beside_a_clock_is_one_time(text):
    times = read(text, "UTC", dated=True)
    assert times.faults == ()
    assert times.seconds.tolist() == [START, START + 5400]


def test_hours_of_a_day_end_at_twenty_four():
    times = read("date;hour\n2026-04-03;6\n2026-04-03;24\n2026-04-04;1\n", "UTC", dated=True)
    assert (times.seconds - START).tolist() == [0, 18 * 3600, 19 * 3600]


def test_a_missing_half_is_told():
    times = read("date,time\n2026-04-03,\n,07:30\n2026-04-03,06:00\n", "UTC", dated=True)
    assert [fault.row.field for fault in times.faults] == ["row 2, date and time", "row 3, date and time"]
    assert times.seconds[2] == START


def test_a_clock_without_a_date_runs_past_midnight_in_a_drive():
    times = read('time\n23:59:58.5\n"23:59:59,5"\n00:00:00.5\nnoon\n00:61:00\n0:00:02\n')
    assert (times.seconds[[0, 1, 2, 5]] - times.seconds[0]).tolist() == [0, 1, 2, 3.5]
    assert [fault.row.field for fault in times.faults] == ["row 5, time", "row 6, time"]
    assert times.notes == (NO_DATE,)


def test_a_clock_without_a_date_is_no_time_of_weather():
    times = read("time\n07:00:00\n08:00:00\n", "UTC", dated=True)
    assert len(times.faults) == 2


def test_without_any_zone_it_is_one_clock_and_that_is_said():
    times = read("time\n2026-04-03 06:00\n2026-04-03 07:00\n")
    assert np.diff(times.seconds).tolist() == [3600]
    assert times.notes == (ONE_CLOCK,)
    assert read("time\n2026-04-03T06:00+02:00\n").notes == ()
    assert read("time\n2026-04-03 06:00\n", "Europe/Berlin").notes == ()


def test_offsets_in_some_rows_only_leave_the_others_open():
    times = read("time\n2026-04-03T06:00Z\n2026-04-03 07:00\n")
    assert [fault.row.field for fault in times.faults] == ["row 3, time"]
