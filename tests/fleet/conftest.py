from dataclasses import replace

import pytest

from service.fleet.ask import ComparisonAsk, Month, Route
from service.fleet.compare import compare
from service.specs import Circuit, Journey, Leg, Weather

HILLY = Journey(legs=(Leg(9_000.0, 18.0, 0.0008, 0.01), Leg(7_000.0, 24.0), Leg(9_000.0, 14.0, 0.002, -0.01)))
TOWN = Journey(legs=(Leg(11_000.0, 11.0, 0.002),))
CYCLE = Journey(cycle="udds")
MONTHS = (
    Month("hard", Weather(255.15)),
    Month("cold", Weather(268.15, 0.8, 4.0, 20.0)),
    Month("mild", Weather(294.15, wind_m_s=2.0)),
    Month("hot", Weather(309.15, 0.5, 3.0, 300.0, 400.0)),
)
IDS = ("compact-plug-in", "family-suv-plug-in", "small-electric-hatch", "mid-electric-sedan", "electric-delivery-van")


@pytest.fixture(scope="session")
def question(catalogue):
    """Five vehicles, three routes, four days."""
    return ComparisonAsk(
        vehicles=tuple(catalogue.vehicles[id_] for id_ in IDS),
        routes=(
            Route("hilly", HILLY, 8, 200.0),
            Route("town", TOWN, 2),
            Route("cycle", CYCLE, 12, 50.0),
        ),
        months=MONTHS,
        reserve_m=15_000.0,
        circuit=Circuit("own", "16 A", "own", 230.0, 16.0),
    )


@pytest.fixture(scope="session")
def comparison(question, catalogue):
    return compare(question, catalogue)


@pytest.fixture(scope="session")
def alone(question):
    """The comparison of one cell: alone("mid-electric-sedan", "town", "cold")."""

    def of(vehicle, route, month):
        return replace(
            question,
            vehicles=tuple(each for each in question.vehicles if each.id == vehicle),
            routes=tuple(each for each in question.routes if each.name == route),
            months=tuple(each for each in question.months if each.name == month),
        )

    return of
