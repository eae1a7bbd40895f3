"""A workbook is read as the table that people see, by every reader that takes a CSV, or refused with a way out."""

import datetime as dt
import io
import zipfile

import openpyxl
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from service.catalogue import load_catalogue
from service.errors import BadInputs
from service.intake.drive_log import read_drive_log
from service.intake.routes_csv import read_routes
from service.intake.table_file import read_table, text_of_table
from service.intake.table_text import MOST_COLUMNS, read_table_text
from service.intake.track import read_track
from service.intake.weather_file import read_weather_file
from tests.intake.workbooks import changed, workbook

SHEET, TYPES = "xl/worksheets/sheet1.xml", "[Content_Types].xml"
STRINGS, SPACE = "xl/sharedStrings.xml", "http://schemas.openxmlformats.org/spreadsheetml/2006/main"
NAMES = ("time_s", "speed_km_h", "soc_pct")
BOMB = '<!DOCTYPE a [<!ENTITY b "bbbbbbbb"><!ENTITY c "&b;&b;&b;&b;">]>'


def table(content, most_rows=100):
    return read_table(content, 4_000_000, most_rows)


def refused(content, most_rows=100):
    with pytest.raises(BadInputs) as caught:
        table(content, most_rows)
    return caught.value.rows()


def part(content, name):
    return zipfile.ZipFile(io.BytesIO(content)).read(name).decode()


def with_shared_strings(content):
    """Texts where most spreadsheet programs keep them."""
    kind = "application/vnd.openxmlformats-officedocument.spreadsheetml.sharedStrings+xml"
    named = f'<Override PartName="/{STRINGS}" ContentType="{kind}"/></Types>'
    sheet = part(content, SHEET).replace('t="inlineStr"><is><t>text</t></is>', 't="s"><v>0</v>')
    strings = f'<sst xmlns="{SPACE}"><si><t>text</t></si></sst>'
    types = part(content, TYPES).replace("</Types>", named)
    return changed(content, {SHEET: sheet, STRINGS: strings, TYPES: types})


def test_cells_are_read_as_they_are_stored():
    rows = [("when", "share", "number", "word"), (dt.datetime(2026, 4, 3, 7, 30), 0.855, 0.1 + 0.2, " so, so "),
            (dt.time(7, 30), 1, -5, True), (dt.timedelta(hours=25, seconds=0.5), None, 1e21, "#N/A")]  # fmt: skip
    read = table(workbook(*rows, formats={"B2": "0.0%", "A4": "[h]:mm:ss"}))
    assert read.header.cells == ("when", "share", "number", "word")
    assert [line.cells for line in read.lines] == [
        ("2026-04-03 07:30:00", "85.5", "0.3", "so, so"),
        ("07:30:00", "1", "-5", "TRUE"),
        ("25:00:00.5", "", "1e+21", "#N/A"),
    ]
    assert read.lines[0].typed == {0, 1, 2}


def test_rows_have_the_numbers_that_the_spreadsheet_shows():
    read = table(workbook((), ("a", "b"), (), (1, 2), (None, "", " "), (3, 4)))
    assert [read.header.number, *(line.number for line in read.lines)] == [2, 4, 6]


def test_the_first_visible_sheet_with_content_is_read():
    sheets = [("Old", "hidden", [("x",), (1,)]), ("Deep", "veryHidden", [("x",)]), ("Empty", "visible", [])]
    assert table(workbook(("a",), (1,), sheets=sheets)).header.cells == ("a",)


def test_it_is_the_table_that_the_same_csv_is():
    rows = [(k, 40 + k, "8,5") for k in range(5)]
    text = "time_s;speed_km_h;soc_pct\n" + "".join(f"{a};{b};{c}\n" for a, b, c in rows)
    ours, csv = table(workbook(NAMES, *rows)), read_table_text(text.encode(), 1000, 100)
    assert (ours.header, [line.cells for line in ours.lines]) == (csv.header, [line.cells for line in csv.lines])


def test_a_formula_gives_its_saved_result():
    content = workbook(("a", "b"), (1, "=A2*2"))
    with_result = part(content, SHEET).replace("<f>A2*2</f><v></v>", "<f>A2*2</f><v>2</v>")
    with_result = with_result.replace("<f>A2*2</f><v />", "<f>A2*2</f><v>2</v>")
    assert table(changed(content, {SHEET: with_result})).lines[0].cells == ("1", "2")
    row = refused(content)[0]
    assert "cell B2 holds a formula" in row.message
    assert "save it there" in row.remedy


def test_a_formula_whose_result_is_no_text_is_an_empty_cell():
    content = workbook(("a", "b"), (1, "x"))
    words = '<c r="B2" t="inlineStr"><is><t>x</t></is></c>'
    empty = part(content, SHEET).replace(words, '<c r="B2" t="str"><f>""</f><v></v></c>')
    assert words not in empty
    assert table(changed(content, {SHEET: empty})).lines[0].cells == ("1",)


def test_macros_are_not_even_unpacked():
    assert table(workbook(("a",), (1,), macros=True)).lines[0].cells == ("1",)


@pytest.mark.parametrize(
    ("content", "words"),
    [
        (b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1" + b"\0" * 500, ".xls"),
        (b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1" + "EncryptedPackage".encode("utf-16-le"), "password"),
        (b"PK\x03\x04 and no more", "damaged"),
        (workbook(("a",), (1,))[:-200], "damaged"),
        (changed(b"PK\x05\x06" + b"\0" * 18, {"routes.csv": "a,b"}), "no workbook"),
        (changed(b"PK\x05\x06" + b"\0" * 18, {"xl/workbook.bin": b"\0"}), ".xlsb"),
        (workbook(), "empty"),
        (workbook(("a",), *[(1,)] * 101), "more than 100 rows"),
        (workbook(("a",) * (MOST_COLUMNS + 1)), f"{MOST_COLUMNS + 1} cells"),
    ],
)
def test_what_is_no_table_is_refused_with_a_way_out(content, words):
    row = refused(content)[0]
    assert words in row.message
    assert row.remedy


@pytest.mark.parametrize("name", [SHEET, STRINGS, "xl/workbook.xml", "xl/styles.xml", TYPES])
def test_entities_are_refused_in_every_part(name):
    content = with_shared_strings(workbook(("a",), ("text",)))
    assert table(content).lines[0].cells == ("text",)
    plain = part(content, name)
    bomb = '<?xml version="1.0"?>' + BOMB + plain[plain.find("?>") + 2 if plain.startswith("<?xml") else 0 :]
    bomb = bomb.replace("text", "&c;")
    row = refused(changed(content, {name: bomb}))[0]
    assert "cannot be read as a workbook" in row.message


def test_the_parser_beneath_is_the_careful_one():
    assert openpyxl.DEFUSEDXML


@pytest.mark.parametrize(
    "cells",
    ['<row r="99999999999"><c r="A1"><v>1</v></c></row>', '<row r="2"><c r="ZZZZ2"><v>1</v></c></row>',
     '<row r="x"/>', '<row r="2"><c t="s"><v>99</v></c></row>', '<row r="2"><c t="n"><v>one</v></c></row>'],
)  # fmt: skip
def test_a_sheet_that_was_tampered_with_is_refused(cells):
    content = workbook(("a",), (1,))
    sheet = part(content, SHEET).replace("</sheetData>", f"{cells}</sheetData>")
    assert refused(changed(content, {SHEET: sheet}))[0].remedy


def test_cells_far_apart_are_refused_soon():
    content = workbook(("a",), (1,))
    far = "".join(f'<row r="{number}"><c r="XFD{number}" s="0"/></row>' for number in range(3, 20_000))
    assert (
        "far apart"
        in refused(changed(content, {SHEET: part(content, SHEET).replace("</sheetData>", f"{far}</sheetData>")}))[
            0
        ].message
    )


@pytest.mark.parametrize(
    ("name", "place", "tags"),
    [(SHEET, "</sheetData>", "<a/>" * 150_000), (SHEET, "</row>", "<c><v>1</v></c>" * 40_000),
     ("xl/styles.xml", "</fonts>", "<font/>" * 70_000), (TYPES, "</Types>", "<Default/>" * 70_000)],
)  # fmt: skip
def test_floods_of_tags_are_refused_before_they_are_read(name, place, tags):
    content = workbook(("a",), (1,))
    flooded = part(content, name).replace(place, tags + place, 1)
    assert "too large" in refused(changed(content, {name: flooded}))[0].message


def test_wide_rows_are_told_and_the_others_are_kept():
    read = table(workbook(("a",), (1,) * (MOST_COLUMNS + 1), (2,)))
    assert [line.number for line in read.lines] == [3]
    assert read.broken[0].row.field == "row 2"


@settings(max_examples=150, deadline=None)
@given(
    where=st.integers(0, 10_000),
    junk=st.binary(min_size=1, max_size=8),
    which=st.sampled_from([SHEET, "xl/styles.xml", "xl/workbook.xml", "xl/_rels/workbook.xml.rels", TYPES]),
)
def test_whatever_stands_in_a_part_is_read_or_refused_in_our_words(where, junk, which):
    content = workbook(("a", "b"), (1, "x"))
    old = zipfile.ZipFile(io.BytesIO(content)).read(which)
    at = where % len(old)
    try:
        table(changed(content, {which: old[:at] + junk + old[at + len(junk) :]}))
        remedies = []
    except BadInputs as error:
        remedies = [row.remedy for row in error.rows()]
    assert all(remedies)


def test_a_drive_log_names_the_rows_of_the_sheet():
    rows = [(k, 72, 9.5, 0.8) for k in range(20)]
    formats = {f"D{row}": "0%" for row in range(2, 23)}
    names = ("Time (s)", "Speed (km/h)", "Pack power (kW)", "SoC (%)")
    found = read_drive_log(workbook(names, *rows, (20, "fast", 1, 0.8), (21, 72, 1, 0.8), formats=formats))
    assert [row.field for row in found.errors] == ["row 22, speed (km/h)"]
    assert found.log.charge[0] == pytest.approx(0.8)
    assert len(found.log.time_s) == 21


def test_a_track_and_weather_with_real_dates_need_their_zone_only():
    start = dt.datetime(2026, 4, 3, 7)
    drive = [(start + dt.timedelta(seconds=k), min(2 * k, 50), 100) for k in range(120)]
    track = read_track(workbook(("time", "speed [mph]", "elevation (ft)"), *drive), "America/Chicago")
    assert track.errors == ()
    assert track.duration_s == pytest.approx(119, abs=2)
    hours = [(start + dt.timedelta(hours=k), 50) for k in range(48)]
    weather = read_weather_file(workbook(("Date", "Temp (°F)"), *hours), "America/Chicago")
    assert weather.months[3].low_c == pytest.approx(10)


def test_routes_are_the_same_from_both():
    rows = [("route", "distance_km", "speed_km_h"), ("Harbour", 12.5, 40), (None, "7,5", 60), ("Hills", "far", 50)]
    catalogue = load_catalogue()
    content = workbook(*rows)
    found = read_routes(content, catalogue)
    assert [leg.distance_km for leg in found.routes[0].journey.legs] == [12.5, 7.5]
    assert [(row.field, row.value) for row in found.errors] == [("row 4, distance_km", "far")]
    assert read_routes(text_of_table(content, 1_000_000, 2000).encode(), catalogue) == found


def test_a_text_with_other_marks_in_it_stays_one_cell():
    content = workbook(("route; all", "distance_km"), ("a\tb", 1))
    again = read_table_text(text_of_table(content, 1000_000, 100).encode(), 10_000, 100)
    assert again.header.cells == ("route; all", "distance_km")
