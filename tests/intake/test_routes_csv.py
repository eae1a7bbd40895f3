"""Routes from tables as people's programs save them; every bad cell is told, and good routes are kept."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from service.catalogue import load_catalogue
from service.errors import BadInputs
from service.intake.comparison import MOST_ROUTES
from service.intake.journey import MOST_LEGS
from service.intake.routes_csv import LARGEST_TABLE, MOST_ROWS, demo_routes, read_routes

CATALOGUE = load_catalogue()
HEADER = "route,trips_per_day,payload_kg,distance_km,speed_km_h,stops_per_km,grade_pct\n"


def read(text, encoding="utf-8"):
    return read_routes(text.encode(encoding), CATALOGUE)


def refused(content):
    with pytest.raises(BadInputs) as caught:
        read_routes(content if isinstance(content, bytes) else content.encode(), CATALOGUE)
    return caught.value.rows()


def test_rows_of_one_name_are_one_journey():
    found = read(HEADER + "A,2,300,10,60,0.5,1\nA,,,5,90,,\n,,,1,30,,-1\nB,1,0,3,40,0,0\n")
    assert (found.errors, found.left_out) == ((), ())
    first, second = found.routes
    assert (first.name, first.trips_per_day, first.payload_kg) == ("A", 2, 300)
    assert [(leg.distance_km, leg.speed_km_h, leg.stops_per_km, leg.grade_pct) for leg in first.journey.legs] == [
        (10, 60, 0.5, 1), (5, 90, 0, 0), (1, 30, 0, -1),
    ]  # fmt: skip
    assert second.name == "B"


@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "latin-1"])
@pytest.mark.parametrize("line_end", ["\n", "\r\n", "\r"])
@pytest.mark.parametrize(
    ("delimiter", "number"), [(",", "12.5"), (",", '"12,5"'), (";", "12,5"), (";", "12.5"), ("\t", "12,5")]
)
def test_what_spreadsheets_save_is_read(encoding, line_end, delimiter, number):
    text = line_end.join(
        ["Route,Distance_KM,SPEED_km_h".replace(",", delimiter), f"Zürich{delimiter}{number}{delimiter}60"]
    )
    (route,) = read(text, encoding).routes
    assert (route.name, route.journey.legs[0].distance_km) == ("Zürich", 12.5)


def test_us_columns_are_converted():
    # 1 mi = 1.609344 km and 1 lb = 0.45359237 kg, exact by definition
    (route,) = read("route,payload_lb,distance_mi,speed_mph,stops_per_mi\nA,1000,10,50,2\n").routes
    leg = route.journey.legs[0]
    assert route.payload_kg == pytest.approx(453.59237)
    assert (leg.distance_km, leg.speed_km_h) == (pytest.approx(16.09344), pytest.approx(80.4672))
    assert leg.stops_per_km * leg.distance_km == pytest.approx(20)


def test_a_cycle_stands_in_place_of_legs():
    found = read("route,cycle,trips_per_day\nA,udds,3\nB,nowhere,1\n")
    assert [(route.journey.cycle, route.trips_per_day) for route in found.routes] == [("udds", 3)]
    (error,) = found.errors
    assert (error.field, error.value) == ("row 3, cycle", "nowhere")


def test_every_bad_cell_is_told_and_good_routes_are_kept():
    found = read(
        HEADER
        + "good,1,0,10,60,0,0\n"
        + "bad,2.5,0,ten,600,0,0\n"
        + "bad,,,-5,60,0,20\n"
        + "\n"
        + "no legs,1,0,,,,\n"
        + "half,1,0,10,,,\n"
        + "twice,1,0,10,60,0,0\n"
        + "good too,1,0,10,60,0,0\n"
        + "twice,1,0,10,60,0,0\n"
        + "two loads,1,100,10,60,0,0\n"
        + "two loads,1,200,10,60,0,0\n"
        + "comma,1,0,10,5,60,0,0\n"
    )
    assert [route.name for route in found.routes] == ["good", "twice", "good too"]
    assert found.left_out == ("bad", "no legs", "half", "twice", "two loads", "comma")
    assert {error.field: error.value for error in found.errors} == {
        "row 3, trips_per_day": "2.5",
        "row 3, distance_km": "ten",
        "row 3, speed_km_h": "600",
        "row 4, distance_km": "-5",
        "row 4, grade_pct": "20",
        "row 6": None,
        "row 7, speed_km_h": None,
        "row 10, route": "twice",
        "row 12, payload_kg": "200",
        "row 13": None,
    }
    assert len(found.errors) == 10
    assert all(error.message and error.remedy for error in found.errors)


def test_messages_speak_the_unit_of_the_column():
    (error,) = read("route,distance_mi,speed_mph\nA,10,150\n").errors
    # 200 km/h = 124.27 mph
    assert (error.field, error.value, error.message) == (
        "row 2, speed_mph",
        "150",
        "150 mph is outside 3.107 to 124.2 mph",
    )


@pytest.mark.parametrize(
    ("delimiter", "cell"),
    [
        (",", '"1,200"'),
        (";", "1.200"),
        (";", "12 mi"),
        ("\t", "1,200"),
        (";", "1e999"),
        (";", "nan"),
        (";", "٣"),
        (";", "=1+1"),
        (";", "1 2"),
    ],
)
def test_a_number_that_is_not_certain_is_refused(delimiter, cell):
    found = read(delimiter.join(("route", "distance_km", "speed_km_h")) + "\n" + delimiter.join(("A", cell, "50")))
    assert not found.routes
    assert [error.field for error in found.errors] == ["row 2, distance_km"]


@pytest.mark.parametrize(
    ("content", "field"),
    [
        ("", "table"),
        ("\n\n", "table"),
        (b"\x00\x01", "table"),
        ("route,distance_km,speed_km_h\n", "row 1"),
        ("route,distance_km\nA,1\n", "row 1, speed_km_h"),
        ("distance_km,speed_km_h\n1,2\n", "row 1, route"),
        ("route,distance_km,speed_km_h,stops_per_kn\nA,1,2,1\n", "row 1, stops_per_kn"),
        ("route,distance_km,distance_mi,speed_km_h\nA,1,,50\n", "row 1, distance_km"),
        (b"x" * (LARGEST_TABLE + 1), "table"),
        (HEADER + "A,1,0,1,50,0,0\n" * (MOST_ROWS + 1), "table"),
    ],
)
def test_what_is_no_table_of_routes_is_refused(content, field):
    assert refused(content)[0].field == field


def test_reading_stops_where_quotes_do_not_close_and_says_so():
    found = read('route,distance_km,speed_km_h\nA,1,50\n"B,1,50\n')
    assert [route.name for route in found.routes] == ["A"]
    assert [error.field for error in found.errors] == ["row 3"]


def test_one_route_too_many_and_one_leg_too_many_are_told():
    found = read("route,distance_km,speed_km_h\n" + "".join(f"r{k},1,50\n" for k in range(MOST_ROUTES + 2)))
    assert len(found.routes) == MOST_ROUTES
    assert [error.field for error in found.errors] == [f"row {MOST_ROUTES + 2}, route", f"row {MOST_ROUTES + 3}, route"]
    long = read("route,distance_km,speed_km_h\n" + "A,1,50\n" * (MOST_LEGS + 1) + "B,1,50\n")
    assert [route.name for route in long.routes] == ["B"]
    assert [error.field for error in long.errors] == ["row 2"]


def test_the_demo_routes_are_all_good():
    routes = demo_routes(CATALOGUE)
    assert len({route.name for route in routes}) == len(routes) == 7


@settings(max_examples=150, derandomize=True, deadline=None)
@given(
    st.one_of(
        st.binary(max_size=400), st.text(alphabet='route,distance_km;speed\t\n"19.-=AB', max_size=300).map(str.encode)
    )
)
def test_nothing_breaks_the_reader(content):
    for start in (b"", b"route,distance_km,speed_km_h\n"):
        try:
            found = read_routes(start + content, CATALOGUE)
        except BadInputs as refusal:
            found, rows = None, refusal.rows()
        assert rows if found is None else found.errors or found.routes
        assert found is None or bool(found.errors) >= bool(found.left_out)


def test_names_as_people_write_them_and_columns_that_are_not_needed():
    names = "Route;Driver;Trips/day;Distance (km);Speed [km/h];Payload (kg);Slope (%)"
    found = read(f"Depot East\n\n{names}\nHarbour;Ida;4;12,5;40;350;1,5\n{names.lower()}\nTotal;;4;;;350;\n")
    (route,) = found.routes
    assert (route.trips_per_day, route.payload_kg, route.journey.legs[0].grade_pct) == (4, 350, 1.5)
    assert found.passed_over == ("row 1: depot east", "driver")
    assert found.errors[0].field == "row 5"
    assert found.left_out == ("Total",)


def test_a_misspelt_name_is_no_column_to_pass_over():
    row = refused("route,distence_km,speed_km_h,cycle\nA,1,2,\n")[0]
    assert row.field == "row 1, distence_km"
    assert "did you mean distance_km?" in row.remedy
