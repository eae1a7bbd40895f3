"""The row of names: found below titles, completed by units, and not taken for a row of the table."""

from service.intake.header import below_titles, with_units_below, without_repeats
from service.intake.table_text import read_table_text

KNOWN = {"time", "speed", "time s", "speed (km/h)"}


def read(text):
    return read_table_text(text.encode(), 10_000, 1000)


def known(name):
    return name.lower() in KNOWN


def test_titles_above_the_names_are_told():
    table, above = below_titles(read("Week 48,time\n\nDepot;East,\ntime,speed\n1,2\n"), known)
    assert table.header.cells == ("time", "speed")
    assert table.header.number == 4
    assert [line.number for line in table.lines] == [5]
    assert above == ("row 1: week 48 time", "row 3: Depot;East")


def test_a_first_row_that_knows_as_much_is_the_header():
    table, above = below_titles(read("time,speed\ntime,speed\n1,2\n"), known)
    assert (table.header.number, above) == (1, ())


def test_one_known_word_makes_no_header():
    table, above = below_titles(read("a,b\nspeed,2\n"), known)
    assert (table.header.number, above) == (1, ())


def test_names_far_below_are_not_looked_for():
    table, _ = below_titles(read("a,b\n" * 40 + "time,speed\n"), known)
    assert table.header.number == 1


def test_units_below_complete_the_names_they_belong_to():
    table = with_units_below(
        read("time,speed,note\n[s],km/h,\n1,2,x\n"), lambda name: name in {"time [s]", "speed km/h"}
    )
    assert table.header.cells == ("time (s)", "speed (km/h)", "note")
    assert [line.number for line in table.lines] == [3]


def test_a_row_of_the_table_is_no_row_of_units():
    table = read("time,speed\ns,2\n")
    assert with_units_below(table, lambda name: name == "time s") is table
    assert with_units_below(read("time\n"), known).lines == ()


def test_names_that_stand_again_are_told_and_left_out():
    table = without_repeats(read("time,speed\n1,2\nTime,Speed,\n3,4\n"), ("time", "speed"))
    assert [line.number for line in table.lines] == [2, 4]
    assert [fault.row.field for fault in table.broken] == ["row 3"]
