"""The table of routes written as people edit it, and read back."""

import pytest

from service.catalogue import load_catalogue
from service.intake.comparison import RouteIn
from service.intake.routes_csv import demo_routes, read_routes
from service.intake.routes_table import routes_table


@pytest.fixture(scope="module")
def catalogue():
    return load_catalogue()


@pytest.mark.parametrize("units", ["metric", "us"])
def test_the_demo_routes_come_back_as_they_were(catalogue, units):
    routes = demo_routes(catalogue)
    read = read_routes(routes_table(routes, units).encode(), catalogue)
    assert read.errors == ()
    assert [route.name for route in read.routes] == [route.name for route in routes]
    for mine, theirs in zip(read.routes, routes, strict=True):
        assert mine.trips_per_day == theirs.trips_per_day
        assert mine.payload_kg == pytest.approx(theirs.payload_kg, rel=5e-4)  # four figures are written
        assert mine.journey.cycle == theirs.journey.cycle
        for leg, same in zip(mine.journey.legs or (), theirs.journey.legs or (), strict=True):
            assert leg.model_dump(exclude_none=True) == pytest.approx(same.model_dump(exclude_none=True), rel=5e-4)


def test_names_with_commas_and_quotes_survive(catalogue):
    route = RouteIn(name='Depot, "north"', journey={"legs": [{"distance_km": 5, "speed_km_h": 50}]})
    read = read_routes(routes_table([route], "metric").encode(), catalogue)
    assert read.routes[0].name == route.name


def test_headings_survive(catalogue):
    legs = [{"distance_km": 5, "speed_km_h": 50, "heading_deg": 270}, {"distance_km": 5, "speed_km_h": 50}]
    read = read_routes(routes_table([RouteIn(name="A", journey={"legs": legs})], "us").encode(), catalogue)
    assert [leg.heading_deg for leg in read.routes[0].journey.legs] == [270, None]


def test_the_column_of_cycles_is_there_only_if_a_route_needs_it():
    legs = RouteIn(name="A", journey={"legs": [{"distance_km": 5, "speed_km_h": 50}]})
    cycle = RouteIn(name="B", journey={"cycle": "udds"})
    assert "cycle" not in routes_table([legs], "metric")
    assert routes_table([legs, cycle], "metric").splitlines()[-1] == "B,1,0,,,,,udds"
