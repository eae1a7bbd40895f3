"""The lower end of a band from half a dozen drives, in place of 256 sampled ones.

Method   1. The causes of the energy drawn add up; each factor scales one of them (speed and wind by their square), and
            usable energy scales the whole. The ledger shows the shares of five factors; one drive at +1 σ each shows
            those of the others (`MARCHED`).
         2. With those shares the quote's own sampled draws give the tenth per cent of that sum in closed form.
         3. The draw straight against the slopes that the sum puts at this value is driven: its distance is the answer,
            so that where a journey ends in its lap, limits and warm-up are marched, not modelled.
Valid    within 3 % of the sampled tenth per cent (tests/fleet: five cars, −18 to 36 °C, three kinds of route).
Source   the design point of first-order reliability (Hasofer and Lind, J. Eng. Mech. Div. ASCE 100 (1974) 111, from
         memory), with the curvature of a sum of log-normal parts in place of the straight line.
"""

import numpy as np

from service.physics.rows import DRAW, table
from service.quotes.band import ROWS, hypercube, label_hypercube

__all__ = ["FACTORS", "MARCHED", "draws_at", "one_at_a_time", "places_of", "slopes", "slopes_by_ledger", "toward_low"]

FACTORS = tuple(name for name in DRAW.names if name != "charger")  # what the socket loses moves no range
COLUMNS = [DRAW.names.index(name) for name in FACTORS]
USABLE = FACTORS.index("usable")
POWER = np.array([2.0 if name in ("speed", "wind") else 1.0 for name in FACTORS])  # of the factor, in air drag
BOOKED = {  # factors that scale what the ledger books under these causes
    "tyre": ("rolling_j",),
    "air": ("air_j",),
    "resistance": ("pack_j",),
    "heat": ("heating_j", "cooling_j"),
    "auxiliary": ("electronics_j",),
}
MARCHED = [column for column, name in enumerate(FACTORS) if name not in BOOKED]  # columns of `FACTORS`
NINE_IN_TEN = 0.1  # quantile that nine days in ten are above
LEAST_M = 1.0  # a drive that hardly starts has no logarithm
LEAST_ENERGY = 0.05  # of the typical drive's: keeps the logarithm finite for draws far out
FARTHEST = 5.0  # standard deviations: the design point lies at about 1.3
HALVINGS = 30


def one_at_a_time(cells: int) -> np.ndarray:
    """Each of the `MARCHED` factors one standard deviation up, the rest typical, for every cell.

    Shape (cells·marched, factors).
    """
    return np.tile(np.eye(len(FACTORS))[MARCHED], (cells, 1))


def draws_at(sigma: np.ndarray, place: np.ndarray) -> np.recarray:
    """A table of `rows.DRAW`.

    Args:
        sigma: standard deviation of the logarithm of each factor, shape (rows, factors).
        place: where to draw, in standard deviations, same shape.
    """
    draws = table(DRAW, len(place))
    draws.charger = 1.0
    for column, name in enumerate(FACTORS):
        draws[name] = np.exp(sigma[:, column] * place[:, column])
    return draws


def slopes(moved_m: np.ndarray, central_m: np.ndarray) -> np.ndarray:
    """ln of distance over the typical one with each factor alone at +1 σ, shape (cells, marched).

    Args:
        moved_m: distances with one factor moved by +1 σ, m, shape (cells, marched).
        central_m: distances of the typical car, m, shape (cells,).
    """
    return np.log(np.maximum(moved_m, LEAST_M) / np.maximum(central_m, LEAST_M)[:, None])


def slopes_by_ledger(marched: np.ndarray, ledgers: np.recarray, sigma: np.ndarray) -> np.ndarray:
    """Slopes of all factors, shape (cells, factors): from the shares of the cell's own ledger, and `marched` ones.

    No ledger tells speed, style, wind and usable energy apart, nor which drivetrain losses the factor scales.
    """
    slope = np.zeros_like(sigma)
    slope[:, MARCHED] = marched
    for name, causes in BOOKED.items():
        column = FACTORS.index(name)
        share = sum(ledgers[cause] for cause in causes) / np.maximum(ledgers.cells_j, 1.0)
        slope[:, column] = -np.log1p(np.clip(share, 0.0, 1.0) * np.expm1(sigma[:, column]))
    return slope


def toward_low(slope: np.ndarray, sigma: np.ndarray, mix: np.ndarray | None = None) -> np.ndarray:
    """The draw that nine days in ten beat, in standard deviations, shape (cells, factors).

    Args:
        slope: ln of distance over the typical one with each factor alone at +1 σ, same shape.
        sigma: standard deviation of the logarithm of each factor, same shape.
        mix: how standard normals make the factors' places where a label ties them together, shape
            (cells, factors, normals of `band.label_hypercube`); None: one normal each.
    """
    if mix is None:
        sampled, tied = hypercube(ROWS, len(DRAW.names))[:, COLUMNS], slope
    else:
        sampled = label_hypercube(ROWS) @ mix.transpose(0, 2, 1)
        tied = np.einsum("cfz,cf->cz", mix, slope)
    length = np.linalg.norm(tied, axis=1, keepdims=True)
    down = -np.divide(tied, length, out=np.zeros_like(tied), where=length > 0)
    if mix is not None:
        down = np.einsum("cfz,cz->cf", mix, down)
    goal = np.quantile(log_range(slope[:, None], sigma[:, None], sampled), NINE_IN_TEN, axis=1)
    near, far = np.zeros(len(slope)), np.full(len(slope), FARTHEST)
    for _ in range(HALVINGS):
        middle = 0.5 * (near + far)
        beyond = log_range(slope, sigma, middle[:, None] * down) > goal
        near, far = np.where(beyond, middle, near), np.where(beyond, far, middle)
    return near[:, None] * down


def places_of(mix: np.ndarray, sigma: np.ndarray) -> np.ndarray:
    """Slopes of a car's factors on its normals (`band.mixing_for`), as places of `FACTORS` in standard deviations."""
    rows = mix[COLUMNS]
    return np.divide(rows, sigma[:, None], out=np.zeros_like(rows), where=sigma[:, None] > 0)


def log_range(slope: np.ndarray, sigma: np.ndarray, place: np.ndarray) -> np.ndarray:
    """ln of distance over the typical one, for draws at `place`; last axis the factors."""
    spread = np.where(sigma > 0, sigma, 1.0)
    share = np.expm1(-slope) / np.expm1(POWER * spread)
    share[..., USABLE] = 0.0
    energy = 1 + np.sum(share * np.expm1(POWER * spread * place), axis=-1)
    return slope[..., USABLE] * place[..., USABLE] - np.log(np.maximum(energy, LEAST_ENERGY))
