"""Drive cycles against the totals that their publishers print."""

import numpy as np

from service.catalogue import load_catalogue
from service.catalogue.evidence import Check, Mark
from service.specs import Journey
from service.trips.journey import trace_of
from service.units import KM_H, MILE_M, MPH
from tests.evidence.checks import Source

__all__ = ["totals"]

CFR = Source("Drive cycles", "40 CFR 86 appendix I and 600 appendix I", Mark.PUBLISHED)
GTR_15 = Source("Drive cycles", "UN GTR 15 annex 1, class 3b", Mark.PUBLISHED)
US = (("udds", "7.45", "56.7"), ("hwfet", "10.26", "59.9"), ("us06", "8.01", "80.3"), ("nycc", "1.18", "27.7"))


def totals() -> list[Check]:
    """Distance as the model drives it, and the highest speed."""
    catalogue = load_catalogue()
    rows = []
    for name, miles, top_mph in US:
        trace = trace_of(Journey(cycle=name), catalogue)
        rows.append(CFR.value(f"{name.upper()}: distance", miles, trace.distance_m / MILE_M, "mi"))
        rows.append(CFR.value(f"{name.upper()}: highest speed", top_mph, trace.speed_m_s.max() / MPH, "mph"))
    trace = trace_of(Journey(cycle="wltc_class3b"), catalogue)
    by_second = np.array(catalogue.cycle("wltc_class3b").speed_m_s) / KM_H
    return [
        *rows,
        GTR_15.value("WLTC: distance", "23266", trace.distance_m, "m"),
        GTR_15.value("WLTC: duration", "1800", trace.duration_s, "s"),
        GTR_15.value("WLTC: highest speed", "131.3", by_second.max(), "km/h"),
        GTR_15.value("WLTC: sum of speeds, one a second", "83758.6", by_second.sum(), "km/h"),
    ]
