"""A car found behind the label of a known car, asked about other speeds and temperatures.

Known    200 cars drawn from the priors of data/typical.csv (scatter_*: tyre, air, losses, pack, heat, charger), on
         rolls with a fixed driver; each gets the label that its own test gives, rounded as labels are.
Asked    battery consumption at steady 50, 90 and 120 km/h at 20 °C, and at 90 km/h at −7, 0 and 35 °C with climate on.
Claim    it lies between P10 and P90 of the draws that the label leaves open in at least 80 % of the cases.
         As written: US 0.87 (0.84 to 0.92 by case), WLTP 0.86 (0.81 to 0.91); a perfect spread would hold 0.80,
         and the rest is the laboratory's repeatability, which draws have and these known cars do not.
"""

from dataclasses import replace

import numpy as np
import pytest

from service.physics.rows import DRAW, table
from service.physics.tables import central_draw, start_state
from service.quotes.assume import complete
from service.quotes.band import hypercube, scatter_apart
from service.quotes.label import fitted
from service.quotes.label_fit import label_figures
from service.quotes.label_spread import car_draws
from service.quotes.procedure_run import Trial, measure
from service.quotes.procedures import LABEL_RECIPES
from service.quotes.scenarios import Scenarios, rows_for, run
from service.specs import (
    Ask,
    Battery,
    BodyAndTyres,
    Cabin,
    Climate,
    Journey,
    Kind,
    Label,
    LabelProcedure,
    Leg,
    MassBasis,
    Procedure,
    Start,
    Vehicle,
    Weather,
)  # fmt: skip
from service.units import KM_H, KWH_J, MILE_M

CARS, DRAWS = 200, 256  # as many draws as a quote has
START = Start(0.15)  # a short drive to empty: consumption hardly depends on where it starts
STEADY = {f"{speed} km/h": (speed, 20.0, Climate.OFF) for speed in (50, 90, 120)}
DAYS = {f"{celsius} °C": (90, float(celsius), Climate.AUTO) for celsius in (-7, 0, 35)}
CASES = STEADY | DAYS
TRUTH = Vehicle(
    "own", "known", Kind.BEV, 1700.0, MassBasis.KERB, BodyAndTyres(0.74, 0.0075), Battery(50 * KWH_J), body="medium"
)  # drag area and tyres as data/typical.csv has them


def known_factors(values):
    """Factors of each known car; the driver is fixed."""
    ask = Ask(TRUTH, Journey(), Weather(293.15), Procedure.DYNAMOMETER)
    sigma = scatter_apart(ask, values)[0] | {"air": values["scatter_air_label"]}  # cars of one size
    cube = hypercube(CARS, 60)[:, -len(DRAW.names) :]  # other columns than those that draws of a label use
    factors = np.exp(cube * np.array([sigma[name] for name in DRAW.names]))
    factors[:, [DRAW.names.index(name) for name in ("speed", "acceleration", "wind")]] = 1.0
    return factors


def label_of(consumption_j_m, range_m, procedure):
    """Rounded as labels are: whole kWh/100 miles and miles, or 0.1 kWh/100 km and km."""
    us = procedure is LabelProcedure.US
    step, unit_m = (KWH_J / (100 * MILE_M), MILE_M) if us else (KWH_J / 1e6, 1000.0)
    rounded_m = round(range_m / unit_m) * unit_m
    return Label(procedure, round(consumption_j_m / step) * step, adjustment=0.7 if us else None, range_m=rounded_m)


def consumption_j_m(vehicle, factors, case, catalogue, values):
    """Cell energy of a drive to empty over its distance, a row a draw."""
    speed, celsius, climate = case
    ask = Ask(
        replace(vehicle, anchor=None), Journey(legs=(Leg(30_000.0, speed * KM_H),)), Weather(273.15 + celsius, 0.5),
        Procedure.DYNAMOMETER, START, Cabin(climate), band=False,
    )  # fmt: skip
    filled, _ = complete(ask, catalogue)
    cars, days = rows_for(filled, catalogue, values)
    draws = table(DRAW, len(factors))
    for column, name in enumerate(DRAW.names):
        draws[name] = factors[:, column]
    draws = np.concatenate([central_draw(), draws]).view(np.recarray)
    none, own = np.zeros(len(draws), int), np.arange(len(draws))
    states = start_state(filled.start, cars[0], days[0], len(draws))
    outcome = run(
        Scenarios(cars, days, draws, none, none, own, states, none.astype(bool), (filled,), 0), filled, catalogue
    )
    return outcome.total.cells_j / outcome.total.distance_m


@pytest.mark.parametrize("procedure", list(LabelProcedure))
def test_a_fitted_car_recovers_a_known_car_at_other_speeds_and_temperatures(procedure, catalogue, values):
    factors = known_factors(values)
    trials = [Trial(TRUTH, dict(zip(DRAW.names, map(float, row), strict=True))) for row in factors]
    measured = measure(trials, LABEL_RECIPES[procedure], catalogue)
    figures = label_figures(measured, Label(procedure, 1.0, 0.7))
    truth = {name: consumption_j_m(TRUTH, factors, case, catalogue, values)[1:] for name, case in CASES.items()}
    held = {name: 0 for name in CASES}
    for car in range(CARS):
        label = label_of(figures[0][car], figures[2][car], procedure)
        given = replace(TRUTH, road_load=None, label=label)
        found = fitted.__wrapped__(given, catalogue).vehicle  # not into the cache of the service
        drawn = car_draws(found, values, DRAWS)
        drawn[:, [DRAW.names.index(name) for name in ("speed", "acceleration", "wind")]] = 1.0
        for name, case in CASES.items():
            low, high = np.quantile(consumption_j_m(found, drawn, case, catalogue, values)[1:], (0.1, 0.9))
            held[name] += low <= truth[name][car] <= high
    shares = {name: count / CARS for name, count in held.items()}
    assert np.mean(list(shares.values())) >= 0.80, shares
    assert min(shares.values()) >= 0.76, shares  # each case alone: three in a hundred is one sigma of chance
