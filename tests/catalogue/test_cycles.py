"""Drive cycles against the totals their publishers print; each tolerance is half the last printed digit."""

import tomllib

import numpy as np
import pytest

from service.catalogue import data_folder
from service.units import KM_H, MILE_M, MPH

NAMES = ("udds", "hwfet", "us06", "nycc", "wltc_class3b", "nedc")


def speeds(catalogue, name):
    return np.array(catalogue.cycle(name).speed_m_s)


def distance_m(speed_m_s):
    return float(np.sum(speed_m_s[1:] + speed_m_s[:-1]) / 2)


def described(name):
    return tomllib.loads((data_folder() / "cycles" / f"{name}.toml").read_text("utf-8"))["totals"]


def test_six_cycles_in_order(catalogue):
    assert tuple(catalogue.cycles) == NAMES
    assert all(cycle.name and cycle.source for cycle in catalogue.cycles.values())


# 40 CFR part 86 appendix I (a), (g), (e) and part 600 appendix I: seconds, miles, mean and highest mph as quoted by
# the publisher. US06 is usually quoted as 596 s; its table ends with four more seconds at rest.
@pytest.mark.parametrize(
    ("name", "duration_s", "miles", "mean_mph", "max_mph"),
    [
        ("udds", 1369, 7.45, 19.59, 56.7),
        ("hwfet", 765, 10.26, 48.3, 59.9),
        ("us06", 600, 8.01, None, 80.3),
        ("nycc", 598, 1.18, 7.1, 27.7),
    ],
)
def test_us_cycle_has_its_published_totals(catalogue, name, duration_s, miles, mean_mph, max_mph):
    speed_m_s = speeds(catalogue, name)
    assert len(speed_m_s) - 1 == duration_s
    assert distance_m(speed_m_s) / MILE_M == pytest.approx(miles, abs=0.005)
    assert speed_m_s.max() / MPH == pytest.approx(max_mph, abs=0.05)
    if mean_mph is not None:
        half_digit = 0.005 if name == "udds" else 0.05
        assert distance_m(speed_m_s) / duration_s / MPH == pytest.approx(mean_mph, abs=half_digit)
    totals = described(name)
    assert (totals["duration_s"], totals["distance_mi"], totals["max_mph"]) == (duration_s, miles, max_mph)


def test_us06_drives_only_in_its_first_596_seconds(catalogue):
    assert np.all(speeds(catalogue, "us06")[596:] == 0)


def test_wltc_has_its_published_totals_and_checksum(catalogue):
    # UN GTR 15 annex 1: 1800 s, 23 266 m, 131.3 km/h; sum of the 1 Hz speeds 83 758.6 km/h
    speed_m_s = speeds(catalogue, "wltc_class3b")
    assert len(speed_m_s) - 1 == 1800
    assert distance_m(speed_m_s) == pytest.approx(23_266, abs=0.5)
    assert speed_m_s.max() / KM_H == pytest.approx(131.3, abs=0.05)
    assert speed_m_s.sum() / KM_H == pytest.approx(83_758.6, abs=0.05)
    assert described("wltc_class3b")["speed_sum_km_h"] == 83_758.6


# UN GTR 15 annex 1, class 3b: seconds, metres, highest speed, acceleration and deceleration by phase (printed cut, not
# rounded: 1.6667 stands as 1.666). The sum of speeds by phase is from memory.
@pytest.mark.parametrize(
    ("first_s", "last_s", "metres", "max_km_h", "max_m_s2", "min_m_s2", "speed_sum_km_h"),
    [
        (0, 589, 3095, 56.5, 1.611, -1.5, 11_140.3),
        (590, 1022, 4756, 76.6, 1.611, -1.5, 17_121.2),
        (1023, 1477, 7162, 97.4, 1.666, -1.5, 25_782.2),
        (1478, 1800, 8254, 131.3, 1.055, -1.44, 29_714.9),
    ],
)
def test_wltc_phase(catalogue, first_s, last_s, metres, max_km_h, max_m_s2, min_m_s2, speed_sum_km_h):
    speed_m_s = speeds(catalogue, "wltc_class3b")[first_s : last_s + 1]
    assert speed_m_s[0] == speed_m_s[-1] == 0
    assert distance_m(speed_m_s) == pytest.approx(metres, abs=0.5)
    assert speed_m_s.max() / KM_H == pytest.approx(max_km_h, abs=0.05)
    assert np.diff(speed_m_s).max() == pytest.approx(max_m_s2, abs=1e-3)
    assert np.diff(speed_m_s).min() == pytest.approx(min_m_s2, abs=1e-2 if min_m_s2 == -1.44 else 1e-3)
    assert speed_m_s.sum() / KM_H == pytest.approx(speed_sum_km_h, abs=0.05)


def test_wltc_description_names_the_same_phases(catalogue):
    phases = described("wltc_class3b")["phases"]
    seconds = [phase["last_s"] - phase["first_s"] + 1 for phase in phases]
    assert [seconds[0] - 1, *seconds[1:]] == [589, 433, 455, 323]  # UN GTR 15 annex 1
    assert sum(phase["distance_m"] for phase in phases) == pytest.approx(23_266, abs=2)


def test_nedc_has_its_published_totals(catalogue):
    # UN Regulation 83: four urban units of 195 s and one extra-urban of 400 s; 10.931 km, 120 km/h
    speed_m_s = speeds(catalogue, "nedc")
    assert len(speed_m_s) - 1 == 4 * 195 + 400 == 1180
    assert distance_m(speed_m_s) == pytest.approx(10_931, abs=0.5)
    assert speed_m_s.max() / KM_H == pytest.approx(120.0, abs=0.05)
    for unit in range(4):
        assert distance_m(speed_m_s[195 * unit : 195 * unit + 196]) == pytest.approx(994.03, abs=0.5)
    assert distance_m(speed_m_s[780:]) == pytest.approx(6955, abs=0.5)


@pytest.mark.parametrize("name", NAMES)
def test_no_cycle_asks_for_more_than_a_tyre_can_give(catalogue, name):
    speed_m_s = speeds(catalogue, name)
    assert speed_m_s[0] == speed_m_s[-1] == 0
    assert np.all((speed_m_s >= 0) & (speed_m_s < 40))
    assert np.abs(np.diff(speed_m_s)).max() < 4  # US06, the hardest, reaches 3.755 m/s²
