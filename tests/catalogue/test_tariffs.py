"""Tariffs of data/, and the rule that every minute has one price."""

import pytest

from service.catalogue.tariffs import clock_s, clock_text, cover_faults, day_kinds, holiday, months_in, zone_named
from service.specs import DayKind, TariffPeriod

EVERY = tuple(range(1, 13))


def period(starts_s, ends_s, months=EVERY, days=tuple(DayKind)):
    return TariffPeriod(months, days, starts_s, ends_s, 1e-7)


def test_the_tariffs_shown_say_that_they_are_invented(catalogue):
    assert len(catalogue.tariffs) >= 3
    assert all("invented" in each.name for each in catalogue.tariffs.values())
    assert {each.demand_per_w > 0 for each in catalogue.tariffs.values()} == {True, False}
    assert any(each.tiers for each in catalogue.tariffs.values())


def test_a_whole_day_is_without_fault():
    assert cover_faults([period(0, 3600), period(3600, 86_400)]) == []


def test_a_gap_is_told_with_its_time_months_and_days():
    (fault,) = cover_faults([period(0, 3600), period(7200, 86_400)])
    assert "01:00 to 02:00" in fault.message
    assert "1-12" in fault.message
    assert fault.period is None


def test_an_overlap_is_told_once_at_the_later_period():
    (fault,) = cover_faults([period(0, 43_200), period(39_600, 86_400)])
    assert fault.message.startswith("two prices from 11:00 to 12:00")
    assert fault.period == 1


def test_a_season_left_out_is_a_gap():
    (fault,) = cover_faults([period(0, 86_400, (1, 2, 3))])
    assert "4-12" in fault.message


def test_holidays_need_prices_only_where_they_are_named():
    plain = (DayKind.WEEKDAY, DayKind.WEEKEND)
    assert cover_faults([period(0, 86_400, days=plain)]) == []
    (fault,) = cover_faults([period(0, 86_400, days=plain), period(0, 3600, days=(DayKind.HOLIDAY,))])
    assert "holiday" in fault.message


@pytest.mark.parametrize("text", ["24:01", "25:00", "7", "7:60", "-1:00", "aa:bb", "١٢:٠٠"])
def test_times_that_no_clock_shows(text):
    with pytest.raises(ValueError, match=r"time|59|beyond"):
        clock_s(text)


def test_times_are_written_back():
    assert [clock_text(clock_s(text)) for text in ("00:00", "06:45", "24:00")] == ["00:00", "06:45", "24:00"]


@pytest.mark.parametrize(
    ("read", "text"),
    [(months_in, "0"), (months_in, "13"), (months_in, "may"), (months_in, ""), (day_kinds, "sunday"), (day_kinds, ""),
     (holiday, "02-30"), (holiday, "1st of May"), (zone_named, "Mars/Olympus"), (zone_named, "../etc/passwd")],
)  # fmt: skip
def test_words_that_mean_nothing_are_refused(read, text):
    with pytest.raises(ValueError, match=r".+"):
        read(text)
