"""Draws of a car known by its label: what the priors leave open, held to what the label says.

Method   1. Factors are drawn from the priors, as for any car.
         2. Each draw is then brought to the label along the ways in which the fit was (`label_fit`), so that draws lie
            around the fitted car as known cars lie around theirs: usable energy or the charger's losses until a
            recharge takes what the label tells; air, and tyres with drivetrain losses, until the parts are met.
         3. Tyres and air are scaled together until the label's consumption is met, up to the noise of the label
            (rounding, repeatability) and to an adjustment nobody knows. Answers are shares of the consumption,
            first order: each draw, driven through the label's test, gives the label (tests/quotes/test_label_draws.py).
         4. Where the car's coefficients are known besides, label and priors are weighed instead: knowing more never
            widens a band. Parts of such a label are left to the fit.
         5. Wind, traffic and the day's tyres come on top; they were not in the test.
Source   `specs.Anchor` holds the answers; coverage of known cars is a test (tests/properties/test_labels.py).
"""

from collections.abc import Mapping
from functools import lru_cache
from statistics import NormalDist

import numpy as np

from service.physics.rows import DRAW
from service.quotes.procedures import LABEL_RECIPES
from service.specs import Anchor, Label, LabelProcedure

__all__ = ["EXTRA", "NO_DAY", "held_logs", "mixing"]

FACTORS = DRAW.names
TYRE, AIR, LOSS, USABLE = (FACTORS.index(name) for name in ("tyre", "air", "loss", "usable"))
NOISE_COLUMNS = 4  # a label has at most four parts
DAY_TYRE, DAY_AIR, AGED, ADJUSTMENT, ENERGY, COMMON = (len(FACTORS) + NOISE_COLUMNS + k for k in range(6))
EXTRA = NOISE_COLUMNS + 6  # columns of normals beside one a factor
ADJUSTMENT_SIGMA = 0.045  # of the logarithm of an adjustment even over 0.66 to 0.77: ln(0.77/0.66)/√12
SMALLEST = 0.05  # scale of tyres and air: keeps the logarithm finite for draws far out
NO_DAY = {"tyre": 0.0, "air": 0.0, "usable": 0.0}  # for `held_logs`: the car alone
STEP = 0.5  # standard deviations, for the slopes of `mixing`


def held_logs(
    normals: np.ndarray, car_sigma: Mapping[str, float], day_sigma: Mapping[str, float], anchor: Anchor, label: Label
) -> np.ndarray:
    """Logarithms of the factors of each draw, shape (rows, factors).

    Args:
        normals: standard normal, shape (rows, factors + EXTRA).
        car_sigma: one sigma of each factor before the label; of usable energy it is the anchor's.
        day_sigma: one sigma of what the day adds to tyre and air, and age to usable energy.
    """
    sigma = np.array([car_sigma[name] for name in FACTORS])
    sigma[USABLE] = anchor.usable_spread
    logs = normals[:, : len(FACTORS)] * sigma
    noise = normals[:, len(FACTORS) : len(FACTORS) + NOISE_COLUMNS]
    if anchor.drag_known:
        logs += weighed(logs, sigma, normals, anchor, label)
        return with_day(logs, normals, day_sigma)
    target = adjustment_log(normals[:, ADJUSTMENT], label) if anchor.adjustment_open else np.zeros(len(normals))
    if anchor.energy:
        answer = row_of(anchor, anchor.energy)
        told = FACTORS.index(anchor.energy_told)
        logs[:, told] += (normals[:, ENERGY] * anchor.energy_noise - logs @ answer) / answer[told]
    goal = target + noise[:, 0] * anchor.combined_noise
    if anchor.parts:
        apart = noise[:, : len(anchor.parts)] * np.array(anchor.parts_noise)
        goal = target + normals[:, COMMON] * anchor.parts_common
        logs += toward_parts(logs, sigma, anchor, apart + goal[:, None])
        goal = goal + apart.mean(axis=1)
    logs[:, [TYRE, AIR]] += scale_log(logs, row_of(anchor, anchor.combined), goal)[:, None]
    return with_day(logs, normals, day_sigma)


def with_day(logs: np.ndarray, normals: np.ndarray, day_sigma: Mapping[str, float]) -> np.ndarray:
    """The draws with what the day and age add."""
    logs[:, TYRE] += normals[:, DAY_TYRE] * day_sigma["tyre"]
    logs[:, AIR] += normals[:, DAY_AIR] * day_sigma["air"]
    logs[:, USABLE] += normals[:, AGED] * day_sigma["usable"]
    return logs


def weighed(logs: np.ndarray, sigma: np.ndarray, normals: np.ndarray, anchor: Anchor, label: Label) -> np.ndarray:
    """Move of each draw of a car whose drag is known besides: label and priors weighed against each other.

    The linear least-squares update with a draw of the label's own noise: the posterior of linear answers.
    """
    goal = normals[:, len(FACTORS)] * anchor.combined_noise
    if anchor.adjustment_open:
        goal = goal + adjustment_log(normals[:, ADJUSTMENT], label)
    open_noise = ADJUSTMENT_SIGMA if anchor.adjustment_open else 0.0
    rows, goals, noise = [row_of(anchor, anchor.combined)], [goal], [np.hypot(anchor.combined_noise, open_noise)]
    if anchor.energy:
        rows.append(row_of(anchor, anchor.energy))
        goals.append(normals[:, ENERGY] * anchor.energy_noise)
        noise.append(anchor.energy_noise)
    answers, prior = np.stack(rows), np.diag(sigma**2)
    gain = prior @ answers.T @ np.linalg.inv(answers @ prior @ answers.T + np.diag(np.square(noise)))
    return (np.stack(goals, axis=1) - logs @ answers.T) @ gain.T


def row_of(anchor: Anchor, answer: tuple[float, ...]) -> np.ndarray:
    """Answers by factor as a row over all factors of a draw."""
    row = np.zeros(len(FACTORS))
    row[[FACTORS.index(name) for name in anchor.factors]] = answer
    return row


def toward_parts(logs: np.ndarray, sigma: np.ndarray, anchor: Anchor, goal: np.ndarray) -> np.ndarray:
    """Move of air, and of tyres with losses as their priors stand, that meets the parts: least squares in sigmas."""
    ways = np.zeros((2, len(FACTORS)))
    ways[0, AIR], ways[1, TYRE], ways[1, LOSS] = sigma[AIR], sigma[TYRE], sigma[LOSS]
    rows = np.stack([row_of(anchor, part) for part in anchor.parts])
    return (goal - logs @ rows.T) @ np.linalg.pinv(rows @ ways.T, rcond=1e-3).T @ ways


def scale_log(logs: np.ndarray, answer: np.ndarray, goal: np.ndarray) -> np.ndarray:
    """Logarithm by which tyres and air are scaled so that the shares add up to the goal."""
    parts = answer * np.exp(logs)
    drag = parts[:, TYRE] + parts[:, AIR]
    others = (parts - answer).sum(axis=1) - drag + answer[TYRE] + answer[AIR]
    wanted = np.exp(goal) - 1 - others + answer[TYRE] + answer[AIR]
    return np.log(np.maximum(wanted / drag, SMALLEST))


def adjustment_log(normal: np.ndarray, label: Label) -> np.ndarray:
    """ln of test consumption over the one that the usual adjustment gives: even within each half of the span."""
    span = LABEL_RECIPES[label.procedure].adjustment
    if span is None or label.procedure is not LabelProcedure.US:
        return np.zeros(len(normal))
    share = np.array([NormalDist().cdf(each) for each in normal])
    low = span.least + 2 * share * (span.usual - span.least)
    high = span.usual + (2 * share - 1) * (span.most - span.usual)
    return np.log(np.where(share < 0.5, low, high) / span.usual)


@lru_cache(maxsize=256)
def mixing(
    car: tuple[tuple[str, float], ...], day: tuple[tuple[str, float], ...], anchor: Anchor, label: Label
) -> np.ndarray:
    """Slopes of `held_logs`: logarithm of each factor for one standard deviation of each normal, (factors, normals)."""
    steps = STEP * np.eye(len(FACTORS) + EXTRA)
    up, down = (held_logs(sign * steps, dict(car), dict(day), anchor, label) for sign in (1, -1))
    slopes = ((up - down) / (2 * STEP)).T
    slopes.flags.writeable = False
    return slopes
