"""The draw that nine days in ten beat, on drives whose distance is known in closed form."""

import numpy as np
import pytest

from service.fleet.first_order import (
    FACTORS,
    MARCHED,
    draws_at,
    log_range,
    one_at_a_time,
    places_of,
    slopes,
    slopes_by_ledger,
    toward_low,
)
from service.physics.rows import DRAW, LEDGER, table
from service.quotes.band import ROWS, hypercube, label_hypercube, mixing_for, scatter
from service.quotes.label import anchored
from service.specs import Ask, Journey, Weather

SIGMA = np.full((1, len(FACTORS)), 0.1)


def shares(**given):
    return np.array([given.get(name, 0.0) for name in FACTORS])


def distance(place, sigma, share):
    """100 m of an energy that is a sum of parts, each scaled by its factor; usable energy scales the whole."""
    power = np.array([2.0 if name in ("speed", "wind") else 1.0 for name in FACTORS])
    factor = np.exp(sigma * place)
    usable = factor[..., FACTORS.index("usable")]
    return 100.0 * usable / (1 + np.sum(share * (factor**power - 1), axis=-1))


@pytest.mark.parametrize(
    "share",
    [
        shares(),  # usable energy alone
        shares(heat=0.5, tyre=0.2, air=0.2),
        shares(tyre=0.3, air=0.4, speed=0.4, loss=0.15, wind=0.02),
    ],
)
@pytest.mark.parametrize("size", [0.03, 0.1, 0.25])
def test_the_draw_reaches_the_sampled_tenth_per_cent(share, size):
    sigma = SIGMA * size / 0.1
    moved = distance(np.eye(len(FACTORS)), sigma, share)[None]
    place = toward_low(slopes(moved, np.array([100.0])), sigma)
    sampled = hypercube(ROWS, len(DRAW.names))[:, [DRAW.names.index(name) for name in FACTORS]]
    expected = np.quantile(distance(sampled, sigma, share), 0.1)
    assert distance(place, sigma, share)[0] == pytest.approx(expected, rel=1e-3)


def test_a_drive_that_nothing_moves_has_no_spread():
    assert (toward_low(slopes(np.full((2, len(FACTORS)), 50.0), np.full(2, 50.0)), SIGMA.repeat(2, axis=0)) == 0).all()


def test_draws_hold_the_factors_where_they_belong():
    draws = draws_at(SIGMA.repeat(len(MARCHED), axis=0), one_at_a_time(1))
    for row, name in enumerate(FACTORS[column] for column in MARCHED):
        assert draws[name][row] == pytest.approx(np.exp(0.1))
        assert all(draws[other][row] == 1.0 for other in DRAW.names if other != name)
    assert (draws.charger == 1.0).all()


def test_the_ledger_tells_what_a_factor_costs():
    # half of the energy is heat: a quarter more heat is an eighth more energy
    ledger = table(LEDGER, 1)
    ledger.cells_j, ledger.heating_j, ledger.cooling_j = 100.0, 30.0, 20.0
    sigma = np.full((1, len(FACTORS)), np.log(1.25))
    slope = slopes_by_ledger(np.full((1, len(MARCHED)), -0.03), ledger, sigma)
    assert np.exp(-slope[0, FACTORS.index("heat")]) == pytest.approx(1.125)
    assert slope[0, FACTORS.index("tyre")] == 0.0
    assert (slope[0, MARCHED] == -0.03).all()


def test_factors_tied_by_a_label_are_drawn_together(catalogue, values):
    ask, _ = anchored(Ask(catalogue.vehicles["mid-electric-sedan"], Journey(cycle="udds"), Weather(283.15)), catalogue)
    sigma = np.array([[scatter(ask, values)[name] for name in FACTORS]])
    mix = places_of(mixing_for(ask, values), sigma[0])[None]
    slope = slopes(distance(np.eye(len(FACTORS)), sigma, shares(tyre=0.3, air=0.4, loss=0.15))[None], np.array([100.0]))
    free, tied = toward_low(slope, sigma), toward_low(slope, sigma, mix)
    sampled = label_hypercube(ROWS) @ mix[0].T
    expected = np.quantile(log_range(slope[0], sigma[0], sampled), 0.1)
    assert log_range(slope, sigma, tied)[0] == pytest.approx(expected, rel=0.02)
    assert log_range(slope, sigma, tied)[0] > log_range(slope, sigma, free)[0]  # the label narrows it
