import csv
import datetime
import tomllib
from enum import StrEnum

import pytest
from hypothesis import given
from hypothesis import strategies as st

from service.catalogue import data_folder
from service.catalogue.tables import Row, read_table
from service.errors import BadTable

TABLES = sorted(data_folder().rglob("*.csv"))
GOOD_TOML = """title = "T"\nsource = "S"\nlicence = "L"\nretrieved = 2026-11-25
[columns]\nid = "name"\nmass_kg = "mass, kg"\n"""
GOOD_CSV = "id,mass_kg\na,1000\nb,1200\n"


class Colour(StrEnum):
    RED = "red"
    BLUE = "blue"


def write(folder, text=GOOD_CSV, about=GOOD_TOML):
    (folder / "cars.csv").write_text(text, "utf-8")
    (folder / "cars.toml").write_text(about, "utf-8")


def row_of(**cells):
    return Row("cars.csv", 3, cells)


@pytest.mark.parametrize("path", TABLES, ids=lambda path: path.stem)
def test_every_table_is_described(path):
    about = tomllib.loads(path.with_suffix(".toml").read_text("utf-8"))
    header = path.read_text("utf-8").splitlines()[0]
    assert list(about["columns"]) == header.split(",")
    assert all(about["columns"].values())
    assert about["title"]
    assert about["source"]
    assert about["licence"]
    assert isinstance(about["retrieved"], datetime.date)


def test_every_description_has_its_table():
    assert {path.with_suffix(".csv") for path in data_folder().rglob("*.toml")} == set(TABLES)


@pytest.mark.parametrize("path", TABLES, ids=lambda path: path.stem)
def test_every_table_is_plain_text_with_unix_line_ends(path):
    raw = path.read_bytes()
    assert b"\r" not in raw
    assert raw.endswith(b"\n")
    assert not raw.startswith(b"\xef\xbb\xbf")
    assert all(row for row in csv.reader(raw.decode("utf-8").splitlines()))


def test_good_table_is_read_in_file_order(tmp_path):
    write(tmp_path, "id,mass_kg\nb,1200\na,1000\n")
    table = read_table(tmp_path, "cars")
    assert [row.text("id") for row in table.rows()] == ["b", "a"]
    assert table.numbers("mass_kg", 500, 7500) == (1200.0, 1000.0)
    assert table.about["title"] == "T"


def test_quoted_comma_stays_in_its_cell(tmp_path):
    write(tmp_path, 'id,mass_kg\n"a, the first",1000\n')
    assert next(read_table(tmp_path, "cars").rows()).text("id") == "a, the first"


@pytest.mark.parametrize(
    ("text", "about", "file_name", "words"),
    [
        ("id,mass_lb\na,1\n", GOOD_TOML, "cars.csv", "the header 'id,mass_lb' is not 'id,mass_kg'"),
        ("mass_kg,id\n1,a\n", GOOD_TOML, "cars.csv", "the header"),
        ("id,mass_kg\na,1,2\n", GOOD_TOML, "cars.csv", "row 1 has 3 cells instead of 2"),
        ("id,mass_kg\na,1\n\nb,2\n", GOOD_TOML, "cars.csv", "row 2 has 0 cells instead of 2"),
        ("id,mass_kg\na,1\nb,2\na,3\n", GOOD_TOML, "cars.csv", "row 3, column id: 'a' stands already in row 1"),
        ("id,mass_kg\n", GOOD_TOML, "cars.csv", "no rows"),
        ("", GOOD_TOML, "cars.csv", "no rows"),
        ('id,mass_kg\n"a"b,1\n', GOOD_TOML, "cars.csv", "not CSV"),
        (GOOD_CSV, GOOD_TOML.replace('source = "S"\n', ""), "cars.toml", "does not give source"),
        (GOOD_CSV, GOOD_TOML.replace('"L"', '""'), "cars.toml", "does not give licence"),
        (GOOD_CSV, "title = ", "cars.toml", "not TOML"),
    ],
)
def test_broken_table_is_named(tmp_path, text, about, file_name, words):
    write(tmp_path, text, about)
    with pytest.raises(BadTable) as caught:
        read_table(tmp_path, "cars")
    assert caught.value.file_name == file_name
    assert words in caught.value.message


def test_missing_key_column_is_named(tmp_path):
    write(tmp_path)
    with pytest.raises(BadTable, match=r"cars\.csv: there is no column month"):
        read_table(tmp_path, "cars", key=("id", "month"))


@pytest.mark.parametrize("missing", ["cars.csv", "cars.toml"])
def test_missing_file_is_named(tmp_path, missing):
    write(tmp_path)
    (tmp_path / missing).unlink()
    with pytest.raises(BadTable, match="cannot be read") as caught:
        read_table(tmp_path, "cars")
    assert caught.value.file_name == missing


def test_text_that_is_not_utf8_is_named(tmp_path):
    write(tmp_path)
    (tmp_path / "cars.csv").write_bytes(b"id,mass_kg\n\xff,1\n")
    with pytest.raises(BadTable, match=r"cars\.csv: it is not UTF-8"):
        read_table(tmp_path, "cars")


@pytest.mark.parametrize("cell", ["", "heavy", "1,5", "nan", "inf", "-inf", "499.9", "7501", "0x10"])
def test_cell_that_is_no_plausible_number_names_row_and_column(cell):
    with pytest.raises(BadTable, match=r"^cars\.csv: row 3, column mass_kg: "):
        row_of(mass_kg=cell).number_in("mass_kg", 500, 7500)


@pytest.mark.parametrize("cell", ["heavy", "nan", "7501"])
def test_column_of_numbers_is_checked_like_a_cell(tmp_path, cell):
    write(tmp_path, f"id,mass_kg\na,1000\nb,{cell}\n")
    with pytest.raises(BadTable, match=r"^cars\.csv: row 2, column mass_kg: "):
        read_table(tmp_path, "cars").numbers("mass_kg", 500, 7500)


@given(st.floats(-1e6, 1e6))
def test_number_written_in_full_is_read_back_exactly(value):
    assert row_of(mass_kg=repr(value)).number_in("mass_kg", -1e6, 1e6) == value


def test_blank_is_unknown_only_where_it_may_be():
    row = row_of(mass_kg="  ")
    assert row.optional_text("mass_kg") is None
    assert row.optional_number_in("mass_kg", 0, 1) is None
    assert row.optional_count_in("mass_kg", 0, 1) is None
    with pytest.raises(BadTable, match="row 3, column mass_kg: the cell is blank"):
        row.text("mass_kg")


def test_column_that_does_not_exist_is_named():
    with pytest.raises(BadTable, match="row 3, column volts: there is no such column"):
        row_of(mass_kg="1").text("volts")


def test_count_is_whole():
    assert row_of(phases="3").count_in("phases", 1, 3) == 3
    with pytest.raises(BadTable, match=r"column phases: 1\.5 is not a whole number"):
        row_of(phases="1.5").count_in("phases", 1, 3)


def test_choice_is_one_of_the_words():
    assert row_of(colour="blue").choice("colour", Colour) is Colour.BLUE
    with pytest.raises(BadTable, match="row 3, column colour: 'BLUE' is none of red, blue"):
        row_of(colour="BLUE").choice("colour", Colour)


def test_id_is_known_to_the_other_table():
    assert row_of(body="small").known("body", {"small": 1}) == "small"
    with pytest.raises(BadTable, match="row 3, column body: 'huge' is none of small"):
        row_of(body="huge").known("body", {"small": 1})
