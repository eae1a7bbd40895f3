"""Fixes of a receiver, sorted out: times that go back, jumps, wandering around a stand, and long stands.

Scope    masks over a recording; nothing is moved or smoothed here (`recorded` does that).
"""

import math

import numpy as np

__all__ = ["HIGHEST_M_S", "PARKED_S", "STAND_M", "forward", "moving", "parked", "without_jumps"]

HIGHEST_M_S = 70.0  # 252 km/h: no car of ours goes faster between two fixes; own choice
LOST_AFTER = 5  # fixes in a row that all say the car is elsewhere: it is; own choice
STILL_M, STILL_M_S = 5.0, 1.0  # a receiver's wandering while the car stands: common practice
PARKED_S = 300.0  # a stand that ends a trip: longer than lights and level crossings, own choice
WANDERINGS = 3.0  # of the median distance from the middle of a stand: what belongs to it; own choice
STAND_M = 50.0  # and how far fixes of a parked car lie apart, indoors at worst: own choice
EARTH_M = 6_371_008.8  # mean radius, IUGG: only to look for jumps, never for a distance
NEXT_LOOK_S = 1.0  # between two fixes from which a stand is looked for


def forward(time_s: np.ndarray) -> np.ndarray:
    """True where a time is later than every one before: repeated and reversed ones are out.

    >>> forward(np.array([0.0, 1.0, 1.0, 0.5, 2.0]))
    array([ True,  True, False, False,  True])
    """
    latest = np.maximum.accumulate(time_s)
    return np.concatenate([[True], time_s[1:] > latest[:-1]])[: len(time_s)]


def without_jumps(time_s, latitude_deg, longitude_deg) -> tuple[np.ndarray, np.ndarray]:
    """Fixes that a car can have reached from the last good one, and True where the recording starts anew elsewhere."""
    kept, breaks = np.zeros(len(time_s), bool), np.zeros(len(time_s), bool)
    good, away = -1, []
    for k in range(len(time_s)):
        if good < 0 or _within_reach(good, k, time_s, latitude_deg, longitude_deg):
            good, away = k, []
            kept[k] = True
            continue
        if away and not _within_reach(away[-1], k, time_s, latitude_deg, longitude_deg):
            away = []
        away.append(k)
        if len(away) == LOST_AFTER:
            if np.count_nonzero(kept) < LOST_AFTER:  # it was the start that was wrong
                kept[:] = False
            else:
                breaks[away[0]] = True
            kept[away] = True
            good, away = k, []
    return kept, breaks


def _within_reach(one: int, other: int, time_s, latitude_deg, longitude_deg) -> bool:
    apart_m = _roughly_m(latitude_deg[one], longitude_deg[one], latitude_deg[other], longitude_deg[other])
    return apart_m <= HIGHEST_M_S * (time_s[other] - time_s[one]) + STILL_M


def _roughly_m(latitude_a, longitude_a, latitude_b, longitude_b) -> float:
    """Within a per cent, for short ways: to see what is near."""
    east = math.radians((longitude_b - longitude_a + 180) % 360 - 180) * math.cos(math.radians(latitude_a))
    return EARTH_M * math.hypot(east, math.radians(latitude_b - latitude_a))


def _from_place(latitude, longitude, latitudes: np.ndarray, longitudes: np.ndarray) -> np.ndarray:
    """The same, from one place to many."""
    east = np.radians((longitudes - longitude + 180) % 360 - 180) * math.cos(math.radians(latitude))
    return EARTH_M * np.hypot(east, np.radians(latitudes - latitude))


def moving(time_s, latitude_deg, longitude_deg) -> np.ndarray:
    """True where a fix has left the place that the car was last seen at; the rest is wandering around a stand."""
    moved = np.zeros(len(time_s), bool)
    at = 0
    for k in range(1, len(time_s)):
        apart_m = _roughly_m(latitude_deg[at], longitude_deg[at], latitude_deg[k], longitude_deg[k])
        goes_on = moved[k - 1] and apart_m >= STILL_M_S * (time_s[k] - time_s[k - 1])
        if apart_m >= STILL_M or goes_on:
            moved[k], at = True, k
    return moved


def parked(time_s, latitude_deg, longitude_deg) -> np.ndarray:
    """True for fixes of a stand: `PARKED_S` or longer within `STAND_M` of its first one."""
    stands = np.zeros(len(time_s), bool)
    later = np.searchsorted(time_s, time_s + PARKED_S)
    next_s = np.maximum(np.searchsorted(time_s, time_s + NEXT_LOOK_S), np.arange(1, len(time_s) + 1))
    k = 0
    while k < len(time_s) and later[k] < len(time_s):
        if _roughly_m(latitude_deg[k], longitude_deg[k], latitude_deg[later[k]], longitude_deg[later[k]]) > STAND_M:
            k = next_s[k]
            continue
        soon = slice(k, later[k] + 1)
        if np.max(_from_place(latitude_deg[k], longitude_deg[k], latitude_deg[soon], longitude_deg[soon])) > STAND_M:
            k = next_s[k]
            continue
        away_m = _from_place(latitude_deg[k], longitude_deg[k], latitude_deg[k:], longitude_deg[k:])
        gone = np.flatnonzero(away_m > STAND_M)
        end = k + (int(gone[0]) if len(gone) else len(away_m))
        stands[k:end] = _core(latitude_deg[k:end], longitude_deg[k:end])
        k = end
    return stands


def _core(latitude_deg: np.ndarray, longitude_deg: np.ndarray) -> np.ndarray:
    """Fixes of a stand without those on the way to it and away from it, which move."""
    middle = float(np.median(latitude_deg)), float(np.median(longitude_deg))
    away_m = _from_place(*middle, latitude_deg, longitude_deg)
    near = np.flatnonzero(away_m <= WANDERINGS * np.median(away_m) + STILL_M)
    core = np.zeros(len(away_m), bool)
    core[near[0] : near[-1] + 1] = True
    return core
