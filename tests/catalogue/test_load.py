"""The whole catalogue: where it lies, that it is read-only, that one bad cell anywhere is named."""

import csv
import dataclasses
import math
import shutil
from enum import Enum

import pytest
from hypothesis import given
from hypothesis import strategies as st

from service.catalogue import Catalogue, data_folder, load_catalogue
from service.errors import BadTable, UnknownEntry

ENTRIES = load_catalogue()
LOOK_UPS = ("vehicle", "cycle", "circuit", "place", "chemistry", "body", "surface")


def numbers_in(value):
    """Every number within a spec, however deep."""
    if dataclasses.is_dataclass(value):
        for field in dataclasses.fields(value):
            yield from numbers_in(getattr(value, field.name))
    elif isinstance(value, tuple):
        for item in value:
            yield from numbers_in(item)
    elif isinstance(value, int | float) and not isinstance(value, Enum):
        yield value


def change_cell(path, row, column, text):
    lines = list(csv.reader(path.read_text("utf-8").splitlines()))
    lines[row][lines[0].index(column)] = text
    with path.open("w", encoding="utf-8", newline="") as file:
        csv.writer(file, lineterminator="\n").writerows(lines)


def test_checkout_keeps_data_beside_the_package(tmp_path):
    (tmp_path / "data").mkdir()
    (tmp_path / "data" / "vehicles.csv").touch()
    assert data_folder(tmp_path / "service") == tmp_path / "data"


def test_wheel_keeps_data_inside_the_package(tmp_path):
    for folder in (tmp_path / "service" / "data", tmp_path / "data"):
        folder.mkdir(parents=True)
        (folder / "vehicles.csv").touch()
    assert data_folder(tmp_path / "service") == tmp_path / "service" / "data"


def test_stranger_folder_named_data_is_not_taken(tmp_path):
    (tmp_path / "data").mkdir()
    with pytest.raises(BadTable, match="neither inside the package nor beside it"):
        data_folder(tmp_path / "service")


def test_tables_load_from_any_folder(tmp_path, monkeypatch):
    shutil.copytree(data_folder(), tmp_path / "service" / "data")
    monkeypatch.chdir(tmp_path)
    found = load_catalogue(data_folder(tmp_path / "service"))
    for field in dataclasses.fields(Catalogue):
        assert getattr(found, field.name) == getattr(ENTRIES, field.name)


@pytest.mark.parametrize("field", [field.name for field in dataclasses.fields(Catalogue)])
def test_mappings_are_read_only_and_keyed_by_their_entry(field):
    entries = getattr(ENTRIES, field)
    assert entries
    assert all(key == (entry.name if field == "typical" else entry.id) for key, entry in entries.items())
    with pytest.raises(TypeError):
        entries["new"] = None


@pytest.mark.parametrize("field", [field.name for field in dataclasses.fields(Catalogue)])
def test_every_number_is_finite(field):
    for entry in getattr(ENTRIES, field).values():
        found = list(numbers_in(entry))
        assert found
        assert all(math.isfinite(number) for number in found)


@pytest.mark.parametrize("look_up", LOOK_UPS)
@given(entry_id=st.text(max_size=20))
def test_unknown_id_names_the_field(look_up, entry_id):
    with pytest.raises(UnknownEntry) as caught:
        getattr(ENTRIES, look_up)(entry_id + "?", field="somewhere.id")
    row = caught.value.rows()[0]
    assert row.field == "somewhere.id"
    assert row.value == entry_id + "?"
    assert row.remedy


@pytest.mark.parametrize("look_up", LOOK_UPS)
def test_known_id_is_found(look_up):
    entries = getattr(ENTRIES, {"body": "bodies", "chemistry": "chemistries"}.get(look_up, f"{look_up}s"))
    for entry_id, entry in entries.items():
        assert getattr(ENTRIES, look_up)(entry_id) is entry


def test_misspelt_car_is_told_the_nearest():
    with pytest.raises(UnknownEntry, match=r"^vehicle\.id: .* did you mean 'compact-plug-in'"):
        ENTRIES.vehicle("compact-plugin")


def test_missing_default_is_a_fault_of_the_table():
    name = next(iter(ENTRIES.typical))
    assert ENTRIES.typical_entry(name).name == name
    with pytest.raises(BadTable, match=r"typical\.csv: there is no row named 'no_such_default'"):
        ENTRIES.typical_entry("no_such_default")


@pytest.mark.parametrize(
    ("file_name", "row", "column", "text", "words"),
    [
        ("vehicles.csv", 2, "mass_kg", "190", "190 is outside 500 to 7500"),
        ("vehicles.csv", 2, "kind", "moped", "'moped' is none of bev, phev, hybrid"),
        ("vehicles.csv", 1, "id", "", "the cell is blank"),
        ("vehicles.csv", 1, "chemistry", "lead", "'lead' is none of nmc, nca, lfp"),
        ("vehicles.csv", 1, "body", "huge", "'huge' is none of"),
        ("vehicles.csv", 1, "cd_a_m2", "0.6", "road load is given in 2 ways instead of one"),
        ("vehicles.csv", 3, "crr", "", "the cell is blank"),
        ("vehicles.csv", 1, "reference_kpa", "98210", "98210 is outside 70 to 105"),
        ("vehicles.csv", 4, "nominal_kwh", "70", "70 is outside 75 to 300"),
        ("vehicles.csv", 5, "onboard_charger_phases", "2.5", "2.5 is not a whole number"),
        ("circuits.csv", 4, "region", "asia", "'asia' is none of north_america"),
        ("circuits.csv", 4, "continuous_a", "300", "300 is outside 6 to 80"),
        ("circuits.csv", 1, "rule", "half", "'half' is none of four_fifths"),
        ("circuits.csv", 1, "fitting", "wall", "'wall' is none of socket, wall_unit"),
        ("circuits.csv", 1, "usual", "often", "'often' is none of yes, no"),
        ("circuits.csv", 1, "rating_a", "0", "0 is outside 10 to 100"),
        ("chemistries.csv", 1, "cell_max_v", "42", "42 is outside 2.5 to 4.5"),
        ("chemistries.csv", 1, "activation_kj_mol", "25000", "25000 is outside 10 to 60"),
        ("chemistry_ocv.csv", 10, "ocv_v", "2.0", "2 V does not rise above"),
        ("chemistry_ocv.csv", 41, "ocv_v", "4.3", "4.3 is outside 1 to 4.2"),
        ("chemistry_ocv.csv", 3, "soc", "0.06", "the grid is not equally spaced"),
        ("places.csv", 14, "month", "13", "13 is outside 1 to 12"),
        ("places.csv", 14, "lat", "1.0", "it differs from the first month of the same place"),
        ("places.csv", 1, "t_max_c", "-20", "-20 is outside -11.6 to 55"),
        ("cycles/udds.csv", 100, "time_s", "99.5", "99.5 should be 99"),
        ("cycles/udds.csv", 100, "speed_km_h", "-1", "-1 is outside 0 to 160"),
        ("cycles/udds.csv", 1370, "speed_km_h", "5", "starts and ends at rest"),
        ("bodies.csv", 1, "sun_m2", "90", "90 is outside 0.1 to 5"),
        ("surfaces.csv", 1, "rolling_factor", "0", "0 is outside 0.9 to 3"),
        ("tyre_classes.csv", 1, "crr", "0.59", "0.59 is outside 0.003 to 0.02"),
        ("typical.csv", 1, "spread", "25", "25 is outside 0 to 1"),
        ("typical.csv", 1, "value", "nan", "nan is outside"),
        ("power_splits.csv", 1, "id", "no-such-car", "'no-such-car' is none of compact-plug-in"),
        ("power_splits.csv", 1, "id", "small-electric-hatch", "has no engine to put on the carrier"),
        ("power_splits.csv", 1, "ring_teeth", "30", "30 teeth do not surround a sun of 34"),
        ("power_splits.csv", 1, "sun_teeth", "30.5", "30.5 is not a whole number"),
        ("power_splits.csv", 1, "one_way_clutch", "maybe", "'maybe' is none of yes, no"),
    ],
)
def test_one_bad_cell_is_named(data_copy, file_name, row, column, text, words):
    change_cell(data_copy / file_name, row, column, text)
    with pytest.raises(BadTable) as caught:
        load_catalogue(data_copy)
    assert caught.value.file_name == file_name
    assert f"row {row}, column {column}: " in caught.value.message
    assert words in caught.value.message


def test_road_load_left_out_is_named(data_copy):
    for column in ("cd_a_m2", "crr"):
        change_cell(data_copy / "vehicles.csv", 3, column, "")
    with pytest.raises(BadTable, match=r"vehicles\.csv: row 3, column a_lbf: road load is given in 0 ways"):
        load_catalogue(data_copy)


def test_place_cut_short_is_named(data_copy):
    path = data_copy / "places.csv"
    path.write_text("\n".join(path.read_text("utf-8").splitlines()[:-1]) + "\n", "utf-8")
    with pytest.raises(BadTable, match=r"places\.csv: row 719, column month: the place ends after 11 of 12 months"):
        load_catalogue(data_copy)


def test_months_out_of_order_are_named(data_copy):
    path = data_copy / "places.csv"
    lines = path.read_text("utf-8").splitlines()
    lines[14], lines[15] = lines[15], lines[14]
    path.write_text("\n".join(lines) + "\n", "utf-8")
    with pytest.raises(BadTable, match=r"places\.csv: row 14, column month: month 2 should stand here"):
        load_catalogue(data_copy)


def test_chemistry_without_a_curve_is_named(data_copy):
    change_cell(data_copy / "chemistries.csv", 1, "id", "lmo")
    with pytest.raises(BadTable, match=r"chemistry_ocv\.csv: there are no voltages for chemistry 'lmo'"):
        load_catalogue(data_copy)


def test_cycle_without_a_rank_is_named(data_copy):
    path = data_copy / "cycles" / "nycc.toml"
    path.write_text(path.read_text("utf-8").replace("rank = 4", ""), "utf-8")
    with pytest.raises(BadTable, match=r"cycles/nycc\.toml: it does not give rank"):
        load_catalogue(data_copy)


def test_folder_without_cycles_is_named(data_copy):
    shutil.rmtree(data_copy / "cycles")
    with pytest.raises(BadTable, match="cycles: the folder holds no drive cycle"):
        load_catalogue(data_copy)
