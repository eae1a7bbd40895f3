"""Tariffs from outside: JSON and CSV mean the same, and every fault is told at its field or row."""

import pytest
from pydantic import ValidationError

from service.errors import BadInputs
from service.intake.charging_plan import read_charging_plan
from service.intake.tariff import TariffSpecIn, tariff_rows
from service.specs import DayKind

PERIODS = [
    {"from": "07:00", "to": "23:00", "price_per_kwh": 0.36, "days": ["weekday"]},
    {"from": "00:00", "to": "07:00", "price_per_kwh": 0.22, "days": ["weekday"]},
    {"from": "23:00", "to": "24:00", "price_per_kwh": 0.22, "days": ["weekday"]},
    {"from": "00:00", "to": "24:00", "price_per_kwh": 0.2, "days": ["weekend", "holiday"]},
]
TABLE = """days,from,to,price_per_kwh
weekday,07:00,23:00,0.36
weekday,00:00,07:00,0.22
weekday,23:00,24:00,0.22
weekend holiday,00:00,24:00,0.2
"""
EVENING = {
    "vehicle": {"id": "compact-plug-in"},
    "circuit": {"id": "eu-household-10a"},
    "from_pct": 20,
    "to_pct": 80,
    "arrives": "2026-11-25T18:00:00+01:00",
    "departs": "2026-11-26T07:00:00+01:00",
    "tariff": {"id": "night-price-eur"},
}


def spec(**changes):
    return {"time_zone": "Europe/Berlin", "periods": PERIODS} | changes


@pytest.fixture
def rows_of(catalogue):
    """Faults by field of a changed evening."""

    def of(**changes):
        with pytest.raises(BadInputs) as caught:
            read_charging_plan(EVENING | changes, catalogue)
        return {row.field: row for row in caught.value.rows()}

    return of


def test_json_and_csv_mean_the_same():
    by_json = TariffSpecIn.model_validate(spec()).tariff()
    by_csv = TariffSpecIn.model_validate({"time_zone": "Europe/Berlin", "table": TABLE}).tariff()
    assert by_json == by_csv
    assert by_json.periods[3].days == (DayKind.WEEKEND, DayKind.HOLIDAY)


def test_semicolons_and_decimal_commas_are_read():
    periods, places = tariff_rows("from;to;price_per_kwh\n00:00;24:00;0,25\n", "tariff.spec.table")
    assert periods[0].price_per_j * 3.6e6 == pytest.approx(0.25)
    assert places == ("tariff.spec.table, row 2",)


@pytest.mark.parametrize(
    ("changes", "field", "words"),
    [
        ({"from": "08:00"}, "tariff.spec.periods", "no price from 07:00 to 08:00 (weekday; months 1-12)"),
        ({"from": "06:00"}, "tariff.spec.periods[1]", "two prices from 06:00 to 07:00"),
        ({"to": "24:01"}, "tariff.spec.periods[0].to", "beyond 24:00"),
        ({"to": "06:00"}, "tariff.spec.periods[0].to", "not after 07:00"),
        ({"price_per_kwh": -0.1}, "tariff.spec.periods[0].price_per_kwh", "outside"),
        ({"price_per_kwh": float("nan")}, "tariff.spec.periods[0].price_per_kwh", "finite"),
        ({"price_per_kwh": float("inf")}, "tariff.spec.periods[0].price_per_kwh", "finite"),
        ({"price_per_kwh": "0.3"}, "tariff.spec.periods[0].price_per_kwh", "not a number"),
        ({"days": ["sunday"]}, "tariff.spec.periods[0].days[0]", "not one of the choices"),
        ({"months": [13]}, "tariff.spec.periods[0].months[0]", "outside 1 to 12"),
    ],
)
def test_a_bad_period_is_told_at_its_field_with_a_way_out(rows_of, changes, field, words):
    periods = [PERIODS[0] | changes, *PERIODS[1:]]
    row = rows_of(tariff={"spec": spec(periods=periods)})[field]
    assert words in row.message
    assert row.remedy


@pytest.mark.parametrize(
    ("line", "column", "words"),
    [
        ("sunday,07:00,23:00,0.36", "days", "none of weekday"),
        ("weekday,7 am,23:00,0.36", "from", "not a time of day"),
        ("weekday,07:00,24:30,0.36", "to", "beyond 24:00"),
        ("weekday,23:00,07:00,0.36", "to", "not after"),
        ("weekday,07:00,23:00,-0.36", "price_per_kwh", "outside"),
        ("weekday,07:00,23:00,nan", "price_per_kwh", "not a number"),
        ("weekday,07:00,23:00,1e999", "price_per_kwh", "not a number"),
    ],
)
def test_a_bad_cell_is_told_at_its_row_and_column(rows_of, line, column, words):
    table = TABLE.replace("weekday,07:00,23:00,0.36", line)
    row = rows_of(tariff={"spec": {"time_zone": "Europe/Berlin", "table": table}})[
        f"tariff.spec.table, row 2, {column}"
    ]
    assert words in row.message
    assert row.remedy


def test_tables_with_wrong_names_or_no_rows_are_told(rows_of):
    for table, field in (("from,to\n1,2", "row 1, price_per_kwh"), ("from,to,price_per_kwh,x\n", "row 1, x")):
        faults = rows_of(tariff={"spec": {"time_zone": "Europe/Berlin", "table": table}})
        assert f"tariff.spec.table, {field}" in faults


@pytest.mark.parametrize(
    "changes",
    [{"time_zone": "Europe/Nowhere"}, {"holidays": ["02-30"]}, {"table": TABLE}, {"periods": None},
     {"tiers": [{"up_to_kwh": 100, "adds_per_kwh": 0}]}, {"demand_per_kw": -1}, {"daily": float("nan")},
     {"tiers": [{"up_to_kwh": 100, "adds_per_kwh": 0}, {"up_to_kwh": 50, "adds_per_kwh": 0}, {"adds_per_kwh": 1}]}],
)  # fmt: skip
def test_what_cannot_be_a_tariff_is_refused(changes):
    with pytest.raises(ValidationError):
        TariffSpecIn.model_validate(spec(**changes))


@pytest.mark.parametrize(
    ("changes", "field", "words"),
    [
        ({"departs": "2026-11-25T17:00:00+01:00"}, "departs", "not after arrival"),
        ({"departs": "2026-12-25T17:00:00+01:00"}, "departs", "719 h after arrival"),
        ({"departs": "2026-11-26T07:00:00"}, "departs", "no offset"),
        ({"arrives": "tonight"}, "arrives", "not a date and time"),
        ({"arrives": "1066-10-14T09:00:00Z"}, "arrives", "outside 2000 to 2099"),
        ({"to_pct": 20}, "to_pct", "not above 20 %"),
        ({"from_pct": -1}, "from_pct", "outside 0 to 100 %"),
        ({"tariff": {"id": "night-price"}}, "tariff.id", "no entry"),
        ({"vehicle": {"id": "nobody"}}, "vehicle.id", "no entry"),
    ],
)
def test_a_bad_evening_is_told_at_its_field(rows_of, changes, field, words):
    row = rows_of(**changes)[field]
    assert words in row.message
    assert row.remedy


def test_all_faults_are_told_at_once(rows_of):
    gap = {"spec": spec(periods=PERIODS[1:])}
    assert {"arrives", "circuit.id", "tariff.spec.periods"} <= rows_of(
        arrives="x", circuit={"id": "nowhere"}, tariff=gap
    ).keys()
    assert {"vehicle.id", "tariff.spec.periods"} <= rows_of(vehicle={"id": "nobody"}, tariff=gap).keys()
